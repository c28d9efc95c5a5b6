"""An answer of the tables: figures with their units and their source, as text for the bench and as JSON.

Text gives every figure in metric and inch units; JSON gives the metric one, its unit in the key's name.
"""

from __future__ import annotations

import json
import math
import re
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from parts.standards.designation import MM_PER_INCH, UnknownDesignation

WIDTH = 100
INDENT = "  "
GAP = "  "
LEAST_NOTE = 24
"""Columns that a remark needs to stand beside its figure; with fewer it stands below."""

Plain: TypeAlias = float | int | str | bool | None
Value: TypeAlias = Plain | tuple[float | None, float | None]


class Undecided(UnknownDesignation):
    """A designation that a kind knows, but that lacks a word to be one thing; `nearest` holds them all."""


@dataclass(frozen=True)
class Unit:
    """How a unit is written: in a key of JSON, and beside figures in both systems.

    `places` and `inch_places` are decimals; `per` is the inch unit in metric ones, 0 where there is none.
    """

    key: str
    metric: str
    places: int
    inch: str = ""
    inch_places: int = 0
    per: float = 0.0


POUND_FORCE = 4.4482216152605  # a look-up does not wait for `parts.inputs.units`, which has it too
UNITS = {
    "": Unit("", "", 3),
    "mm": Unit("mm", "mm", 3, "in", 4, MM_PER_INCH),
    "mm2": Unit("mm2", "mm²", 2, "in²", 4, MM_PER_INCH**2),
    "N": Unit("N", "N", 0, "lbf", 0, POUND_FORCE),
    "N*m": Unit("Nm", "N·m", 1, "lbf·ft", 1, 1.3558179483314),
    "MPa": Unit("MPa", "MPa", 0, "ksi", 1, 1000.0 * POUND_FORCE / MM_PER_INCH**2),
    "kg/m3": Unit("kg_per_m3", "kg/m³", 0, "lb/in³", 4, 0.45359237 / 0.0254**3),
    "deg": Unit("deg", "deg", 1),
    "%": Unit("percent", "%", 1),
    "V": Unit("V", "V", 2),
}


@dataclass(frozen=True)
class Entry:
    """One figure: a number, a pair of least and largest, a word, or True and False."""

    name: str
    value: Value
    unit: str = ""
    note: str = ""


@dataclass(frozen=True)
class Group:
    """Figures that belong together and come from one source."""

    name: str
    entries: tuple[Entry, ...]
    source: str = ""


@dataclass(frozen=True)
class Grid:
    """Rows of like figures: each column a name and a unit."""

    name: str
    columns: tuple[tuple[str, str], ...]
    rows: tuple[tuple[Plain, ...], ...]
    source: str = ""


@dataclass(frozen=True)
class Answer:
    """What the tables hold of one designation; `cautions` are what to know besides."""

    kind: str
    designation: str
    groups: tuple[Group | Grid, ...]
    cautions: tuple[str, ...] = ()

    @property
    def sources(self) -> tuple[str, ...]:
        """Every source once, in the order of the groups."""
        return tuple(dict.fromkeys(group.source for group in self.groups if group.source))


def as_text(answer: Answer) -> str:
    """Lay an answer out for the bench: at most 100 columns, metric and inch."""
    lines = textwrap.wrap(f"{answer.kind} {answer.designation}", WIDTH)
    for group in answer.groups:
        lines += ["", *textwrap.wrap(group.name, WIDTH)]
        lines += _grid(group) if isinstance(group, Grid) else _entries(group)
        if group.source:
            lines += _wrapped(f"source: {group.source}")
    if answer.cautions:
        lines += ["", "cautions"]
        for caution in answer.cautions:
            lines += textwrap.wrap(f"- {caution}", WIDTH, subsequent_indent=INDENT)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def as_json(answer: Answer) -> str:
    """Lay an answer out as one JSON document, the same on every run."""
    document: dict[str, object] = {"kind": answer.kind, "designation": answer.designation}
    for group in answer.groups:
        document[_slug(group.name)] = _grid_json(group) if isinstance(group, Grid) else _json(group)
    document["cautions"] = list(answer.cautions)
    document["sources"] = list(answer.sources)
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _slug(name: str) -> str:
    return re.sub(r"\W+", "_", name.casefold()).strip("_")


def _key(name: str, unit: str) -> str:
    return "_".join(filter(None, (_slug(name), UNITS[unit].key)))


def _plain(value: Plain) -> Plain:
    if isinstance(value, float):
        return round(value, 6) + 0.0 if math.isfinite(value) else None
    return value


def _json(group: Group) -> dict[str, Plain]:
    found: dict[str, Plain] = {}
    for entry in group.entries:
        if isinstance(entry.value, tuple):
            for end, value in zip(("min", "max"), entry.value, strict=True):
                found[_key(f"{entry.name} {end}", entry.unit)] = _plain(value)
        else:
            found[_key(entry.name, entry.unit)] = _plain(entry.value)
        if entry.note:
            found[f"{_slug(entry.name)}_note"] = entry.note
    return found | ({"source": group.source} if group.source else {})


def _grid_json(grid: Grid) -> list[dict[str, Plain]]:
    keys = [_key(name, unit) for name, unit in grid.columns]
    return [dict(zip(keys, map(_plain, row), strict=True)) for row in grid.rows]


