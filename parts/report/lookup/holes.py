"""What the tables say of threads, fits, toleranced sizes and drills."""

from __future__ import annotations

import re
from collections.abc import Iterator

from parts.report.lookup.answer import Answer, Entry, Grid, Group, Plain, Undecided
from parts.report.lookup.hardware import of_size
from parts.standards.designation import UnknownDesignation, inch_to_mm
from parts.standards.fits.fits import fit, preferred_fits
from parts.standards.fits.iso286 import Limits, limits
from parts.standards.threads.drills import (
    INCH_KINDS,
    KINDS,
    METRIC_KINDS,
    drill,
    names_of,
    nearest,
    nearest_over,
    nearest_under,
)
from parts.standards.threads.holes import DEFAULT_THREAD_PERCENT
from parts.standards.threads.limits import INCH_CLASSES, METRIC_CLASSES, ThreadLimits
from parts.standards.threads.threads import Thread, thread

PERCENTAGES = (DEFAULT_THREAD_PERCENT, 70.0, 65.0, 60.0)
"""Percentages of thread to give tap drills for: the usual one, and less for tough metal."""
STOCKS = (("inch", INCH_KINDS), ("metric", METRIC_KINDS))
DRILLS_SOURCE = (
    "stock drill sizes by ASME B94.11M and ISO 235 (from memory); "
    "percentage of 1.299038 P (ASME B1.1)"
)

_SIZE = re.compile(r"(?P<number>[\d./\s-]*\d\.?)\s*(?P<unit>mm|in(?:ch)?\.?|\"|''|″|”)", re.I)

_CLASS_FIRST = re.compile(
    r"(?!M\d+\s+\d+\.\d+$)(?P<class>[a-z]{1,2}\d{1,2})[\s,]+(?:(?:at|on|of|for|in)\s+)?(?P<size>\d*\.?\d+(?:\s*mm)?)",
    re.I,
)
_HOLE_FIT = re.compile(r"\b(?P<fit>close|fine|normal|medium|loose|coarse)\b", re.I)
_HOLE_FITS = {"fine": "close", "medium": "normal", "coarse": "loose"}


def of_thread(text: str) -> Answer:
    """A thread: basic sizes, tap drills, clearance holes, reliefs, limits by class."""
    of = thread(text)
    groups: tuple[Group | Grid, ...]
    groups = (_basic(of), _tap_drills(of), *_clearance(of), *_reliefs(of), _limits(of))
    return Answer("thread", of.designation, groups)


def _basic(of: Thread) -> Group:
    entries = [
        Entry("standard", of.standard),
        Entry("series", of.series),
        Entry("hand", of.hand),
        Entry("major diameter", of.major, "mm"),
        Entry("pitch diameter", of.pitch_diameter, "mm"),
        Entry("minor diameter of the bolt", of.minor_external, "mm", "root"),
        Entry("minor diameter of the nut", of.minor_internal, "mm"),
        Entry("pitch", of.pitch, "mm", f"{of.tpi} per inch" if of.tpi else ""),
        Entry("tensile stress area", of.stress_area, "mm2"),
    ]
    return Group("basic sizes", tuple(entries), of.source)


def _tap_drills(of: Thread) -> Grid:
    rows: list[tuple[Plain, ...]] = []
    for name, kinds in STOCKS if of.is_inch else reversed(STOCKS):
        for percent in PERCENTAGES:
            tap = of.tap_drill(percent, kinds)
            instead = "" if tap.instead is None else f"take {tap.instead.name}"
            row = (percent, tap.hole, name, tap.drill.name, tap.drill.diameter, tap.percent)
            rows.append((*row, tap.in_limits, instead))
    internal = of.internal().tolerance_class
    columns = (
        ("asked", "%"), ("hole", "mm"), ("stock", ""), ("drill", ""), ("its size", "mm"),
        ("its thread", "%"), ("in limits", ""), ("instead", ""),
    )  # fmt: skip
    source = f"{DRILLS_SOURCE}; limits of the minor diameter in class {internal}"
    return Grid("tap drills", columns, tuple(rows), source)


def of_clearance(text: str) -> Answer:
    """The clearance holes of a screw by its thread or its size alone, in one fit or in all of them."""
    found = _HOLE_FIT.search(text)
    size = (_HOLE_FIT.sub(" ", text) if found else text).strip()
    of = of_size(thread, size)
    wanted = _HOLE_FITS.get(found["fit"].casefold(), found["fit"].casefold()) if found else ""
    grids = [
        Grid(one.name, one.columns, tuple(r for r in one.rows if wanted in ("", r[0])), one.source)
        for one in _clearance(of)
    ]
    if not any(one.rows for one in grids):
        raise UnknownDesignation("clearance hole", text, "the standard leaves this size out")
    return Answer("clearance hole", f"{of.size}{f' {wanted}' if wanted else ''}", tuple(grids))


def _clearance(of: Thread) -> Iterator[Grid]:
    """Nothing where the standard of clearance holes leaves the size out."""
    rows: list[tuple[Plain, ...]] = []
    source = ""
    for name in ("close", "normal", "loose"):
        try:
            hole = of.clearance_hole(name)
        except UnknownDesignation:
            continue
        rows.append((name, hole.diameter, hole.drill))
        source = hole.source
    if rows:
        yield Grid(
            "clearance holes", (("fit", ""), ("diameter", "mm"), ("drill", "")), tuple(rows), source
        )


