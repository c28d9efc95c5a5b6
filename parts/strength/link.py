"""Links that are screwed together and locked: what a preload leaves over, and a link pushed and bent."""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method

STATICS = "strength of materials; Beer & Johnston, Mechanics of Materials, chapter 4"


@method(
    formula="F = max(F_0 − F_j, 0)",
    source="statics of a locked thread; the whole load added to the preload is on the safe side",
)
def left_by_preload(F_0: Number, F_j: Number) -> Number:
    """Load that a thread still bears beside the preload in it.

    Args:
        F_0 [N]: what the thread bears in all.
        F_j [N]: the preload.

    Returns:
        [N] load; nil where the preload takes it all.

    Example:
        >>> float(left_by_preload(18.0e3, 7.0e3))
        11000.0
    """
    return np.maximum(np.subtract(F_0, F_j), 0.0)[()]


@method(formula="σ = P/A + (M_1 + M_2)/W", source=STATICS)
def pushed_and_bent_stress(P: Number, A: Number, M_1: Number, M_2: Number, W: Number) -> Number:
    """Largest compressive stress of a bar that is pushed and bent in one plane by two causes.

    Args:
        P [N]: compression.
        A [mm^2]: area.
        M_1 [N*mm]: bending moment, as of a side load.
        M_2 [N*mm]: another at the same place, as of the bar's own weight.
        W [mm^3]: elastic section modulus.

    Returns:
        [MPa] stress.

    Example:
        >>> float(pushed_and_bent_stress(1.0e4, 100.0, 5.0e4, 0.0, 500.0))
        200.0
    """
    return np.divide(P, A) + np.add(M_1, M_2) / W
