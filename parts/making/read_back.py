"""Reads what stands in a folder of outputs, whatever else lies there: bounded, and regular files alone."""

from __future__ import annotations

import json
import os
import stat
from pathlib import Path
from typing import Any

MOST = 64_000_000
"""Largest file that is read [bytes]; a page with its mesh takes a few million."""


def content(file: Path, most: int = MOST) -> bytes | None:
    """The content of a regular file; None of anything else, as of a pipe, a device, or a file that may not be read.

    Args:
        file: the file.
        most: largest size that is read [bytes].
    """
    try:
        # A pipe that nobody writes to would be waited for; a file takes no harm.
        handle = os.open(file, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
    except (OSError, ValueError):
        return None
    try:
        found = os.fstat(handle)
        # A folder can be opened, but has no content.
        if not stat.S_ISREG(found.st_mode) or found.st_size > most:
            return None
        with os.fdopen(handle, "rb", closefd=False) as stream:
            return stream.read(most)
    except OSError:
        return None
    finally:
        os.close(handle)


def data(file: Path, most: int = MOST) -> Any:
    """The data of a JSON file; None where it is no such file, or nested deeper than can be read."""
    try:
        return json.loads(content(file, most) or b"")
    except (ValueError, RecursionError):
        return None


def names_in(folder: Path) -> list[str]:
    """Names in a folder, in order; none where there is no such folder."""
    try:
        with os.scandir(folder) as found:
            return sorted(one.name for one in found)
    except (FileNotFoundError, NotADirectoryError):
        return []
