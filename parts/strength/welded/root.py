"""Fatigue of weld roots: fillets and part penetration, which crack from inside through the throat.

A crack at the root is not seen until it is through. What counts is the range of force on each mm of weld over
its throat; leg and throat decide, and a stronger or thicker plate does not help. The transverse part goes
with class 36, slope 3, the part along the weld with class 80, slope 5, and their damage adds
(EN 1993-1-9:2005, 5 (6), Table 8.5, 8 (3)). Aluminium goes by the IIW's classes, a third of these.

Worked example: a tee with two fillets of 4 mm throat, 360 N for each mm of plate, pulsating:
Δσ_w = 360/(2·4) = 45 MPa; with γ = 1.35, 60.75 MPa against 36: 2e6 (36/60.75)³ = 416 000 cycles.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from parts.strength.method import Number, method
from parts.strength.tables import row
from parts.strength.vectors import cross
from parts.strength.welded import detail

Array = NDArray[np.float64]

EN = "EN 1993-1-9:2005, "
IIW = "IIW, Recommendations for Fatigue Design of Welded Joints and Components (2008), "
ROOT = row("weld_detail", "detail", "fillet weld root, cruciform or tee")
SHEAR = row("weld_detail", "detail", "fillet weld in shear")
STEEL_ROOT, STEEL_SHEAR = float(ROOT["steel_mpa"]), float(SHEAR["steel_mpa"])
ALUMINIUM_ROOT, ALUMINIUM_SHEAR = float(ROOT["aluminium_mpa"]), float(SHEAR["aluminium_mpa"])


@method(formula="a = h / √2", source="geometry of an equal-legged fillet")
def fillet_throat(h: Number) -> Number:
    """Throat of an equal-legged fillet.

    Args:
        h [mm]: leg.

    Returns:
        [mm] throat.

    Example:
        >>> round(float(fillet_throat(5.0)), 3)
        3.536
    """
    throat: Number = np.asarray(h, float)[()] / np.sqrt(2.0)
    return throat


@method(
    formula="Δσ_w = √(Δσ⊥² + Δτ⊥²) = |q − (q·t) t| / a",
    source=EN + "5 (6), eq. σ_wf = √(σ⊥f² + τ⊥f²)",
    valid="throat over nil",
    holds=lambda q, along, a: np.asarray(a) > 0.0,
)
def transverse_range(q: Number, along: Number, a: Number) -> Number:
    """Stress range across a weld's throat: everything but what runs along the weld.

    The two parts of the throat's stress together are the force across the weld over the throat, whatever the
    angle of the throat is. For every fillet and part-penetration weld: feet, gussets, tabs, bungs, stiffeners.

    Args:
        q [N/mm]: range of the force for each length of this weld (..., 3).
        along [-]: direction of the weld (..., 3), unit length.
        a [mm]: throat of this weld; of part penetration, what is surely fused.

    Returns:
        [MPa] range of direct stress in the throat.

    Example: 180 N/mm square to the plate and 50 along the weld, throat 4.
        >>> q, along = np.array([0.0, 50.0, 180.0]), np.array([0.0, 1.0, 0.0])
        >>> float(transverse_range(q, along, 4.0))
        45.0
    """
    return np.asarray(np.linalg.norm(cross(np.asarray(q, float), along), axis=-1)) / a


@method(
    formula="Δτ_w = |q·t| / a",
    source=EN + "5 (6), eq. τ_wf = τ∥f",
    valid="throat over nil",
    holds=lambda q, along, a: np.asarray(a) > 0.0,
)
def along_range(q: Number, along: Number, a: Number) -> Number:
    """Shear stress range along a weld in its throat.

    Args:
        q [N/mm]: range of the force for each length of this weld (..., 3).
        along [-]: direction of the weld (..., 3), unit length.
        a [mm]: throat of this weld.

    Returns:
        [MPa] range of shear stress in the throat.

    Example:
        >>> q, along = np.array([0.0, 50.0, 180.0]), np.array([0.0, 1.0, 0.0])
        >>> float(along_range(q, along, 4.0))
        12.5
    """
    stress: Number = np.abs((np.asarray(q, float) * along).sum(-1)) / np.asarray(a)
    return stress


@method(
    formula="Δσ_w = q/a + 6 q e/a²",
    source="EN 1993-1-8:2005, 4.12 (a single fillet bends when its plate pulls beside its throat); beam "
    "theory across the throat",
    valid="throat over nil",
    holds=lambda q, a, e: np.asarray(a) > 0.0,
)
def one_sided_range(q: Number, a: Number, e: Number) -> Number:
    """Stress range at the root of a single fillet or one-sided weld that is bent as well as pulled.

    For a plate welded on one side only. All round a tube the ring takes the bending, and `transverse_range`
    does (EN 1993-1-8, 4.12 (3)).

    Args:
        q [N/mm]: range of the force across the weld for each length.
        a [mm]: throat.
        e [mm]: line of the force to the middle of the throat; about half the plate and a third of the leg.

    Returns:
        [MPa] range at the root.

    Example: 60 N/mm at 3 mm beside a throat of 4.
        >>> float(one_sided_range(60.0, 4.0, 3.0))
        82.5
    """
    q, a = np.abs(np.asarray(q, float)), np.asarray(a, float)
    return (q / a + 6.0 * q * np.abs(e) / a**2)[()]


@method(
    formula="D = n/N_σ(γ Δσ_w, C_σ) + n/N_τ(γ Δτ_w, C_τ)",
    source=EN + "Table 8.5 (details 3 and 8), 7.1, and 8 (3) with Annex A: the damages add",
)
def damage(
    n: Number,
    d_sigma: Number,
    d_tau: Number,
    gamma: Number = 1.35,
    C_sigma: Number = STEEL_ROOT,
    C_tau: Number = STEEL_SHEAR,
) -> Number:
    """Damage of n cycles at the root of a steel weld; 1 is the end, damages of load cases add.

    Class 36 is marked 36* in the standard: it may be read as 40 where the limit moves to 1e7 cycles. This
    keeps 36.

    Args:
        n [-]: cycles.
        d_sigma [MPa]: range across the weld, `transverse_range` or `one_sided_range`.
        d_tau [MPa]: range along the weld, from `along_range`.
        gamma [-]: partial factor γ_Mf on both ranges; 1.35 where a crack hurts someone.
        C_sigma [MPa]: class of the root.
        C_tau [MPa]: class of the throat in shear.

    Returns:
        [-] damage; nil below both cut-off limits.

    Example: that of the head of this file, for 416 000 cycles.
        >>> round(float(damage(416_000.0, 45.0, 0.0)), 3)
        1.0
    """
    across = n / np.asarray(detail.cycles(np.multiply(gamma, d_sigma), C_sigma))
    along = n / np.asarray(detail.cycles_shear(np.multiply(gamma, d_tau), C_tau))
    both: Number = (across + along)[()]
    return both


@method(
    formula="R = (γ Δσ_w/C_σ)³ + (γ Δτ_w/C_τ)⁵",
    source=EN + "8 (3), eq. 8.3",
)
def use_at_two_million(
    d_sigma: Number,
    d_tau: Number,
    gamma: Number = 1.35,
    C_sigma: Number = STEEL_ROOT,
    C_tau: Number = STEEL_SHEAR,
) -> Number:
    """Share of a root's strength that ranges for 2 million cycles use: 1 is the limit.

    Args:
        d_sigma [MPa]: range across the weld that stands for the spectrum at 2 million cycles.
        d_tau [MPa]: the same along the weld.
        gamma [-]: partial factor on both ranges.
        C_sigma [MPa]: class of the root.
        C_tau [MPa]: class of the throat in shear.

    Returns:
        [-] use.

    Example: half of each class and no partial factor.
        >>> float(use_at_two_million(18.0, 40.0, 1.0))
        0.15625
    """
    across = np.power(np.multiply(gamma, d_sigma) / np.asarray(C_sigma, float), 3.0)
    along = np.power(np.multiply(gamma, d_tau) / np.asarray(C_tau, float), 5.0)
    both: Number = (across + along)[()]
    return both


@method(
    formula="D = n/N_σ + n/N_τ, N_σ as cycles_iiw with C_σ, N_τ = 2e6 (C_τ/(γ Δτ_w))⁵",
    source=IIW
    + "Tables 3.1 (detail 414: FAT 12 in aluminium) and 3.2, 3.2; damages added as in EN 1993-1-9",
)
def damage_aluminium(
    n: Number,
    d_sigma: Number,
    d_tau: Number,
    gamma: Number = 1.35,
    C_sigma: Number = ALUMINIUM_ROOT,
    C_tau: Number = ALUMINIUM_SHEAR,
) -> Number:
    """Damage of n cycles at the root of an aluminium weld; 1 is the end, and no range is endless.

    Args:
        n [-]: cycles.
        d_sigma [MPa]: range across the weld, `transverse_range` or `one_sided_range`.
        d_tau [MPa]: range along the weld, from `along_range`.
        gamma [-]: partial factor on both ranges.
        C_sigma [MPa]: class of the root.
        C_tau [MPa]: class of the throat in shear.

    Returns:
        [-] damage.

    Example: 12 MPa, the class, for two million cycles.
        >>> float(damage_aluminium(2.0e6, 12.0, 0.0, 1.0))
        1.0
    """
    across = n / np.asarray(detail.cycles_iiw(np.multiply(gamma, d_sigma), C_sigma))
    along = n / 2e6 * np.power(np.multiply(gamma, d_tau) / np.asarray(C_tau, float), 5.0)
    both: Number = (across + along)[()]
    return both


@method(
    formula="R = (γ Δσ/C_σ)² + (γ Δτ/C_τ)² over CV, classes at the life asked for",
    source=IIW + "Table 4.1 (CV 1 where both change together, 0.5 where not); from memory",
    valid="CV 0.5 to 1",
    holds=lambda d_sigma, d_tau, C_sigma, C_tau, gamma=1.35, CV=0.5: (
        (np.asarray(CV) >= 0.5) & (np.asarray(CV) <= 1.0)
    ),
)
def use_iiw(
    d_sigma: Number,
    d_tau: Number,
    C_sigma: Number,
    C_tau: Number,
    gamma: Number = 1.35,
    CV: Number = 0.5,
) -> Number:
    """Share of a weld's strength that a range across and one along use together by the IIW.

    Args:
        d_sigma [MPa]: range across the weld.
        d_tau [MPa]: range along the weld.
        C_sigma [MPa]: range that alone ends the life asked for, across.
        C_tau [MPa]: the same along.
        gamma [-]: partial factor on both ranges.
        CV [-]: comparison value: 0.5 unless both ranges are known to rise and fall together.

    Returns:
        [-] use; 1 is the limit.

    Example: half of each, out of step.
        >>> float(use_iiw(6.0, 14.0, 12.0, 28.0, 1.0))
        1.0
    """
    across = np.square(np.multiply(gamma, d_sigma) / np.asarray(C_sigma, float))
    along = np.square(np.multiply(gamma, d_tau) / np.asarray(C_tau, float))
    both: Number = ((across + along) / CV)[()]
    return both
