"""The wall of a round tube under a plate, a foot, a tab, a gusset's toe or a post: where it dents or tears.

A weld may hold and the wall under it give way. The resistances are those of EN 1993-1-8, section 7, without
a partial factor; they are design values, about 0.9 of the mean of the tests. `f_y` is the wall's yield
strength as welded, times `high_yield_factor`; `k` is `chord_factor`. The standard starts at walls of 2.5 mm;
thinner ones fail by the same mechanism, which scales with t². It is made for steel: for a ductile light alloy
put its softened yield strength.

Walls thicker than a tenth of the diameter count as a tenth; plates longer than four diameters as four.

Worked example: longitudinal tab of 40 mm on a tube of 38 by 2, 350 MPa: N = 5·350·2²·(1 + 0.25·40/38) = 8842 N.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.strength.method import Number, method
from parts.strength.validity import Truth, between, within

EN = "EN 1993-1-8:2005, "
MEMORY = (
    "; from memory, checked by AISC 360-10, chapter K, as an open library of its equations has it"
)
SLENDEREST = 50.0  # d0/t0
STOUTEST = 10.0


def _wall(d0: Number, t0: Number) -> Truth:
    return np.asarray(np.divide(d0, t0) <= SLENDEREST * (1.0 + 1e-9))


def _wide(d0: Number, t0: Number, b: Number) -> Truth:
    return np.asarray(_wall(d0, t0) & between(np.divide(b, d0), 0.2, 1.0))


def _counted(d0: Number, t0: Number) -> Number:
    """Thickness that counts: no more than a tenth of the diameter."""
    return np.minimum(t0, np.divide(d0, STOUTEST))


@method(
    formula="k_p = 1 − 0.3 n (1 + n) in compression, 1 in tension",
    source=EN + "Table 7.2",
    valid="n up to 1",
    holds=lambda n: np.asarray(n) <= 1.0,
)
def chord_factor(n: Number) -> Number:
    """What compression along a round tube leaves of its wall's resistance.

    Args:
        n [-]: compressive stress along the tube at the joint over its yield strength; tension negative.

    Returns:
        [-] factor, at most 1.

    Example: half used by compression.
        >>> float(chord_factor(0.5))
        0.775
    """
    n = np.asarray(n, float)
    return within(n <= 1.0, np.where(n > 0.0, 1.0 - 0.3 * n * (1.0 + n), 1.0))


@method(
    formula="1 to 355 MPa, 0.9 to 460, 0.8 to 700",
    source=EN + "7.1.1 (4); EN 1993-1-12:2007, 2.8; from memory",
    valid="yield strength up to 700 MPa",
    holds=lambda f_y: np.asarray(f_y) <= 700.0,
)
def high_yield_factor(f_y: Number) -> Number:
    """What the wall of a strong tube may count of its yield strength, as it deforms less before it tears.

    Args:
        f_y [MPa]: yield strength of the tube.

    Returns:
        [-] factor on the yield strength.

    Example:
        >>> high_yield_factor(np.array([235.0, 435.0, 517.0])).tolist()
        [1.0, 0.9, 0.8]
    """
    f_y = np.asarray(f_y, float)
    return within(f_y <= 700.0, np.where(f_y <= 355.0, 1.0, np.where(f_y <= 460.0, 0.9, 0.8)))


@method(
    formula="N = 5 k f_y t0² (1 + 0.25 h/d0)",
    source=EN + "Table 7.3, longitudinal plate" + MEMORY + " (5.5 there, times 0.9)",
    valid="d0/t0 up to 50",
    holds=lambda d0, t0, h, f_y, k=1.0: _wall(d0, t0),
)
def longitudinal_plate_pull(
    d0: Number, t0: Number, h: Number, f_y: Number, k: Number = 1.0
) -> Number:
    """Pull or push, square to a round tube, on a plate that stands along it: tab, gusset's toe, ear.

    Args:
        d0 [mm]: diameter of the tube.
        t0 [mm]: wall.
        h [mm]: length of the plate along the tube.
        f_y [MPa]: yield strength of the wall as welded.
        k [-]: factor for compression along the tube.

    Returns:
        [N] force.

    Example: that of the head of this file.
        >>> round(float(longitudinal_plate_pull(38.0, 2.0, 40.0, 350.0)))
        8842
    """
    eta = np.minimum(np.divide(h, d0), 4.0)
    pull = 5.0 * np.asarray(k) * f_y * np.square(_counted(d0, t0)) * (1.0 + 0.25 * eta)
    return within(_wall(d0, t0), pull)


@method(
    formula="M = 0.8 h N, N of `longitudinal_plate_pull`",
    source="AISC 360-16, Table K2.1, and CIDECT Design Guide 1 (2008); "
    + EN
    + "Table 7.3, has 1.0 h; from memory",
    valid="d0/t0 up to 50",
    holds=lambda d0, t0, h, f_y, k=1.0: _wall(d0, t0),
)
def longitudinal_plate_moment(
    d0: Number, t0: Number, h: Number, f_y: Number, k: Number = 1.0
) -> Number:
    """Moment in its own plane on a plate that stands along a round tube.

    Args:
        d0 [mm]: diameter of the tube.
        t0 [mm]: wall.
        h [mm]: length of the plate along the tube.
        f_y [MPa]: yield strength of the wall as welded.
        k [-]: factor for compression along the tube.

    Returns:
        [N*mm] moment.

    Example:
        >>> round(float(longitudinal_plate_moment(38.0, 2.0, 40.0, 350.0)))
        282947
    """
    return 0.8 * np.minimum(h, 4.0 * np.asarray(d0)) * longitudinal_plate_pull(d0, t0, h, f_y, k)


@method(
    formula="M = f_y t0² L / 2",
    source="statics: half the moment bends the wall on each side, at its plastic moment f_y t0²/4; a ring under a "
    "moment and even shear, Roark's Formulas, 7th ed., Table 9.2; a lower bound, the wall beyond the ends left out",
)
def sideways_plate_moment(t0: Number, L: Number, f_y: Number) -> Number:
    """Moment about a plate's own line that the wall under it bears: a side force at the tip of a tab.

    The standard gives such a plate nothing. This bound holds for a plate along the tube and one across it.

    Args:
        t0 [mm]: wall.
        L [mm]: length of the plate on the wall.
        f_y [MPa]: yield strength of the wall as welded.

    Returns:
        [N*mm] moment.

    Example: 40 mm on a wall of 2.
        >>> float(sideways_plate_moment(2.0, 40.0, 350.0))
        28000.0
    """
    return np.multiply(f_y, np.square(t0)) * L / 2.0


@method(
    formula="N = k f_y t0² min(4 + 20 β², 5/(1 − 0.81 β)), β = b/d0",
    source=EN + "Table 7.3, transverse plate, T and X joint" + MEMORY,
    valid="d0/t0 up to 50; b/d0 from 0.2 (AISC; EN from 0.4) to 1",
    holds=lambda d0, t0, b, f_y, k=1.0: _wide(d0, t0, b),
)
def transverse_plate_pull(
    d0: Number, t0: Number, b: Number, f_y: Number, k: Number = 1.0
) -> Number:
    """Pull or push, square to a round tube, on a plate that stands across it: foot, flange, stiffener.

    Whether the load stays in the tube or passes through to a plate on the other side: the lower counts.

    Args:
        d0 [mm]: diameter of the tube.
        t0 [mm]: wall.
        b [mm]: width of the plate across the tube.
        f_y [MPa]: yield strength of the wall as welded.
        k [-]: factor for compression along the tube.

    Returns:
        [N] force.

    Example: 30 mm across 38 by 2.
        >>> round(float(transverse_plate_pull(38.0, 2.0, 30.0, 350.0)))
        19416
    """
    beta = np.divide(b, d0)
    with np.errstate(divide="ignore"):
        shape = np.minimum(4.0 + 20.0 * beta**2, 5.0 / (1.0 - 0.81 * np.minimum(beta, 1.0)))
    pull = np.asarray(k) * f_y * np.square(_counted(d0, t0)) * shape
    return within(_wide(d0, t0, b), pull)


@method(
    formula="M = 0.5 b N, N of `transverse_plate_pull`",
    source=EN + "Table 7.3, transverse plate, M_op" + MEMORY,
    valid="d0/t0 up to 50; b/d0 from 0.2 to 1",
    holds=lambda d0, t0, b, f_y, k=1.0: _wide(d0, t0, b),
)
def transverse_plate_moment(
    d0: Number, t0: Number, b: Number, f_y: Number, k: Number = 1.0
) -> Number:
    """Moment in its own plane on a plate that stands across a round tube.

    Args:
        d0 [mm]: diameter of the tube.
        t0 [mm]: wall.
        b [mm]: width of the plate across the tube.
        f_y [MPa]: yield strength of the wall as welded.
        k [-]: factor for compression along the tube.

    Returns:
        [N*mm] moment.

    Example:
        >>> round(float(transverse_plate_moment(38.0, 2.0, 30.0, 350.0)))
        291241
    """
    return 0.5 * np.asarray(b) * transverse_plate_pull(d0, t0, b, f_y, k)


@method(
    formula="σ = 2 t0 f_y / (√3 t1)",
    source=EN + "Table 7.3, punching shear: (N/A + M/W) t1 ≤ 2 t0 f_y/√3",
    valid="plate welded on both sides",
    holds=lambda t0, t1, f_y: np.asarray(t1) > 0.0,
)
def punching_stress(t0: Number, t1: Number, f_y: Number) -> Number:
    """Largest direct stress at the foot of a plate before it tears out of the wall, on two shear planes.

    For plates on round and rectangular tubes; hold N/A + M/W of the plate against it.

    Args:
        t0 [mm]: wall.
        t1 [mm]: thickness of the plate.
        f_y [MPa]: yield strength of the wall as welded.

    Returns:
        [MPa] stress in the plate.

    Example: a plate of 5 mm on a wall of 2.
        >>> round(float(punching_stress(2.0, 5.0, 350.0)), 1)
        161.7
    """
    stress: Number = 2.0 * np.multiply(t0, f_y) / (np.sqrt(3.0) * np.asarray(t1))
    return stress


def _post(d0: Any, t0: Any) -> tuple[Number, Number]:
    """Thickness that counts, and γ = d0/(2 t0) of it."""
    t = _counted(d0, t0)
    return t, np.divide(d0, 2.0 * t)


@method(
    formula="N = min(k f_y t0² min(γ^0.2 (2.8 + 14.2 β²), 5.2/(1 − 0.81 β)), π d1 t0 f_y/√3), β = d1/d0, γ = d0/(2 t0)",
    source=EN + "Table 7.2, T and X joint, punching" + MEMORY,
    valid="d0/t0 up to 50; d1/d0 from 0.2 to 1",
    holds=lambda d0, t0, d1, f_y, k=1.0: _wide(d0, t0, d1),
)
def post_pull(d0: Number, t0: Number, d1: Number, f_y: Number, k: Number = 1.0) -> Number:
    """Pull or push on a round tube, bung, boss or peg that stands square on a round tube.

    Of a post that leans, take the part of its force that is square to the tube.

    Args:
        d0 [mm]: diameter of the tube.
        t0 [mm]: wall.
        d1 [mm]: outside of the post.
        f_y [MPa]: yield strength of the wall as welded.
        k [-]: factor for compression along the tube.

    Returns:
        [N] force.

    Example: 22 mm on 38 by 2.
        >>> round(float(post_pull(38.0, 2.0, 22.0, 350.0)))
        13709
    """
    t, gamma = _post(d0, t0)
    beta = np.minimum(np.divide(d1, d0), 1.0)
    shape = np.minimum(gamma**0.2 * (2.8 + 14.2 * beta**2), 5.2 / (1.0 - 0.81 * beta))
    dent = np.asarray(k) * f_y * np.square(t) * shape
    tear = np.pi * np.multiply(d1, t0) * f_y / np.sqrt(3.0)
    return within(_wide(d0, t0, d1), np.minimum(dent, tear))


@method(
    formula="M = min(4.85 k f_y t0² d1 β √γ, d1² t0 f_y/√3), β = d1/d0, γ = d0/(2 t0)",
    source=EN + "Table 7.5, in-plane moment, punching" + MEMORY,
    valid="d0/t0 up to 50; d1/d0 from 0.2 to 1",
    holds=lambda d0, t0, d1, f_y, k=1.0: _wide(d0, t0, d1),
)
def post_moment_along(d0: Number, t0: Number, d1: Number, f_y: Number, k: Number = 1.0) -> Number:
    """Moment that rocks a post along the tube that it stands on (in-plane).

    Args:
        d0 [mm]: diameter of the tube.
        t0 [mm]: wall.
        d1 [mm]: outside of the post.
        f_y [MPa]: yield strength of the wall as welded.
        k [-]: factor for compression along the tube.

    Returns:
        [N*mm] moment.

    Example:
        >>> round(float(post_moment_along(38.0, 2.0, 22.0, 350.0)))
        195606
    """
    t, gamma = _post(d0, t0)
    dent = 4.85 * np.asarray(k) * f_y * np.square(t) * d1 * np.divide(d1, d0) * np.sqrt(gamma)
    tear = np.square(d1) * np.multiply(t0, f_y) / np.sqrt(3.0)
    return within(_wide(d0, t0, d1), np.minimum(dent, tear))


@method(
    formula="M = min(2.7 k f_y t0² d1/(1 − 0.81 β), d1² t0 f_y/√3), β = d1/d0",
    source=EN + "Table 7.5, out-of-plane moment, punching" + MEMORY,
    valid="d0/t0 up to 50; d1/d0 from 0.2 to 1",
    holds=lambda d0, t0, d1, f_y, k=1.0: _wide(d0, t0, d1),
)
def post_moment_across(d0: Number, t0: Number, d1: Number, f_y: Number, k: Number = 1.0) -> Number:
    """Moment that rocks a post across the tube that it stands on (out of plane).

    Args:
        d0 [mm]: diameter of the tube.
        t0 [mm]: wall.
        d1 [mm]: outside of the post.
        f_y [MPa]: yield strength of the wall as welded.
        k [-]: factor for compression along the tube.

    Returns:
        [N*mm] moment.

    Example:
        >>> round(float(post_moment_across(38.0, 2.0, 22.0, 350.0)))
        156595
    """
    beta = np.minimum(np.divide(d1, d0), 1.0)
    dent = 2.7 * np.asarray(k) * f_y * np.square(_counted(d0, t0)) * d1 / (1.0 - 0.81 * beta)
    tear = np.square(d1) * np.multiply(t0, f_y) / np.sqrt(3.0)
    return within(_wide(d0, t0, d1), np.minimum(dent, tear))


@method(
    formula="R = |N|/N_R + |M_i|/M_iR + |M_o|/M_oR",
    source=EN
    + "eq. 7.4 (rectangular tubes); for round ones eq. 7.3 has (M_i/M_iR)², which is never more",
)
def wall_use(
    N: Number, N_R: Number, M_i: Number, M_iR: Number, M_o: Number = 0.0, M_oR: Number = np.inf
) -> Number:
    """Share of a wall's resistance that force and moments use together, on round and flat walls.

    Args:
        N [N]: force square to the wall.
        N_R [N]: what the wall bears of it alone.
        M_i [N*mm]: moment along the tube.
        M_iR [N*mm]: what the wall bears of it alone.
        M_o [N*mm]: moment across it.
        M_oR [N*mm]: what the wall bears of it alone.

    Returns:
        [-] use; 1 is the limit.

    Example:
        >>> float(wall_use(2000.0, 8000.0, 5.0e4, 1.0e5))
        0.75
    """
    force = np.abs(N) / np.asarray(N_R, float)
    moments = np.abs(M_i) / np.asarray(M_iR, float) + np.abs(M_o) / np.asarray(M_oR, float)
    use: Number = force + moments
    return use
