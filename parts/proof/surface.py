"""The faces of a solid that loads and supports act on, parted from their neighbours where they end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.supports import Along, Flat, Patch, Rectangle, Round, Whole
from parts.proof.errors import ProofError

NEAR = 1e-3
"""How far a face may lie from its patch [mm]: the kernel's tolerances and those of boolean cuts."""


@dataclass(frozen=True)
class Surface:
    """A solid whose faces part at the rims of its patches, and the indices of the faces of each patch."""

    solid: Any
    faces: tuple[tuple[int, ...], ...]


def parted(solid: Any, patches: Sequence[Patch]) -> Surface:
    """Part the faces of a solid at the rims of patches, and find the faces of each.

    Args:
        solid: a CadQuery Solid.
        patches: where it is loaded and held.

    Returns:
        The solid with parted faces, and the faces of each patch.

    Raises:
        ProofError: a patch lies on no face.
    """
    rims = [rim for patch in patches for rim in _rims(patch)]
    whole = _split(solid, rims) if rims else solid
    found = [_Face(one) for one in whole.Faces()]
    members = tuple(tuple(i for i, face in enumerate(found) if face.on(patch)) for patch in patches)
    for patch, some in zip(patches, members, strict=True):
        if not some:
            raise ProofError(f"no face of the solid lies on {_described(patch)}")
    return Surface(whole, members)


def bored(solid: Any, walls: Sequence[Round]) -> Any:
    """The solid bored out to round walls; as it is where there are none."""
    import cadquery as cq

    for wall in walls:
        axis = _unit(wall.axis)
        start = np.asarray(wall.centre, float) + wall.low * axis
        tool = cq.Solid.makeCylinder(
            float(wall.diameter) / 2.0, float(wall.high - wall.low), cq.Vector(*map(float, start)),
            cq.Vector(*map(float, axis)),
        )  # fmt: skip
        solid = solid.cut(tool)
        solid = solid.Solids()[0] if solid.ShapeType() != "Solid" else solid
    return solid


def _described(patch: Patch) -> str:
    def at(place: Any) -> str:
        return "(" + ", ".join(f"{float(v):.2f}" for v in place) + ") mm"

    if isinstance(patch, Round):
        return f"the round wall of {float(patch.diameter):.3f} mm diameter about {at(patch.centre)}"
    if isinstance(patch, Flat):
        return f"the flat ring of {2.0 * float(patch.outer):.3f} mm diameter at {at(patch.centre)}"
    if isinstance(patch, Rectangle):
        return f"the rectangle of {patch.long:.2f} by {patch.wide:.2f} mm at {at(patch.centre)}"
    if isinstance(patch, Along):
        return f"the line from {at(patch.places[0])} to {at(patch.places[-1])}"
    return f"the places {', '.join(at(one) for one in patch.places)}"


def _unit(axis: Any) -> np.ndarray:
    a = np.asarray(axis, float)
    return np.asarray(a / np.linalg.norm(a))


def _rims(patch: Patch) -> list[Any]:
    """Circles that bound a patch."""
    import cadquery as cq

    if isinstance(patch, Whole | Along):
        return []
    if isinstance(patch, Rectangle):
        ends = [cq.Vector(*map(float, place)) for place in patch.corners]
        return [cq.Edge.makeLine(a, b) for a, b in zip(ends, ends[1:] + ends[:1], strict=True)]
    centre, axis = (
        np.asarray(patch.centre, float),
        _unit(patch.axis if isinstance(patch, Round) else patch.normal),
    )
    if isinstance(patch, Round):
        circles = [
            (float(patch.diameter) / 2.0, centre + s * axis) for s in (patch.low, patch.high)
        ]
    else:
        circles = [(float(r), centre) for r in (patch.inner, patch.outer) if r > NEAR]
    return [
        cq.Edge.makeCircle(r, cq.Vector(*map(float, c)), cq.Vector(*map(float, axis)))
        for r, c in circles
    ]


