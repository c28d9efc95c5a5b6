"""The load path of a part: where it is cut to look for the critical section, and what acts there."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.loads import Action, LoadCase, resultant
from parts.standards.materials import Material
from parts.strength.outline import Outline
from parts.strength.section import Section, properties
from parts.strength.stress import Resultants, Stress, stress_bound, von_mises

FEW = 3
"""How many of the highest stations of a scan are solved exactly."""


@dataclass(frozen=True)
class Span:
    """A straight stretch of a load path along which the section keeps one topology.

    `start` and `end` [mm] have shape (..., 3); `axes` has shape (3, 3): the normal of the sections, which
    points toward the loads, and the y and z axes in them. `outline(t)` gives the section at t in
    [0, 1] with y and z measured from the point of the span at t. `actions(case)` gives what acts on the
    part beyond the section, and `material` what the section is made of.
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

    def place(self, t: Any) -> np.ndarray:
        """Place of the station t [mm], shape (..., 3)."""
        start, end = np.asarray(self.start, float), np.asarray(self.end, float)
        return start + np.asarray(t, float)[..., None] * (end - start)


@dataclass(frozen=True)
class Scan:
    """A span looked at from end to end under one load case; every field has a value for each station."""

    span: Span
    case: LoadCase
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
    stress: Stress

    @property
    def place(self) -> np.ndarray:
        return self.span.place(self.t)


def carried(span: Span, case: LoadCase, t: Any, section: Section) -> Resultants:
    """Carry the actions beyond the stations to the centroids of their sections.

    Args:
        span: the stretch of the load path.
        case: the load case.
        t: stations, shape (...).
        section: their sections.

    Returns:
        Force [N] and moment [N*mm] components in the axes of the sections.
    """
    axes = np.asarray(span.axes, float)
    y, z = section.centroid
    centroid = (
        span.place(t) + np.asarray(y)[..., None] * axes[1] + np.asarray(z)[..., None] * axes[2]
    )
    force, moment = resultant(span.actions(case), centroid)
    f, m = force @ axes.T, moment @ axes.T
    return Resultants(
        N=f[..., 0], Vy=f[..., 1], Vz=f[..., 2], T=m[..., 0], My=m[..., 1], Mz=m[..., 2]
    )


def scan(span: Span, case: LoadCase, t: Any = None) -> Scan:
    """Look at a span from end to end.

    Args:
        span: the stretch of the load path.
        case: the load case.
        t: stations in [0, 1], shape (n,) or, with variants, (n, 1); evenly spread where left out.

    Returns:
        Sections, resultants and an upper bound of the von Mises stress [MPa] at each station.
    """
    stations = np.linspace(0.0, 1.0, span.stations) if t is None else np.asarray(t, float)
    outline = span.outline(stations)
    section = properties(outline)
    forces = carried(span, case, stations, section)
    length = np.linalg.norm(np.asarray(span.end, float) - np.asarray(span.start, float), axis=-1)
    return Scan(
        span,
        case,
        stations,
        stations * length,
        section,
        forces,
        np.asarray(stress_bound(outline, forces)),
    )


def critical(scans: Sequence[Scan]) -> Critical:
    """Find the section with the highest share of its strength used, among scans of one load case.

    The scans rank by an upper bound; the highest few stations and their neighbourhood are then solved
    exactly, and the worst of these is the critical section.

    Args:
        scans: the spans under one load case.

    Returns:
        The critical section.
    """
    ranked = sorted(
        (
            (scan.stress[i] / scan.span.material.yield_strength, scan, i)
            for scan in scans
            for i in _peaks(scan)
        ),
        key=lambda entry: -entry[0],
    )
    found = [_solved(scan, _sharpened(scan, i)) for _, scan, i in ranked[:FEW]]
    return max(found, key=lambda one: float(one.stress.maximum) / one.span.material.yield_strength)


def _peaks(scan: Scan) -> list[int]:
    """Stations that stand no lower than their neighbours."""
    s = np.concatenate([[-np.inf], np.nan_to_num(scan.stress, nan=np.inf), [-np.inf]])
    return [int(i) for i in np.flatnonzero((s[1:-1] >= s[:-2]) & (s[1:-1] >= s[2:]))]


def _sharpened(scan: Scan, i: int) -> float:
    """The station of the highest bound between the neighbours of station i."""
    low, high = scan.t[max(i - 1, 0)], scan.t[min(i + 1, len(scan.t) - 1)]
    near = np.unique(np.append(np.linspace(low, high, 17), scan.t[i]))
    outline = scan.span.outline(near)
    forces = carried(scan.span, scan.case, near, properties(outline))
    return float(near[int(np.argmax(stress_bound(outline, forces)))])


def _solved(scan: Scan, t: float) -> Critical:
    outline = scan.span.outline(np.asarray(t))
    section = properties(outline)
    forces = carried(scan.span, scan.case, np.asarray(t), section)
    stress = von_mises(outline, forces, scan.span.material.poisson)
    return Critical(scan.span, scan.case, t, section, forces, stress)
