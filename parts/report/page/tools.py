"""What a reader does with a part in three dimensions: loads as arrows, paint, a cut, a ruler, views."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.proof.skin import RAMP
from parts.report.page.frame import PART_VIEWS, view_buttons
from parts.report.page.html import Html, joined, tag
from parts.report.page.sheets import in_order

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.core.search.result import Result

BANDS = 10
"""Bands of the paint; `painted.js` has as many."""
PAINT = (
    "The paint is the stress of the sections: pull and bending at the place itself, shear and twist as the most that "
    "its section bears; required factor over factor, in percent. Pins, threads, welds and holes have their own checks."
)


def acting(balances: Sequence[Mapping[str, Any]], part: Part) -> list[dict[str, Any]]:
    """Load cases with what acts under each.

    Args:
        balances: as the JSON report has them; empty of a family that does not say what holds it.
        part: the part.

    Returns:
        For each case its name and what acts: 1 for what holds and 0 for a load, what exerts it, its place [mm],
        force [N] and moment [N*mm].
    """
    held: dict[str, list[list[Any]]] = {}
    for one in balances:
        own = held.setdefault(one["load_case"], [])
        for kind, key in enumerate(("loads", "reactions")):
            own += [
                [kind, act["by"], *(_short(act[k]) for k in ("at_mm", "force_N", "moment_Nmm"))]
                for act in one[key]
            ]
    points = part.points()
    return [
        {"name": case.name, "acts": held.get(case.name) or [
            [0, load.at, *(_short(v) for v in (points[load.at], load.force, load.moment))] for load in case.forces
        ]}
        for case in part.loads
    ]  # fmt: skip


def _short(values: Any) -> list[float]:
    return [float(f"{v:.5g}") + 0.0 for v in np.asarray(values, float)]


def part_tools(
    result: Result, boxes: Sequence[Html], keys: str, hardware: bool = False
) -> Iterator[Html]:
    """The controls below a part.

    Args:
        result: of its checks.
        boxes: show and hide what is drawn.
        keys: says how it is turned.
        hardware: whether there is any to pull apart.

    Yields:
        The controls.
    """
    cases = [case.name for case in result.part.loads]
    if cases:
        loaded = [one for one in in_order(result.checks) if one.load_case in cases]
        chosen = cases.index(loaded[0].load_case) if loaded else 0
        options = [
            tag("option", f"{i + 1} {name}", value=i, selected=i == chosen)
            for i, name in enumerate(cases)
        ]
        yield tag(
            "label", tag("span", "load case", class_="unseen"), tag("select", *options, name="case")
        )
        yield _box("arrows", "loads", True)
        if result.scans:
            yield _box("paint", "paint", False)
    most = tag("input", type="number", name="most", min=5, max=200, step=5, value=100)
    across = [tag("option", "nothing", value="")] + [
        tag("option", axis, value=i) for i, axis in enumerate("xyz")
    ]
    slide = tag(
        "input",
        type="range",
        name="slide",
        min=0,
        max=1000,
        value=500,
        aria_label="where it is cut",
    )
    yield tag(
        "details", tag("summary", "More"),
        tag("div", _box("ruler", "ruler: touch two faces or holes", False),
            tag("label", "cut across ", tag("select", *across, name="across")), slide, tag("output", ""),
            class_="row"),
        _apart() if hardware else None,
        tag("div", *view_buttons(PART_VIEWS), class_="row"),
        tag("div", *boxes, tag("label", "paint darkest at ", most, " %"), class_="row"),
        tag("p", keys, " Shift and drag moves it aside. With the ruler, Enter touches what stands in the middle. ",
            PAINT, class_="what"),
    )  # fmt: skip


def _apart() -> Html:
    slide = tag("input", type="range", name="apart", min=0, max=40, value=0)
    said = tag("label", "bolts and bearings: away, in place, pulled apart ", slide)
    return tag("div", said, class_="row")


def _box(name: str, said: str, on: bool) -> Html:
    return tag("label", tag("input", type="checkbox", name=name, checked=on), f" {said}")


def scale() -> Html:
    """The bands of the paint with the share [%] at which each ends; the script writes the numbers."""
    high, wide = 15.0, 22.0
    inner: list[Html] = []
    for k in range(BANDS):
        y = 8.0 + (BANDS - 1 - k) * high
        inner.append(
            tag("rect", x=2, y=f"{y:g}", width=wide, height=high, fill=band_ink(k), class_="edge")
        )
    for k in range(BANDS + 1):
        inner.append(tag("text", "", x=wide + 7.0, y=f"{12.0 + (BANDS - k) * high:g}"))
    tall = BANDS * high + 16.0
    svg = tag(
        "svg", *inner, viewBox=f"0 0 70 {tall:g}", width=70, height=f"{tall:g}", aria_hidden="true"
    )
    return tag("div", tag("b", "% used"), joined(svg), class_="scale", hidden=True)


def band_ink(k: int) -> str:
    """The colour of a band, from light to dark; the viewer mixes the same."""
    t = k / (BANDS - 1)
    a, b, u = (RAMP[0], RAMP[1], 2.0 * t) if t < 0.5 else (RAMP[1], RAMP[2], 2.0 * t - 1.0)
    return "#" + "".join(
        f"{round(255.0 * (x + u * (y - x))):02x}" for x, y in zip(a, b, strict=True)
    )
