"""Blanks as DXF: closed polylines of true lines and arcs, true circles, one layer a purpose, millimetres."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

import numpy as np

from parts.core.blank import Fold
from parts.making.dxf_document import begun, written
from parts.making.flat.profile import MARK, Profile
from parts.making.labelling import Label
from parts.making.lettering import strokes
from parts.strength.section.outline import Loop

LAYERS: Mapping[str, tuple[int, str]] = MappingProxyType(
    {
        "OUTLINE": (7, "cut last, outside the line"),
        "CUTOUT": (254, "cut to size, inside the line"),
        "PILOT": (253, "cut undersize, finished after"),
        "ENGRAVE": (252, "engraved, never cut through"),
        "BEND": (9, "middle of a bend, for the press: never cut, never engraved"),
        "NOTE": (251, "read by people, not by the machine"),
        "SHEET": (250, "edge of the sheet"),
    }
)
"""Colour index and meaning of every layer: greys all, since some laser drivers cut red or blue through."""


@dataclass(frozen=True)
class Turned:
    """Where a blank lies: moved by `by` [mm] after a quarter turn where `turned`."""

    by: tuple[float, float] = (0.0, 0.0)
    turned: bool = False

    def __call__(self, points: np.ndarray) -> np.ndarray:
        points = np.asarray(points, float)
        if self.turned:
            points = np.stack([-points[..., 1], points[..., 0]], axis=-1)
        return points + np.asarray(self.by)


def dxf_bytes(
    profile: Profile,
    label: Label | None,
    notes: Sequence[str],
    places: Sequence[Turned] = (Turned(),),
    sheet: tuple[float, float] | None = None,
    folds: Sequence[Fold] = (),
) -> bytes:
    """Write copies of a blank.

    Args:
        profile: what is cut.
        label: the part number to engrave; None where it has no room.
        notes: lines of text below the first copy.
        places: where the copies lie.
        sheet: length and width of the sheet to draw [mm]; none where left out.
        folds: where it is bent.

    Returns:
        The file.
    """
    document = begun()
    for name, (colour, meaning) in LAYERS.items():
        document.layers.add(name, color=colour).description = meaning
    space = document.modelspace()
    for place in places:
        _blank(space, profile, label, place)
        for one in folds:
            ends = place(np.array([one.start, one.end]))
            space.add_line(*(tuple(map(float, end)) for end in ends), {"layer": "BEND"})
    if sheet is not None:
        corners = [(0.0, 0.0), (sheet[0], 0.0), (sheet[0], sheet[1]), (0.0, sheet[1])]
        space.add_lwpolyline(corners, close=True, dxfattribs={"layer": "SHEET"})
    _notes(space, notes, profile, sheet)
    return written(document)


def _blank(space: Any, profile: Profile, label: Label | None, place: Turned) -> None:
    for cut in profile.cuts:
        on = {"layer": cut.layer}
        circle = _circle(cut.loop)
        if circle is not None:
            centre, radius = circle
            space.add_circle(tuple(map(float, place(centre))), radius, on)
        else:
            rows = [
                (*map(float, point), float(bulge))
                for point, bulge in zip(place(cut.loop.points), cut.loop.bulge, strict=True)
            ]
            space.add_lwpolyline(rows, format="xyb", close=True, dxfattribs=on)
    for hole in profile.marks:
        for arm in ((MARK / 2.0, 0.0), (0.0, MARK / 2.0)):
            ends = place(np.asarray(hole.centre) + np.array([arm, np.negative(arm)]))
            space.add_line(*(tuple(map(float, end)) for end in ends), {"layer": "ENGRAVE"})
    if label is not None:
        for stroke in strokes(label.lines, label.height):
            points = [tuple(map(float, p)) for p in place(label.place(stroke))]
            space.add_lwpolyline(points, dxfattribs={"layer": "ENGRAVE"})


def _circle(loop: Loop) -> tuple[np.ndarray, float] | None:
    """Centre and radius of a loop of two half circles."""
    if len(loop.points) != 2 or not np.allclose(np.abs(loop.bulge), 1.0, atol=1e-12):
        return None
    a, b = loop.points
    return (a + b) / 2.0, float(np.linalg.norm(b - a)) / 2.0


def _notes(
    space: Any, notes: Sequence[str], profile: Profile, sheet: tuple[float, float] | None
) -> None:
    if sheet is None:
        low, high = profile.outline().box()
        left, top, size = float(low[0]), float(low[1]), float(high[0] - low[0])
    else:
        left, top, size = 0.0, 0.0, sheet[0]
    height = min(max(size / 60.0, 2.0), 8.0)
    for i, line in enumerate(notes):
        space.add_text(line, height=height, dxfattribs={"layer": "NOTE"}).set_placement(
            (left, top - (i + 2) * 1.7 * height)
        )
