"""The wall of a tube, round or flat, that buckles in waves under a push along it."""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method


@method(
    formula="γ = 1 - 0.901 (1 - exp(-√(r/t)/16))",
    source="NASA SP-8007 (1968), Buckling of Thin-Walled Circular Cylinders, equation for axial "
    "load, from memory",
    valid="r/t below 1500",
    holds=lambda r, t: np.less(np.divide(r, t), 1500.0),
)
def wall_knock_down(r: Number, t: Number) -> Number:
    """Share of its ideal strength that the wall of a real tube keeps against local buckling.

    Args:
        r [mm]: mean radius of the tube.
        t [mm]: wall.

    Returns:
        [-] factor on the ideal buckling stress; nan from r/t = 1500.
    """
    ratio = np.divide(r, t)
    factor = 1.0 - 0.901 * (1.0 - np.exp(-np.sqrt(ratio) / 16.0))
    return np.where(ratio < 1500.0, factor, np.nan)[()]


@method(
    formula="σ_e = γ E t / (r √(3 (1 - ν²))), σ = σ_e, or F_cy (1 - F_cy / (4 σ_e)) "
    "where σ_e > F_cy / 2",
    source="classical buckling of a cylinder with the knock-down of NASA SP-8007 (1968); Johnson's "
    "parabola for plasticity is common practice, no source",
    valid="r/t below 1500",
    holds=lambda E, r, t, F_cy, nu=0.3: np.less(np.divide(r, t), 1500.0),
)
def wall_buckling_stress(E: Number, r: Number, t: Number, F_cy: Number, nu: Number = 0.3) -> Number:
    """Stress at which the wall of a compressed tube wrinkles.

    Args:
        E [MPa]: Young's modulus.
        r [mm]: mean radius of the tube.
        t [mm]: wall.
        F_cy [MPa]: compressive yield strength.
        nu [-]: Poisson's ratio.

    Returns:
        [MPa] stress; just short of yield in stocky tubes, which do not wrinkle, nan from
            r/t = 1500.
    """
    ideal = np.multiply(E, t) / (r * np.sqrt(3.0 * (1.0 - np.square(nu))))
    return _plastic(np.asarray(wall_knock_down(r, t)) * ideal, F_cy)


@method(
    formula="σ_e = 4 π² E/(12 (1 - ν²)) (t/b)², σ = σ_e, or F_cy (1 - F_cy / (4 σ_e)) where σ_e > F_cy / 2",
    source="Timoshenko & Gere, Theory of Elastic Stability, a long plate held at both edges; EN 1993-1-5:2006, annex A "
    "(k_σ = 4), from memory; Johnson's parabola for plasticity is common practice, no source",
)
def flat_wall_buckling_stress(
    E: Number, b: Number, t: Number, F_cy: Number, nu: Number = 0.3
) -> Number:
    """Stress at which the flat wall of a compressed rectangular tube buckles in waves.

    Args:
        E [MPa]: Young's modulus.
        b [mm]: width of the wall between its neighbours.
        t [mm]: thickness.
        F_cy [MPa]: compressive yield strength.
        nu [-]: Poisson's ratio.

    Returns:
        [MPa] stress; just short of yield in stocky walls.

    Example: 100 walls wide, steel: 4·0.9038·205000/100².
        >>> round(float(flat_wall_buckling_stress(205e3, 200.0, 2.0, 350.0)), 2)
        74.11
    """
    elastic = np.pi**2 * np.multiply(E, np.square(np.divide(t, b))) / (3.0 * (1.0 - np.square(nu)))
    return _plastic(elastic, F_cy)


def _plastic(elastic: Number, F_cy: Number) -> Number:
    parabola = F_cy * (1.0 - F_cy / (4.0 * np.asarray(elastic)))
    return np.where(elastic > 0.5 * np.asarray(F_cy), parabola, elastic)[()]
