"""The load path of a part: where it is cut to look for the critical section, and what acts there."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.loads import Action, LoadCase, resultant
from parts.standards.materials import Material
from parts.strength.outline import Outline
from parts.strength.panels import FEWER
from parts.strength.scan import StressBound, stress_bound
from parts.strength.section import Section, farthest, properties
from parts.strength.stress import Peak, Resultants, von_mises

NEGLIGIBLE = 0.01
"""Where the bound of the von Mises stress exceeds the normal stress by no more than this [-], the bound
is taken: on the safe side, and the shear need not be solved for."""
MOST = 8
"""How many stations of a scan are solved exactly at most, the highest bound first."""


@dataclass(frozen=True)
class Notch:
    """What raises the stress in a section: the concentration factor K_t [-] and the radius [mm] there."""

    K_t: Any
    radius: Any


def smooth(_: Any) -> Notch:
    """The notch of a stretch that has none."""
    return Notch(1.0, np.inf)


@dataclass(frozen=True)
class Span:
    """A straight stretch of a load path along which the section keeps one topology.

    `start` and `end` [mm] have shape (..., 3); `axes` has shape (3, 3): the normal of the sections, which
    points toward the loads, and the y and z axes in them. `outline(t)` gives the section at t in
    [0, 1] with y and z measured from the point of the span at t. `actions(case)` gives what acts on the
    part beyond the section, and `material` what the section is made of. `notch(t)` gives what raises the
    stress in the section, for fatigue: `smooth` where nothing does; None counts as a small hole.
    """

    name: str
    start: Any
    end: Any
    axes: Any
    outline: Callable[[Any], Outline]
    actions: Callable[[LoadCase], Sequence[Action]]
    material: Material
    piece: str = "part"
    stations: int = 31
    notch: Callable[[Any], Notch] | None = None

    def place(self, t: Any) -> np.ndarray:
        """Place of the station t [mm], shape (..., 3)."""
        start, end = np.asarray(self.start, float), np.asarray(self.end, float)
        return start + np.asarray(t, float)[..., None] * (end - start)


@dataclass(frozen=True)
class Scan:
    """A span looked at from end to end under every load case.

    `t`, `distance` [mm] and the fields of `section` have shape (n,), one value a station; the fields of
    `resultants` and `stress` [MPa], an upper bound of the von Mises stress, have shape (cases, n).
    """

    span: Span
    cases: tuple[LoadCase, ...]
    t: np.ndarray
    distance: np.ndarray
    section: Section
    resultants: Resultants
    stress: np.ndarray


@dataclass(frozen=True)
class Critical:
    """The section with the largest stress under one load case."""

    span: Span
    case: LoadCase
    t: float
    section: Section
    resultants: Resultants
    stress: Peak

    @property
    def place(self) -> np.ndarray:
        return self.span.place(self.t)


def carried(span: Span, cases: Sequence[LoadCase], t: Any, section: Section) -> Resultants:
    """Carry the actions beyond the stations to the centroids of their sections.

    Args:
        span: the stretch of the load path.
        cases: the load cases.
        t: stations, shape (...).
        section: their sections.

    Returns:
        Force [N] and moment [N*mm] components in the axes of the sections, of shape (cases, ...).
    """
    axes = np.asarray(span.axes, float)
    y, z = np.asarray(section.y), np.asarray(section.z)
    across, up = axes[..., 1, :], axes[..., 2, :]
    centroid = span.place(t) + y[..., None] * across + z[..., None] * up
    both = [resultant(span.actions(case), centroid) for case in cases]
    f = np.stack([np.broadcast_to(force, centroid.shape) for force, _ in both])
    m = np.stack([np.broadcast_to(moment, centroid.shape) for _, moment in both])
    f, m = (np.einsum("...ij,...j->...i", axes, v) for v in (f, m))
    return Resultants(
        N=f[..., 0], Vy=f[..., 1], Vz=f[..., 2], T=m[..., 0], My=m[..., 1], Mz=m[..., 2]
    )


def scan(span: Span, cases: Sequence[LoadCase], t: Any = None) -> Scan:
    """Look at a span from end to end.

    Args:
        span: the stretch of the load path.
        cases: the load cases, at least one.
        t: stations in [0, 1], shape (n,); evenly spread where left out.

    Returns:
        Sections, resultants and an upper bound of the von Mises stress [MPa] at each station.
    """
    stations = np.linspace(0.0, 1.0, span.stations) if t is None else np.asarray(t, float)
    outline = span.outline(stations)
    section = properties(outline)
    forces = carried(span, cases, stations, section)
    length = np.linalg.norm(np.asarray(span.end, float) - np.asarray(span.start, float), axis=-1)
    stress = np.asarray(stress_bound(outline, forces, span.material.poisson).von_mises)
    return Scan(span, tuple(cases), stations, stations * length, section, forces, stress)


def criticals(scans: Sequence[Scan]) -> list[Critical]:
    """Find, for each load case, the section with the highest share of its strength used.

    The scans rank the stations by an upper bound; the highest few and their neighbourhood are then
    solved exactly, and the worst of these is the critical section.

    Args:
        scans: the spans of a part, each under the same load cases.

    Returns:
        One critical section for each load case.
    """
    closer: dict[tuple[int, int], Scan] = {}
    return [_critical(scans, k, closer) for k in range(len(scans[0].cases))]


def _critical(scans: Sequence[Scan], k: int, closer: dict[tuple[int, int], Scan]) -> Critical:
    ranked = sorted(
        (
            (-one.stress[k, i] / one.span.material.yield_strength, j, i)
            for j, one in enumerate(scans)
            for i in _peaks(one.stress[k])
        ),
    )
    found: list[Critical] = []
    for bound, j, i in ranked[:MOST]:
        if found and -bound <= max(map(_share, found)):
            break  # no station from here on can exceed its bound
        if (j, i) not in closer:
            closer[j, i] = _closer(scans[j], i)
        near = closer[j, i]
        found.append(_solved(near, k, int(np.argmax(near.stress[k]))))
    return max(found, key=_share)


def _share(one: Critical) -> float:
    return float(one.stress.von_mises) / one.span.material.yield_strength


def _peaks(stress: np.ndarray) -> list[int]:
    """Stations that stand no lower than their neighbours."""
    s = np.concatenate([[-np.inf], np.nan_to_num(stress, nan=np.inf), [-np.inf]])
    return [int(i) for i in np.flatnonzero((s[1:-1] >= s[:-2]) & (s[1:-1] >= s[2:]))]


def _closer(one: Scan, i: int) -> Scan:
    """The span looked at again between the neighbours of station i."""
    low, high = one.t[max(i - 1, 0)], one.t[min(i + 1, len(one.t) - 1)]
    return scan(one.span, one.cases, np.unique(np.append(np.linspace(low, high, 9), one.t[i])))


def _solved(one: Scan, k: int, i: int) -> Critical:
    """The stress at a station, exact; the bound where shear adds next to nothing to the normal stress."""
    t = float(one.t[i])
    outline = one.span.outline(np.asarray(t))
    section = properties(outline)
    forces = Resultants(**{name: value[k, i] for name, value in vars(one.resultants).items()})
    bound = stress_bound(outline, forces, one.span.material.poisson)
    if float(bound.von_mises) <= (1.0 + NEGLIGIBLE) * float(bound.normal):
        stress = _without_shear(outline, section, forces, bound)
    else:
        stress = von_mises(outline, forces, one.span.material.poisson, order=FEWER)
    return Critical(one.span, one.cases[k], t, section, forces, stress)


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
