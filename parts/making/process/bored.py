"""Which faces of a solid its holes make, and which stay as the stock is bought."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from parts.core.drawing import Hole
from parts.making.process.faces import Face, Solid
from parts.standards.stock.stock import Stock

SAME = 1.0 - 1e-6
NEAR = 0.02


@dataclass(frozen=True)
class Bored:
    """A hole, and the faces of the solid that its passes finish: wall and floor, counterbore, countersink, and what
    is undercut behind its mouth."""

    hole: Hole
    wall: tuple[int, ...]
    counterbore: tuple[int, ...]
    countersink: tuple[int, ...]
    recess: tuple[int, ...]

    @property
    def faces(self) -> tuple[int, ...]:
        return self.wall + self.counterbore + self.countersink + self.recess


def bored_faces(solid: Solid, hole: Hole, taken: set[int], every: Sequence[Hole]) -> Bored:
    """The faces of a hole.

    Args:
        solid: the piece.
        hole: the hole.
        taken: faces that something else makes.
        every: all holes of the piece.
    """
    place, axis = np.asarray(hole.place, float), np.asarray(hole.axis, float)
    deep = float(hole.through if hole.depth is None else hole.depth)
    size = float(hole.diameter)
    wide, down = hole.counterbore or (size, 0.0)
    sunk = max(float(hole.countersink), size)
    wall: list[int] = []
    counter: list[int] = []
    sink: list[int] = []
    recess: list[int] = []
    start = float(place @ axis)
    for face in solid.faces:
        if face.index in taken or not face.about(place, axis):
            continue
        off = face.off(place, axis)
        low, high = (v - start for v in face.span(axis))
        if face.flat and float(face.normal @ axis) > 0.0:
            continue
        inside = low > -NEAR and high < deep + size
        if face.kind == "CYLINDER" and face.hollow and inside and high < deep + NEAR:
            if abs(face.radius - size / 2) < NEAR:
                wall.append(face.index)
            elif abs(face.radius - wide / 2) < NEAR and high < down + NEAR:
                counter.append(face.index)
        elif (
            face.kind == "CONE"
            and inside
            and off.max() < max(sunk, wide, size) / 2 + NEAR
            and face.hollow
        ):
            (sink if low < sunk and low < deep / 2 else wall).append(face.index)
        elif face.flat and inside and low > NEAR and off.max() < max(wide, size) / 2 + NEAR:
            (counter if abs(low - down) < NEAR and hole.counterbore else wall).append(face.index)
    if hole.thread is not None:
        bores = [float(one.diameter) for one in every if one is not hole]
        recess = list(_recess(solid, hole, taken | {*wall, *counter, *sink}, bores))
    return Bored(hole, tuple(wall), tuple(counter), tuple(sink), tuple(recess))


def _recess(solid: Solid, hole: Hole, taken: set[int], bores: Sequence[float]) -> Iterator[int]:
    """The relief behind a thread: what is wider than the hole and lies in it."""
    place, axis = np.asarray(hole.place, float), np.asarray(hole.axis, float)
    start = float(place @ axis)
    deep = float(hole.tapped or hole.through) - NEAR
    grooves = [
        face for face in solid.faces
        if face.index not in taken and face.kind == "CYLINDER" and face.hollow and face.about(place, axis)
        and face.radius > float(hole.diameter) / 2 + NEAR and face.span(axis)[0] - start > deep
        and face.span(axis)[1] - start < deep + 12.0 * float(hole.thread.pitch if hole.thread else 1.0)
        and not any(abs(2.0 * face.radius - one) < NEAR for one in bores)
    ]  # fmt: skip
    if not grooves:
        return
    low, high = (f([one.span(axis)[i] for one in grooves]) for f, i in ((min, 0), (max, 1)))
    wide = max(one.radius for one in grooves)
    for face in solid.faces:
        if face.index in taken or not face.about(place, axis):
            continue
        a, b = face.span(axis)
        near = (
            a > low - 2.0 * wide
            and b < high + 2.0 * wide
            and face.off(place, axis).max() < wide + NEAR
        )
        if near and (any(face is one for one in grooves) or _touches(solid, face, grooves)):
            yield face.index


def _touches(solid: Solid, face: Face, others: Sequence[Face]) -> bool:
    return any(other.index in solid.beside[face.index] for other in others)


def _running_along(solid: Solid) -> Iterator[int]:
    """Flats and corners of a rectangular tube: they all run along it, and what is sawn does not."""
    along = np.eye(3)[int(np.argmax(np.ptp(solid.points, axis=0)))]
    for face in solid.faces:
        runs = abs(float((face.normal if face.flat else face.axis) @ along))
        if (face.flat and runs < 1.0 - SAME) or (face.kind == "CYLINDER" and runs > SAME):
            yield face.index


def bought_faces(solid: Solid, stock: Stock, *, cut_from: bool) -> Iterator[int]:
    """Faces that lie in the surface of the stock; `cut_from` where the part names the tube or bar itself."""
    faces = solid.faces
    if cut_from and stock.shape in ("square tube", "rectangular tube"):
        yield from _running_along(solid)
    elif cut_from and stock.shape.endswith("tube"):
        for face in faces:
            if face.kind == "CYLINDER" and min(
                abs(2.0 * face.radius - d) for d in (stock.width_mm, stock.width_mm - 2.0 * stock.wall_mm)
            ) < NEAR:  # fmt: skip
                yield face.index
    elif stock.shape == "hex bar":
        middle = (solid.points.min(axis=0) + solid.points.max(axis=0)) / 2.0
        for face in faces:
            if (
                face.flat
                and abs(abs(float((face.on - middle) @ face.normal)) - stock.width_mm / 2.0) < NEAR
            ):
                yield face.index
    elif stock.shape == "plate":
        normal = thinnest(solid)
        across = solid.points @ normal
        if abs(float(np.ptp(across)) - stock.width_mm) < NEAR:
            for face in faces:
                if face.flat and abs(float(face.normal @ normal)) > SAME and min(
                    abs(float(face.on @ normal) - end) for end in (across.min(), across.max())
                ) < NEAR:  # fmt: skip
                    yield face.index


def thinnest(solid: Solid) -> np.ndarray:
    """The direction in which a piece is thinnest, of those of its flats."""
    ways = [one.normal for one in solid.faces if one.flat] or list(np.eye(3))
    return min(ways, key=lambda way: round(float(np.ptp(solid.points @ way)), 4))
