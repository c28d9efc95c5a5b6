"""The damper: its stroke through the travel and the loads of its own mounts. It does not carry the spring.

The damper pushes against movement either way, so both mounts feel its force along its own line, pushed
apart while the wheel rises and pulled together while it falls.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from parts.strength.method import Number, method
from parts.vehicle.rear_end.linkage import COINCIDENT, Linkage, LinkageError, dot, length, unit
from parts.vehicle.rear_end.motion import Motion, motion


@method(formula="F = C v", source="linear damper")
def damping_force(C: Number, v: Number) -> Number:
    """Force of a damper that moves, from its rate.

    Args:
        C [N*s/mm]: damping rate at that velocity; compression and rebound differ.
        v [mm/s]: velocity of the rod, closing positive.

    Returns:
        [N] force, pushing the mounts apart where positive.
    """
    return np.multiply(C, v)[()]


class Damper(NamedTuple):
    """Where a damper stands, in the position that the linkage was drawn in.

    Attributes:
        on_frame: mount on the frame [mm], shape (..., 3).
        on_swing_arm: mount on the swing arm [mm], shape (..., 3).
    """

    on_frame: Any
    on_swing_arm: Any


class DamperMotion(NamedTuple):
    """A damper through the travel; vectors have shape (..., 3).

    Attributes:
        travel: of the wheel, from full droop [mm].
        length: between its mounts [mm].
        ratio: closing of the damper for each millimetre of bump [-].
        on_swing_arm: mount on the swing arm [mm].
        along: direction from the frame's mount to the swing arm's [-].
    """

    travel: Any
    length: Any
    ratio: Any
    on_swing_arm: Any
    along: Any

    def mount_loads(self, force: Any) -> tuple[np.ndarray, np.ndarray]:
        """Loads on the two mounts from a force of the damper.

        Args:
            force: of the damper, pushing the mounts apart where positive [N], as from `damping_force`
                or as given by the maker.

        Returns:
            on the frame's and on the swing arm's mount [N], shape (..., 3); they are opposite.
        """
        push = np.asarray(force, float)[..., None] * self.along
        return -push, push


def damper_motion(
    linkage: Linkage, damper: Damper, travel: Any, known: Motion | None = None
) -> DamperMotion:
    """The damper at positions of the wheel.

    Args:
        linkage: as drawn.
        damper: its mounts, drawn in the same position.
        travel: of the wheel from full droop [mm], number or array.
        known: the linkage there, where it was solved before.

    Returns:
        lengths, ratio and line of action.

    Raises:
        LinkageError: as for `parts.vehicle.rear_end.motion.motion`, or the mounts coincide.
    """
    arm, moved = linkage.swing_arm, known or motion(linkage, travel)
    mount = arm.turned(damper.on_swing_arm, moved.swing)
    way = mount - np.asarray(damper.on_frame, float)
    if not np.all(length(way) > COINCIDENT):
        raise LinkageError("the two mounts of the damper coincide; move one of them")
    lift = arm.swept(moved.axle)[..., 2]
    return DamperMotion(
        travel=np.asarray(travel, float),
        length=length(way),
        ratio=-dot(unit(way), arm.swept(mount)) / lift,
        on_swing_arm=mount,
        along=unit(way),
    )
