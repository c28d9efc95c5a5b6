"""Fatigue of a part: the damage that a spectrum of load cases does at sections, threads and welds.

At a section the amplitude is that of the largest von Mises stress there, times the fatigue factor of the notch that the
family states for it (three, full sensitivity, where it states none). Goodman accounts for the mean stress; Gerber's
result stands beside it. Steel has an endurance limit, aluminium and titanium have none.

Sections are the critical one of each load case and those where the notch makes most of the stress. Welds go by
detail classes: yield and mean stress do not help them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.cycles import Cycles, Spectrum, spectrum_of
from parts.core.fatigue_places import STEELS, Spot, Weld, fatigue_factor
from parts.core.loadpath import AtNotch, Notch, Span
from parts.core.loads import LoadCase
from parts.core.search.critical import SMALL_HOLE, Critical, Looked, stresses
from parts.core.search.subject import Subject
from parts.core.service import finish_kept
from parts.standards.materials.materials import Material
from parts.strength.fatigue import life as fatigue
from parts.strength.fatigue import mean_stress
from parts.strength.fatigue.notch import loaded_hole_peak
from parts.strength.method import Worked, plain, work
from parts.strength.section.properties import Section, properties
from parts.strength.welded import detail as weld_detail

NOTCHED = 3
"""How many sections are looked at for their notch, the worst first, besides the critical ones."""
REFERENCE_LIFE = {"aluminium": 5e8, "titanium": 1e7}
SPECTRUM = "spectrum of all cases"


@dataclass(frozen=True)
class _Station:
    """A section of a span."""

    span: Span
    t: float
    section: Section

    @property
    def key(self) -> tuple[object, ...]:
        place = np.round(self.span.place(np.asarray(self.t)), 3) + 0.0
        return (self.span.piece, self.span.name, *place.tolist())


def damage_checks(
    part: Subject, found: Sequence[Critical], looked: Sequence[Looked] = ()
) -> Iterator[Check]:
    """Damage by every load case that states a spectrum, at sections and at the part's details.

    Args:
        part: the part.
        found: the critical section of each load case.
        looked: the scans of its spans.

    Returns:
        One check for each distinct section and each detail; none where no load case states a spectrum.
    """
    spectrum = spectrum_of(part.loads)
    if spectrum is None:
        return
    stations = [_Station(one.span, one.t, one.section) for one in found]
    seen = set()
    for one in [*stations, *_notched(looked, spectrum.cases)]:
        if one.key not in seen:
            seen.add(one.key)
            yield _section_check(part, one, spectrum)
    for detail in part.details():
        if isinstance(detail, Spot):
            yield _spot_check(part, detail, spectrum)
        else:
            yield _weld_check(part, detail, spectrum)


def _notched(looked: Sequence[Looked], cases: Sequence[LoadCase]) -> list[_Station]:
    """The stations where stress times fatigue factor is the largest share of the strength, one a span."""
    ranked = []
    for one in looked:
        rows = [k for k, case in enumerate(one.cases) if case in cases]
        material = one.span.material
        at = _felt(one.span, [one.cases[k] for k in rows], one.t, one.stress[rows])
        use = np.nan_to_num(at.peak.max(axis=0), nan=np.inf)
        ranked.append((-use.max() / material.ultimate_strength, one, int(np.argmax(use))))
    worst = sorted(ranked, key=lambda row: row[0])[:NOTCHED]
    return [_station(one, i) for _, one, i in worst]


def _felt(span: Span, cases: Sequence[LoadCase], t: Any, stress: Any) -> AtNotch:
    """The peaks that fatigue feels of sections at stations t of a nominal stress (cases, n) [MPa]."""

    def factor(notch: Notch) -> Any:
        return plain(fatigue_factor(span.material, notch))

    return span.at_notch(cases, t, stress, factor, SMALL_HOLE)


def _station(one: Looked, i: int) -> _Station:
    t = float(one.t[i])
    return _Station(one.span, t, properties(one.span.outline(np.asarray(t))))


def _section_check(part: Subject, at: _Station, spectrum: Spectrum) -> Check:
    """Every block's reversed stress at a section, its life, and the sum of the damage."""
    depth = min(at.section.y_max - at.section.y_min, at.section.z_max - at.section.z_min)
    breadth = max(at.section.y_max - at.section.y_min, at.section.z_max - at.section.z_min)
    size = work(fatigue.equivalent_diameter, h=float(depth), b=float(breadth))
    nominal, swings = _peaks_and_swings(at, spectrum.asked)
    felt = _felt(at.span, spectrum.asked, at.t, nominal[:, None])
    K_f = fatigue_factor(at.span.material, felt.notch)
    x, y, z = (round(float(v), 2) + 0.0 for v in at.span.place(np.asarray(at.t)))
    where = f"at x {x:g}, y {y:g}, z {z:g} mm"
    if np.any(np.isnan(felt.factor)):
        # The rest would only carry on what is not a number: the factor itself stands for the damage.
        limits = felt.notch.limits or "what is published"
        return check(
            f"fatigue, {at.span.name}", "fatigue", load_case=SPECTRUM, unit="-", demand=K_f, capacity=1.0,
            required=part.required.on_life,
            note=f"no fatigue factor for the notch {where}: outside the range of {limits}",
        )  # fmt: skip
    factor, own = felt.factor[:, 0], felt.own[:, 0]
    note = f"K_f {float(factor.max()):.3g} {where}"
    if np.any(own):
        note += f"; the load of a hole itself, or a hub that gives, adds up to {float(own.max()):.3g} MPa there"
        nominal, swings = (
            plain(work(loaded_hole_peak, K=factor, sigma=nominal, own=own)),
            factor * swings,
        )
        K_f = 1.0
    cycles = spectrum.cycles(nominal, swings)
    return _damage(part, f"fatigue, {at.span.name}", at.span.material, cycles, K_f, size, part.surface,
                   note)  # fmt: skip