def _reliefs(of: Thread) -> Iterator[Grid]:
    """Nothing where the table of undercuts does not bound the pitch."""
    rows: list[tuple[Plain, ...]] = []
    source = ""
    for gender in ("external", "internal") if of.gender is None else (of.gender,):
        for form in ("regular", "short"):
            try:
                cut = of.relief(gender, form)
            except UnknownDesignation:
                continue
            rows.append((gender, form, cut.diameter, cut.clear_width, cut.total_width, cut.radius))
            source = cut.source
    columns = (
        ("thread", ""), ("form", ""), ("diameter", "mm"), ("least clear width", "mm"),
        ("greatest width", "mm"), ("radius", "mm"),
    )  # fmt: skip
    if rows:
        yield Grid("reliefs", columns, tuple(rows), source)


def _limits(of: Thread) -> Grid:
    """Limits in the thread's own class, or in every class that the standard has for its pitch."""
    classes = INCH_CLASSES if of.is_inch else METRIC_CLASSES
    rows: list[tuple[Plain, ...]] = []
    for name, gender in classes.items():
        if of.tolerance_class not in (None, name):
            continue
        try:
            found = of.external(name) if gender == "external" else of.internal(name)
        except UnknownDesignation:
            continue
        rows += ((name, gender, *row) for row in _ends(found))
    source = "ASME B1.1" if of.is_inch else "ISO 965-1"
    columns = (("class", ""), ("thread", ""), ("diameter", ""), ("least", "mm"), ("largest", "mm"))
    return Grid("limits of size", columns, tuple(rows), f"{source}; a limit that is none is free")


def _ends(of: ThreadLimits) -> Iterator[tuple[str, float | None, float | None]]:
    yield "major", of.major_min, of.major_max
    yield "pitch", of.pitch_min, of.pitch_max
    yield "minor", of.minor_min, of.minor_max


def _size_entries(of: Limits) -> tuple[Entry, ...]:
    return (
        Entry("class", of.tolerance_class),
        Entry("size", (of.min, of.max), "mm"),
        Entry("deviation", (of.lower, of.upper), "mm"),
        Entry("aim at", of.mean, "mm", "middle of the tolerance"),
        Entry("tolerance", of.tolerance, "mm"),
    )


def of_fit(text: str) -> Answer:
    """A fit: limits of hole and shaft, clearance, how to finish the hole."""
    of = fit(text)
    known = {each.designation: each.use for each in preferred_fits()}
    pair = of.designation.split()[-1]
    entries = [
        Entry("kind of fit", of.kind),
        Entry("clearance", (of.min_clearance, of.max_clearance), "mm", "negative is interference"),
        Entry("hole", of.finish),
    ]
    if pair in known:
        entries.append(Entry("usual for", known[pair]))
    return Answer(
        "fit",
        of.designation,
        (
            Group("fit", tuple(entries), of.source),
            Group("hole", _size_entries(of.hole), of.hole.source),
            Group("shaft", _size_entries(of.shaft), of.shaft.source),
        ),
    )


def of_tolerance(text: str) -> Answer:
    """One toleranced size: its limits. The class may stand first, as in "H7 at 16 mm"."""
    found = _CLASS_FIRST.fullmatch(text.strip())
    of = limits(f"{found['size']} {found['class']}" if found else text)
    name = "hole" if of.is_hole else "shaft"
    return Answer("tolerance", of.designation, (Group(name, _size_entries(of), of.source),))


def of_drill(text: str) -> Answer:
    """The stock drills beside a size or a named drill, inch and metric, under and over."""
    size, name = _drill_size(text)
    nearest(size)  # refuses a size that lies beyond every drill
    names = names_of(size)
    rows: list[tuple[Plain, ...]] = []
    sources: dict[str, None] = {}
    for stock, kinds in (("any", KINDS), *STOCKS):
        for side, find in (("under", nearest_under), ("nearest", nearest), ("over", nearest_over)):
            try:
                found = find(size, kinds)
            except UnknownDesignation:
                continue
            said = ", ".join(names_of(found.diameter, kinds))
            rows.append((stock, side, said, found.diameter, found.diameter - size))
            sources[found.source] = None
    head = (
        Entry("size", size, "mm"),
        Entry("stock drill", ", ".join(names) or "none of just this size"),
    )
    columns = (
        ("stock", ""), ("side", ""), ("drill", ""), ("diameter", "mm"), ("over the size", "mm")
    )  # fmt: skip
    source = "; ".join(sources)
    groups = (Group("drill", head), Grid("stock drills beside it", columns, tuple(rows), source))
    return Answer("drill", name, groups)


def _drill_size(text: str) -> tuple[float, str]:
    """Diameter [mm] and name of a drill, or of a size that no drill has.

    Raises:
        Undecided: a bare number may be a number drill or millimetres.
        UnknownDesignation: it is neither drill nor size; kind "drill".
    """
    try:
        found = drill(text)
    except UnknownDesignation as unknown:
        if text.isdecimal() and unknown.nearest:
            raise Undecided("drill", text, unknown.reason, unknown.nearest) from None
        size = _SIZE.fullmatch(text)
        if not size or ("/" in size["number"] and size["unit"].lower() == "mm"):
            raise unknown from None
        unit = "mm" if size["unit"].lower() == "mm" else "in"
        try:
            number = size["number"].strip()
            mm = float(number) if unit == "mm" else inch_to_mm(number)
        except ValueError:
            raise unknown from None
        return mm, f"{number} {unit}"
    return found.diameter, found.name
