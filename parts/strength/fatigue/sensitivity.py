"""Notch sensitivity: how much of a stress concentration factor fatigue feels.

Worked example: steel of 690 MPa (100 ksi) in bending, fillet of 3 mm, K_t = 1.65: Neuber's √a =
0.313 √mm, q = 1/(1 + 0.313/√3) = 0.847, K_f = 1 + 0.847·0.65 = 1.55.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.shafts.spline import PSI
from parts.strength.tables import rows
from parts.strength.validity import Truth, between, within

KSI = 1000.0 * PSI
"""One thousand pounds-force on a square inch [MPa]."""

SHIGLEY = "Shigley's Mechanical Engineering Design, 9th ed., sect. 6-10, eqs. 6-34 and 6-35"


@method(
    formula="√a = 0.246 - 3.08e-3 S + 1.51e-5 S² - 2.67e-8 S³ (√in, S in ksi)",
    source=SHIGLEY + " (bending and axial)",
    valid="steel, 340 to 1700 MPa; nan outside",
    holds=lambda S_ut: between(S_ut, 340.0, 1700.0),
)
def neuber_root_bending(S_ut: Number) -> Number:
    """Root of Neuber's length for steel in bending or tension.

    Args:
        S_ut [MPa]: tensile strength.

    Returns:
        [√mm] √a.
    """
    s = np.divide(S_ut, KSI)
    value = 0.246 - 3.08e-3 * s + 1.51e-5 * s**2 - 2.67e-8 * s**3
    return within(between(S_ut, 340.0, 1700.0), value * np.sqrt(25.4))


@method(
    formula="√a = 0.190 - 2.51e-3 S + 1.35e-5 S² - 2.67e-8 S³ (√in, S in ksi)",
    source=SHIGLEY + " (torsion)",
    valid="steel, 340 to 1500 MPa; nan outside",
    holds=lambda S_ut: between(S_ut, 340.0, 1500.0),
)
def neuber_root_torsion(S_ut: Number) -> Number:
    """Root of Neuber's length for steel in torsion.

    Args:
        S_ut [MPa]: tensile strength.

    Returns:
        [√mm] √a.
    """
    s = np.divide(S_ut, KSI)
    value = 0.190 - 2.51e-3 * s + 1.35e-5 * s**2 - 2.67e-8 * s**3
    return within(between(S_ut, 340.0, 1500.0), value * np.sqrt(25.4))


def _kuhn_hardrath_table(material: str) -> tuple[list[float], list[float]]:
    found = [r for r in rows("neuber_root") if r["material"] == material]
    if not found:
        known = ", ".join(dict.fromkeys(r["material"] for r in rows("neuber_root")))
        raise KeyError(f"no Neuber constant for {material!r}; use {known}")
    strength = [float(r["tensile_ksi"]) * KSI for r in found]
    return strength, [float(r["root_in"]) * 25.4**0.5 for r in found]


def _tabled(S_ut: Number, material: str) -> Truth:
    strength, _ = _kuhn_hardrath_table(material)
    return between(S_ut, strength[0], strength[-1])


@method(
    formula="√a: table over tensile strength, straight between rows",
    source="Kuhn and Hardrath's values as in Norton, Machine Design, Tables 6-6 to 6-8, from memory",
    valid="tensile strength within the table of the material; nan outside",
    holds=_tabled,
)
def neuber_root(S_ut: Number, material: str) -> Number:
    """Root of Neuber's length by table, for steel and aluminium.

    Args:
        S_ut [MPa]: tensile strength.
        material [-]: steel; aluminium, annealed; or aluminium, hardened.

    Returns:
        [√mm] √a.

    Raises:
        KeyError: no such material; the message lists those there are.
    """
    strength, root = _kuhn_hardrath_table(material)
    return within(_tabled(S_ut, material), np.asarray(np.interp(S_ut, strength, root)))


@method(formula="q = 1 / (1 + √a / √r)", source="Neuber; Shigley, 9th ed., eq. 6-34")
def neuber(root_a: Number, r: Number) -> Number:
    """Notch sensitivity by Neuber.

    Args:
        root_a [√mm]: root of Neuber's length.
        r [mm]: radius at the bottom of the notch.

    Returns:
        [-] q, 0 for no effect and 1 for the full K_t.
    """
    return 1.0 / (1.0 + np.divide(root_a, np.sqrt(r)))


@method(
    formula="a = 0.0254 (2070 / S_ut)^1.8, S_ut at least 550",
    source="Peterson; Dowling, Mechanical Behavior of Materials, sect. 10.3, from memory",
    valid="steel from 550 MPa, bending or tension (0.6 a in torsion); softer gets the value at 550, K_f high",
    holds=lambda S_ut: np.greater_equal(S_ut, 550.0),
)
def peterson_length(S_ut: Number) -> Number:
    """Peterson's length for steel.

    Args:
        S_ut [MPa]: tensile strength.

    Returns:
        [mm] length a.
    """
    return 0.0254 * np.power(np.divide(2070.0, np.maximum(S_ut, 550.0)), 1.8)


@method(formula="q = 1 / (1 + a / r)", source="Peterson; Dowling, Mechanical Behavior of Materials")
def peterson(a: Number, r: Number) -> Number:
    """Notch sensitivity by Peterson; a = 0.51 mm for wrought aluminium (Dowling, from memory).

    Args:
        a [mm]: Peterson's length.
        r [mm]: radius at the bottom of the notch.

    Returns:
        [-] q.
    """
    return 1.0 / (1.0 + np.divide(a, r))


@method(
    formula="K_f = 1 + (K_t - 1) / (1 + π/(π - ω) √a / √r)",
    source="Kuhn and Hardrath, NACA TN 2805 (1952), from memory",
    valid="flank angle 0 ≤ ω < π",
    holds=lambda K_t, root_a, r, omega=0.0: between(omega, 0.0, 3.14),
)
def kuhn_hardrath(K_t: Number, root_a: Number, r: Number, omega: Number = 0.0) -> Number:
    """Fatigue factor by Kuhn and Hardrath, which knows the angle between the notch's flanks.

    Args:
        K_t [-]: stress concentration factor.
        root_a [√mm]: root of Neuber's length.
        r [mm]: radius at the bottom of the notch.
        omega [rad]: angle between the flanks; 0 for a hole or a fillet, π/3 for a 60-degree thread.

    Returns:
        [-] K_f.
    """
    with np.errstate(divide="ignore"):
        widening = np.pi / (np.pi - np.asarray(omega, float))
    value = 1.0 + np.subtract(K_t, 1.0) / (1.0 + widening * root_a / np.sqrt(r))
    return within(between(omega, 0.0, 3.14), value)


@method(formula="K_f = 1 + q (K_t - 1)", source="Peterson; Shigley, 9th ed., eq. 6-32")
def fatigue_factor(K_t: Number, q: Number) -> Number:
    """Fatigue stress concentration factor.

    Args:
        K_t [-]: stress concentration factor.
        q [-]: notch sensitivity.

    Returns:
        [-] K_f.
    """
    return 1.0 + np.multiply(q, np.subtract(K_t, 1.0))
