"""A pin's hole in a plate, as a drawing states it."""

from __future__ import annotations

import numpy as np

from parts.core.drawing import Hole
from parts.features.pins.pin import BushedHole, Pin, ReamedHole
from parts.features.press.fit import FINE


def pin_hole(name: str, pin: Pin, place: np.ndarray, axis: np.ndarray, through: float) -> Hole:
    """A pin's hole in a plate, from its mouth at a place along an axis."""
    of = pin.bore_limits()
    fit, bounds, words = of.tolerance_class, of.sizes, ""
    if isinstance(pin.hole, ReamedHole):
        fit, words = pin.hole.fit, FINE
    elif isinstance(pin.hole, BushedHole):
        fit, words = pin.hole.fit.split("/")[0], f"{FINE}\nfor bush, {pin.hole.fit}"
    return Hole(
        name, place, axis, float(pin.bore), through=through, fit=fit, limits=bounds, callout=words
    )
