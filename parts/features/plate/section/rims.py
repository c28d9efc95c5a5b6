"""Holes of a plate that carry load themselves: what their load adds at their rims, where sections cross them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

import numpy as np

from parts.core.loads import LoadCase
from parts.features.plate.section.columns import Stretch
from parts.strength.fatigue.notch import slot_in_plate
from parts.strength.section.outline import Array

Own = Callable[[LoadCase], Array]
"""What each of some holes adds at its rim by its own load under a load case [MPa]."""


def nothing(_: LoadCase) -> Array:
    return np.zeros(0)


class Rim(NamedTuple):
    """The rim of a hole that carries load itself.

    `at` is its middle, `half` half its length along `along` (2,), its longer way, and `radius` that of its ends [mm];
    `own(case)` gives the stress that its load adds there [MPa].
    """

    at: tuple[Any, Any]
    radius: Any
    own: Callable[[LoadCase], Any]
    half: Any = 0.0
    along: tuple[Any, Any] = (0.0, 0.0)


class Holes(NamedTuple):
    """Loaded holes along a line: their middles `s`, how far they `reach` along it (n,) [mm], and the factor of each
    on the stress that passes it [-]."""

    s: Array
    reach: Array
    factor: Array

    def crossed(self, stretch: Stretch, t: Array) -> np.ndarray:
        """Whether sections at t of a stretch cross them (holes, ...)."""
        away = np.abs(stretch.at(np.asarray(t, float)) - self.s[:, None])
        return np.asarray(away <= self.reach[:, None])

    def added(self, own: Own, stretch: Stretch, cases: Sequence[LoadCase], t: Array) -> Array:
        """What the worst of those that are crossed adds at its rim [MPa], shape (cases, n)."""
        there = self.crossed(stretch, t)
        return np.array([(there * own(case)[:, None]).max(0) for case in cases])


def crossed_holes(rims: Sequence[Rim], origin: Array, frame: Array) -> Holes:
    """The loaded holes as sections across the first row of a frame see them.

    Args:
        rims: the holes.
        origin: a place from which the frame measures (2,) [mm].
        frame: rows along and across the line (2, 2).

    Returns:
        Where the line crosses them.
    """
    at = (np.array([one.at for one in rims], float).reshape(-1, 2) - origin) @ frame.T
    way = np.array([one.along for one in rims], float).reshape(-1, 2) @ frame.T
    r = np.array([float(one.radius) for one in rims])
    straight = np.maximum(np.array([float(one.half) for one in rims]) - r, 0.0)
    reach, across = (r + straight * np.abs(way[:, k]) for k in (0, 1))
    return Holes(at[:, 0], reach, np.asarray(slot_in_plate(across, r)))
