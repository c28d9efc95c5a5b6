"""The hand calculation's side of a proof: the critical section of a piece, and how far it gives by bar theory."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.check import Check
from parts.core.fatigue_places import Spot
from parts.core.loadpath import Span, carried
from parts.core.loads import Block, LoadCase
from parts.core.part import Part, Piece
from parts.core.search.critical import SMALL_HOLE, Critical, Looked, criticals, peaks_of
from parts.core.search.look import looks
from parts.core.search.result import Result
from parts.strength.method import plain
from parts.strength.section.properties import Section, properties

STATIONS, FEW = 41, 5
SLACK = 0.04
"""By how much the box about a section is wider than the section, in its least side [-]: the foot of a fillet
belongs to it, what stands on it does not."""
SHEAR = 1.2
"""Share by which shear's own stiffness falls short of G A: 6/5 of a rectangle, taken for every section [-]."""
ENDS = 1.0
"""Lengths, as long as the section is thick, by which a load path gives more than its spans do: half at its root, where
what it grows from gives as well, half where the load comes in. Fitted to the arms of the long run, which then come
within 0.94 and 1.03 of the elements; own finite-element study, `tests/proof/long_run.csv`."""
NOTCHED = 1.05
"""Notch factor above which a section is compared as a notch [-]."""
FAINT, MOST = 0.3, 12
"""Peaks below this share of the worst are not compared [-], nor more of them in one piece and case."""
TRIED = 400
"""Sections that are tried, the worst first, until one is clear of loads and supports."""
KNOWS = (
    "net tension", "net section", "side bending", "local bending", "hub corner", "toe", "spline tension",
    "hoop tension",
)  # fmt: skip
"""Modes whose stress stands in the metal of the piece, where the elements have it too."""
KNOWS_TOO = (
    "bearing on the",
    "cup wall as a ring",
    "brim bends",
    "arm bending",
    "tab",
    "inside of the bend",
)
"""How the names of such checks begin whose modes stand for others as well."""


@dataclass(frozen=True)
class HandSection:
    """The critical section of a piece under one case, its nominal stress and notch factor."""

    critical: Critical
    K_t: float

    @property
    def nominal(self) -> float:
        """Von Mises stress of the section [MPa]."""
        return float(self.critical.stress.von_mises)

    @property
    def notched(self) -> float:
        """Nominal stress times the notch factor [MPa]."""
        return self.nominal * self.K_t


@dataclass(frozen=True)
class HandNotch:
    """A stretch of a span along which a notch raises the stress: its stations, and the worst of them.

    `stated` is False where the span states no notch and that of a small hole is taken. What lies in the cylinders
    `apart`, as `Spot.around`, is another place that is known by itself.
    """

    critical: Critical
    K_t: float
    radius: float
    t: np.ndarray
    stated: bool
    apart: tuple[Any, ...] = ()
    rim: float = 0.0

    @property
    def peak(self) -> float:
        """Nominal stress times the notch factor, and what a hole's own load adds at its `rim` [MPa]."""
        return float(self.critical.stress.von_mises) * self.K_t + self.rim


@dataclass(frozen=True)
class HandSpot:
    """A place of the piece that fatigue knows by itself, and its peak under one load case [MPa]."""

    name: str
    peak: float
    around: tuple[Any, Any, Any] | None


def spots(result: Result, piece: Piece, case: LoadCase) -> list[HandSpot]:
    """The places of a piece that fatigue knows besides its sections; threads are left out, the solid has none."""
    return [
        HandSpot(one.name, float(plain(one.stress(case))) * float(plain(one.K_f)), one.around)
        for one in _repeated(result.part).details()
        if isinstance(one, Spot) and one.material is piece.material and not one.counted
    ]


def looked_at(result: Result, piece: str) -> list[Looked]:
    """Every span of one piece, looked at under all load cases; none where no span runs through it.

    Args:
        result: the check of the part.
        piece: name of the piece.

    Returns:
        One look a span.
    """
    spans = [span for span in result.spans if span.piece == piece]
    return looks(spans, result.part.loads) if spans else []


def sections(looked: Sequence[Looked]) -> list[HandSection]:
    """The critical section of one piece under each load case.

    Args:
        looked: the spans of the piece.

    Returns:
        One section a load case.
    """
    return [HandSection(one, notch_factor(one.span, one.t)) for one in criticals(looked)]


