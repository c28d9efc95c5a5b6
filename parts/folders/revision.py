"""A build as it was at a revision of git."""

from __future__ import annotations

import subprocess
from collections.abc import Callable
from pathlib import Path

from parts.inputs.problems import InputError, Problem

SECONDS = 30


def at_revision(revision: str) -> Callable[[Path], bytes]:
    """Reads files as they were at a revision.

    Args:
        revision: as git names it: a hash, a tag, `HEAD~2`.

    Returns:
        A function from a path to the content of the file there; InputError where git has none.
    """

    def read(path: Path) -> bytes:
        if revision.startswith("-") or ":" in revision:
            raise _refused(path, f"`{revision}` is no revision", "write a hash, a tag, or HEAD~1")
        command = ["git", "-C", str(path.parent), "show", f"{revision}:./{path.name}"]
        try:
            found = subprocess.run(command, capture_output=True, check=False, timeout=SECONDS)
        except (OSError, subprocess.TimeoutExpired) as error:
            raise _refused(path, f"git cannot be run: {error}", "install git") from None
        if found.returncode != 0:
            said = " ".join(found.stderr.decode("utf-8", "replace").split())
            raise _refused(
                path,
                f"git has none at `{revision}`: {said}",
                "name a revision that holds this file",
            )
        return found.stdout

    return read


def _refused(path: Path, wrong: str, right: str) -> InputError:
    return InputError([Problem("no_revision", str(path), 0, 0, "", "", wrong, right)])
