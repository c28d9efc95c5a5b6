"""A chart over the travel of a wheel: curves told apart by dashes, in mm and inches, with the limits they meet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from parts.core.figures import figure
from parts.inputs.units import MM_PER_INCH
from parts.report.page.html import Html, joined, tag
from parts.report.page.svg import DASHES, clear, keys, path, runs, text, tick_text, ticks

WIDE, HIGH, LEFT, RIGHT, TOP, BOTTOM = 560.0, 330.0, 62.0, 62.0, 76.0, 48.0
FROM_NIL = 0.4
"""Share of the largest value below which the least lies so that the axis begins at nothing [-]."""


@dataclass(frozen=True)
class Curve:
    """Values over the travel, with their name."""

    name: str
    values: np.ndarray


@dataclass(frozen=True)
class Chart:
    """Curves of one unit.

    Attributes:
        name: what is drawn.
        unit: of the values.
        curves: one or more.
        limits: values that the curves must stay below, by their names.
        other: a second unit, for the scale on the right; empty for none.
        many: of the second unit that make one of the first.
        note: what to know of it.
    """

    name: str
    unit: str
    curves: Sequence[Curve]
    limits: Mapping[str, float]
    other: str = ""
    many: float = 1.0
    note: str = ""


@dataclass(frozen=True)
class _Field:
    """The field of a chart: travel [mm] to the right, values upwards."""

    travel: float
    low: float
    high: float

    def x(self, travel: float) -> float:
        return LEFT + travel / self.travel * (WIDE - LEFT - RIGHT)

    def y(self, value: float) -> float:
        share = (value - self.low) / (self.high - self.low)
        return HIGH - BOTTOM - share * (HIGH - BOTTOM - TOP)


def chart_figure(one: Chart, travel: np.ndarray, marked: Mapping[str, float], number: int) -> Html:
    """Draw a chart.

    Args:
        one: the chart.
        travel: of the wheel from full droop [mm], for every value.
        marked: positions of the wheel that are named [mm].
        number: of the chart on the page; ids hang on it.

    Returns:
        A figure with the chart, its keys, and what it says in words.
    """
    field = _field(one, travel)
    inner: list[Html] = [
        tag("title", f"{one.name} against wheel travel", id=f"curve-{number}-title"),
        tag("desc", described(one, travel), id=f"curve-{number}-desc"),
        text(LEFT, 16.0, _headline(one), "start", "name"),
        *_scales(one, field),
        *_places(field, marked),
        *_limits(one, field),
    ]
    for k, curve in enumerate(one.curves):
        for run in runs(travel, curve.values):
            places = [(field.x(a), field.y(b)) for a, b in run]
            inner.append(path(places, "curve", DASHES[k % len(DASHES)]))
    drawn = tag(
        "svg",
        *inner,
        viewBox=f"0 0 {WIDE:g} {HIGH:g}",
        class_="chart",
        role="img",
        aria_labelledby=f"curve-{number}-title curve-{number}-desc",
    )
    said = joined(
        keys([curve.name for curve in one.curves]) if len(one.curves) > 1 else None,
        tag("p", described(one, travel)),
        tag("p", one.note) if one.note else None,
    )
    return tag("figure", drawn, tag("figcaption", said), class_="plot")


def described(one: Chart, travel: np.ndarray) -> str:
    """What a chart shows, in words."""
    said = []
    for curve in one.curves:
        first, last = curve.values[0], curve.values[-1]
        most = int(np.nanargmax(curve.values))
        text_ = (
            f"{curve.name}: {figure(first)} {one.unit} at full droop, {figure(last)} at full bump"
        )
        if 0 < most < len(travel) - 1:
            text_ += f", most {figure(curve.values[most])} at {figure(travel[most])} mm"
        said.append(text_ + ".")
    for name, value in one.limits.items():
        top = max(float(np.nanmax(curve.values)) for curve in one.curves)
        share = f", of which {100.0 * top / value:.0f} % are used at most" if value > 0.0 else ""
        said.append(f"{name}: {figure(value)} {one.unit}{share}.")
    return " ".join(said)


def _headline(one: Chart) -> str:
    return f"{one.name}, {one.unit}" + (f" (left) and {one.other} (right)" if one.other else "")


def _field(one: Chart, travel: np.ndarray) -> _Field:
    values = np.concatenate([curve.values for curve in one.curves])
    values = np.concatenate([values[np.isfinite(values)], list(one.limits.values())])
    low, high = float(values.min()), float(values.max())
    if 0.0 <= low < FROM_NIL * high or high == low:
        low = min(0.0, low)
    room = 0.08 * ((high - low) or 1.0)
    return _Field(float(travel[-1]), low - room * (low != 0.0), high + room)


def _scales(one: Chart, field: _Field) -> Iterator[Html]:
    bottom, right = HIGH - BOTTOM, WIDE - RIGHT
    for value in ticks(field.low, field.high, 6):
        at = field.y(value)
        yield path([(LEFT, at), (right, at)], "grid")
        yield text(LEFT - 8.0, at + 4.0, tick_text(value), "end")
    if one.other:
        for value in ticks(field.low * one.many, field.high * one.many, 6):
            at = field.y(value / one.many)
            yield path([(right, at), (right + 5.0, at)], "rule")
            yield text(right + 8.0, at + 4.0, tick_text(value), "start")
        yield path([(right, TOP), (right, bottom)], "rule")
    yield path([(LEFT, TOP), (LEFT, bottom), (right, bottom)], "rule")
    for value in ticks(0.0, field.travel, 8):
        at = field.x(value)
        yield path([(at, bottom), (at, bottom + 5.0)], "rule")
        yield text(at, bottom + 18.0, f"{value:g}")
    yield path([(LEFT, TOP), (right, TOP)], "rule")
    for value in ticks(0.0, field.travel / MM_PER_INCH, 6):
        at = field.x(value * MM_PER_INCH)
        yield path([(at, TOP), (at, TOP - 5.0)], "rule")
        yield text(at, TOP - 8.0, f"{value:g}")
    yield text(
        (LEFT + right) / 2.0,
        bottom + 36.0,
        "travel of the wheel from full droop",
    )
    yield text(right + 8.0, TOP - 8.0, "in", "start")
    yield text(right + 8.0, bottom + 18.0, "mm", "start")


def _places(field: _Field, marked: Mapping[str, float]) -> Iterator[Html]:
    """A line at each named position of the wheel, with its name above where it is not an end."""
    for i, (name, travel) in enumerate(marked.items()):
        at = field.x(travel)
        high = TOP - 24.0 - 13.0 * (i % 2)
        yield path([(at, high + 4.0), (at, HIGH - BOTTOM)], "border")
        near_left, near_right = at < LEFT + 60.0, at > WIDE - RIGHT - 60.0
        anchor = "start" if near_left else "end" if near_right else "middle"
        yield text(at, high, name, anchor)


def _limits(one: Chart, field: _Field) -> Iterator[Html]:
    taken: list[float] = []
    for name, value in one.limits.items():
        at = field.y(value)
        yield path([(LEFT, at), (WIDE - RIGHT, at)], "critical")
        high = clear(at + 15.0, taken)
        taken.append(high)
        yield text(LEFT + 8.0, high, f"{name}, {figure(value)} {one.unit}", "start", "strong")
