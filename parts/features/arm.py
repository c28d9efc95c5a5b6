"""The blade of an arm: a tapered bar from a round hub to an eye or a block, plain or pocketed to an I.

Axes of the feature: the hub's axis is z, the blade runs along +x, its width lies along y and its thickness
along z. Its centre line goes straight from the middle of the hub to the middle of the end, `crank` higher.
Both sides leave the hub and the eye in fillets that touch the circle and the straight side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from pydantic import Field

from parts.features.outlines import chamfered, figure
from parts.group import Group
from parts.inputs.quantities import Length, NonNegativeLength, PositiveLength
from parts.rules import Rule, at_least, at_most
from parts.strength.outline import Loop, Outline

if TYPE_CHECKING:
    import cadquery as cq

OVERLAP = 1.0
"""How far the blade runs into a block, so that the two are one solid [mm]."""
LEAST_FLOOR = 2.0
"""Thinnest floor of a pocket that does not chatter or drum [mm]; common practice, no source."""
LEAST_FLANGE = 3.0
"""Thinnest flange beside a pocket [mm]; common practice, no source."""
DEEPEST_POCKET = 5.0
"""Depth of a pocket in radii of its corners that a cutter still reaches [-]; common practice, no source."""


class Pocket(Group):
    """Pockets milled from both faces, which leave the arm an I."""

    floor: PositiveLength = Field(description="Thickness of the floor left between the pockets.")
    flange: PositiveLength = Field(
        description="Width of the flange left along each side of the arm."
    )
    corner: PositiveLength = Field(6.0, description="Corner radius: that of the cutter.")
    hub_end: PositiveLength = Field(
        description="Solid length left between the hub and the pockets."
    )
    far_end: PositiveLength = Field(
        description="Solid length left between the pockets and the eye or block."
    )


class Arm(Group):
    """The arm between hub and end: its width lies in the plane of its travel, its thickness along the bar."""

    length: PositiveLength = Field(
        description="Centre of the bar to the centre of the end, square to the bar."
    )
    width: PositiveLength = Field(description="Width in the plane of travel, at the hub's rim.")
    end_width: PositiveLength | None = Field(
        None, description="Width at the end's rim or block; as at the hub where left out."
    )
    thickness: PositiveLength = Field(description="Thickness along the bar, at the hub's rim.")
    end_thickness: PositiveLength | None = Field(
        None, description="Thickness at the end's rim or block; as at the hub where left out."
    )
    crank: Length = Field(
        0.0, description="Sideways offset of the end from the middle of the hub, along the bar."
    )
    root_fillet: NonNegativeLength = Field(
        10.0, description="Fillet between the arm's sides and the hub; 0 leaves it sharp."
    )
    end_fillet: NonNegativeLength = Field(
        5.0, description="Fillet between the arm's sides and the eye or block; 0 leaves it sharp."
    )
    pocket: Pocket | None = Field(
        None, description="Pockets from both faces that leave an I; a plain arm where left out."
    )


@dataclass(frozen=True)
class Fillet:
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
        return Fillet(
            r, (cx, cy), (cx + r * uy, cy - r * ux), (x + (cx - x) * share, cy * share)
        )

    def half_width(self, x: Any) -> Any:
        """Half width with the fillets [mm], between the two rims."""
        x = np.asarray(x, float)
        y = self.straight(x)
        for fillet, near in ((self.root(), -1.0), (self.tip(), 1.0)):
            within = near * (x - fillet.side[0]) > 0.0
            off = np.minimum((x - fillet.centre[0]) ** 2, np.square(fillet.radius))
            y = np.where(within, fillet.centre[1] - np.sqrt(fillet.radius**2 - off), y)
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

    def _corner(self, at_hub: bool) -> tuple[Any, Any, Any]:
        """Centre (x, y) of a pocket's upper corner radius, and x where it touches the side [mm]."""
        pocket = self.arm.pocket
        assert pocket is not None
        r, b = pocket.corner, self.slope
        long = np.sqrt(1.0 + b**2)
        low, high = self.pocket_span()
        cx = low + r if at_hub else high - r
        return cx, self.pocket_side(cx) - r * long, cx - r * b / long

    def pocket_half_width(self, x: Any) -> Any:
        """Half width of the pockets at x between their ends [mm]."""
        pocket = self.arm.pocket
        assert pocket is not None
        x = np.asarray(x, float)
        y = self.pocket_side(x)
        for at_hub, near in ((True, -1.0), (False, 1.0)):
            cx, cy, touch = self._corner(at_hub)
            rise = np.sqrt(np.maximum(pocket.corner**2 - (x - cx) ** 2, 0.0))
            y = np.where(near * (x - touch) > 0.0, cy + rise, y)
        return y

    def outline(self, x: Any, c: Any) -> Outline:
        """Section of the plain blade square to x, about its centre line; edges broken by c [mm]."""
        return chamfered(2.0 * self.half_width(x), self.thickness(x), c)

    def pocketed_outline(self, x: Any, c: Any) -> Outline:
        """Section of the blade through its pockets; flanges with all four edges broken by c [mm]."""
        pocket = self.arm.pocket
        assert pocket is not None
        y, z = self.half_width(x), self.thickness(x) / 2.0
        p, f = self.pocket_half_width(x), pocket.floor / 2.0
        quarter = [(p, f), (p, z - c), (p + c, z), (y - c, z), (y, z - c)]
        upper = [(v, h) for v, h in reversed(quarter)]
        left = [(-v, h) for v, h in quarter]
        below = [(-v, -h) for v, h in upper]
        right = [(v, -h) for v, h in quarter]
        points = upper + left + below + right
        return figure(points)

    def plan(self, inner: Any) -> Loop:
        """The blade seen along the bar, from a circle of radius `inner` within the hub into the end [mm]."""
        root, tip = self.root(), self.tip()
        (rx, ry), (tx, ty) = root.rim, tip.rim
        share = inner / np.hypot(rx, ry)
        inside = [] if np.any(np.asarray(self.eye) > 0.0) else [(tx + OVERLAP, ty)]
        heart = [(self.reach, 0.0)] if not inside else []
        upper = [*inside, (tx, ty), tip.side, root.side, (rx, ry), (rx * share, ry * share)]
        lower = [(x, -y) for x, y in reversed(upper)]
        skip = len(inside)
        turn = [0.0] * skip + [_bulge(tip), 0.0, _bulge(root), 0.0]
        about = np.arctan2(ry, rx)
        back = [0.0, _bulge(root), 0.0, _bulge(tip)] + [0.0] * skip
        bulges = [*turn, -np.tan(about / 2.0), *back, 0.0] + [0.0] * len(heart)
        return figure([*upper, *lower, *heart], bulges).loops[0]

    def solid(self, inner: float, c: float) -> cq.Workplane:
        """The blade as a solid, pockets milled and edges broken."""
        from parts.shapes.profile import prism

        tall = float(self.hub) + abs(self.arm.crank) + 3.0 * float(self.arm.thickness) + 10.0
        body = prism(Outline((self.plan(inner),)), -tall, tall)
        body = body.intersect(self._slab(lambda x: self.thickness(x) / 2.0))
        if self.arm.pocket is not None:
            body = body.cut(self._pockets(tall))
        if c > 0.0:
            body = body.edges(_top_and_bottom(self)).chamfer(c)
        return body

    def _slab(self, half: Any) -> cq.Workplane:
        """What lies within `half(x)` of the centre line, from the hub's middle to the end's, for every y."""
        from parts.shapes.profile import prism

        low, high = 0.0, float(self.reach) + OVERLAP
        wide = 2.0 * high + 10.0
        # Figures along y are in (z, x).
        ends = [float(self.middle(x) + side * half(x)) for x in (low, high) for side in (-1.0, 1.0)]
        corners = [(ends[0], low), (ends[1], low), (ends[3], high), (ends[2], high)]
        return prism(figure(corners), -wide, wide, "y")

    def _pockets(self, tall: float) -> cq.Workplane:
        from parts.shapes.profile import prism

        pocket = self.arm.pocket
        assert pocket is not None
        low, high = self.pocket_span()
        (_, ay, at), (_, by, bt) = self._corner(True), self._corner(False)
        upper = [
            (high, by), (bt, self.pocket_side(bt)), (at, self.pocket_side(at)), (low, ay),
        ]  # fmt: skip
        points = [*upper, *((x, -y) for x, y in reversed(upper))]
        tilt = np.arctan(self.slope)
        near, far = np.tan((np.pi / 2.0 - tilt) / 4.0), np.tan((np.pi / 2.0 + tilt) / 4.0)
        tool = prism(figure(points, [far, 0.0, near, 0.0, near, 0.0, far, 0.0]), -tall, tall)
        floor = self._slab(lambda x: pocket.floor / 2.0 + 0.0 * x)
        return tool.cut(floor)


