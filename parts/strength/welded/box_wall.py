"""The flat wall of a square or rectangular tube under a plate, foot, tab or post: where it dents or tears.

The resistances of EN 1993-1-8, section 7, without a partial factor, as in `tube_wall`: `f_y` is the wall's
yield strength as welded times `tube_wall.high_yield_factor`. Lengths along the tube are h, across it b; b0 is
the outside width of the wall that bears, t0 its thickness. Tearing round a plate is `tube_wall.punching_stress`;
force and moments together are `tube_wall.wall_use`.

Worked example: longitudinal tab 40 by 5 on a tube of 40 by 2, 350 MPa: β = 0.125, η = 1:
N = 350·4 (2 + 4√0.875)/0.875 = 9187 N.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.validity import Truth, between, within

EN = "EN 1993-1-8:2005, "
MEMORY = (
    "; from memory, checked by AISC 360-10, chapter K, as an open library of its equations has it"
)


def _face(b: Number, b0: Number, t0: Number) -> Truth:
    """A patch that leaves some of the face free to bend, on a wall that is not too thin."""
    return np.asarray(
        between(np.divide(b, b0), 0.0, 0.85) & (np.divide(b0, t0) <= 35.0 * (1.0 + 1e-9))
    )


def _wide(b: Number, b0: Number, t0: Number) -> Truth:
    return np.asarray(
        between(np.divide(b, b0), 0.5, 1.0) & (np.divide(b0, t0) <= 30.0 * (1.0 + 1e-9))
    )


@method(
    formula="k_m = min(1.3 (1 − n), 1) in compression, 1 in tension",
    source=EN + "Table 7.13; from memory",
    valid="n up to 1",
    holds=lambda n: np.asarray(n) <= 1.0,
)
def chord_factor_plate(n: Number) -> Number:
    """What compression along a rectangular tube leaves of its wall's resistance under a plate.

    Args:
        n [-]: compressive stress along the tube at the joint over its yield strength; tension negative.

    Returns:
        [-] factor, at most 1.

    Example: half used by compression.
        >>> float(chord_factor_plate(0.5))
        0.65
    """
    n = np.asarray(n, float)
    return within(n <= 1.0, np.where(n > 0.0, np.minimum(1.3 * (1.0 - n), 1.0), 1.0))


@method(
    formula="k_n = min(1.3 − 0.4 n/β, 1) in compression, 1 in tension",
    source=EN + "Tables 7.10 and 7.11; from memory",
    valid="n up to 1, β from 0.25",
    holds=lambda n, beta: (np.asarray(n) <= 1.0) & (np.asarray(beta) >= 0.25),
)
def chord_factor_post(n: Number, beta: Number) -> Number:
    """What compression along a rectangular tube leaves of its wall's resistance under a post.

    Args:
        n [-]: compressive stress along the tube at the joint over its yield strength; tension negative.
        beta [-]: width of the post over that of the tube.

    Returns:
        [-] factor, from 0 to 1.

    Example: half used by compression, a post half as wide.
        >>> round(float(chord_factor_post(0.5, 0.5)), 3)
        0.9
    """
    n, beta = np.asarray(n, float), np.asarray(beta, float)
    factor = np.where(n > 0.0, np.clip(1.3 - 0.4 * n / beta, 0.0, 1.0), 1.0)
    return within((n <= 1.0) & (beta >= 0.25), factor)


@method(
    formula="N = k f_y t0² (2 η/(1 − β) + 4/√(1 − β)), η = h/b0, β = b/b0",
    source=EN
    + "Tables 7.11 and 7.13 (yield lines in the face); AISC 360-16, eq. K2-7 and K3-7"
    + MEMORY,
    valid="b/b0 up to 0.85; b0/t0 up to 35",
    holds=lambda h, b, b0, t0, f_y, k=1.0: _face(b, b0, t0),
)
def face_pull(h: Number, b: Number, b0: Number, t0: Number, f_y: Number, k: Number = 1.0) -> Number:
    """Pull or push, square to a flat wall, on a plate along it or on a rectangular post.

    A round post of diameter d counts as π/4 of a square one with h = b = d (EN 1993-1-8, Table 7.11).

    Args:
        h [mm]: length of plate or post along the tube.
        b [mm]: its width across the tube: the thickness of a plate that stands along it.
        b0 [mm]: outside width of the wall.
        t0 [mm]: its thickness.
        f_y [MPa]: yield strength of the wall as welded.
        k [-]: factor for compression along the tube.

    Returns:
        [N] force; not a number where the patch is so wide that the side walls bear.

    Example: that of the head of this file.
        >>> round(float(face_pull(40.0, 5.0, 40.0, 2.0, 350.0)))
        9187
    """
    ok = _face(b, b0, t0)
    free = np.where(ok, 1.0 - np.divide(b, b0), 1.0)
    shape = 2.0 * np.divide(h, b0) / free + 4.0 / np.sqrt(free)
    return within(ok, np.asarray(k) * f_y * np.square(t0) * shape)


@method(
    formula="M = k f_y t0² h (1/(2 η) + 2/√(1 − β) + η/(1 − β)), η = h/b0, β = b/b0",
    source=EN
    + "Table 7.14, chord face failure; AISC 360-16, chapter K, branches in bending"
    + MEMORY,
    valid="b/b0 up to 0.85; b0/t0 up to 35",
    holds=lambda h, b, b0, t0, f_y, k=1.0: _face(b, b0, t0),
)
def face_moment_along(
    h: Number, b: Number, b0: Number, t0: Number, f_y: Number, k: Number = 1.0
) -> Number:
    """Moment that rocks a plate or post along the tube (in-plane), on a flat wall.

    Args:
        h [mm]: length of plate or post along the tube.
        b [mm]: its width across the tube: the thickness of a plate that stands along it.
        b0 [mm]: outside width of the wall.
        t0 [mm]: its thickness.
        f_y [MPa]: yield strength of the wall as welded.
        k [-]: factor for compression along the tube.

    Returns:
        [N*mm] moment.

    Example:
        >>> round(float(face_moment_along(40.0, 5.0, 40.0, 2.0, 350.0)))
        211733
    """
    ok = _face(b, b0, t0)
    free = np.where(ok, 1.0 - np.divide(b, b0), 1.0)
    eta = np.divide(h, b0)
    shape = 1.0 / (2.0 * eta) + 2.0 / np.sqrt(free) + eta / free
    return within(ok, np.asarray(k) * f_y * np.square(t0) * h * shape)


@method(
    formula="M = k f_y t0² (h (1 + β)/(2 (1 − β)) + √(2 b0 b (1 + β)/(1 − β))), β = b/b0",
    source=EN + "Table 7.14, out-of-plane moment, chord face failure" + MEMORY,
    valid="b/b0 up to 0.85; b0/t0 up to 35",
    holds=lambda h, b, b0, t0, f_y, k=1.0: _face(b, b0, t0),
)
def face_moment_across(
    h: Number, b: Number, b0: Number, t0: Number, f_y: Number, k: Number = 1.0
) -> Number:
    """Moment that rocks a plate or post across the tube (out of plane), on a flat wall.

    The tube's own distortion (same table) is left out: up to b/b0 = 0.85 it takes more than this on square
    tubes whose walls are a tenth of the width or thinner.

    Args:
        h [mm]: length of plate or post along the tube.
        b [mm]: its width across the tube: the thickness of a plate that stands along it.
        b0 [mm]: outside width of the wall.
        t0 [mm]: its thickness.
        f_y [MPa]: yield strength of the wall as welded.
        k [-]: factor for compression along the tube.

    Returns:
        [N*mm] moment.

    Example: a tab along the tube, bent sideways.
        >>> round(float(face_moment_across(40.0, 5.0, 40.0, 2.0, 350.0)))
        67749
    """
    ok = _face(b, b0, t0)
    beta = np.where(ok, np.divide(b, b0), 0.0)
    ratio = (1.0 + beta) / (1.0 - beta)
    shape = np.asarray(h) * ratio / 2.0 + np.sqrt(2.0 * np.multiply(b0, b) * ratio)
    return within(ok, np.asarray(k) * f_y * np.square(t0) * shape)


@method(
    formula="N = f_y t0 min(k t0 (2 + 2.8 β)/√(1 − 0.9 β), (2 t1 + 2 b_ep)/√3, k (2 t1 + 10 t0)), "
    "b_ep = 10 t0 b/b0 up to b",
    source=EN + "Table 7.13, transverse plate: chord face, punching, side walls" + MEMORY,
    valid="b/b0 from 0.5 to 1; b0/t0 up to 30",
    holds=lambda b, t1, b0, t0, f_y, k=1.0: _wide(b, b0, t0),
)
def transverse_plate_pull(
    b: Number, t1: Number, b0: Number, t0: Number, f_y: Number, k: Number = 1.0
) -> Number:
    """Pull or push, square to a flat wall, on a plate that stands across it: foot, flange, stiffener.

    The standard names a width for each mode; the least of all three counts here for any width.

    Args:
        b [mm]: width of the plate across the tube.
        t1 [mm]: thickness of the plate.
        b0 [mm]: outside width of the wall.
        t0 [mm]: its thickness.
        f_y [MPa]: yield strength of the wall as welded.
        k [-]: factor for compression along the tube.

    Returns:
        [N] force.

    Example: 30 by 5 across 40 by 2.
        >>> round(float(transverse_plate_pull(30.0, 5.0, 40.0, 2.0, 350.0)))
        10069
    """
    ok = _wide(b, b0, t0)
    beta = np.where(ok, np.divide(b, b0), 1.0)
    face = np.asarray(k) * t0 * (2.0 + 2.8 * beta) / np.sqrt(1.0 - 0.9 * beta)
    b_ep = np.minimum(10.0 * np.multiply(t0, beta), b)
    tear = (2.0 * np.asarray(t1) + 2.0 * b_ep) / np.sqrt(3.0)
    sides = np.asarray(k) * (2.0 * np.asarray(t1) + 10.0 * np.asarray(t0))
    least = np.minimum(np.minimum(face, tear), sides)
    return within(ok, np.multiply(f_y, t0) * least)


@method(
    formula="N = f_y1 t1 b_eff, b_eff = 10 t0/b0 · f_y t0/(f_y1 t1) · b, up to b",
    source=EN + "Table 7.13, plate failure; AISC 360-16, eq. K1-1" + MEMORY,
    valid="b/b0 up to 1",
    holds=lambda b, t1, f_y1, b0, t0, f_y: between(np.divide(b, b0), 0.0, 1.0),
)
def uneven_plate_pull(
    b: Number, t1: Number, f_y1: Number, b0: Number, t0: Number, f_y: Number
) -> Number:
    """Pull on a plate across a flat wall that is stiff only at its edges: the plate's ends yield first.

    Its weld fails as unevenly: count the same share of its length.

    Args:
        b [mm]: width of the plate across the tube.
        t1 [mm]: thickness of the plate.
        f_y1 [MPa]: yield strength of the plate as welded.
        b0 [mm]: outside width of the wall.
        t0 [mm]: its thickness.
        f_y [MPa]: yield strength of the wall as welded.

    Returns:
        [N] force.

    Example: 30 by 5 of 250 MPa across 40 by 2.
        >>> float(uneven_plate_pull(30.0, 5.0, 250.0, 40.0, 2.0, 350.0))
        10500.0
    """
    uneven = 10.0 * np.divide(t0, b0) * f_y * t0 * b
    even = np.multiply(f_y1, t1) * b
    return within(between(np.divide(b, b0), 0.0, 1.0), np.minimum(uneven, even))
