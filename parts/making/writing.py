"""Files and folders written whole or not at all."""

from __future__ import annotations

import ctypes
import io
import os
import shutil
import tempfile
import time
import zipfile
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import IO


def write_whole(target: Path, content: bytes) -> None:
    """Write a file beside its place and rename it into place, so that no half-written file is ever seen.

    Args:
        target: the file to write; its folder is made where missing.
        content: the bytes.

    Raises:
        OSError: the disk refused; what stood at `target` is as it was.
    """
    _write_together({target: content})


def _write_together(contents: Mapping[Path, bytes]) -> None:
    """Write files beside their places, and rename them all into place once the disk has taken every one."""
    written: dict[str, Path] = {}
    try:
        for target, content in contents.items():
            target.parent.mkdir(parents=True, exist_ok=True)
            sweep(target)
            handle, name = tempfile.mkstemp(dir=target.parent, prefix=_beside(target))
            written[name] = target
            with os.fdopen(handle, "wb") as stream:
                _fill(stream, content)
            os.chmod(name, 0o644)
        for name, target in written.items():
            os.replace(name, target)
    finally:
        for name in written:
            Path(name).unlink(missing_ok=True)


def _fill(stream: IO[bytes], content: bytes) -> None:
    """Write, and wait until the disk has it."""
    stream.write(content)
    stream.flush()
    os.fsync(stream.fileno())


def write_all(folder: Path, contents: Mapping[str, bytes]) -> list[Path]:
    """Write the files of a part once all of them exist in memory: all of them, or none where the disk is full.

    Args:
        folder: the part's output folder.
        contents: bytes by file name; no name may leave the folder.

    Returns:
        The files written, in the order given.

    Raises:
        ValueError: a name would leave the folder.
        OSError: the disk refused; what it had no room for leaves every file as it was.
    """
    _refuse_odd(folder, contents)
    _write_together({folder / name: content for name, content in contents.items()})
    return [folder / name for name in contents]


def replace_folder(folder: Path, contents: Mapping[str, bytes], kept: Iterable[str] = ()) -> None:
    """Put a folder in the place of an older one: all of it, or nothing of it, whenever the run is killed.

    Args:
        folder: the folder; it is made where missing.
        contents: bytes by file name; no name may leave the folder.
        kept: names in the older folder, of files or folders, that are carried over.

    Raises:
        ValueError: a name would leave the folder.
        OSError: the disk refused, or what is no file stands where one is to be written; the older folder is as it was.
    """
    _refuse_odd(folder, contents)
    for name in contents:
        if (folder / name).is_dir():
            raise OSError(f"{folder / name} is in the way: it is a folder; move it elsewhere")
    folder.parent.mkdir(parents=True, exist_ok=True)
    sweep(folder)
    new = Path(tempfile.mkdtemp(dir=folder.parent, prefix=_beside(folder)))
    try:
        for name in sorted(set(kept) - set(contents)):
            _carry(folder / name, new / name)
        for name, content in contents.items():
            with (new / name).open("wb") as stream:
                _fill(stream, content)
            os.chmod(new / name, 0o644)
        os.chmod(new, 0o755)
        _swap(new, folder)
    finally:
        shutil.rmtree(new, ignore_errors=True)


def _refuse_odd(folder: Path, names: Iterable[str]) -> None:
    for name in names:
        if Path(name).name != name or name in {"", ".", ".."}:
            raise ValueError(f"{name!r} is no plain file name")
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise OSError(f"{folder} is in the way: it is not a folder of its own")


def _carry(old: Path, new: Path) -> None:
    """Have what is kept in the new folder too: a link to the same file where the disk can, else a copy."""
    if old.is_dir() and not old.is_symlink():
        shutil.copytree(
            old, new, symlinks=True, copy_function=lambda a, b: _carry(Path(a), Path(b))
        )
        return
    try:
        os.link(old, new, follow_symlinks=False)
    except OSError:
        if old.is_symlink():
            os.symlink(os.readlink(old), new)
        elif old.is_file():
            shutil.copy2(old, new)


EXCHANGE = 2
"""Flag of Linux's renameat2: each takes the other's name, in one step."""
HERE = -100
"""Paths that do not begin at the root begin where the process stands; AT_FDCWD of Linux."""


def _swap(new: Path, folder: Path) -> None:
    """Let a folder take the name of another, which takes its name, if it is there, or goes."""
    if not folder.exists():
        os.rename(new, folder)
    elif not _exchanged(new, folder):
        # Without such a step the older one stands aside for a moment, and returns if the run ends in it.
        aside = Path(tempfile.mkdtemp(dir=folder.parent, prefix=_beside(folder, ASIDE)))
        try:
            os.rename(folder, aside / folder.name)
            try:
                os.rename(new, folder)
            except OSError:
                os.rename(aside / folder.name, folder)
                raise
        finally:
            shutil.rmtree(aside, ignore_errors=True)


def _exchanged(one: Path, other: Path) -> bool:
    try:
        call = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError, TypeError):
        return False  # not Linux, or an older one
    return call(HERE, os.fsencode(one), HERE, os.fsencode(other), EXCHANGE) == 0


ASIDE = "aside"


def _beside(target: Path, kind: str = "new") -> str:
    """How the name begins of what is written beside its place: it tells which run it is of."""
    return f".{target.name}.{kind}-{os.getpid()}-"


def sweep(target: Path) -> None:
    """Remove what killed runs left beside a file or folder; an older folder that stood aside returns.

    Args:
        target: the file or folder.
    """
    for kind in (ASIDE, "new"):
        begins = f".{target.name}.{kind}-"
        for left in _named(target.parent, begins):
            if _lives(left, begins):
                continue
            stood = left / target.name
            if kind == ASIDE and stood.is_dir() and not target.exists():
                os.rename(stood, target)
            if left.is_dir() and not left.is_symlink():
                shutil.rmtree(left, ignore_errors=True)
            else:
                left.unlink(missing_ok=True)


def _named(folder: Path, begins: str) -> list[Path]:
    with os.scandir(folder) as found:
        return sorted(Path(one.path) for one in found if one.name.startswith(begins))


A_DAY = 86400.0


def _lives(left: Path, begins: str) -> bool:
    """Whether the run that writes there may still be at it."""
    number = left.name.removeprefix(begins).partition("-")[0]
    if os.name != "posix":
        return left.exists() and time.time() - left.lstat().st_mtime < A_DAY
    try:
        os.kill(int(number), 0)
    except (ValueError, ProcessLookupError, OverflowError):
        return False
    except PermissionError:
        return True
    return True


STAMP = (1980, 1, 1, 0, 0, 0)
"""Time of every file within a ZIP: the first that the format can hold."""


def zipped(files: Mapping[str, bytes]) -> bytes:
    """Files in a ZIP, in the order given; the same bytes on every run."""
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as package:
        for name, content in files.items():
            entry = zipfile.ZipInfo(name, STAMP)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = 3
            entry.external_attr = 0o644 << 16
            package.writestr(entry, content)
    return target.getvalue()


FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""What a cell may not begin with: a spreadsheet would run such a cell as a formula."""


def harmless(text: str) -> str:
    """A cell that a spreadsheet shows as it is: with an apostrophe before what it would run.

    Blanks in front do not count, since some spreadsheets take them off.
    """
    return f"'{text}" if text.lstrip(" ").startswith(FORMULA_SIGNS) else text
