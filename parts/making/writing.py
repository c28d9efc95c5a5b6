"""Files written whole or not at all."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Collection, Mapping
from pathlib import Path

PROOF_FILES = ("proof.txt", "proof.json", "proof-*.png")
"""What a proof leaves in the folder of a part, as patterns of names."""


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
            handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
            written[name] = target
            with os.fdopen(handle, "wb") as stream:
                stream.write(content)
                stream.flush()
                os.fsync(stream.fileno())
            os.chmod(name, 0o644)
        for name, target in written.items():
            os.replace(name, target)
    finally:
        for name in written:
            Path(name).unlink(missing_ok=True)


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
    for name in contents:
        if Path(name).name != name or name in {"", ".", ".."}:
            raise ValueError(f"{name!r} is no plain file name")
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise OSError(f"{folder} is in the way: it is not a folder of its own")
    _write_together({folder / name: content for name, content in contents.items()})
    return [folder / name for name in contents]


def drop_proof(folder: Path, but: Collection[str] = ()) -> None:
    """Remove the files of an older proof: it would stand beside a part that it is not about.

    Args:
        folder: the part's output folder.
        but: names that stay.

    Raises:
        OSError: the disk refused.
    """
    for pattern in PROOF_FILES:
        for file in folder.glob(pattern):
            if file.name not in but:
                file.unlink()


FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""What a cell may not begin with: a spreadsheet would run such a cell as a formula."""


def harmless(text: str) -> str:
    """A cell that a spreadsheet shows as it is: with an apostrophe before what it would run.

    Blanks in front do not count, since some spreadsheets take them off.
    """
    return f"'{text}" if text.lstrip(" ").startswith(FORMULA_SIGNS) else text
