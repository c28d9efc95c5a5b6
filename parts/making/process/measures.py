"""Which faces each row of the inspection sheet measures."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.drawing import Diameter, Hole, Linear, Radius
from parts.making.bench.inspection import hole_rows, sized, zoned
from parts.making.process.faces import Face

if TYPE_CHECKING:
    from parts.making.process.plan import Plan

SAME = 1.0 - 1e-6
LEVEL = 2e-3
LEANS = 0.7
"""Least cosine of a length's direction to the normal of a flat that it is measured to [-]."""


def numbers_of(plan: Plan) -> Mapping[int, frozenset[int]]:
    """The faces that each row of the inspection sheet measures, by its number."""
    holes = {id(one.hole): one for one in plan.bored}
    found: dict[int, frozenset[int]] = {}
    for number, one in sized(plan.drawn):
        if isinstance(one, Hole):
            of = holes[id(one)]
            for k, row in enumerate(hole_rows(one)):
                seat = of.counterbore if "counterbore" in row else of.countersink
                found[number + k] = frozenset(of.faces if row in ("size", "depth") else seat)
        else:
            found[number] = frozenset(_faces(plan, one))
    last = max(found, default=0)
    axes = {one.hole.datum: one.faces for one in plan.bored if one.hole.datum}
    for number, (mark, zone) in enumerate(zoned(plan.drawn), last + 1):
        of = holes.get(id(mark))
        own = (
            of.faces if of else [i for one in getattr(mark, "sizes", ()) for i in _faces(plan, one)]
        )
        # It can be measured once the bores that it refers to are there too.
        found[number] = frozenset(
            (*own, *(i for letter in zone.datums for i in axes.get(letter, ())))
        )
    return found


def _faces(plan: Plan, one: Any) -> Iterator[int]:
    meant = _MEANT.get(type(one))
    if meant is None:
        return
    found = [face for face in plan.solid.faces if meant(face, one)]
    if isinstance(one, Diameter):
        axis = np.asarray(one.axis, float)
        at = float(np.asarray(one.centre, float) @ axis)
        spans = [face.span(axis) for face in found]
        there = [
            face
            for face, (low, high) in zip(found, spans, strict=True)
            if low - LEVEL < at < high + LEVEL
        ]
        found = there or found
    yield from (face.index for face in found)


def _of_a_length(face: Face, one: Linear) -> bool:
    """A flat at one of its ends, square to it or leaning, or what is round about one of them."""
    way = np.asarray(one.along, float)
    places = [np.asarray(end, float) for end in (one.start, one.end)]
    if face.flat:
        if abs(float(face.normal @ way)) < LEANS:
            return False
        return min(abs(float((face.on - place) @ face.normal)) for place in places) < LEVEL
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
