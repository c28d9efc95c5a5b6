"""Fatigue of a preloaded bolt: how much of an alternating load it feels, and how much it stands."""

from __future__ import annotations

import numpy as np

from parts.strength.bolted.joint import bolt_force
from parts.strength.method import Number, method

SHIGLEY = "Shigley, Mechanical Engineering Design, ch. 8"
VDI = "VDI 2230-1, 5.5.3 (alternating stress), eq. R9; from memory"
SIZES = "M4 to M40, classes 8.8 to 12.9, two million cycles or more, rolled thread"


@method(
    formula="σ_a = (F_b(P_max) − F_b(P_min))/(2 A_s), F_b(P) = max(F_i + C P, P)",
    source=SHIGLEY + ", eq. 8-35, and past separation by eq. 8-24",
)
def bolt_amplitude(F_i: Number, P_max: Number, P_min: Number, C: Number, A_s: Number) -> Number:
    """Stress amplitude in the thread of a preloaded bolt under a load that comes and goes.

    Once the joint opens the bolt feels all of the load: the amplitude jumps.

    Args:
        F_i [N]: preload that can be counted on.
        P_max [N]: largest outside tension.
        P_min [N]: smallest outside tension, negative for compression.
        C [-]: load factor of the joint; 1 is on the safe side.
        A_s [mm^2]: tensile stress area.

    Returns:
        [MPa] stress amplitude.

    Example: M8 at 12 kN, 0 to 6 kN, a quarter of it felt.
        >>> float(bolt_amplitude(12.0e3, 6.0e3, 0.0, 0.25, 37.5))
        20.0
    """
    return (bolt_force(F_i, P_max, C) - bolt_force(F_i, P_min, C)) / (2.0 * A_s)


@method(
    formula="σ = 32 M_b/(π d_s³), M_b = M E_b I_b/(E_b I_b + E_p I_p), I_b = π d_s⁴/64, I_p = π (D⁴ − d_h⁴)/64",
    source="VDI 2230-1:2003, 5.2 and 5.3 (a bolt and what it clamps bent alike, by their resiliences), from memory; "
    "Bernoulli's beam",
    valid="closed joint; the face under the head as wide as what is clamped, on the safe side",
    holds=lambda M, d_s, D, d_h, E_p, E_b: np.asarray(D) > np.asarray(d_h),
)
def clamped_bending_stress(
    M: Number, d_s: Number, D: Number, d_h: Number, E_p: Number, E_b: Number
) -> Number:
    """Bending stress of a bolt whose clamped parts a moment tilts against each other.

    While the joint is closed, bolt and clamped ring turn alike and share the moment by their stiffness.

    Args:
        M [N*mm]: moment that the joint of this bolt carries.
        d_s [mm]: diameter of its stress area.
        D [mm]: outside diameter of what bears under its head.
        d_h [mm]: its hole.
        E_p [MPa]: Young's modulus of what it clamps.
        E_b [MPa]: that of the bolt.

    Returns:
        [MPa] stress of the outermost fibre; not a number where nothing bears.

    Example: M8 on aluminium, a washer face of 13 mm, 20 N*m.
        >>> round(float(clamped_bending_stress(20e3, 6.83, 13.0, 9.0, 71e3, 205e3)), 1)
        142.0
    """
    d_s, D = np.asarray(d_s, float), np.asarray(D, float)
    bolt = E_b * np.pi * d_s**4 / 64.0
    ring = E_p * np.pi * (D**4 - np.asarray(d_h, float) ** 4) / 64.0
    own = np.where(ring > 0.0, M * bolt / np.where(ring > 0.0, bolt + ring, 1.0), np.nan)
    return np.asarray(32.0 * own / (np.pi * d_s**3))[()]


@method(
    formula="σ_a = σ_a,pull + s σ_b (1 − R)/2",
    source=VDI + "; bending and pull added at the outermost fibre",
)
def bent_amplitude(sigma_pull: Number, sigma_b: Number, s: Number, R: Number) -> Number:
    """Stress amplitude of a bolt that is pulled and bent to and fro.

    Args:
        sigma_pull [MPa]: amplitude of the pull, from `bolt_amplitude`.
        sigma_b [MPa]: bending stress under the load case.
        s [-]: share of the load case that comes again and again.
        R [-]: least over greatest load.

    Returns:
        [MPa] amplitude.

    Example: 20 MPa of pull, 60 MPa of bending that comes and goes.
        >>> bent_amplitude(20.0, 60.0, 1.0, 0.0)
        50.0
    """
    return sigma_pull + s * sigma_b * (1.0 - R) / 2.0


THREADS = {"rolled": (2.2, 3.0), "cut": (2.8, 3.8)}
"""Fatigue factor of a thread in soft and in hard steel, by how it is made."""
SOFT = 520.0
"""Tensile strength of class 5.8, the hardest of the soft [MPa]."""


