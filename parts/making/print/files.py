"""The files of a part's fit-up prints: STL of each, one 3MF, and the sheet that says how they are printed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.cautions import IN_SHORT
from parts.core.drawing import Hole
from parts.core.part import Part, Piece
from parts.making.print.engrave import WORDS, Engraved, engraved
from parts.making.print.foot import relieved
from parts.making.print.holes import enlarged, printed_hole
from parts.making.print.orient import cornered, stands, stood
from parts.making.print.printed import Print, Printed
from parts.making.print.settings import Settings, read_printer, settings
from parts.making.print.split import Split, split
from parts.making.print.threemf import Object, threemf_bytes
from parts.making.shortfall import warned
from parts.making.stl import facets_bytes, triangles

if TYPE_CHECKING:
    from parts.making.model import Made

CHORD, ANGLE = 0.05, 0.2
"""How close the facets lie to the surface [mm], and their largest turn [rad]."""
APART = 8.0


def print_files(made: Made) -> Mapping[str, bytes]:
    """STL of every print, `<name>-print.3mf` with all of them, and `print.txt`.

    Args:
        made: the part.

    Returns:
        The files by name.

    Raises:
        InputError: the printer's file cannot be used.
        MakeError: a print came out broken.
    """
    from parts.making.print.sheet import print_text

    part = made.result.part
    how = settings(part.print_fit, read_printer())
    eased = part.eased(how.hole_allowance)
    pieces = [printed(eased, piece, how) for piece in eased.pieces]
    prints = [one for piece in pieces for one in piece.prints]
    files = {f"{one.name}.stl": facets_bytes(one.points, one.facets) for one in prints}
    about = {
        "Title": f"{part.name} {part.title}".strip(),
        "Description": f"{WORDS}. {part.name} revision {part.revision}, to be made in {part.metal.name}. {IN_SHORT}",
        "Application": "oneoff-parts",
    }
    files[f"{part.name}-print.3mf"] = threemf_bytes(
        list(_laid(part, prints)), how.plastic.name, about
    )
    return {**files, "print.txt": warned(print_text(part, how, pieces), made.result).encode()}


def printed(part: Part, piece: Piece, how: Settings) -> Printed:
    """Make the prints of one piece.

    Raises:
        MakeError: a print came out broken.
    """
    solid = piece.solid.val()
    stand = stands(solid, how)[0]
    here, frame = stood(solid, stand)
    holes = tuple(printed_hole(hole, how) for hole in frame.holes(described(part, piece)))
    grown = enlarged(here, holes)
    turn = stand.turn(how.bed)
    parted = split(grown, [one.hole for one in holes], how, turn is not None)
    prints = tuple(_prints(part, piece, parted, how))
    return Printed(piece, stand, turn, holes, parted, prints)


def described(part: Part, piece: Piece) -> list[Hole]:
    """The holes that the part describes of one piece."""
    return [
        hole for drawn in part.drawn() if drawn.piece == piece.name for hole in drawn.marks.holes
    ]


def _prints(part: Part, piece: Piece, parted: Split, how: Settings) -> Iterator[Print]:
    base = part.name if len(part.pieces) == 1 else f"{part.name}-{piece.name}"
    said = "" if len(part.pieces) == 1 else piece.name
    for i, half in enumerate(parted.halves, 1):
        several = len(parted.halves) > 1
        foot, words = relieved(cornered(half), how.foot_chamfer)
        marked = engraved(foot, part.name, f"{said} {i}".strip() if several else said)
        name = f"{base}-{i}-print" if several else f"{base}-print"
        _sound(name, marked)
        points, facets = triangles(marked.solid, CHORD, ANGLE)
        yield Print(name, marked, points * how.scale, facets, words)


def _sound(name: str, marked: Engraved) -> None:
    from parts.making.model import MakeError

    solids = marked.solid.Solids()
    if len(solids) != 1 or not solids[0].isValid() or not marked.removed > 0.0:
        raise MakeError(
            f"{name}: the print came out as {len(solids)} solids, or broken, or without its words; state "
            "another `up` under print_fit, or report these dimensions as a fault of the library"
        )


def _laid(part: Part, prints: Sequence[Print]) -> Iterator[Object]:
    """Side by side; whoever prints lays them out again."""
    x = 0.0
    for one in prints:
        low = one.points.min(axis=0)
        yield Object(one.name, part.name, one.points, one.facets, (x - low[0], -low[1]))
        x += float(one.size[0]) + APART


def coupon_files() -> Mapping[str, bytes]:
    """The hole gauge: `gauge.stl`, `gauge.3mf` and `gauge.txt`."""
    from parts.making.print.gauge import coupon, gauge_text

    points, facets = _mesh(coupon())
    thing = Object("hole gauge", "gauge", points, facets, (0.0, 0.0))
    about = {"Title": "Hole gauge", "Application": "oneoff-parts"}
    return {
        "gauge.stl": facets_bytes(points, facets),
        "gauge.3mf": threemf_bytes([thing], "any", about),
        "gauge.txt": gauge_text().encode(),
    }


def _mesh(solid: Any) -> tuple[np.ndarray, np.ndarray]:
    return triangles(solid, 0.01, 0.1)
