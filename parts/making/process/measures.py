"""Which faces each row of the inspection sheet measures."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.drawing import Diameter, Hole, Linear, Radius
from parts.making.bench.inspection import hole_rows, sized
from parts.making.process.faces import Face

if TYPE_CHECKING:
    from parts.making.process.plan import Plan

SAME = 1.0 - 1e-6
LEVEL = 2e-3


def numbers_of(plan: Plan) -> Mapping[int, frozenset[int]]:
    """The faces that each row of the inspection sheet measures, by its number."""
    holes = {id(one.hole): one for one in plan.bored}
    found = {}
    for number, one in sized(plan.drawn):
        if isinstance(one, Hole):
            of = holes[id(one)]
            for k, row in enumerate(hole_rows(one)):
                seat = of.counterbore if "counterbore" in row else of.countersink
                found[number + k] = frozenset(of.faces if row in ("size", "depth") else seat)
        else:
            found[number] = frozenset(_faces(plan, one))
    return found


def _faces(plan: Plan, one: Any) -> Iterator[int]:
    meant = _MEANT.get(type(one))
    for face in plan.solid.faces:
        if meant is not None and meant(face, one):
            yield face.index


def _of_a_length(face: Face, one: Linear) -> bool:
    """A flat square to it at one of its ends, or what is round about one of them."""
    way = np.asarray(one.along, float)
    places = [np.asarray(end, float) for end in (one.start, one.end)]
    if face.flat:
        square = abs(float(face.normal @ way)) > SAME
        return square and min(abs(float((face.on - place) @ way)) for place in places) < LEVEL
    across = face.kind == "CYLINDER" and abs(float(face.axis @ way)) < 1e-6
    return across and min(float(np.linalg.norm(_off(face, place))) for place in places) < LEVEL


def _of_a_diameter(face: Face, one: Diameter) -> bool:
    same = face.kind == "CYLINDER" and abs(2.0 * face.radius - float(one.value)) < LEVEL
    return same and face.about(np.asarray(one.centre, float), np.asarray(one.axis, float))


def _of_a_radius(face: Face, one: Radius) -> bool:
    if face.kind not in ("CYLINDER", "TORUS") or abs(face.radius - float(one.value)) > LEVEL:
        return False
    return face.kind == "TORUS" or bool(
        np.linalg.norm(_off(face, np.asarray(one.centre, float))) < 0.01
    )


def _off(face: Face, place: np.ndarray) -> np.ndarray:
    away = place - face.foot
    return np.asarray(away - (away @ face.axis) * face.axis)


_MEANT: Mapping[type, Callable[[Face, Any], bool]] = {
    Linear: _of_a_length,
    Diameter: _of_a_diameter,
    Radius: _of_a_radius,
}
