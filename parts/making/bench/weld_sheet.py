"""The assembly sheet of a welded part: balloons, the list of its pieces, weld symbols, and distances to hold."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from parts.core.drawing import Balloon, Callout, Drawn, Marks
from parts.core.part import Part
from parts.core.weldment import Weldment
from parts.making.bench.figures import Figures
from parts.making.bench.measured import measured
from parts.making.bench.sheet import DrawnSheet, OfPiece, draw
from parts.making.bench.views import NoRoom

PIECE = "welded"


def weld_sheet(part: Part, of: Weldment, mass: float) -> DrawnSheet:
    """Draw the assembly sheet of a part, but for its title block; its distances are measured on the solids.

    Args:
        part: the part.
        of: how it is welded.
        mass: of all its pieces [kg].

    Raises:
        NoRoom: something finds no room, or a distance is not that of the solids.
    """
    sheet, solid = weld_drawn(part, of), _together(part, of)
    wrong = [one for one in measured(Marks(of.jig), solid) if not one.ok]
    if wrong:
        raise NoRoom(f"the welded solids do not have {', '.join(one.name for one in wrong)}")
    return draw(part, sheet, solid, OfPiece(part.metal, mass))


def weld_drawn(part: Part, of: Weldment) -> Drawn:
    """What the assembly sheet says."""
    figures = Figures(part.drawing.units)
    american = part.drawing.weld_symbols == "AWS A2.4"
    pieces = tuple(f"{one.piece}, {one.quantity} off, {one.material}" for one in of.members)
    lists = (
        ("PIECES", pieces),
        ("SEQUENCE", tuple(map(figures.said, of.sequence))),
        ("AFTER WELDING", tuple(map(figures.said, of.after))),
    )
    marks = Marks((*of.jig, *_pointed(of, american=american)))
    view = of.views[0].side
    marks = replace(
        marks, dimensions=tuple(replace(one, view=one.view or view) for one in marks.dimensions)
    )
    return Drawn(
        of.right, of.up, of.views, marks, piece=PIECE, title="welded together", lists=lists
    )


def _pointed(of: Weldment, *, american: bool) -> Iterator[Callout]:
    for number, one in enumerate(of.members, 1):
        yield Callout(f"piece {number}", one.at, "", signs=(Balloon(number, one.at),))
    for weld in of.welds:
        yield Callout(weld.name, weld.at, "", signs=(replace(weld, american=american),))


def _together(part: Part, of: Weldment) -> Any:
    import cadquery as cq

    named = {one.piece for one in of.members}
    own = [value for piece in part.pieces if piece.name in named for value in piece.solid.vals()]
    return cq.Compound.makeCompound([*own, *of.beside().values()])
