"""The solid as it is machined: tapped holes at their drill, fits where wished in the middle of their limits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.drawing import Callout, Diameter, Hole, Marks

SAME = 1e-6
MIDDLE = "middle of its limits"


@dataclass(frozen=True)
class MachinedHole:
    """A hole, the diameter that it has in the file [mm], and in words why."""

    hole: Hole
    diameter: float
    words: str


@dataclass(frozen=True)
class MachinedDiameter:
    """Something round with a fit that is no hole from its mouth, as a journal, a groove, the pin of a fork: the
    diameter that it has in the file [mm], and in words why."""

    size: Diameter
    diameter: float
    words: str

    @property
    def hollow(self) -> bool:
        """True of a bore or the groove in one: ISO 286 writes their classes in upper case."""
        return self.size.fit[:1].isupper()

    @property
    def grows(self) -> bool:
        return bool(self.diameter > float(self.size.value))


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
        return MachinedHole(hole, float(np.mean(hole.limits)), MIDDLE)
    return MachinedHole(hole, float(hole.diameter), "nominal")


def fitted(marks: Marks, geometry: str) -> list[MachinedDiameter]:
    """Diameters with a fit among the dimensions, each on its axis once, and what they leave with."""
    found: dict[tuple[float, ...], MachinedDiameter] = {}
    for mark in marks.dimensions:
        for size in mark.sizes if isinstance(mark, Callout) else (mark,):
            if not isinstance(size, Diameter) or size.limits is None:
                continue
            middle = geometry == "mid-tolerance"
            wide = float(np.mean(size.limits)) if middle else float(size.value)
            centre, axis = np.asarray(size.centre, float), np.asarray(size.axis, float)
            line = np.round([size.value, *axis, *(centre - (centre @ axis) * axis)], 6) + 0.0
            one = MachinedDiameter(size, wide, MIDDLE if middle else "nominal")
            found.setdefault(tuple(map(float, line)), one)
    return list(found.values())


def recut(solid: Any, holes: Sequence[MachinedHole], sizes: Sequence[MachinedDiameter] = ()) -> Any:
    """The solid with its holes and other diameters with a fit at what they leave with.

    Args:
        solid: the finished part, a CadQuery shape.
        holes: its holes.
        sizes: what else is round and has a fit.

    Returns:
        The solid.
    """
    import cadquery as cq

    larger = [one for one in holes if one.diameter > float(one.hole.diameter) + SAME]
    smaller = [one for one in holes if one.diameter < float(one.hole.diameter) - SAME]
    moved = [one for one in sizes if abs(one.diameter - float(one.size.value)) > SAME]
    # A hollow that grows and a journal that shrinks lose metal.
    less = [one for one in moved if one.grows is one.hollow]
    more = [one for one in moved if one.grows is not one.hollow]
    off = [_rod(one) for one in larger] + [ring for one in less for ring in _skins(solid, one)]
    on = [ring for one in (*smaller, *more) for ring in _skins(solid, one)]
    if off:
        solid = solid.cut(*off)
    if on:
        solid = solid.fuse(*on)
    made = solid.clean() if on else _settled(solid)
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


def _rod(one: MachinedHole) -> Any:
    import cadquery as cq

    hole = one.hole
    deep = float(hole.through if hole.depth is None else hole.depth)
    place, axis = cq.Vector(*map(float, hole.place)), cq.Vector(*map(float, hole.axis))
    return cq.Solid.makeCylinder(one.diameter / 2.0, deep, place, axis)


def _skins(solid: Any, one: MachinedHole | MachinedDiameter) -> Iterator[Any]:
    """Rings between the diameter that something has and the one that it leaves with.

    One to each of its round faces, from end to end: it stops short of broken edges and fillets, and lies across
    no groove, throat or slit.
    """
    import cadquery as cq

    now = float(one.hole.diameter if isinstance(one, MachinedHole) else one.size.value)
    big, small = max(now, one.diameter) / 2.0, min(now, one.diameter) / 2.0
    place, axis, reach = _line(one)
    way = cq.Vector(*axis)
    spans = set()
    for face in _round_faces(solid, place, axis, now):
        along = np.array([v.toTuple() for v in face.Vertices()]) @ axis - float(place @ axis)
        low, high = max(float(along.min()), reach[0]), min(float(along.max()), reach[1])
        if high - low > SAME:
            spans.add((round(low, 6), round(high, 6)))
    for low, high in sorted(spans):
        start = cq.Vector(*(place + low * axis))
        outer = cq.Solid.makeCylinder(big, high - low, start, way)
        yield outer.cut(cq.Solid.makeCylinder(small, high - low, start, way))


def _line(
    one: MachinedHole | MachinedDiameter,
) -> tuple[np.ndarray, np.ndarray, tuple[float, float]]:
    """A place on the axis, its direction, and how far along it the hole or journal reaches [mm]."""
    if isinstance(one, MachinedDiameter):
        size = one.size
        return np.asarray(size.centre, float), np.asarray(size.axis, float), (-np.inf, np.inf)
    hole = one.hole
    deep = float(hole.through if hole.depth is None else hole.depth)
    return np.asarray(hole.place, float), np.asarray(hole.axis, float), (0.0, deep)


def faces_of(solid: Any, one: MachinedHole | MachinedDiameter) -> list[Any]:
    """The round faces of a hole or journal in the solid as it leaves."""
    place, axis, _ = _line(one)
    return _round_faces(solid, place, axis, one.diameter)


def _round_faces(solid: Any, place: np.ndarray, axis: np.ndarray, diameter: float) -> list[Any]:
    """Cylinder faces of a diameter about an axis."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface

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
            abs(round_.Radius() - diameter / 2.0) < SAME
            and abs(turn @ axis) > 1.0 - 1e-9
            and off < SAME
        ):
            found.append(face)
    return found
