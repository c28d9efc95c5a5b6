"""The paper to wrap about a tube whose end is coped to others, at full size."""

from __future__ import annotations

import numpy as np

from parts.core.tube_ends import CORNER, Tube, TubeEnd, cope, cut_length
from parts.making.bench.ink import Ink, Letters, Line, box, line, plain
from parts.making.bench.views import NoRoom

PAPER = 0.1
"""Thickness of the paper that is wrapped about the tube [mm]; common office paper, no source."""
TAB = 8.0


def template(tube: Tube, end: TubeEnd, size: tuple[float, float], number: str) -> list[Ink]:
    """A page with the paper for one end, at full size.

    Args:
        tube: the tube.
        end: one of its ends.
        size: of the page [mm].
        number: of the part.

    Returns:
        The page's ink.

    Raises:
        NoRoom: the tube is too large for the page.
    """
    around = float(tube.around) + np.pi * PAPER
    cut = cope(tube.outside, tube.wall, end, deep=tube.deep)
    short = float(cut.outside.min())
    deep = float(cut.square.max()) - short
    wide, high = size
    if around + TAB > wide - 30.0:
        raise NoRoom(
            f"{end.name}: a tube {tube.outside:g} mm wide needs a longer sheet; set `drawing: {{sheet: A3}}`"
        )
    x0, base = 20.0, 52.0
    low, top = base - 8.0, base + np.ceil(deep) + 30.0
    if top > high - 50.0:
        raise NoRoom(
            f"{end.name}: this cope is too long for the sheet; set `drawing: {{sheet: A3}}`"
        )
    ink: list[Ink] = [
        box("outline", x0, low, around, top - low),
        box("table", x0 + around, low, TAB, top - low),
        Letters("glue here", np.array([x0 + around + TAB - 2.0, low + 4.0]), 2.5, np.pi / 2.0),
    ]
    for share, name in _lines(tube, around):
        x = x0 + around * share
        ink.append(line("outline" if share in (0.0, 1.0) else "table", (x, low), (x, top)))
        if name:
            ink.append(Letters(name, np.array([x, low - 4.0]), 2.5, anchor="middle"))
    for curve, layer in ((cut.outside, "outline"), (cut.square, "hidden")):
        points = np.stack([x0 + around * cut.turn / (2.0 * np.pi), base + curve - short], axis=-1)
        ink.append(Line(points, layer))
    ink.append(line("centre", (x0, base), (x0 + around, base)))
    ink += _said(tube, end, number, short, top - base, x0, top)
    ink += check_lines(x0, low - 14.0)
    return ink


def _lines(tube: Tube, around: float) -> list[tuple[float, str]]:
    """Lines along the tube, each by its share of the way round and its name: every 30 degrees, or the middles and the
    ends of its flats."""
    if not tube.deep:
        return [(i / 12.0, f"{30 * i}°" * (i % 3 == 0 or around > 140.0)) for i in range(13)]
    R = CORNER * tube.wall
    arc, y, z = np.pi / 2.0 * R, tube.outside / 2.0 - R, tube.deep / 2.0 - R
    quarter = [0.0, z, z + arc, z + arc + y]
    whole = 4.0 * quarter[-1]
    half = [*quarter, *(2.0 * quarter[-1] - s for s in quarter[2::-1])]
    middles = {0: "side 1", 3: "side 2", 6: "side 3"}
    found = [(s / whole, middles.get(k, "")) for k, s in enumerate(half)]
    found += [(1.0 - s / whole, "side 4" if k == 3 else "") for k, s in enumerate(half[:-1]) if k]
    return [*found, (1.0, "side 1")]


def _said(
    tube: Tube, end: TubeEnd, number: str, short: float, rise: float, x: float, top: float
) -> list[Ink]:
    name = f"{number}  {tube.name}, {end.name}"
    size = f"{tube.outside:.2f} × {tube.deep:.2f}" if tube.deep else f"Ø{tube.outside:.2f}"
    flat = (
        f"Tube {size} × {tube.wall:.2f} mm sawn {np.degrees(end.saw):.1f}° off square, to a face "
        f"{end.saddle / 2.0:.2f} mm from the node, weld gap {end.gap:.2f} mm."
    )
    meets = (
        flat
        if end.flat
        else (
            f"Tube {size} × {tube.wall:.2f} mm to a tube Ø{end.saddle:.2f} mm at "
            f"{np.degrees(end.angle):.1f}°, centre lines {abs(end.offset):.2f} mm apart, weld gap {end.gap:.2f} mm."
            if end.saddle > 0.0
            else f"Tube {size} × {tube.wall:.2f} mm, square; weld gap {end.gap:.2f} mm."
        )
    )
    blank, far = cut_length(tube), short + rise
    lines = [
        meets,
        f"Blank {blank:.1f} mm long, long point to long point; the nodes are {tube.between:.2f} mm apart"
        + (" along its centre line, round its bends." if tube.bent else "."),
        f"Chain line: the end of the blank, {short:.2f} mm from the node. Upper edge: {far:.2f} mm from it.",
        "The tube stays above the curve. Full curve: where its outside meets the other tube.",
        "Dashed curve: cut here where the cut goes straight through the wall, so that the inside edge clears.",
        "Print at actual size and measure both check lines first. Wrap it print outward, upper edge square,",
        "its folds on the corners and side 1 on +y; mark along the curve."
        if tube.deep
        else "0° on 360° and on the tube's reference line; mark along the curve.",
    ]
    ink: list[Ink] = [Letters(plain(name), np.array([x, top + 40.0]), 4.0, bold=True)]
    for i, words in enumerate(lines):
        ink.append(Letters(plain(words), np.array([x, top + 34.0 - 4.4 * i]), 2.5))
    return ink


def check_lines(x: float, y: float) -> list[Ink]:
    """Two lines of known length, to hold a rule against."""
    ink: list[Ink] = []
    for k, (long, words) in enumerate(((100.0, "100 mm"), (101.6, "4 inches"))):
        at = y - 12.0 * k
        ink += [
            line("dimension", (x, at), (x + long, at)),
            line("dimension", (x, at - 2.0), (x, at + 2.0)),
            line("dimension", (x + long, at - 2.0), (x + long, at + 2.0)),
            Letters(
                f"check line: {words} exactly",
                np.array([x + long / 2.0, at + 1.5]),
                2.5,
                anchor="middle",
            ),
        ]
    return ink
