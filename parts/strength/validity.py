"""What a method gives outside its range: nan, which no check ever passes."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from parts.strength.method import Number

Truth: TypeAlias = NDArray[np.bool_]


def within(holds: ArrayLike, value: Number) -> Number:
    """The value where the method holds, nan elsewhere."""
    found: Number = np.where(holds, value, np.nan)[()]
    return found


def between(value: ArrayLike, low: ArrayLike, high: ArrayLike) -> Truth:
    """True where low ≤ value ≤ high, with a last-digit allowance for limits that were computed."""
    v, a, b = np.asarray(value, float), np.asarray(low, float), np.asarray(high, float)
    slack = 1e-9 * np.maximum(np.abs(a), np.abs(b))
    return np.asarray((v >= a - slack) & (v <= b + slack))
