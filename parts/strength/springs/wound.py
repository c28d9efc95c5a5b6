"""Torsion springs of round wire: rate, stress, and how far their coils close as they wind up.

Worked example (Shigley, example 10-8): wire of 0.072 in, coils of 0.5218 in, 4 1/4 of them and legs of 1 in each: 4.657
coils give.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.springs.coils import BOOK, COILED, coiled
from parts.strength.validity import within


@method(
    formula="n_a = n + (l_1 + l_2)/(3 π D)",
    source=BOOK + "eq. 10-48: legs bend as cantilevers",
)
def coils_that_give(n: Number, l_1: Number, l_2: Number, D: Number) -> Number:
    """Coils that would give as much as coils and legs together.

    Args:
        n [-]: coils of the body.
        l_1 [mm]: from the axis along one leg to where it is held.
        l_2 [mm]: the same of the other.
        D [mm]: mean diameter of the coils.

    Returns:
        [-] coils.
    """
    return (n + np.add(l_1, l_2) / (3.0 * np.pi * np.asarray(D)))[()]


@method(
    formula="R = E d⁴ / (64 D n)",
    source="EN 13906-3, rate of a torsion spring; from memory. Friction on its mandrel takes some 6 % of it",
    valid=COILED,
    holds=coiled,
)
def wound_rate(d: Number, D: Number, n: Number, E: Number) -> Number:
    """Moment for each radian that a torsion spring is wound.

    Args:
        d [mm]: wire.
        D [mm]: mean diameter of the coils.
        n [-]: coils that give.
        E [MPa]: Young's modulus.

    Returns:
        [N*mm/rad] rate; nan out of range.
    """
    return within(coiled(d, D), E * np.power(d, 4) / (64.0 * np.multiply(D, n)))


@method(
    formula="σ = q 32 M / (π d³), q = (w + 0.07)/(w - 0.75), w = D/d",
    source="EN 13906-3, whose q counts for moving loads alone, here always; from memory",
    valid=COILED,
    holds=coiled,
)
def wound_stress(M: Number, d: Number, D: Number) -> Number:
    """Greatest bending stress in the coils, at the inside.

    Args:
        M [N*mm]: moment of the spring.
        d [mm]: wire.
        D [mm]: mean diameter of the coils.

    Returns:
        [MPa] stress; nan out of range.
    """
    w = np.divide(D, d)
    q = (w + 0.07) / (w - 0.75)
    return within(coiled(d, D), q * 32.0 * np.asarray(M) / (np.pi * np.power(d, 3)))


@method(
    formula="D_i = D n/(n + α/(2 π)) - d",
    source="the wire keeps its length; " + BOOK + "eq. 10-51 and 10-52",
)
def inside_when_wound(D: Number, d: Number, n: Number, alpha: Number) -> Number:
    """Inside diameter of the coils when they are wound up.

    Args:
        D [mm]: mean diameter of the coils as they are free.
        d [mm]: wire.
        n [-]: coils of the body.
        alpha [rad]: how far they are wound.

    Returns:
        [mm] diameter.
    """
    return (np.multiply(D, n) / (n + np.asarray(alpha) / (2.0 * np.pi)) - d)[()]
