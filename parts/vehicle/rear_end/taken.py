"""What the parts of a build may take from its rear end by name."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from parts.inputs.units import ANGLE, FORCE, LENGTH, Kind
from parts.vehicle.rear_end.rear import Rear


def values_of(rear: Rear) -> Mapping[str, tuple[Any, Kind | None]]:
    """Lengths [mm], angles [rad], forces [N] and texts of a rear end, by name, each with its kind; None of a text."""
    bar, linkage = rear.entry.bar, rear.end.linkage
    turn = np.asarray(rear.whole.motion.bar_turn)
    found: dict[str, tuple[Any, Kind | None]] = {
        "arm length": (float(linkage.arm_length), LENGTH),
        "link length": (float(linkage.drawn_length), LENGTH),
        "bar diameter": (bar.diameter, LENGTH),
        "bar bore": (bar.bore, LENGTH),
        "bar length": (bar.length, LENGTH),
        "bar material": (bar.material.name, None),
        "bar preset": (bar.preset, None),
        "arm turn, droop to bump": (float(turn[-1] - turn[0]), ANGLE),
        "link force at full bump": (abs(float(rear.whole.link_force[-1])), FORCE),
        "joint swing at the swing arm": (float(np.max(rear.whole.motion.pick_up_swing)), ANGLE),
        "joint swing at the arm": (float(np.max(rear.whole.motion.arm_swing)), ANGLE),
    }
    if rear.rests is None:
        return found
    still = rear.at(float(rear.rests.travel[1]))
    rise = float(still.motion.bar_turn)
    return found | {
        "arm turn, rest to bump": (float(turn[-1]) - rise, ANGLE),
        "arm turn, rest to droop": (rise - float(turn[0]), ANGLE),
        "load square to the arm at rest": (
            float(still.torque) / float(linkage.arm_length),
            FORCE,
        ),
    }