def clear_of(looked: Sequence[Looked], k: int, across: Callable[[Critical], bool]) -> HandSection:
    """The worst section that no loaded or held face lies across; the worst of all where there is none.

    Args:
        looked: the spans of the piece.
        k: number of the load case.
        across: whether a face lies across a section.

    Returns:
        The section.
    """
    worst = criticals(looked)[k]
    if not across(worst):
        return HandSection(worst, notch_factor(worst.span, worst.t))
    ranked = sorted(
        ((float(stress), j, i) for j, one in enumerate(looked) for i, stress in enumerate(one.stress[k])),
        reverse=True,
    )  # fmt: skip
    for _, j, i in ranked[:TRIED]:
        here = looked[j].solved(i)[k]
        if not across(here):
            return HandSection(here, notch_factor(here.span, here.t))
    return HandSection(worst, notch_factor(worst.span, worst.t))


def highest(looked: Sequence[Looked], k: int) -> Critical:
    """The section of a piece with the highest stress under load case k, whatever its metal can bear there.

    The critical section is that with the highest share of its strength used: beside a weld, where metal is soft, it is
    another one.
    """
    ranked = sorted(
        ((float(one.stress[k].max()), j, int(np.argmax(one.stress[k]))) for j, one in enumerate(looked)),
        reverse=True,
    )  # fmt: skip
    best: Critical | None = None
    for bound, j, i in ranked:
        if best is not None and bound <= float(best.stress.von_mises):
            break
        here = looked[j].solved(i)[k]
        if best is None or here.stress.von_mises > best.stress.von_mises:
            best = here
    assert best is not None
    return best


def worst_known(
    result: Result, piece: Piece, case: LoadCase, notches: Sequence[HandNotch], places: Sequence[HandSpot],
    looked: Sequence[Looked],
) -> tuple[str, float]:  # fmt: skip
    """The highest stress in a piece that any check of a load case knows of.

    A check of local stress counts by the share of the yield strength that it uses.

    Args:
        result: the check of the part.
        piece: the piece.
        case: the load case.
        notches: the notches of the piece.
        places: its places of fatigue.
        looked: the spans of the piece.

    Returns:
        What it is, and the stress [MPa].
    """
    section = highest(looked, [one.name for one in result.part.loads].index(case.name))
    found = [(float(section.stress.von_mises), f"the section of {section.span.name}")]
    found += [(one.peak, f"the notch of {one.critical.span.name}") for one in notches]
    found += [(one.peak, one.name) for one in places]
    yields = piece.material.yield_strength
    found += [
        (float(one.demand) / float(one.capacity) * yields, one.name)
        for one in result.checks
        if one.load_case == case.name and _stands_in_the_piece(one)
    ]  # fmt: skip
    stress, what = max(row for row in found if np.isfinite(row[0]))
    return what, stress


def _repeated(part: Part) -> Part:
    """The part with every load case as one that comes again and again: its places of fatigue are stated then."""
    again = [Block(cycles=1.0)]
    return part.model_copy(
        update={"loads": [case.model_copy(update={"spectrum": again}) for case in part.loads]}
    )


def _stands_in_the_piece(one: Check) -> bool:
    """True for a check of a stress that the elements have as well."""
    name = one.name
    if one.unit != "MPa" or name.endswith((", ultimate", ", in service")):
        return False
    return one.mode in KNOWS or (
        name.startswith(KNOWS_TOO) and "pin" not in name and "bearing, " not in name
    )


def notches(looked: Sequence[Looked], k: int, places: Sequence[HandSpot] = ()) -> list[HandNotch]:
    """The notches of a piece that a load case stresses, the worst first.

    Args:
        looked: the spans of the piece.
        k: number of the load case.
        places: places of fatigue that are known by themselves.

    Returns:
        One for each stretch of a span with a notch whose peak by its bound is no less than `FAINT` of the worst, but
        no more than `MOST`.
    """
    found = []
    for one in looked:
        at = peaks_of(one, one.t, one.stress)
        K, rim, peaks = at.factor[k], at.own[k], np.nan_to_num(at.peak[k], nan=0.0)
        for some in _stretches((NOTCHED < K) & ~_of_a_thread(one)):
            found.append(
                (float(peaks[some].max()), one, K, rim, some, int(some[np.argmax(peaks[some])]))
            )
    found.sort(key=lambda row: -row[0])
    return [
        HandNotch(one.solved(i)[k], float(K[i]), _radius(one.span, float(one.t[i])), one.t[some],
                  one.span.notch is not None, tuple(place.around for place in places if place.around), float(rim[i]))
        for peak, one, K, rim, some, i in found[:MOST]
        if peak >= FAINT * found[0][0] > 0.0
    ]  # fmt: skip


