"""The page of how sure a part is: a histogram of its least factor, a tornado of what moves it, and the tables."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from parts.core.figures import figure
from parts.report.page.document import document
from parts.report.page.html import Html, joined, table, tag
from parts.report.page.svg import path, text, tick_text, ticks
from parts.report.sure import MEANS, chance_text, headline, left_out, percent, reached_text

if TYPE_CHECKING:
    from parts.study.sure.chances import Sure

WIDE, LEFT, RIGHT, TOP, ROW = 640.0, 250.0, 30.0, 34.0, 26.0
BINS, TALL = 48, 220.0
BARS = 8
"""Numbers in the tornado at most."""


def sure_page(found: Sure) -> bytes:
    """The page, alone in its file."""
    name = found.stated.part.name
    body = tag(
        "main",
        tag("h1", f"{name}: how sure"),
        tag("p", headline(found), "."),
        tag("p", f"{found.draws} draws; ", reached_text(found), "."),
        tag("div", _histogram(found), _tornado(found), class_="charts"),
        _tables(found),
        *[tag("p", note[0].upper() + note[1:], ".") for note in left_out(found)],
        tag("p", MEANS),
    )
    return document(f"{name}: how sure", body)


def _figure(name: str, said: str, high: float, *inner: Html) -> Html:
    drawn = tag(
        "svg", tag("title", name), tag("desc", said), text(8.0, 16.0, name, "start", "name"), *inner,
        viewBox=f"0 0 {WIDE:g} {high:g}", class_="chart", role="img",
    )  # fmt: skip
    return tag("figure", drawn, tag("figcaption", said), class_="plot")


def _histogram(found: Sure) -> Html:
    """How often the least factor came out where; what is below 1 fails."""
    least = found.least[np.isfinite(found.least)]
    low, high = min(float(least.min()), 0.95), float(np.quantile(least, 0.999))
    counts, edges = np.histogram(np.clip(least, low, high), BINS, (low, high))
    wide, bottom = WIDE - 60.0, TOP + TALL

    def x(value: float) -> float:
        return 30.0 + (value - low) / (high - low) * wide

    bars = [
        path([(x(a), bottom), (x(a), y), (x(b), y), (x(b), bottom)], "curve")
        for count, a, b in zip(counts, edges[:-1], edges[1:], strict=True)
        if count and (y := bottom - TALL * count / counts.max()) is not None
    ]
    marks = [
        piece
        for value in ticks(low, high, 8)
        for piece in (path([(x(value), bottom), (x(value), bottom + 5.0)], "rule"),
                      text(x(value), bottom + 18.0, tick_text(value)))
    ]  # fmt: skip
    limit = [
        path([(x(1.0), TOP), (x(1.0), bottom)], "critical"),
        text(x(1.0) + 5.0, TOP + 10.0, "1: fails below", "start"),
    ]
    return _figure(
        "Least factor of all checks", reached_text(found), bottom + 30.0, *bars, *marks, *limit,
        path([(30.0, bottom), (WIDE - 30.0, bottom)], "rule"),
    )  # fmt: skip


def _tornado(found: Sure) -> Html:
    """Each number from its low to its high end, the widest swing on top; round at the low end, square at the high."""
    swings = found.swings[:BARS]
    ends = np.array([[one.low, one.high] for one in swings])
    low, high = float(ends.min()), float(ends.max())
    room = 0.05 * (high - low) or 0.1
    low, high = low - room, high + room
    bottom = TOP + ROW * len(swings) + 6.0

    def x(value: float) -> float:
        return LEFT + (value - low) / (high - low) * (WIDE - LEFT - RIGHT)

    drawn: list[Html] = []
    for k, one in enumerate(swings):
        y = TOP + ROW * (k + 0.5)
        drawn.append(text(LEFT - 10.0, y + 4.0, _short(one.given.name), "end"))
        drawn.append(tag("line", x1=f"{x(one.low):.1f}", x2=f"{x(one.high):.1f}", y1=f"{y:.1f}", y2=f"{y:.1f}",
                         class_="curve", stroke_width="9"))  # fmt: skip
        drawn.append(
            tag("circle", cx=f"{x(one.low):.1f}", cy=f"{y:.1f}", r="6", class_="rule", fill="#fff")
        )
        drawn.append(tag("rect", x=f"{x(one.high) - 5.0:.1f}", y=f"{y - 5.0:.1f}", width="10", height="10",
                         class_="rule"))  # fmt: skip
    for value in ticks(low, high, 5):
        drawn += [path([(x(value), bottom), (x(value), bottom + 5.0)], "rule"),
                  text(x(value), bottom + 18.0, tick_text(value))]  # fmt: skip
    drawn.append(path([(LEFT, bottom), (WIDE - RIGHT, bottom)], "rule"))
    lead = found.checks[0]
    said = (
        f"Factor of {lead.name}, {lead.case}, as each number goes from its low end (circle, 5 %) to its high end "
        "(square, 95 %), all others in their middle."
    )
    return _figure("What moves it", said, bottom + 30.0, *drawn)


def _short(name: str) -> str:
    return name if len(name) <= 36 else f"{name[:35]}…"


def _tables(found: Sure) -> Html:
    checks = [[f"{one.name}, {one.case}", figure(one.drawn), f"{one.required:g}", figure(one.median),
               percent(one.below_required.value), chance_text(one.fails)] for one in found.checks[:12]]  # fmt: skip
    indices = [[one.name, f"{one.first:.2f} ± {one.first_error:.2f}", f"{one.total:.2f} ± {one.total_error:.2f}"]
               for one in sorted(found.indices, key=lambda one: -one.total)]  # fmt: skip
    buys = [[one.said, chance_text(one.fails), figure(one.thousandth)] for one in found.buys]
    drawn = [[one.name, one.said] for one in found.drawing.givens]
    return joined(
        table(
            "What fails first",
            ["check", "drawn", "asked", "middle", "below asked", "below 1"],
            checks,
        ),
        table(
            "What decides it: shares of the variance (Sobol)",
            ["number", "alone", "with others"],
            indices,
        ),
        table(
            "What a change would buy",
            ["change", "chance that a check fails", "factor of 1 in 1000"],
            buys,
        ),
        table("What was drawn", ["number", "spread"], drawn),
    )
