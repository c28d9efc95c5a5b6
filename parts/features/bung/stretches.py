"""Stretches of a bored bar along x, and the holes across it: witness holes through one wall, tommy-bar holes
through both.

A hole is drilled along y. Sections are cut square to the bar, `off` from the middle of the hole.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

import numpy as np

from parts.core.loadpath import Notch, smooth
from parts.features.section.notches import cross_hole, same
from parts.features.section.outlines import figure
from parts.strength.section.figures import circle, regular_polygon, round_with_flats
from parts.strength.section.outline import Outline
from parts.strength.section.properties import properties

if TYPE_CHECKING:
    import cadquery as cq

NEARLY = 0.98
"""How much of a hole's radius its sections go to: at the very edge the slot closes."""


class Outside(NamedTuple):
    """The outside of a bar: round, round with two flats, or hexagonal, a flat facing +y. Lengths in mm."""

    kind: Literal["round", "flatted", "hex"]
    diameter: Any
    flats: Any = None

    def outline(self) -> Outline:
        """The whole section."""
        if self.kind == "hex":
            return regular_polygon(self.flats, 6)
        if self.kind == "flatted":
            return round_with_flats(self.diameter, self.flats)
        return circle(self.diameter)

    def bored(self, bore: Any) -> Outline:
        """The section with a bore."""
        return self.outline().minus(circle(bore))

    @property
    def across(self) -> Any:
        """Least distance across the section [mm]: what the wall is measured from."""
        return self.diameter if self.kind == "round" else self.flats

    @property
    def corner(self) -> Any:
        """Diameter of the round bar that it is made from [mm]."""
        return 2.0 / np.sqrt(3.0) * self.flats if self.kind == "hex" else self.diameter

    def flat_width(self) -> Any:
        """Width of the flat that a hole is drilled in [mm]; the diameter where there is none."""
        if self.kind == "hex":
            return self.flats / np.sqrt(3.0)
        if self.kind == "flatted":
            return np.sqrt(np.maximum(np.square(self.diameter) - np.square(self.flats), 0.0))
        return self.diameter

    def above(self, h: Any) -> tuple[list[tuple[Any, Any]], list[Any]]:
        """The outside where z > h, counter-clockwise from +y to -y: points, and the bulge that leaves each."""
        if self.kind == "round":
            r = np.asarray(self.diameter, float) / 2.0
            y = np.sqrt(r**2 - np.square(h))
            return [(y, h), (-y, h)], [np.tan((np.pi - 2.0 * np.arcsin(h / r)) / 4.0), 0.0]
        a = np.asarray(self.flats, float) / 2.0
        if self.kind == "hex":
            s = 2.0 * a / np.sqrt(3.0)
            return [(a, h), (a, s / 2.0), (0.0, s), (-a, s / 2.0), (-a, h)], [0.0] * 5
        r = np.asarray(self.diameter, float) / 2.0
        z = np.sqrt(r**2 - a**2)
        arc = np.tan(np.arcsin(a / r) / 2.0)
        return [(a, h), (a, z), (-a, z), (-a, h)], [0.0, arc, 0.0, 0.0]


def _slot(hole: Any, off: Any) -> Any:
    """Half the width of the slot that a round hole leaves in a cut [mm]."""
    return np.sqrt(np.maximum(np.square(hole) / 4.0 - np.square(off), 0.0))


def through_hole(outside: Outside, bore: Any, hole: Any, off: Any) -> Outline:
    """The section through a hole that goes through both walls.

    Args:
        outside: of the bar.
        bore: of the bar, larger than the hole [mm].
        hole: its diameter [mm].
        off: distance of the section from the middle of the hole [mm].

    Returns:
        Two pieces, above and below the hole.
    """
    h = _slot(hole, off)
    r = np.asarray(bore, float) / 2.0
    y, arc = np.sqrt(r**2 - h**2), -np.tan((np.pi - 2.0 * np.arcsin(h / r)) / 4.0)
    points, bulges = outside.above(h)
    upper = figure([*points, (-y, h), (y, h)], [*bulges[:-1], 0.0, arc, 0.0])
    return upper + upper.rotated(np.pi)


def wall_hole(outside: Outside, bore: Any, hole: Any, off: Any) -> Outline:
    """The section through a hole that goes through the wall at +y only; see `through_hole`."""
    h = _slot(hole, off)
    r = np.asarray(bore, float) / 2.0
    y, arc = np.sqrt(r**2 - h**2), -np.tan((np.pi - np.arcsin(h / r)) / 4.0)
    points, bulges = outside.above(h)
    if outside.kind == "round":
        R = np.asarray(outside.diameter, float) / 2.0
        left = np.tan((np.pi - np.arcsin(h / R)) / 4.0)
        ring: list[tuple[Any, Any]] = [points[0], (-R, 0.0), (points[0][0], -h)]
        turns: list[Any] = [left, left, 0.0]
    else:
        # Down the left side, then the mirror image of the top, walked back to the hole.
        below = [(p, -z) for p, z in reversed(points[:-1])]
        back = [*reversed(bulges[: len(points) - 2]), 0.0]
        ring, turns = [*points[:-1], *below], [*bulges[: len(points) - 2], 0.0, *back]
    return figure([*ring, (y, -h), (-r, 0.0), (y, h)], [*turns, arc, arc, 0.0])