def _spot_check(part: Subject, one: Spot, spectrum: Spectrum) -> Check:
    cycles = spectrum.cycles(*_stresses(one, spectrum))
    size = work(fatigue.equivalent_diameter_round, d=one.diameter)
    note = "; ".join(text for text in (f"K_f {float(plain(one.K_f)):.3g}", one.note) if text)
    surface = None if one.counted else part.surface
    return _damage(part, f"fatigue, {one.name}", one.material, cycles, one.K_f, size, surface, note)


def _stresses(one: Spot | Weld, spectrum: Spectrum) -> tuple[list[float], list[float]]:
    """The greatest stress of a detail under each case asked for, and the part of it that reverses [MPa]."""
    cases = spectrum.asked
    peaks = [float(plain(one.stress(case))) for case in cases]
    swings = [0.0 if one.reversed is None else float(plain(one.reversed(case))) for case in cases]
    return peaks, swings


def _damage(
    part: Subject, name: str, material: Material, cycles: Cycles, K_f: Any, size: Any, surface: str | None, note: str
) -> Check:  # fmt: skip
    # Stress over what warmth leaves of the strength, as if the strength were less.
    peak, swing = cycles.peak / part.keeps, cycles.swing / part.keeps
    said = (note, cycles.said, finish_kept(part.finish, part.metal, material)[1], _warmth(part))
    cycle = {"sigma": peak, "K_f": K_f, "R": cycles.ratio}
    rubbed = {"s_r": swing} if np.any(swing) else {}
    amplitude = work(mean_stress.cycle_amplitude, **cycle, **rubbed)
    mean = work(mean_stress.cycle_mean, **cycle)
    reversed_by = {
        rule.__name__: work(rule, s_a=amplitude, s_m=mean, S_ut=material.ultimate_strength)
        for rule in (mean_stress.goodman, mean_stress.gerber)
    }
    lives = {
        name: _life(part, material, stress, size, surface) for name, stress in reversed_by.items()
    }
    second = float(mean_stress.damage(n=cycles.number, N=lives["gerber"].value))
    return check(
        name,
        "fatigue",
        load_case=SPECTRUM,
        demand=work(mean_stress.damage, n=cycles.number, N=lives["goodman"]),
        capacity=1.0,
        unit="-",
        required=part.required.on_life,
        note="; ".join(filter(None, (*said, f"damage by Gerber's rule {second:.3g}"))),
    )


def _weld_check(part: Subject, one: Weld, spectrum: Spectrum) -> Check:
    """The damage of the ranges at a welded detail: steel by EN 1993-1-9, aluminium by the IIW."""
    row = weld_detail.detail(one.detail)
    steel = one.material.family in STEELS
    printed = (row["steel_mpa"] if steel else row["aluminium_mpa"]) if one.known else ""
    safe = weld_detail.partial_factor(damage_tolerant=False, high_consequence=True)
    kept, said = finish_kept(part.finish, part.metal, one.material)
    C = kept * float(printed) / safe if printed else np.nan
    cycles = spectrum.cycles(*_stresses(one, spectrum))
    ranges = (cycles.peak * (1.0 - cycles.ratio) + 2.0 * cycles.swing) / part.keeps
    if not steel:
        life = work(weld_detail.cycles_iiw, stress_range=ranges, FAT=C)
    elif row["slope"] == "5":
        life = work(weld_detail.cycles_shear, stress_range=ranges, C=C)
    else:
        life = work(weld_detail.cycles, stress_range=ranges, C=C)
    note = (
        f"{one.detail}: class {printed} MPa over {safe:g} "
        f"(EN 1993-1-9, Table 3.1: a crack is not looked for, and failure hurts); {row['source']}"
        if printed
        else f"{one.detail}: no class is published here for {one.material.family}, so that nobody can say that it holds"
    )
    return check(
        f"fatigue, {one.name}",
        "weld fatigue",
        load_case=SPECTRUM,
        demand=work(mean_stress.damage, n=cycles.number, N=life),
        capacity=1.0,
        unit="-",
        required=part.required.on_life,
        note="; ".join(filter(None, (note, cycles.said, said, _warmth(part)))),
    )


def _peaks_and_swings(at: _Station, cases: Sequence[LoadCase]) -> tuple[np.ndarray, np.ndarray]:
    """Largest von Mises stress [MPa] at the section under each case, and the part of it that reverses with every
    cycle."""
    if at.span.reversing is None:
        return stresses([at.span], cases, at.t)[0], np.zeros(len(cases))
    alone = replace(at.span, actions=at.span.reversing)
    peaks, swings = stresses([at.span, alone], cases, at.t)
    return peaks, swings


def _warmth(part: Subject) -> str:
    """What a note says of the warmth; empty at room temperature."""
    return (
        ""
        if part.keeps == 1.0
        else f"stress over {part.keeps:.3g}, what is left at {part.temperature:g} °C"
    )


def _life(
    part: Subject, material: Material, stress: Worked, size: Any, surface: str | None
) -> Worked:
    """Cycles to failure of each block at its reversed stress."""
    S_ut = material.ultimate_strength
    marin = {
        "k_a": 1.0 if surface is None else work(fatigue.surface_factor, S_ut=S_ut, finish=surface),
        "k_b": work(fatigue.size_factor, d=size),
        "k_e": work(fatigue.reliability_factor, z=fatigue.reliability_z(float(part.reliability))),
        "k_f": finish_kept(part.finish, part.metal, material)[0],
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
