"""The stress at the toe of a weld on a round tube: of a tube that stands end-on there, and of a plate.

The wall under the end is soft between the two sides of the saddle and stiff at its crown, so the load does not run
evenly round the weld. Efthymiou's formulas give the peak at the toe, on the neighbour and on the tube itself, over the
nominal stress of the tube. They are made for chords at least eight diameters long whose ends are held; what bends
the neighbour as a beam is no part of them.

Ratios are counted within their range where that is on the safe side: γ = d0/(2 t0) no less than 8, τ = t1/t0 no
less than 0.2.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.strength.method import Number, method
from parts.strength.validity import Truth, between, within

EFTHYMIOU = (
    "Efthymiou, Development of SCF formulae and generalised influence functions (1988), as in DNV-RP-C203 (2010), "
    "Table B-1; read in three open libraries that agree"
)
RANGE = "d1/d0 0.2 to 1, d0/(2 t0) up to 32, t1/t0 up to 1, 20 to 90 degrees"
LONG = 12.0
"""Twice the neighbour's length over its diameter, from which its length changes nothing but its own bending [-]."""


def _in_range(d0: Number, t0: Number, d1: Number, t1: Number, theta: Number) -> Truth:
    slack = 1.0 + 1e-9
    return np.asarray(
        between(np.divide(d1, d0), 0.2, slack)
        & np.less_equal(np.divide(d0, 2.0 * np.asarray(t0)), 32.0 * slack)
        & np.less_equal(np.divide(t1, t0), slack)
        & between(np.asarray(theta, float), np.radians(20.0) / slack, np.pi / 2.0 * slack)
    )


def _face_range(b0: Number, t0: Number, d1: Number, t1: Number) -> Truth:
    return np.asarray(
        between(np.divide(d1, b0), 0.4, 0.8)
        & between(np.divide(b0, t0), 10.0, 30.0)
        & np.less_equal(np.divide(t1, t0), 1.0 + 1e-9)
    )


def _ratios(d0: Number, t0: Number, d1: Number, t1: Number) -> tuple[Any, Any, Any]:
    """β, γ and τ, each no less than the range begins."""
    beta = np.minimum(np.divide(d1, d0), 1.0)
    gamma = np.maximum(np.divide(d0, 2.0 * np.asarray(t0)), 8.0)
    return beta, gamma, np.clip(np.divide(t1, t0), 0.2, 1.0)


@method(
    formula="largest of γ τ^1.1 (1.11 − 3 (β − 0.52)²) sin^1.6 θ; γ^0.2 τ (2.65 + 5 (β − 0.65)²); "
    "1.3 + γ τ^0.52 α^0.1 (0.187 − 1.25 β^1.1 (β − 0.96)) sin^(2.7 − 0.01 α) θ; "
    "3 + γ^1.2 (0.12 exp(−4β) + 0.011 β² − 0.045); α = 12",
    source=EFTHYMIOU,
    valid=RANGE,
    holds=_in_range,
)
def axial_peak(d0: Number, t0: Number, d1: Number, t1: Number, theta: Number) -> Number:
    """Peak at the toe over the stress of a pull or push along the tube.

    Args:
        d0 [mm]: diameter of the neighbour.
        t0 [mm]: its wall.
        d1 [mm]: diameter of the tube that ends there.
        t1 [mm]: its wall.
        theta [rad]: angle between the two, at most a right one.

    Returns:
        [-] factor, the largest of saddle and crown on both tubes.

    Example: a tube half as wide and half as thick, square on another of γ 12: the saddle of the neighbour has 6.21.
        >>> round(float(axial_peak(240.0, 10.0, 120.0, 5.0, np.pi / 2.0)), 2)
        6.21
    """
    beta, gamma, tau = _ratios(d0, t0, d1, t1)
    s = np.sin(theta)
    rows = (
        gamma * tau**1.1 * (1.11 - 3.0 * (beta - 0.52) ** 2) * s**1.6,
        gamma**0.2 * tau * (2.65 + 5.0 * (beta - 0.65) ** 2),
        1.3
        + gamma
        * tau**0.52
        * LONG**0.1
        * (0.187 - 1.25 * beta**1.1 * (beta - 0.96))
        * s ** (2.7 - 0.01 * LONG),
        3.0 + gamma**1.2 * (0.12 * np.exp(-4.0 * beta) + 0.011 * beta**2 - 0.045),
    )
    return within(_in_range(d0, t0, d1, t1, theta), np.maximum.reduce(np.broadcast_arrays(*rows)))


