"""The bench's files of a part."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from parts.drawn import Drawn
from parts.making.bench.dxf import dxf_bytes
from parts.making.bench.pdf import pdf_bytes
from parts.making.bench.sheet import DrawnSheet, draw
from parts.making.bench.svg import svg_bytes
from parts.making.bench.views import NoRoom
from parts.part import Part

if TYPE_CHECKING:
    from parts.making.make import Made


def bench_files(made: Made) -> Mapping[str, bytes]:
    """Dimensioned drawings as PDF, SVG and DXF, the hole chart, and templates for tube ends.

    Args:
        made: the part.

    Returns:
        The files by name; none where the family has no drawing.

    Raises:
        MakeError: something cannot be drawn.
    """
    from parts.making.make import MakeError

    part = made.result.part
    try:
        return dict(_files(part, made))
    except NoRoom as error:
        raise MakeError(f"{part.name}: {error}") from error


def _files(part: Part, made: Made) -> Iterator[tuple[str, bytes]]:
    for drawn, sheet in sheets(part, made):
        base = part.name if len(part.drawn()) == 1 else f"{part.name}-{drawn.piece}"
        ink, size = sheet.ink, sheet.paper.size
        yield f"{base}-drawing.pdf", pdf_bytes([(size, ink)], f"{base} drawing")
        yield f"{base}-drawing.svg", svg_bytes(size, ink, f"{base} drawing")
        yield f"{base}-drawing.dxf", dxf_bytes(ink, sheet.scale)


def sheets(part: Part, made: Made) -> Iterator[tuple[Drawn, DrawnSheet]]:
    """Every sheet of a part, drawn."""
    drawn = part.drawn()
    solids = _sharp(part)
    density = {piece.name: piece.material.density for piece in part.pieces}
    for number, one in enumerate(drawn, 1):
        mass = made.volume[one.piece] * density[one.piece]
        yield one, draw(part, one, solids[one.piece], mass, number, len(drawn))


def _sharp(part: Part) -> dict[str, Any]:
    """The pieces without their edge breaks: a note states those, and the views stay clear."""
    sharp = part.model_copy(update={"edge_break": 0.0})
    return {piece.name: piece.solid.val() for piece in sharp.build()}
