"""A coped tube as a solid."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from parts.families.coped_tube.saddle import Onto
from parts.families.coped_tube.shape import TubeShape

if TYPE_CHECKING:
    import cadquery as cq


def tube_solid(tube: TubeShape) -> cq.Workplane:
    """The tube between its longest points, less what its neighbours take."""
    import cadquery as cq

    from parts.shapes.profile import cylinder
    from parts.shapes.workplane import Workplane

    outside, wall = (float(v) for v in tube.size)
    long, far = float(tube.length), 4.0 * float(tube.length)
    low, high = (float(tube.tip(i)[0]) for i in (0, 1))
    # It begins inside its neighbours: there no end of the bar is left as a sliver at its longest points.
    low = low / 2.0
    high = (high + long) / 2.0 if isinstance(tube.b, Onto) else high
    made = cylinder(outside, low, high, "x").cut(
        cylinder(outside - 2.0 * wall, low - 1.0, high + 1.0, "x")
    )
    for one, way, node in ((tube.a, 1.0, 0.0), (tube.b, -1.0, long)):
        if not isinstance(one, Onto):
            continue
        for k, other in enumerate([one, *one.beside]):
            place, along = other.runs(way)
            start = np.array([node, 0.0, 0.0]) + place - (far * along if k == 0 else 0.0)
            r, reach = float(other.tube.width_mm) / 2.0 + float(one.gap), 2.0 * far
            tool = cq.Solid.makeCylinder(r, reach, cq.Vector(*start), cq.Vector(*along))
            made = made.cut(Workplane(obj=tool))
    return made