@method(
    formula="larger of 1.45 β τ^0.85 γ^(1 − 0.68 β) sin^0.7 θ; "
    "1 + 0.65 β τ^0.4 γ^(1.09 − 0.77 β) sin^(0.06 γ − 1.16) θ",
    source=EFTHYMIOU,
    valid=RANGE,
    holds=_in_range,
)
def peak_along(d0: Number, t0: Number, d1: Number, t1: Number, theta: Number) -> Number:
    """Peak at the toe over the bending stress of a moment that rocks the tube along its neighbour.

    Args:
        d0 [mm]: diameter of the neighbour.
        t0 [mm]: its wall.
        d1 [mm]: diameter of the tube that ends there.
        t1 [mm]: its wall.
        theta [rad]: angle between the two, at most a right one.

    Returns:
        [-] factor, at the crown of either tube.

    Example:
        >>> round(float(peak_along(240.0, 10.0, 120.0, 5.0, np.pi / 2.0)), 2)
        2.42
    """
    beta, gamma, tau = _ratios(d0, t0, d1, t1)
    s = np.sin(theta)
    chord = 1.45 * beta * tau**0.85 * gamma ** (1.0 - 0.68 * beta) * s**0.7
    brace = 1.0 + 0.65 * beta * tau**0.4 * gamma ** (1.09 - 0.77 * beta) * s ** (
        0.06 * gamma - 1.16
    )
    return within(_in_range(d0, t0, d1, t1, theta), np.maximum(chord, brace))


@method(
    formula="k = γ τ β (1.7 − 1.05 β³) sin^1.6 θ; larger of k and k τ^−0.54 γ^−0.05 (0.99 − 0.47 β + 0.08 β⁴)",
    source=EFTHYMIOU,
    valid=RANGE,
    holds=_in_range,
)
def peak_across(d0: Number, t0: Number, d1: Number, t1: Number, theta: Number) -> Number:
    """Peak at the toe over the bending stress of a moment that rocks the tube across its neighbour.

    Args:
        d0 [mm]: diameter of the neighbour.
        t0 [mm]: its wall.
        d1 [mm]: diameter of the tube that ends there.
        t1 [mm]: its wall.
        theta [rad]: angle between the two, at most a right one.

    Returns:
        [-] factor, at the saddle of either tube.

    Example:
        >>> round(float(peak_across(240.0, 10.0, 120.0, 5.0, np.pi / 2.0)), 2)
        4.71
    """
    beta, gamma, tau = _ratios(d0, t0, d1, t1)
    chord = gamma * tau * beta * (1.7 - 1.05 * beta**3) * np.sin(theta) ** 1.6
    brace = chord * tau**-0.54 * gamma**-0.05 * (0.99 - 0.47 * beta + 0.08 * beta**4)
    return within(_in_range(d0, t0, d1, t1, theta), np.maximum(chord, brace))


