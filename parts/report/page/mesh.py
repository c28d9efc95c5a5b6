"""The surface of a part as the page's viewer takes it: smooth within creases, quantised, in base64."""

from __future__ import annotations

import base64
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.making.distinct import distinct
from parts.proof.skin import RAMP
from parts.report.page.painted import finer

if TYPE_CHECKING:
    from parts.making.faces import Face
    from parts.making.picture import View
    from parts.report.page.painted import Painted
    from parts.report.page.travel import Travel

CREASE = np.cos(np.radians(25.0))
"""Cosine of the angle beyond which an edge is a crease: inked, and not smoothed over."""
STEPS = 65535
"""Steps over the longest side of the part's box: 5 µm on a part of a third of a metre."""
FINEST = 0.05
"""Longest edge of what is painted, as a share of the part's longest side [-]: between its ends the paint is even."""
FULL = 2.0
"""The largest share of a strength that paint tells apart [-]."""
Mesh = tuple[np.ndarray, np.ndarray]


@dataclass(frozen=True)
class Marks:
    """What is drawn beside the pieces.

    Attributes:
        loops: closed chains of places [mm], each (n, 3), that mark critical sections.
        lines: open chains of places [mm], each (n, 3), drawn thin.
        points: places [mm] that are shown with their names.
        bought: names of pieces that are bought-in hardware, drawn pale.
        cases: load cases with what acts under each, as the viewer's arrows take them.
        painted: what the places of the pieces use, for painting; None where nothing is painted.
        faces: by the name of a piece, the face that each of its triangles lies on, and the faces.
        apart: by the name of a piece of hardware, how far it is shifted when it is pulled out [mm], (3,).
        travel: how pieces, lines and points move with the rear wheel; None where nothing does.
    """

    loops: Sequence[np.ndarray] = ()
    lines: Sequence[np.ndarray] = ()
    points: Mapping[str, np.ndarray] = field(default_factory=dict)
    bought: Sequence[str] = ()
    cases: Sequence[Mapping[str, Any]] = ()
    painted: Painted | None = None
    faces: Mapping[str, tuple[np.ndarray, Sequence[Face]]] = field(default_factory=dict)
    apart: Mapping[str, np.ndarray] = field(default_factory=dict)
    travel: Travel | None = None


def packed(meshes: Mapping[str, Mesh], view: View, marks: Marks | None = None) -> str:
    """Pack the pieces of a part.

    Args:
        meshes: corner points [mm] and triangles of each piece, by its name.
        view: from where the part is seen first.
        marks: what is drawn beside the pieces.

    Returns:
        JSON for the viewer: the box, and for each piece its arrays in base64, little-endian.
    """
    marks = marks or Marks()
    places = [np.reshape(one, (-1, 3)) for one in marks.points.values()]
    beside = [np.reshape(one, (-1, 3)) for one in marks.lines]
    every = np.concatenate([*(points for points, _ in meshes.values()), *places, *beside])
    low, size = every.min(axis=0), float(np.ptp(every, axis=0).max()) or 1.0
    document = {
        "view": [view.turn, view.tilt],
        "low": [round(float(v), 4) for v in low],
        "high": [round(float(v), 4) for v in every.max(axis=0)],
        "size": round(size, 6),
        "pieces": [
            {"name": name, "bought": name in marks.bought,
             **_marked(name, points, corners, (low, size), marks)}
            for name, (points, corners) in meshes.items()
        ],
        "loops": [_flat(one) for one in marks.loops],
        "lines": [_flat(one) for one in marks.lines],
        "points": [{"name": name, "at": _flat(at)} for name, at in marks.points.items()],
        "cases": list(marks.cases),
        "ramp": RAMP,
        "full": FULL,
    }  # fmt: skip
    if marks.apart:
        names = list(meshes)
        document["apart"] = [[names.index(name), _flat(by)] for name, by in marks.apart.items()]
    if marks.travel is not None:
        document["motion"] = marks.travel.packed(list(meshes), list(marks.points))
    # Within a script element: nothing in it may look like the end of one.
    return json.dumps(document, separators=(",", ":")).replace("<", "\\u003c")


def _flat(places: np.ndarray) -> list[float]:
    found: list[float] = (np.round(places, 3) + 0.0).ravel().tolist()
    return found


