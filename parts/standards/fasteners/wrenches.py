"""Widths across flats that wrenches are made for."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from parts.standards.designation import inch_to_mm, read_table


@cache
def wrench_sizes() -> NDArray[np.float64]:
    """Every width across flats that a wrench is made for [mm], in rising order."""
    return np.sort(
        [
            float(row["size"]) if row["unit"] == "mm" else inch_to_mm(row["size"])
            for row in read_table("wrench_sizes")
        ]
    )


def nearest_wrench(across_flats: Any) -> Any:
    """The width across flats of the wrench nearest to a size.

    Args:
        across_flats: width across flats [mm], a number or an array.

    Returns:
        Width of the nearest wrench [mm].
    """
    sizes = wrench_sizes()
    flats = np.asarray(across_flats, float)
    return sizes[np.argmin(np.abs(flats[..., None] - sizes), axis=-1)]
