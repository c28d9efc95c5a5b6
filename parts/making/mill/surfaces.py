"""What a cutter meets on a solid: inside corners, slots, thin walls, and what is in its way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

import numpy as np

from parts.core.drawing import Hole
from parts.making.stl import triangles

WHOLE = 2.0 * np.pi - 1e-3
LEAST_OVERLAP = 4.0
"""Facing flats that share less than this each way [mm] make neither slot nor wall."""
SAME = 1e-6
OFF = 0.3
"""How far off a face a look out into the open begins [mm]: more than facets stand off a hollow face."""


@dataclass(frozen=True)
class Corner:
    """A hollow rounded corner: its radius, its axis, a place on it, and how long it is along the axis [mm]."""

    radius: float
    axis: np.ndarray
    place: np.ndarray
    length: float


@dataclass(frozen=True)
class Gap:
    """Two flats that face each other across air (a slot) or across metal (a wall): how far apart they are, the
    lesser of the two extents that they share, and the middle [mm]."""

    width: float
    depth: float
    place: np.ndarray
    metal: bool


@dataclass(frozen=True)
class Patch:
    """A face to be made: what it is, the direction it looks or its axis, a place on it, and its kind."""

    kind: str
    way: np.ndarray
    place: np.ndarray
    look: np.ndarray


def corners(solid: Any, holes: Sequence[Hole] = ()) -> list[Corner]:
    """Every hollow cylinder face that is neither a whole bore nor one of the holes, which are drilled."""
    return [
        Corner(one.radius, one.axis, one.place, one.length)
        for one in _rounds(solid)
        if one.hollow and not one.whole and not any(_drilled(one, hole) for hole in holes)
    ]


@dataclass(frozen=True)
class _Round:
    """A cylinder face: its radius, axis, the foot of its middle on the axis, its length, whether it is hollow,
    and whether it is round all the way, alone or with others on the same axis."""

    face: Any
    radius: float
    axis: np.ndarray
    place: np.ndarray
    length: float
    hollow: bool
    whole: bool


def _drilled(one: _Round, hole: Hole) -> bool:
    """True where a face is the wall of a hole that opens into another, as a relief does into its bore."""
    away = one.place - np.asarray(hole.place, float)
    return bool(
        abs(2.0 * one.radius - float(hole.diameter)) < SAME
        and abs(float(one.axis @ np.asarray(hole.axis, float))) > 1.0 - 1e-9
        and np.linalg.norm(away - (away @ one.axis) * one.axis) < SAME
    )


def _rounds(solid: Any) -> list[_Round]:
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.BRepTools import BRepTools

    rows = []
    turns: dict[tuple[float, ...], float] = {}
    for face in solid.Faces():
        if face.geomType() != "CYLINDER":
            continue
        # The face's own surface may be a cut-out of a cylinder, which does not say its radius.
        round_ = BRepAdaptor_Surface(face.wrapped).Cylinder()
        way, at = round_.Axis().Direction(), round_.Axis().Location()
        axis = np.array([way.X(), way.Y(), way.Z()])
        axis *= np.sign(axis[int(np.argmax(np.abs(axis)))])
        origin = np.array([at.X(), at.Y(), at.Z()])
        u0, u1, v0, v1 = BRepTools.UVBounds_s(face.wrapped)
        normal, on = _normal(face)
        foot = origin + ((on - origin) @ axis) * axis
        hollow = float(normal @ (on - foot)) < 0.0
        line = np.round([round_.Radius(), *axis, *(origin - (origin @ axis) * axis)], 4) + 0.0
        key = (float(hollow), *map(float, line))
        # Faces one after the other along an axis count once: what closes the round lies at the same height.
        turns[key] = turns.get(key, 0.0) + float(u1 - u0)
        rows.append((face, float(round_.Radius()), axis, foot, float(v1 - v0), hollow, key))
    return [_Round(*row, whole=turns[key] > WHOLE) for *row, key in rows]


def _normal(face: Any) -> tuple[np.ndarray, np.ndarray]:
    """The outward normal in the middle of a face's parameters, and that place."""
    from OCP.BRepGProp import BRepGProp_Face
    from OCP.gp import gp_Pnt, gp_Vec

    surface = BRepGProp_Face(face.wrapped)
    u0, u1, v0, v1 = surface.Bounds()
    place, normal = gp_Pnt(), gp_Vec()
    surface.Normal((u0 + u1) / 2.0, (v0 + v1) / 2.0, place, normal)
    found = np.array([normal.X(), normal.Y(), normal.Z()])
    return found / np.linalg.norm(found), np.array([place.X(), place.Y(), place.Z()])


def gaps(solid: Any) -> list[Gap]:
    """Pairs of parallel flats that face each other, across air or across metal."""
    flats = []
    for face in solid.Faces():
        if face.geomType() == "PLANE":
            normal = np.array(face.normalAt().toTuple())
            points = np.array([v.toTuple() for v in face.Vertices()])
            if len(points) > 1:
                flats.append((normal, points, np.array(face.Center().toTuple())))
    found = []
    for (n, p, c), (m, q, d) in combinations(flats, 2):
        if n @ m > -1.0 + 1e-9:
            continue
        across = float((d - c) @ n)
        shared = _shared(n, p, q)
        if shared is None or abs(across) < 1e-6:
            continue
        size, middle = shared
        place = middle + n * (float(c @ n) + across / 2.0)
        # Air lies between two flats that look at each other.
        metal = across < 0.0
        if bool(solid.isInside(tuple(place), 1e-6)) is metal:
            found.append(Gap(abs(across), float(min(size)), place, metal))
    return found


