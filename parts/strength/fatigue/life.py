"""Fatigue of parts without welds: endurance limit, S-N line, mean stress, damage of many blocks.

Stress amplitudes are half of the range, with any fatigue stress concentration factor already on them.
Steel has an endurance limit; aluminium and titanium have none here: their line keeps falling. Fretting,
corrosion and a bad finish take the limit of steel away too. Welds go by `weld_detail`.

Worked example (Shigley, 9th ed., Example 6-2): steel of 90 ksi (620 MPa), S_e = 45 ksi, f = 0.86:
a = (0.86·90)²/45 = 133.1 ksi, b = -(1/3) lg(0.86·90/45) = -0.0785; at 55 ksi N = 77 500 cycles.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.shafts.spline import PSI
from parts.strength.tables import row, rows
from parts.strength.validity import between, within

KSI = 1000.0 * PSI
"""One thousand pounds-force on a square inch [MPa]."""

SHIGLEY = "Shigley's Mechanical Engineering Design, 9th ed."
LOAD_FACTORS = {"bending": 1.0, "axial": 0.85, "torsion": 0.59}
"""Marin's load factor k_c [-], Shigley, 9th ed., eq. 6-26; torsion's 0.59 not with von Mises stresses."""


@method(
    formula="S_e' = min(0.5 S_ut, 700 MPa)",
    source=SHIGLEY + ", eq. 6-8",
    valid="steel; above 1400 MPa the limit stays at 700 MPa",
    holds=lambda S_ut: np.greater(S_ut, 0.0),
)
def specimen_limit(S_ut: Number) -> Number:
    """Endurance limit of a polished rotating specimen of steel.

    Args:
        S_ut [MPa]: tensile strength.

    Returns:
        [MPa] endurance limit of the specimen.
    """
    return np.minimum(np.multiply(0.5, S_ut), 700.0)


@method(formula="k_a = a S_ut^b, at most 1", source=SHIGLEY + ", eq. 6-19 and Table 6-2")
def surface_factor(S_ut: Number, finish: str) -> Number:
    """Marin's surface factor.

    Args:
        S_ut [MPa]: tensile strength.
        finish [-]: ground, machined or cold-drawn, hot-rolled, as-forged.

    Returns:
        [-] k_a.

    Raises:
        KeyError: no such finish; the message lists those there are.
    """
    found = row("fatigue_surface", "finish", finish)
    return np.minimum(float(found["a_mpa"]) * np.power(S_ut, float(found["b"])), 1.0)


@method(
    formula="k_b = 1.24 d^-0.107 to 51 mm, 1.51 d^-0.157 beyond, at most 1",
    source=SHIGLEY + ", eq. 6-20",
    valid="bending and torsion, d up to 254 mm, nan beyond; axial load has k_b = 1",
    holds=lambda d: between(d, 0.0, 254.0),
)
def size_factor(d: Number) -> Number:
    """Marin's size factor.

    Args:
        d [mm]: diameter of a rotating round bar, or the equivalent by `equivalent_diameter`.

    Returns:
        [-] k_b.
    """
    safe = np.maximum(d, 1e-9)
    value = np.where(safe <= 51.0, 1.24 * np.power(safe, -0.107), 1.51 * np.power(safe, -0.157))
    return within(between(d, 0.0, 254.0), np.minimum(value, 1.0))


@method(formula="d_e = 0.808 √(h b)", source=SHIGLEY + ", eq. 6-25 (95 % stressed area)")
def equivalent_diameter(h: Number, b: Number) -> Number:
    """Diameter of a rotating bar with as much highly stressed area as a rectangle that is bent.

    Args:
        h [mm]: height.
        b [mm]: breadth.

    Returns:
        [mm] equivalent diameter. For a round bar that does not turn it is 0.370 d.
    """
    return 0.808 * np.sqrt(np.multiply(h, b))


@method(formula="d_e = 0.370 d", source=SHIGLEY + ", eq. 6-24 (95 % stressed area)")
def equivalent_diameter_round(d: Number) -> Number:
    """Diameter of a rotating bar with as much highly stressed area as a round one bent without turning.

    Args:
        d [mm]: diameter.

    Returns:
        [mm] equivalent diameter.
    """
    return np.multiply(0.370, d)


@method(formula="k_e = 1 - 0.08 z", source=SHIGLEY + ", eq. 6-29: 8 % standard deviation")
def reliability_factor(z: Number) -> Number:
    """Marin's reliability factor.

    Args:
        z [-]: standard normal variate; 2.326 for 99 % (`reliability_z`).

    Returns:
        [-] k_e.
    """
    return 1.0 - np.multiply(0.08, z)


def reliability_z(percent: float) -> float:
    """Standard normal variate of a reliability in the table of Shigley.

    Args:
        percent [-]: 50, 90, 95, 99, 99.9, 99.99, 99.999 or 99.9999.

    Returns:
        [-] z.

    Raises:
        KeyError: no such reliability; the message lists those there are.
    """
    table = {float(r["reliability_percent"]): float(r["z"]) for r in rows("fatigue_reliability")}
    if percent not in table:
        raise KeyError(f"no row for {percent:g} %; use {', '.join(f'{p:g}' for p in table)}")
    return table[percent]


@method(formula="S_e = k_a k_b k_c k_d k_e k_f S_e'", source=SHIGLEY + ", eq. 6-18 (Marin)")
def endurance_limit(
    S_e: Number,
    k_a: Number = 1.0,
    k_b: Number = 1.0,
    k_c: Number = 1.0,
    k_d: Number = 1.0,
    k_e: Number = 1.0,
    k_f: Number = 1.0,
) -> Number:
    """Endurance limit of the part; for aluminium and titanium its strength at the reference life.

    Args:
        S_e [MPa]: endurance limit of the specimen.
        k_a [-]: surface factor.
        k_b [-]: size factor; 1 for axial load.
        k_c [-]: load factor (`LOAD_FACTORS`).
        k_d [-]: temperature factor.
        k_e [-]: reliability factor.
        k_f [-]: what else counts: the finish, see `parts.strength.fatigue.finish`.

    Returns:
        [MPa] endurance limit of the part.
    """
    return np.multiply(k_a, k_b) * np.multiply(k_c, k_d) * np.multiply(k_e, k_f) * S_e


@method(
    formula="f = 1.06 - 2.8e-3 S + 6.9e-6 S² (S in ksi), 0.9 below 70 ksi",
    source="Shigley's Mechanical Engineering Design, 11th ed., eq. 6-11, from memory; below 70 ksi "
    "9th ed., sect. 6-8",
    valid="steel up to 1380 MPa (200 ksi); above, the value there",
    holds=lambda S_ut: np.less_equal(S_ut, 1380.0),
)
def strength_fraction(S_ut: Number) -> Number:
    """Share of the tensile strength that steel bears for 1000 reversals.

    Args:
        S_ut [MPa]: tensile strength.

    Returns:
        [-] f.
    """
    s = np.minimum(np.divide(S_ut, KSI), 200.0)
    return np.where(s < 70.0, 0.9, 1.06 - 2.8e-3 * s + 6.9e-6 * s**2)[()]


@method(
    formula="S_f = a N^b, a = (f S_ut)² / S_e, b = -(1/3) lg(f S_ut / S_e); f S_ut below 1e3, S_e above 1e6",
    source=SHIGLEY + ", eqs. 6-13 to 6-15",
    valid="steel; below 1000 cycles the value there, which is low",
    holds=lambda N, S_ut, S_e, f: np.greater_equal(N, 1e3),
)
def strength_at(N: Number, S_ut: Number, S_e: Number, f: Number) -> Number:
    """Fully reversed stress that steel bears for a life.

    Args:
        N [-]: cycles.
        S_ut [MPa]: tensile strength.
        S_e [MPa]: endurance limit of the part.
        f [-]: share of tensile strength at 1000 cycles.

    Returns:
        [MPa] amplitude.
    """
    top = np.multiply(f, S_ut)
    b = -np.log10(top / S_e) / 3.0
    return top * np.power(np.clip(N, 1e3, 1e6) / 1e3, b)


@method(
    formula="N = (σ / a)^(1/b), a and b as in `strength_at`; inf at or below S_e",
    source=SHIGLEY + ", eq. 6-16",
    valid="steel, 1000 cycles or more; shorter lives are given as 0",
    holds=lambda sigma, S_ut, S_e, f: np.less_equal(sigma, np.multiply(f, S_ut) * (1 + 1e-9)),
)
def cycles_at(sigma: Number, S_ut: Number, S_e: Number, f: Number) -> Number:
    """Life of steel under a fully reversed stress.

    Args:
        sigma [MPa]: amplitude.
        S_ut [MPa]: tensile strength.
        S_e [MPa]: endurance limit of the part.
        f [-]: share of tensile strength at 1000 cycles.

    Returns:
        [-] cycles to failure.
    """
    top = np.multiply(f, S_ut)
    m = 3.0 / np.log10(top / S_e)
    s = np.maximum(sigma, S_e)
    n = 1e3 * np.power(top / s, m)
    return np.where(np.less_equal(sigma, S_e), np.inf, np.where(n < 1e3 * (1 - 1e-9), 0.0, n))[()]


@method(
    formula="S_r = min(0.4 S_ut, 130 MPa) at 5e8 cycles",
    source="Norton, Machine Design, eq. 6.5c, from memory",
    valid="wrought aluminium; a strength at that life, not an endurance limit",
    holds=lambda S_ut: np.greater(S_ut, 0.0),
)
def aluminium_strength(S_ut: Number) -> Number:
    """Fully reversed strength of an aluminium specimen at 5e8 cycles.

    Args:
        S_ut [MPa]: tensile strength.

    Returns:
        [MPa] amplitude at 5e8 cycles.
    """
    return np.minimum(np.multiply(0.4, S_ut), 130.0)


@method(
    formula="S_r = 0.4 S_ut at 1e7 cycles",
    source="common practice, no source: low end for smooth titanium alloys",
    valid="wrought titanium alloys, not welded; a strength at that life, not an endurance limit",
    holds=lambda S_ut: np.greater(S_ut, 0.0),
)
def titanium_strength(S_ut: Number) -> Number:
    """Fully reversed strength of a titanium specimen at 1e7 cycles.

    Args:
        S_ut [MPa]: tensile strength.

    Returns:
        [MPa] amplitude at 1e7 cycles.
    """
    return np.multiply(0.4, S_ut)


@method(
    formula="S_f = S_3 (N / 1e3)^b, b = lg(S_r / S_3) / lg(N_r / 1e3), at every life above 1e3",
    source="Norton, Machine Design, sect. 6.6 (line through 1e3 and the reference life); carried on "
    "beyond the reference life at the same slope: stated, low",
    valid="metals without endurance limit; below 1000 cycles the value there, which is low",
    holds=lambda N, S_3, S_r, N_r: np.greater_equal(N, 1e3),
)
def falling_strength(N: Number, S_3: Number, S_r: Number, N_r: Number) -> Number:
    """Fully reversed stress that aluminium or titanium bears for a life; it falls without end.

    Args:
        N [-]: cycles.
        S_3 [MPa]: strength at 1000 cycles; 0.9 of tensile strength in bending, 0.75 axial (Norton).
        S_r [MPa]: strength of the part at the reference life.
        N_r [-]: reference life; 5e8 for aluminium, 1e7 for titanium.

    Returns:
        [MPa] amplitude.
    """
    b = np.log10(np.divide(S_r, S_3)) / np.log10(np.divide(N_r, 1e3))
    return S_3 * np.power(np.maximum(N, 1e3) / 1e3, b)


@method(
    formula="N = 1e3 (σ / S_3)^(1/b), b as in `falling_strength`",
    source="Norton, Machine Design, sect. 6.6; carried on beyond the reference life: stated, low",
    valid="metals without endurance limit, 1000 cycles or more; shorter lives are given as 0",
    holds=lambda sigma, S_3, S_r, N_r: np.less_equal(sigma, np.multiply(S_3, 1 + 1e-9)),
)
def falling_cycles(sigma: Number, S_3: Number, S_r: Number, N_r: Number) -> Number:
    """Life of aluminium or titanium under a fully reversed stress; never endless but at no stress.

    Args:
        sigma [MPa]: amplitude.
        S_3 [MPa]: strength at 1000 cycles.
        S_r [MPa]: strength of the part at the reference life.
        N_r [-]: reference life.

    Returns:
        [-] cycles to failure.
    """
    m = np.log10(np.divide(N_r, 1e3)) / np.log10(np.divide(S_3, S_r))
    with np.errstate(divide="ignore", over="ignore"):
        n = 1e3 * np.power(np.divide(S_3, np.asarray(sigma, float)), m)
    return np.where(n < 1e3 * (1 - 1e-9), 0.0, n)[()]
