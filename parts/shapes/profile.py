"""Plane figures of lines and arcs made into CadQuery wires and prisms."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from parts.strength.section.outline import Loop, Outline

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Place

AxisName = Literal["x", "y", "z"]

_FRAMES = {
    # axis of the prism: the directions in which the figure's two coordinates lie
    "x": ((0.0, 1.0, 0.0), (1.0, 0.0, 0.0)),
    "y": ((0.0, 0.0, 1.0), (0.0, 1.0, 0.0)),
    "z": ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
}
SHORTEST = 1e-7
"""Segments shorter than this [mm] are dropped: the kernel takes them for points."""


def wire(loop: Loop, plane: Any) -> cq.Wire:
    """A closed wire from a loop, in a CadQuery plane."""
    import cadquery as cq

    edges = []
    for segment in loop.curves():
        start, end = segment.start, segment.end
        if float(np.linalg.norm(end - start)) < SHORTEST:
            continue
        a, b = plane.toWorldCoords(tuple(start)), plane.toWorldCoords(tuple(end))
        if abs(segment.bulge) < 1e-12:
            edges.append(cq.Edge.makeLine(a, b))
        else:
            middle = segment.at(np.asarray(0.5))[0]
            edges.append(cq.Edge.makeThreePointArc(a, plane.toWorldCoords(tuple(middle)), b))
    return closed_wire(edges)


def closed_wire(edges: Sequence[cq.Edge]) -> cq.Wire:
    """A closed wire of edges in their order, each from where the one before ends.

    Two edges share one vertex from the outset: where each brings its own, a hair apart, the kernel keeps either, and no
    two runs give the same bytes.
    """
    import cadquery as cq
    from OCP.BRep import BRep_Tool
    from OCP.BRepBuilderAPI import (
        BRepBuilderAPI_MakeEdge,
        BRepBuilderAPI_MakeVertex,
        BRepBuilderAPI_MakeWire,
    )

    corners = [BRepBuilderAPI_MakeVertex(edge.startPoint().toPnt()).Vertex() for edge in edges]
    joined = BRepBuilderAPI_MakeWire()
    for edge, start, end in zip(edges, corners, [*corners[1:], corners[0]], strict=True):
        curve = BRep_Tool.Curve_s(edge.wrapped, 0.0, 1.0)
        joined.Add(BRepBuilderAPI_MakeEdge(curve, start, end, *edge.bounds()).Edge())
    return cq.Wire(joined.Wire())


def prism(outline: Outline, low: float, high: float, axis: AxisName = "z") -> cq.Workplane:
    """Extrude a figure along an axis of the part.

    Args:
        outline: one connected figure: its first loop outside, the others holes in it. Its coordinates
            are (x, y) for axis z, (y, z) for axis x and (z, x) for axis y.
        low: where the prism begins on the axis [mm].
        high: where it ends [mm].
        axis: the axis.

    Returns:
        The solid.
    """
    import cadquery as cq

    from parts.shapes.workplane import Workplane

    x_direction, normal = _FRAMES[axis]
    plane = cq.Plane(tuple(low * n for n in normal), x_direction, normal)
    outer, *holes = (wire(loop, plane) for loop in outline.loops)
    solid = cq.Solid.extrudeLinear(
        outer, holes, cq.Vector(*(float(high - low) * n for n in normal))
    )
    return Workplane(obj=solid)


def cylinder(
    diameter: float,
    low: float,
    high: float,
    axis: AxisName = "z",
    centre: tuple[float, float, float] = (0.0, 0.0, 0.0),
) -> cq.Workplane:
    """A round bar along an axis, `centre` a place on its centre line, `low` and `high` along the axis [mm]."""
    return cone(diameter, diameter, low, high, axis, centre)


def cone(
    low_diameter: float,
    high_diameter: float,
    low: float,
    high: float,
    axis: AxisName = "z",
    centre: tuple[float, float, float] = (0.0, 0.0, 0.0),
) -> cq.Workplane:
    """A tapered round bar along an axis; see `cylinder`."""
    import cadquery as cq

    from parts.shapes.workplane import Workplane

    direction = {"x": cq.Vector(1, 0, 0), "y": cq.Vector(0, 1, 0), "z": cq.Vector(0, 0, 1)}[axis]
    base = cq.Vector(*(0.0 if name == axis else c for name, c in zip("xyz", centre, strict=True)))
    start = base + direction * float(low)
    if low_diameter == high_diameter:
        solid = cq.Solid.makeCylinder(low_diameter / 2.0, float(high - low), start, direction)
    else:
        solid = cq.Solid.makeCone(
            low_diameter / 2.0, high_diameter / 2.0, float(high - low), start, direction
        )
    return Workplane(obj=solid)


def tube(outside: float, wall: float, start: Place, along: Place, long: float) -> cq.Solid:
    """A straight length of round tube from a place in any direction [mm]."""
    import cadquery as cq

    foot, way = cq.Vector(*start), cq.Vector(*along)
    outer, inner = (
        cq.Solid.makeCylinder(wide / 2.0, long, foot, way)
        for wide in (outside, outside - 2.0 * wall)
    )
    return outer.cut(inner)


def broken_hole(
    diameter: float,
    low: float,
    high: float,
    edge_break: float,
    axis: AxisName = "z",
    centre: tuple[float, float, float] = (0.0, 0.0, 0.0),
) -> cq.Workplane:
    """A tool that drills a hole from face `low` to face `high` and breaks both of its edges at 45 degrees."""
    over = 1.0
    tool = cylinder(diameter, low - over, high + over, axis, centre)
    if edge_break <= 0.0:
        return tool
    wide = diameter + 2.0 * (edge_break + over)
    bottom = cone(wide, diameter, low - over, low + edge_break, axis, centre)
    top = cone(diameter, wide, high - edge_break, high + over, axis, centre)
    return tool.union(bottom).union(top)
