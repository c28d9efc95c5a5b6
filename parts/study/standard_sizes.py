"""The standard sizes that a dimension can take: stock, drills, threads, tubes, bolts, rod ends, options."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from parts.core.part import Part
from parts.features.bolts.lengths import of_size
from parts.features.pins.bought_pin import clevis_pins, dowel_pins
from parts.inputs.units import LENGTH
from parts.standards.bearings.bearings import BallBearing, bearing, bearings
from parts.standards.designation import UnknownDesignation
from parts.standards.rod_ends.rod_ends import RodEnd, rod_end, rod_ends
from parts.standards.stock.stock import Stock, listed
from parts.standards.threads.drills import drills
from parts.standards.threads.threads import Thread, thread, threads
from parts.study.dimension import Dimension, refusal

SAME = 0.006
"""Two lengths closer than this are one size [mm]: an inch size written in millimetres."""
HOLES = ("hole", "bore", "drill", "opening", "witness")
"""Words in the path of a dimension that is drilled."""
BARS = ("hex", "round")
BOUGHT: Mapping[str, tuple[Callable[[str], Any], str]] = {
    "bolt": (of_size, "shank"),
    "clevis_pin": (clevis_pins, "diameter"),
    "pin": (dowel_pins, "diameter"),
}
"""Keys of what is bought by its size: the look-up of a size, and what tells a larger one."""
_SIZE = re.compile(r"(?:NAS\d\d|[A-Z]+ ?(?:\d{4} ?)?(?:[A-Z] )?|^)(\d+/\d+-\d+|\d+)")


@dataclass(frozen=True)
class Size:
    """A standard size: `text` as a part's file states it, its `value` inside, its `measure` [mm] for order."""

    text: str
    value: Any
    measure: float


def standard_sizes(part: Part, one: Dimension, file: str = "") -> tuple[Size, ...]:
    """The standard sizes of a dimension, the smallest first.

    A thickness takes those of plate in the part's metal, a drilled diameter those of drills, any other
    diameter those of round bar; a thread the sizes of its own series, class and hand; a tube the walls
    that its own outside diameter comes with; a bolt or clevis pin the sizes of its own series and class;
    a rod end those of its own gender and hand; a ball bearing those of its own series; an option, in the order of the
    list, all that it may be.

    Raises:
        InputError: the dimension is none that is bought or drilled in standard sizes.
    """
    if isinstance(one.value, Thread):
        return _threads(one.value)
    if isinstance(one.value, Stock) and one.value.wall_mm > 0.0:
        return _walls(part, one.value)
    if isinstance(one.value, RodEnd):
        return _rod_ends(one.value)
    if isinstance(one.value, BallBearing):
        return _bearings(one.value)
    if one.name in BOUGHT and isinstance(one.value, str):
        return _series(one.value, *BOUGHT[one.name])
    if one.words:
        return tuple(Size(word, word, float(i)) for i, word in enumerate(one.words))
    if one.kind is LENGTH and one.name.endswith("thickness"):
        return _stock("plate", part)
    if one.kind is LENGTH and (one.name == "diameter" or "witness" in one.name):
        drilled = any(
            word in one.path or word in type(one.owner).__name__.lower() for word in HOLES
        )
        return _drills() if drilled else _stock("round bar", part)
    if one.kind is LENGTH and one.name == "size" and getattr(one.owner, "section", "") in BARS:
        return _stock(f"{one.owner.section} bar", part)  # type: ignore[attr-defined]
    example = "20 mm, 22 mm, 24 mm"
    if one.kind is not LENGTH:
        example = "..." if one.value is None else one.shown(one.value)
    raise refusal(
        file, one.path, "no_sizes", f"`{one.path}` is no thickness, drill, bar, thread or tube, so no list "
        "holds its sizes", f"state the ones to try, as in --free '{one.path}={example}'",
    )  # fmt: skip


def _stock(shape: str, part: Part) -> tuple[Size, ...]:
    metals = {metal for size in listed(shape) for metal in size.metals}
    metal = part.metal.family if part.metal.family in metals else ""
    sizes = listed(shape, metal)
    # "plate 1/2 in" is "1/2 in" in a file whose key says the rest.
    return _distinct(Size(_bare(s.name), s.width_mm, s.width_mm) for s in sizes)


def _bare(name: str) -> str:
    words = name.split(" ")
    return " ".join(word for word in words if word not in ("plate", "round", "hex", "bar"))


def _drills() -> tuple[Size, ...]:
    named = (
        Size(
            d.name if d.kind == "metric" else f"{round(d.diameter_in, 6):g} in",
            d.diameter,
            d.diameter,
        )
        for d in drills()
    )
    return _distinct(named)


def _threads(own: Thread) -> tuple[Size, ...]:
    suffix = own.designation.removeprefix(own.basic)
    alike = (t for t in threads() if t.is_inch == own.is_inch and t.series == own.series)
    found = (thread(t.basic + suffix) for t in alike)
    return _distinct(Size(t.designation, t, t.major) for t in found)


def _rod_ends(own: RodEnd) -> tuple[Size, ...]:
    """Those of its own gender and hand, metric or inch as it is."""
    tail = own.designation.split(" ", 1)[1]
    inch = own.thread.is_inch
    basics = dict.fromkeys(name.split(" ", 1)[0] for name in rod_ends())
    found = (_row(rod_end, f"{basic} {tail}") for basic in basics)
    alike = (one for one in found if one is not None and one.thread.is_inch == inch)
    return _distinct(Size(one.designation, one, one.thread.major) for one in alike)


def _bearings(own: BallBearing) -> tuple[Size, ...]:
    """Those of its own series, closed and with clearance as it is, by their bores."""
    every = (bearing(f"{number}-{own.suffix}") for number in bearings())
    alike = (one for one in every if one.series == own.series)
    return _distinct(Size(one.designation, one, one.bore) for one in alike)


def _series(own: str, find: Callable[[str], Any], across: str) -> tuple[Size, ...]:
    """The sizes of the series that a bolt or pin is of: the same words around another number."""
    found = _SIZE.search(own)
    if found is None:
        return ()
    before, number, after = own[: found.start(1)], found[1], own[found.end(1) :]
    tries = [f"{n:0{len(number)}d}" for n in range(2, 31)]
    if "/" in number:
        alike = (t for t in threads() if t.is_inch and t.series == thread(number).series)
        tries = [t.basic for t in alike]
    rows = ((f"{before}{one}{after}", _row(find, f"{before}{one}{after}")) for one in tries)
    return _distinct(
        Size(text, text, float(getattr(row[0] if isinstance(row, tuple) else row, across)))
        for text, row in rows
        if row is not None
    )


def _row(find: Callable[[str], Any], text: str) -> Any:
    """What a table holds of a designation; None where it holds none."""
    try:
        return find(text)
    except UnknownDesignation:
        return None


def _walls(part: Part, own: Stock) -> tuple[Size, ...]:
    every = [
        s for s in listed(own.shape)
        if abs(s.width_mm - own.width_mm) < SAME and abs(s.height_mm - own.height_mm) < SAME
    ]  # fmt: skip
    of_metal = [s for s in every if part.metal.family in s.metals]
    return _distinct(Size(s.name, s, s.wall_mm) for s in of_metal or every)


def _distinct(sizes: Any) -> tuple[Size, ...]:
    """In order of size; of two names of one size the first."""
    ordered: Sequence[Size] = sorted(sizes, key=lambda size: size.measure)
    kept: list[Size] = []
    for size in ordered:
        if not kept or size.measure - kept[-1].measure > SAME:
            kept.append(size)
    return tuple(kept)
