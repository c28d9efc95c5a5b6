"""The solid that a splined bore takes out of a hub: one tooth space, repeated round the axis."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.standards.splines.form import Spline

if TYPE_CHECKING:
    import cadquery as cq

FLANK_POINTS = 6
OVER = 1.0
"""How far the tool stands beyond the faces of the hub [mm]."""
ON_AXIS = 1e-6
"""How near to the axis the sides of a sector must pass [mm]."""


def spline_tool(spline: Spline, width: float, lead_in: float) -> cq.Solid:
    """The tool of a bore whose hub lies from -width/2 to width/2 on z.

    The kernel is slow to meet a cone with the flanks, so it does this for one space only: the rest are
    turned copies.

    Args:
        spline: the form of the bore.
        width: width of the hub [mm].
        lead_in: depth of the 45 degree chamfer at both mouths [mm]; 0 for none.

    Returns:
        The tool; its first tooth space lies about +x.
    """
    import cadquery as cq

    axis = cq.Vector(0, 0, 0), cq.Vector(0, 0, 1)
    pitch = 360.0 / spline.teeth
    sector = _sector(spline, width / 2.0, lead_in)
    wall = cq.Compound.makeCompound([face for face in sector.Faces() if not _is_side(face)])
    turned = [wall.rotate(*axis, pitch * i) for i in range(spline.teeth)]
    shell = cq.Shell.makeShell([face for one in turned for face in one.Faces()])
    return cq.Solid.makeSolid(shell).clean()


def _sector(spline: Spline, half: float, lead_in: float) -> cq.Shape:
    """One space from the middle of a tooth to the middle of the next, in to the axis."""
    import cadquery as cq

    along = cq.Vector(0, 0, 1)
    face = cq.Face.makeFromWires(_sector_wire(spline, -half - OVER))
    sector: cq.Shape = cq.Solid.extrudeLinear(face, 2.0 * (half + OVER) * along)
    if lead_in <= 0.0:
        return sector
    narrow = float(spline.minor_internal) / 2.0
    deep = lead_in + OVER
    pitch = 360.0 / spline.teeth

    def mouth(low: float, high: float, z: float) -> cq.Shape:
        cone = cq.Solid.makeCone(low, high, deep, z * along, along, pitch)
        return cone.rotate(cq.Vector(), along, -pitch / 2.0)

    return sector.fuse(
        mouth(narrow + deep, narrow, -half - OVER), mouth(narrow, narrow + deep, half - lead_in)
    )


def _sector_wire(spline: Spline, z: float) -> cq.Wire:
    """Axis, half a tooth tip, flank, root, flank, half a tooth tip, axis."""
    import cadquery as cq

    space = spline.internal_space(points=FLANK_POINTS)

    def up(points: Iterable[Any]) -> list[cq.Vector]:
        return [cq.Vector(float(x), float(y), z) for x, y in points]

    def mirrored(points: list[cq.Vector]) -> list[cq.Vector]:
        return [cq.Vector(p.x, -p.y, p.z) for p in points]

    flank, fillet = up(space.flank), up(space.fillet)
    x, y = space.flank[0]
    tip, edge, middle = np.hypot(x, y), np.arctan2(y, x), np.pi / spline.teeth
    half_tip = up(
        [tip * np.array([np.cos(a), np.sin(a)]) for a in (edge, (edge + middle) / 2.0, middle)]
    )
    centre = cq.Vector(0, 0, z)
    line, arc, curve = cq.Edge.makeLine, cq.Edge.makeThreePointArc, cq.Edge.makeSpline
    other_tip, other_fillet = mirrored(half_tip), mirrored(fillet)
    edges = [
        line(centre, other_tip[2]),
        arc(*other_tip[::-1]),
        curve(mirrored(flank)),
        arc(*other_fillet),
    ]
    if not space.full_fillet:
        root = up([space.root[1]])[0]
        edges.append(arc(other_fillet[2], root, fillet[2]))
    edges += [arc(*fillet[::-1]), curve(flank[::-1]), arc(*half_tip), line(half_tip[2], centre)]
    return cq.Wire.assembleEdges(edges)


def _is_side(face: cq.Face) -> bool:
    """Whether a face only parts a sector from the next."""
    if face.geomType() != "PLANE":
        return False
    normal = face.normalAt()
    return bool(abs(normal.z) < 0.5 and abs(normal.dot(face.Center())) < ON_AXIS)
