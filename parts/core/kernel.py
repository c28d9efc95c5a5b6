"""What the solid modeller needs of the system, looked at before work begins."""

from __future__ import annotations

import ctypes
import sys
from pathlib import Path

from parts.inputs.problems import InputError, Problem

LIBRARY = "libGL.so.1"
"""The modeller is linked to it, whether or not anything is drawn; macOS and Windows bring their own."""
COMMANDS = {
    "debian": "sudo apt-get install -y libgl1",
    "fedora": "sudo dnf install -y mesa-libGL",
    "arch": "sudo pacman -S --noconfirm libglvnd",
}
"""What brings it, by the family of the system."""
SYSTEM = Path("/etc/os-release")


def needed() -> None:
    """Refuse in one line where a library that every solid needs is missing.

    Raises:
        InputError: it is missing; the message holds the command that brings it.
    """
    if not sys.platform.startswith("linux"):
        return
    try:
        ctypes.CDLL(LIBRARY)
    except OSError:
        wrong = f"the solid modeller needs {LIBRARY}, and this system has none"
        raise InputError(
            [
                Problem(
                    "no_library", "this machine", 0, 0, "", "", wrong, f"install it: {_command()}"
                )
            ]
        ) from None


def _command() -> str:
    """The command for this system; of one that is not known, those of all."""
    try:
        stated = dict(line.split("=", 1) for line in SYSTEM.read_text().splitlines() if "=" in line)
    except OSError:
        stated = {}
    words = f"{stated.get('ID', '')} {stated.get('ID_LIKE', '')}".replace('"', "").split()
    words += ["debian"] if "ubuntu" in words else []
    known = [COMMANDS[word] for word in words if word in COMMANDS]
    return f"`{known[0]}`" if known else " or ".join(f"`{one}`" for one in COMMANDS.values())