def _marked(
    name: str, points: np.ndarray, corners: np.ndarray, box: tuple[np.ndarray, float], marks: Marks
) -> dict[str, Any]:
    """A piece with what is painted on it and what can be measured from."""
    if name in marks.bought:
        return _piece(points, corners, *box)[0]
    face, faces = marks.faces.get(name, (None, ()))
    if marks.painted is not None:
        points, corners, parent = finer(points, corners, box[1] * FINEST)
        face = None if face is None else face[parent]
    found, point = _piece(points, corners, *box)
    if marks.painted is not None:
        known, use = marks.painted.of(name, points)
        found["known"] = as_text(np.where(known, 255, 0).astype("u1")[point])
        shares = np.clip(np.round(use / FULL * 255.0), 0, 255).astype("u1")
        found["use"] = [as_text(one[point]) for one in shares]
    if face is not None:
        found["face"] = as_text(face.astype("<u2"))
        found["faces"] = [_face_entry(one) for one in faces]
    return found


def _face_entry(one: Face) -> dict[str, Any]:
    if not one.kind:
        return {}
    radius = {"radius": round(one.radius, 6)} if one.radius else {}
    at, way = ([round(v, 9) + 0.0 for v in three] for three in (one.at, one.way))
    return {"kind": one.kind, "at": at, "way": way, **radius}


def _piece(
    points: np.ndarray, corners: np.ndarray, low: np.ndarray, size: float
) -> tuple[dict[str, Any], np.ndarray]:
    """A piece as the viewer takes it, and the point of each of its vertices."""
    facing = facing_of(points, corners)
    normals = np.round(127.0 * corner_normals(corners, facing)).astype("<i1")
    places = np.round((points - low) / size * STEPS).astype("<u2")[corners.ravel()]
    vertices = np.zeros(len(places), np.dtype([("place", "<u2", 4), ("normal", "i1", 4)]))
    vertices["place"][:, :3], vertices["normal"][:, :3] = places, normals
    # As bytes in their order, four at a time.
    first, same = distinct(vertices.view(">u4").reshape(len(vertices), -1))
    kept = vertices[first]
    any_corner = np.zeros(len(points), int)
    any_corner[corners.ravel()] = same
    return {
        "places": as_text(kept["place"]),
        "normals": as_text(kept["normal"]),
        "triangles": as_text(same.astype("<u4")),
        "edges": as_text(any_corner[creases(corners, facing)].astype("<u4")),
    }, corners.ravel()[first]


def as_text(array: np.ndarray) -> str:
    """The bytes of an array in base64."""
    return base64.b64encode(np.ascontiguousarray(array).tobytes()).decode()


def facing_of(points: np.ndarray, corners: np.ndarray) -> np.ndarray:
    """Unit normal of each triangle times its area [mm^2]."""
    a, b, c = (points[corners[:, k]] for k in range(3))
    return np.cross(b - a, c - a) / 2.0


def corner_normals(corners: np.ndarray, facing: np.ndarray) -> np.ndarray:
    """A unit normal for each corner of each triangle, smooth across all edges but creases.

    Args:
        corners: indices of points, (m, 3).
        facing: normal of each triangle times its area, (m, 3).

    Returns:
        Normals in the order of `corners.ravel()`, (3 m, 3).
    """
    unit = _unit(facing)
    point, facet = corners.ravel(), np.repeat(np.arange(len(corners)), 3)
    order = np.argsort(point, kind="stable")
    count = np.bincount(point)
    start = np.concatenate([[0], np.cumsum(count)])[point]
    # Every corner with every corner at the same point.
    many = count[point]
    one = np.repeat(np.arange(len(point)), many)
    within = np.arange(many.sum()) - np.repeat(np.cumsum(many) - many, many)
    other = facet[order[np.repeat(start, many) + within]]
    near = np.einsum("ij,ij->i", unit[facet[one]], unit[other]) >= CREASE
    one, other = one[near], other[near]
    summed = [np.bincount(one, facing[other, k], len(point)) for k in range(3)]
    return _unit(np.stack(summed, axis=-1))


def creases(corners: np.ndarray, facing: np.ndarray, crease: float = CREASE) -> np.ndarray:
    """The edges at which two triangles meet at more than the angle of that cosine, as pairs of points, (k, 2)."""
    unit = _unit(facing)
    ends = np.sort(
        np.concatenate([corners[:, [0, 1]], corners[:, [1, 2]], corners[:, [2, 0]]]), axis=1
    )
    facet = np.tile(np.arange(len(corners)), 3)
    order = np.lexsort((ends[:, 1], ends[:, 0]))
    ends, facet = ends[order], facet[order]
    meets = np.all(ends[1:] == ends[:-1], axis=1)
    sharp = np.einsum("ij,ij->i", unit[facet[1:]], unit[facet[:-1]]) < crease
    found: np.ndarray = ends[1:][meets & sharp]
    return found


def _unit(vectors: np.ndarray) -> np.ndarray:
    length = np.linalg.norm(vectors, axis=1, keepdims=True)
    unit: np.ndarray = vectors / np.where(length > 0.0, length, 1.0)
    return unit
