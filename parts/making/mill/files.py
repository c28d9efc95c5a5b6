"""The mill's files of a part: STEP with the callouts of its holes, and the process sheets."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.part import Part, Piece
from parts.making.bench.figures import Figures
from parts.making.bench.words import dimension_words, hole_words
from parts.making.mill.geometry import fitted, machined, recut
from parts.making.mill.milled import Milled
from parts.making.process.files import processed
from parts.making.step import step_bytes

if TYPE_CHECKING:
    from parts.making.model import Made


def mill_files(made: Made) -> Mapping[str, bytes]:
    """`<name>-mill.step`, one more a piece where there are several, and process sheets (PDF, CSV).

    Args:
        made: the part.

    Returns:
        The files by name.

    Raises:
        MakeError: a solid came out broken.
        OSError: the kernel could not write.
    """
    from parts.making.bench.files import sharp_solids

    part = made.result.part
    each = [milled(part, piece) for piece in part.pieces]
    faces = {one.piece.name: one.named() for one in each}
    sheets: dict[str, bytes] = {}
    zeros: list[str] = []
    solids = sharp_solids(part) if part.drawn() else {}
    for drawn in part.drawn():
        found = processed(part, drawn, solids[drawn.piece])
        sheets |= found.files(made.result)
        zeros += found.zeros()
    note = "; ".join(zeros)
    files = {
        f"{part.name}-mill.step": step_bytes(part.name, [one.piece for one in each], faces, note)
    }
    if len(each) > 1:
        for one in each:
            name = f"{part.name} {one.piece.name}"
            files[f"{part.name}-{one.piece.name}-mill.step"] = step_bytes(
                name, [one.piece], faces, note
            )
    return {**files, **sheets}


def milled(part: Part, piece: Piece) -> Milled:
    """A piece as it leaves for the mill.

    Raises:
        MakeError: the solid came out broken.
    """
    solid, milling = piece.solid.val(), part.milling
    marks = [drawn.marks for drawn in part.drawn() if drawn.piece == piece.name]
    described = [hole for each in marks for hole in each.holes]
    holes = [machined(hole, milling.geometry) for hole in described]
    sizes = [one for each in marks for one in fitted(each, milling.geometry)]
    made = recut(solid, holes, sizes)
    _sound(part, piece, made)
    return Milled(
        replace(piece, solid=piece.solid.newObject([made])),
        tuple(holes),
        tuple(_callout("; ".join(hole_words(one.hole, 1, _figures(part)))) for one in holes),
        tuple(sizes),
        tuple(_callout(dimension_words(one.size, _figures(part))) for one in sizes),
    )


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
