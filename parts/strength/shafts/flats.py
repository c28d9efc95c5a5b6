"""Square and hexagon ends as driven joints: a bar with n flats in a bore of the same shape.

No published method was found for these, so each formula is stated with its model. Corners are sharp
raisers of stress in the bore: give them a radius, and carry a notch factor into any fatigue check.

Worked example: 1/2 in square, 20 mm long, T = 50 N*m: s = 12.7 mm, p = 12 T/(n s² L) = 46.5 MPa.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.validity import Truth, within

COMMON = "statics of the stated pressure; common practice, no source"


def _polygon(n: Number, **_: Number) -> Truth:
    return np.asarray(np.asarray(n) >= 3)


def _square_or_hexagon(n: Number, **_: Number) -> Truth:
    return np.asarray((np.asarray(n) == 4) | (np.asarray(n) == 6))


@method(
    formula="s = AF tan(π/n)",
    source="geometry",
    valid="regular polygon with an even number of flats, 4 or more",
    holds=lambda AF, n: _polygon(n) & (np.asarray(n) % 2 == 0),
)
def flat_width(AF: Number, n: Number) -> Number:
    """Width of one flat, corner to sharp corner; take twice the corner radius off for the contact.

    Args:
        AF [mm]: width across flats.
        n [-]: number of flats, 4 or 6.

    Returns:
        [mm] width of one flat.
    """
    ok = _polygon(n) & (np.asarray(n) % 2 == 0)
    return within(ok, AF * np.tan(np.pi / np.asarray(n, float)))


@method(
    formula="p = 12 T / (n s² L)",
    source=COMMON
    + ": pressure rises straight from nothing at the middle of a flat to p at its edge",
    valid="3 flats or more; fit with clearance, so that half of each flat bears",
    holds=_polygon,
)
def flats_pressure(T: Number, s: Number, L: Number, n: Number) -> Number:
    """Peak pressure at the edges of the flats; hold it against the softer part's bearing yield.

    Args:
        T [N*mm]: torque.
        s [mm]: width of one flat in contact.
        L [mm]: length of engagement.
        n [-]: number of flats.

    Returns:
        [MPa] peak pressure.
    """
    return within(_polygon(n), np.divide(12.0 * T, n * np.square(s) * L))


@method(
    formula="σ = 3 T / (2 π s L t_w)",
    source=COMMON + ": the flats' forces 3T/(n s) taken as a pressure all round a thin ring",
)
def flats_hoop_stress(T: Number, s: Number, L: Number, t_w: Number) -> Number:
    """Mean hoop stress in the hub that the wedging flats try to burst; ring bending is left out.

    Args:
        T [N*mm]: torque.
        s [mm]: width of one flat in contact.
        L [mm]: length of engagement.
        t_w [mm]: least wall of the hub, at a corner of the bore.

    Returns:
        [MPa] mean hoop stress.
    """
    return np.divide(3.0 * T, 2.0 * np.pi * s * L * t_w)


@method(
    formula="τ = T / (c AF³), c = 0.208 square, 0.188 hexagon",
    source="Timoshenko, Strength of Materials, part II, torsion of bars (k_1, k_2 for square and "
    "hexagon), from memory; square: Roark's Formulas, 7th ed., Table 10.1, case 3",
    valid="n = 4 or 6, sharp corners",
    holds=_square_or_hexagon,
)
def bar_shear_stress(T: Number, AF: Number, n: Number) -> Number:
    """Largest torsional shear stress of a solid square or hexagon bar, at the middle of a flat.

    Args:
        T [N*mm]: torque.
        AF [mm]: width across flats.
        n [-]: number of flats, 4 or 6.

    Returns:
        [MPa] shear stress.
    """
    c = np.where(np.asarray(n) == 4, 0.208, 0.188)
    return within(_square_or_hexagon(n), np.divide(T, c * np.power(AF, 3.0)))
