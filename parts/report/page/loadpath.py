"""Area, second moments and stress along the load path, drawn, with the critical sections marked."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from parts.core.figures import figure
from parts.report.page.html import Html, joined, table, tag
from parts.report.page.stretch import Stretch
from parts.report.page.svg import DASHES, circle, clear, keys, path, runs, text, tick_text, ticks

WIDE, LEFT, RIGHT, PANEL, GAP, TOP, BOTTOM = 720.0, 70.0, 60.0, 120.0, 26.0, 56.0, 40.0
ROWS = 13
"""Most rows of the table beside a plot."""


@dataclass(frozen=True)
class Mark:
    """The critical section of a load case, counted from 1: how far along it lies [mm], its stress [MPa]."""

    case: int
    place: float
    stress: float


@dataclass(frozen=True)
class Line:
    """A curve of a plot: its values, its label, and its dashes."""

    values: np.ndarray
    label: str
    dashes: str = ""


@dataclass(frozen=True)
class Panel:
    """One of the plots above each other: its curves, and points (place [mm], value) on them."""

    name: str
    lines: Sequence[Line]
    dots: Sequence[tuple[float, float]] = ()


def stretch_figure(one: Stretch, marked: Sequence[Mark], number: int) -> Html:
    """Plot a stretch: area, principal second moments, and the bound of the stress under each load case.

    Args:
        one: the stretch.
        marked: the critical sections that lie on it.
        number: of the plot on the page; ids hang on it.

    Returns:
        A figure with its plot, what the plot says in words, and its values as a table; the table alone for a single
        section.
    """
    title = "; ".join(dict.fromkeys(name for _, _, name in one.named()))
    cases = [case.name for case in one.scans[0].cases]
    if one.length <= 0.0:
        said = tag("p", f"A single section: {title}.{_said_of(marked)}")
        return tag(
            "figure", tag("figcaption", said, keys(cases)), _values(one, title), class_="plot"
        )
    numbers = tag("details", tag("summary", "The same as numbers"), _values(one, title))
    caption = tag("figcaption", _caption(one, marked), keys(cases))
    return tag("figure", _plot(one, marked, title, number), caption, numbers, class_="plot")


def _panels(one: Stretch, marked: Sequence[Mark]) -> list[Panel]:
    stress = [
        Line(one.of(lambda s, k=k: s.stress[k]), str(k + 1), DASHES[k % len(DASHES)])
        for k in range(len(one.scans[0].cases))
    ]
    moments = [
        Line(one.of(lambda s: s.section.I1), "I₁"),
        Line(one.of(lambda s: s.section.I2), "I₂", DASHES[1]),
    ]
    return [
        Panel("area, mm²", [Line(one.of(lambda s: s.section.area), "A")]),
        Panel("second moments, mm⁴", moments),
        Panel("stress, MPa", stress, [(mark.place, mark.stress) for mark in marked]),
    ]


def _plot(one: Stretch, marked: Sequence[Mark], title: str, number: int) -> Html:
    panels = _panels(one, marked)
    last = TOP + len(panels) * (PANEL + GAP)
    edges, high = _outline(one)
    end = last + high
    inner: list[Html] = [
        tag("title", f"Along the load path: {title}", id=f"plot-{number}-title"),
        tag("desc", _described(one.along, panels, marked), id=f"plot-{number}-desc"),
    ]
    for border, _, _ in one.named()[1:]:
        at = _across(one, border)
        inner.append(tag("path", d=f"M{at:.1f} {TOP}V{end:.1f}", class_="border"))
    for i, panel in enumerate(panels):
        inner += _panel(one, panel, TOP + i * (PANEL + GAP))
    inner.append(text(LEFT, last - 6.0, "outline", "start", "name"))
    inner += [path([(x, last + y) for x, y in edge], "edges") for edge in edges]
    for step in ticks(0.0, one.length, 8):
        at = _across(one, step)
        inner.append(tag("path", d=f"M{at:.1f} {end:.1f}v5", class_="rule"))
        inner.append(text(at, end + 17.0, f"{step:g}"))
    inner.append(text((LEFT + WIDE - RIGHT) / 2.0, end + 33.0, "distance along the path, mm"))
    inner += _criticals(one, marked, end)
    return tag(
        "svg",
        *inner,
        viewBox=f"0 0 {WIDE:g} {end + BOTTOM:g}",
        class_="chart",
        role="img",
        aria_labelledby=f"plot-{number}-title plot-{number}-desc",
    )


def _outline(one: Stretch) -> tuple[list[list[tuple[float, float]]], float]:
    """The part's edges beneath its curves, a closed line a piece, and how high they are: their wider way across."""
    y, z = (
        one.of(
            lambda s, v=v: (
                getattr(s.section, v)
                + np.array([getattr(s.section, f"{v}_min"), getattr(s.section, f"{v}_max")])
            )
        )
        for v in "yz"
    )
    low, top = max(y, z, key=lambda edges: float(np.ptp(edges)))
    wide = float(np.max(top) - np.min(low))
    scale = min((WIDE - LEFT - RIGHT) / one.length, PANEL / wide)
    x = [_across(one, at) for at in one.along]

    def edge(values: np.ndarray, piece: slice) -> list[tuple[float, float]]:
        return list(zip(x[piece], (np.max(top) - values[piece]) * scale, strict=True))

    return [
        [*edge(top, k), *edge(low, k)[::-1], edge(top, k)[0]] for k in one.pieces()
    ], wide * scale


