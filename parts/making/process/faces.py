"""A solid taken apart for the shop: its faces, what they touch, and whether they meet in a corner or round it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

CHORD, TURN = 0.05, 0.3
"""Chord [mm] and angle [rad] of the points that a face is measured by."""
SAME = 1e-4
STRAIGHT = 1.0 - 1e-9
LOOKS, INSIDE = 60, 0.5
"""Into how many places of a flat one looks, at most, to see whether all of it is open to a tool, and how far from its
edge [mm]."""
TANGENT = 1e-2


@dataclass(frozen=True)
class Face:
    """A face of a solid.

    `kind` is the kernel's word for it. `normal` points outward at its middle, `on` is a place there. A round face has
    an axis, the foot of its middle on that axis, and a radius [mm]. The points lie on the face, shape (n, 3).
    """

    index: int
    kind: str
    normal: np.ndarray
    on: np.ndarray
    axis: np.ndarray
    foot: np.ndarray
    radius: float
    area: float
    points: np.ndarray
    turn: float
    within: np.ndarray
    """Places on it off its edges, all over it, shape (n, 3); of a face that is not flat its middle alone."""

    @property
    def flat(self) -> bool:
        return self.kind == "PLANE"

    @property
    def round(self) -> bool:
        return self.kind in ("CYLINDER", "CONE", "TORUS", "SPHERE")

    @property
    def hollow(self) -> bool:
        """True of a round face that looks at its axis."""
        return bool(self.normal @ (self.on - self.foot) < 0.0)

    def span(self, way: np.ndarray) -> tuple[float, float]:
        """Least and greatest height along a direction [mm]."""
        heights = self.points @ way
        return float(heights.min()), float(heights.max())

    def off(self, place: np.ndarray, axis: np.ndarray) -> np.ndarray:
        """Distance of its points from an axis [mm]."""
        away = self.points - place
        return np.asarray(np.linalg.norm(away - (away @ axis)[:, None] * axis, axis=1))

    def about(self, place: np.ndarray, axis: np.ndarray) -> bool:
        """True where it is round about an axis, or a flat square to it."""
        if self.flat:
            return bool(abs(self.normal @ axis) > STRAIGHT)
        if self.kind == "SPHERE":
            away = self.foot - place
            return bool(np.linalg.norm(away - (away @ axis) * axis) < SAME)
        away = self.foot - place
        return bool(
            self.round
            and abs(self.axis @ axis) > STRAIGHT
            and np.linalg.norm(away - (away @ axis) * axis) < SAME
        )


@dataclass(frozen=True)
class Solid:
    """A solid as its faces and what they touch."""

    shape: Any
    faces: tuple[Face, ...]
    edges: tuple[tuple[int, int, Any], ...]
    """Pairs of faces and the edge between them, as it runs round the first."""
    shapes: tuple[Any, ...]

    @classmethod
    def of(cls, shape: Any) -> Solid:
        shapes = shape.Faces()
        sides: dict[int, list[tuple[int, Any]]] = {}
        for i, face in enumerate(shapes):
            for edge in _edges(face):
                sides.setdefault(edge.hashCode(), []).append((i, edge))
        edges = tuple(
            (one[0][0], one[1][0], one[0][1])
            for one in sides.values()
            if len(one) == 2 and one[0][0] != one[1][0]
        )
        return cls(
            shape, tuple(_face(i, face) for i, face in enumerate(shapes)), edges, tuple(shapes)
        )

    @cached_property
    def points(self) -> np.ndarray:
        return np.concatenate([one.points for one in self.faces])

    @cached_property
    def _classifier(self) -> Any:
        from OCP.BRepClass3d import BRepClass3d_SolidClassifier

        return BRepClass3d_SolidClassifier(self.shape.wrapped)

    def holds(self, place: Any) -> bool:
        """True where a place is within the metal or on a face of it."""
        from OCP.gp import gp_Pnt
        from OCP.TopAbs import TopAbs_IN

        self._classifier.Perform(gp_Pnt(*map(float, place)), 1e-6)
        return bool(self._classifier.State() == TopAbs_IN or self._classifier.IsOnAFace())

    @cached_property
    def meetings(self) -> Mapping[tuple[int, int], float]:
        """How each pair of touching faces meets: -1 in an inside corner, 0 smoothly, 1 over an outside edge."""
        found: dict[tuple[int, int], float] = {}
        for i, j, edge in self.edges:
            sense = self._sense(i, j, edge)
            for key in ((i, j), (j, i)):
                found[key] = min(found.get(key, 1.0), sense)
        return found

    def thin(self, index: int) -> float:
        """About how wide a narrow face is: twice its area over the length of its edge [mm]."""
        return (
            2.0 * self.faces[index].area / max(float(self.shapes[index].outerWire().Length()), 1e-9)
        )

    def broken(self, edge_break: float) -> frozenset[int]:
        """Faces that break an edge: narrow, and aslant between two others over outside edges."""
        if edge_break <= 0.0:
            return frozenset()
        narrow = [
            one.index
            for one in self.faces
            if self.thin(one.index) < 1.6 * edge_break * np.sqrt(2.0)
        ]
        return frozenset(
            i for i in narrow
            if all(self.meetings[i, j] >= 0.0 or j in narrow for j in self.beside[i])
            and (self.faces[i].kind not in ("PLANE", "CYLINDER", "TORUS") or self._aslant(i))
        )  # fmt: skip

    def _aslant(self, i: int) -> bool:
        """Whether a flat leans at 45 degrees to both of the broader flats that it joins."""
        mine = self.faces[i]
        if not mine.flat:
            return False
        leans = [
            abs(float(mine.normal @ self.faces[j].normal))
            for j in self.beside[i]
            if self.faces[j].flat
        ]
        return bool(leans) and any(abs(lean - np.sqrt(0.5)) < 0.05 for lean in leans)

    @cached_property
    def beside(self) -> Mapping[int, tuple[int, ...]]:
        """The faces that touch each face."""
        found: dict[int, list[int]] = {one.index: [] for one in self.faces}
        for i, j in self.meetings:
            found[i].append(j)
        return {i: tuple(dict.fromkeys(js)) for i, js in found.items()}

    def _sense(self, i: int, j: int, edge: Any) -> float:
        place = edge.positionAt(0.5)
        try:
            n, m = (np.array(self.shapes[k].normalAt(place).toTuple()) for k in (i, j))
        except Exception:  # a pole of the surface has no normal
            return 0.0
        along = np.array(edge.tangentAt(0.5).toTuple())
        if edge.wrapped.Orientation().name == "TopAbs_REVERSED":
            along = -along
        # Into the first face, from an edge that has it on its left.
        lean = float(m @ np.cross(n, along))
        return 0.0 if abs(lean) < TANGENT else -float(np.sign(lean))


def _edges(face: Any) -> Iterator[Any]:
    """The edges of a face as they run round it."""
    import cadquery as cq
    from OCP.TopAbs import TopAbs_EDGE
    from OCP.TopExp import TopExp_Explorer

    explorer = TopExp_Explorer(face.wrapped, TopAbs_EDGE)
    while explorer.More():
        yield cq.Shape.cast(explorer.Current())
        explorer.Next()


def _face(index: int, face: Any) -> Face:
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.BRepGProp import BRepGProp_Face
    from OCP.BRepTools import BRepTools
    from OCP.gp import gp_Pnt, gp_Vec

    surface = BRepAdaptor_Surface(face.wrapped)
    kind = face.geomType()
    looked = BRepGProp_Face(face.wrapped)
    u0, u1, v0, v1 = BRepTools.UVBounds_s(face.wrapped)
    place, normal = gp_Pnt(), gp_Vec()
    looked.Normal((u0 + u1) / 2.0, (v0 + v1) / 2.0, place, normal)
    n = np.array([normal.X(), normal.Y(), normal.Z()])
    n = n / max(float(np.linalg.norm(n)), 1e-12)
    on = np.array([place.X(), place.Y(), place.Z()])
    axis, foot, radius = n, on, 0.0
    if kind in ("CYLINDER", "CONE", "TORUS", "SPHERE"):
        one = getattr(surface, kind.capitalize())()
        where = one.Position()
        way, at = where.Direction(), where.Location()
        axis = np.array([way.X(), way.Y(), way.Z()])
        axis = axis * np.sign(axis[int(np.argmax(np.abs(axis)))])
        origin = np.array([at.X(), at.Y(), at.Z()])
        foot = origin if kind in ("SPHERE", "TORUS") else origin + ((on - origin) @ axis) * axis
        if kind != "CONE":
            radius = float(one.MinorRadius() if kind == "TORUS" else one.Radius())
    points, corners = face.tessellate(CHORD, TURN)
    places = np.array([p.toTuple() for p in points])
    within = on[None]
    if kind == "PLANE" and corners:
        tris = places[np.array(corners)]
        cross = np.cross(tris[:, 1] - tris[:, 0], tris[:, 2] - tris[:, 0])
        on = tris[int(np.argmax(np.linalg.norm(cross, axis=1)))].mean(axis=0)
        away = (tris.mean(axis=1, keepdims=True) - tris).reshape(-1, 3)
        far = np.linalg.norm(away, axis=1, keepdims=True)
        inside = tris.reshape(-1, 3) + away * np.minimum(INSIDE / np.maximum(far, 1e-9), 0.5)
        each = np.unique(np.array(corners), return_index=True)[1]
        within = np.concatenate([on[None], inside[each[:: -(-len(each) // LOOKS)]]])
    return Face(
        index, kind, n, on, axis, foot, radius, float(face.Area()), places, float(u1 - u0), within
    )
