"""The critical section of a load path: solved exactly at the stations that can still be the worst."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Protocol

import numpy as np

from parts.core.loadpath import AtNotch, Notch, Span, carried
from parts.core.loads import LoadCase
from parts.strength.section.bound import StressBound
from parts.strength.section.outline import Outline, farthest
from parts.strength.section.panels import COARSE
from parts.strength.section.properties import Section, properties
from parts.strength.section.stress import Peak, Resultants, von_mises

NEGLIGIBLE = 0.01
"""Where the bound of the von Mises stress exceeds the normal stress by no more than this [-], the bound
is taken: on the safe side, and the shear need not be solved for."""
ALIKE = 1e-9
"""Stations whose bounds differ by no more than this share [-] stand for one another."""
SHORT = 0.06
"""Edges shorter than this share of the root of the area [-] count as broken edges."""
ALIKE_KEPT = 32
"""How many sections keep the shear that was solved for: pieces alike, and fatigue where a critical section is."""
SMALL_HOLE = Notch(3.0, np.inf)
"""The notch where a span states none: a small hole in a wide plate, felt in full."""
HIGHER = 0.005
"""Between two stations the section is solved again only where the bound is higher by this share [-]."""


@dataclass(frozen=True)
class Critical:
    """The section with the largest stress under one load case.

    `bounded` is True where shear adds next to nothing: the stress is then its upper bound and not a solution.
    """

    span: Span
    case: LoadCase
    t: float
    section: Section
    resultants: Resultants
    stress: Peak
    bounded: bool = False

    @property
    def place(self) -> np.ndarray:
        return self.span.place(self.t)


class Looked(Protocol):
    """A span looked at from end to end: `stress` [MPa], shape (cases, n), is an upper bound of the largest von Mises
    stress at each station."""

    @property
    def span(self) -> Span: ...
    @property
    def cases(self) -> tuple[LoadCase, ...]: ...
    @property
    def t(self) -> np.ndarray: ...
    @property
    def stress(self) -> np.ndarray: ...

    def solved(self, i: int) -> tuple[Critical, ...]:
        """The stress at station i under each load case."""
        ...

    def closer(self, i: int) -> Looked:
        """The span looked at again between the neighbours of station i, that station among others."""
        ...


@dataclass(frozen=True)
class Raised:
    """The largest peak of the elastic stress under one load case: the factor times the nominal stress.

    `nominal` [MPa] is the von Mises stress of the section, `rim` [MPa] what a hole that carries load itself adds. No
    limit is held against the peak: ductile metal yields there without failing, and fatigue, which feels it, is checked
    by itself.
    """

    span: Span
    case: LoadCase
    t: float
    K_t: float
    nominal: float
    rim: float = 0.0

    @property
    def peak(self) -> float:
        """The peak [MPa]."""
        return self.K_t * self.nominal + self.rim

    @property
    def place(self) -> np.ndarray:
        return self.span.place(self.t)


def raised(looked: Sequence[Looked]) -> list[Raised]:
    """Find, for each load case, where a notch raises the stress most: of the two spans with the highest bound.

    Args:
        looked: the spans of a part, each under the same load cases.

    Returns:
        One for each load case; none for a part whose spans state no notch.
    """
    stated = [one for one in looked if one.span.notch is not None]
    if not stated:
        return []
    found, bounds = [], [peaks_of(one, one.t, one.stress).peak for one in stated]
    for k, case in enumerate(looked[0].cases):
        peaks = [np.nan_to_num(bound[k], nan=-1.0) for bound in bounds]
        first = np.argsort([-peak.max() for peak in peaks], kind="stable")[:2]
        worst: Raised | None = None
        for j in first:
            one, i = stated[j], int(np.argmax(peaks[j]))
            if worst and peaks[j][i] <= worst.peak:
                break
            nominal = float(one.solved(i)[k].stress.von_mises)
            exact = np.full((len(one.cases), 1), nominal)
            at = peaks_of(one, one.t[[i]], exact)
            here = Raised(
                one.span,
                case,
                float(one.t[i]),
                float(at.factor[k, 0]),
                nominal,
                float(at.own[k, 0]),
            )
            worst = here if worst is None or here.peak > worst.peak else worst
        assert worst is not None
        found.append(worst)
    return found


def peaks_of(one: Looked, t: np.ndarray, stress: np.ndarray) -> AtNotch:
    """The elastic peaks of a span at stations t (n,) of a nominal stress (cases, n) [MPa]."""
    return one.span.at_notch(one.cases, t, stress, lambda notch: notch.K_t, SMALL_HOLE)


def criticals(looked: Sequence[Looked]) -> list[Critical]:
    """Find, for each load case, the section with the highest share of its strength used.

    The scans rank the stations by an upper bound; those that can still exceed the highest stress solved
    so far are solved too, and the surroundings of the worst are looked at more closely.

    Args:
        looked: the spans of a part, each under the same load cases.

    Returns:
        One critical section for each load case.
    """
    ranked: list[list[tuple[float, int, int]]] = [[] for _ in looked[0].cases]
    for j, one in enumerate(looked):
        for k, i in zip(*_peaks(one.stress), strict=True):
            ranked[k].append((-one.stress[k, i] / one.span.material.yield_strength, j, i))
    return [_critical(looked, k, sorted(stations)) for k, stations in enumerate(ranked)]


def _critical(
    looked: Sequence[Looked], k: int, ranked: Sequence[tuple[float, int, int]]
) -> Critical:
    """The worst under load case k; `ranked` are stations, the highest bound first: its negative share, span, number."""
    best, home = looked[ranked[0][1]].solved(ranked[0][2])[k], ranked[0][1:]
    for bound, j, i in ranked[1:]:
        if -bound <= _share(best):
            break  # no station from here on can exceed its bound
        found = looked[j].solved(i)[k]
        if _share(found) > _share(best):
            best, home = found, (j, i)
    one, i = looked[home[0]], home[1]
    near = one.closer(i)
    top, here = int(np.argmax(near.stress[k])), int(np.argmin(np.abs(near.t - one.t[i])))
    if near.stress[k, top] <= (1.0 + HIGHER) * near.stress[k, here]:
        return best
    return max(best, near.solved(top)[k], key=_share)


def _share(one: Critical) -> float:
    return float(one.stress.von_mises) / one.span.material.yield_strength


def _peaks(stress: np.ndarray) -> tuple[list[int], list[int]]:
    """Load cases and stations that stand no lower than their neighbours; the first of equal neighbours."""
    edge = np.full((len(stress), 1), -np.inf)
    s = np.concatenate([edge, np.where(np.isnan(stress), np.inf, stress), edge], axis=1)
    before, here, after = s[:, :-2], s[:, 1:-1], s[:, 2:]
    rises = (here > before * (1.0 + ALIKE)) | np.isinf(here)
    case, station = np.nonzero(rises & (here >= after))
    return case.tolist(), station.tolist()


def solve(
    span: Span, cases: Sequence[LoadCase], t: float, bound: StressBound | None = None
) -> tuple[Critical, ...]:
    """The largest von Mises stress of one section under each load case, exact.

    Args:
        span: the stretch of the load path.
        cases: the load cases.
        t: the station.
        bound: of its stress under each case; where shear adds next to nothing to the normal stress it is taken.

    Returns:
        One for each load case.
    """
    outline = span.outline(np.asarray(t))
    section = properties(outline)
    forces = carried(span, cases, np.asarray(t), section)
    nu = span.material.poisson
    plain = np.zeros(len(cases), bool)
    if bound is not None:
        plain = bound.von_mises <= (1.0 + NEGLIGIBLE) * bound.normal
    peaks = None if np.all(plain) else _with_shear(outline, section, forces, nu)
    found = []
    for k, case in enumerate(cases):
        own = Resultants(**{name: value[k] for name, value in vars(forces).items()})
        bounded = bound is not None and (peaks is None or bool(plain[k]))
        if bound is not None and bounded:
            bounds = StressBound(**{name: value[k] for name, value in vars(bound).items()})
            stress = _without_shear(outline, section, own, bounds)
        else:
            assert peaks is not None
            stress = Peak(**{name: value[k] for name, value in vars(peaks).items()})
        found.append(Critical(span, case, t, section, own, stress, bounded))
    return tuple(found)


def stresses(spans: Sequence[Span], cases: Sequence[LoadCase], t: float) -> np.ndarray:
    """The largest von Mises stress [MPa] of one section, shape (spans, cases). The spans differ in what they carry
    alone.

    Args:
        spans: stretches of the load path of the same sections.
        cases: the load cases.
        t: the station.
    """
    outline = spans[0].outline(np.asarray(t))
    section = properties(outline)
    each = [vars(carried(span, cases, np.asarray(t), section)) for span in spans]
    forces = Resultants(**{name: np.concatenate([one[name] for one in each]) for name in each[0]})
    peaks = _with_shear(outline, section, forces, spans[0].material.poisson)
    return np.asarray(peaks.von_mises).reshape(len(spans), len(cases))


def _with_shear(outline: Outline, section: Section, forces: Resultants, nu: float) -> Peak:
    """The peak with shear solved for on the outline as it would be without its broken edges.

    Short edges take most of the solution's time and change it least. What they take from area and second moments raises
    every stress instead.
    """
    plain = first_alike(outline.without_short_edges(SHORT * float(np.sqrt(section.area))))
    whole = properties(plain)
    lost = max(
        float(getattr(whole, name) / getattr(section, name)) for name in ("area", "Iyy", "Izz")
    )
    peak = von_mises(plain, forces, nu, fineness=COARSE)
    raised = max(lost, 1.0)
    stresses = ("von_mises", "axial", "bending", "shear", "torsion", "tau")
    return replace(peak, **{name: getattr(peak, name) * raised for name in stresses})


@lru_cache(maxsize=ALIKE_KEPT)
def first_alike(outline: Outline) -> Outline:
    """The first outline of the same points: a figure keeps its solutions, and those alike share them."""
    return outline


def _without_shear(
    outline: Outline, section: Section, forces: Resultants, bound: StressBound
) -> Peak:
    """The peak where bending alone decides: the farthest fibre, and the bound of the whole."""
    p, q = section.curvature(forces.My, forces.Mz)
    axial = float(forces.N / section.area)
    ends = [farthest(outline, sign * np.array([p, q], float)) for sign in (1.0, -1.0)]
    middle = p * section.y + q * section.z
    bending = [float(ends[0][0] - middle), -float(ends[1][0] + middle)]
    worst = int(abs(axial + bending[1]) > abs(axial + bending[0]))
    y, z = ends[worst][1]
    tau = float(bound.shear + bound.torsion)
    return Peak(
        float(bound.von_mises), float(y), float(z), axial, bending[worst],
        float(bound.shear), float(bound.torsion), tau,
    )  # fmt: skip