def _of_a_thread(one: Looked) -> np.ndarray:
    """True for the stations whose fatigue factor is published as a whole: threads, which the solid does not have."""
    notch = one.span.notch
    if notch is None:
        return np.zeros(one.t.shape, bool)
    K_f = notch(one.t).K_f
    if K_f is None:
        return np.zeros(one.t.shape, bool)
    return np.broadcast_to(np.isfinite(np.asarray(K_f, float)), one.t.shape)


def _stretches(there: np.ndarray) -> list[np.ndarray]:
    """Numbers of the stations of each unbroken run."""
    numbers = np.flatnonzero(there)
    runs = np.split(numbers, np.flatnonzero(np.diff(numbers) > 1) + 1)
    return [run for run in runs if len(run)]


def _radius(span: Span, t: float) -> float:
    if span.notch is None:
        return 0.0
    radius = float(np.asarray(span.notch(np.asarray(t)).radius))
    return radius if np.isfinite(radius) else 0.0


def notch_factor(span: Span, t: float) -> float:
    """K_t that a span states at a station; that of a small hole where it states none [-]."""
    if span.notch is None:
        return float(SMALL_HOLE.K_t)
    return float(np.asarray(span.notch(np.asarray(t)).K_t))


def energy(result: Result, piece: str, path: Sequence[str], case: LoadCase) -> float:
    """Strain energy of the load path by the theory of bars, ends that give as well.

    Args:
        result: the check of the part.
        piece: name of the piece.
        path: names of spans, one behind the other.
        case: the load case.

    Returns:
        [N*mm] the energy: twice of it over the force is how far the load moves in its own sense.

    Raises:
        KeyError: the path names a span that the part does not have.
    """
    spans = {span.name: span for span in result.spans if span.piece == piece}
    total = sum(of_span(spans[name], case) for name in path)
    return total * (1.0 + ENDS / slenderness(result, piece, path))


def slenderness(result: Result, piece: str, path: Sequence[str]) -> float:
    """Length of a load path in roots of its mean section [-]."""
    spans = [one for one in result.spans if one.piece == piece and one.name in path]
    lengths = np.array([np.linalg.norm(np.subtract(s.end, s.start)) for s in spans])
    t = np.linspace(0.0, 1.0, FEW)
    areas = np.array([float(np.mean(properties(s.outline(t)).area)) for s in spans])
    return float(lengths.sum() / np.sqrt(np.average(areas, weights=lengths)))


def of_span(span: Span, case: LoadCase) -> float:
    """Strain energy of one span by the theory of bars [N*mm]."""
    t = np.linspace(0.0, 1.0, STATIONS)
    section: Section = properties(span.outline(t))
    r = carried(span, [case], t, section)
    N, Vy, Vz, T, My, Mz = (
        np.asarray(getattr(r, k))[0] for k in ("N", "Vy", "Vz", "T", "My", "Mz")
    )
    A, Iyy, Izz, Iyz = (
        np.asarray(getattr(section, k), float) for k in ("area", "Iyy", "Izz", "Iyz")
    )
    E = span.material.E
    G = E / (2.0 * (1.0 + span.material.poisson))
    det = Iyy * Izz - Iyz**2
    bent = (My**2 * Izz + 2.0 * My * Mz * Iyz + Mz**2 * Iyy) / det
    # Saint-Venant's approximation of the torsion constant of any solid section, A⁴ / 40 I_p.
    J = A**4 / (40.0 * (Iyy + Izz))
    density = N**2 / (E * A) + bent / E + SHEAR * (Vy**2 + Vz**2) / (G * A) + T**2 / (G * J)
    length = float(np.linalg.norm(np.subtract(span.end, span.start)))
    return 0.5 * float(np.trapezoid(density, t)) * length


def outline_box(section: Any) -> tuple[np.ndarray, np.ndarray]:
    """Box of a section in the axes of its cut, widened a little by its least side [mm]."""
    low = np.array([section.y + section.y_min, section.z + section.z_min], float)
    high = np.array([section.y + section.y_max, section.z + section.z_max], float)
    slack = SLACK * float(np.min(high - low))
    return low - slack, high + slack
