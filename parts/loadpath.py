"""The load path of a part: where it is cut to look for the critical section, and what acts there."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from parts.loads import Action, LoadCase, resultant
from parts.standards.materials import Material
from parts.strength.outline import Loop, Outline
from parts.strength.panels import FEWER
from parts.strength.scan import StressBound, stress_bound
from parts.strength.section import Section, farthest, properties
from parts.strength.stress import Peak, Resultants, von_mises

NEGLIGIBLE = 0.01
"""Where the bound of the von Mises stress exceeds the normal stress by no more than this [-], the bound
is taken: on the safe side, and the shear need not be solved for."""
SHORT = 0.06
"""Edges shorter than this share of the root of the area [-] count as broken edges."""
HIGHER = 0.005
"""Between two stations the section is solved again only where the bound is higher by this share [-]."""
MOST = 24
"""How many stations of a scan are solved exactly at most, the highest bound first."""


@dataclass(frozen=True)
class Notch:
    """What raises the stress in a section: the concentration factor K_t [-] and the radius [mm] there.

    `K_f` is the fatigue factor as a whole where one is published, as of threads; None where it follows from
    K_t and the radius.
    """

    K_t: Any
    radius: Any
    K_f: Any = None


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
    # Stations already solved and looked at more closely, by number: one solution serves every load case.
    _solved: dict[int, tuple[Critical, ...]] = field(
        default_factory=dict, repr=False, compare=False
    )
    _closer: dict[int, Scan] = field(default_factory=dict, repr=False, compare=False)

    def solved(self, i: int) -> tuple[Critical, ...]:
        """The stress at station i under each load case."""
        if i not in self._solved:
            self._solved[i] = _solve(self, i)
        return self._solved[i]

    def closer(self, i: int) -> Scan:
        """The span looked at again between the neighbours of station i."""
        if i not in self._closer:
            low, high = self.t[max(i - 1, 0)], self.t[min(i + 1, len(self.t) - 1)]
            t = np.unique(np.append(np.linspace(low, high, 9), self.t[i]))
            self._closer[i] = scan(self.span, self.cases, t)
        return self._closer[i]


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
    return scans([span], cases, [np.linspace(0.0, 1.0, span.stations) if t is None else t])[0]


def scans(
    spans: Sequence[Span], cases: Sequence[LoadCase], stations: Sequence[Any] | None = None
) -> list[Scan]:
    """Look at several spans; those whose outlines have one topology are measured together.

    Args:
        spans: the load path.
        cases: the load cases, at least one.
        stations: those of each span, in [0, 1], shape (n,); evenly spread where left out.

    Returns:
        One scan for each span, in order.
    """
    given = (
        [np.linspace(0.0, 1.0, span.stations) for span in spans] if stations is None else stations
    )
    places = [np.asarray(t, float) for t in given]
    outlines = [span.outline(t) for span, t in zip(spans, places, strict=True)]
    alike: dict[tuple[Any, ...], list[int]] = {}
    for i, outline in enumerate(outlines):
        kind = (tuple(loop.points.shape[-2] for loop in outline.loops), spans[i].material.poisson)
        alike.setdefault(kind, []).append(i)
    found: dict[int, Scan] = {}
    for (_, poisson), members in alike.items():
        joined = _joined([outlines[i] for i in members], [places[i].shape for i in members])
        section = properties(joined)
        ends = np.cumsum([len(places[i]) for i in members])
        slices = [slice(end - len(places[i]), end) for i, end in zip(members, ends, strict=True)]
        parts = [_taken(section, some) for some in slices]
        each = [
            carried(spans[i], cases, places[i], part)
            for i, part in zip(members, parts, strict=True)
        ]
        forces = Resultants(
            **{k: np.concatenate([getattr(r, k) for r in each], axis=-1) for k in vars(each[0])}
        )
        stress = np.asarray(stress_bound(joined, forces, poisson).von_mises)
        stress = np.broadcast_to(stress, (len(cases), ends[-1]))
        for i, part, own, some in zip(members, parts, each, slices, strict=True):
            span, t = spans[i], places[i]
            long = np.linalg.norm(np.subtract(span.end, span.start), axis=-1)
            found[i] = Scan(span, tuple(cases), t, t * long, part, own, stress[:, some])
    return [found[i] for i in range(len(spans))]


def _joined(outlines: Sequence[Outline], shapes: Sequence[tuple[int, ...]]) -> Outline:
    """Outlines of one topology as one, their stations one after another."""
    loops = []
    for rings in zip(*(outline.loops for outline in outlines), strict=True):
        points = [
            np.broadcast_to(ring.points, (*shape, *ring.points.shape[-2:]))
            for ring, shape in zip(rings, shapes, strict=True)
        ]
        bulges = [
            np.broadcast_to(ring.bulge, (*shape, ring.points.shape[-2]))
            for ring, shape in zip(rings, shapes, strict=True)
        ]
        loops.append(Loop(np.concatenate(points), np.concatenate(bulges)))
    return Outline(tuple(loops))


def _taken(section: Section, some: slice) -> Section:
    return Section(**{name: np.asarray(value)[some] for name, value in vars(section).items()})


@dataclass(frozen=True)
class Raised:
    """The largest peak of the elastic stress under one load case: the factor times the nominal stress.

    `nominal` [MPa] is the von Mises stress of the section. No limit is held against the peak: ductile metal
    yields there without failing, and fatigue, which feels it, is checked by itself.
    """

    span: Span
    case: LoadCase
    t: float
    K_t: float
    nominal: float

    @property
    def peak(self) -> float:
        """The peak [MPa]."""
        return self.K_t * self.nominal

    @property
    def place(self) -> np.ndarray:
        return self.span.place(self.t)


def raised(looked: Sequence[Scan]) -> list[Raised]:
    """Find, for each load case, where a notch raises the stress most: of the two spans with the highest bound.

    Args:
        looked: the spans of a part, each under the same load cases.

    Returns:
        One for each load case; none for a part whose spans state no notch.
    """
    stated = [(one, factors(one)) for one in looked if one.span.notch is not None]
    if not stated:
        return []
    found = []
    for k, case in enumerate(looked[0].cases):
        peaks = [np.nan_to_num(K * one.stress[k], nan=-1.0) for one, K in stated]
        first = np.argsort([-peak.max() for peak in peaks], kind="stable")[:2]
        worst = []
        for j in first:
            (one, K), i = stated[j], int(np.argmax(peaks[j]))
            nominal = float(one.solved(i)[k].stress.von_mises)
            worst.append(Raised(one.span, case, float(one.t[i]), float(K[i]), nominal))
        found.append(max(worst, key=lambda one: one.peak))
    return found


def factors(one: Scan) -> np.ndarray:
    """The concentration factor K_t at each station of a scan, of shape (n,)."""
    assert one.span.notch is not None
    return np.broadcast_to(np.asarray(one.span.notch(one.t).K_t, float), one.t.shape)


def criticals(looked: Sequence[Scan]) -> list[Critical]:
    """Find, for each load case, the section with the highest share of its strength used.

    The scans rank the stations by an upper bound; those that can still exceed the highest stress solved
    so far are solved too, and the surroundings of the worst are looked at more closely.

    Args:
        looked: the spans of a part, each under the same load cases.

    Returns:
        One critical section for each load case.
    """
    return [_critical(looked, k) for k in range(len(looked[0].cases))]


def _critical(looked: Sequence[Scan], k: int) -> Critical:
    ranked = sorted(
        (-one.stress[k, i] / one.span.material.yield_strength, j, i)
        for j, one in enumerate(looked)
        for i in _peaks(one.stress[k])
    )
    best, home = looked[ranked[0][1]].solved(ranked[0][2])[k], ranked[0][1:]
    for bound, j, i in ranked[1:MOST]:
        if -bound <= _share(best):
            break  # no station from here on can exceed its bound
        found = looked[j].solved(i)[k]
        if _share(found) > _share(best):
            best, home = found, (j, i)
    one, i = looked[home[0]], home[1]
    near = one.closer(i)
    top = int(np.argmax(near.stress[k]))
    if near.stress[k, top] <= (1.0 + HIGHER) * one.stress[k, i]:
        return best
    return max(best, near.solved(top)[k], key=_share)


def _share(one: Critical) -> float:
    return float(one.stress.von_mises) / one.span.material.yield_strength


def _peaks(stress: np.ndarray) -> list[int]:
    """Stations that stand no lower than their neighbours."""
    s = np.concatenate([[-np.inf], np.nan_to_num(stress, nan=np.inf), [-np.inf]])
    return [int(i) for i in np.flatnonzero((s[1:-1] >= s[:-2]) & (s[1:-1] >= s[2:]))]


def _solve(one: Scan, i: int) -> tuple[Critical, ...]:
    """The stress at a station under each load case, exact.

    Where shear adds next to nothing to the normal stress the bound is taken.
    """
    t = float(one.t[i])
    outline = one.span.outline(np.asarray(t))
    section = properties(outline)
    forces = Resultants(**{name: value[:, i] for name, value in vars(one.resultants).items()})
    nu = one.span.material.poisson
    bound = stress_bound(outline, forces, nu)
    plain = bound.von_mises <= (1.0 + NEGLIGIBLE) * bound.normal
    peaks = None if np.all(plain) else _with_shear(outline, section, forces, nu)
    found = []
    for k, case in enumerate(one.cases):
        own = Resultants(**{name: value[k] for name, value in vars(forces).items()})
        if peaks is None or plain[k]:
            bounds = StressBound(**{name: value[k] for name, value in vars(bound).items()})
            stress = _without_shear(outline, section, own, bounds)
        else:
            stress = Peak(**{name: value[k] for name, value in vars(peaks).items()})
        found.append(Critical(one.span, case, t, section, own, stress))
    return tuple(found)


def _with_shear(outline: Outline, section: Section, forces: Resultants, nu: float) -> Peak:
    """The peak with shear solved for on the outline as it would be without its broken edges.

    Short edges cost the solution most and change it least; what they take from area and second moments
    goes onto every stress.
    """
    plain = outline.without_short_edges(SHORT * float(np.sqrt(section.area)))
    whole = properties(plain)
    lost = max(
        float(getattr(whole, name) / getattr(section, name)) for name in ("area", "Iyy", "Izz")
    )
    peak = von_mises(plain, forces, nu, order=FEWER)
    raised = max(lost, 1.0)
    stresses = ("von_mises", "axial", "bending", "shear", "torsion", "tau")
    return replace(peak, **{name: getattr(peak, name) * raised for name in stresses})


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
