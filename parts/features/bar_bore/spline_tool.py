"""What a splined bore takes out of a hub, as a tool, or sewn into the hub: one tooth space, repeated round the axis."""

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
"""How near to the axis the sides of a sector must pass, and to a plane what lies in it [mm]."""


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

    sector = _sector(spline, width / 2.0, lead_in)
    wall = [face for face in sector.Faces() if not _is_side(face)]
    shell = cq.Shell.makeShell(_around(wall, spline.teeth, 0.0, "Faces"))
    return cq.Solid.makeSolid(shell).clean()


def splined(
    hub: cq.Shape, spline: Spline, width: float, lead_in: float, turn: float
) -> cq.Shape | None:
    """A body with the bore: its walls sewn into the two faces that they open in, as cutting would leave it.

    Cutting makes the kernel look for where some 200 faces of the tool meet each face of the body, and takes three times
    as long.

    Args:
        hub: the body, without the bore; the bore runs along z.
        spline: the form of the bore.
        width: width of the hub, from -width/2 to width/2 [mm].
        lead_in: depth of the 45 degree chamfer at both mouths [mm]; 0 for none.
        turn: angle of the first tooth space from +x [degrees].

    Returns:
        The body; None where the bore meets more of it than one flat face at each end.
    """
    import cadquery as cq

    levels = -width / 2.0, width / 2.0
    ends = [face for level in levels for face in hub.Faces() if _opens(face, level)]
    others = [face for face in hub.Faces() if not any(face.isSame(end) for end in ends)]
    wide = max(float(spline.major_internal) / 2.0, float(spline.minor_internal) / 2.0 + lead_in)
    if len(ends) != 2 or not _clear(others, wide, levels):
        return None
    corner = cq.Vector(-2.0 * wide, -2.0 * wide, levels[0])
    hub_box = cq.Solid.makeBox(4.0 * wide, 4.0 * wide, width, corner)
    sector = _sector(spline, width / 2.0, lead_in).intersect(hub_box).Faces()
    mouths = [face for level in levels for face in sector if _lies_at(face, level)]
    wall = [
        face for face in sector if not _is_side(face) and not any(face.isSame(m) for m in mouths)
    ]
    faces = [*others, *_around(wall, spline.teeth, turn, "Faces")]
    for end, mouth in zip(ends, mouths, strict=True):
        rim = [edge for edge in mouth.Edges() if not _runs_to_axis(edge)]
        (wire,) = cq.Wire.combine(_around(rim, spline.teeth, turn, "Edges"), tol=1e-4)
        faces.append(cq.Face.makeFromWires(end.outerWire(), [*end.innerWires(), wire]))
    return cq.Solid.makeSolid(cq.Shell.makeShell(faces)).clean()


def _opens(face: cq.Face, level: float) -> bool:
    """Whether a flat face at this level is one that the axis passes through."""
    import cadquery as cq

    return _lies_at(face, level) and face.distance(cq.Vertex.makeVertex(0.0, 0.0, level)) < ON_AXIS


def _clear(faces: Iterable[cq.Face], wide: float, levels: tuple[float, float]) -> bool:
    """Whether no face comes within a radius about the axis."""
    import cadquery as cq

    axis = cq.Edge.makeLine(*(cq.Vector(0, 0, level) for level in levels))
    for face in faces:
        box = face.BoundingBox()
        apart = max(box.xmin, -box.xmax, box.ymin, -box.ymax)
        if apart < wide and face.distance(axis) < wide + ON_AXIS:
            return False
    return True


def _around(one: Iterable[cq.Shape], teeth: int, turn: float, kind: str) -> list[Any]:
    """Shapes of one sector, turned to each sector."""
    import cadquery as cq

    group = cq.Compound.makeCompound(one)
    axis = cq.Vector(0, 0, 0), cq.Vector(0, 0, 1)
    turned = (group.rotate(*axis, 360.0 / teeth * i + turn) for i in range(teeth))
    return [each for copy in turned for each in getattr(copy, kind)()]


def _lies_at(face: cq.Face, level: float) -> bool:
    """Whether a face is flat and lies in a plane of this z."""
    if face.geomType() != "PLANE":
        return False
    plane = face.toPln()
    upright = abs(plane.Axis().Direction().Z()) > 1.0 - ON_AXIS
    return bool(upright and abs(plane.Location().Z() - level) < ON_AXIS)


def _runs_to_axis(edge: cq.Edge) -> bool:
    a, b = edge.startPoint(), edge.endPoint()
    return bool(edge.geomType() == "LINE" and abs(a.x * b.y - a.y * b.x) < ON_AXIS)


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

    from parts.shapes.profile import closed_wire

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
    if space.full_fillet:
        # One arc: where two meet, the kernel takes either one's end, and no two runs are the same to the last bit.
        bottom = [arc(other_fillet[0], fillet[2], fillet[0])]
    else:
        root = up([space.root[1]])[0]
        bottom = [arc(*other_fillet), arc(other_fillet[2], root, fillet[2]), arc(*fillet[::-1])]
    edges = [
        line(centre, other_tip[2]), arc(*other_tip[::-1]), curve(mirrored(flank)), *bottom,
        curve(flank[::-1]), arc(*half_tip), line(half_tip[2], centre),
    ]  # fmt: skip
    return closed_wire(edges)


def _is_side(face: cq.Face) -> bool:
    """Whether a face only parts a sector from the next."""
    if face.geomType() != "PLANE":
        return False
    normal = face.normalAt()
    return bool(abs(normal.z) < 0.5 and abs(normal.dot(face.Center())) < ON_AXIS)
