"""The blade of an arm: a tapered bar from a round hub to an eye or a block, plain or pocketed to an I.

Axes of the feature: the hub's axis is z, the blade runs along +x, its width lies along y and its thickness
along z. Its centre line goes straight from the middle of the hub to the middle of the end, `crank` higher.
Both sides leave the hub and the eye in fillets that touch the circle and the straight side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

from parts.core.loadpath import Notch
from parts.core.rules import Rule, at_least, at_most
from parts.features.arm.arm import DEEPEST_POCKET, LEAST_FLANGE, LEAST_FLOOR, Arm, Pocket
from parts.features.section.notches import NEAR, flat_fillet
from parts.features.section.outlines import figure
from parts.strength.section.outline import Outline

WIDE_END = 2.0
"""A block at the end of an arm beside a fillet, in widths of the arm, for the fillet's notch."""
POCKET = 3.0
"""Stress beside the end of a pocket over the nominal one [-]: the edge of a hole (Kirsch)."""


class Fillet(NamedTuple):
    """A fillet on the upper side of the blade: it touches the straight side and a circle or a flat face.

    `side` and `rim` are the places (x, y) [mm] where it touches the side and the rim, `centre` its own.
    """

    radius: Any
    centre: tuple[Any, Any]
    side: tuple[Any, Any]
    rim: tuple[Any, Any]


