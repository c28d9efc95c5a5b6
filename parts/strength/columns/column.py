"""Columns: links and struts in compression: straight, bowed, eccentric, stepped, pushed sideways.

L is the effective length throughout: pin to pin for a link on two rod ends, otherwise from
`effective_length`. A result is the load at failure or first yield, without a factor of safety.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method

# Effective length over length for ideal ends; fixed means truly fixed, which a bolted tab is not.
PINNED, FIXED_PINNED, FIXED, CANTILEVER = 1.0, 0.699, 0.5, 2.0

GRAVITY = 9.80665  # m/s^2, ISO 80000-3
STABILITY = "Timoshenko & Gere, Theory of Elastic Stability, 2nd ed., "
GROWN = "; grown as under n times the load: AISC 360-16, equation A-8-3 (its α), from memory"
SHIGLEY = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, chapter 4 (columns)"
HALVINGS = 80  # more than the bits of a double: the bisections end at round-off


@method(
    formula="L = K L_0",
    source=STABILITY + "chapter 2 (effective length)",
)
def effective_length(L_0: Number, K: Number) -> Number:
    """Length of the pinned column that buckles at the same load.

    Args:
        L_0 [mm]: length between the ends.
        K [-]: 1 pinned, 0.699 fixed and pinned, 0.5 fixed, 2 free at one end.

    Returns:
        [mm] effective length.
    """
    return np.multiply(K, L_0)


@method(
    formula="P_E = π² E I_min / L²",
    source=STABILITY + "chapter 2; " + SHIGLEY,
)
def euler_load(E: Number, I_min: Number, L: Number) -> Number:
    """Elastic buckling load of a straight uniform column.

    For stress below about half of yield only; `johnson_euler_load` covers stocky ones too.

    Args:
        E [MPa]: Young's modulus.
        I_min [mm^4]: least second moment of area.
        L [mm]: effective length.

    Returns:
        [N] load.
    """
    load: Number = np.pi**2 * np.multiply(E, I_min) / np.square(L)
    return load


@method(
    formula="P = A F_cy (1 - F_cy (L/r)² / (4 π² E)) up to (L/r)_1, else π² E A / (L/r)²",
    source=SHIGLEY,
)
def johnson_euler_load(E: Number, A: Number, I_min: Number, L: Number, F_cy: Number) -> Number:
    """Buckling load of a straight uniform column of any length.

    Args:
        E [MPa]: Young's modulus.
        A [mm^2]: area.
        I_min [mm^4]: least second moment of area.
        L [mm]: effective length.
        F_cy [MPa]: compressive yield strength; beside a weld that of the softened metal.

    Returns:
        [N] load.
    """
    P_E = np.asarray(euler_load(E, I_min, L))
    squash = np.multiply(A, F_cy)
    parabola = squash * (1.0 - squash / (4.0 * P_E))
    return np.where(squash <= 2.0 * P_E, parabola, P_E)[()]


@method(
    formula="σ = (P/A) (1 + (e c A / I) sec((π/2) √(P/P_E)))",
    source="secant formula: " + SHIGLEY + "; Gere & Goodno, Mechanics of Materials, section 11.6",
)
def secant_stress(
    P: Number, E: Number, A: Number, I_e: Number, c: Number, e: Number, L: Number
) -> Number:
    """Largest compressive stress in a pinned column loaded off its axis, the same at both ends.

    Args:
        P [N]: load.
        E [MPa]: Young's modulus.
        A [mm^2]: area.
        I_e [mm^4]: second moment of area for bending in the plane of the eccentricity.
        c [mm]: axis to the outermost fibre on the side of the load.
        e [mm]: eccentricity of the load.
        L [mm]: effective length.

    Returns:
        [MPa] stress; infinite at and above the elastic buckling load.
    """
    P = np.asarray(P, float)
    P_E = np.asarray(euler_load(E, I_e, L))
    below = P < P_E
    cosine = np.cos(0.5 * np.pi * np.sqrt(np.where(below, P / P_E, 0.0)))
    stress = P / A * (1.0 + np.multiply(e, c) * A / np.asarray(I_e) / cosine)
    return np.where(below, stress, np.inf)[()]


@method(
    formula="P such that (P/A) (1 + (e c A / I) sec((π/2) √(P/P_E))) = F",
    source="secant formula, solved by halving: " + SHIGLEY,
)
def secant_load(
    E: Number, A: Number, I_e: Number, c: Number, e: Number, L: Number, F: Number
) -> Number:
    """Load off the axis at which the worst fibre of a pinned column reaches F.

    Divide this load, not F, by the factor of safety: stress grows faster than load.

    Args:
        E [MPa]: Young's modulus.
        A [mm^2]: area.
        I_e [mm^4]: second moment of area for bending in the plane of the eccentricity.
        c [mm]: axis to the outermost fibre on the side of the load.
        e [mm]: eccentricity of the load.
        L [mm]: effective length.
        F [MPa]: compressive yield strength.

    Returns:
        [N] load; the lesser of squash and Euler load where e is 0.
    """
    high = np.minimum(np.multiply(A, F), euler_load(E, I_e, L)) + 0.0 * np.multiply(c, e)
    low = np.zeros_like(high)
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        over = np.asarray(secant_stress(middle, E, A, I_e, c, e, L)) > F
        low, high = np.where(over, low, middle), np.where(over, middle, high)
    load: Number = low[()]
    return load


@method(
    formula="η = a c A / I",
    source="Perry's factor of a bow a: Timoshenko & Gere, Theory of Elastic Stability, 2nd ed., "
    "section 1.12",
)
def bow_factor(a: Number, c: Number, A: Number, I_e: Number) -> Number:
    """Imperfection of a bowed column, for `perry_robertson_load`.

    Args:
        a [mm]: bow at mid-length.
        c [mm]: axis to the outermost fibre on the hollow side of the bow.
        A [mm^2]: area.
        I_e [mm^4]: second moment of area for bending in the plane of the bow.

    Returns:
        [-] η.
    """
    eta: Number = np.multiply(a, c) * np.divide(A, I_e)
    return eta


@method(
    formula="P = A (φ - √(φ² - F_y σ_E)), φ = (F_y + (1 + η) σ_E) / 2, σ_E = P_E / A",
    source="Perry-Robertson: " + STABILITY + "section 1.12",
)
def perry_robertson_load(P_E: Number, A: Number, F_y: Number, eta: Number) -> Number:
    """Load at which the worst fibre of a bowed pinned column yields.

    Args:
        P_E [N]: elastic buckling load.
        A [mm^2]: area.
        F_y [MPa]: compressive yield strength.
        eta [-]: imperfection, from `bow_factor` or Robertson's 0.003 L/r for steel.

    Returns:
        [N] load.
    """
    sigma = np.divide(P_E, A)
    phi = 0.5 * (F_y + (1.0 + np.asarray(eta)) * sigma)
    # The lesser root, as the product of the roots over the greater: no loss of digits.
    load: Number = A * F_y * sigma / (phi + np.sqrt(phi**2 - F_y * sigma))
    return load


def _turned(theta: Number, ratio: Number) -> Number:
    """Angle whose tangent is `ratio` times that of theta, in the same quarter turn [rad]."""
    turns = np.floor(np.divide(theta, np.pi) + 0.5)
    within = np.asarray(theta) - turns * np.pi
    angle: Number = turns * np.pi + np.arctan2(ratio * np.sin(within), np.cos(within))
    return angle


@method(
    formula="P such that y(L_1 + L_2 + L_3) first returns to 0, E I y'' + P y = 0 piece by piece; "
    "alike ends: tan(k_1 L_1) tan(k_2 L_2 / 2) = k_1 / k_2, k² = P / E I",
    source=STABILITY + "section 2.14 (bars with changes in cross section), exact, by halving",
)
def stepped_load(
    EI_1: Number, L_1: Number, EI_2: Number, L_2: Number, EI_3: Number, L_3: Number
) -> Number:
    """Elastic buckling load of a pinned column of three pieces, as a tube between threaded stubs.

    Args:
        EI_1 [N*mm^2]: bending stiffness of the first piece; on the minor diameter where threaded.
        L_1 [mm]: its length, from the pin or ball centre.
        EI_2 [N*mm^2]: bending stiffness of the middle.
        L_2 [mm]: its length.
        EI_3 [N*mm^2]: bending stiffness of the last piece.
        L_3 [mm]: its length, to the pin or ball centre.

    Returns:
        [N] load. Compare the stress in each piece with yield: this is elastic.
    """
    stiff = [np.asarray(x, float) for x in (EI_1, EI_2, EI_3)]
    length = [np.asarray(x, float) for x in (L_1, L_2, L_3)]
    whole = np.square(length[0] + length[1] + length[2])
    high = np.pi**2 * np.maximum(np.maximum(stiff[0], stiff[1]), stiff[2]) / whole
    low = np.zeros_like(high)
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        k = [np.sqrt(middle / x) for x in stiff]
        # The angle of (k y, y') grows with P and reaches half a turn where the column buckles.
        angle = k[0] * length[0]
        angle = _turned(angle, k[1] / k[0]) + k[1] * length[1]
        angle = _turned(angle, k[2] / k[1]) + k[2] * length[2]
        over = np.asarray(angle) > np.pi
        low, high = np.where(over, low, middle), np.where(over, middle, high)
    load: Number = low[()]
    return load


@method(
    formula="q = m g n",
    source="Newton's second law; g of ISO 80000-3",
)
def inertia_load(m: Number, n: Number) -> Number:
    """Side load of a column's own mass, at rest or over a bump.

    Args:
        m [kg/mm]: mass per length.
        n [-]: acceleration across the column in multiples of gravity; 1 for a level link at rest.

    Returns:
        [N/mm] load per length.
    """
    load: Number = GRAVITY * np.multiply(m, n)
    return load


def borne_before(P: Number, P_E: Number, n: Number) -> Number:
    """How often a push P is counted that grows what bends beside it [-]: n times, or once where n times it buckles.

    That has a check of its own, which then falls short; bending that grew without end would hide it.
    """
    alone = np.minimum(1.0, 0.99 * np.asarray(P_E) / np.maximum(P, 1e-9))
    return np.where(np.less(np.multiply(n, P), P_E), n, alone)[()]


def share_of_buckling(P: Number, P_E: Number, n: Number) -> tuple[Number, Number]:
    """n P/P_E, taken as 0 where that buckles the column, and where it does not."""
    share = np.divide(np.multiply(n, P), P_E)
    below = np.less(share, 1.0)
    return np.where(below, share, 0.0), below


@method(
    formula="M = M_0/(1 - n u_cr), n u_cr below 1, else without end",
    source=STABILITY + "section 1.11 (approximate growth of a deflection under a push)" + GROWN,
)
def grown_moment(M_0: Number, u_cr: Number, n: Number = 1.0) -> Number:
    """Moment that bends a slender member sideways, grown by the loads that would buckle it.

    Args:
        M_0 [N*mm]: moment of the straight member; a force or a stress grows alike.
        u_cr [-]: share of their buckling load that the loads reach, as from `toppling_use`.
        n [-]: how many times the loads are to be borne.

    Returns:
        [N*mm] moment; 0 stays 0.

    Example: loads at a fifth of what buckles the member, to be borne twice.
        >>> round(float(grown_moment(30.0, 0.2, 2.0)), 6)
        50.0
    """
    left = 1.0 - np.multiply(n, u_cr)
    grown = np.where(left > 0.0, np.divide(M_0, np.where(left > 0.0, left, 1.0)), np.inf)
    return np.where(np.equal(M_0, 0.0), 0.0, grown)[()]


def _half_angle(P: Number, P_E: Number, n: Number) -> tuple[Number, Number]:
    """u = (π/2) √(n P/P_E), taken as 0 where the column has buckled, and where it has not."""
    share, below = share_of_buckling(P, P_E, n)
    u: Number = 0.5 * np.pi * np.sqrt(share)
    return u, below


@method(
    formula="M = (q L²/8) 2 (1 - cos u) / (u² cos u), u = (π/2) √(n P/P_E)",
    source=STABILITY + "section 1.3 (beam-column under uniform load)" + GROWN,
    valid="n times the load from 0 to below the elastic buckling load",
    holds=lambda q, L, P, P_E, n=1.0: np.greater_equal(P, 0.0) & np.less(np.multiply(n, P), P_E),
)
def uniform_load_moment(q: Number, L: Number, P: Number, P_E: Number, n: Number = 1.0) -> Number:
    """Moment at the middle of a pinned column under an even side load, axial load included.

    Args:
        q [N/mm]: side load per length.
        L [mm]: length between the pins.
        P [N]: compression.
        P_E [N]: elastic buckling load in the plane of the side load.
        n [-]: how many times the load is to be borne; the moment grows as under n times the push.

    Returns:
        [N*mm] moment; infinite at and above the buckling load.
    """
    u, below = _half_angle(P, P_E, n)
    factor = np.sinc(u / (2.0 * np.pi)) ** 2 / np.cos(u)
    return np.where(below, 0.125 * np.asarray(q) * np.square(L) * factor, np.inf)[()]


@method(
    formula="M = (F L / 4) tan u / u, u = (π/2) √(n P/P_E)",
    source=STABILITY + "section 1.3 (beam-column under a load at the middle)" + GROWN,
    valid="n times the load from 0 to below the elastic buckling load",
    holds=lambda F, L, P, P_E, n=1.0: np.greater_equal(P, 0.0) & np.less(np.multiply(n, P), P_E),
)
def middle_load_moment(F: Number, L: Number, P: Number, P_E: Number, n: Number = 1.0) -> Number:
    """Moment at the middle of a pinned column under a side force there, axial load included.

    Args:
        F [N]: side force at mid-length, as a stone or a boot.
        L [mm]: length between the pins.
        P [N]: compression.
        P_E [N]: elastic buckling load in the plane of the side force.
        n [-]: how many times the load is to be borne; the moment grows as under n times the push.

    Returns:
        [N*mm] moment; infinite at and above the buckling load.
    """
    u, below = _half_angle(P, P_E, n)
    factor = np.sinc(u / np.pi) / np.cos(u)
    return np.where(below, 0.25 * np.multiply(F, L) * factor, np.inf)[()]


@method(
    formula="M = P a / (1 - n P/P_E)",
    source=STABILITY + "section 1.12 (column with an initial bow of half a sine wave)" + GROWN,
    valid="n times the load from 0 to below the elastic buckling load",
    holds=lambda P, a, P_E, n=1.0: np.greater_equal(P, 0.0) & np.less(np.multiply(n, P), P_E),
)
def bow_moment(P: Number, a: Number, P_E: Number, n: Number = 1.0) -> Number:
    """Moment at the middle of a bowed pinned column.

    Args:
        P [N]: compression.
        a [mm]: bow at mid-length without load.
        P_E [N]: elastic buckling load in the plane of the bow.
        n [-]: how many times the load is to be borne; the moment grows as under n times the push.

    Returns:
        [N*mm] moment; infinite at and above the buckling load.
    """
    share, below = share_of_buckling(P, P_E, n)
    return np.where(below, np.multiply(P, a) / (1.0 - share), np.inf)[()]


@method(
    formula="M = M_0 sec((π/2) √(n P/P_E))",
    source=STABILITY
    + "section 1.5 (couples at both ends, alike); of any other bending an upper bound"
    + GROWN,
    valid="n times the load from 0 to below the elastic buckling load",
    holds=lambda M_0, P, P_E, n=1.0: np.greater_equal(P, 0.0) & np.less(np.multiply(n, P), P_E),
)
def couples_moment(M_0: Number, P: Number, P_E: Number, n: Number = 1.0) -> Number:
    """Moment at the middle of a pinned column that couples at its ends bend, axial load included.

    Args:
        M_0 [N*mm]: the couple at either end; of other bending its largest moment, without the axial load.
        P [N]: compression.
        P_E [N]: elastic buckling load in the plane of the couples.
        n [-]: how many times the load is to be borne; the moment grows as under n times the push.

    Returns:
        [N*mm] moment; infinite at and above the buckling load.

    Example: a quarter of the buckling load: sec 45 degrees.
        >>> round(float(couples_moment(1000.0, 2500.0, 10000.0)), 1)
        1414.2
    """
    u, below = _half_angle(P, P_E, n)
    return np.where(below, np.asarray(M_0) / np.cos(u), np.inf)[()]