@method(
    formula="σ = k_N |N|/A + k_i |M_i|/W + k_o |M_o|/W",
    source="superposition as in "
    + EFTHYMIOU
    + "; all added at one point, which is on the safe side",
)
def toe_stress(
    N: Number, M_i: Number, M_o: Number, A: Number, W: Number, k_N: Number, k_i: Number, k_o: Number
) -> Number:
    """Stress at the toe of the weld under a tube's end.

    Args:
        N [N]: force along the tube.
        M_i [N*mm]: moment that rocks it along its neighbour.
        M_o [N*mm]: moment that rocks it across.
        A [mm^2]: area of the tube.
        W [mm^3]: its section modulus.
        k_N [-]: peak of the force.
        k_i [-]: peak of the moment along.
        k_o [-]: peak of the moment across.

    Returns:
        [MPa] stress.

    Example: 10 MPa of pull, 5 and 4 of bending.
        >>> float(toe_stress(1000.0, 500.0, 400.0, 100.0, 100.0, 6.0, 2.5, 5.0))
        92.5
    """
    pulled = np.multiply(k_N, np.abs(N)) / A
    rocked = np.multiply(k_i, np.abs(M_i)) + np.multiply(k_o, np.abs(M_o))
    stress: Number = pulled + rocked / np.asarray(W)
    return stress


@method(
    formula="k = 1.25 · 6 τ a (L − a)/(L t0), L = b0 − t0, a = (L − d1)/2 + e up to L/2, τ = t1/t0 no less than 0.75; "
    "k no less than 7.1",
    source="statics of a strip across the face, held by the side walls, under two lines of load; raised by 1.25 and τ "
    "counted so that it lies above CIDECT Design Guide 8, square tubes, T joints (times π/4 for a round tube; the "
    "tube's own peak times 1.4 for fillets); from memory",
    valid="d1/b0 0.4 to 0.8, b0/t0 10 to 30, t1/t0 up to 1",
    holds=lambda b0, t0, d1, t1, e=0.0: _face_range(b0, t0, d1, t1),
)
def face_peak(b0: Number, t0: Number, d1: Number, t1: Number, e: Number = 0.0) -> Number:
    """Peak at the toe of a round tube on the flat face of a square one, over any stress along the tube.

    Args:
        b0 [mm]: width of the face.
        t0 [mm]: its wall.
        d1 [mm]: diameter of the tube that ends there.
        t1 [mm]: its wall.
        e [mm]: how far the tube stands off the middle of the face.

    Returns:
        [-] factor.

    Example: half as wide on a face of 20 walls, as thick: 7.5 · 4.5 · 14.5/19.
        >>> round(float(face_peak(60.0, 3.0, 30.0, 3.0)), 1)
        25.8
    """
    t0 = np.asarray(t0, float)
    L = np.subtract(b0, t0)
    a = np.minimum((L - d1) / 2.0 + e, L / 2.0)
    peak = 7.5 * np.maximum(np.divide(t1, t0), 0.75) * a * (L - a) / (L * t0)
    return within(_face_range(b0, t0, d1, t1), np.maximum(peak, 7.1))


AT_TOE = (2.5, 5.5, 1.2)
"""Elastic stress at the toe of a plate's weld over yield, at the full resistance of the wall to force, moment along the
tube and moment across it [-]: above the 2.0, 3.9 and 0.9 of tests/studies/tube_wall_toe.csv."""


@method(
    formula="σ = f_y (2.5 N/N_R + 5.5 M_i/M_iR + 1.2 M_o/M_oR)",
    source="bound of our own finite-element study, tests/studies/tube_wall_toe.py (round tubes, plates along them; "
    "flat walls and plates across are taken alike); resistances of EN 1993-1-8, 7",
)
def toe_wall_stress(u_N: Number, u_i: Number, u_o: Number, f_y: Number) -> Number:
    """Hot-spot stress of a tube's wall at the toe of a plate's weld.

    Args:
        u_N [-]: share of the wall's resistance that the force square to it uses.
        u_i [-]: likewise the moment along the tube.
        u_o [-]: likewise the moment across it.
        f_y [MPa]: yield strength that the resistances count.

    Returns:
        [MPa] stress.

    Example: a fifth of what the wall bears of a pull, at 320 MPa.
        >>> float(toe_wall_stress(0.2, 0.0, 0.0, 320.0))
        160.0
    """
    shares = zip(AT_TOE, (u_N, u_i, u_o), strict=True)
    stress: Number = np.asarray(f_y) * sum(np.multiply(k, u) for k, u in shares)
    return stress
