"""The inspection sheet: every dimension of a drawing with its limits, what to measure it with, and room to write."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Literal

import numpy as np

from parts.core.drawing import Angle, Callout, Diameter, Drawn, Hole, Linear, Radius, Zone
from parts.core.part import Part
from parts.inputs.csv_file import PART, part_cell
from parts.making.bench.figures import Figures
from parts.making.bench.ink import Ink, Letters, line, plain
from parts.making.bench.paper import SIZES, wrapped
from parts.making.bench.words import dimension_words
from parts.standards.fits.general_tolerances import Deviation, deviation_of, general_deviations

TENTH = 0.1
"""An instrument reads to a tenth of what is allowed, or finer; common practice, no source."""
CALIPER, MICROMETER = 0.02, 0.002
"""What a caliper and a micrometer or bore gauge read to [mm]; common practice, no source."""
COARSE = 0.1
"""A zone this wide is measured with a height gauge, a narrower one with a dial indicator [mm]; common practice, no
source."""
GAUGED = 25.0
"""Largest radius of a usual set of gauges [mm]; common practice, no source."""
REACH = 300.0
"""Longest length of a usual caliper [mm]; common practice, no source."""
ROW, TEXT = 6.0, 2.5
COLUMNS = (0.0, 9.0, 76.0, 100.0, 118.0, 136.0, 166.0)
ROOMS = tuple(b - a - 1.5 for a, b in pairwise((*COLUMNS, 190.0)))
HEAD = ("no.", "dimension", "nominal", "least", "greatest", "measure with", "measured")
WIDE = 190.0


@dataclass(frozen=True)
class Item:
    """A row: number, name, nominal as the drawing writes it, limits [mm] (of angles nan), and the instrument."""

    number: int
    name: str
    words: str
    nominal: float
    low: float
    high: float
    tool: str
    count: int = 1


def items(part: Part, drawn: Drawn) -> list[Item]:
    """The rows of a sheet, in the order of its marks; dimensions in brackets are left out.

    Args:
        part: the part, for its general tolerance and its units.
        drawn: the sheet.

    Returns:
        The rows, numbered from 1.
    """
    figures = Figures("in" if part.drawing.units == "in" else "mm")
    table = general_deviations(part.drawing.tolerance)
    rows: list[Item] = []
    for number, one in sized(drawn):
        if isinstance(one, Hole):
            rows += _of_hole(one, table, figures, number)
            continue
        value = float(one.value)
        if isinstance(one, Angle) or _threaded(one):
            low = high = float("nan")
        else:
            low, high = one.limits if getattr(one, "limits", None) else _general(value, table)
        tool = _tool(one, value, high - low)
        count = int(getattr(one, "count", 1))
        words = dimension_words(one, figures)
        rows.append(Item(number, one.name, words, value, low, high, tool, count))
    rows += [
        _of_zone(zone, mark.name, figures, len(rows) + k)
        for k, (mark, zone) in enumerate(zoned(drawn), 1)
    ]
    return rows


def zoned(drawn: Drawn) -> Iterator[tuple[Callout | Hole, Zone]]:
    """The geometric tolerances of a sheet in the order of their rows, which follow those of `sized`."""
    for mark in (*drawn.marks.dimensions, *drawn.marks.holes):
        for zone in getattr(mark, "zones", ()):
            yield mark, zone


def _of_zone(zone: Zone, name: str, figures: Figures, number: int) -> Item:
    """A geometric tolerance: how far the axis is off, on the diameter of its zone."""
    words = f"{'Ø' if zone.round else ''}{figures.length(zone.value, fine=True)} to {', '.join(zone.datums)}"
    tool = "height gauge" if zone.value >= COARSE else "dial indicator"
    how = f"{tool}, pin in the bore"
    if zone.characteristic == "coaxiality":
        how = "dial indicator in the spindle"
    if zone.characteristic == "parallelism":
        how = "dial indicator, on a surface plate"
    return Item(number, f"{zone.characteristic} of {name}", words, 0.0, 0.0, zone.value, how)


def sized(drawn: Drawn) -> Iterator[tuple[int, Any]]:
    """What a sheet states in numbers, with the first number that each has on the inspection sheet: dimensions that are
    not in brackets, then holes, which have a number for each of `hole_rows`."""
    number = 0
    for mark in drawn.marks.dimensions:
        for one in mark.sizes if isinstance(mark, Callout) else (mark,):
            if not getattr(one, "reference", False):
                number += 1
                yield number, one
    for hole in drawn.marks.holes:
        number += 1
        yield number, hole
        number += len(hole_rows(hole)) - 1


HoleRow = Literal["size", "depth", "counterbore", "depth of the counterbore", "countersink"]


def hole_rows(hole: Hole) -> tuple[HoleRow, ...]:
    """What of a hole has a row of its own, in the order of the rows."""
    deep = (hole.tapped if hole.thread is not None else hole.depth) is not None
    wider = hole.counterbore is not None
    sunk = float(hole.countersink) > float(hole.diameter)
    rows: dict[HoleRow, bool] = {
        "size": True, "depth": deep, "counterbore": wider, "depth of the counterbore": wider, "countersink": sunk,
    }  # fmt: skip
    return tuple(name for name, there in rows.items() if there)


def _of_hole(
    hole: Hole, table: Sequence[Deviation], figures: Figures, first: int
) -> Iterator[Item]:
    axis, place = hole.axis, hole.place
    if hole.thread is not None:
        nan = float("nan")
        words = hole.thread.called("internal")
        yield Item(first, hole.name, words, float(hole.thread.major), nan, nan, "thread gauge")
    else:
        size = Diameter(hole.name, place, axis, hole.diameter, fit=hole.fit, limits=hole.limits)
        low, high = hole.limits or _general(hole.diameter, table)
        words, tool = dimension_words(size, figures), _bore(high - low)
        yield Item(first, hole.name, words, float(hole.diameter), low, high, tool)
    wide, down = hole.counterbore or (0.0, 0.0)
    sizes: Mapping[HoleRow, tuple[float, str]] = {
        "depth": (float((hole.tapped if hole.thread is not None else hole.depth) or 0.0), "deep"),
        "counterbore": (float(wide), "wide"),
        "depth of the counterbore": (float(down), "deep"),
        "countersink": (float(hole.countersink), "wide"),
    }
    for k, row in enumerate(hole_rows(hole)[1:], 1):
        value, said = sizes[row]
        words = f"{figures.length(value)} deep" if said == "deep" else f"Ø{figures.length(value)}"
        tool = "depth gauge" if said == "deep" else "caliper"
        yield Item(first + k, f"{row} of {hole.name}", words, value, *_general(value, table), tool)


def _general(value: float, table: Sequence[Deviation]) -> tuple[float, float]:
    """The limits of a length without a tolerance of its own; nan where no table is stated."""
    off = deviation_of(value, table)
    return value - off, value + off


def _threaded(one: Any) -> bool:
    """True of a thread, whose words stand for its diameter."""
    return isinstance(one, Diameter) and bool(one.text)


def _tool(one: Any, value: float, room: float) -> str:
    if isinstance(one, Angle):
        return "bevel protractor"
    if _threaded(one):
        return "thread gauge"
    if isinstance(one, Radius):
        return "radius gauge" if value <= GAUGED else "template at full size"
    if isinstance(one, Diameter) and one.fit[:1].isupper():
        return _bore(room)
    if not room < CALIPER / TENTH - 1e-9:
        return "caliper" if value <= REACH else "height gauge"
    if isinstance(one, Linear) and one.fit[:1].isupper():
        return "gauge blocks"
    return "micrometer" if room >= MICROMETER / TENTH - 1e-9 else "comparator, gauge blocks"


def _bore(room: float) -> str:
    """What a bore is measured with; the limits of nan are those of no table."""
    if not room < CALIPER / TENTH - 1e-9:
        return "caliper"
    return "bore gauge" if room >= MICROMETER / TENTH - 1e-9 else "plug gauge GO/NO GO"


def inspection_csv(part: Part, rows: Sequence[Item]) -> bytes:
    """The sheet as a table to be filled in; lengths in mm, the column `measured_mm` empty."""
    target = io.StringIO()
    table = csv.writer(target, lineterminator="\n")
    head = (
        f"{PART} no dimension drawn times nominal_mm least_mm greatest_mm measure_with measured_mm"
    )
    table.writerow(head.split())
    for one in rows:
        angle = one.tool == "bevel protractor"
        nominal = "" if angle else f"{one.nominal:.3f}"
        limits = ("" if np.isnan(v) else f"{v:.3f}" for v in (one.low, one.high))
        table.writerow(
            [part_cell(part.name, part.revision), one.number, one.name, one.words, one.count, nominal, *limits,
             one.tool, ""]
        )  # fmt: skip
    return target.getvalue().encode("utf-8")


def inspection_pages(
    part: Part, drawn: Drawn, rows: Sequence[Item]
) -> list[tuple[tuple[float, float], list[Ink]]]:
    """The sheet on standing pages: the size of each [mm] and its ink."""
    wide, high = sorted(SIZES["letter" if part.drawing.sheet in ("letter", "tabloid") else "A4"])
    figures = Figures("in" if part.drawing.units == "in" else "mm")
    piece = f", {drawn.piece}" if len(part.drawn()) > 1 else ""
    fit = int((high - 45.0) / ROW) - 1
    pages = []
    for start in range(0, len(rows), fit):
        ink: list[Ink] = [
            Letters(
                plain(f"{part.name}{piece}: inspection"), np.array([10.0, high - 17.0]), 4.0, bold=True
            ),
            Letters(
                f"revision {part.revision}, {figures.unit}; {plain(part.drawing.tolerance)} where the drawing "
                "states no limits;  part no. ........  date ............  name ............",
                np.array([10.0, high - 24.0]), 2.2,
            ),
        ]  # fmt: skip
        y = high - 28.0
        for words in (HEAD, *(_cells(one, figures) for one in rows[start : start + fit])):
            y -= ROW
            for left, word, room in zip(COLUMNS, words, ROOMS, strict=True):
                # A name too long for its column stands in two lines within the row.
                said = list(wrapped(word, room, TEXT))[:2]
                for k, text in enumerate(said):
                    at = np.array([10.0 + left, y + (1.8 if len(said) == 1 else 3.4 - 2.9 * k)])
                    ink.append(Letters(text, at, TEXT, bold=words is HEAD))
            ink.append(line("table", (10.0, y), (10.0 + WIDE, y)))
        pages.append(((wide, high), ink))
    return pages


def _cells(one: Item, figures: Figures) -> tuple[str, ...]:
    limits = ("" if np.isnan(v) else figures.length(v, fine=True) for v in (one.low, one.high))
    angle = one.tool == "bevel protractor" or one.tool == "thread gauge"
    nominal = one.words if angle else figures.length(one.nominal, fine=True)
    name = f"{one.count}× {one.name}" if one.count > 1 else one.name
    return (str(one.number), name, nominal, *limits, one.tool, "")
