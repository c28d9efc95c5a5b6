"""What the solid modeller needs of the system, looked at before work begins."""

from __future__ import annotations

import ctypes
import importlib
import importlib.util
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

from parts.inputs.problems import InputError, Problem

LIBRARIES = ("libGL.so.1", "libEGL.so.1")
"""The modeller is linked to the first, whether or not anything is drawn; without the second the process is ended by the
system when it draws a picture where no screen is. macOS and Windows bring their own."""
COMMANDS = {
    "debian": "sudo apt-get install -y libgl1 libegl1",
    "fedora": "sudo dnf install -y mesa-libGL mesa-libEGL",
    "arch": "sudo pacman -S --noconfirm libglvnd mesa",
}
"""What brings it, by the family of the system."""
SYSTEM = Path("/etc/os-release")


def needed() -> None:
    """Refuse in one line where a library that solids and their pictures need is missing; else make ready to import it.

    Raises:
        InputError: it is missing; the message holds the command that brings it.
    """
    _spare_vtk()
    if not sys.platform.startswith("linux"):
        return
    if missing := [one for one in LIBRARIES if not _is_there(one)]:
        wrong = f"the solid modeller needs {' and '.join(missing)}, and this system has none"
        right = f"install it: {_command()}"
        raise InputError([Problem("no_library", "this machine", 0, 0, "", "", wrong, right)])


def in_one_thread() -> None:
    """Let the solid modeller work in the calling thread alone.

    A process that is forked from this one has none of its threads, and would wait for their share for ever.
    """
    from OCP.OSD import OSD_ThreadPool

    OSD_ThreadPool.DefaultPool_s().Init(1)


def _spare_vtk() -> None:
    """Put off the whole of VTK until somebody takes a name from it: the modeller imports it to see that it is there.

    A fifth of the modeller's start; what draws here imports the few modules of VTK that it needs.
    """
    if "vtk" not in sys.modules and importlib.util.find_spec("vtkmodules") is not None:
        later = sys.modules["vtk"] = ModuleType("vtk")
        later.__getattr__ = _of_vtk  # type: ignore[method-assign]


def _of_vtk(name: str) -> Any:
    if name == "__all__":
        return [one for one in dir(importlib.import_module("vtkmodules.all")) if one[0] != "_"]
    if name.startswith("__"):
        raise AttributeError(name)
    return getattr(importlib.import_module("vtkmodules.all"), name)


def _is_there(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


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
