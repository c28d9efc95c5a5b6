"""What is written of a part that was made: the contents of its files, by the outputs that it asks for."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.part import Part, Piece
from parts.folders.part_folder import standing, write_part
from parts.folders.stated import stated
from parts.making.faces import Faced, faced
from parts.making.model import Made, MakeError, model
from parts.making.picture import View, best_view, pictures
from parts.making.purposes import purpose
from parts.making.read_back import content
from parts.making.step import step_bytes
from parts.making.stl import stl_bytes

if TYPE_CHECKING:
    from parts.inputs.document import Document
    from parts.making.model import Made
    from parts.proof.records import Proof

SEEN = (0.05, 0.2)
"""Chord [mm] and angle [rad] of the mesh for pictures and page."""


@dataclass(frozen=True)
class Order:
    """What to write, and how.

    Attributes:
        stl_chord: largest distance of the STL from the surface [mm].
        stl_angle: largest angle between neighbouring facets [rad].
        purposes: what else to write files for, by the names in `parts.making.purposes`.
        packet: write what each shop gets of those purposes in one.
        written: the YAML file of the part, for the page; None for a part from Python.
        proof: finite elements beside the hand calculation, where the part was proved.
    """

    stl_chord: float = 0.05
    stl_angle: float = 0.2
    purposes: Sequence[str] = ()
    packet: bool = False
    written: Document | None = None
    proof: Proof | None = None


class Outputs:
    """The contents of a part's files. What several of them rest on is worked out once."""

    def __init__(self, made: Made, order: Order) -> None:
        self.made = made
        self.order = order
        self.by_purpose: dict[str, Mapping[str, bytes]] = {}

    @property
    def part(self) -> Part:
        return self.made.result.part

    @cached_property
    def key(self) -> bytes:
        """The key to its dimensions, where a drawing is made as well."""
        if "bench" not in self.order.purposes or not self.part.drawn():
            return b""
        from parts.making.bench.key import key

        return key(self.part).svg

    @cached_property
    def meshes(self) -> dict[str, tuple[np.ndarray, np.ndarray]]:
        """The surface of each piece as it is seen, by its name."""
        return {name: (one.points, one.corners) for name, one in self.faced.items()}

    @cached_property
    def faced(self) -> dict[str, Faced]:
        """The same with the faces that its triangles lie on."""
        return {piece.name: faced(piece.solid, *SEEN) for piece in self.part.pieces}

    @cached_property
    def view(self) -> View:
        """From where the part is seen first."""
        return best_view(list(self.meshes.values()))

    @cached_property
    def entry(self) -> dict[str, Any]:
        """The part's entry in the JSON report."""
        from parts.report.document import part_entry

        return part_entry(self.made, proof=self.order.proof)

    def with_proof(self, beside: Mapping[str, bytes]) -> dict[str, bytes]:
        """The files that tell of a proof, laid out again: the report, and the page beside the other files."""
        found = dict(_report(self)) if "report" in self.part.outputs else {}
        found.pop("bought.csv", None)
        if "page" in self.part.outputs:
            found |= _page(self, {**beside, **found})
        return found

    def files(self, beside: Mapping[str, bytes] = MappingProxyType({})) -> dict[str, bytes]:
        """Every file by name, as they are written: the page last, for it shows the others.

        Args:
            beside: files made before that stay, and are shown too.

        Raises:
            MakeError: a mesh of the part is open.
        """
        found: dict[str, bytes] = {}
        for name in ("step", "stl", "report", "picture"):
            if name in self.part.outputs:
                found |= _WRITE[name](self)
        for name in self.order.purposes:
            self.by_purpose[name] = purpose(name)(self.made)
            found |= self.by_purpose[name]
        if self.order.packet:
            from parts.folders.packet import packet_of_part

            found |= packet_of_part(self.made.result, self.by_purpose)
        if "page" in self.part.outputs:
            found |= _page(self, {**beside, **found})
        return found


def _step(of: Outputs) -> Mapping[str, bytes]:
    part = of.part
    found = {f"{part.name}.step": step_bytes(part.name, part.pieces)}
    if len(part.pieces) > 1:
        for piece in part.pieces:
            found[_file(part, piece, "step")] = step_bytes(f"{part.name} {piece.name}", [piece])
    return found


