"""The lists of a packet: what is sawn and from what, what is welded, what is screwed together and in which order."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

import numpy as np

from parts.core.cautions import IN_SHORT
from parts.core.drawing import Callout
from parts.core.part import Part
from parts.core.tube_ends import TubeEnd
from parts.inputs.units import INCH_MM, POUND_FORCE_N
from parts.making.packet.pages import Block, Heading, Table
from parts.making.packet.shops import Packed
from parts.making.stock import Order
from parts.making.writing import harmless

if TYPE_CHECKING:
    from parts.core.part import Bought

WHOLE = 1e-3
"""Share of a tube by which a piece of it may differ and still have square ends and plain walls [-]."""
CUT_HEAD = (
    "no",
    "part",
    "piece",
    "off",
    "metal",
    "stock",
    "saw to mm",
    "finished mm",
    "ends",
    "note",
)
STEPS = (
    (r"jam nut", "run on, and tighten last, once the length is set:"),
    (r"rod end", "screw in"),
    (r"^bush|^dowel pin|spherical|^6\d{2,4}\b|^AXK|^HK|^NK|needle|bearing", "press in"),
    (r"circlip|retaining ring", "snap in"),
    (r"spacer|sleeve|shim", "set in place"),
    (r"split pin|cotter", "secure with"),
    (r"washer", "under the nut:"),
    (r"nut", "run on"),
)
"""How a line of the bill goes on, by words of its designation; all else is put in."""
SEQUENCE = ("press in", "snap in", "screw in", "set in place", "put in", "under the nut:", "run on", "secure with",
            "run on, and tighten last, once the length is set:")  # fmt: skip


def off(one: Packed) -> str:
    """How many are made, and how many of them as the mirror image."""
    if not one.mirrored:
        return str(one.count)
    return f"{one.count} ({one.mirrored} mirrored)"


def cut_rows(packed: Sequence[Packed], orders: Sequence[Order]) -> list[tuple[str, ...]]:
    """A row for each cut of the saw: number, part, piece, how many, metal, stock, lengths [mm], ends, note."""
    of = {one.part.name: one for one in packed}
    found: list[tuple[str, ...]] = []
    for order in orders:
        part = of[order.part].part
        cut = order.cut
        finished = cut.length - cut.chuck - 2.0 * part.milling.allowance
        shown = "" if cut.width else f"{finished:.1f}"
        sawn = cut.name if cut.width else cut.stock.name
        found.append(
            (
                str(len(found) + 1), order.part, order.piece, str(order.quantity), order.material, sawn,
                f"{cut.length:.1f}", shown, _ends(part, order, finished), cut.note,
            )
        )  # fmt: skip
    return found


def _ends(part: Part, order: Order, finished: float) -> str:
    """How the ends of a piece are cut."""
    names = order.piece.split(", ")
    tubes = [tube for one in part.drawn() if one.piece in names for tube in one.tubes]
    if tubes:
        return "; ".join(f"{end.name}: {_end(end)}" for tube in tubes for end in tube.ends)
    if not order.cut.stock.wall_mm:
        return "square, machined after"
    plain = order.cut.stock.area_mm2 * finished
    return "square" if abs(order.cut.finished / plain - 1.0) < WHOLE else "as the drawing shows"


def _end(end: TubeEnd) -> str:
    if end.flat:
        return f"sawn {np.degrees(end.saw):.1f}° off square, to a flat face"
    if not end.saddle:
        return f"square, {np.degrees(end.angle):.1f}°" if end.angle != np.pi / 2.0 else "square"
    beside = f", {end.offset:.1f} mm beside its middle" if end.offset else ""
    return f"notch for Ø{end.saddle:.2f} at {np.degrees(end.angle):.1f}°{beside}, by its template"


def bars(orders: Sequence[Order]) -> Table:
    """What is bought for the saw: length of each bar and tube, or area of plate, with the cuts in it."""
    sums: dict[tuple[str, str], list[float]] = {}
    for one in orders:
        total = sums.setdefault((one.material, one.cut.stock.name), [0.0, 0.0, 0.0])
        total[0] += one.quantity
        total[1] += one.quantity * (one.cut.length + one.kerf) * (one.cut.width or 1.0)
        total[2] += one.quantity * one.bought
    flat = {one.cut.stock.name for one in orders if one.cut.width}
    rows = [
        (metal, stock, f"{n:.0f}", f"{sum_ / 100.0:.0f} cm²" if stock in flat else f"{sum_:.0f} mm", f"{kg:.2f}")
        for (metal, stock), (n, sum_, kg) in sums.items()
    ]  # fmt: skip
    head = ("metal", "stock", "pieces", "length or area, with the saw's cuts", "kg")
    return Table(head, tuple(rows), (4, 4, 1, 4, 1))


def cut_csv(rows: Sequence[tuple[str, ...]]) -> bytes:
    """The cut list as a table for a spreadsheet; no cell of it is run as a formula."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n", quoting=csv.QUOTE_NONNUMERIC)
    writer.writerow([one.replace(" ", "_") for one in CUT_HEAD])
    writer.writerows([harmless(cell) for cell in row] for row in rows)
    writer.writerow([IN_SHORT])
    return stream.getvalue().encode()


