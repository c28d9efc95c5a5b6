"""The mill's files of a part: STEP with the callouts of its holes, and `mill.txt`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.part import Part, Piece
from parts.making.bench.figures import Figures
from parts.making.bench.words import dimension_words, hole_words
from parts.making.mill.coating import bores, coating
from parts.making.mill.findings import corner_rules, gap_rules, hole_rules
from parts.making.mill.geometry import (
    fitted,
    machined,
    recut,
)
from parts.making.mill.milled import Milled
from parts.making.mill.setups import setups
from parts.making.mill.surfaces import corners, gaps
from parts.making.shortfall import warned
from parts.making.step import step_bytes
from parts.making.stl import triangles
from parts.making.stock import cuts

if TYPE_CHECKING:
    from parts.making.model import Made


def mill_files(made: Made) -> Mapping[str, bytes]:
    """`<name>-mill.step`, one more a piece where there are several, and `mill.txt`.

    Args:
        made: the part.

    Returns:
        The files by name.

    Raises:
        MakeError: a solid came out broken.
        OSError: the kernel could not write.
    """
    from parts.making.mill.sheet import mill_text

    part = made.result.part
    each = [milled(part, piece) for piece in part.pieces]
    faces = {one.piece.name: one.named() for one in each}
    files = {f"{part.name}-mill.step": step_bytes(part.name, [one.piece for one in each], faces)}
    if len(each) > 1:
        for one in each:
            name = f"{part.name} {one.piece.name}"
            files[f"{part.name}-{one.piece.name}-mill.step"] = step_bytes(name, [one.piece], faces)
    return {**files, "mill.txt": warned(mill_text(part, each), made.result).encode()}


def milled(part: Part, piece: Piece) -> Milled:
    """Look at a piece as a shop would.

    Raises:
        MakeError: the solid came out broken.
    """
    solid, milling, sharp = piece.solid.val(), part.milling, _sharp(part)[piece.name]
    marks = [drawn.marks for drawn in part.drawn() if drawn.piece == piece.name]
    described = [hole for each in marks for hole in each.holes]
    holes = [machined(hole, milling.geometry) for hole in described]
    sizes = [one for each in marks for one in fitted(each, milling.geometry)]
    made = recut(solid, holes, sizes)
    _sound(part, piece, made)
    rules = [
        *corner_rules(corners(sharp, described), milling),
        *gap_rules(gaps(sharp), milling),
        *hole_rules(described, milling),
    ]
    made_up = setups(recut(sharp, holes), described)
    places, _ = triangles(solid, 0.01, 0.1)
    box = places.max(axis=0) - places.min(axis=0)
    size = float(box[0]), float(box[1]), float(box[2])
    volume = float(made.Volume())
    coat = coating(part.finish)
    return Milled(
        replace(piece, solid=piece.solid.newObject([made])),
        tuple(holes),
        tuple(_callout("; ".join(hole_words(one.hole, 1, _figures(part)))) for one in holes),
        tuple(sizes),
        tuple(_callout(dimension_words(one.size, _figures(part))) for one in sizes),
        tuple(rules),
        made_up,
        size,
        volume,
        tuple(cuts(part, piece)),
        coat,
        tuple(bores(described, coat, [one.size for one in sizes])) if coat is not None else (),
    )


def _sharp(part: Part) -> dict[str, Any]:
    """The pieces without their edge breaks, which a chamfer mill makes in passing."""
    sharp = part.model_copy(update={"edge_break": 0.0})
    return {piece.name: piece.solid.val() for piece in sharp.build()}


def _figures(part: Part) -> Figures:
    return Figures(part.drawing.units)


def _callout(words: str) -> str:
    """What the drawing says, in the letters that a STEP file holds."""
    for fancy, simple in _PLAIN:
        words = words.replace(fancy, simple)
    return words.encode("ascii", "replace").decode()


_PLAIN = (("Ø", "dia "), ("×", "x"), ("°", " deg"), ("±", "+/-"))


def _sound(part: Part, piece: Piece, solid: Any) -> None:
    from parts.making.model import MakeError

    solids = solid.Solids()
    if len(solids) != 1 or not solids[0].isValid() or not np.isfinite(solid.Volume()):
        raise MakeError(
            f"{part.name}: {piece.name} came out broken with its holes at machining size; leave "
            "milling.geometry nominal, or report these dimensions as a fault of the library"
        )