def _stl(of: Outputs) -> Mapping[str, bytes]:
    chord, angle = of.order.stl_chord, of.order.stl_angle
    return {
        _file(of.part, piece, "stl"): stl_bytes(piece.solid, chord, angle)
        for piece in of.part.pieces
    }


def _report(of: Outputs) -> Mapping[str, bytes]:
    from parts.report.bill import csv_bytes, merged
    from parts.report.document import entries_bytes
    from parts.report.text import text_report

    return {
        "report.json": entries_bytes([of.entry]),
        "report.txt": text_report(of.made, of.order.proof).encode(),
        "bought.csv": csv_bytes(merged(of.part.bought())),
    }


def _picture(of: Outputs) -> Mapping[str, bytes]:
    first = of.view
    views = {"picture.png": first, "picture-behind.png": View(first.turn + 180.0, -first.tilt)}
    return dict(zip(views, pictures(list(of.meshes.values()), list(views.values())), strict=True))


def _page(of: Outputs, files: Mapping[str, bytes]) -> Mapping[str, bytes]:
    """The page of the files beside it, in one order whatever of them was made now or before."""
    from parts.report.page.part import PAGE, part_page

    names = sorted(set(files) - {PAGE}, key=lambda name: name.rpartition(".")[::2])
    return {PAGE: part_page(shown(of, {name: files[name] for name in names}))}


def shown(of: Outputs, files: Mapping[str, bytes]) -> Any:
    """What the page of a part shows, beside its other files."""
    from parts.report.hardware import hardware
    from parts.report.page.part import Shown

    order = of.order
    return Shown(
        of.made, of.entry, of.meshes, of.view, files, order.written, order.proof,
        {name: (one.face, one.faces) for name, one in of.faced.items()}, of.key,
        hardware(of.part, of.meshes.values()),
    )  # fmt: skip


_WRITE: Mapping[str, Callable[[Outputs], Mapping[str, bytes]]] = {
    "step": _step,
    "stl": _stl,
    "report": _report,
    "picture": _picture,
}


def _file(part: Part, piece: Piece, ending: str) -> str:
    return (
        f"{part.name}.{ending}" if len(part.pieces) == 1 else f"{part.name}-{piece.name}.{ending}"
    )


def make_part(
    part: Part,
    folder: Path,
    stl_chord: float = 0.05,
    stl_angle: float = 0.2,
    purposes: Sequence[str] = (),
    written: Document | None = None,
    packet: bool = False,
) -> Made:
    """Make a part and write its files, whole or not at all.

    Files of an older make that are not made again stay where they tell of the part as it stands, else they go; so do
    those of an older proof.

    Args:
        part: the part.
        folder: the folder that holds the part's own folder.
        stl_chord: largest distance of the STL from the surface [mm].
        stl_angle: largest angle between neighbouring facets [rad].
        purposes: what else to write files for, by the names in `parts.making.purposes`.
        written: the YAML file of the part, whose words its page shows; None for a part from Python.
        packet: write for each shop what it gets of those purposes in one PDF and one ZIP.

    Returns:
        What was made.

    Raises:
        MakeError: the solid could not be made, or differs from the part that was checked.
        OSError: the disk refused.
    """
    made = model(part)
    return written_of(Outputs(made, Order(stl_chord, stl_angle, purposes, packet, written)), folder)


def written_of(outputs: Outputs, folder: Path) -> Made:
    """Write the files of a part that was made, in the place of those of the make before.

    Args:
        outputs: what is written.
        folder: the folder that holds the part's own folder.

    Returns:
        What was made, with the files written and those that went.

    Raises:
        MakeError: a mesh is open.
        OSError: the disk refused; the part's folder is as it was.
    """
    part = outputs.part
    own = folder / part.name
    before = standing(own, part)
    beside = {name: found for name in before.kept if (found := content(own / name)) is not None}
    try:
        files = outputs.files(beside)
    except MakeError as error:
        raise MakeError(f"{part.name}: {str(error).removeprefix(f'{part.name}: ')}") from error
    written = outputs.order.written
    purposes = {name: list(found) for name, found in outputs.by_purpose.items()}
    said = None if written is None else stated(written).data
    gone = write_part(own, files, before, said, purposes)
    return replace(outputs.made, files=[own / name for name in files], gone=gone)
