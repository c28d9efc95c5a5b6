"""The words that every print carries, cut into its best flat face; on a tag where no face has room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.making.labelling import Label, best_label
from parts.making.lettering import HIGH, extent, strokes
from parts.shapes.cut import region
from parts.shapes.profile import prism
from parts.strength.section.outline import Loop, Outline

WORDS = "FIT-UP ONLY - DO NOT RIDE"
_BREAKS = (
    ("FIT-UP ONLY - DO NOT RIDE",),
    ("FIT-UP ONLY -", "DO NOT RIDE"),
    ("FIT-UP", "ONLY -", "DO NOT", "RIDE"),
)
DEPTH = 0.6
"""How deep the letters are cut [mm]."""
LEAST, MOST = 3.0, 7.0
"""Height of the letters [mm]: a nozzle of 0.4 mm makes none smaller to be read; common practice, no source."""
STROKE = HIGH / 7.0
"""Width of a stroke in the units of the letters' grid."""
CLEAR = 1.2
FACES = 10
BED_SHARE = 0.55
"""Letters on the bed's side print poorly: that face is taken where its letters are this much taller."""
TAG = (4.0, 2.4, 2.0)
"""Height of the letters on a tag, its thickness, and its margin [mm]."""
NECK = (6.0, 1.2, 6.0)
"""Width, thickness and length of what joins a tag to the print [mm]."""
OVERLAP = 1.5
ABOVE = 0.2
STEP = 0.011
AROUND = 0.8
"""How far the plate in which the letters are cut reaches round them [mm]; less than `CLEAR`."""


@dataclass(frozen=True)
class Engraved:
    """A print with its words: the solid before and after they were cut [mm^3 apart], and where they stand."""

    before: Any
    solid: Any
    label: Label
    where: str

    @property
    def removed(self) -> float:
        """Volume that the letters take away [mm^3]."""
        return float(self.before.Volume() - self.solid.Volume())


def engraved(solid: Any, name: str, piece: str = "") -> Engraved:
    """Cut the words into a print.

    Args:
        solid: the print, standing on z = 0.
        name: part number.
        piece: which piece of the part; empty for the only one.

    Returns:
        The print with its words.
    """
    layouts = list(_layouts(name, piece))
    best: tuple[float, Label, Any] | None = None
    flats = [face for face in solid.Faces() if face.geomType() == "PLANE"]
    for face in sorted(flats, key=lambda f: -f.Area())[:FACES]:
        plane = _plane(face)
        label = best_label(_loops(face, plane), layouts, clear=CLEAR, least=LEAST, most=MOST)
        if label is None:
            continue
        score = label.height * (BED_SHARE if plane[1][0][2] < -0.99 else 1.0)
        if best is None or score > best[0] + 1e-6:
            best = score, label, plane
    if best is None:
        return _on_tag(solid, name, piece)
    _, label, plane = best
    where = ["x", "y", "z"][int(np.argmax(np.abs(plane[1][0])))]
    sign = "+" if float(np.sum(plane[1][0])) > 0 else "-"
    return Engraved(solid, _cut(solid, label, plane), label, f"the face toward {sign}{where}")


