"""The blade of an arm: a tapered bar from a round hub to an eye or a block, plain or pocketed to an I.

Axes of the feature: the hub's axis is z, the blade runs along +x, its width lies along y and its thickness
along z. Its centre line goes straight from the middle of the hub to the middle of the end, `crank` higher.
Both sides leave the hub and the eye in fillets that touch the circle and the straight side.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.features.arm import Arm
from parts.features.outlines import figure
from parts.strength.outline import Outline

if TYPE_CHECKING:
    import cadquery as cq

NEAR = 1e-6
"""Distance within which a place is taken to lie on a face [mm]."""
OVERLAP = 1.0
"""How far the blade runs into a block, so that the two are one solid [mm]."""


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

    def _corner(self, at_hub: bool) -> tuple[Any, Any, Any]:
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
            cx, cy, _ = self._corner(at_hub)
            touch = cx - r * self.slope / np.sqrt(1.0 + self.slope**2)
            rise = np.sqrt(np.maximum(r**2 - (x - cx) ** 2, 0.0))
            y = np.where(near * (x - touch) > 0.0, cy + rise, y)
        return y

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

    def plan(self, inner: float) -> Outline:
        """The blade seen along the bar, from within the hub into the end, for one part [mm].

        A filleted side turns square to the rim into the hub, as far as a circle of radius `inner`; a sharp
        one runs on straight.
        """
        root, tip = self.root(), self.tip()
        points: list[tuple[Any, Any]] = []
        bulges: list[Any] = []
        if self.eye <= 0.0:
            x = self.reach + OVERLAP
            points.append((x, tip.rim[1] if tip.radius > 0.0 else self.straight(x)))
        elif tip.radius <= 0.0:
            points.append((self.reach, self.straight(self.reach)))
        points += [tip.rim, tip.side] if tip.radius > 0.0 else []
        bulges += [0.0] * (len(points) - 2) + [_bulge(tip), 0.0] if tip.radius > 0.0 else [0.0]
        if root.radius > 0.0:
            share = inner / np.hypot(*root.rim)
            points += [root.side, root.rim, (root.rim[0] * share, root.rim[1] * share)]
            bulges += [_bulge(root), 0.0, -np.tan(np.arctan2(root.rim[1], root.rim[0]) / 2.0)]
        else:
            points.append((0.0, self.straight(0.0)))
            bulges.append(0.0)
        # The lower side is the upper one walked back; each of its arcs is that of the segment mirrored.
        points += [(x, -y) for x, y in reversed(points)]
        bulges += [*reversed(bulges[:-1]), 0.0]
        if self.eye > 0.0 and tip.radius > 0.0:
            points.append((self.reach, 0.0))
            bulges.append(0.0)
        return figure(points, bulges)

    def solid(self, inner: float, c: float) -> cq.Workplane:
        """The blade as a solid, pockets milled and edges broken."""
        from parts.shapes.profile import prism

        tall = float(self.hub) + abs(self.arm.crank) + 3.0 * float(self.arm.thickness) + 10.0
        body = prism(self.plan(inner), -tall, tall)
        body = body.intersect(self._slab(lambda x: self.thickness(x) / 2.0))
        if self.arm.pocket is not None:
            body = body.cut(self._pockets(tall))
        if c > 0.0:
            body = body.edges(_free_edges(self)).chamfer(c)
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


def _mirrored(quarter: Sequence[tuple[Any, Any]]) -> Outline:
    """A figure with two axes of symmetry from its corners in the first quarter, from the y to the z axis."""
    upper = [*quarter, *((-y, z) for y, z in reversed(quarter))]
    return figure([*upper, *((-y, -z) for y, z in upper)])


def _free_edges(blade: Blade) -> Any:
    """Selects the edges of the upper and the lower face that stay outside hub and end."""
    import cadquery as cq

    class Free(cq.Selector):
        def filter(self, objectList: Sequence[Any]) -> list[Any]:
            return [edge for edge in objectList if _on_face(blade, edge) and _outside(blade, edge)]

    return Free()


def _on_face(blade: Blade, edge: Any) -> bool:
    places = [edge.positionAt(t) for t in (0.0, 0.5, 1.0)]
    return all(
        abs(abs(p.z - float(blade.middle(p.x))) - float(blade.thickness(p.x)) / 2.0) < NEAR
        for p in places
    )


def _outside(blade: Blade, edge: Any) -> bool:
    middle = edge.positionAt(0.5)
    in_hub = np.hypot(middle.x, middle.y) < float(blade.hub) - NEAR
    in_eye = np.hypot(middle.x - float(blade.reach), middle.y) < float(blade.eye) - NEAR
    return not (in_hub or in_eye or middle.x > float(blade.reach) - NEAR)


def _bulge(fillet: Fillet) -> Any:
    """Bulge of a fillet run from the rim to the side, or back, with the metal on its left."""
    a, b = (
        np.arctan2(p[1] - fillet.centre[1], p[0] - fillet.centre[0])
        for p in (fillet.rim, fillet.side)
    )
    turn = np.abs((b - a + np.pi) % (2.0 * np.pi) - np.pi)
    return -np.tan(turn / 4.0)
