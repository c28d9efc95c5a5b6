"""Fatigue of a part: the damage that a spectrum of load cases does at each critical section.

At a section the amplitude is that of the largest von Mises stress there, times the fatigue factor of the notch
that the family states for it (three, full sensitivity, where it states none). The means are taken out by
Goodman; Gerber is worked beside it. Steel has an endurance limit, aluminium and titanium have none.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from parts.loadpath import Critical, Notch, carried
from parts.loads import LoadCase
from parts.part import Part
from parts.standards.materials import Material
from parts.strength import fatigue, mean_stress, notch_sensitivity
from parts.strength.check import Check, check
from parts.strength.method import Worked, plain, work
from parts.strength.section import Section, properties
from parts.strength.stress import von_mises

UNSTATED = Notch(3.0, np.inf)
"""The notch where a family states none: a small hole, felt in full."""
ALUMINIUM_PETERSON = 0.51
"""Peterson's length of wrought aluminium [mm]; Dowling, Mechanical Behavior of Materials, from memory."""
STEELS = ("low-alloy steel", "carbon steel", "spring steel", "stainless steel")
REFERENCE_LIFE = {"aluminium": 5e8, "titanium": 1e7}


def damage_checks(part: Part, found: Sequence[Critical]) -> Iterator[Check]:
    """Damage at each critical section by every load case that states a spectrum.

    Args:
        part: the part.
        found: the critical section of each load case.

    Returns:
        One check for each distinct section; none where no load case states a spectrum.
    """
    cases = [case for case in part.loads if case.spectrum]
    if not cases:
        return
    seen = set()
    for worst in found:
        key = (worst.span.name, round(worst.t, 6))
        if key not in seen:
            seen.add(key)
            yield _damage_check(part, worst, cases)


def _damage_check(part: Part, worst: Critical, cases: Sequence[LoadCase]) -> Check:
    """Every block's reversed stress, its life, and the sum of the damage."""
    span, material = worst.span, worst.span.material
    peaks = _peaks(worst, cases)
    notch = UNSTATED if span.notch is None else span.notch(worst.t)
    K_f = work(
        notch_sensitivity.fatigue_factor, K_t=notch.K_t, q=_sensitivity(material, notch.radius)
    )
    share, cycles, ratio, peak = _blocks(cases, peaks)
    cycle = {"sigma": peak * share, "K_f": K_f, "R": ratio}
    amplitude = work(mean_stress.cycle_amplitude, **cycle)
    mean = work(mean_stress.cycle_mean, **cycle)
    reversed_by = {
        rule.__name__: work(rule, s_a=amplitude, s_m=mean, S_ut=material.ultimate_strength)
        for rule in (mean_stress.goodman, mean_stress.gerber)
    }
    lives = {
        name: _life(part, material, stress, worst.section) for name, stress in reversed_by.items()
    }
    damage = work(mean_stress.damage, n=cycles, N=lives["goodman"])
    second = float(mean_stress.damage(n=cycles, N=lives["gerber"].value))
    return check(
        f"fatigue, {span.name}",
        "fatigue",
        load_case="spectrum of all cases",
        demand=damage,
        capacity=1.0,
        unit="-",
        required=part.required.on_life,
        note=f"K_f {float(plain(K_f)):.3g}; damage by Gerber's rule {second:.3g}",
    )


def _peaks(worst: Critical, cases: Sequence[LoadCase]) -> np.ndarray:
    """Largest von Mises stress [MPa] at the section under each case."""
    span, t = worst.span, np.asarray(worst.t)
    outline = span.outline(t)
    forces = carried(span, cases, t, properties(outline))
    return np.asarray(von_mises(outline, forces, span.material.poisson).von_mises)


def _blocks(cases: Sequence[LoadCase], peaks: np.ndarray) -> tuple[np.ndarray, ...]:
    """Share of the load, cycles, load ratio and peak stress of every block of every case."""
    rows = [
        (block.share, block.cycles, case.ratio, peak)
        for case, peak in zip(cases, np.ravel(peaks), strict=True)
        for block in case.spectrum
    ]
    return tuple(np.array(column, float) for column in zip(*rows, strict=True))


def _sensitivity(material: Material, radius: Any) -> Any:
    """Notch sensitivity by Peterson for steel and aluminium; titanium and others feel the full notch."""
    if material.family in STEELS:
        length = work(notch_sensitivity.peterson_length, S_ut=material.ultimate_strength)
        return work(notch_sensitivity.peterson, a=length, r=radius)
    if material.family == "aluminium":
        return work(notch_sensitivity.peterson, a=ALUMINIUM_PETERSON, r=radius)
    return 1.0


def _life(part: Part, material: Material, stress: Worked, section: Section) -> Worked:
    """Cycles to failure of each block at its reversed stress."""
    S_ut = material.ultimate_strength
    depth = min(section.y_max - section.y_min, section.z_max - section.z_min)
    breadth = max(section.y_max - section.y_min, section.z_max - section.z_min)
    marin = {
        "k_a": work(fatigue.surface_factor, S_ut=S_ut, finish=part.surface),
        "k_b": work(
            fatigue.size_factor,
            d=work(fatigue.equivalent_diameter, h=float(depth), b=float(breadth)),
        ),
        "k_e": work(fatigue.reliability_factor, z=fatigue.reliability_z(float(part.reliability))),
    }
    if material.family in REFERENCE_LIFE:
        specimen = (
            fatigue.aluminium_strength
            if material.family == "aluminium"
            else fatigue.titanium_strength
        )
        S_r = work(fatigue.endurance_limit, S_e=work(specimen, S_ut=S_ut), **marin)
        life = REFERENCE_LIFE[material.family]
        return work(fatigue.falling_cycles, sigma=stress, S_3=0.75 * S_ut, S_r=S_r, N_r=life)
    S_e = work(fatigue.endurance_limit, S_e=work(fatigue.specimen_limit, S_ut=S_ut), **marin)
    f = work(fatigue.strength_fraction, S_ut=S_ut)
    return work(fatigue.cycles_at, sigma=stress, S_ut=S_ut, S_e=S_e, f=f)
