"""A frame tab as a solid: a flat, bent where it is bent, its edges broken, drilled, and coped to the tube."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from parts.families.frame_tab.shape import TabShape
from parts.features.section.outlines import figure

if TYPE_CHECKING:
    import cadquery as cq


def tab_solid(tab: TabShape) -> cq.Workplane:
    """The tab in the axes of the part, coped to its tube."""
    import cadquery as cq

    from parts.shapes.profile import cylinder, prism
    from parts.shapes.workplane import Workplane

    w, t, end, r = (float(v) for v in (tab.width, tab.thickness, tab.end, tab.rounded))
    c, R, start, reach = (
        float(v) for v in (tab.edge_break, tab.on.depth, tab.flat_from, tab.reach)
    )
    low, long, q = (-R if tab.bend is None else 0.0), reach + end - start, np.tan(np.pi / 8.0)
    arcs = [0.0, 0.0, q, 0.0, q, 0.0] if r > 0.0 else None
    plan = [
        (low, -w / 2),
        (long - r, -w / 2),
        (long, -w / 2 + r),
        (long, w / 2 - r),
        (long - r, w / 2),
        (low, w / 2),
    ]
    made = prism(figure(plan if r > 0.0 else [plan[0], (long, -w / 2), (long, w / 2), plan[5]],
        [0.0, q, 0.0, q, 0.0, 0.0] if arcs else None), -t / 2, t / 2)  # fmt: skip
    (origin, way), axis = tab.way(start), tab.frame(start)[2]
    plane = cq.Plane(tuple(map(float, origin)), tuple(map(float, way)), tuple(map(float, -axis)))
    made = Workplane(obj=made.val().moved(cq.Location(plane)))
    if tab.bend is not None:
        a, b, i = float(tab.bend.angle), float(tab.bend.at), float(tab.bend.radius)
        turn = np.tan(a / 4.0)
        m, s, k = np.array([R + b, i + t / 2]), np.sin(a), np.cos(a)
        inner, outer = m + i * np.array([s, -k]), m + (i + t) * np.array([s, -k])
        rows: list[Any] = [
            (-t / 2, 0.0),
            (-t / 2, R + b),
            outer[::-1],
            inner[::-1],
            (t / 2, R + b),
            (t / 2, 0.0),
        ]
        stem = figure(
            [(float(p[0]), float(p[1])) for p in rows[::-1]], [0.0, -turn, 0.0, turn, 0.0, 0.0]
        )
        made = made.union(prism(stem, -w / 2, w / 2, "y")).clean()
    if c > 0.0:
        made = made.newObject([e for e in made.edges().vals() if _breaks(tab, e)]).chamfer(c)
    for name in tab.holes:
        at = tab.points()[name]
        tool = cq.Solid.makeCylinder(
            float(tab.bore) / 2, 4 * t, cq.Vector(*(at - 2 * t * axis)), cq.Vector(*axis)
        )
        made = made.cut(Workplane(obj=tool))
    way_of_tube: Literal["z", "y"] = "z" if tab.stands == "across" else "y"
    tube = cylinder(2.0 * R, -2.0 * w, 2.0 * w, way_of_tube)
    if tab.on.wall[2]:
        tube = Workplane("XY").box(2.0 * R, 4.0 * w, 4.0 * w)
    return made.cut(tube)


def _breaks(tab: TabShape, edge: Any) -> bool:
    """Whether an edge of the tab is broken, before it is coped and drilled: not across the thickness, nor at seams."""
    if edge.geomType() != "LINE":
        return True
    if edge.Length() < float(tab.thickness) + 1e-6:
        return False
    lies = abs(edge.tangentAt(0.5).y) > 0.99
    tip = tab.way(float(tab.reach + tab.end))[0]
    far = np.asarray(edge.Center().toTuple()) - tip
    return not lies or bool(abs(far @ tab.way(float(tab.reach))[1]) < 1e-6)
