"""What keeps a bearing, spherical bearing or bush in its seat along the axis: the press alone, or a circlip.

A press fit is made within tolerances. At its loosest there may be a few micrometres of interference, or none,
and then nothing holds along the axis but a shoulder, a ring or a staking. What a drawing guarantees is the
loosest fit, warm, at the least friction.

A circlip is hardened; the groove under it is not. In a soft shaft or housing the wall of the groove yields
before the ring does.

Worked example: groove 1.0 mm deep in a 40 mm bore of 6061-T6 at 240 MPa: A = π/4 (42² − 40²) = 128.8 mm²,
F = 128.8·240/1.2 = 25.8 kN.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.shafts import press_fit
from parts.strength.validity import within


@method(
    formula="δ = D_min − B_max − 0.8 (Rz_o + Rz_i) − (α_o − α_i) d ΔT, not below 0",
    source="geometry of limits; DIN 7190-1 (flattened roughness), from memory; thermal expansion",
)
def least_interference(
    D_min: Number,
    B_max: Number,
    Rz_o: Number = 0.0,
    Rz_i: Number = 0.0,
    alpha_o: Number = 0.0,
    alpha_i: Number = 0.0,
    dT: Number = 0.0,
) -> Number:
    """Interference that any pair inside its tolerances has at least, worn smooth and warm.

    Args:
        D_min [mm]: least diameter of what is pressed in.
        B_max [mm]: largest bore of the seat.
        Rz_o [mm]: roughness height of the bore.
        Rz_i [mm]: roughness height of what is pressed in.
        alpha_o [1/K]: thermal expansion of the seat.
        alpha_i [1/K]: thermal expansion of what is pressed in.
        dT [K]: how much warmer than at assembly both become.

    Returns:
        [mm] interference on the diameter; nil where the fit may be loose.

    Example: a 26 mm bearing (−0.009) in a bore P7 (−0.014 at most), 40 K warmer in aluminium: nil.
        >>> warm = least_interference(25.991, 25.986, alpha_o=23.6e-6, alpha_i=11.7e-6, dT=40.0)
        >>> float(warm)
        0.0
    """
    cold = press_fit.effective_interference(np.subtract(D_min, B_max, dtype=float), Rz_o, Rz_i)
    warm = press_fit.interference_at_temperature(cold, B_max, alpha_o, alpha_i, dT)
    return np.maximum(warm, 0.0)


@method(
    formula="F = π d L μ p, p of the least interference by Lamé",
    source="Shigley's Mechanical Engineering Design, 9th ed., eq. 3-56 and sect. 7-8",
    valid="0 ≤ d_i < d < D_o, elastic",
    holds=lambda delta, d, L, mu, D_o, E_o, nu_o, E_i, nu_i, d_i=0.0: np.asarray(
        (np.asarray(d_i) >= 0.0) & np.less(d_i, d) & np.less(d, D_o)
    ),
)
def press_only_force(
    delta: Number,
    d: Number,
    L: Number,
    mu: Number,
    D_o: Number,
    E_o: Number,
    nu_o: Number,
    E_i: Number,
    nu_i: Number,
    d_i: Number = 0.0,
) -> Number:
    """Force along the axis that a press fit without shoulder, ring or staking is sure to hold.

    For seats of bearings and spherical bearings, and for bushes; nil at the loosest fit is the usual answer,
    and says that the seat needs something else.

    Args:
        delta [mm]: least interference, from `least_interference`.
        d [mm]: diameter of the fit.
        L [mm]: length of the fit, less chamfers.
        mu [-]: least friction: 0.06 to 0.08 oiled, 0.10 dry on aluminium, common practice.
        D_o [mm]: outside of the seat.
        E_o [MPa]: Young's modulus of the seat.
        nu_o [-]: Poisson's ratio of the seat.
        E_i [MPa]: Young's modulus of what is pressed in.
        nu_i [-]: its Poisson's ratio.
        d_i [mm]: its bore; of a bearing's outer ring the diameter of its raceway.

    Returns:
        [N] force.

    Example: a bush of 20 mm, 0.01 mm tight, 12 mm long in an aluminium boss of 40.
        >>> boss, bush = (40.0, 70.0e3, 0.33), (205.0e3, 0.29, 14.0)
        >>> round(float(press_only_force(0.01, 20.0, 12.0, 0.08, *boss, *bush)))
        729
    """
    p = press_fit.contact_pressure(delta, d, D_o, E_o, nu_o, E_i, nu_i, d_i)
    return press_fit.push_out_force(p, d, L, mu)


@method(
    formula="F = π/4 |d² − d_g²| R / 1.2",
    source="DIN 471 and DIN 472, load capacity of the groove F_N (printed for R = 200 MPa); the 1.2 from memory, "
    "checked by the printed loads",
    valid="land at least three times the depth of the groove, ring in full contact",
    holds=lambda d, d_g, R, n: np.asarray(n) >= 1.5 * np.abs(np.subtract(d, d_g)) * (1.0 - 1e-9),
)
def groove_load(d: Number, d_g: Number, R: Number, n: Number) -> Number:
    """Thrust at which the wall of a circlip's groove yields, in a shaft or a bore.

    A part that pushes with a rounded edge bends the ring before this: hold `ring_load` beside it.

    Args:
        d [mm]: diameter of shaft or bore.
        d_g [mm]: diameter of the groove, at its shallow limit.
        R [MPa]: yield strength of the metal of the groove; softened beside a weld.
        n [mm]: land: from the groove to the end of the shaft or bore.

    Returns:
        [N] thrust; not a number for a shorter land.

    Example: that of the head of this file, with a land of 4 mm.
        >>> round(float(groove_load(40.0, 42.0, 240.0, 4.0)))
        25761
    """
    depth = np.abs(np.subtract(d, d_g, dtype=float)) / 2.0
    wall = np.pi / 4.0 * np.abs(np.square(d) - np.square(d_g))
    return within(np.asarray(n) >= 3.0 * depth * (1.0 - 1e-9), wall * np.asarray(R) / 1.2)


@method(
    formula="F = π d_g n τ",
    source="shear of the land as a cylinder at the bottom of the groove; common practice, no source",
)
def land_shear_load(d_g: Number, n: Number, tau: Number) -> Number:
    """Thrust at which the land beyond a circlip's groove shears off.

    Args:
        d_g [mm]: diameter of the groove.
        n [mm]: land: from the groove to the end of the shaft or bore, chamfer off.
        tau [MPa]: shear strength of the metal, yield or ultimate.

    Returns:
        [N] thrust.

    Example: 2 mm of 6061-T6 at 138 MPa round a groove of 42.
        >>> round(float(land_shear_load(42.0, 2.0, 138.0)))
        36417
    """
    thrust: Number = np.pi * np.multiply(d_g, n) * np.asarray(tau)
    return thrust


DISHED = {"bore": 1100.0, "shaft": 2400.0}
"""Load on a circlip times the corner that pushes it over the cube of its thickness, at the least of the sizes printed
[N/mm^2]: in bores from 8 mm, on shafts from 10 mm."""
SQUARE = 0.6
"""A smaller corner counts as this large [mm]: the printed loads under a square edge are no higher."""


@method(
    formula="F = k s³/g, g not below 0.6 mm",
    source="below every load F_Rg that a public table prints for DIN 471 (shafts of 10 to 19 mm) and DIN 472 (bores of "
    "8 to 15 mm), and below F_R there; that F_Rg falls as 1/g: DIN 471 and DIN 472, from memory",
)
def ring_load(s: Number, g: Number, k: Number) -> Number:
    """Thrust that a rounded or chamfered edge may put on a circlip before it dishes the ring and turns it out.

    Args:
        s [mm]: thickness of the ring.
        g [mm]: corner of what pushes, along the face of the ring: the largest chamfer of a bearing's ring.
        k [N/mm^2]: 1,100 in a bore, 2,400 on a shaft; `DISHED`.

    Returns:
        [N] thrust.

    Example: a ring of 1 mm on a shaft, pushed by a chamfer of 1 mm.
        >>> float(ring_load(1.0, 1.0, 2400.0))
        2400.0
    """
    thrust: Number = np.multiply(k, np.power(s, 3.0)) / np.maximum(g, SQUARE)
    return thrust
