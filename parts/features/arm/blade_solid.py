"""The blade of an arm as a solid: straight walls, pockets, and edge breaks along fillets, taper and crank.

The edges are broken by cutting with frusta built for it: the kernel's own chamfer fails on fillets whose upper
edge runs in an inclined face.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.features.arm.blade import Blade, Fillet
from parts.features.section.outlines import figure
from parts.strength.section.outline import Outline

if TYPE_CHECKING:
    import cadquery as cq

OVERLAP = 1.0
"""How far the blade runs into a block, so that the two are one solid [mm]."""
BEYOND = 0.5
"""How far a frustum that breaks edges reaches past the walls and faces, in edge breaks [-]."""
ARC_POINTS = 9

Path = list[list[tuple[float, float]]]
"""A closed path in plan: each run is a line of two places or an arc of many [mm]."""


def solid(blade: Blade, inner: float, c: float) -> cq.Workplane:
    """The blade with its pockets milled and its edges broken.

    Args:
        blade: its dimensions, single values.
        inner: radius within the hub to which it is built in [mm].
        c: edge break [mm].

    Returns:
        The solid, running into hub and end.
    """
    from parts.shapes.profile import prism

    tall = float(blade.hub) + abs(blade.arm.crank) + 3.0 * float(blade.arm.thickness) + 10.0
    body = prism(plan(blade, inner), -tall, tall)
    body = body.intersect(_slab(blade, lambda x: blade.thickness(x) / 2.0))
    if c > 0.0:
        body = body.intersect(_broken_outside(blade, c))
    if blade.arm.pocket is not None:
        body = body.cut(_pockets(blade, tall))
        if c > 0.0:
            for side in (-1.0, 1.0):
                body = body.cut(_mouth(blade, c, side))
    return body


def plan(blade: Blade, inner: float) -> Outline:
    """The blade seen along the bar, from within the hub into the end, for one part [mm].

    A filleted side turns square to the rim into the hub, as far as a circle of radius `inner`; a sharp
    one runs on straight.
    """
    root, tip = blade.root(), blade.tip()
    points: list[tuple[Any, Any]] = []
    bulges: list[Any] = []
    if blade.eye <= 0.0:
        x = blade.reach + OVERLAP
        points.append((x, tip.rim[1] if tip.radius > 0.0 else blade.straight(x)))
    elif tip.radius <= 0.0:
        points.append((blade.reach, blade.straight(blade.reach)))
    points += [tip.rim, tip.side] if tip.radius > 0.0 else []
    bulges += [0.0] * (len(points) - 2) + [_bulge(tip), 0.0] if tip.radius > 0.0 else [0.0]
    if root.radius > 0.0:
        share = inner / np.hypot(*root.rim)
        points += [root.side, root.rim, (root.rim[0] * share, root.rim[1] * share)]
        bulges += [_bulge(root), 0.0, -np.tan(np.arctan2(root.rim[1], root.rim[0]) / 2.0)]
    else:
        points.append((0.0, blade.straight(0.0)))
        bulges.append(0.0)
    # The lower side is the upper one walked back; each of its arcs is that of the segment mirrored.
    points += [(x, -y) for x, y in reversed(points)]
    bulges += [*reversed(bulges[:-1]), 0.0]
    if blade.eye > 0.0 and tip.radius > 0.0:
        points.append((blade.reach, 0.0))
        bulges.append(0.0)
    return figure(points, bulges)


def _slab(blade: Blade, half: Callable[[Any], Any]) -> cq.Workplane:
    """What lies within `half(x)` of the centre line, from the hub's middle to the end's, for every y."""
    from parts.shapes.profile import prism

    low, high = 0.0, float(blade.reach) + OVERLAP
    wide = 2.0 * high + 10.0
    # Figures along y are in (z, x).
    ends = [float(blade.middle(x) + side * half(x)) for x in (low, high) for side in (-1.0, 1.0)]
    corners = [(ends[0], low), (ends[1], low), (ends[3], high), (ends[2], high)]
    return prism(figure(corners), -wide, wide, "y")


def _pockets(blade: Blade, tall: float) -> cq.Workplane:
    """What is milled from both faces, down to the floor."""
    from parts.shapes.profile import prism

    pocket = blade.arm.pocket
    assert pocket is not None
    low, high = blade.pocket_span()
    (_, ay, at), (_, by, bt) = blade.pocket_corner(True), blade.pocket_corner(False)
    upper = [
        (high, by), (bt, blade.pocket_side(bt)), (at, blade.pocket_side(at)), (low, ay),
    ]  # fmt: skip
    points = [*upper, *((x, -y) for x, y in reversed(upper))]
    tilt = np.arctan(blade.slope)
    near, far = np.tan((np.pi / 2.0 - tilt) / 4.0), np.tan((np.pi / 2.0 + tilt) / 4.0)
    tool = prism(figure(points, [far, 0.0, near, 0.0, near, 0.0, far, 0.0]), -tall, tall)
    floor = _slab(blade, lambda x: pocket.floor / 2.0 + 0.0 * x)
    return tool.cut(floor)


def _broken_outside(blade: Blade, c: float) -> cq.Workplane:
    """What stays when the outer edges of both faces are broken: two frusta, base to base."""
    d = BEYOND * c
    levels = [(-1.0, d, c + d), (-1.0, -c - d, -d), (1.0, -c - d, -d), (1.0, d, c + d)]
    return _loft(blade, [(side, over, _sides(blade, k)) for side, over, k in levels])


def _mouth(blade: Blade, c: float, side: float) -> cq.Workplane:
    """What is cut away to break the edges of the pocket in one face."""
    d = BEYOND * c
    levels = [(-c - d, -d), (d, c + d)]
    return _loft(blade, [(side, over, _pocket_sides(blade, k)) for over, k in levels])


def _loft(blade: Blade, levels: Sequence[tuple[float, float, Path]]) -> cq.Workplane:
    """A ruled solid through paths, each parallel to the upper (1) or lower (-1) face and `over` outside it."""
    import cadquery as cq

    from parts.shapes.profile import closed_wire
    from parts.shapes.workplane import Workplane

    def place(x: float, y: float, side: float, over: float) -> cq.Vector:
        face = float(blade.middle(x)) + side * (float(blade.thickness(x)) / 2.0 + over)
        return cq.Vector(float(x), float(y), face)

    wires = []
    for side, over, path in levels:
        edges = []
        for run in path:
            places = [place(x, y, side, over) for x, y in run]
            line = len(places) == 2
            edges.append(cq.Edge.makeLine(*places) if line else cq.Edge.makeSpline(places))
        wires.append(closed_wire(edges))
    return Workplane(obj=cq.Solid.makeLoft(wires, True))


def _sides(blade: Blade, k: float) -> Path:
    """The blade seen along the bar, its free sides moved inward by k; within hub and end it runs wide."""
    root, tip, long = blade.root(), blade.tip(), float(np.sqrt(1.0 + blade.slope**2))
    hub, eye = float(blade.hub), float(blade.eye)

    def straight(x: float) -> tuple[float, float]:
        return x, float(blade.straight(x)) - k * long

    far = float(blade.reach) + (0.1 * eye if eye > 0.0 else 2.0 * OVERLAP)
    runs: Path = []
    if tip.radius > 0.0:
        arc = _arc(tip, k)[::-1]
        wide = (
            (float(blade.reach) + 0.3 * eye, 0.6 * eye)
            if eye > 0.0
            else (far, float(tip.rim[1]) + 1.0)
        )
        runs += [[wide, arc[0]], arc]
    start = runs[-1][-1] if runs else straight(far)
    if root.radius > 0.0:
        arc = _arc(root, k)
        runs += [[start, arc[0]], arc, [arc[-1], (-0.3 * hub, 0.6 * hub)]]
    else:
        runs.append([start, straight(-0.1 * hub)])
    return _closed(runs)


def _pocket_sides(blade: Blade, k: float) -> Path:
    """The pocket seen along the bar, its walls moved outward by k."""
    pocket = blade.arm.pocket
    assert pocket is not None
    r, tilt = float(pocket.corner) + k, float(np.arctan(blade.slope))
    runs: Path = []
    for at_hub, angles in ((False, (0.0, np.pi / 2.0 + tilt)), (True, (np.pi / 2.0 + tilt, np.pi))):
        x, y, _ = (float(v) for v in blade.pocket_corner(at_hub))
        turn = np.linspace(*angles, ARC_POINTS)
        arc = [(x + r * float(np.cos(a)), y + r * float(np.sin(a))) for a in turn]
        if runs:
            runs.append([runs[-1][-1], arc[0]])
        runs.append(arc)
    return _closed(runs)


def _closed(upper: Path) -> Path:
    """A path symmetrical about the x axis from its upper half, walked toward the hub."""
    lower = [[(x, -y) for x, y in run[::-1]] for run in upper[::-1]]
    return [
        *upper, [upper[-1][-1], lower[0][0]], *lower, [lower[-1][-1], upper[0][0]],
    ]  # fmt: skip


def _arc(fillet: Fillet, k: float) -> list[tuple[float, float]]:
    """Places along a fillet, moved inward by k, from the side to the rim [mm]."""
    x, y = (float(v) for v in fillet.centre)
    ends = [float(np.arctan2(p[1] - y, p[0] - x)) for p in (fillet.side, fillet.rim)]
    turn = (ends[1] - ends[0] + np.pi) % (2.0 * np.pi) - np.pi
    r = float(fillet.radius) + k
    angles = ends[0] + turn * np.linspace(0.0, 1.0, ARC_POINTS)
    return [(x + r * float(np.cos(a)), y + r * float(np.sin(a))) for a in angles]


def _bulge(fillet: Fillet) -> Any:
    """Bulge of a fillet run from the rim to the side, or back, with the metal on its left."""
    a, b = (
        np.arctan2(p[1] - fillet.centre[1], p[0] - fillet.centre[0])
        for p in (fillet.rim, fillet.side)
    )
    turn = np.abs((b - a + np.pi) % (2.0 * np.pi) - np.pi)
    return -np.tan(turn / 4.0)
