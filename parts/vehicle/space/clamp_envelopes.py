"""Pinch bolts of a split clamp as plain cylinders."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from parts.features.bar_bore.split_clamp import SPOT_DEPTH, SplitClamp
from parts.vehicle.space.cylinders import Cylinder, screw


def pinch_bolts(of: SplitClamp, middle: Any, width: float) -> Iterator[Cylinder]:
    """The pinch bolts, their heads on the ear that is drilled clear.

    Args:
        of: the clamp.
        middle: of its bore, in the part's axes [mm].
        width: of the clamp along the bar [mm].

    Yields:
        Cylinders in the part's axes.
    """
    turn, d = float(of.clocking), float(of.bolt.thread.major)
    along = np.array([np.cos(turn), np.sin(turn), 0.0])
    across = np.array([-np.sin(turn), np.cos(turn), 0.0])
    for k in range(of.count):
        height = (k - (of.count - 1) / 2.0) * float(of.pitch(width))
        at = np.asarray(middle, float) - float(of.offset) * along + np.array([0.0, 0.0, height])
        seat = at + (float(of.face_at) - SPOT_DEPTH) * across
        tip = seat - float(of.bolt.length) * across
        yield from screw(f"pinch bolt {k + 1}", tip, seat, d, of.face / d)
