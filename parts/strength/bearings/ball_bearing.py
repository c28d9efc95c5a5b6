"""Ball bearings: ratings from geometry (ISO 281, ISO 76), equivalent loads, life, and a generic inside.

Where a maker's catalogue gives C and C_0, use those; the functions here serve where only the boundary
dimensions are known. A pivot that only swings does not roll its rating life off: its static factor rules.

Worked example: 9 balls of 7.938 mm on a pitch circle of 39 mm, radial contact: ratio 0.2035,
f_c = 59.8, C = 1.3·59.8·9^(2/3)·7.938^1.8 = 14.0 kN; f_0 = 13.9, C_0 = 13.9·9·7.938² = 7.9 kN.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from parts.strength.method import Number, method
from parts.strength.tables import rows
from parts.strength.validity import Truth, between, within

B_M = 1.3
"""ISO 281:2007, Table 1: rating factor b_m of contemporary deep groove and angular contact ball bearings."""

GENERIC = "common practice, no source: generic estimate from boundary dimensions"


def _columns(name: str, *columns: str) -> tuple[NDArray[np.float64], ...]:
    return tuple(np.array([float(r[c]) for r in rows(name)]) for c in columns)


def _ratio_fits(ratio: Number) -> Truth:
    return between(ratio, 0.01, 0.40)


@method(
    formula="f_c: table over D_w cos α / D_pw, straight between rows",
    source="ISO 281:2007, Table 2, single and double row groove ball bearings; from memory, checked by "
    "the formula of ISO/TR 1281-1",
    valid="ratio from 0.01 to 0.40, grooves no flatter than 0.52 and 0.53 of the ball; nan outside",
    holds=_ratio_fits,
)
def dynamic_factor(ratio: Number) -> Number:
    """Factor f_c of the dynamic rating.

    Args:
        ratio [-]: D_w cos α / D_pw.

    Returns:
        [-] f_c, for N and mm.
    """
    x, y = _columns("bearing_fc", "ratio", "f_c")
    return within(_ratio_fits(ratio), np.asarray(np.interp(ratio, x, y)))


@method(
    formula="f_0: table over D_w cos α / D_pw, straight between rows",
    source="ISO 76:2006, Table 1, radial and angular contact groove ball bearings; from memory, checked "
    "by Hertz at 4200 MPa",
    valid="ratio from 0 to 0.40; nan outside",
    holds=lambda ratio: between(ratio, 0.0, 0.40),
)
def static_factor(ratio: Number) -> Number:
    """Factor f_0 of the static rating.

    Args:
        ratio [-]: D_w cos α / D_pw.

    Returns:
        [-] f_0, for N and mm.
    """
    x, y = _columns("bearing_f0", "ratio", "f_0")
    return within(between(ratio, 0.0, 0.40), np.asarray(np.interp(ratio, x, y)))


def _ball_ratio(D_w: ArrayLike, D_pw: ArrayLike, alpha: ArrayLike) -> NDArray[np.float64]:
    return np.asarray(np.multiply(D_w, np.cos(alpha)) / np.asarray(D_pw, float))


@method(
    formula="C = b_m f_c (i cos α)^0.7 Z^(2/3) D_w^1.8; 3.647 D_w^1.4 for D_w above 25.4",
    source="ISO 281:2007, 5.1",
    valid="D_w cos α / D_pw from 0.01 to 0.40; nan outside",
    holds=lambda D_w, D_pw, Z, alpha=0.0, i=1.0: _ratio_fits(_ball_ratio(D_w, D_pw, alpha)),
)
def dynamic_rating(
    D_w: Number, D_pw: Number, Z: Number, alpha: Number = 0.0, i: Number = 1.0
) -> Number:
    """Basic dynamic radial load rating of a ball bearing.

    Args:
        D_w [mm]: diameter of the balls.
        D_pw [mm]: diameter of their pitch circle.
        Z [-]: balls in a row.
        alpha [rad]: contact angle; 0 for a deep groove bearing.
        i [-]: rows.

    Returns:
        [N] C, the load for a million revolutions.
    """
    f_c = dynamic_factor(_ball_ratio(D_w, D_pw, alpha))
    size = np.where(np.greater(D_w, 25.4), 3.647 * np.power(D_w, 1.4), np.power(D_w, 1.8))
    rows_ = np.power(np.multiply(i, np.cos(alpha)), 0.7)
    return B_M * f_c * rows_ * np.power(Z, 2.0 / 3.0) * size


@method(
    formula="C_0 = f_0 i Z D_w² cos α",
    source="ISO 76:2006, 5.1",
    valid="D_w cos α / D_pw up to 0.40; nan beyond",
    holds=lambda D_w, D_pw, Z, alpha=0.0, i=1.0: between(_ball_ratio(D_w, D_pw, alpha), 0.0, 0.40),
)
def static_rating(
    D_w: Number, D_pw: Number, Z: Number, alpha: Number = 0.0, i: Number = 1.0
) -> Number:
    """Basic static radial load rating of a ball bearing: 4200 MPa under the most loaded ball.

    Args:
        D_w [mm]: diameter of the balls.
        D_pw [mm]: diameter of their pitch circle.
        Z [-]: balls in a row.
        alpha [rad]: contact angle; 0 for a deep groove bearing.
        i [-]: rows.

    Returns:
        [N] C_0.
    """
    f_0 = static_factor(_ball_ratio(D_w, D_pw, alpha))
    return f_0 * np.multiply(i, Z) * np.square(D_w) * np.cos(alpha)


@method(
    formula="P_0 = max(0.6 F_r + 0.5 F_a, F_r)",
    source="ISO 76:2006, 5.3, radial contact groove ball bearings",
)
def static_equivalent(F_r: Number, F_a: Number) -> Number:
    """Equivalent static radial load of a deep groove ball bearing.

    Args:
        F_r [N]: radial load.
        F_a [N]: axial load, not negative.

    Returns:
        [N] P_0.
    """
    load: Number = np.maximum(np.multiply(0.6, F_r) + np.multiply(0.5, F_a), F_r)
    return load


@method(
    formula="S_0 = C_0 / P_0",
    source="ISO 76:2006, 6; asked for: 1 smooth and swinging, 1.5 to 2 with shock (common practice)",
)
def static_safety(C_0: Number, P_0: Number) -> Number:
    """Static safety factor.

    Args:
        C_0 [N]: static rating.
        P_0 [N]: equivalent static load.

    Returns:
        [-] S_0; inf under no load.
    """
    with np.errstate(divide="ignore"):
        return np.divide(C_0, P_0)


def _sure(d: Number) -> Number:
    """Share [-] of an estimated rating that no bearing of the tables compared falls below.

    Compared: Shigley's Mechanical Engineering Design, 9th ed., table 11-2, 02 series, bores 10 to 40 (from memory), and
    the open table single_row_deep_groove_ball_bearing_parameters.csv, bores 4 to 10. The plain estimate lies up to
    1.26 times above them from a bore of 10 on and up to 2.42 times below that, where real balls are smaller.
    """
    return np.where(np.less(d, 10.0), 0.4, 0.78)


def _boundary(d: Number, D: Number) -> Truth:
    return between(np.divide(D, d), 1.3, 3.0)


@method(
    formula="D_w = 0.3 (D - d)",
    source=GENERIC,
    valid="generic single-row deep groove bearing, D/d from 1.3 to 3; nan outside",
    holds=_boundary,
)
def generic_ball(d: Number, D: Number) -> Number:
    """Diameter of the balls of a generic bearing; real ones differ by some 5 per cent.

    Args:
        d [mm]: bore.
        D [mm]: outside diameter.

    Returns:
        [mm] ball diameter.
    """
    return within(_boundary(d, D), 0.3 * np.subtract(D, d))


@method(formula="D_pw = (D + d) / 2", source=GENERIC)
def generic_pitch(d: Number, D: Number) -> Number:
    """Pitch circle of the balls of a generic bearing.

    Args:
        d [mm]: bore.
        D [mm]: outside diameter.

    Returns:
        [mm] pitch circle diameter.
    """
    return np.add(D, d) / 2.0


@method(
    formula="Z = 1 + ψ / (2 arcsin(D_w/D_pw)), ψ = 195°, whole number below",
    source=GENERIC + "; filling angle of an unslotted (Conrad) bearing",
    valid="D_w below D_pw",
    holds=lambda D_w, D_pw: np.less(D_w, D_pw),
)
def generic_count(D_w: Number, D_pw: Number) -> Number:
    """Balls that go into an unslotted bearing.

    Args:
        D_w [mm]: diameter of the balls.
        D_pw [mm]: diameter of their pitch circle.

    Returns:
        [-] number of balls.
    """
    ratio = np.divide(D_w, D_pw)
    half = np.arcsin(np.minimum(ratio, 1.0))
    return within(ratio < 1.0, np.floor(1.0 + np.radians(195.0) / (2.0 * half)))


@method(
    formula="0.78 C of D_w = 0.3 (D - d), D_pw = (D + d)/2, Z of the Conrad filling angle; 0.4 C below d = 10",
    source=GENERIC + ", then ISO 281:2007, 5.1, lowered to lie below published ratings",
    valid="generic single-row deep groove bearing, D/d from 1.3 to 3; nan outside",
    holds=_boundary,
)
def generic_dynamic_rating(d: Number, D: Number) -> Number:
    """Least dynamic rating to expect of a deep groove bearing of which only bore and outside are known.

    Args:
        d [mm]: bore.
        D [mm]: outside diameter.

    Returns:
        [N] C, generic: replace it by the maker's value.
    """
    D_w, D_pw = generic_ball(d, D), generic_pitch(d, D)
    return _sure(d) * dynamic_rating(D_w, D_pw, generic_count(D_w, D_pw))


@method(
    formula="0.78 C_0 of D_w = 0.3 (D - d), D_pw = (D + d)/2, Z of the Conrad filling angle; 0.4 C_0 below d = 10",
    source=GENERIC + ", then ISO 76:2006, 5.1, lowered to lie below published ratings",
    valid="generic single-row deep groove bearing, D/d from 1.3 to 3; nan outside",
    holds=_boundary,
)
def generic_static_rating(d: Number, D: Number) -> Number:
    """Least static rating to expect of a deep groove bearing of which only bore and outside are known.

    Args:
        d [mm]: bore.
        D [mm]: outside diameter.

    Returns:
        [N] C_0, generic: replace it by the maker's value.
    """
    D_w, D_pw = generic_ball(d, D), generic_pitch(d, D)
    return _sure(d) * static_rating(D_w, D_pw, generic_count(D_w, D_pw))