def _criticals(one: Stretch, marked: Sequence[Mark], end: float) -> Iterator[Html]:
    """A line through all panels at each critical section, with the numbers of its load cases above."""
    together: dict[float, list[int]] = {}
    for mark in marked:
        together.setdefault(round(mark.place, 3), []).append(mark.case)
    for i, (place, numbers) in enumerate(sorted(together.items())):
        at = _across(one, place)
        high = TOP - 26.0 - 14.0 * (i % 2)
        yield tag("path", d=f"M{at:.1f} {high + 3.0:.1f}V{end:.1f}", class_="critical")
        anchor = "start" if at < LEFT + 40.0 else "end" if at > WIDE - RIGHT - 40.0 else "middle"
        yield text(at, high, f"critical {', '.join(map(str, numbers))}", anchor, "strong")


def _across(one: Stretch, along: float) -> float:
    return LEFT + along / one.length * (WIDE - LEFT - RIGHT)


def _panel(one: Stretch, panel: Panel, top: float) -> Iterator[Html]:
    values = np.concatenate([line.values for line in panel.lines] + [[v for _, v in panel.dots]])
    values = values[np.isfinite(values)]
    most = float(values.max()) * 1.06 if len(values) and values.max() > 0.0 else 1.0

    def up(v: float) -> float:
        return top + PANEL - v / most * PANEL

    for step in ticks(0.0, most, 4):
        at = up(step)
        yield tag("path", d=f"M{LEFT:g} {at:.1f}H{WIDE - RIGHT:g}", class_="grid")
        yield text(LEFT - 6.0, at + 4.0, tick_text(step), "end")
    yield tag("path", d=f"M{LEFT:g} {top:.1f}v{PANEL:g}H{WIDE - RIGHT:g}", class_="rule")
    yield text(LEFT, top - 6.0, panel.name, "start", "name")
    ends: list[float] = []
    for line in panel.lines:
        yield from _curve(one, line, up)
        last = line.values[np.isfinite(line.values)]
        if len(last):
            at = clear(up(float(last[-1])) + 4.0, ends)
            ends.append(at)
            yield text(WIDE - RIGHT + 6.0, at, line.label, "start", "strong")
    for place, value in panel.dots:
        if np.isfinite(value):
            yield circle(_across(one, place), up(value), 4.0, "dot")


def _curve(one: Stretch, line: Line, up: Callable[[float], float]) -> Iterator[Html]:
    """A curve piece by piece; across a gap runs a faint line, and a single section is a point."""
    x, before = one.along, None
    for piece in one.pieces():
        for run in runs(x[piece], line.values[piece]):
            places = [(_across(one, a), up(b)) for a, b in run]
            if before is not None:
                yield path([before, places[0]], "between")
            if places[-1][0] - places[0][0] < 0.5:
                yield circle(*places[-1], 2.5, "station")
            else:
                yield path(places, "curve", line.dashes)
            before = places[-1]


def _described(x: np.ndarray, panels: Sequence[Panel], marked: Sequence[Mark]) -> str:
    said = [f"Over {figure(x[-1])} mm."]
    for panel in panels:
        for line in panel.lines:
            real = line.values[np.isfinite(line.values)]
            if len(real):
                label = f"load case {line.label}" if panel.name.startswith("stress") else line.label
                said.append(
                    f"{panel.name}, {label}: from {figure(real.min())} to {figure(real.max())}."
                )
    return " ".join(said) + _said_of(marked)


def _said_of(marked: Sequence[Mark]) -> str:
    return "".join(
        f" Critical for load case {mark.case} at {figure(mark.place)} mm with {figure(mark.stress)} MPa."
        for mark in marked
    )


def _caption(one: Stretch, marked: Sequence[Mark]) -> Html:
    where = "; ".join(
        f"{figure(a)} to {figure(b)} mm {name}" if b > a else f"at {figure(a)} mm {name}"
        for a, b, name in one.named()
    )
    note = "The curves of stress are upper bounds of the von Mises stress, far above it where a section is in pieces"
    note += (
        "; a circle is the stress solved at the critical section, cut from the solid"
        if marked
        else ""
    )
    gaps = (
        ". Dotted lines join sections between which none was looked at"
        if len(one.pieces()) > 1
        else ""
    )
    return joined(tag("p", f"From the start: {where}."), tag("p", f"{note}{gaps}."))


def _values(one: Stretch, title: str) -> Html:
    """The plot as numbers, thinned out."""
    x = one.along
    places = np.unique(np.round(x, 3), return_index=True)[1]
    kept = places[
        np.unique(np.round(np.linspace(0, len(places) - 1, min(ROWS, len(places)))).astype(int))
    ]
    fields = [
        one.of(lambda s, n=n: getattr(s.section, n)) for n in ("area", "Iyy", "Izz", "I1", "I2")
    ]
    fields += list(one.of(lambda s: s.stress))
    head = ["mm along", "A, mm²", "Iyy, mm⁴", "Izz, mm⁴", "I₁, mm⁴", "I₂, mm⁴"]
    head += [f"stress, case {k + 1}, MPa" for k in range(len(one.scans[0].cases))]
    rows = [[f"{x[i]:.4g}", *(figure(values[i]) for values in fields)] for i in kept]
    return table(f"Values along {title}", head, rows, numbers=tuple(range(len(head))))
