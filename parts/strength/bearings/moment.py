"""One deep groove ball bearing that must carry a moment, with no second bearing to make a couple.

A ball bearing is made for a force through its middle. A moment tilts its rings: half the balls are pressed on
one shoulder, half on the other, and the farthest carry most. Catalogues give no rating for it; where another way
can be had (two bearings, a shoulder, a wide bush), take it.

Worked example: 30 N·m on a bearing with balls on a circle of 39 mm: as 5·30 000/39 = 3846 N along the axis;
with 1 kN across, P_0 = 1000 + 0.5·3846 = 2923 N.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.validity import within

TILT = (
    "statics: ball forces along the axis that run as the cosine round the circle, 4 M/D_pw (NREL/TP-500-42362, "
    "Wind Turbine Design Guideline DG03, largest ball load; from memory), with Stribeck's 5 for play in place of "
    "the 4 of tight balls, as ISO 76 has it across"
)


@method(
    formula="F = 5 |M| / D_pw",
    source=TILT,
    valid="pitch circle over nil",
    holds=lambda M, D_pw: np.asarray(D_pw) > 0.0,
)
def moment_as_axial(M: Number, D_pw: Number) -> Number:
    """Axial load that presses the worst ball as hard as this moment does.

    Args:
        M [N*mm]: moment that tilts the bearing.
        D_pw [mm]: diameter of the balls' pitch circle; `bearing.generic_pitch` where it is not known.

    Returns:
        [N] axial load.

    Example: that of the head of this file.
        >>> round(float(moment_as_axial(30.0e3, 39.0)))
        3846
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        return within(np.asarray(D_pw) > 0.0, 5.0 * np.divide(np.abs(M), D_pw))


@method(
    formula="P_0 = |F_r| + 0.5 (|F_a| + 5 |M|/D_pw)",
    source=TILT
    + "; ISO 76:2006, 5.3 (Y_0 = 0.5), with the whole radial load, as both peaks may meet at one ball",
    valid="pitch circle over nil",
    holds=lambda F_r, F_a, M, D_pw: np.asarray(D_pw) > 0.0,
)
def static_equivalent(F_r: Number, F_a: Number, M: Number, D_pw: Number) -> Number:
    """Equivalent static load of one deep groove bearing under forces and a moment.

    For pivots, arms and bell cranks on a single bearing; goes into `bearing.static_safety`.

    Args:
        F_r [N]: force across.
        F_a [N]: force along.
        M [N*mm]: moment that tilts the bearing: what statics leaves to it, as a side load times its lever.
        D_pw [mm]: diameter of the balls' pitch circle.

    Returns:
        [N] P_0.

    Example: that of the head of this file.
        >>> round(float(static_equivalent(1000.0, 0.0, 30.0e3, 39.0)))
        2923
    """
    along = np.abs(F_a) + np.asarray(moment_as_axial(M, D_pw))
    load: Number = np.abs(F_r) + 0.5 * along
    return load


@method(
    formula="Q = 5 |F_r|/(Z cos α) + |F_a|/(Z sin α) + 5 |M|/(D_pw Z sin α)",
    source=TILT,
    valid="contact angle between 0 and 90 degrees",
    holds=lambda F_r, F_a, M, D_pw, Z, alpha: (
        (np.asarray(alpha) > 0.0) & (np.asarray(alpha) < np.pi / 2.0)
    ),
)
def largest_ball_load(
    F_r: Number, F_a: Number, M: Number, D_pw: Number, Z: Number, alpha: Number
) -> Number:
    """Force on the worst ball, all parts taken to meet at it.

    Args:
        F_r [N]: force across.
        F_a [N]: force along.
        M [N*mm]: moment that tilts the bearing.
        D_pw [mm]: diameter of the balls' pitch circle.
        Z [-]: balls.
        alpha [rad]: contact angle under load; asin 0.4 is what ISO 76 implies for a deep groove.

    Returns:
        [N] force square to the contact.

    Example: the bearing of this file's head with 9 balls.
        >>> round(float(largest_ball_load(1000.0, 0.0, 30.0e3, 39.0, 9.0, np.arcsin(0.4))))
        1675
    """
    ok = (np.asarray(alpha) > 0.0) & (np.asarray(alpha) < np.pi / 2.0)
    angle = np.where(ok, alpha, 1.0)
    along = np.abs(F_a) + np.asarray(moment_as_axial(M, D_pw))
    return within(ok, (5.0 * np.abs(F_r) / np.cos(angle) + along / np.sin(angle)) / np.asarray(Z))
