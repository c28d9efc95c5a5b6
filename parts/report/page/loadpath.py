"""Area, second moments and stress along the load path, drawn, with the critical sections marked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.report.page.html import Html, joined, table, tag
from parts.report.text import figure

if TYPE_CHECKING:
    from parts.loadpath import Critical, Scan

WIDE, LEFT, RIGHT, PANEL, GAP, TOP, BOTTOM = 720.0, 70.0, 60.0, 120.0, 26.0, 34.0, 40.0
DASHES = ("", "7 3", "2 3", "9 3 2 3", "12 4", "5 2 1 2 1 2", "1 4", "9 3 2 3 2 3")
"""Dashes that tell one load case from another, whatever the colour."""
JOINED = 1e-6
"""Gap below which one span runs on in the next [mm]."""
ROWS = 13
"""Most rows of the table beside a plot."""


@dataclass(frozen=True)
class Stretch:
    """Spans that run on in each other: `along` [mm] from the start of the first, (n,)."""

    scans: tuple[Scan, ...]
    offsets: tuple[float, ...]

    @property
    def along(self) -> np.ndarray:
        return np.asarray(self.of(lambda one: one.distance) + self._shift)

    @property
    def _shift(self) -> np.ndarray:
        return np.repeat(self.offsets, [len(one.t) for one in self.scans])

    def of(self, take: Any) -> np.ndarray:
        """What `take` gives of each scan, one after another, along the last axis."""
        return np.concatenate([np.asarray(take(one), float) for one in self.scans], axis=-1)

    def named(self) -> list[tuple[float, float, str]]:
        """Where each named part of the path begins and ends [mm]; neighbours of one name as one."""
        found: list[tuple[float, float, str]] = []
        for one, offset in zip(self.scans, self.offsets, strict=True):
            end = offset + float(one.distance[-1])
            if found and found[-1][2] == one.span.name:
                found[-1] = (found[-1][0], end, one.span.name)
            else:
                found.append((offset, end, one.span.name))
        return found

    def place_of(self, critical: Critical) -> float | None:
        """How far along a critical section lies [mm]; None where it lies elsewhere."""
        for one, offset in zip(self.scans, self.offsets, strict=True):
            if one.span is critical.span:
                return offset + critical.t * float(one.distance[-1])
        return None


def stretches(scans: Sequence[Scan]) -> list[Stretch]:
    """Join the scans of spans that run on in each other, in the order of the part."""
    found: list[list[Scan]] = []
    for one in scans:
        if found and _runs_on(found[-1][-1], one):
            found[-1].append(one)
        else:
            found.append([one])
    result = []
    for group in found:
        lengths = [float(one.distance[-1]) for one in group]
        offsets = np.concatenate([[0.0], np.cumsum(lengths)[:-1]])
        result.append(Stretch(tuple(group), tuple(float(v) for v in offsets)))
    return result


def _runs_on(one: Scan, following: Scan) -> bool:
    gap = np.subtract(following.span.start, one.span.end)
    axes = np.subtract(following.span.axes, one.span.axes)
    return bool(
        np.linalg.norm(gap) <= JOINED
        and np.abs(axes).max() <= JOINED
        and one.span.piece == following.span.piece
    )


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


def stretch_figure(one: Stretch, marked: Sequence[Mark], number: int) -> Html:
    """Plot a stretch: area, principal second moments, and the bound of the stress under each load case.

    Args:
        one: the stretch.
        marked: the critical sections that lie on it.
        number: of the plot on the page; ids hang on it.

    Returns:
        A figure with its plot, what the plot says in words, and its values as a table.
    """
    cases = one.scans[0].cases
    x = one.along
    panels = [
        ("area, mm²", [Line(one.of(lambda s: s.section.area), "A")], []),
        (
            "second moments, mm⁴",
            [
                Line(one.of(lambda s: s.section.I1), "I₁"),
                Line(one.of(lambda s: s.section.I2), "I₂", DASHES[1]),
            ],
            [],
        ),
        (
            "stress, MPa",
            [
                Line(one.of(lambda s, k=k: s.stress[k]), str(k + 1), DASHES[k % len(DASHES)])
                for k in range(len(cases))
            ],
            [(mark.place, mark.stress) for mark in marked],
        ),
    ]
    title = "; ".join(dict.fromkeys(name for _, _, name in one.named()))
    svg = _plot(x, panels, marked, [a for a, _, _ in one.named()][1:], title, number)
    return tag(
        "figure", svg, tag("figcaption", _caption(one, marked, [case.name for case in cases])),
        _values(one, title), class_="plot",
    )  # fmt: skip


def _plot(
    x: np.ndarray, panels: Sequence[Any], marked: Sequence[Mark], borders: Sequence[float], title: str,
    number: int,
) -> Html:  # fmt: skip
    high = TOP + len(panels) * PANEL + (len(panels) - 1) * GAP + BOTTOM
    longest = float(x[-1]) or 1.0
    room = WIDE - LEFT - RIGHT

    def across(v: Any) -> Any:
        return LEFT + np.asarray(v) / longest * room

    inner: list[Html] = [
        tag("title", f"Along the load path: {title}", id=f"plot-{number}-title"),
        tag("desc", _described(x, panels, marked), id=f"plot-{number}-desc"),
    ]
    end = TOP + len(panels) * (PANEL + GAP) - GAP
    for border in borders:
        at = float(across(border))
        inner.append(tag("path", d=f"M{at:.1f} {TOP}V{end:.1f}", class_="border"))
    for i, (name, lines, dots) in enumerate(panels):
        inner += _panel(x, name, lines, dots, TOP + i * (PANEL + GAP), across)
    for step in ticks(0.0, longest, 8):
        at = float(across(step))
        inner.append(tag("path", d=f"M{at:.1f} {end:.1f}v5", class_="rule"))
        inner.append(_text(at, end + 17.0, f"{step:g}"))
    inner.append(_text(LEFT + room / 2.0, end + 33.0, "distance along the path, mm"))
    together: dict[float, list[int]] = {}
    for mark in marked:
        together.setdefault(round(mark.place, 3), []).append(mark.case)
    for i, (place, numbers) in enumerate(sorted(together.items())):
        at = float(across(place))
        lift = TOP - 8.0 - 12.0 * (i % 2)
        inner.append(tag("path", d=f"M{at:.1f} {lift + 3.0:.1f}V{end:.1f}", class_="critical"))
        anchor = "start" if at < LEFT + 40.0 else "end" if at > WIDE - RIGHT - 40.0 else "middle"
        inner.append(_text(at, lift, f"critical {', '.join(map(str, numbers))}", anchor, "strong"))
    return tag(
        "svg", *inner, viewBox=f"0 0 {WIDE:g} {high:g}", class_="chart", role="img",
        aria_labelledby=f"plot-{number}-title plot-{number}-desc",
    )  # fmt: skip


def _panel(
    x: np.ndarray, name: str, lines: Sequence[Line], dots: Sequence[Any], top: float, across: Any
) -> Iterator[Html]:
    values = np.concatenate([line.values for line in lines] + [[v for _, v in dots]])
    values = values[np.isfinite(values)]
    most = float(values.max()) * 1.06 if len(values) and values.max() > 0.0 else 1.0

    def up(v: Any) -> Any:
        return top + PANEL - np.asarray(v) / most * PANEL

    for step in ticks(0.0, most, 4):
        at = float(up(step))
        yield tag("path", d=f"M{LEFT:g} {at:.1f}H{WIDE - RIGHT:g}", class_="grid")
        yield _text(LEFT - 6.0, at + 4.0, f"{step:,.6g}".replace(",", " "), "end")
    yield tag("path", d=f"M{LEFT:g} {top:.1f}v{PANEL:g}H{WIDE - RIGHT:g}", class_="rule")
    yield _text(LEFT, top - 6.0, name, "start", "name")
    ends: list[float] = []
    for line in lines:
        for run in _runs(x, line.values):
            d = "M" + "L".join(f"{float(across(a)):.1f} {float(up(b)):.1f}" for a, b in run)
            yield tag("path", d=d, class_="curve", stroke_dasharray=line.dashes or None)
        last = line.values[np.isfinite(line.values)]
        if len(last):
            at = _clear(float(up(last[-1])) + 4.0, ends)
            ends.append(at)
            yield _text(WIDE - RIGHT + 6.0, at, line.label, "start", "strong")
    for place, value in dots:
        if np.isfinite(value):
            yield tag(
                "circle",
                cx=f"{float(across(place)):.1f}",
                cy=f"{float(up(value)):.1f}",
                r=4,
                class_="dot",
            )


def _runs(x: np.ndarray, y: np.ndarray) -> Iterator[list[tuple[float, float]]]:
    """Stretches of a curve between values that are none."""
    run: list[tuple[float, float]] = []
    for a, b in zip(x, y, strict=True):
        if np.isfinite(b):
            run.append((float(a), float(b)))
        elif run:
            yield run
            run = []
    if run:
        yield run


def _clear(at: float, taken: Sequence[float]) -> float:
    """The nearest height at which a label covers none of those there."""
    for off in sorted(np.arange(-8, 9) * 6.0, key=lambda v: (abs(v), v)):
        if all(abs(at + off - other) >= 12.0 for other in taken):
            return float(at + off)
    return at


def ticks(low: float, high: float, most: int) -> list[float]:
    """Round values from low to high, no more than `most` and one."""
    rough = (high - low) / most
    power = 10.0 ** np.floor(np.log10(rough))
    step = next(power * n for n in (1.0, 2.0, 5.0, 10.0) if power * n >= rough * (1.0 - 1e-9))
    first = int(np.ceil(low / step - 1e-9))
    return [float(f"{step * i:.12g}") for i in range(first, int(high / step + 1e-9) + 1)]


def _described(x: np.ndarray, panels: Sequence[Any], marked: Sequence[Mark]) -> str:
    said = [f"Over {figure(x[-1])} mm."]
    for name, lines, _ in panels:
        for line in lines:
            real = line.values[np.isfinite(line.values)]
            if len(real):
                label = f"load case {line.label}" if name.startswith("stress") else line.label
                said.append(f"{name}, {label}: from {figure(real.min())} to {figure(real.max())}.")
    said += [f"Critical for load case {mark.case} at {figure(mark.place)} mm." for mark in marked]
    return " ".join(said)


def _caption(one: Stretch, marked: Sequence[Mark], cases: Sequence[str]) -> Html:
    where = "; ".join(f"{figure(a)} to {figure(b)} mm {name}" for a, b, name in one.named())
    samples = [
        tag(
            "li",
            tag(
                "svg",
                tag("path", d="M0 5H44", class_="curve", stroke_dasharray=DASHES[k % len(DASHES)] or None),
                viewBox="0 0 44 10", width=44, height=10, aria_hidden="true",
            ),
            f" {k + 1} {name}",
        )
        for k, name in enumerate(cases)
    ]  # fmt: skip
    note = "The curves of stress are upper bounds of the von Mises stress"
    note += (
        "; a circle is the stress solved at the critical section, cut from the solid."
        if marked
        else "."
    )
    return joined(
        tag("p", f"From the start: {where}."), tag("p", note), tag("ol", *samples, class_="keys")
    )


def _values(one: Stretch, title: str) -> Html:
    """The plot as numbers, thinned out."""
    x = one.along
    kept = np.unique(np.round(np.linspace(0, len(x) - 1, min(ROWS, len(x)))).astype(int))
    fields = [
        one.of(lambda s, n=n: getattr(s.section, n)) for n in ("area", "Iyy", "Izz", "I1", "I2")
    ]
    fields += list(one.of(lambda s: s.stress))
    head = ["mm along", "A, mm²", "Iyy, mm⁴", "Izz, mm⁴", "I₁, mm⁴", "I₂, mm⁴"]
    head += [f"stress, case {k + 1}, MPa" for k in range(len(one.scans[0].cases))]
    rows = [[f"{x[i]:.4g}", *(figure(values[i]) for values in fields)] for i in kept]
    whole = table(f"Values along {title}", head, rows, numbers=tuple(range(len(head))))
    return tag("details", tag("summary", "The same as numbers"), whole)


def _text(x: float, y: float, said: str, anchor: str = "middle", kind: str = "label") -> Html:
    return tag("text", said, x=f"{x:.1f}", y=f"{y:.1f}", class_=kind, text_anchor=anchor)
