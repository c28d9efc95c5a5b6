"""Arms and ears bent in their strong plane that topple sideways: lateral-torsional buckling of cantilevers.

The section does not warp, as a rectangle or a solid blade does not, and is symmetric about the plane of bending. A
tapered arm takes the least `EI_z` and `GJ` along it, which is a lower bound.

Worked example: steel blade 4 x 60 mm, 400 mm long, loaded at the middle of its end: EI_z = 65.6e6 N*mm², GJ = 96.7e6
N*mm², P = 4.013·√(65.6e6·96.7e6)/400² = 2.00 kN, at the root 0.80 kN*m.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from parts.strength.columns.column import grown_moment
from parts.strength.method import Number, method

STABILITY = "Timoshenko & Gere, Theory of Elastic Stability, 2nd ed., "
HALVINGS = 60
"""More than the bits of a double: the bisection ends at round-off."""
LOWEST, HIGHEST = 0.0, 5.5617
"""Between these lies P L²/√(EI_z GJ) for a load at any height; the upper is the first zero of J_1/4(γ/2)."""
TERMS = 16
"""Terms of the series: the last is below 1e-16 at the highest γ."""


@method(
    formula="J = (d t³/3) (1 - 0.63 (t/d) (1 - t⁴/(12 d⁴)))",
    source="Roark's Formulas for Stress and Strain, 7th ed., Table 10.1, case 4, from memory",
    valid="no thicker than it is deep",
    holds=lambda t, d: np.less_equal(t, d),
)
def rectangle_torsion_constant(t: Number, d: Number) -> Number:
    """Torsion constant of a rectangle, for arms and ears whose section is not traced.

    Args:
        t [mm]: thickness.
        d [mm]: depth, the larger side.

    Returns:
        [mm^4] J; nan where the thickness is the larger.
    """
    x = np.divide(t, d)
    J = np.multiply(d, np.power(t, 3.0)) / 3.0 * (1.0 - 0.63 * x * (1.0 - x**4 / 12.0))
    value: Number = np.where(x <= 1.0, J, np.nan)[()]
    return value


@method(
    formula="M = π √(EI_z GJ) / (2 L)",
    source=STABILITY + "section 6.1 (cantilever in pure bending), from memory",
)
def end_moment_buckling(EI_z: Number, GJ: Number, L: Number) -> Number:
    """Moment at the free end, in the strong plane, at which a cantilever topples.

    For arms that end in a clamped pin or a peg, and bosses that hand a moment on.

    Args:
        EI_z [N*mm^2]: bending stiffness for sideways bending.
        GJ [N*mm^2]: torsional stiffness.
        L [mm]: length from the root to the free end.

    Returns:
        [N*mm] moment at first buckling, elastic.
    """
    moment: Number = 0.5 * np.pi * np.sqrt(np.multiply(EI_z, GJ)) / np.asarray(L)
    return moment


def _twisted(gamma: Number, height: Number) -> Number:
    """Twist at the root of a cantilever that starts with a twist of 1 at its tip: 0 where it buckles."""
    square = np.square(gamma)
    plain = slope = np.ones_like(square)
    one = other = np.ones_like(square)
    for k in range(1, TERMS):
        one = -one * square / (4.0 * k * (4.0 * k - 1.0))
        other = -other * square / (4.0 * k * (4.0 * k + 1.0))
        plain, slope = plain + one, slope + other
    value: Number = plain - gamma * height * slope
    return value


@method(
    formula="P = γ √(EI_z GJ)/L²; γ is the first root of u_1 = γ (h/L) √(EI_z/GJ) u_2, with u_1 and u_2 the "
    "solutions of β'' + γ² s² β = 0 that start with β = 1 and β' = 1; γ = 4.013 for h = 0",
    source=STABILITY
    + "section 6.3 (cantilever under an end load; the load off the centroid), solved by halving",
)
def end_load_buckling(EI_z: Number, GJ: Number, L: Number, h: Number = 0.0) -> Number:
    """Load across the end of a cantilever, in its strong plane, at which it topples.

    For arms, blades and ears under a side force. The book's correction for the height, 1 - (h/L) √(EI_z/GJ), is the
    start of this curve; it lies 2 % above it where the correction is a tenth, and 13 % where it is a half.

    Args:
        EI_z [N*mm^2]: bending stiffness for sideways bending; the least of a tapered arm.
        GJ [N*mm^2]: torsional stiffness; the least of a tapered arm.
        L [mm]: length from the root to the load.
        h [mm]: how far the load acts off the centroid on the side that it comes from, as on top of an arm that is
            pushed down; negative where it hangs.

    Returns:
        [N] load at first buckling, elastic.
    """
    root = np.sqrt(np.multiply(EI_z, GJ))
    height = np.divide(h, L) * np.sqrt(np.divide(EI_z, GJ))
    distinct, which = np.unique(height, return_inverse=True)
    first = _first_roots(distinct.tobytes())[which].reshape(np.shape(height))
    load: Number = (first * root / np.square(L))[()]
    return load


@lru_cache(maxsize=16)
def _first_roots(heights: bytes) -> NDArray[np.float64]:
    """First root γ for each height (h/L) √(EI_z/GJ), by halving; most loads act at the centroid, at a height of 0."""
    height = np.frombuffer(heights)
    low, high = LOWEST + 0.0 * height, HIGHEST + 0.0 * height
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        over = np.less(_twisted(middle, height), 0.0)
        low, high = np.where(over, low, middle), np.where(over, middle, high)
    return low


@method(
    formula="M_R = χ W F_y, χ = 1/(φ + √(φ² - λ²)) ≤ 1, φ = (1 + α (λ - 0.2) + λ²)/2, λ = √(W F_y/M_cr)",
    source="EN 1993-1-1:2005, 6.3.2.2, tables 6.3 and 6.4 (sections neither rolled nor welded I: curve d, α 0.76). "
    "EN 1999-1-1, 6.3.2, gives aluminium more: taken for it too, on the safe side",
)
def toppling_resistance(M_cr: Number, W: Number, F_y: Number, alpha: Number = 0.76) -> Number:
    """Moment in the strong plane that an arm bears before it yields or topples, partial factor 1.

    A short arm bears its yield moment. For the root section of arms, blades and ears, with the critical moment as
    load times length.

    Args:
        M_cr [N*mm]: moment at the root at which the arm topples, elastic.
        W [mm^3]: section modulus in the strong plane: elastic, or plastic where the metal and the check allow it.
        F_y [MPa]: yield strength; beside a weld that of the softened metal.
        alpha [-]: imperfection factor.

    Returns:
        [N*mm] moment.
    """
    full = np.multiply(W, F_y)
    slender = np.sqrt(full / np.asarray(M_cr))
    phi = 0.5 * (1.0 + alpha * (slender - 0.2) + slender**2)
    chi = 1.0 / (phi + np.sqrt(np.maximum(phi**2 - slender**2, 0.0)))
    moment: Number = full * np.where(slender <= 0.2, 1.0, np.minimum(chi, 1.0))
    return moment


@method(
    formula="u = P/P_cr + N/N_cr, N not below 0",
    source="Papkovich's theorem (the loads under which a frame is stable form a convex region), so that a straight "
    "line between two ways of buckling lies on the safe side; from memory",
)
def toppling_use(P: Number, P_cr: Number, N: Number, N_cr: Number) -> Number:
    """Share of its elastic buckling load that an arm bears which is loaded across and pushed along at once.

    Args:
        P [N]: load across the end, in the strong plane.
        P_cr [N]: the load that topples it, from `end_load_buckling`.
        N [N]: push along the arm; a pull counts nothing.
        N_cr [N]: the push that buckles it sideways, as a cantilever.

    Returns:
        [-] share; 1 at first buckling.

    Example: 1 kN of 2 and a push of 3 kN of 12.
        >>> float(toppling_use(1.0e3, 2.0e3, 3.0e3, 12.0e3))
        0.75
    """
    found: Number = np.divide(P, P_cr) + np.maximum(N, 0.0) / np.asarray(N_cr, float)
    return found


@method(
    formula="u = M/M_R + N/N_R + M_s/(W_s F_y (1 - n u_cr)), n u_cr below 1, else without end; N not below 0",
    source="EN 1993-1-1:2005, 6.3.3 (the sum of the three, under the loads times their factors); the side moment grows "
    "by 1/(1 - n u_cr), Timoshenko & Gere, Theory of Elastic Stability, 2nd ed., section 1.11",
)
def toppling_yield_use(
    M: Number, M_R: Number, N: Number, N_R: Number, M_s: Number, W_s: Number, F_y: Number, u_cr: Number,
    n: Number = 1.0,
) -> Number:  # fmt: skip
    """Share of what it bears that a slender arm is asked, bent both ways and pushed.

    Args:
        M [N*mm]: moment in the strong plane at the root.
        M_R [N*mm]: from `toppling_resistance`; for breaking W F.
        N [N]: push along the arm; a pull counts nothing.
        N_R [N]: push that it bears alone; for breaking A F.
        M_s [N*mm]: moment sideways at the root, of the straight arm.
        W_s [mm^3]: section modulus sideways.
        F_y [MPa]: yield strength, or ultimate for breaking.
        u_cr [-]: from `toppling_use`.
        n [-]: how many times the loads are to be borne; where n u_cr is 1 a side moment grows without end.

    Returns:
        [-] share; 1 at yield, or where it breaks.

    Example: half in the strong plane, and a tenth sideways that grows to a fifth.
        >>> round(float(toppling_yield_use(50.0, 100.0, 0.0, 1.0, 10.0, 1.0, 100.0, 0.5)), 3)
        0.7
    """
    side = grown_moment(M_s, u_cr, n) / np.multiply(W_s, F_y)
    use: Number = np.divide(M, M_R) + np.maximum(N, 0.0) / np.asarray(N_R, float) + side
    return use
