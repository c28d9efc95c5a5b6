"""The page of a build's tolerance chains: each as a bar between its limits, and the table."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from parts.report.chains import HEADS, MEANS, advice, headline, row, sorted_chains
from parts.report.page.document import document
from parts.report.page.html import Html, table, tag
from parts.report.page.svg import path, text

if TYPE_CHECKING:
    from parts.study.sure.chains import Chain

WIDE, LEFT, ROW, TOP = 900.0, 430.0, 22.0, 30.0
BARS = 24
"""Chains that are drawn at most."""


def chains_page(build: str, chains: Sequence[Chain]) -> bytes:
    """The page, alone in its file."""
    body = tag(
        "main",
        tag("h1", f"{build}: tolerance chains"),
        tag("p", headline(build, chains), "."),
        tag("div", _bars([one for one in sorted_chains(chains) if one.limited][:BARS]), class_="charts"),
        *[tag("p", line) for line in advice(chains)],
        table("Chains", list(HEADS), [list(row(one)) for one in sorted_chains(chains)]),
        tag("p", MEANS),
    )  # fmt: skip
    return document(f"{build}: tolerance chains", body)


def _bars(chains: Sequence[Chain]) -> Html:
    """Each chain over the width of its limits: thin at worst, thick in nineteen draws of twenty."""
    drawn: list[Html] = []
    for k, one in enumerate(chains):
        y = TOP + ROW * (k + 0.5)
        ends = [v for v in (one.least, one.most, *one.worst) if np.isfinite(v)]
        low, high = min(ends), max(ends)
        room = 0.05 * (high - low) or 1.0

        def x(value: float, low: float = low - room, high: float = high + room) -> float:
            return LEFT + (value - low) / (high - low) * (WIDE - LEFT - 20.0)

        name = f"{one.part}, {one.name}"
        drawn.append(text(LEFT - 10.0, y + 4.0, name if len(name) < 60 else f"{name[:59]}…", "end"))
        drawn.append(path([(x(one.worst[0]), y), (x(one.worst[1]), y)], "rule"))
        drawn.append(tag("line", x1=f"{x(one.usual[0]):.1f}", x2=f"{x(one.usual[1]):.1f}", y1=f"{y:.1f}",
                         y2=f"{y:.1f}", class_="curve", stroke_width="7"))  # fmt: skip
        for limit in (one.least, one.most):
            if np.isfinite(limit):
                drawn.append(path([(x(limit), y - 8.0), (x(limit), y + 8.0)], "critical"))
    said = (
        "Upright strokes: the limits. Thin line: all at their worst. Thick: nineteen draws of twenty. Each row has its "
        "own scale."
    )
    svg = tag(
        "svg", tag("title", "Chains against their limits"), tag("desc", said),
        text(8.0, 16.0, "Chains against their limits", "start", "name"), *drawn,
        viewBox=f"0 0 {WIDE:g} {TOP + ROW * len(chains) + 10.0:g}", class_="chart", role="img",
    )  # fmt: skip
    return tag("figure", svg, tag("figcaption", said), class_="plot")
