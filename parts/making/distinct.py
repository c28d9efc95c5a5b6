"""The distinct rows of an array by sorting its columns: `numpy.unique` compares whole rows, ten times as slowly."""

from __future__ import annotations

import numpy as np


def distinct(rows: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Number the distinct rows in rising order, the first column first.

    Args:
        rows: (n, columns).

    Returns:
        The first row of each kind, (k,), and the kind of each row, (n,).
    """
    order = np.lexsort(rows.T[::-1])
    begins = np.ones(len(rows), bool)
    begins[1:] = np.any(rows[order[1:]] != rows[order[:-1]], axis=1)
    kind = np.empty(len(rows), int)
    kind[order] = np.cumsum(begins) - 1
    return order[begins], kind
