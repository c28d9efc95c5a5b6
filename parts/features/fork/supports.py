"""How a fork is loaded by its pin: what the proof of a clevis needs."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from parts.core.loads import Action, resultant
from parts.core.supports import Applied, Round
from parts.features.fork.ears import EarPair
from parts.features.pins.pin import TappedHole

PIN = np.array([0.0, 0.0, 1.0])


def pin_loads(ears: EarPair, actions: Sequence[Action]) -> tuple[Applied, ...]:
    """What a pin does to both ears: half each, more by a couple, and a push along it on one ear alone.

    Args:
        ears: the group of the ears.
        actions: what acts on the pin, in the axes of the ears.

    Returns:
        One load an ear, bearing on its bore.
    """
    force, moment = resultant(actions, np.zeros(3))
    middle = float(ears.middle)
    couple = np.array([moment[1], -moment[0], 0.0]) / (2.0 * middle)
    found = []
    for side, sign in (("upper", 1.0), ("lower", -1.0)):
        share = force * [0.5, 0.5, 0.0] + sign * couple
        leans = sign * force[2] > 0.0
        share = share + np.array([0.0, 0.0, force[2] if leans else 0.0])
        at = np.array([0.0, 0.0, sign * middle])
        action = Action(at, share, moment * np.array([0.0, 0.0, 0.5]))
        found.append(Applied(f"{side} ear", (ear_bore(ears, sign),), (action,), "bearing"))
    return tuple(found)


def ear_bore(ears: EarPair, sign: float) -> Round:
    """The bore of one ear."""
    pin = ears.pin
    gap, half = float(ears.throat.width) / 2.0, float(ears.height) / 2.0
    tapped = pin.hole if isinstance(pin.hole, TappedHole) and sign < 0.0 else None
    d = float(tapped.thread.minor_internal if tapped else pin.bore)
    low, high = (gap, half) if sign > 0.0 else (-half, -gap)
    return Round(np.zeros(3), PIN, d, low, high)
