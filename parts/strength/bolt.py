"""Bolts of a group, one at a time: shear and tension together."""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method


@method(
    formula="R = √((V/V_u)² + (N/N_u)²)",
    source="elliptical interaction of shear and tension in bolts: AISC 360, commentary on J3.7, from memory",
)
def shear_and_tension(V: Number, V_u: Number, N: Number, N_u: Number) -> Number:
    """Share of its strength that a bolt uses where shear and tension meet.

    Args:
        V [N]: shear on the bolt.
        V_u [N]: shear that it bears alone.
        N [N]: pull on the bolt.
        N_u [N]: pull that it bears alone.

    Returns:
        [-] use; 1 is the limit, and it grows in proportion to the load.
    """
    return np.hypot(np.divide(V, V_u), np.divide(N, N_u))
