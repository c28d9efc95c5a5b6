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
    target.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(name, 0o644)
        os.replace(name, target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def write_all(folder: Path, contents: Mapping[str, bytes]) -> list[Path]:
    """Write the files of a part once all of them exist in memory.

    Args:
        folder: the part's output folder.
        contents: bytes by file name; no name may leave the folder.

    Returns:
        The files written, in the order given.

    Raises:
        ValueError: a name would leave the folder.
        OSError: the disk refused.
    """
    for name in contents:
        if Path(name).name != name or name in {"", ".", ".."}:
            raise ValueError(f"{name!r} is no plain file name")
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise OSError(f"{folder} is in the way: it is not a folder of its own")
    for name, content in contents.items():
        write_whole(folder / name, content)
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