def weld_blocks(packed: Sequence[Packed]) -> Iterator[Block]:
    """What is welded on each part, and what its sheets say of it."""
    for one in packed:
        part = one.part
        yield Heading(f"{part.name} {part.title}".strip())
        places = [
            f"{k.name}{f' at {k.at}' if k.at else ''}" for k in part.kinds() if "weld" in k.name
        ]
        yield f"Welds: {'; '.join(dict.fromkeys(places))}. Metal: {part.metal.name}."
        said = [note for sheet in part.drawn() for note in sheet.marks.notes]
        said += [
            mark.text
            for sheet in part.drawn()
            for mark in sheet.marks.dimensions
            if isinstance(mark, Callout) and "{" not in mark.text
        ]
        yield from (f"- {words}" for words in dict.fromkeys(said) if "weld" in words.lower())
        yield from (f"- {words}" for words in part.cautions() if "weld" in words.lower())


def torques(packed: Sequence[Packed]) -> Table:
    """What is tightened, and how far."""
    rows = [
        (one.part.name, what, f"{float(value):.1f}", f"{float(value) / FOOT_POUND:.1f}")
        for one in packed
        for what, (value, unit) in one.part.facts().items()
        if unit == "N*m" and TIGHTENED.match(what)
    ]
    return Table(("part", "what is tightened", "N*m", "lbf*ft"), tuple(rows), (2, 6, 1, 1))


FOOT_POUND = float(POUND_FORCE_N * 12 * INCH_MM) / 1000.0
"""One pound-force foot [N*m]."""
TIGHTENED = re.compile(r"torque of |jam nut torque")
UNSAID = (
    "An oiled thread takes a tenth less (`oneoff lookup torque`). A bolt that is not in this table has no torque that "
    "a check counts on: one that is a pin is run up until it does not rattle, and locked; of any other ask the maker "
    "of what it holds."
)


def bill(found: Sequence[Bought]) -> Table:
    """What is bought in."""
    rows = tuple((str(one.quantity), one.designation, one.fits) for one in found)
    return Table(("off", "designation", "fits"), rows, (1, 6, 8))


def part_steps(part: Part) -> list[str]:
    """In which order what is bought in goes on a part: a sentence a step."""
    by_way: dict[str, list[str]] = {}
    for one in part.bought():
        way = next((way for words, way in STEPS if re.search(words, one.designation)), "put in")
        by_way.setdefault(way, []).append(f"{one.quantity} x {one.designation} ({one.fits})")
    found = [f"{way} {'; '.join(by_way[way])}" for way in SEQUENCE if way in by_way]
    if any("weld" in kind.name for kind in part.kinds()):
        found.insert(0, "weld it first, and let it cool; ream and tap what the heat has moved")
    return found


def steps(packed: Mapping[str, Packed], order: Sequence[tuple[str, str]]) -> Iterator[Block]:
    """The order of assembly: each part with where it goes, and what goes on it.

    Args:
        packed: the parts by name.
        order: names of parts in the order in which they go on, each with where.
    """
    for i, (name, where) in enumerate(order, 1):
        part = packed[name].part
        yield Heading(f"{i}. {name} {part.title}".rstrip() + (f": {where}" if where else ""))
        for letter, said in zip("abcdefghijklmnop", part_steps(part), strict=False):
            yield f"{letter}. {said}"
        yield from (f"Mind: {words}" for words in part.cautions())
