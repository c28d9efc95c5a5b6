"""A pinned plate by the standards: ASME BTH-1 for lifting devices, AISC 360 for steel structures.

Strengths are nominal. BTH-1 divides fracture strengths by 1.20 N_d and bearing by N_d, with a
design factor N_d of 2, 3 or 6 by category; AISC 360 takes φ = 0.75 or Ω = 2 on all here. A check that
follows one of them puts those factors into its required factor. Both are written for ductile
structural steel; on other metals they are a guide.

The forms of BTH-1 and their numbers were taken from memory and compared with calculation sheets to
its 2014 and 2005 editions, not with the standard itself.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method

BTH = "ASME BTH-1-2014, 3-3.3 (pinned connections), "
AISC = "AISC 360-22, Specification for Structural Steel Buildings, "
BTH_FRACTURE = 1.20  # further factor on N_d where fracture governs, BTH-1


@method(
    formula="C_r = 1 - 0.275 √(1 - (D_p/D_h)²)",
    source=BTH + "equation 3-46; AISC 360-22 has it in D5.1(b), from memory",
    valid="pin no larger than the hole",
    holds=lambda D_p, D_h: np.less_equal(D_p, D_h),
)
def clearance_factor(D_p: Number, D_h: Number) -> Number:
    """Strength kept by a pinned plate whose hole is larger than the pin.

    BTH-1 allows 1 from D_p/D_h = 0.90 up and AISC 360 up to 1/32 in of clearance; no use is made
    of that here.

    Args:
        D_p [mm]: pin.
        D_h [mm]: hole.

    Returns:
        [-] factor; nan where the pin is larger than the hole.
    """
    ratio = np.divide(D_p, D_h)
    inside = np.sqrt(np.maximum(1.0 - np.square(ratio), 0.0))
    return np.where(ratio <= 1.0, 1.0 - 0.275 * inside, np.nan)[()]


@method(
    formula="b_eff = min(b_e, 0.6 b_e (F_u/F_y) √(D_h/b_e), 4 t unless braced)",
    source=BTH + "equations 3-47 and 3-48",
)
def effective_width(
    b_e: Number, t: Number, D_h: Number, F_u: Number, F_y: Number, braced: Number = 0.0
) -> Number:
    """Width beside the hole that carries tension, on each side.

    Args:
        b_e [mm]: net width on one side of the hole, (w - D_h)/2 for a hole in the middle.
        t [mm]: thickness.
        D_h [mm]: hole.
        F_u [MPa]: ultimate tensile strength.
        F_y [MPa]: yield strength.
        braced [-]: 1 where the plate is kept from dishing sideways, as a tongue between two ears.

    Returns:
        [mm] effective width on each side.
    """
    b_e = np.maximum(b_e, 0.0)
    uneven = 0.6 * np.divide(F_u, F_y) * np.sqrt(np.multiply(D_h, b_e))
    dishing = np.where(np.asarray(braced) > 0.0, np.inf, 4.0 * np.asarray(t))
    width: Number = np.minimum(np.minimum(b_e, uneven), dishing)
    return width


@method(
    formula="P_t = C_r F_u 2 t b_eff",
    source=BTH + "equation 3-45 without 1.20 N_d",
)
def tension_load(t: Number, b_eff: Number, C_r: Number, F_u: Number) -> Number:
    """Pull at which the plate breaks beside the hole.

    Args:
        t [mm]: thickness.
        b_eff [mm]: effective width on each side, from `effective_width`.
        C_r [-]: factor for pin clearance, from `clearance_factor`.
        F_u [MPa]: ultimate tensile strength.

    Returns:
        [N] load.
    """
    return 2.0 * np.multiply(C_r, F_u) * np.multiply(t, b_eff)


@method(
    formula="P_b = C_r F_u (1.13 (R - D_h/2) + 0.92 b_e / (1 + b_e/D_h)) t",
    source=BTH + "equation 3-49 without 1.20 N_d",
)
def fracture_load(
    R: Number, b_e: Number, t: Number, D_h: Number, C_r: Number, F_u: Number
) -> Number:
    """Pull at which the plate splits beyond the hole, on one plane along the load.

    Args:
        R [mm]: centre of the hole to the edge, in the direction of the load.
        b_e [mm]: net width on one side of the hole.
        t [mm]: thickness.
        D_h [mm]: hole.
        C_r [-]: factor for pin clearance, from `clearance_factor`.
        F_u [MPa]: ultimate tensile strength.

    Returns:
        [N] load; 0 where the hole breaks the edge or leaves nothing beside it.
    """
    end = np.maximum(R - 0.5 * np.asarray(D_h), 0.0)
    side = np.maximum(b_e, 0.0)
    width = 1.13 * end + 0.92 * side / (1.0 + side / np.asarray(D_h))
    sound = (end > 0.0) & (side > 0.0)
    load: Number = np.where(sound, width, 0.0) * np.multiply(C_r, F_u) * t
    return load


@method(
    formula="A_v = 2 t (a + (D_p/2)(1 - cos φ) - Z'), φ = 55° D_p/D_h, "
    "Z' = r - √(r² - ((D_p/2) sin φ)²)",
    source=BTH + "equations 3-51 and 3-52; Z' for a round end: commentary, equation C3-2",
    valid="pin no larger than the hole, end radius at least half the pin",
    holds=lambda R, D_p, D_h, t, r: (
        np.less_equal(D_p, D_h) & np.greater_equal(r, np.asarray(D_p) / 2.0)
    ),
)
def shear_area(R: Number, D_p: Number, D_h: Number, t: Number, r: Number) -> Number:
    """Area of the two planes on which the pin shears out; a loose pin has shorter ones.

    Args:
        R [mm]: centre of the hole to the edge, in the direction of the load; a = R - D_h/2.
        D_p [mm]: pin.
        D_h [mm]: hole.
        t [mm]: thickness.
        r [mm]: radius of the end, infinite for a square one.

    Returns:
        [mm^2] both planes together; nan outside the range.
    """
    phi = np.radians(55.0) * np.divide(D_p, D_h)
    half = 0.5 * np.asarray(D_p, float)
    y, r = half * np.sin(phi), np.asarray(r, float)
    loss = y**2 / (r + np.sqrt(np.maximum(r**2 - y**2, 0.0)))
    length = R - 0.5 * np.asarray(D_h) + half * (1.0 - np.cos(phi)) - loss
    holds = np.less_equal(D_p, D_h) & (r >= half)
    return np.where(holds, 2.0 * np.asarray(t) * np.maximum(length, 0.0), np.nan)[()]


@method(
    formula="P_v = 0.70 F_u A_v",
    source=BTH + "equation 3-50 without 1.20 N_d",
)
def shear_load(A_v: Number, F_u: Number) -> Number:
    """Pull at which the pin shears out through the end.

    Args:
        A_v [mm^2]: both shear planes, from `shear_area`.
        F_u [MPa]: ultimate tensile strength.

    Returns:
        [N] load.
    """
    return 0.70 * np.multiply(F_u, A_v)


@method(
    formula="P_p = 1.25 F_y D_p t, or 0.63 F_y D_p t where the joint turns under load",
    source=BTH + "equation 3-53 and, from memory, 3-54, without N_d",
)
def bearing_load(D_p: Number, t: Number, F_y: Number, turning: Number = 0.0) -> Number:
    """Load at which the pin beds into the plate.

    Args:
        D_p [mm]: pin.
        t [mm]: thickness.
        F_y [MPa]: yield strength of the plate.
        turning [-]: 1 where the joint turns under load many times, as a suspension link does.

    Returns:
        [N] load.
    """
    share = np.where(np.asarray(turning) > 0.0, 0.63, 1.25)
    load: Number = share * np.asarray(F_y) * np.multiply(D_p, t)
    return load
