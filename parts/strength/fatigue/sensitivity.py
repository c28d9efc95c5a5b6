"""Notch sensitivity: how much of a stress concentration factor fatigue feels."""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method


@method(
    formula="a = 0.0254 (2070 / S_ut)^1.8, S_ut at least 550",
    source="Peterson; Dowling, Mechanical Behavior of Materials, sect. 10.3, from memory",
    valid="steel from 550 MPa, bending or tension (0.6 a in torsion); softer gets the value at 550, K_f high",
    holds=lambda S_ut: np.greater_equal(S_ut, 550.0),
)
def peterson_length(S_ut: Number) -> Number:
    """Peterson's length for steel.

    Args:
        S_ut [MPa]: tensile strength.

    Returns:
        [mm] length a.
    """
    return 0.0254 * np.power(np.divide(2070.0, np.maximum(S_ut, 550.0)), 1.8)


@method(formula="q = 1 / (1 + a / r)", source="Peterson; Dowling, Mechanical Behavior of Materials")
def peterson(a: Number, r: Number) -> Number:
    """Notch sensitivity by Peterson; a = 0.51 mm for wrought aluminium (Dowling, from memory).

    Args:
        a [mm]: Peterson's length.
        r [mm]: radius at the bottom of the notch.

    Returns:
        [-] q.
    """
    return 1.0 / (1.0 + np.divide(a, r))


@method(formula="K_f = 1 + q (K_t - 1)", source="Peterson; Shigley, 9th ed., eq. 6-32")
def fatigue_factor(K_t: Number, q: Number) -> Number:
    """Fatigue stress concentration factor.

    Args:
        K_t [-]: stress concentration factor.
        q [-]: notch sensitivity.

    Returns:
        [-] K_f.
    """
    return 1.0 + np.multiply(q, np.subtract(K_t, 1.0))
