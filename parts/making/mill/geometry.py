"""The solid as it is machined: tapped holes at their drill, fits where wished in the middle of their limits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.drawn import Hole

SAME = 1e-6


@dataclass(frozen=True)
class MachinedHole:
    """A hole, the diameter that it has in the file [mm], and in words why."""

    hole: Hole
    diameter: float
    words: str


def machined(hole: Hole, geometry: str) -> MachinedHole:
    """The diameter that a hole leaves with.

    Args:
        hole: the hole.
        geometry: "nominal" or "mid-tolerance".

    Returns:
        Tapped holes at their tap drill; fits at nominal size or in the middle of their limits.
    """
    if hole.thread is not None:
        stock = hole.thread.tap_drill().taken
        return MachinedHole(hole, float(stock.diameter), f"tap drill {stock.name}")
    if hole.limits is not None and geometry == "mid-tolerance":
        return MachinedHole(hole, float(np.mean(hole.limits)), "middle of its limits")
    return MachinedHole(hole, float(hole.diameter), "nominal")


def recut(solid: Any, holes: Sequence[MachinedHole]) -> Any:
    """The solid with its holes at the diameters that they leave with.

    Args:
        solid: the finished part, a CadQuery shape.
        holes: its holes.

    Returns:
        The solid.
    """
    import cadquery as cq

    larger = [one for one in holes if one.diameter > float(one.hole.diameter) + SAME]
    smaller = [one for one in holes if one.diameter < float(one.hole.diameter) - SAME]
    if larger:
        solid = solid.cut(*(_rod(one, one.diameter, 0.0) for one in larger))
    if smaller:
        # A lining within the bore: it stops short of the broken edges at both mouths.
        rings = [
            _rod(one, float(one.hole.diameter), _edge(solid, one.hole)).cut(
                _rod(one, one.diameter, 0.0)
            )
            for one in smaller
        ]
        solid = solid.fuse(*rings)
    made = solid.clean() if smaller else _settled(solid)
    solids = made.Solids()
    return solids[0] if len(solids) == 1 else cq.Compound.makeCompound(solids)


def _settled(solid: Any) -> Any:
    """The solid with its place in its geometry: faces of a solid that is merely moved take no names."""
    import cadquery as cq
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
    from OCP.gp import gp_Trsf
    from OCP.TopLoc import TopLoc_Location

    where = solid.wrapped.Location()
    if where.IsIdentity():
        return solid
    trsf: gp_Trsf = where.Transformation()
    bare = solid.wrapped.Located(TopLoc_Location())
    return cq.Shape.cast(BRepBuilderAPI_Transform(bare, trsf, True).Shape())


def _rod(one: MachinedHole, diameter: float, short: float) -> Any:
    import cadquery as cq

    hole = one.hole
    axis = cq.Vector(*map(float, hole.axis))
    deep = float(hole.through if hole.depth is None else hole.depth)
    place = cq.Vector(*map(float, hole.place)) + axis * short
    return cq.Solid.makeCylinder(diameter / 2.0, deep - 2.0 * short, place, axis)


def _edge(solid: Any, hole: Hole) -> float:
    """How far the broken edge at its mouth reaches into a hole [mm]."""
    place, axis = np.asarray(hole.place, float), np.asarray(hole.axis, float)
    found = [0.0]
    for face in solid.Faces():
        if face.geomType() != "CONE":
            continue
        ends = np.array([v.toTuple() for v in face.Vertices()]) - place
        off = np.linalg.norm(ends - (ends @ axis)[:, None] * axis, axis=1)
        along = ends @ axis
        if abs(float(off.min()) - float(hole.diameter) / 2.0) < 1e-4 and along.min() > -1e-4:
            found.append(float(along.max()))
    deep = float(hole.through if hole.depth is None else hole.depth)
    return min(min(found[1:], default=0.0), deep / 4.0)


def faces_of(solid: Any, one: MachinedHole) -> list[Any]:
    """The round faces of a hole in the solid as it leaves."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface

    place, axis = np.asarray(one.hole.place, float), np.asarray(one.hole.axis, float)
    found = []
    for face in solid.Faces():
        if face.geomType() != "CYLINDER":
            continue
        round_ = BRepAdaptor_Surface(face.wrapped).Cylinder()
        way, at = round_.Axis().Direction(), round_.Axis().Location()
        turn = np.array([way.X(), way.Y(), way.Z()])
        away = np.array([at.X(), at.Y(), at.Z()]) - place
        off = np.linalg.norm(away - (away @ axis) * axis)
        if (
            abs(round_.Radius() - one.diameter / 2.0) < 1e-6
            and abs(turn @ axis) > 1.0 - 1e-9
            and off < 1e-6
        ):
            found.append(face)
    return found