def area_and_modulus(shape: Outline) -> tuple[Any, Any]:
    """Area [mm^2] of the section of a bar or tube, and its least section modulus about y or z [mm^3]."""
    s = properties(shape)
    moduli = (s.Wel_y_top, s.Wel_y_bottom, s.Wel_z_right, s.Wel_z_left)
    return s.area, np.minimum.reduce(np.broadcast_arrays(*moduli))


Stretch = tuple[str, Any, Any, Callable[[Any], Outline], int, Callable[[Any], Notch]]
"""A stretch of a bar: name, from, to [mm], section and notch at t in [0, 1], stations to look at between."""


def bored_stretch(
    name: str, outside: Outside, bore: Any, low: Any, high: Any, notched: Notch | None = None
) -> Stretch:
    """A stretch of one outside and one bore [mm], smooth where no notch is stated."""
    notch = smooth if notched is None else same(notched)
    return (name, low, high, lambda t: outside.bored(bore + 0.0 * np.asarray(t)), 3, notch)


def drilled_stretches(
    names: tuple[str, str, str],
    outside: Outside,
    bore: Any,
    low: Any,
    high: Any,
    hole: tuple[Any, Any, Any],
    *,
    through: bool,
    notched: Notch | None = None,
) -> list[Stretch]:
    """A bored stretch with a cross hole in it: before the hole, beside it, and behind it.

    Args:
        names: of the three.
        outside: of the bar.
        bore: diameter [mm].
        low: where the stretch begins [mm].
        high: where it ends [mm].
        hole: diameter of the cross hole, where its middle lies, and the break of its edges [mm].
        through: the hole goes through both walls.
        notched: the notch of the stretch before and behind the hole; smooth where None.

    Returns:
        Three stretches.
    """
    d, at, edge_break = hole
    r = d / 2.0
    drilled = same(cross_hole(d, outside.across, bore))
    section = through_hole if through else wall_hole

    def beside(t: Any) -> Outline:
        off = NEARLY * r * (2.0 * np.asarray(t) - 1.0)
        return section(outside, bore + 0.0 * off, d, off)

    return [
        bored_stretch(names[0], outside, bore, low, at - r - edge_break, notched),
        (names[1], at - NEARLY * r, at + NEARLY * r, beside, 9, drilled),
        bored_stretch(names[2], outside, bore, at + r + edge_break, high, notched),
    ]


def on_x(x: Any) -> np.ndarray:
    """A place on the x axis [mm], shape (..., 3)."""
    x = np.asarray(x, float)
    return np.stack([x, 0.0 * x, 0.0 * x], axis=-1)


def faced_bar(outside: Outside, length: float, edge_break: float) -> cq.Workplane:
    """A bar from x = 0 to its length, its ends chamfered; a hexagon's corners at 30 degrees, as on a nut."""
    from parts.features.thread import turned
    from parts.shapes.profile import prism

    d, c = float(outside.corner), float(edge_break)
    along = c
    if outside.kind == "hex" and c > 0.0:
        c = c + (d - float(outside.across)) / 2.0
        along = c * np.tan(np.pi / 6.0)
    steps = [
        turned.Step("", 0.0, along, d - 2.0 * c, d),
        turned.Step("", along, length - along, d),
        turned.Step("", length - along, length, d, d - 2.0 * c),
    ]
    body = turned.solid([step for step in steps if step.length > 0.0])
    if outside.kind == "round":
        return body
    return body.intersect(prism(outside.outline(), -1.0, length + 1.0, "x"))


def hole_break(edge_break: float, hole: float) -> float:
    """Break of the edges of a cross hole [mm]: the part's, but no more than a twelfth of the hole.

    Outlines leave it out.
    """
    return min(float(edge_break), float(hole) / 12.0)


def wall_drill(outside: Outside, hole: float, at: float, edge_break: float) -> cq.Workplane:
    """What is drilled away for a hole through the wall at +y, `at` on x, its outer edge broken."""
    from parts.shapes.profile import cone, cylinder

    top = float(outside.across) / 2.0
    tool = cylinder(hole, 0.0, top + 2.0, "y", (at, 0.0, 0.0))
    c = hole_break(edge_break, hole)
    if c <= 0.0:
        return tool
    return tool.union(cone(hole, hole + 2.0 * (c + 2.0), top - c, top + 2.0, "y", (at, 0.0, 0.0)))


def milled_flats(outside: Outside, flats: Any, length: Any, centre: float) -> cq.Workplane:
    """What is milled away for a pair of wrench flats of a length about a place on x [mm]."""
    from parts.features.thread import turned

    half = float(length) / 2.0
    return turned.flats_tool(
        turned.Step("", centre - half, centre + half, outside.corner, flats=flats)
    )