def _split(solid: Any, edges: Sequence[Any]) -> Any:
    import cadquery as cq
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Splitter
    from OCP.TopTools import TopTools_ListOfShape

    splitter = BRepAlgoAPI_Splitter()
    arguments, tools = TopTools_ListOfShape(), TopTools_ListOfShape()
    arguments.Append(solid.wrapped)
    for edge in edges:
        tools.Append(edge.wrapped)
    splitter.SetArguments(arguments)
    splitter.SetTools(tools)
    splitter.SetFuzzyValue(1e-5)
    splitter.Build()
    if not splitter.IsDone():
        raise ProofError("the faces could not be parted at the rims of loads and supports")
    solids = cq.Shape.cast(splitter.Shape()).Solids()
    if len(solids) != 1:
        raise ProofError("the solid fell apart where loads and supports end on it")
    return solids[0]


class _Face:
    """A face by points on it, all inside its edges."""

    def __init__(self, face: Any) -> None:
        self.face = face
        self.kind = face.geomType()
        self._points: np.ndarray | None = None

    @property
    def points(self) -> np.ndarray:
        if self._points is None:
            self._points = _points_on(self.face)
        return self._points

    def on(self, patch: Patch) -> bool:
        if isinstance(patch, Whole):
            return any(self._through(place) for place in patch.places)
        if not len(self.points):  # the kernel makes no triangles of some faces: they lie on nothing
            return False
        if isinstance(patch, Along):
            return self._along(patch)
        if isinstance(patch, Rectangle):
            within = np.abs((self.points - np.asarray(patch.centre, float)) @ patch.axes.T)
            room = np.array([patch.long / 2.0, patch.wide / 2.0, 0.0]) + NEAR
            return self.kind == "PLANE" and bool(np.all(within < room))
        centre = np.asarray(patch.centre, float)
        axis = _unit(patch.axis if isinstance(patch, Round) else patch.normal)
        wanted = "CYLINDER" if isinstance(patch, Round) else "PLANE"
        if self.kind != wanted:
            return False
        off = self.points - centre
        along = off @ axis
        away = np.linalg.norm(off - along[:, None] * axis, axis=1)
        if isinstance(patch, Round):
            return bool(
                np.all(np.abs(away - patch.diameter / 2.0) < NEAR)
                and np.all(along > patch.low - NEAR)
                and np.all(along < patch.high + NEAR)
            )
        return bool(
            np.all(np.abs(along) < NEAR)
            and np.all(away < patch.outer + NEAR)
            and np.all(away > patch.inner - NEAR)
        )

    def _along(self, patch: Along) -> bool:
        line = _dense(np.asarray(patch.places, float), patch.reach / 4.0)
        box_low, box_high = line.min(axis=0) - patch.reach, line.max(axis=0) + patch.reach
        if np.any(self.points < box_low) or np.any(self.points > box_high):
            return False
        away = np.linalg.norm(self.points[:, None, :] - line[None], axis=2).min(axis=1)
        return bool(np.all(away < patch.reach))

    def _through(self, place: Any) -> bool:
        import cadquery as cq

        box = self.face.BoundingBox()
        low, high = (
            np.array([box.xmin, box.ymin, box.zmin]),
            np.array([box.xmax, box.ymax, box.zmax]),
        )
        p = np.asarray(place, float)
        if np.any(p < low - NEAR) or np.any(p > high + NEAR):
            return False
        return float(self.face.distance(cq.Vertex.makeVertex(*map(float, p)))) < NEAR


def _dense(places: np.ndarray, step: float) -> np.ndarray:
    """A closed line through places, with further places on it no farther apart than a step."""
    found = []
    for a, b in zip(places, np.roll(places, -1, axis=0), strict=True):
        count = int(np.ceil(np.linalg.norm(b - a) / step)) + 1
        found.append(a + np.linspace(0.0, 1.0, count)[:, None] * (b - a))
    return np.concatenate(found)


def _points_on(face: Any) -> np.ndarray:
    """Corners of the triangles of a face, and their middles where the face is flat."""
    points, triangles = face.tessellate(0.05, 0.3)
    places = np.array([(p.x, p.y, p.z) for p in points]).reshape(-1, 3)
    if face.geomType() == "PLANE":
        middles = places[np.array(triangles, int).reshape(-1, 3)].mean(axis=1)
        return np.concatenate([places, middles])
    return places
