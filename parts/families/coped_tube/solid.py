"""A coped tube as a solid."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from parts.families.coped_tube.on_box import OntoBox
from parts.families.coped_tube.saddle import Onto
from parts.families.coped_tube.shape import TubeShape

if TYPE_CHECKING:
    import cadquery as cq


def tube_solid(tube: TubeShape) -> cq.Workplane:
    """The tube between its longest points, less what its neighbours take."""
    from parts.features.bung.stretches import Outside, wall_drill
    from parts.shapes.profile import prism

    long, far = float(tube.length), 4.0 * float(tube.length)
    low, high = (float(tube.tip(i)[0]) for i in (0, 1))
    # It begins inside its neighbours: there no end of the bar is left as a sliver at its longest points.
    low -= abs(low) / 2.0
    high = high + abs(long - high) / 2.0 if isinstance(tube.b, Onto) else high
    made = prism(tube.hollow.outline, low, high, "x")
    for one, way, node in ((tube.a, 1.0, 0.0), (tube.b, -1.0, long)):
        if isinstance(one, Onto):
            made = coped(made, one, way, node, far)
    if tube.vent is not None:
        hole = wall_drill(
            Outside("round", float(tube.size[0])),
            float(tube.vent.diameter),
            float(tube.vent.at),
            0.0,
        )
        made = made.cut(hole)
    return made


def coped(made: cq.Workplane, one: Onto, way: float, node: float, far: float) -> cq.Workplane:
    """A tube along x less what the neighbours of an end take; `far` is longer than the tube [mm]."""
    import cadquery as cq

    from parts.shapes.workplane import Workplane

    for k, other in enumerate([one, *one.beside]):
        place, along = other.runs(way)
        start = np.array([node, 0.0, 0.0]) + place - (far * along if k == 0 else 0.0)
        if isinstance(other, OntoBox):
            tool = _beyond(node, other, way, float(one.gap), far)
        else:
            r, reach = float(other.tube.width_mm) / 2.0 + float(one.gap), 2.0 * far
            tool = cq.Solid.makeCylinder(r, reach, cq.Vector(*start), cq.Vector(*along))
        made = made.cut(Workplane(obj=tool))
    return made


def _beyond(node: float, one: OntoBox, way: float, gap: float, far: float) -> cq.Solid:
    """All that lies beyond the face of a box [mm]."""
    import cadquery as cq

    i, n, _ = np.asarray(one.frame(way), float)
    cos, sin = np.cos(float(one.angle)), np.sin(float(one.angle))
    out, along = sin * i - cos * n, cos * i + sin * n
    foot = np.array([node, 0.0, 0.0]) + out * (float(one.tube.height_mm) / 2.0 + gap)
    plane = cq.Plane(tuple(foot), tuple(along), tuple(-out))
    return cq.Workplane(plane).rect(2.0 * far, 2.0 * far).extrude(far).val()
