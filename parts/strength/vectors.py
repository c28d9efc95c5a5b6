"""Vectors of three entries."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray


def cross(one: ArrayLike, other: ArrayLike) -> NDArray[np.float64]:
    """Vector product over the last axis, which has three entries; a fraction of the time of numpy's own.

    Args:
        one [-]: vectors (..., 3).
        other [-]: vectors (..., 3).

    Returns:
        [-] their product (..., 3).
    """
    a, b = np.asarray(one, float), np.asarray(other, float)
    if a.ndim == b.ndim == 1:
        (x, y, z), (u, v, w) = a.tolist(), b.tolist()
        return np.array([y * w - z * v, z * u - x * w, x * v - y * u])
    ax, ay, az = a[..., 0], a[..., 1], a[..., 2]
    bx, by, bz = b[..., 0], b[..., 1], b[..., 2]
    x, y, z = ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx
    product = np.empty((*np.shape(x), 3))
    product[..., 0], product[..., 1], product[..., 2] = x, y, z
    return product
