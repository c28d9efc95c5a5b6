"""Extension springs of round wire: rate, stress in their coils and in their loops, tension that they are wound with.

Worked example (Shigley, example 10-6): wire of 0.035 in, coils of 0.213 in, loops bent to 0.106 in and 0.089 in: under
5.25 lbf 82.0 ksi in the coils, 156.9 ksi where the loop bends and 78.4 ksi where it twists.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.springs.coils import BOOK, COILED, coiled
from parts.strength.validity import Truth, within


@method(
    formula="R = G d⁴ / (8 D³ n)",
    source="EN 13906-2, rate of an extension spring; from memory",
    valid=COILED,
    holds=coiled,
)
def pulled_rate(d: Number, D: Number, n: Number, G: Number) -> Number:
    """Rate of an extension spring.

    Args:
        d [mm]: wire.
        D [mm]: mean diameter of the coils.
        n [-]: coils that give.
        G [MPa]: shear modulus.

    Returns:
        [N/mm] rate; nan out of range.
    """
    return within(coiled(d, D), G * np.power(d, 4) / (8.0 * np.power(D, 3) * n))


@method(
    formula="τ = k 8 D F / (π d³), k = (w + 0.5)/(w - 0.75), w = D/d",
    source="EN 13906-2 with the factor of EN 13906-1 for the inside of the coil, which EN 13906-2 asks of moving loads "
    "alone; from memory",
    valid=COILED,
    holds=coiled,
)
def coil_shear(F: Number, d: Number, D: Number) -> Number:
    """Greatest shear stress in the coils, at the inside.

    Args:
        F [N]: force of the spring.
        d [mm]: wire.
        D [mm]: mean diameter of the coils.

    Returns:
        [MPa] stress; nan out of range.
    """
    w = np.divide(D, d)
    k = (w + 0.5) / (w - 0.75)
    return within(coiled(d, D), k * 8.0 * np.multiply(D, F) / (np.pi * np.power(d, 3)))


def _bent(d: Number, r: Number, **_: Number) -> Truth:
    return np.asarray(2.0 * np.asarray(r) >= 1.5 * np.asarray(d))


@method(
    formula="σ = F (K 16 D/(π d³) + 4/(π d²)), K = (4 C² - C - 1)/(4 C (C - 1)), C = 2 r/d",
    source=BOOK + "eq. 10-34 and 10-35",
    valid="radius of the loop from 0.75 wires up",
    holds=_bent,
)
def loop_bending(F: Number, d: Number, D: Number, r: Number) -> Number:
    """Greatest stress where a loop bends, at its inside.

    Args:
        F [N]: force of the spring.
        d [mm]: wire.
        D [mm]: mean diameter of the coils: twice the lever of the force there.
        r [mm]: radius of the loop to the middle of the wire.

    Returns:
        [MPa] stress; nan out of range.
    """
    C = 2.0 * np.divide(r, d)
    with np.errstate(divide="ignore", invalid="ignore"):
        K = (4.0 * C**2 - C - 1.0) / (4.0 * C * (C - 1.0))
        found = F * (K * 16.0 * np.asarray(D) / np.power(d, 3) + 4.0 / np.square(d)) / np.pi
    return within(_bent(d, r), found)


@method(
    formula="τ = K 8 F D/(π d³), K = (4 C - 1)/(4 C - 4), C = 2 r/d",
    source=BOOK + "eq. 10-36 and 10-37",
    valid="radius of the bend from 0.75 wires up",
    holds=_bent,
)
def loop_shear(F: Number, d: Number, D: Number, r: Number) -> Number:
    """Greatest shear stress where a loop leaves its last coil.

    Args:
        F [N]: force of the spring.
        d [mm]: wire.
        D [mm]: mean diameter of the coils.
        r [mm]: radius of the bend there to the middle of the wire.

    Returns:
        [MPa] stress; nan out of range.
    """
    C = 2.0 * np.divide(r, d)
    with np.errstate(divide="ignore", invalid="ignore"):
        K = (4.0 * C - 1.0) / (4.0 * C - 4.0)
        found = K * 8.0 * np.multiply(F, D) / (np.pi * np.power(d, 3))
    return within(_bent(d, r), found)


@method(
    formula="F_0 = π d³ τ_0/(8 D), τ_0 = 231/exp(0.105 w) + 6.9 (4 - (w - 3)/6.5), w = D/d",
    source=BOOK + "eq. 10-41, the upper end of the preferred range",
    valid=COILED,
    holds=coiled,
)
def most_wound_in(d: Number, D: Number) -> Number:
    """Greatest force that a shop winds into a spring whose coils touch.

    Args:
        d [mm]: wire.
        D [mm]: mean diameter of the coils.

    Returns:
        [N] force; nan out of range.
    """
    w = np.divide(D, d)
    tau = 231.0 / np.exp(0.105 * w) + 6.9 * (4.0 - (w - 3.0) / 6.5)
    return within(coiled(d, D), np.pi * np.power(d, 3) * tau / (8.0 * np.asarray(D)))
