"""A bent tube as a solid: its straights and bends in turn, its ends coped."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from parts.families.coped_tube.saddle import Onto
from parts.families.coped_tube.solid import coped

FUZZ = 1e-5
"""How far apart the kernel takes faces that touch for one [mm]."""

if TYPE_CHECKING:
    import cadquery as cq

    from parts.families.coped_tube.axis import Segment
    from parts.families.coped_tube.bent_shape import BentShape


def bent_solid(tube: BentShape) -> cq.Workplane:
    """The tube between its longest points, less what its neighbours take."""
    from parts.features.bung.stretches import Outside, wall_drill
    from parts.shapes.workplane import Workplane

    segments = tube.line.segments
    solids = []
    for k, one in enumerate(segments):
        if one.radius is not None:
            solids.append(_bend(tube, one))
            continue
        first, last = k == 0, k == len(segments) - 1
        solids.append(_straight(tube, one, first, last))
    whole = Workplane(obj=solids[0])
    for solid in solids[1:]:
        whole = whole.union(Workplane(obj=solid), tol=FUZZ)
    if tube.vent is not None:
        at, hole = float(tube.vent.at), float(tube.vent.diameter)
        whole = whole.cut(wall_drill(Outside("round", float(tube.size[0])), hole, at, 0.0))
    return whole


def _straight(tube: BentShape, one: Segment, first: bool, last: bool) -> Any:
    """A straight, in its place: made along x from its own start, coped where it is an end."""
    import cadquery as cq

    from parts.shapes.profile import prism

    long = float(one.high) - float(one.low)
    low, high = (
        (float(tube.beyond(0)) if first else 0.0),
        long - (float(tube.beyond(1)) if last else 0.0),
    )
    # It begins inside its neighbours, as a straight tube does.
    low -= abs(low) / 2.0 if first else 0.0
    if last and isinstance(tube.b, Onto):
        high += abs(long - high) / 2.0
    made = prism(tube.hollow.outline, low, high, "x")
    far = 4.0 * float(tube.length)
    if first:
        made = coped(made, tube.a, 1.0, 0.0, far)
    if last and isinstance(tube.b, Onto):
        made = coped(made, tube.b, -1.0, long, far)
    x, _, normal = (tuple(map(float, v)) for v in np.asarray(one.frame))
    plane = cq.Plane(tuple(map(float, np.asarray(one.start))), x, normal)
    [solid] = made.solids().vals()
    return solid.moved(cq.Location(plane))


def _bend(tube: BentShape, one: Segment) -> Any:
    """A bend: its ring turned about the bend's axis."""
    import cadquery as cq

    start, x, to = (np.asarray(v, float) for v in (one.start, np.asarray(one.frame)[0], one.to))
    R, angle = float(one.radius), (float(one.high) - float(one.low)) / float(one.radius)
    plane = cq.Plane(tuple(map(float, start)), tuple(map(float, to)), tuple(map(float, x)))
    r, wall = float(tube.size[0]) / 2.0, float(tube.size[1])
    # The axis of the bend lies R along the plane's x; turning about its y carries x toward `to`.
    ring = cq.Workplane(plane).circle(r).circle(r - wall)
    return ring.revolve(np.degrees(angle), (R, 0.0, 0.0), (R, 1.0, 0.0)).val()
