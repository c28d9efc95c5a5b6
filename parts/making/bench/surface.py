"""The faces of a solid as a sheet must state them: flats, round faces, and which run into each other smoothly."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

SMOOTH = 1e-3
"""Sine of the angle below which two faces run into each other [-]."""
ACROSS = 0.05
"""Cosine of the angle between an edge and a length up to which it is square to it [-]."""
KINDS = ("plane", "cylinder", "cone", "sphere", "torus")


@dataclass(frozen=True)
class Surface:
    """A face: its kind (`freeform` where it is none of `KINDS`), a place on its axis (of a plane: on it), its axis
    (of a plane: its normal), its radius (of a torus: of its tube) and `ring`, that of a torus's middle [mm].

    `middle` lies on it or near it, for a reader to find it; `corners` are the ends of its edges (n, 3); `turn` is
    how far it goes about its axis and `lean` half the angle of a cone [rad]; `area` is in mm^2; `smooth` are the
    faces that it runs into without an edge, by their places in the list.
    """

    kind: str
    place: np.ndarray
    axis: np.ndarray
    radius: float
    ring: float
    middle: np.ndarray
    corners: np.ndarray
    turn: float = 0.0
    lean: float = 0.0
    area: float = 0.0
    smooth: tuple[int, ...] = ()

    @property
    def key(self) -> tuple[float | str, ...]:
        """The same for faces of one surface, as the halves of a cylinder."""
        foot = self.place - float(self.place @ self.axis) * self.axis
        if self.kind == "plane":
            foot = self.place - foot
        level = float(self.place @ self.axis) if self.kind in ("torus", "sphere") else 0.0
        sizes = np.round([*np.abs(self.axis), *foot, level, self.radius, self.ring], 3) + 0.0
        return (self.kind, *map(float, sizes))

    def off(self, point: Any) -> float:
        """Distance of a point from the axis [mm]."""
        away = np.asarray(point, float) - self.place
        return float(np.linalg.norm(away - (away @ self.axis) * self.axis))

    def normal(self, point: np.ndarray) -> np.ndarray | None:
        """The direction square to the face at a place on it; None where that is not known."""
        away = point - self.place
        along = float(away @ self.axis)
        out = away - along * self.axis
        if self.kind == "plane":
            return self.axis
        if self.kind == "sphere":
            return _unit(away)
        if self.kind == "cylinder":
            return _unit(out)
        if self.kind == "cone":
            return _unit(np.cos(self.lean) * _unit(out) - np.sin(self.lean) * self.axis)
        if self.kind == "torus":
            return _unit(away - self.ring * _unit(out))
        return None

    @property
    def called(self) -> str:
        """What it is, in words, for a message."""
        if self.kind == "plane":
            away = ", ".join(f"{v + 0.0:.3g}" for v in np.round(self.axis, 4))
            return f"flat square to ({away})"
        if self.kind == "cone":
            return f"cone of {2.0 * abs(np.degrees(self.lean)):.0f}°"
        return f"{self.kind} of radius {self.radius:.2f}" if self.radius else self.kind

    def holds(self, point: Any, within: float = 1e-3) -> bool:
        """True where a place lies on the surface, should it go on beyond the face."""
        p = np.asarray(point, float)
        if self.kind == "plane":
            return abs(float((p - self.place) @ self.axis)) < within
        if self.kind == "cylinder":
            return abs(self.off(p) - self.radius) < within
        if self.kind == "cone":
            along = float((p - self.place) @ self.axis)
            return abs(self.off(p) - self.radius - along * np.tan(self.lean)) < within
        if self.kind == "torus":
            along = float((p - self.place) @ self.axis)
            return abs(np.hypot(self.off(p) - self.ring, along) - self.radius) < within
        return False


def _unit(vector: np.ndarray) -> np.ndarray:
    long = float(np.linalg.norm(vector))
    return vector / long if long > 1e-12 else vector


@dataclass(frozen=True)
class Shell:
    """A solid taken apart: its faces, its true corners (n, 3), its round sharp edges as centre and axis,
    and all its sharp edges."""

    surfaces: tuple[Surface, ...]
    corners: np.ndarray
    rims: tuple[tuple[np.ndarray, np.ndarray], ...]
    edges: tuple[Any, ...]

    def edge_at(self, point: np.ndarray, way: np.ndarray) -> bool:
        """True where a sharp edge passes through a place square to a direction, so that a tool finds its level."""
        import cadquery as cq

        x, y, z = (float(v) for v in point)
        spot = cq.Vertex.makeVertex(x, y, z)
        for edge in self.edges:
            if float(edge.distance(spot)) < 1e-3:
                # Beside its end the kernel finds no foot on an edge.
                share = min(
                    (0.0, 1.0), key=lambda t, of=edge: (of.positionAt(t) - spot.Center()).Length
                )
                at_end = (edge.positionAt(share) - spot.Center()).Length < 1e-3
                along = (
                    edge.tangentAt(share)
                    if at_end
                    else edge.tangentAt(edge.paramAt(spot.Center()), mode="parameter")
                )
                if abs(float(np.dot(along.toTuple(), way))) < ACROSS:
                    return True
        return False


def shell_of(solid: Any) -> Shell:
    """Take a solid apart.

    Args:
        solid: a CadQuery shape.

    Returns:
        Its faces. A corner is a place where sharp edges meet at an angle: a caliper finds it, where it does not
        find the place at which an arc runs into a line.
    """
    import cadquery as cq
    from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE
    from OCP.TopExp import TopExp
    from OCP.TopTools import TopTools_IndexedDataMapOfShapeListOfShape, TopTools_ShapeMapHasher

    faces = solid.Faces()
    surfaces = [_surface(face) for face in faces]
    number: dict[int, list[int]] = {}
    hasher = TopTools_ShapeMapHasher()
    for i, face in enumerate(faces):
        number.setdefault(hasher(face.wrapped), []).append(i)
    beside = TopTools_IndexedDataMapOfShapeListOfShape()
    TopExp.MapShapesAndAncestors_s(solid.wrapped, TopAbs_EDGE, TopAbs_FACE, beside)
    smooth: list[set[int]] = [set() for _ in faces]
    meeting: dict[tuple[float, ...], list[np.ndarray]] = {}
    rims, edges = [], []
    for k in range(1, beside.Extent() + 1):
        two = []
        for shape in beside.FindFromIndex(k):
            two += [i for i in number[hasher(shape)] if faces[i].wrapped.IsSame(shape)]
        edge = _edge(beside.FindKey(k))
        if edge is None or len(two) != 2 or two[0] == two[1]:
            continue
        middle, ends, centre = edge
        a, b = (_square_to(surfaces[i], faces[i], middle) for i in two)
        if a is not None and b is not None and np.linalg.norm(np.cross(a, b)) < SMOOTH:
            smooth[two[0]].add(two[1])
            smooth[two[1]].add(two[0])
            continue
        edges.append(cq.Edge(beside.FindKey(k)))
        if centre is not None:
            rims.append(centre)
        for place, way in ends:
            meeting.setdefault(tuple(np.round(place, 4) + 0.0), []).append(way)
    sharp = [place for place, ways in meeting.items() if _bend(ways)]
    whole = [
        replace(one, smooth=tuple(sorted(near))) for one, near in zip(surfaces, smooth, strict=True)
    ]
    return Shell(tuple(whole), np.array(sharp, float).reshape(-1, 3), tuple(rims), tuple(edges))


def _square_to(one: Surface, face: Any, point: np.ndarray) -> np.ndarray | None:
    """The direction square to a face at a place; of one that is freeform, as the kernel finds it."""
    import cadquery as cq

    if one.kind != "freeform":
        return one.normal(point)
    x, y, z = (float(v) for v in point)
    return np.array(face.normalAt(cq.Vector(x, y, z)).toTuple())


def _bend(ways: list[np.ndarray]) -> bool:
    return any(np.linalg.norm(np.cross(ways[0], way)) > 1e-3 for way in ways[1:])


def _point(xyz: Any) -> np.ndarray:
    return np.array([xyz.X(), xyz.Y(), xyz.Z()])


def _edge(
    wrapped: Any,
) -> tuple[np.ndarray, list[tuple[np.ndarray, np.ndarray]], Any] | None:
    """The middle of an edge, its ends with their directions, and centre and axis where it is a whole circle."""
    from OCP.BRep import BRep_Tool
    from OCP.BRepAdaptor import BRepAdaptor_Curve
    from OCP.GeomAbs import GeomAbs_Circle
    from OCP.gp import gp_Pnt, gp_Vec
    from OCP.TopoDS import TopoDS

    edge = TopoDS.Edge_s(wrapped)
    if BRep_Tool.Degenerated_s(edge):
        return None
    curve = BRepAdaptor_Curve(edge)
    first, last = curve.FirstParameter(), curve.LastParameter()
    middle = _point(curve.Value((first + last) / 2.0 + 0.01 * (last - first)))
    centre = None
    if curve.GetType() == GeomAbs_Circle:
        circle = curve.Circle()
        centre = _point(circle.Location()), _point(circle.Axis().Direction())
    ends = []
    if not curve.IsClosed():
        for t in (first, last):
            place, way = gp_Pnt(), gp_Vec()
            curve.D1(t, place, way)
            ends.append((_point(place), _unit(_point(way))))
    return middle, ends, centre


def _surface(face: Any) -> Surface:
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.BRepTools import BRepTools
    from OCP.GeomAbs import (
        GeomAbs_Cone,
        GeomAbs_Cylinder,
        GeomAbs_Plane,
        GeomAbs_Sphere,
        GeomAbs_Torus,
    )

    of = BRepAdaptor_Surface(face.wrapped)
    kind = of.GetType()
    corners = np.array([v.toTuple() for v in face.Vertices()], float).reshape(-1, 3)
    u0, u1, v0, v1 = BRepTools.UVBounds_s(face.wrapped)
    middle = _point(of.Value((u0 + u1) / 2.0, (v0 + v1) / 2.0))
    turn, nothing = float(u1 - u0), np.zeros(3)
    if kind == GeomAbs_Plane:
        plane = of.Plane()
        return Surface(
            "plane", _point(plane.Location()), _point(plane.Axis().Direction()), 0.0, 0.0,
            np.array(face.Center().toTuple()), corners, area=float(face.Area()),
        )  # fmt: skip
    names = {
        GeomAbs_Cylinder: ("cylinder", "Cylinder"),
        GeomAbs_Cone: ("cone", "Cone"),
        GeomAbs_Sphere: ("sphere", "Sphere"),
        GeomAbs_Torus: ("torus", "Torus"),
    }
    if kind not in names:
        return Surface("freeform", middle, nothing, 0.0, 0.0, middle, corners)
    name, call = names[kind]
    one = getattr(of, call)()
    axis, place, ring, lean = _point(one.Position().Direction()), _point(one.Location()), 0.0, 0.0
    if name == "torus":
        radius, ring = float(one.MinorRadius()), float(one.MajorRadius())
    elif name == "cone":
        radius, lean = float(one.RefRadius()), float(one.SemiAngle())
    else:
        radius = float(one.Radius())
    return Surface(name, place, axis, radius, ring, middle, corners, turn, lean)
