"""The bench's files of a part."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from parts.core.drawing import Drawn
from parts.core.part import Part
from parts.making.bench.coordinates import coordinates_csv, walks
from parts.making.bench.cope import template
from parts.making.bench.determined import left_open
from parts.making.bench.dxf import dxf_bytes
from parts.making.bench.inspection import inspection_csv, inspection_pages, items
from parts.making.bench.legible import unreadable
from parts.making.bench.measured import measured
from parts.making.bench.paper import SIZES
from parts.making.bench.pdf import pdf_bytes
from parts.making.bench.plate_template import template_pages
from parts.making.bench.sheet import DrawnSheet, OfPiece, draw
from parts.making.bench.svg import svg_bytes
from parts.making.bench.views import NoRoom
from parts.making.bench.weld_sheet import PIECE, weld_sheet
from parts.making.process.files import Processed, processed
from parts.making.shortfall import across

if TYPE_CHECKING:
    from parts.core.search.result import Result
    from parts.making.bench.ink import Ink
    from parts.making.model import Made


SHOWN = 4
"""How many open places a message names."""


class NotProved(ValueError):
    """A sheet from which the part cannot be made."""


def bench_files(made: Made) -> Mapping[str, bytes]:
    """Dimensioned drawings as PDF, SVG and DXF, inspection sheets, process sheets, templates of plates and tube ends.

    Args:
        made: the part.

    Returns:
        The files by name; none where the family has no drawing.

    Raises:
        MakeError: something cannot be drawn.
    """
    from parts.making.model import MakeError

    part = made.result.part
    try:
        return dict(_files(part, made))
    except (NoRoom, NotProved) as error:
        raise MakeError(f"{part.name}: {error}") from error


def _files(part: Part, made: Made) -> Iterator[tuple[str, bytes]]:
    solids = sharp_solids(part)
    page = _page(part)
    for drawn, sheet in sheets(part, made, solids):
        base = part.name if len(part.drawn()) == 1 else f"{part.name}-{drawn.piece}"
        size = sheet.paper.size
        ink = [*sheet.ink, *across(size, made.result)]
        pages = [(size, ink), *((s, [*i, *across(s, made.result)]) for s, i in sheet.more)]
        yield f"{base}-drawing.pdf", pdf_bytes(pages, f"{base} drawing")
        yield f"{base}-drawing.svg", svg_bytes(size, ink, f"{base} drawing")
        yield f"{base}-drawing.dxf", dxf_bytes(ink, sheet.scale)
        profiles = walks(drawn)
        if profiles:
            yield f"{base}-profiles.csv", coordinates_csv(profiles)
        rows = items(part, drawn)
        yield f"{base}-inspection.csv", inspection_csv(part, rows)
        written = [
            (on, [*lines, *across(on, made.result)])
            for on, lines in inspection_pages(part, drawn, rows)
        ]
        yield f"{base}-inspection.pdf", pdf_bytes(written, f"{base} inspection")
        plan = processed(part, drawn, solids[drawn.piece])
        _can_be_made(plan)
        yield from plan.files(made.result).items()
        if pages := wrapped(part, drawn, page, made.result):
            yield f"{base}-templates.pdf", pdf_bytes(pages, f"{base} tube templates")
    yield from _plates(part, made, page)
    yield from _welded(part, made)


def wrapped(
    part: Part, drawn: Drawn, page: tuple[float, float], result: Result
) -> list[tuple[tuple[float, float], list[Ink]]]:
    """Templates to wrap round coped ends, a page each: its size [mm] and its ink."""
    return [
        (page, [*template(tube, end, page, part.name), *across(page, result)])
        for tube in drawn.tubes
        for end in tube.ends
        if end.saddle > 0.0
    ]


def _welded(part: Part, made: Made) -> Iterator[tuple[str, bytes]]:
    """The assembly sheet of a welded part, its distances measured on the solids."""
    of = part.weldment()
    if of is None:
        return
    bare = weld_sheet(part, of, made.mass).numbered(1, 1)
    clashes = unreadable(bare.ink)
    if clashes:
        raise NoRoom(f"the assembly sheet cannot be read: {'; '.join(clashes)}")
    base, size = f"{part.name}-{PIECE}", bare.paper.size
    ink = [*bare.ink, *across(size, made.result)]
    yield f"{base}-drawing.pdf", pdf_bytes([(size, ink)], f"{base} drawing")
    yield f"{base}-drawing.svg", svg_bytes(size, ink, f"{base} drawing")
    yield f"{base}-drawing.dxf", dxf_bytes(ink, bare.scale)


def _plates(part: Part, made: Made, page: tuple[float, float]) -> Iterator[tuple[str, bytes]]:
    """Templates of its flat blanks, each blank once."""
    blanks = part.blanks()
    for i, blank in enumerate(blanks, 1):
        base = part.name if len(blanks) == 1 else f"{part.name}-{i}"
        pages = [
            (size, [*ink, *across(size, made.result)])
            for size, ink in template_pages(part, blank, base, page[::-1])
        ]
        yield f"{base}-plate-templates.pdf", pdf_bytes(pages, f"{base} template of the plate")


def _can_be_made(plan: Processed) -> None:
    """Refuse what its builder's tools would spoil or cannot make."""
    wrong = [one for one in plan.plan.rules if not one.ok]
    if wrong:
        words = "; ".join(f"{one.field}: {one.wrong()}; {one.how}" for one in wrong[:SHOWN])
        more = f"; and {len(wrong) - SHOWN} more" if len(wrong) > SHOWN else ""
        raise NotProved(f"{plan.plan.piece.name!r} cannot be made with these tools: {words}{more}")


