"""Lines, words and round values for the charts of a page, as SVG elements."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from parts.report.page.html import Html, tag

DASHES = ("", "7 3", "2 3", "9 3 2 3", "12 4", "5 2 1 2 1 2", "1 4", "9 3 2 3 2 3")
"""Dashes that tell one curve from another, whatever the colour."""


def text(x: float, y: float, said: str, anchor: str = "middle", kind: str = "label") -> Html:
    """A word at a place; `anchor` says which end of it stands there."""
    return tag("text", said, x=f"{x:.1f}", y=f"{y:.1f}", class_=kind, text_anchor=anchor)


def path(places: Sequence[tuple[float, float]], kind: str, dashes: str = "") -> Html:
    """A line through places."""
    d = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in places)
    return tag("path", d=d, class_=kind, stroke_dasharray=dashes or None)


def circle(x: float, y: float, r: float, kind: str) -> Html:
    """A circle about a place."""
    return tag("circle", cx=f"{x:.1f}", cy=f"{y:.1f}", r=f"{r:g}", class_=kind)


def runs(x: np.ndarray, y: np.ndarray) -> Iterator[list[tuple[float, float]]]:
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


def ticks(low: float, high: float, most: int) -> list[float]:
    """Round values from low to high, no more than `most` and one."""
    rough = (high - low) / most
    power = 10.0 ** np.floor(np.log10(rough))
    step = next(power * n for n in (1.0, 2.0, 5.0, 10.0) if power * n >= rough * (1.0 - 1e-9))
    first = int(np.ceil(low / step - 1e-9))
    return [float(f"{step * i:.12g}") for i in range(first, int(np.floor(high / step + 1e-9)) + 1)]


def tick_text(value: float) -> str:
    """A number at an axis, thousands apart."""
    return f"{value:,.0f}".replace(",", " ") if abs(value) >= 1000.0 else f"{value:g}"


def clear(at: float, taken: Sequence[float]) -> float:
    """The nearest height at which a word covers none of those there."""
    for off in sorted(np.arange(-8, 9) * 6.0, key=lambda v: (abs(v), v)):
        if all(abs(at + off - other) >= 12.0 for other in taken):
            return float(at + off)
    return at


def keys(names: Sequence[str]) -> Html:
    """Names of curves with their numbers and dashes."""
    samples = []
    for k, name in enumerate(names):
        line = tag(
            "path", d="M0 5H44", class_="curve", stroke_dasharray=DASHES[k % len(DASHES)] or None
        )
        sample = tag("svg", line, viewBox="0 0 44 10", width=44, height=10, aria_hidden="true")
        samples.append(tag("li", sample, f" {k + 1} {name}"))
    return tag("ol", *samples, class_="keys")
