"""Straight bars under direct load and simple bending: the textbook stresses that many parts share."""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method

MECHANICS = "Beer & Johnston, Mechanics of Materials, section 1.2"


@method(formula="σ = F / A", source="mean stress; " + MECHANICS)
def direct_stress(F: Number, A: Number) -> Number:
    """Mean stress of a bar pulled or pushed along its axis.

    Args:
        F [N]: force along the axis.
        A [mm^2]: area of the section.

    Returns:
        [MPa] stress; infinite where there is no area.
    """
    with np.errstate(divide="ignore"):
        return np.divide(F, A)[()]


@method(formula="σ = M / W", source="bending of beams; Beer & Johnston, Mechanics of Materials, chapter 4")
def bending_stress(M: Number, W: Number) -> Number:
    """Bending stress at the outer fibre.

    Args:
        M [N*mm]: bending moment.
        W [mm^3]: elastic section modulus.

    Returns:
        [MPa] stress; infinite where there is no modulus.
    """
    with np.errstate(divide="ignore"):
        return np.divide(M, W)[()]