def _wrapped(text: str) -> list[str]:
    deeper = INDENT + GAP
    return textwrap.wrap(text, WIDTH, initial_indent=INDENT, subsequent_indent=deeper)


def _entries(group: Group) -> Iterator[str]:
    wide = max((len(entry.name) for entry in group.entries), default=0)
    shown = [(entry, *_figures(entry)) for entry in group.entries]
    numbers = [(metric, inch) for entry, metric, inch in shown if not _is_words(entry)]
    metric_wide = max((len(metric) for metric, _ in numbers), default=0)
    inch_wide = max((len(inch) for _, inch in numbers), default=0)
    for entry, metric, inch in shown:
        head = f"{INDENT}{entry.name:<{wide}}{GAP}"
        if _is_words(entry):
            note = f" ({entry.note})" if entry.note else ""
            yield from textwrap.wrap(
                f"{head}{metric}{note}", WIDTH, subsequent_indent=" " * len(head)
            )
            continue
        figures = f"{head}{metric:>{metric_wide}}{GAP}{inch:>{inch_wide}}{GAP}"
        room = WIDTH - len(figures)
        if len(entry.note) <= room or room >= LEAST_NOTE:
            beside = textwrap.wrap(entry.note, room) or [""]
            yield figures + beside[0]
            yield from (" " * len(figures) + line for line in beside[1:])
        else:
            yield figures
            yield from textwrap.wrap(
                entry.note, WIDTH, initial_indent=" " * len(head), subsequent_indent=" " * len(head)
            )


def _is_words(entry: Entry) -> bool:
    """True where no figure stands: for a word, for yes and no, and for what is not known."""
    unknown = isinstance(entry.value, float) and not math.isfinite(entry.value)
    return unknown or entry.value is None or isinstance(entry.value, str | bool)


def _figures(entry: Entry) -> tuple[str, str]:
    """A figure in metric and in inch units; words stand in the first alone."""
    value, unit = entry.value, UNITS[entry.unit]
    if not isinstance(value, tuple):
        if _is_words(entry) or isinstance(value, str | None):
            return _word(value), ""
        places = 0 if isinstance(value, int) else unit.places
        return _beside(f"{value:.{places}f}", unit.metric), _inch(value, unit)
    metric = _between([_number(end, unit.places) for end in value])
    inch = _between([_number(_over(end, unit.per), unit.inch_places) for end in value])
    return _beside(metric, unit.metric), _beside(inch, unit.inch) if unit.per else ""


def _over(value: float | None, per: float) -> float | None:
    return value / per if value is not None and per else None


def _number(value: float | None, places: int) -> str:
    return "" if value is None else f"{value:.{places}f}"


def _between(ends: Sequence[str]) -> str:
    low, high = ends
    if low and high:
        return f"{low} to {high}"
    return f"{low} or more" if low else f"{high} or less"


def _inch(value: float, unit: Unit) -> str:
    return _beside(f"{value / unit.per:.{unit.inch_places}f}", unit.inch) if unit.per else ""


def _beside(figure: str, unit: str) -> str:
    return f"{figure} {unit}".strip()


def _word(value: Plain) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value) if isinstance(value, str | int) else "none"


def _grid(grid: Grid) -> Iterator[str]:
    """Columns as wide as they need; the last, where it holds words, wraps."""
    columns = [
        [*_heading(name, unit), *_column([row[place] for row in grid.rows], unit)]
        for place, (name, unit) in enumerate(grid.columns)
    ]
    wide = [max(map(len, column)) for column in columns]
    right = [bool(unit) for _, unit in grid.columns]
    room = WIDTH - len(INDENT) - sum(wide[:-1])
    # Many wide columns stand closer together rather than wrap.
    gap = GAP if wide[-1] <= room - len(GAP) * (len(wide) - 1) else " "
    last = room - len(gap) * (len(wide) - 1)
    wide[-1] = min(wide[-1], last)
    for cells in zip(*columns, strict=True):
        parts = [
            f"{cell:>{w}}" if to_right else f"{cell:<{w}}"
            for cell, w, to_right in zip(cells[:-1], wide[:-1], right[:-1], strict=True)
        ]
        tail = textwrap.wrap(cells[-1], max(last, 12)) or [""]
        if right[-1]:
            tail = [f"{line:>{wide[-1]}}" for line in tail]
        head = INDENT + "".join(part + gap for part in parts)
        yield head + tail[0]
        yield from (" " * len(head) + line for line in tail[1:])


def _heading(name: str, unit: str) -> tuple[str, str]:
    of = UNITS[unit]
    return name, f"{of.metric} ({of.inch})" if of.inch else of.metric


def _column(values: Sequence[Plain], unit: str) -> list[str]:
    """Cells of one column, all with the decimals that the most exact of them needs."""
    of = UNITS[unit]
    numbers = [v for v in values if isinstance(v, float) and math.isfinite(v)]
    places = max((_needed(v, of.places) for v in numbers), default=0)
    inch_places = max((_needed(v / of.per, of.inch_places) for v in numbers if of.per), default=0)

    def cell(value: Plain) -> str:
        if isinstance(value, float):
            if not math.isfinite(value):
                return "none"
            beside = f" ({value / of.per:.{inch_places}f})" if of.per else ""
            return f"{value:.{places}f}{beside}"
        return _word(value)

    return [cell(value) for value in values]


def _needed(value: float, most: int) -> int:
    return len(f"{value:.{most}f}".rstrip("0").partition(".")[2]) if most else 0