@method(
    formula="K_f = 2.2 rolled, 2.8 cut up to S_ut = 520 MPa; 3.0 rolled, 3.8 cut above",
    source=SHIGLEY
    + ", Table 8-16 (metric grades 3.6 to 5.8 and 6.6 to 10.9; notch sensitivity and "
    "surface counted), from memory",
)
def thread_fatigue_factor(S_ut: Number, made: str) -> Number:
    """Fatigue factor of a thread on the nominal stress of its stress area.

    Published for steel bolts; other metals and tapped holes are taken alike.

    Args:
        S_ut [MPa]: tensile strength of the threaded metal.
        made [-]: "rolled" or "cut".

    Returns:
        [-] K_f.

    Raises:
        KeyError: made in another way.

    Example: a cut thread in 1018 cold drawn, 440 MPa.
        >>> float(thread_fatigue_factor(440.0, "cut"))
        2.8
    """
    if made not in THREADS:
        raise KeyError(f"no factor for a thread that is {made}; use {', '.join(THREADS)}")
    soft, hard = THREADS[made]
    return np.where(np.less_equal(S_ut, SOFT), soft, hard)[()]


@method(
    formula="σ_A = 0.85 (150/d + 45)",
    source=VDI,
    valid=SIZES + " before heat treatment",
    holds=lambda d: (np.asarray(d) >= 4.0) & (np.asarray(d) <= 40.0),
)
def endurance_rolled_before(d: Number) -> Number:
    """Stress amplitude that a bolt stands for ever, thread rolled before heat treatment.

    The usual bolt is made this way, and the mean stress then hardly matters.

    Args:
        d [mm]: nominal diameter.

    Returns:
        [MPa] amplitude on the stress area; not a number outside M4 to M40.

    Example: M10, 51 MPa.
        >>> float(endurance_rolled_before(10.0))
        51.0
    """
    d = np.asarray(d, float)
    return np.where((d >= 4.0) & (d <= 40.0), 0.85 * (150.0 / d + 45.0), np.nan)[()]


@method(
    formula="σ_A = 0.85 (150/d + 45)(2 − F_m/F_p)",
    source=VDI,
    valid=SIZES + " after heat treatment, mean force 0.3 to 1 of the proof force",
    holds=lambda d, F_m, F_p: (
        (np.asarray(d) >= 4.0)
        & (np.asarray(d) <= 40.0)
        & (np.asarray(F_m) >= 0.3 * np.asarray(F_p))
        & (np.asarray(F_m) <= np.asarray(F_p))
    ),
)
def endurance_rolled_after(d: Number, F_m: Number, F_p: Number) -> Number:
    """Stress amplitude that a bolt stands for ever, thread rolled after heat treatment.

    Below 0.3 of the proof force the gain is held at its value there.

    Args:
        d [mm]: nominal diameter.
        F_m [N]: mean tension.
        F_p [N]: tension at the 0.2 % proof stress.

    Returns:
        [MPa] amplitude on the stress area; not a number outside M4 to M40 or above the proof force.

    Example: M10 at 70 % of its proof force.
        >>> round(float(endurance_rolled_after(10.0, 0.7, 1.0)), 1)
        66.3
    """
    load = np.maximum(np.asarray(F_m, float) / F_p, 0.3)
    return np.where(load <= 1.0, endurance_rolled_before(d) * (2.0 - load), np.nan)[()]


@method(
    formula="σ_AZ = σ_A (2·10⁶/N)^(1/3) from N = 10⁴, which fewer cycles count as, to 2·10⁶, then σ_A",
    source=VDI,
)
def rolled_amplitude(sigma_A: Number, N: Number) -> Number:
    """Stress amplitude that a bolt with a rolled thread stands for a number of cycles.

    Args:
        sigma_A [MPa]: amplitude that it stands for ever, from `endurance_rolled_before`.
        N [-]: cycles.

    Returns:
        [MPa] amplitude on the stress area.

    Example: M10, 51 MPa for ever, twice as much for an eighth of two million cycles.
        >>> float(rolled_amplitude(51.0, 2.5e5))
        102.0
    """
    cycles = np.clip(N, 1e4, 2e6)
    return np.asarray(sigma_A * np.cbrt(2e6 / cycles))[()]


@method(
    formula="σ_A = S_e (S_ut − σ_i)/(S_ut + S_e)",
    source=SHIGLEY + ", eq. 8-38 with 8-35 (Goodman, the load cycling from nil: σ_m = σ_i + σ_a)",
    valid="preload stress below the tensile strength, load that does not pull the joint open",
    holds=lambda S_e, S_ut, sigma_i: np.asarray(sigma_i) <= np.asarray(S_ut),
)
def goodman_amplitude(S_e: Number, S_ut: Number, sigma_i: Number) -> Number:
    """Stress amplitude that a preloaded bolt stands, by Goodman's line from the preload up.

    Args:
        S_e [MPa]: endurance limit of the threaded bolt in axial load.
        S_ut [MPa]: tensile strength.
        sigma_i [MPa]: stress of the preload.

    Returns:
        [MPa] amplitude; nil where the preload takes all of the strength.

    Example: grade 5 in psi units of the source: 18.6, 120 and 63.72 kpsi.
        >>> round(float(goodman_amplitude(18.6, 120.0, 63.72)), 3)
        7.553
    """
    return S_e * np.maximum(S_ut - sigma_i, 0.0) / (S_ut + S_e)