def _shared(
    normal: np.ndarray, p: np.ndarray, q: np.ndarray
) -> tuple[np.ndarray, np.ndarray] | None:
    """Size and middle of what the boxes of two flats share, seen along their normal."""
    aside = np.eye(3)[int(np.argmin(np.abs(normal)))]
    u = np.cross(normal, aside) / np.linalg.norm(np.cross(normal, aside))
    axes = np.array([u, np.cross(normal, u)])
    a, b = p @ axes.T, q @ axes.T
    low = np.maximum(a.min(axis=0), b.min(axis=0))
    high = np.minimum(a.max(axis=0), b.max(axis=0))
    size = high - low
    return (size, (low + high) / 2.0 @ axes) if np.all(size > LEAST_OVERLAP) else None


def patches(solid: Any) -> list[Patch]:
    """Every flat and rounded face, with where a tool would have to come from; holes and what is round all the
    way, which a drill and a lathe make, are left out."""
    found = []
    for face in solid.Faces():
        if face.geomType() == "PLANE":
            normal, _ = _normal(face)
            found.append(Patch("flat", normal, _on(face), normal))
    for one in _rounds(solid):
        if not one.whole:
            normal, on = _normal(one.face)
            kind = "inside corner" if one.hollow else "rounded"
            found.append(Patch(kind, one.axis, on, normal))
    return found


def _on(face: Any) -> np.ndarray:
    """A place that lies on a flat and in no hole of it: the middle of its largest facet."""
    points, corners_ = face.tessellate(0.5)
    places = np.array([p.toTuple() for p in points])[np.array(corners_)]
    cross = np.cross(places[:, 1] - places[:, 0], places[:, 2] - places[:, 0])
    return np.asarray(places[int(np.argmax(np.linalg.norm(cross, axis=1)))].mean(axis=0))


def is_turned(solid: Any) -> bool:
    """True where the solid has a face that is round all the way on the outside."""
    return any(one.whole and not one.hollow for one in _rounds(solid))


CHUCKED = 2.5
"""How much wider than its largest round a piece may be that is turned across its length [-]; common practice, no
source."""


def machines(solid: Any, holes: Sequence[Hole]) -> frozenset[str]:
    """What makes a solid: `lathe` where it has rounds that a chuck can hold it to turn, `mill` for all else.

    Args:
        solid: the piece.
        holes: its holes.

    Returns:
        One of them, or both.
    """
    rounds = [one for one in _rounds(solid) if one.whole and not one.hollow]
    if not rounds:
        return frozenset({"mill"})
    largest = max(rounds, key=lambda one: one.radius)
    places, _ = triangles(solid, 0.05, 0.2)
    off = places - largest.place
    along = off @ largest.axis
    across = np.linalg.norm(off - np.outer(along, largest.axis), axis=1).max()
    if across > max(CHUCKED * largest.radius, np.ptp(along) / 2.0):
        return frozenset({"mill"})
    faced = all(
        one.kind == "flat" and abs(float(one.way @ largest.axis)) > 1.0 - SAME
        for one in patches(solid)
    )
    on_axis = all(_on_axis(hole, largest) for hole in holes)
    return frozenset({"lathe"} if faced and on_axis else {"lathe", "mill"})


def _on_axis(hole: Hole, of: _Round) -> bool:
    away = np.asarray(hole.place, float) - of.place
    along = abs(float(np.asarray(hole.axis, float) @ of.axis)) > 1.0 - SAME
    return bool(along and np.linalg.norm(away - (away @ of.axis) * of.axis) < SAME)


@dataclass(frozen=True)
class Sight:
    """The solid as facets, to see whether a straight way out is free."""

    a: np.ndarray
    u: np.ndarray
    v: np.ndarray

    @classmethod
    def of(cls, solid: Any) -> Sight:
        places, rows = triangles(solid, 0.02, 0.1)
        a, b, c = np.moveaxis(places[rows], 1, 0)
        return cls(a, b - a, c - a)

    def free(self, start: np.ndarray, way: np.ndarray) -> bool:
        """True where nothing lies ahead of a place in a direction; Möller and Trumbore's test of each facet."""
        p = np.cross(way, self.v)
        det = np.einsum("ij,ij->i", self.u, p)
        safe = np.where(np.abs(det) > 1e-12, det, np.inf)
        s = start - self.a
        alpha = np.einsum("ij,ij->i", s, p) / safe
        q = np.cross(s, self.u)
        beta = q @ way / safe
        ahead = np.einsum("ij,ij->i", self.v, q) / safe
        hit = (alpha >= 0) & (beta >= 0) & (alpha + beta <= 1) & (ahead > 1e-9)
        return not bool(hit.any())


def looks_out(sight: Sight, patch: Patch, ways: Sequence[np.ndarray]) -> list[bool]:
    """From which directions a tool reaches a patch along a straight way."""
    start = patch.place + OFF * patch.look
    found = []
    for way in ways:
        along = abs(float(patch.way @ way))
        if patch.kind == "flat":
            lean = float(patch.way @ way)
            reach = lean > 1.0 - 1e-6 or abs(lean) < 1e-6
        else:
            reach = along > 1.0 - 1e-6
        found.append(bool(reach and sight.free(start, way)))
    return found
