"""Axes of the parts that ride on swing arm or arm: they turn with it, whatever their place is stated by."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from parts.strength.vectors import cross
from parts.vehicle.file.places import Frame
from parts.vehicle.rear_end.linkage import dot
from parts.vehicle.rear_end.rear import SWING_ARM, Rear

ARM = "arm"
RIDING = (SWING_ARM, ARM)
"""Bodies of a rear end that turn about a line of the frame."""


def turned_with(
    body: str,
    stands: Frame,
    rear: Rear,
    drawn: Mapping[str, np.ndarray],
    here: Mapping[str, np.ndarray],
) -> Frame:
    """The axes of a part on a body that turned about its line.

    Args:
        body: of `RIDING`.
        stands: the part's axes as drawn.
        rear: the rear end, whose axle or arm end tells how far the body turned.
        drawn: places of the hardpoints as drawn [mm].
        here: places of them where the wheel is [mm].
    """
    linkage, entry = rear.end.linkage, rear.entry
    line, root, at = (
        (linkage.torsion_bar, entry.bar_line, entry.arm_end)
        if body == ARM
        else (linkage.swing_arm, entry.pivot, entry.axle)
    )
    # At the worst of its tolerance the line itself stands elsewhere.
    moved = here[root] - drawn[root]
    foot = line.foot(drawn[at])
    out, to = drawn[at] - foot, here[at] - moved - foot
    angle = np.arctan2(dot(line.unit, cross(out, to)), dot(out, to))
    return Frame(
        line.turned(stands.origin, angle) + moved, line.turned_direction(stands.axes, angle)
    )
