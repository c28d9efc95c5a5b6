"""Hardware of a foot lever as plain cylinders: the peg that is screwed into its toe, and the pin of its rod."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from parts.families.foot_lever.family import FootLever
from parts.families.foot_lever.tapped_toe import TappedToe
from parts.families.foot_lever.toe_boss import BEYOND
from parts.features.eye.eye import Eye
from parts.vehicle.space.cylinders import Cylinder, pin

Z = np.array([0.0, 0.0, 1.0])


def lever_envelopes(part: FootLever) -> Iterator[Cylinder]:
    """The bought-in hardware of a foot lever; its bearings are of the stub, a peg that is pressed or welded is made.

    A pin that one side alone carries is drawn as long on both: which side that is, nothing states.

    Args:
        part: the lever.

    Yields:
        Cylinders in the part's axes.
    """
    points, toe, end = part.points(), part.toe, part.rod.end
    if isinstance(toe, TappedToe):
        foot = np.asarray(points["toe"], float)
        face = foot - toe.up * float(toe.height_of_foot) * Z
        far, d = face - toe.up * float(toe.width) * Z, float(toe.thread.major)
        top = face + toe.up * (1.0 + BEYOND) * float(toe.height_of_foot) * Z
        yield Cylinder("toe bolt", "shank", far, face, d)
        yield Cylinder("toe peg", "post", face, top, float(toe.shoulder))
    if isinstance(end, Eye):
        grip = float(end.tongue + 2.0 * (end.pin.ear + end.pin.gap))
        yield from pin("rod pin", points["rod"], Z, float(end.pin.diameter), grip)
    else:
        ears = end.ears
        yield from pin("rod pin", points["rod"], Z, float(ears.pin.diameter), float(ears.height))