def _top_and_bottom(blade: Blade) -> Any:
    """Selects the edges that lie wholly in the upper or the lower face of a blade."""
    import cadquery as cq

    class InFaces(cq.Selector):
        def filter(self, objectList: Sequence[Any]) -> list[Any]:
            return [edge for edge in objectList if _in_face(blade, edge)]

    return InFaces()


def _in_face(blade: Blade, edge: Any) -> bool:
    for t in (0.0, 0.5, 1.0):
        place = edge.positionAt(t)
        off = abs(place.z - float(blade.middle(place.x))) - float(blade.thickness(place.x)) / 2.0
        if abs(off) > 1e-6:
            return False
    return True


def _bulge(fillet: Fillet) -> Any:
    """Bulge of a fillet run from the rim to the side, or back, with the metal on its left."""
    a, b = (
        np.arctan2(p[1] - fillet.centre[1], p[0] - fillet.centre[0])
        for p in (fillet.rim, fillet.side)
    )
    turn = np.abs((b - a + np.pi) % (2.0 * np.pi) - np.pi)
    return -np.tan(turn / 4.0)


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
        "arm.crank", f"{field}.crank", np.abs(arm.crank), 0.6 * free,
        "a crank this steep twists more than it bends", "lessen the crank, or lengthen the arm",
    )  # fmt: skip
    yield at_least(
        "arm.fillets", f"{field}.root_fillet", blade.tip().side[0] - blade.root().side[0], 1.0,
        "the fillets of the two ends meet", "lessen the root or the end fillet",
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
        "pocket.cutter", f"{field}.corner", pocket.corner, np.maximum(deep / DEEPEST_POCKET, 1.0),
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
