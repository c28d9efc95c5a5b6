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


@method(
    formula="σ = M / W",
    source="bending of beams; Beer & Johnston, Mechanics of Materials, chapter 4",
)
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


@method(
    formula="σ_v = √(σ² + 3 τ²), σ = 4|F|/(π D²) + 32|M|/(π D³), τ = 16|T|/(π D³)",
    source="superposition at the outside of a round bar; Beer & Johnston, Mechanics of Materials, chapter 8",
)
def round_bar_stress(F: Number, M: Number, T: Number, D: Number) -> Number:
    """Equivalent stress at the outside of a solid round bar pulled, bent and twisted.

    Args:
        F [N]: force along the axis.
        M [N*mm]: bending moment.
        T [N*mm]: torque.
        D [mm]: diameter; of a thread, that of its stress area.

    Returns:
        [MPa] von Mises stress.
    """
    square, cube = np.square(D), np.power(D, 3.0)
    sigma = 4.0 * np.abs(F) / (np.pi * square) + 32.0 * np.abs(M) / (np.pi * cube)
    tau = 16.0 * np.abs(T) / (np.pi * cube)
    stress: Number = np.sqrt(sigma**2 + 3.0 * tau**2)
    return stress


@method(
    formula="σ_v = √(σ² + 3 τ²), σ = |N|/A + |M|/W, τ = |T|/(2 W) + 2 |V|/A",
    source=MECHANICS
    + "; the polar modulus of a round tube is twice that of bending, its largest shear "
    "that of a thin one: twice the mean",
)
def round_tube_stress(A: Number, W: Number, N: Number, V: Number, M: Number, T: Number) -> Number:
    """Equivalent stress of a round tube, perhaps with a small hole through its wall.

    All parts are added at one point, though shear and bending peak at different ones.

    Args:
        A [mm^2]: area, beside the hole if there is one.
        W [mm^3]: least elastic section modulus there.
        N [N]: axial force.
        V [N]: transverse force.
        M [N*mm]: bending moment.
        T [N*mm]: torque.

    Returns:
        [MPa] von Mises stress.

    Example: 3 kN, 50 N*m and nothing else on 100 mm^2 and 500 mm^3.
        >>> float(round_tube_stress(100.0, 500.0, 3.0e3, 0.0, 5.0e4, 0.0))
        130.0
    """
    sigma = np.abs(N) / A + np.abs(M) / W
    tau = np.abs(T) / (2.0 * W) + 2.0 * np.abs(V) / A
    return np.sqrt(sigma**2 + 3.0 * tau**2)


@method(
    formula="σ = 6 M/(b t²) · t (r_n − r_i)/(6 e r_i), r_n = t/ln(1 + t/r_i), e = r_i + t/2 − r_n",
    source="curved bar of rectangular section (Winkler): Shigley's Mechanical Engineering Design, 9th ed., 3-18, "
    "from memory",
)
def bend_stress(M: Number, b: Number, t: Number, r_i: Number) -> Number:
    """Stress at the inside of a bend in a flat, which is more than that of the straight flat.

    Args:
        M [N*mm]: bending moment across the flat.
        b [mm]: width.
        t [mm]: thickness.
        r_i [mm]: inside radius of the bend.

    Returns:
        [MPa] stress at the inside of the bend.

    Example: 6 mm thick, bent about 6 mm: 1.29 times the straight flat's.
        >>> round(float(bend_stress(6.0, 1.0, 6.0, 6.0)), 3)
        1.288
    """
    t, r_i = np.asarray(t, float), np.asarray(r_i, float)
    neutral = t / np.log1p(t / r_i)
    raised = t * (neutral - r_i) / (6.0 * (r_i + t / 2.0 - neutral) * r_i)
    stress: Number = 6.0 * np.abs(M) / (np.multiply(b, np.square(t))) * raised
    return stress