def _page(part: Part) -> tuple[float, float]:
    """The page for templates, lying: letter for those who draw on American sheets."""
    return SIZES[part.drawing.sheet or "A4"]


def sheets(part: Part, made: Made, solids: Mapping[str, Any]) -> Iterator[tuple[Drawn, DrawnSheet]]:
    """Every sheet of a part, drawn and found readable; the solid was measured when the part was made.

    Args:
        part: the part.
        made: the part as it was made.
        solids: its pieces as `sharp_solids` gives them.

    Yields:
        What the part says of a sheet, and the sheet.

    Raises:
        NoRoom: something finds no room.
    """
    drawn = part.drawn()
    pieces = {piece.name: piece for piece in part.pieces}
    for one in drawn:
        proved(part, one, solids[one.piece])
    found = []
    for one in drawn:
        piece = pieces[one.piece]
        mass = made.volume[one.piece] * piece.material.density
        found.append((one, draw(part, one, solids[one.piece], OfPiece(piece.material, mass))))
    count, first = sum(1 + len(sheet.more) for _, sheet in found), 1
    for one, bare in found:
        sheet = bare.numbered(first, count)
        first += 1 + len(sheet.more)
        clashes = unreadable(sheet.ink)
        if clashes:
            raise NoRoom(f"the drawing cannot be read: {'; '.join(clashes)}")
        yield one, sheet


def proved(part: Part, drawn: Drawn, solid: Any) -> None:
    """Refuse a sheet that leaves a face open, says a length twice, or measures where nothing can be touched.

    Args:
        part: the part.
        drawn: what it says of the sheet.
        solid: the piece as `sharp_solids` gives it.

    Raises:
        NotProved: a stranger could not make the piece from it.
    """
    found = left_open(drawn, solid, float(part.edge_break))
    if found:
        words = "; ".join(dict.fromkeys(one.words() for one in found[:SHOWN]))
        more = f"; and {len(found) - SHOWN} more" if len(found) > SHOWN else ""
        raise NotProved(
            f"the sheet of {drawn.piece!r} does not say how to make it: {words}{more}. Report these "
            "dimensions as a fault of the library; STEP and STL do not hang on the sheet"
        )


def sharp_solids(part: Part) -> dict[str, Any]:
    """The pieces without their edge breaks: a note states those, and the views stay clear.

    A piece whose other sizes hang on the edge break, as a countersink's depth may, is shown as it is.
    """
    sharp = {
        piece.name: piece.solid.val()
        for piece in part.model_copy(update={"edge_break": 0.0}).build()
    }
    same = {
        drawn.piece: all(
            one.ok for one in measured(drawn.marks, sharp[drawn.piece]) if not one.of_the_edge
        )
        for drawn in part.drawn()
    }
    if all(same.get(name) for name in sharp):
        return sharp
    whole = {piece.name: piece.solid.val() for piece in part.pieces}
    return {name: sharp[name] if same.get(name) else solid for name, solid in whole.items()}