@dataclass(frozen=True)
class Blade:
    """The blade of one arm between its two ends.

    `hub` is the hub's radius; `reach` the x of the eye's centre or of the block's flat face, `eye` the
    eye's radius, 0 for a block. All [mm], and any may be an array.
    """

    arm: Arm
    hub: Any
    reach: Any
    eye: Any

    @property
    def start(self) -> Any:
        """x of the hub's rim [mm]."""
        return self.hub

    @property
    def end(self) -> Any:
        """x of the eye's rim or the block's face [mm]."""
        return self.reach - self.eye

    @property
    def slope(self) -> Any:
        """Growth of the half width along x [-]."""
        arm = self.arm
        tip = arm.width if arm.end_width is None else arm.end_width
        return (tip - arm.width) / 2.0 / (self.end - self.start)

    def straight(self, x: Any) -> Any:
        """Half width of the blade without its fillets [mm]."""
        return self.arm.width / 2.0 + self.slope * (np.asarray(x, float) - self.start)

    def thickness(self, x: Any) -> Any:
        """Thickness along z [mm]."""
        arm = self.arm
        tip = arm.thickness if arm.end_thickness is None else arm.end_thickness
        rise = (tip - arm.thickness) / (self.end - self.start)
        return arm.thickness + rise * (np.asarray(x, float) - self.start)

    def middle(self, x: Any) -> Any:
        """z of the centre line [mm]."""
        return self.arm.crank / self.reach * np.asarray(x, float)

    def root(self) -> Fillet:
        """The fillet at the hub."""
        return self._on_circle(0.0, self.hub, self.arm.root_fillet, 1.0)

    def tip(self) -> Fillet:
        """The fillet at the eye or the block."""
        if np.any(np.asarray(self.eye) > 0.0):
            return self._on_circle(self.reach, self.eye, self.arm.end_fillet, -1.0)
        b, r, x = self.slope, self.arm.end_fillet, self.reach
        long = np.sqrt(1.0 + b**2)
        cx = x - r
        cy = self.straight(cx) + r * long
        return Fillet(r, (cx, cy), (cx + r * b / long, cy - r / long), (x + 0.0 * cy, cy))

    def _on_circle(self, x: Any, radius: Any, r: Any, sense: float) -> Fillet:
        b = self.slope
        long = np.sqrt(1.0 + b**2)
        # Along the side (ux, uy), square to it and outward (-uy, ux); d is the circle's centre to the side.
        ux, uy = 1.0 / long, b / long
        d = self.straight(x) / long
        s = sense * np.sqrt(np.maximum((radius + r) ** 2 - (d + r) ** 2, 0.0))
        cx, cy = x + s * ux - (d + r) * uy, s * uy + (d + r) * ux
        share = radius / (radius + r)
        return Fillet(r, (cx, cy), (cx + r * uy, cy - r * ux), (x + (cx - x) * share, cy * share))

    def half_width(self, x: Any, within: Any = 0.0) -> Any:
        """Half width with the fillets, `within` inside the sides [mm]; x between the two rims."""
        x = np.asarray(x, float)
        y = self.straight(x) - within * np.sqrt(1.0 + self.slope**2)
        for fillet, near in ((self.root(), -1.0), (self.tip(), 1.0)):
            r = fillet.radius + within
            # The side touches every circle about the fillet's centre on one line square to it.
            touch = fillet.centre[0] + r * self.slope / np.sqrt(1.0 + self.slope**2)
            off = np.minimum((x - fillet.centre[0]) ** 2, np.square(r))
            arc = fillet.centre[1] - np.sqrt(np.square(r) - off)
            y = np.where((near * (x - touch) > 0.0) & (np.asarray(fillet.radius) > 0.0), arc, y)
        return y

    def pocket_span(self) -> tuple[Any, Any]:
        """x of the two ends of the pockets [mm]."""
        pocket = self.arm.pocket
        assert pocket is not None
        return self.start + pocket.hub_end, self.end - pocket.far_end

    def pocket_side(self, x: Any) -> Any:
        """Half width of the pockets without their corner radii [mm]."""
        pocket = self.arm.pocket
        assert pocket is not None
        return self.straight(x) - pocket.flange * np.sqrt(1.0 + self.slope**2)

    def pocket_corner(self, at_hub: bool) -> tuple[Any, Any, Any]:
        """Centre (x, y) of a pocket's upper corner radius, and x where it touches the side [mm]."""
        pocket = self.arm.pocket
        assert pocket is not None
        r, b = pocket.corner, self.slope
        long = np.sqrt(1.0 + b**2)
        low, high = self.pocket_span()
        cx = low + r if at_hub else high - r
        return cx, self.pocket_side(cx) - r * long, cx - r * b / long

    def pocket_half_width(self, x: Any, wider: Any = 0.0) -> Any:
        """Half width of the pockets at x between their ends, `wider` beyond their walls [mm]."""
        pocket = self.arm.pocket
        assert pocket is not None
        x = np.asarray(x, float)
        y = self.pocket_side(x) + wider * np.sqrt(1.0 + self.slope**2)
        r = pocket.corner + wider
        for at_hub, near in ((True, -1.0), (False, 1.0)):
            cx, cy, _ = self.pocket_corner(at_hub)
            touch = cx - r * self.slope / np.sqrt(1.0 + self.slope**2)
            rise = np.sqrt(np.maximum(r**2 - (x - cx) ** 2, 0.0))
            y = np.where(near * (x - touch) > 0.0, cy + rise, y)
        return y

    def notch(self, x: Any) -> Notch:
        """What raises the stress at x: the side's fillets at hub and eye, and the ends of pockets.

        Hub and eye are taken as a flat that is as wide as they are; the end of a pocket as the edge of a hole
        with its corner radius, in a stress that bending makes less there than at the side.
        """
        x = np.asarray(x, float)
        K_t, radius = np.ones_like(x), np.full_like(x, np.inf)
        ends = (
            (self.root(), 2.0 * self.hub, 1.0, self.start),
            (self.tip(), 2.0 * self.eye, -1.0, self.end),
        )
        for fillet, across, sense, first in ends:
            narrow = 2.0 * self.straight(fillet.side[0])
            wide = np.where(np.greater(across, 0.0), across, WIDE_END * narrow)
            r = np.where(np.greater(fillet.radius, 0.0), fillet.radius, np.nan)
            one = flat_fillet(np.maximum(wide, narrow), narrow, r)
            # A blade nearly as wide as its hub leaves the fillet before its own first section, which feels it first.
            reached = sense * np.maximum(sense * fillet.side[0], sense * np.asarray(first, float))
            near = sense * (x - reached) < NEAR * fillet.radius
            K_t, radius = np.where(near, one.K_t, K_t), np.where(near, one.radius, radius)
        if self.arm.pocket is not None:
            low, high = self.pocket_span()
            corner = self.arm.pocket.corner
            near = np.minimum(np.abs(x - low), np.abs(x - high)) <= corner
            share = self.pocket_half_width(x, 0.0) / self.half_width(x)
            K_t = np.where(near, np.maximum(K_t, POCKET * share), K_t)
            radius = np.where(near, corner, radius)
        return Notch(K_t, radius, limits=one.limits)

    def outline(self, x: Any, c: Any) -> Outline:
        """Section of the plain blade square to x, about its centre line; edges broken by c [mm]."""
        return _mirrored(self._broken(x, c))

    def pocketed_outline(self, x: Any, c: Any) -> Outline:
        """Section of the blade through its pockets; flanges with all four edges broken by c [mm]."""
        pocket = self.arm.pocket
        assert pocket is not None
        z, f = self.thickness(x) / 2.0, pocket.floor / 2.0
        wall, half, mouth = (self.pocket_half_width(x, share * c) for share in (0.0, 0.5, 1.0))
        inside = [(mouth, z), (half, z - c / 2.0), (wall, z - c), (wall, f)]
        return _mirrored([*self._broken(x, c), *inside])

    def _broken(self, x: Any, c: Any) -> list[tuple[Any, Any]]:
        """The upper edge on the +y side from the side to the face.

        Cut aslant, the edge break of a fillet is a hyperbola: two chords stand for it.
        """
        z = self.thickness(x) / 2.0
        side, half, face = (self.half_width(x, share * c) for share in (0.0, 0.5, 1.0))
        return [(side, z - c), (half, z - c / 2.0), (face, z)]


def _mirrored(quarter: Sequence[tuple[Any, Any]]) -> Outline:
    """A figure with two axes of symmetry from its corners in the first quarter, from the y to the z axis."""
    upper = [*quarter, *((-y, z) for y, z in reversed(quarter))]
    return figure([*upper, *((-y, -z) for y, z in upper)])


