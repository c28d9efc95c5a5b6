"""Ends of tubes: where a round tube meets another, how long to cut it, and the paper to wrap about it.

A tube of radius r meets a saddle of radius R at an angle θ between their centre lines, e beside each other.
Round the tube, φ from the side on which θ is measured, the saddle is met at

    t(φ) = (√((R + g)² − (r sin φ + e)²) − r cos φ cos θ) / sin θ

along the tube from the point nearest the saddle's axis, g being the gap kept for the weld. It is the
meeting of two cylinders, solved for the length along one of them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from parts.core.drawing import Tube, TubeEnd
from parts.making.bench.ink import Ink, Letters, Line, box, line, plain

PAPER = 0.1
"""Thickness of the paper that is wrapped about the tube [mm]; common office paper, no source."""
TAB = 8.0
STEPS = 361
SHARPEST = np.radians(25.0)


class BadCope(ValueError):
    """A tube that does not meet its saddle all round, or too flat."""


@dataclass(frozen=True)
class Cut:
    """The end of a tube, round it from the reference line: turn [rad] and length from the node [mm].

    `outside` is where the outside of the tube meets the saddle; `square` where to cut straight through the
    wall so that the inside edge clears it too.
    """

    turn: np.ndarray
    outside: np.ndarray
    square: np.ndarray


def cope(outside: float, wall: float, end: TubeEnd, turn: np.ndarray | None = None) -> Cut:
    """The cut at one end of a tube.

    Args:
        outside: diameter of the tube [mm].
        wall: its thickness [mm].
        end: what it meets.
        turn: where round the tube [rad]; all round where left out.

    Returns:
        The cut.

    Raises:
        BadCope: the tube is wider than its saddle, or meets it too flat.
    """
    phi = np.linspace(0.0, 2.0 * np.pi, STEPS) if turn is None else np.asarray(turn, float)
    if end.saddle <= 0.0:
        return Cut(phi, np.full(phi.shape, end.gap), np.full(phi.shape, end.gap))
    reach = outside / 2.0 + abs(end.offset)
    if reach >= end.saddle / 2.0 + end.gap:
        raise BadCope(
            f"{end.name}: a tube {outside:g} mm wide, {abs(end.offset):g} mm off centre, does not sit on one "
            f"of {end.saddle:g} mm all round; choose a narrower tube, or bring the centre lines together"
        )
    if not SHARPEST <= end.angle <= np.pi - SHARPEST:
        raise BadCope(
            f"{end.name}: tubes that meet at {np.degrees(end.angle):.0f} degrees cannot be welded at the heel; "
            f"keep between {np.degrees(SHARPEST):.0f} and {180 - np.degrees(SHARPEST):.0f} degrees"
        )
    outer = _met(outside / 2.0, end, phi)
    inner = _met(outside / 2.0 - wall, end, phi)
    return Cut(phi, outer, np.maximum(outer, inner))


def _met(radius: float, end: TubeEnd, phi: np.ndarray) -> np.ndarray:
    at = phi - end.turn
    across = np.square(end.saddle / 2.0 + end.gap) - np.square(radius * np.sin(at) + end.offset)
    lean = radius * np.cos(at) * np.cos(end.angle)
    return np.asarray((np.sqrt(across) - lean) / np.sin(end.angle))


def cut_length(tube: Tube) -> float:
    """Length of the blank before its ends are coped [mm]: long point to long point, weld gaps taken off."""
    return tube.between - sum(
        float(cope(tube.outside, tube.wall, end).outside.min()) for end in tube.ends
    )


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
        BadCope: as `cope`, or the tube is too large for the page.
    """
    around = np.pi * (tube.outside + PAPER)
    cut = cope(tube.outside, tube.wall, end)
    short = float(cut.outside.min())
    deep = float(cut.square.max()) - short
    wide, high = size
    if around + TAB > wide - 30.0:
        raise BadCope(
            f"{end.name}: a tube {tube.outside:g} mm wide needs a longer sheet; set `drawing: {{sheet: A3}}`"
        )
    x0, base = 20.0, 52.0
    low, top = base - 8.0, base + np.ceil(deep) + 30.0
    if top > high - 50.0:
        raise BadCope(
            f"{end.name}: this cope is too long for the sheet; set `drawing: {{sheet: A3}}`"
        )
    ink: list[Ink] = [
        box("outline", x0, low, around, top - low),
        box("table", x0 + around, low, TAB, top - low),
        Letters("glue here", np.array([x0 + around + TAB - 2.0, low + 4.0]), 2.5, np.pi / 2.0),
    ]
    for i in range(13):
        x = x0 + around * i / 12.0
        ink.append(line("outline" if i in (0, 12) else "table", (x, low), (x, top)))
        if i % 3 == 0 or around > 140.0:
            ink.append(Letters(f"{30 * i}°", np.array([x, low - 4.0]), 2.5, anchor="middle"))
    for curve, layer in ((cut.outside, "outline"), (cut.square, "hidden")):
        points = np.stack([x0 + around * cut.turn / (2.0 * np.pi), base + curve - short], axis=-1)
        ink.append(Line(points, layer))
    ink.append(line("centre", (x0, base), (x0 + around, base)))
    ink += _said(tube, end, number, short, top - base, x0, top)
    ink += _check_lines(x0, low - 14.0)
    return ink


def _said(
    tube: Tube, end: TubeEnd, number: str, short: float, rise: float, x: float, top: float
) -> list[Ink]:
    name = f"{number}  {tube.name}, {end.name}"
    meets = (
        f"Tube Ø{tube.outside:.2f} × {tube.wall:.2f} mm to a tube Ø{end.saddle:.2f} mm at "
        f"{np.degrees(end.angle):.1f}°, centre lines {end.offset:.2f} mm apart, weld gap {end.gap:.2f} mm."
        if end.saddle > 0.0
        else f"Tube Ø{tube.outside:.2f} × {tube.wall:.2f} mm, square; weld gap {end.gap:.2f} mm."
    )
    blank, far = cut_length(tube), short + rise
    lines = [
        meets,
        f"Blank {blank:.1f} mm long, long point to long point; the nodes are {tube.between:.2f} mm apart.",
        f"Chain line: the end of the blank, {short:.2f} mm from the node. Upper edge: {far:.2f} mm from it.",
        "The tube stays above the curve. Full curve: where its outside meets the other tube.",
        "Dashed curve: cut here where the cut goes straight through the wall, so that the inside edge clears.",
        "Print at actual size and measure both check lines first. Wrap it print outward, upper edge square,",
        "0° on 360° and on the tube's reference line; mark along the curve.",
    ]
    ink: list[Ink] = [Letters(plain(name), np.array([x, top + 40.0]), 4.0, bold=True)]
    for i, words in enumerate(lines):
        ink.append(Letters(plain(words), np.array([x, top + 34.0 - 4.4 * i]), 2.2))
    return ink


def _check_lines(x: float, y: float) -> list[Ink]:
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
