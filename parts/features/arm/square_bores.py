"""Bores that stand square to the face of a hub, and its seats in line: what a sheet asks of them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from parts.core.drawing import Callout, DatumFeature, Diameter, Dimension, Hole, Marks, Zone

Z = np.eye(3)[2]
FACE = "A"
SPLINED = 0.05
"""How far the axis of a spline may lean over the hub, so that the arm runs true on its bar [mm]; common practice, no
source."""


def square_bores(marks: Marks, half: float, wide: float) -> Marks:
    """Marks with the bores along a hub and its spline square to its face, each bore within what its fit allows.

    Args:
        marks: of a part, the middle of its hub at the origin and the hub along z.
        half: half of the hub's width [mm].
        wide: its diameter [mm].

    Returns:
        The marks, the face as datum A.
    """

    def square(hole: Hole) -> Hole:
        along = abs(abs(float(np.asarray(hole.axis, float)[2])) - 1.0) < 1e-9
        if not (along and hole.fit and hole.limits):
            return hole
        zone = Zone("perpendicularity", _fitted(hole.limits), (FACE,))
        return replace(hole, zones=(*hole.zones, zone))

    def toothed(one: Dimension) -> Dimension:
        if not (isinstance(one, Callout) and one.name == "spline"):
            return one
        return replace(one, zones=(*one.zones, Zone("perpendicularity", SPLINED, (FACE,))))

    face = DatumFeature(FACE, (-0.45 * wide, 0.0, half), (-0.2 * wide, 0.0, half), Z, "top")
    return replace(
        marks,
        dimensions=tuple(map(toothed, marks.dimensions)),
        holes=tuple(map(square, marks.holes)),
        datums=(face,),
    )


def in_line(one: Callout, letter: str) -> Callout:
    """The words of a bore that lies on the axis of another, as far off as its own size may be.

    Args:
        one: the words, whose only size is the bore.
        letter: of the datum, the other bore.
    """
    (bore,) = one.sizes
    assert isinstance(bore, Diameter) and bore.limits is not None
    return replace(one, zones=(Zone("coaxiality", _fitted(bore.limits), (letter,)),))


def _fitted(limits: tuple[float, float]) -> float:
    return round(limits[1] - limits[0], 6)