def blade_rules(blade: Blade, field: str, edge_break: Any) -> Iterator[Rule]:
    """Rules of the blade itself; `field` is the dotted path of its group."""
    arm = blade.arm
    tip_width = arm.width if arm.end_width is None else arm.end_width
    tip_thick = arm.thickness if arm.end_thickness is None else arm.end_thickness
    free = blade.end - blade.start
    yield at_least(
        "arm.length", f"{field}.length", free, 0.5 * np.maximum(arm.width, tip_width),
        "hub and end leave no arm between them", "lengthen the arm, or make the hub or the end smaller",
    )  # fmt: skip
    yield at_most(
        "arm.long", f"{field}.length", arm.length, 1000.0,
        "no torsion-bar arm of a one-off vehicle is this long; it "
        "looks like the wrong unit", "check the unit of this value",
    )  # fmt: skip
    yield at_least(
        "arm.thin", f"{field}.thickness", np.minimum(arm.thickness, tip_thick), 3.0,
        "an arm this thin twists and buckles sideways (common practice, no source)", "make the arm thicker",
    )  # fmt: skip
    yield at_least(
        "arm.narrow", f"{field}.width", np.minimum(arm.width, tip_width), 6.0,
        "an arm this narrow is not meant to carry a wheel; it looks like the wrong unit",
        "check the unit of this value",
    )  # fmt: skip
    yield at_most(
        "arm.taper", f"{field}.end_width", np.abs(blade.slope), 0.5,
        "the sides of the arm run apart by more than 27 degrees each",
        "lengthen the arm, or make its ends more alike",
        unit="",
    )  # fmt: skip
    yield at_most(
        "arm.crank", f"{field}.crank", np.abs(arm.crank), np.maximum(0.6 * free, 0.0),
        "a crank this steep twists more than it bends", "lessen the crank, or lengthen the arm",
    )  # fmt: skip
    yield at_least(
        "arm.fillets", f"{field}.root_fillet", blade.tip().side[0] - blade.root().side[0], 1.0,
        "the fillets of the two ends meet", "lessen the root or the end fillet",
    )  # fmt: skip
    for name, fillet in (("root_fillet", arm.root_fillet), ("end_fillet", arm.end_fillet)):
        least = 2.5 * np.asarray(edge_break)
        yield at_least(
            f"arm.{name}", f"{field}.{name}", np.where(np.asarray(fillet) > 0.0, fillet, least), least,
            "the edge break would eat the fillet", "make the fillet 2.5 times the edge break, or leave it out",
        )  # fmt: skip
    room = np.minimum(np.minimum(arm.thickness, tip_thick), np.minimum(arm.width, tip_width)) / 4.0
    yield at_most(
        "arm.break", "edge_break", edge_break, room, "the chamfers would eat the faces of the arm",
        "lessen the edge break to a quarter of the arm's thickness",
    )  # fmt: skip
    if arm.pocket is not None:
        yield from _pocket_rules(blade, arm.pocket, f"{field}.pocket", edge_break)


def _pocket_rules(blade: Blade, pocket: Pocket, field: str, c: Any) -> Iterator[Rule]:
    low, high = blade.pocket_span()
    least = np.minimum(blade.pocket_side(low), blade.pocket_side(high))
    thick = np.minimum(blade.thickness(low), blade.thickness(high))
    deep = (np.maximum(blade.thickness(low), blade.thickness(high)) - pocket.floor) / 2.0
    yield at_least(
        "pocket.floor", f"{field}.floor", pocket.floor, LEAST_FLOOR,
        "a floor this thin chatters under the cutter (common practice, no source)", "leave more floor",
    )  # fmt: skip
    yield at_most(
        "pocket.depth", f"{field}.floor", pocket.floor, thick - 2.0 * np.maximum(1.0, 1.5 * c),
        "the pockets would be less than a millimetre deep, or shallower than their edge break",
        "leave less floor, or a plain arm",
    )  # fmt: skip
    yield at_least(
        "pocket.flange", f"{field}.flange", pocket.flange, np.maximum(LEAST_FLANGE, 3.0 * c),
        "a flange this thin bends away from the cutter (common practice, no source)", "leave a wider flange",
    )  # fmt: skip
    yield at_most(
        "pocket.corner", f"{field}.corner", pocket.corner, 0.8 * least,
        "the corner radii would meet across the pocket", "take a smaller cutter, or a narrower flange",
    )  # fmt: skip
    yield at_least(
        "pocket.cutter", f"{field}.corner", pocket.corner,
        np.maximum(np.maximum(deep / DEEPEST_POCKET, 1.0), c),
        "a cutter this thin does not reach the floor (common practice, no source)",
        "take a larger corner radius",
    )  # fmt: skip
    yield at_least(
        "pocket.length", f"{field}.hub_end", high - low, 3.0 * pocket.corner,
        "the pockets are shorter than their corner radii",
        "leave less solid length at the ends, or a plain arm",
    )  # fmt: skip
    yield at_least(
        "pocket.ends", f"{field}.far_end", np.minimum(pocket.hub_end, pocket.far_end),
        np.maximum(2.0, 3.0 * c), "the pockets run into the hub or the end", "leave more solid length",
    )  # fmt: skip
