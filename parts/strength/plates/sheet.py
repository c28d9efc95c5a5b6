"""Sheet that is bent, holed and loaded at single places: lengths before bending, and how wide a load spreads.

Worked example: 2 mm sheet bent by 90 degrees about 3 mm: k = 0.65 + 0.5 lg 1.5 = 0.738, arc of the neutral fibre
π/2 (3 + 0.738·1) = 5.872 mm, so that two legs of 40 mm outside make a blank of 2·(40 - 5) + 5.872 = 75.87 mm.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.validity import between, within

DIN = "DIN 6935, formula for the length of the bent zone, from memory"
ROOT = 0.509
"""Moment at the root of a long cantilever plate, for each N at its free edge [N*mm/mm/N]."""


@method(
    formula="k = 0.65 + 0.5 lg(r/t), no more than 1",
    source=DIN,
    valid="inside radius at least 0.2 thicknesses",
    holds=lambda r, t: np.greater_equal(r, 0.2 * np.asarray(t) * (1.0 - 1e-9)),
)
def neutral_factor(r: Number, t: Number) -> Number:
    """Where the fibre lies that keeps its length in a bend: its distance from the inside over half the thickness.

    Args:
        r [mm]: inside radius.
        t [mm]: thickness.

    Returns:
        [-] factor; 1 is the middle of the sheet. Not a number below the range.
    """
    ratio = np.divide(r, t)
    value = np.minimum(0.65 + 0.5 * np.log10(np.maximum(ratio, 1e-9)), 1.0)
    return np.where(ratio >= 0.2 * (1.0 - 1e-9), value, np.nan)[()]


@method(formula="l = a (r + k t/2)", source=DIN)
def bend_allowance(a: Number, r: Number, t: Number, k: Number) -> Number:
    """Length of the neutral fibre of a bend: what the bend takes of the blank.

    Args:
        a [rad]: angle that the sheet is bent by.
        r [mm]: inside radius.
        t [mm]: thickness.
        k [-]: neutral factor; twice the K-factor that shops state.

    Returns:
        [mm] length.
    """
    length: Number = np.multiply(a, np.add(r, 0.5 * np.multiply(k, t)))
    return length


@method(
    formula="b = min(d, w) + min(a/0.509, w - min(d, w)), no more than w",
    source="moment at the root of an infinitely long cantilever plate under a load at its free edge, 0.509 P "
    "(ν = 0.3): Jaramillo, J. Appl. Mech. 17 (1950); Timoshenko & Woinowsky-Krieger, section 50; from memory",
)
def spread_width(a: Number, d: Number, w: Number) -> Number:
    """Width of the root of a plate over which a load at one place may be taken as even.

    Args:
        a [mm]: from the load to the root.
        d [mm]: width that the load itself acts over, as that of a washer.
        w [mm]: width that is there: twice from the load to the nearer side.

    Returns:
        [mm] effective width.
    """
    d = np.minimum(d, w)
    width: Number = np.minimum(d + np.maximum(a, 0.0) / ROOT, w)
    return width


@method(
    formula="B = 0.6 π d_m t F_u",
    source="EN 1993-1-8:2005, table 3.4 (punching shear), without its partial factor, from memory",
)
def pull_through_load(d_m: Number, t: Number, F_u: Number) -> Number:
    """Pull on a bolt at which its head or washer shears through the sheet.

    Args:
        d_m [mm]: mean diameter of what bears: of a head, between its flats and its corners.
        t [mm]: thickness.
        F_u [MPa]: tensile strength of the sheet.

    Returns:
        [N] load.
    """
    load: Number = 0.6 * np.pi * np.multiply(d_m, t) * np.asarray(F_u)
    return load


@method(
    formula="P = 6 S_y t √(D t)",
    source="Alexander, Q. J. Mech. Appl. Math. 13 (1960), mean load that folds a thin tube; from memory. Unfolding "
    "is taken to ask no less than folding, no test",
    valid="D/t from 7 to 60",
    holds=lambda D, t, S_y: between(np.divide(D, t), 7.0, 60.0),
)
def collar_load(D: Number, t: Number, S_y: Number) -> Number:
    """Pull at which the folded collar of a rivet nut gives way.

    Args:
        D [mm]: mean diameter of its body.
        t [mm]: wall of its body where that folds.
        S_y [MPa]: its yield strength.

    Returns:
        [N] load. Not a number beyond the range.

    Example: M6, body 9 over 7 of 235 MPa.
        >>> round(float(collar_load(8.0, 1.0, 235.0)))
        3988
    """
    ratio = np.divide(D, t)
    load = 6.0 * np.multiply(S_y, t) * np.sqrt(np.multiply(D, t))
    return within(between(ratio, 7.0, 60.0), load)
