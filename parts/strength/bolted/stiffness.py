"""Stiffness of a bolt and of the parts that it clamps."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from parts.strength.method import Number, method

TAN_30 = 1.0 / math.sqrt(3.0)
SHIGLEY = "Shigley, Mechanical Engineering Design, ch. 8"
VDI = "VDI 2230-1, 5.1.2 (resilience of the clamped parts); constants from memory"


@method(
    formula="k = A_d A_t E/(A_d l_t + A_t l_d)",
    source=SHIGLEY + ", eq. 8-17",
)
def bolt_stiffness(A_d: Number, l_d: Number, A_t: Number, l_t: Number, E: Number) -> Number:
    """Stiffness of a bolt within the grip: plain shank and thread one behind the other.

    Args:
        A_d [mm^2]: area of the plain shank.
        l_d [mm]: length of plain shank in the grip.
        A_t [mm^2]: tensile stress area.
        l_t [mm]: length of thread in the grip; for a screw in a tapped hole add half its diameter.
        E [MPa]: Young's modulus of the bolt.

    Returns:
        [N/mm] stiffness.

    Example: M8 with 12 mm of shank and 8 mm of thread in the grip.
        >>> round(bolt_stiffness(50.27, 12.0, 36.6, 8.0, 2.05e5))
        448293
    """
    return A_d * A_t * E / (A_d * l_t + A_t * l_d)


@method(
    formula="k = π E d tan 30°/ln[(2 t tan 30° + D − d)(D + d)/((2 t tan 30° + D + d)(D − d))]",
    source=SHIGLEY + ", eq. 8-20 (cone frustum, half angle 30 degrees)",
    valid="face larger than the hole, parts at least as wide as the cone",
    holds=lambda E, d, D, t: np.asarray(D) > np.asarray(d),
)
def frustum_stiffness(E: Number, d: Number, D: Number, t: Number) -> Number:
    """Stiffness of one layer of the clamped parts, pressed in a cone of 30 degrees.

    Args:
        E [MPa]: Young's modulus of the layer.
        d [mm]: hole, or bolt, diameter.
        D [mm]: diameter of the pressed face where the cone starts.
        t [mm]: thickness of the layer.

    Returns:
        [N/mm] stiffness.

    Example: half of a 20 mm steel grip on M8, washer face 12 mm.
        >>> round(float(frustum_stiffness(2.05e5, 8.0, 12.0, 10.0)))
        3298449
    """
    wide = 2.0 * TAN_30 * t + D
    return np.pi * E * d * TAN_30 / np.log((wide - d) * (D + d) / ((wide + d) * (D - d)))


@method(
    formula="k = E A/(0.33 d), A = π d²/4",
    source="VDI 2230-1:2003, 5.1.1 (the metal about a tapped thread yields as a bar of the bolt's diameter, 0.33 of "
    "it long); from memory",
)
def tapped_hole_stiffness(E: Number, d: Number) -> Number:
    """Stiffness of the metal that a screw's thread is tapped in.

    Args:
        E [MPa]: Young's modulus of that metal.
        d [mm]: diameter of the thread.

    Returns:
        [N/mm] stiffness.

    Example: M10 tapped in aluminium.
        >>> round(float(tapped_hole_stiffness(71e3, 10.0)))
        1689796
    """
    return E * np.pi * d / (4.0 * 0.33)


@method(formula="k = 1/Σ (1/k_i)", source=SHIGLEY + ", eq. 8-18 (members in series)")
def series_stiffness(k: ArrayLike) -> Number:
    """Stiffness of layers one behind the other.

    Args:
        k [N/mm]: stiffness of each layer (..., n).

    Returns:
        [N/mm] stiffness of all.

    Example:
        >>> float(series_stiffness([2.0e6, 2.0e6]))
        1000000.0
    """
    return 1.0 / np.asarray((1.0 / np.asarray(k, float)).sum(-1))


@method(
    formula="k = π E d tan 30°/(2 ln[5 (L tan 30° + 0.5 d)/(L tan 30° + 2.5 d)])",
    source=SHIGLEY + ", eq. 8-22 (one material, washer face 1.5 d)",
    valid="members of one modulus, both faces 1.5 d wide, parts at least as wide as the cones",
    holds=lambda E, d, L: (np.asarray(L) > 0.0) & (np.asarray(d) > 0.0),
)
def member_stiffness(E: Number, d: Number, L: Number) -> Number:
    """Stiffness of clamped parts of one material between standard washer faces.

    Args:
        E [MPa]: Young's modulus of the parts.
        d [mm]: bolt diameter.
        L [mm]: grip.

    Returns:
        [N/mm] stiffness.

    Example: 20 mm of steel on M8; two of `frustum_stiffness` in series.
        >>> round(float(member_stiffness(2.05e5, 8.0, 20.0)))
        1649224
    """
    reach = TAN_30 * L
    return np.pi * E * d * TAN_30 / (2.0 * np.log(5.0 * (reach + 0.5 * d) / (reach + 2.5 * d)))


@method(
    formula="tan φ = 0.362 + 0.032 ln(β/2) + 0.153 ln y (through bolt), "
    "0.348 + 0.013 ln β + 0.193 ln y (tapped hole); β = L/d_w, y = D_A/d_w",
    source=VDI,
    valid="D_A at least d_w; L/d_w from 0.5 to 10",
    holds=lambda L, d_w, D_A, tapped=False: (
        (np.asarray(D_A) >= np.asarray(d_w))
        & (np.asarray(L) >= 0.5 * np.asarray(d_w))
        & (np.asarray(L) <= 10.0 * np.asarray(d_w))
    ),
)
def cone_tangent(L: Number, d_w: Number, D_A: Number, tapped: Number = False) -> Number:
    """Tangent of the half angle of the pressed cone.

    Args:
        L [mm]: grip.
        d_w [mm]: outer diameter of the pressed face.
        D_A [mm]: diameter of the largest cylinder that the parts hold around the bolt.
        tapped [-]: true for a screw in a tapped hole.

    Returns:
        [-] tan φ.

    Example: grip 20, face 12, parts 30 wide.
        >>> round(float(cone_tangent(20.0, 12.0, 30.0)), 3)
        0.496
    """
    beta, y = np.asarray(L, float) / d_w, np.asarray(D_A, float) / d_w
    through = 0.362 + 0.032 * np.log(beta / 2.0) + 0.153 * np.log(y)
    return np.where(tapped, 0.348 + 0.013 * np.log(beta) + 0.193 * np.log(y), through)[()]


@method(
    formula="1/k = [2/(w d_h tan φ) ln((d_w + d_h)(D_K − d_h)/((d_w − d_h)(D_K + d_h))) "
    "+ 4 (L − (D_K − d_w)/(w tan φ))/(D_K² − d_h²)]/(π E), D_K = min(D_A, d_w + w L tan φ)",
    source=VDI,
    valid="D_A at least d_w, d_w over d_h; L/d_w from 0.5 to 10",
    holds=lambda E, L, d_w, d_h, D_A, tapped=False: (
        (np.asarray(d_w) > np.asarray(d_h)) & cone_tangent.holds(L, d_w, D_A, tapped)  # type: ignore[attr-defined]
    ),
)
def narrow_member_stiffness(
    E: Number, L: Number, d_w: Number, d_h: Number, D_A: Number, tapped: Number = False
) -> Number:
    """Stiffness of clamped parts that may be narrower than the cone: a cone, then a sleeve.

    w is 1 for a bolt with a nut (two cones) and 2 for a screw in a tapped hole (one).

    Args:
        E [MPa]: Young's modulus of the parts.
        L [mm]: grip.
        d_w [mm]: outer diameter of the pressed face.
        d_h [mm]: hole.
        D_A [mm]: diameter of the largest cylinder that the parts hold around the bolt.
        tapped [-]: true for a screw in a tapped hole.

    Returns:
        [N/mm] stiffness; where the parts are narrower than the pressed face, that of a sleeve D_A.

    Example: 20 mm of 6061 on M8, boss of 20.
        >>> round(float(narrow_member_stiffness(6.9e4, 20.0, 12.0, 8.4, 20.0)))
        452312
    """
    w = np.where(tapped, 2.0, 1.0)
    face = np.minimum(d_w, D_A)
    slope = w * cone_tangent(L, face, D_A, tapped)
    D_K = np.minimum(D_A, face + slope * L)
    cone = 2.0 / (slope * d_h) * np.log((face + d_h) * (D_K - d_h) / ((face - d_h) * (D_K + d_h)))
    sleeve = 4.0 * (L - (D_K - face) / slope) / (D_K**2 - np.square(d_h))
    return np.asarray(np.pi * E / (cone + sleeve))[()]
