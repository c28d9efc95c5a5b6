"""Coils of round wire that the formulas of springs are for, and the book that most of them are from."""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number
from parts.strength.validity import Truth

BOOK = "Budynas and Nisbett, Shigley's Mechanical Engineering Design, 9th ed., "
COILED = "D/d from 3 to 20"
"""The range in words."""


def coiled(d: Number, D: Number, **_: Number) -> Truth:
    """Whether coils of mean diameter D, of wire d [mm], lie in that range."""
    w = np.divide(D, d)
    return np.asarray((w >= 3.0) & (w <= 20.0))
