"""What was worked out of solids before and holds still, each kept under a digest of all that it hangs on."""

from __future__ import annotations

import hashlib
import io
import json
import zipfile
from collections.abc import Callable
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path
from typing import Any, TypeVar

import numpy as np

from parts.core.part import Part, Piece
from parts.making.writing import write_whole

T = TypeVar("T")
FILE = ".kept.zip"
"""Where a build keeps it, beside its other files: an archive, whose entries tell by a checksum that they are whole."""
_DATE = (1980, 1, 1, 0, 0, 0)


class Kept:
    """A store of one build: what is asked for and not there is worked out; what is not asked for goes.

    The surroundings are part of every digest: the versions of the library, the kernel and what draws.
    """

    def __init__(self, folder: Path | None = None, surroundings: str = "") -> None:
        """Of a folder, which need not be there; of None nothing is read or written."""
        self._file = None if folder is None else folder / FILE
        self._around = surroundings
        self._before = self._read()
        self._now: dict[str, bytes] = {}

    def content(self, work: Callable[[], bytes], *on: Any) -> bytes:
        """Bytes that hang on nothing but `on`: values of which JSON or `repr` says all there is to say."""
        key = hashlib.sha256(repr((self._around, *on)).encode()).hexdigest()
        if key not in self._now:
            found = self._before.get(key)
            self._now[key] = work() if found is None else found
        return self._now[key]

    def give(self, content: bytes, *on: Any) -> None:
        """Keep bytes that were worked out elsewhere."""
        self._now[hashlib.sha256(repr((self._around, *on)).encode()).hexdigest()] = content

    def value(self, work: Callable[[], T], *on: Any) -> T:
        """The same of numbers, texts, and lists of them; floats come back to the last bit."""
        return json.loads(self.content(lambda: json.dumps(work()).encode(), *on))  # type: ignore[no-any-return]

    def arrays(self, work: Callable[[], tuple[np.ndarray, ...]], *on: Any) -> list[np.ndarray]:
        """The same of arrays."""
        stream = io.BytesIO(self.content(lambda: _as_bytes(work()), *on))
        return [np.load(stream, allow_pickle=False) for _ in range(int(stream.read(1)[0]))]

    def pieces(self, part: Part, inputs: str) -> list[tuple[Piece, str]]:
        """The pieces of a part as the kernel's own binary gives them back, each with a digest of its solid.

        Args:
            part: the part.
            inputs: digest of all that its solids hang on.
        """
        content = self.content(lambda: solids_bytes(part.pieces), "pieces", inputs)
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            told = json.loads(archive.read("pieces"))
            solids = [archive.read(f"{i}") for i in range(len(told))]
        return [
            (_piece(*one, solid), hashlib.sha256(solid).hexdigest())
            for one, solid in zip(told, solids, strict=True)
        ]

    def write(self) -> None:
        """Keep what was asked for.

        Raises:
            OSError: the disk refused; what was kept is as it was.
        """
        if self._file is not None and self._now != self._before:
            write_whole(self._file, _archive(self._now))

    def _read(self) -> dict[str, bytes]:
        found: dict[str, bytes] = {}
        if self._file is not None and self._file.is_file():
            # What is damaged counts as not there.
            damaged = (OSError, zipfile.BadZipFile, ValueError, NotImplementedError, RuntimeError)
            with suppress(*damaged), zipfile.ZipFile(self._file) as archive:
                found = {name: archive.read(name) for name in archive.namelist()}
        return found


def _archive(entries: dict[str, bytes]) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        for name in sorted(entries):
            archive.writestr(zipfile.ZipInfo(name, _DATE), entries[name])
    return stream.getvalue()


def _as_bytes(arrays: tuple[np.ndarray, ...]) -> bytes:
    stream = io.BytesIO()
    stream.write(bytes([len(arrays)]))
    for one in arrays:
        np.save(stream, one, allow_pickle=False)
    return stream.getvalue()


def solids_bytes(pieces: tuple[Piece, ...]) -> bytes:
    """Pieces with their solids in the kernel's own binary."""
    from OCP.BRepTools import BRepTools

    entries = {"pieces": json.dumps([[one.name, asdict(one.material)] for one in pieces]).encode()}
    for i, one in enumerate(pieces):
        solid: Any = one.solid.val()
        BRepTools.Clean_s(solid.wrapped)  # of meshes: they hang on what else was asked for
        stream = io.BytesIO()
        solid.exportBin(stream)
        entries[f"{i}"] = stream.getvalue()
    return _archive(entries)


def _piece(name: str, material: dict[str, Any], solid: bytes) -> Piece:
    import cadquery as cq
    from pydantic import TypeAdapter

    from parts.shapes.workplane import Workplane
    from parts.standards.materials.materials import Material

    made = TypeAdapter(Material).validate_python(material)
    return Piece(name, made, Workplane(obj=cq.Shape.importBin(io.BytesIO(solid))))
