"""Every dimension of a drawing measured again on the solid, by its faces and not by the sheet's lines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.drawing import Angle, Callout, Diameter, Hole, Linear, Marks, Radius

SAME = 1e-4
"""How far a dimension may differ from the solid [mm or rad]: the kernel keeps 1e-7, fits of surfaces less."""


NEARBY = 0.02
"""How near a plane must pass a place to count as meant [mm]."""


@dataclass(frozen=True)
class Measured:
    """A dimension as the drawing states it and as the solid has it; nan where the solid has none such."""

    name: str
    stated: float
    found: float
    of_the_edge: bool = False
    """True of a countersink, which grows with the break of the edge."""

    @property
    def ok(self) -> bool:
        return bool(abs(self.stated - self.found) <= SAME)

    def words(self) -> str:
        """Name, stated and found value, for a message."""
        found = "nothing there" if np.isnan(self.found) else f"{self.found:.4f}"
        return f"{self.name} {self.stated:.4f}, on the solid {found}"


@dataclass(frozen=True)
class Round:
    """A round face: its kind, the place and direction of its axis, its radius, and how far it reaches.

    The radius of a torus is that of its tube, and `ring` that of the tube's middle. `low` and `high` are measured along
    the axis from its place [mm].
    """

    kind: str
    place: np.ndarray
    axis: np.ndarray
    radius: float
    ring: float
    low: float
    high: float

    def off(self, point: Any) -> float:
        """Distance of a point from the axis [mm]."""
        away = np.asarray(point, float) - self.place
        return float(np.linalg.norm(away - (away @ self.axis) * self.axis))


@dataclass(frozen=True)
class Faces:
    """What a solid can be measured by: flat faces, round faces, the ends and directions of its edges; `box` is how far
    it reaches along x, y and z, shape (2, 3) [mm]."""

    flats: tuple[tuple[np.ndarray, np.ndarray], ...]
    rounds: tuple[Round, ...]
    corners: np.ndarray
    edges: np.ndarray
    box: np.ndarray


def faces_of(solid: Any) -> Faces:
    """Take a solid apart.

    Args:
        solid: a CadQuery shape.

    Returns:
        Its faces.
    """
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.GeomAbs import GeomAbs_Plane

    flats, rounds = [], []
    for face in solid.Faces():
        surface = BRepAdaptor_Surface(face.wrapped)
        if surface.GetType() == GeomAbs_Plane:
            plane = surface.Plane()
            flats.append((_point(plane.Location()), _point(plane.Axis().Direction())))
        else:
            rounds += list(_round(surface, face))
    corners = np.array([v.toTuple() for v in solid.Vertices()]).reshape(-1, 3)
    lines = [e for e in solid.Edges() if e.geomType() == "LINE"]
    edges = np.array([(e.endPoint() - e.startPoint()).normalized().toTuple() for e in lines])
    around = solid.BoundingBox()
    box = np.array([[getattr(around, f"{axis}{end}") for axis in "xyz"] for end in ("min", "max")])
    return Faces(tuple(flats), tuple(rounds), corners, edges.reshape(-1, 3), box)


def _point(xyz: Any) -> np.ndarray:
    return np.array([xyz.X(), xyz.Y(), xyz.Z()])


def _round(surface: Any, face: Any) -> Iterator[Round]:
    from OCP.GeomAbs import GeomAbs_Cone, GeomAbs_Cylinder, GeomAbs_Sphere, GeomAbs_Torus

    kind = surface.GetType()
    if kind == GeomAbs_Cylinder:
        one, name = surface.Cylinder(), "cylinder"
        radius, ring = one.Radius(), 0.0
    elif kind == GeomAbs_Torus:
        one, name = surface.Torus(), "torus"
        radius, ring = one.MinorRadius(), one.MajorRadius()
    elif kind == GeomAbs_Sphere:
        one, name = surface.Sphere(), "sphere"
        radius, ring = one.Radius(), 0.0
    elif kind == GeomAbs_Cone:
        one, name = surface.Cone(), "cone"
        radius, ring = 0.0, 0.0
    else:
        return
    axis = _point(one.Position().Direction())
    place = _point(one.Location())
    ends = np.array([v.toTuple() for v in face.Vertices()]).reshape(-1, 3)
    along = (ends - place) @ axis
    yield Round(name, place, axis, float(radius), float(ring), along.min(), along.max())


def measured(marks: Marks, solid: Any) -> list[Measured]:
    """Measure everything that a drawing says in numbers.

    Args:
        marks: what the drawing says.
        solid: the finished piece, a CadQuery shape.

    Returns:
        Stated and found values, in the order of the drawing.
    """
    faces = faces_of(solid)
    found: list[Measured] = []
    for one in marks.dimensions:
        for size in one.sizes if isinstance(one, Callout) else (one,):
            found.append(Measured(size.name, float(size.value), _value(faces, size)))
    for hole in marks.holes:
        found += _hole(faces, hole)
    return found


def _value(faces: Faces, one: Any) -> float:
    if isinstance(one, Linear):
        way = np.asarray(one.along, float)
        ends = [_level(faces, way, np.asarray(p, float)) for p in (one.start, one.end)]
        return abs(ends[1] - ends[0])
    if isinstance(one, Diameter):
        return _diameter(faces, one.centre, one.axis, one.value)
    if isinstance(one, Radius):
        return _radius(faces, one)
    assert isinstance(one, Angle)
    first = np.asarray(one.first, float) if one.from_axis else _direction(faces, one.first)
    return float(np.arccos(np.clip(first @ _direction(faces, one.second), -1.0, 1.0)))


def _level(faces: Faces, way: np.ndarray, near: np.ndarray) -> float:
    """The level along a direction, nearest to a place, at which the solid has something to measure from.

    It may be a flat square to the direction, the axis or the side of something round, a corner, or the outermost place.
    It may also be a middle: between the outermost flats, or between the two ends of a slot about the place.
    """
    flats = [float(place @ way) for place, normal in faces.flats if abs(normal @ way) > 1.0 - 1e-9]
    levels = [*flats, (min(flats) + max(flats)) / 2.0] if flats else []
    for one in faces.rounds:
        middle, turn = float(one.place @ way), float(one.axis @ way)
        if abs(turn) < 1e-9:
            levels += [middle, middle - one.radius - one.ring, middle + one.radius + one.ring]
        elif abs(turn) > 1.0 - 1e-9:
            levels += [middle + turn * one.low, middle + turn * one.high]
        elif one.off(near) < 1e-6:
            levels.append(float(near @ way))
    levels += list(faces.corners @ way)
    if np.max(np.abs(way)) > 1.0 - 1e-9:
        levels += list(faces.box @ way)
    if _between_ends(faces, near):
        levels.append(float(near @ way))
    levels += _crossing(faces, way, near)
    stated = float(near @ way)
    return min(levels, key=lambda level: abs(level - stated), default=float("nan"))


def _between_ends(faces: Faces, near: np.ndarray) -> bool:
    """Whether a place lies midway between two round walls of one radius, as the ends of a slot are."""
    walls = [one for one in faces.rounds if one.kind == "cylinder"]
    if not walls:
        return False
    axis = np.array([one.axis for one in walls])
    radius = np.array([one.radius for one in walls])
    away = near - np.array([one.place for one in walls])
    away -= np.sum(away * axis, axis=1)[:, None] * axis
    # Two axes are as far from a place midway, on opposite sides.
    opposite = np.linalg.norm(away[:, None] + away, axis=-1) < 2e-6
    alike = np.abs(radius[:, None] - radius) < 1e-6
    parallel = np.abs(axis @ axis.T) > 1.0 - 1e-9
    apart = np.linalg.norm(away, axis=1) > 1e-6
    return bool(np.any(opposite & alike & parallel & apart))


def _crossing(faces: Faces, way: np.ndarray, near: np.ndarray) -> list[float]:
    """Levels at which the line through a place meets flats aslant to it, or their corner if they went on."""
    found = []
    for place, normal in faces.flats:
        lean = float(normal @ way)
        if 0.05 < abs(lean) < 1.0 - 1e-9:
            run = float(normal @ (place - near)) / lean
            if abs(run) < NEARBY:
                found.append(float(near @ way) + run)
    return found


def _diameter(faces: Faces, centre: Any, axis: Any, near: float) -> float:
    """The diameter, nearest to the one stated, of what is round about an axis: a face or the end of a cone."""
    found = []
    for one in faces.rounds:
        if abs(float(one.axis @ np.asarray(axis))) > 1.0 - 1e-9 and one.off(centre) < 1e-6:
            found.append(2.0 * one.radius)
    away = faces.corners - np.asarray(centre, float)
    on_axis = (away @ np.asarray(axis))[:, None] * np.asarray(axis)
    found += list(2.0 * np.linalg.norm(away - on_axis, axis=1))
    return min(found, key=lambda d: abs(d - near), default=float("nan"))


def _radius(faces: Faces, stated: Radius) -> float:
    axis, centre = np.asarray(stated.axis, float), np.asarray(stated.centre, float)
    found = []
    for one in faces.rounds:
        along = abs(float(one.axis @ axis))
        if one.kind == "cylinder" and along > 1.0 - 1e-9 and one.off(centre) < 1e-5:
            found.append(one.radius)
        level = float((centre - one.place) @ one.axis)
        if one.kind == "torus" and abs(level) < 1e-5 and abs(one.off(centre) - one.ring) < 1e-5:
            found.append(one.radius)
    return min(found, key=lambda r: abs(r - stated.value), default=float("nan"))


def _direction(faces: Faces, near: Any) -> np.ndarray:
    """The direction of an edge or an axis of the solid nearest to the one stated, the same way round."""
    ways = [one.axis for one in faces.rounds] + list(faces.edges)
    ways += [normal for _, normal in faces.flats]
    wanted = np.asarray(near, float)
    best = max(ways, key=lambda way: abs(float(way @ wanted)))
    return np.asarray(best * np.sign(best @ wanted))


def _hole(faces: Faces, hole: Hole) -> Iterator[Measured]:
    place, axis = np.asarray(hole.place, float), np.asarray(hole.axis, float)
    bores = [
        one
        for one in faces.rounds
        if one.kind == "cylinder"
        and abs(float(one.axis @ axis)) > 1.0 - 1e-9
        and one.off(place) < 1e-6
        and _reaches(one, place, axis, hole)
    ]
    best = min(bores, key=lambda one: abs(2.0 * one.radius - hole.diameter), default=None)
    yield Measured(hole.name, hole.diameter, float("nan") if best is None else 2.0 * best.radius)
    mouth = float(place @ axis)
    yield Measured(f"mouth of {hole.name}", 0.0, _level(faces, axis, place) - mouth)
    if best is not None and hole.depth is not None:
        far = max(_ends(one, axis)[1] for one in bores if one.radius >= best.radius - 1e-6)
        yield Measured(f"depth of {hole.name}", hole.depth, far - mouth)
    if hole.counterbore is not None:
        wide, down = hole.counterbore
        yield Measured(f"counterbore of {hole.name}", wide, _diameter(faces, place, axis, wide))
        floor = _level(faces, axis, place + down * axis) - mouth
        yield Measured(f"depth of the counterbore of {hole.name}", down, floor)
    if hole.countersink > hole.diameter:
        found = _diameter(faces, place, axis, hole.countersink)
        yield Measured(f"countersink of {hole.name}", hole.countersink, found, of_the_edge=True)


def _ends(one: Round, axis: np.ndarray) -> tuple[float, float]:
    middle, turn = float(one.place @ axis), float(one.axis @ axis)
    ends = sorted([middle + turn * one.low, middle + turn * one.high])
    return ends[0], ends[1]


def _reaches(one: Round, place: np.ndarray, axis: np.ndarray, hole: Hole) -> bool:
    """True where a bore lies within what the hole is said to go through."""
    low, high = _ends(one, axis)
    mouth = float(place @ axis)
    deep = hole.depth if hole.depth is not None else hole.through
    return low >= mouth - 1e-6 and high <= mouth + deep + 1e-6