def _layouts(name: str, piece: str) -> Iterator[tuple[str, ...]]:
    names = [(f"{name} {piece}".strip(),)]
    words = name.split("-")
    for rows in (2, 3):
        if len(words) >= rows:
            per = -(-len(words) // rows)
            lines = ["-".join(words[i : i + per]) for i in range(0, len(words), per)]
            names.append((*(line + "-" for line in lines[:-1]), f"{lines[-1]} {piece}".strip()))
    for said in _BREAKS:
        for shown in names:
            yield (*said, *shown)
    yield (f"{WORDS} {names[0][0]}",)


_Plane = tuple[np.ndarray, np.ndarray]


def _plane(face: Any) -> _Plane:
    """Where a face lies: a place on it, and rows normal, x and y with y as upright as can be."""
    normal = np.array(face.normalAt().toTuple())
    up = np.array([0.0, 0.0, 1.0]) if abs(normal[2]) < 0.9 else np.array([0.0, 1.0, 0.0])
    y = up - (up @ normal) * normal
    y /= np.linalg.norm(y)
    return np.array(face.Center().toTuple()), np.array([normal, np.cross(y, normal), y])


def _loops(face: Any, plane: _Plane) -> list[np.ndarray]:
    boundary = region(face.wrapped, *plane).boundary
    loops = []
    for curves in boundary.loops:
        rows = []
        for curve in curves:
            long = float(np.linalg.norm(curve.at(np.linspace(0.0, 1.0, 9))[1], axis=-1).mean())
            count = min(max(3, int(np.ceil(long))), 400)
            rows.append(curve.at(np.linspace(0.0, 1.0, count, endpoint=False))[0])
        loops.append(np.concatenate(rows))
    return loops


def _cut(solid: Any, label: Label, plane: _Plane) -> Any:
    """Cut the letters into a plate taken out of the solid, and put it back: the kernel would otherwise hold
    every letter against every face of the solid."""
    import cadquery as cq

    wide, tall = (v + 2.0 * AROUND for v in extent(label.lines, label.height))
    corners = np.array([(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]) * (wide / 2, tall / 2)
    loop = Loop(label.place(corners), np.zeros(4))
    where = cq.Location(cq.Plane(tuple(plane[0]), tuple(plane[1][1]), tuple(plane[1][0])))
    slab = prism(Outline((loop,)), -DEPTH - AROUND, ABOVE).val().moved(where)
    plate = solid.intersect(slab).cut(*grooves(label, *plane, DEPTH))
    return _joined(solid.cut(slab), plate)


def _joined(rest: Any, plate: Any) -> Any:
    """A solid and the plate that was taken out of it, sewn along the edge of the hole that it left."""
    import cadquery as cq

    rows = [_mark(face) for face in plate.Faces()]
    ours = {_mark(face) for face in rest.Faces()}
    kept = [face for face in rest.Faces() if _mark(face) not in rows]
    kept += [face for face, mark in zip(plate.Faces(), rows, strict=True) if mark not in ours]
    return cq.Solid.makeSolid(cq.Shell.makeShell(kept))


def _mark(face: Any) -> tuple[float, ...]:
    """What two faces that lie in one another have in common."""
    return tuple(round(float(v), 4) for v in (*face.Center().toTuple(), face.Area()))


def grooves(label: Label, origin: np.ndarray, axes: np.ndarray, depth: float) -> list[Any]:
    """The letters of a label as solids that reach `depth` below a plane [mm]."""
    import cadquery as cq

    where = cq.Location(cq.Plane(tuple(origin), tuple(axes[1]), tuple(axes[0])))
    width = STROKE * label.height / HIGH
    # No two strokes that meet have a floor in common: the kernel is unsure of faces that lie in one another.
    return [
        prism(groove(label.place(stroke), width), -depth - STEP * (i % 4), ABOVE).val().moved(where)
        for i, stroke in enumerate(strokes(label.lines, label.height))
    ]


def groove(stroke: np.ndarray, width: float) -> Outline:
    """A stroke with a width: a ring where it closes on itself, else with square ends, corners mitred."""
    half = width / 2.0
    closed = bool(np.allclose(stroke[0], stroke[-1]))
    points = stroke[:-1] if closed else stroke
    along = np.diff(np.vstack([points, points[:1]]) if closed else points, axis=0)
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    left = np.stack([-along[:, 1], along[:, 0]], axis=-1)
    if closed:
        shift = _mitre(np.roll(left, 1, axis=0), left) * half
        rings = [Loop(points + sign * shift, np.zeros(len(points))) for sign in (1.0, -1.0)]
        inner, outer = sorted(rings, key=_size)
        return Outline((_counter_clockwise(outer), _counter_clockwise(inner).reversed()))
    shift = np.vstack([left[:1], _mitre(left[:-1], left[1:]), left[-1:]]) * half
    ends = points.copy()
    ends[0] -= along[0] * half
    ends[-1] += along[-1] * half
    ring = np.vstack([ends - shift, (ends + shift)[::-1]])
    return Outline((_counter_clockwise(Loop(ring, np.zeros(len(ring)))),))


def _mitre(before: np.ndarray, after: np.ndarray) -> np.ndarray:
    return (before + after) / (1.0 + np.sum(before * after, axis=1, keepdims=True))


def _size(loop: Loop) -> float:
    p, q = loop.points, loop.ends
    return abs(float((p[:, 0] * q[:, 1] - q[:, 0] * p[:, 1]).sum())) / 2.0


def _counter_clockwise(loop: Loop) -> Loop:
    p, q = loop.points, loop.ends
    return loop if float((p[:, 0] * q[:, 1] - q[:, 0] * p[:, 1]).sum()) > 0.0 else loop.reversed()


def _on_tag(solid: Any, name: str, piece: str) -> Engraved:
    """A tag that lies on the bed beside the print, joined by a neck to be cut through."""
    import cadquery as cq

    from parts.making.stl import triangles

    height, thick, margin = TAG
    lines = min(_layouts(name, piece), key=lambda rows: _box(rows, height, margin)[2])
    wide, deep, _ = _box(lines, height, margin)
    places, _ = triangles(solid, 0.01, 0.1)
    low = places[places[:, 2] <= NECK[1]]
    x, y, _ = (float(v) for v in low[int(np.argmax(low[:, 0]))])
    left = float(places[:, 0].max()) + NECK[2]
    neck = cq.Solid.makeBox(
        left - x + OVERLAP + margin / 2.0, NECK[0], NECK[1],
        cq.Vector(x - OVERLAP, y - NECK[0] / 2.0, 0.0),
    )  # fmt: skip
    tag = cq.Solid.makeBox(wide, deep, thick, cq.Vector(left, y - deep / 2.0, 0.0))
    label = Label(tuple(lines), np.zeros(2), 0.0, height)
    origin = np.array([left + wide / 2.0, y, thick])
    axes = np.array([(0.0, 0.0, 1.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)])
    plain = solid.fuse(neck, tag).clean().Solids()[0]
    lettered = tag.cut(*grooves(label, origin, axes, DEPTH))
    made = solid.fuse(neck, lettered).clean().Solids()[0]
    return Engraved(plain, made, label, "a tag beside it")


def _box(lines: Sequence[str], height: float, margin: float) -> tuple[float, float, float]:
    wide, deep = (v + 2.0 * margin for v in extent(lines, height))
    return wide, deep, max(wide, 2.0 * deep)
