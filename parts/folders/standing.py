"""Whether a build stands as its last run left it, told by digests alone, before anything that takes long is loaded."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from parts.making.read_back import content, data
from parts.making.writing import write_whole
from parts.running.versions import versions

NOTE = ".stands.json"
"""What the next run says if nothing has changed by then, and the digest of all that it hangs on."""
CHANGES = "changes.txt"
"""What moved in the last run. It is written anew, and told of, where something moved."""
READ_BACK = ("report.json", "picture.png", "state.json", "build.json", "findings.txt")
"""Files of the outputs that a run reads back; of others it asks whether they are there, and this how long they are."""
PAGE = "index.html"
RECORDS = "made"
"""The folder beside a part's file that holds the records of its pieces."""


def told(words: Sequence[str], folder: Path) -> tuple[str, int] | None:
    """What a run says where it would change nothing, and its exit status; None where it may have something to do.

    Args:
        words: those of the command.
        folder: of the outputs.
    """
    for file in sorted(folder.glob(f"*/{NOTE}")):
        note = data(file)
        try:
            if note["digest"] != _digest(words, note["read"], folder, note["tells"]):
                continue
            nothing, said, with_changes, status = note["tells"]
        except (KeyError, TypeError, ValueError):
            continue  # damaged, or of another kind: it counts as none
        before = content(file.with_name(CHANGES))
        if before is None or before == nothing.encode():
            return said, status
        write_whole(file.with_name(CHANGES), nothing.encode())
        return with_changes, status
    return None


def note(
    words: Sequence[str],
    folder: Path,
    own: Path,
    read: Iterable[Path],
    nothing: str,
    said: tuple[str, str],
    status: int,
) -> None:
    """Keep what the next run says if nothing has changed by then.

    Args:
        words: those of the command.
        folder: of the outputs.
        own: that of the build in it.
        read: every file that was read.
        nothing: what its file of changes then holds.
        said: what is said where that file holds it already, and where it is written.
        status: the exit status.
    """
    files, tells = sorted(map(str, read)), [nothing, *said, status]
    kept = {"read": files, "tells": tells, "digest": _digest(words, files, folder, tells)}
    write_whole(own / NOTE, json.dumps(kept).encode())


def _digest(
    words: Sequence[str], read: Sequence[str], folder: Path, tells: Sequence[object]
) -> str:
    """The digest of all that a run hangs on, and of what it says.

    It takes in the command, the library and its packages, every file that was read, the records of pieces beside those
    files, and what stands in the outputs.
    """
    found = hashlib.sha256(json.dumps([list(words), os.getcwd(), versions(), tells]).encode())
    records = sorted({Path(file).parent / RECORDS for file in read})
    for file in [
        *map(Path, read),
        *(one for beside in records for one in sorted(beside.glob("*"))),
    ]:
        _add(found, str(file), content(file))
    for name, size, file in _standing(folder):
        whole = file.name in READ_BACK or name == PAGE
        _add(found, f"{name} {size}", content(file) if whole else None)
    return found.hexdigest()


def _add(found: hashlib._Hash, name: str, held: bytes | None) -> None:
    own = b"" if held is None else hashlib.sha256(held).digest()
    found.update(f"{len(name)} {name} {held is None} ".encode("utf-8", "surrogateescape") + own)


def _standing(folder: Path) -> Iterator[tuple[str, int, Path]]:
    """Every file in the outputs and in the folders there, but for what this module writes: its name and size."""
    for inside in (folder, *sorted(one for one in folder.iterdir() if one.is_dir())):
        for one in sorted(inside.iterdir()):
            if one.name not in (NOTE, CHANGES) and not one.is_dir():
                yield str(one.relative_to(folder)), one.stat().st_size, one
