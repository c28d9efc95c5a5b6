"""The faces behind a mesh: which of them each triangle lies on, and those that can be measured from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.making.stl import meshed


@dataclass(frozen=True)
class Face:
    """A face of a solid: `kind` is "flat" or "round", empty of all others.

    `at` [mm] is a place on it, or on the axis of a round one; `way` its normal or that axis; `radius` [mm] of a round
    one.
    """

    kind: str = ""
    at: tuple[float, ...] = ()
    way: tuple[float, ...] = ()
    radius: float = 0.0


@dataclass(frozen=True)
class Faced:
    """A mesh with its faces: points [mm] (n, 3), triangles (m, 3), the face of each (m,), and the faces."""

    points: np.ndarray
    corners: np.ndarray
    face: np.ndarray
    faces: tuple[Face, ...]


def faced(shape: Any, chord: float, angle: float) -> Faced:
    """Mesh the surface of a solid as `parts.making.stl.triangles` does, and keep its faces.

    Args:
        shape: a CadQuery Workplane or Shape.
        chord: largest distance of the mesh from the surface [mm].
        angle: largest angle between neighbouring facets [rad].

    Returns:
        The mesh.
    """
    from OCP.BRep import BRep_Tool
    from OCP.TopLoc import TopLoc_Location

    points, corners, kept = meshed(shape, chord, angle)
    solid = shape.val() if hasattr(shape, "val") else shape
    own = solid.Faces()
    many = [BRep_Tool.Triangulation_s(one.wrapped, TopLoc_Location()).NbTriangles() for one in own]
    face = np.repeat(np.arange(len(own)), many)[kept]
    return Faced(points, corners, face, tuple(map(_face, own)))


def _face(one: Any) -> Face:
    kind = one.geomType()
    if kind not in ("PLANE", "CYLINDER"):
        return Face()
    from OCP.BRepAdaptor import BRepAdaptor_Surface

    surface = BRepAdaptor_Surface(one.wrapped)
    round_ = kind == "CYLINDER"
    axis = surface.Cylinder().Axis() if round_ else surface.Plane().Axis()
    at, way = axis.Location(), axis.Direction()
    return Face(
        "round" if round_ else "flat",
        (at.X(), at.Y(), at.Z()),
        (way.X(), way.Y(), way.Z()),
        float(surface.Cylinder().Radius()) if round_ else 0.0,
    )
