"""Datums of a bracket and the zones of its holes: the face on the frame, the first mount, then the second."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from parts.core.drawing import Callout, DatumFeature, Marks, Zone
from parts.features.plate.fixture import Fixture

FACE, FIRST, SECOND = "A", "B", "C"
X, Y, Z = np.eye(3)


def in_the_pattern(marks: Marks, one: Fixture, zone: float, low: Any) -> Marks:
    """The marks of a bolted hole with its zone in the pattern of the mounts.

    The first mount is square to the face that lies on the frame, which is the first datum, and is itself the second;
    the second mount is the third.

    Args:
        marks: of the hole.
        one: the hole.
        zone: diameter of the zone of its axis [mm].
        low: height of the face on the frame [mm].
    """
    first, second = one.field == "mounts[1]", one.field == "mounts[2]"
    datums = (FACE,) if first else (FACE, FIRST) if second else (FACE, FIRST, SECOND)
    wanted = Zone("perpendicularity" if first else "position", zone, datums)
    letter = FIRST if first else SECOND if second else ""
    holes = tuple(
        replace(hole, zones=(wanted,), datum=letter) if hole.name == one.name else hole
        for hole in marks.holes
    )
    dimensions = tuple(
        replace(size, zones=(replace(wanted, round=False),), datum=letter)
        if isinstance(size, Callout) and size.name == f"slot of {one.name}"
        else size
        for size in marks.dimensions
    )
    faces = (on_the_frame(one, float(low)),) if first else ()
    return replace(marks, holes=holes, dimensions=dimensions, datums=faces)


def on_the_frame(one: Fixture, low: float) -> DatumFeature:
    """The face of the first mount that lies on the frame, as the first datum."""
    wide = float(one.inner[0].diameter) if one.inner else 2.0 * float(one.pad)
    middle = np.array([*one.place, low])
    ends = middle - X * 0.45 * wide, middle + X * 0.45 * wide
    return DatumFeature(FACE, *ends, -Z, "top")


def square_to_the_face(marks: Marks, name: str, allowed: float) -> Marks:
    """Marks of a seat or a journal, its axis square to the face on the frame.

    Args:
        marks: of the seat or the journal.
        name: of its holes and words, as they begin.
        allowed: diameter of the zone [mm]: what the size itself may be off.
    """
    zone = (Zone("perpendicularity", allowed, (FACE,)),)

    def fitted(mark: Any) -> bool:
        return any(bool(getattr(one, "fit", None)) for one in (mark, *getattr(mark, "sizes", ())))

    def with_zone(mark: Any) -> Any:
        return replace(mark, zones=zone) if mark.name.startswith(name) and fitted(mark) else mark

    holes = tuple(with_zone(hole) for hole in marks.holes)
    over = f"{name}, over the face"
    dimensions = tuple(
        with_zone(size) if isinstance(size, Callout) and size.name == over else size
        for size in marks.dimensions
    )
    return replace(marks, holes=holes, dimensions=dimensions)
