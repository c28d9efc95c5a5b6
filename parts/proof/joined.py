"""A part of several pieces in one line, as a link: how its proof load moves it by the theory of bars.

Elements prove each piece by itself; they do not join threads and welds. What the gauges must read follows from all
pieces in line, pinned at both ends: how far a point moves along an axis is the work of a unit force there (Timoshenko,
Strength of Materials, Part I, the unit-load method; from memory).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from parts.core.loads import LoadCase
from parts.core.part import Part
from parts.core.search.result import Result
from parts.proof.errors import ProofError
from parts.proof.gauges import LEAST, Gauge
from parts.strength.section.properties import properties

BAND = 0.35
"""Share by which such a reading may differ [-]: bars do not feel what threads, eyes and ball joints give; common
practice, no source."""
STATIONS = 801
ASIDE = 0.1
"""How far off the line a span lies that has a twin on its other side, as the ears of a fork [mm]."""
SAME = 0.01
"""How far two forces may differ and be load and reaction [-]."""
ALONG = 0.7
"""Cosine above which a gauge reads along the line and not across it [-]."""


@dataclass(frozen=True)
class Pull:
    """A pull on the part: its load point, its force [N], and how far off the point it pulls [mm].

    A force that stands off its point turns the part about it: a moment of the load case that is square to its force.
    Two forces against each other at the ends of an arm do the rest of the moment.
    """

    at: str
    force: np.ndarray
    off: np.ndarray

    @property
    def size(self) -> float:
        return float(np.linalg.norm(self.force))


def without_reaction(case: LoadCase) -> LoadCase:
    """A load case without the force that another of its forces calls up at the far end, where it states both."""
    for one, other in combinations(case.forces, 2):
        force, against = np.asarray(one.force, float), np.asarray(other.force, float)
        if (
            np.linalg.norm(force + against) < SAME * np.linalg.norm(force)
            and not np.any(one.moment)
            and not np.any(other.moment)
        ):
            return case.model_copy(update={"forces": [f for f in case.forces if f is not one]})
    return case


@dataclass(frozen=True)
class _Line:
    """All pieces between two pins: stations [mm] from the first, what a unit of length gives per force [1/N] and, as
    (n, 3, 3), per moment [1/(N*mm^2)]."""

    start: np.ndarray
    way: np.ndarray
    s: np.ndarray
    stretch: np.ndarray
    bend: np.ndarray

    @property
    def unit(self) -> np.ndarray:
        return np.asarray(self.way / self.s[-1])

    def share(self, at: np.ndarray) -> float:
        """How far along the line a place lies [-]."""
        return float((at - self.start) @ self.way / (self.way @ self.way))

    def of(self, at: np.ndarray, force: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Axial force (n,) and moment (n, 3) all along of a force at a place; what pulls along the line is held at the
        far end, what pulls across it at both."""
        share, long = self.share(at), float(self.s[-1])
        along = float(force @ self.unit)
        between = self.s <= share * long if share > 0.0 else np.ones(self.s.shape, bool)
        axial = np.where(between, along if share > 0.0 else -along, 0.0)
        beam = np.where(self.s < share * long, (1.0 - share) * self.s, share * (long - self.s))
        return axial, beam[:, None] * np.cross(self.unit, force)

    def moved(
        self, pulls: Sequence[Pull], points: Mapping[str, np.ndarray], at: str, way: np.ndarray
    ) -> float:
        """How far a point moves along a unit vector under the pulls [mm]."""
        n, m = self.of(points[at], way)
        work = np.zeros(self.s.shape)
        for one in pulls:
            N, M = self.of(points[one.at], one.force)
            work += n * N * self.stretch + np.einsum("ni,nij,nj->n", m, self.bend, M)
        return float(np.trapezoid(work, self.s))


def line_gauges(
    result: Result[Part], pulls: Sequence[Pull]
) -> tuple[tuple[Gauge, ...], tuple[Gauge, ...], float]:
    """Gauges at the pulled points of a line of pieces, and at its ends, whose readings are taken off.

    Args:
        result: the check of the part under its proof load.
        pulls: what stands for it.

    Returns:
        The reference gauges, those that are read, and how far the largest pull's point moves in its sense [mm].

    Raises:
        ProofError: a pull turns the part, or nothing moves enough to be read.
    """
    name = result.part.name
    if any(np.any(one.off) for one in pulls):
        raise ProofError(
            f"{name}: {result.part.loads[0].name!r} turns a part of several pieces, which neither elements nor the "
            "theory of bars joins here; name another load case with --case"
        )
    points = {key: np.asarray(at, float).reshape(3) for key, at in result.part.points().items()}
    first, last = max(
        combinations(points, 2),
        key=lambda two: float(np.linalg.norm(points[two[0]] - points[two[1]])),
    )
    line = _line(result, points[first], points[last])
    references: dict[tuple[str, int], Gauge] = {}
    read: list[tuple[str, int, float, dict[tuple[str, int], float]]] = []
    for at in dict.fromkeys(one.at for one in pulls):
        axis = int(np.argmax(np.abs(np.sum([one.force for one in pulls if one.at == at], axis=0))))
        reading = line.moved(pulls, points, at, np.eye(3)[axis])
        if abs(reading) < LEAST:
            continue
        share = line.share(points[at])
        off = {(first, axis): 1.0 - share, (last, axis): share}
        if abs(float(line.unit[axis])) > ALONG:
            off = {(last if share <= 0.0 else first, axis): 1.0}
        read.append((at, axis, reading, off))
        for end, k in off:
            one = Gauge(f"R{len(references) + 1}", _triple(points[end]), k, (), 0.0, 0.0)
            references.setdefault((end, k), one)
    if not read:
        raise ProofError(
            f"{name}: no pulled point moves by {LEAST:g} mm, which a dial gauge could tell from nothing; name another "
            "load case with --case"
        )
    gauges = tuple(
        Gauge(
            f"G{n}",
            _triple(points[at]),
            k,
            tuple(off.get(key, 0.0) for key in references),
            reading,
            BAND,
        )
        for n, (at, k, reading, off) in enumerate(read, 1)
    )
    main = pulls[0]
    return (
        tuple(references.values()),
        gauges,
        line.moved(pulls, points, main.at, main.force / main.size),
    )


def _line(result: Result[Part], start: np.ndarray, end: np.ndarray) -> _Line:
    """The softest span at each station; a stretch without one, as a bore or a bought end, as what stands beside it."""
    way = end - start
    long = float(np.linalg.norm(way))
    s = np.linspace(0.0, long, STATIONS)
    soft = np.full((STATIONS, 10), np.nan)
    for span in result.spans:
        ends = [np.asarray(one, float).reshape(3) - start for one in (span.start, span.end)]
        low, high = (float(one @ way) / long for one in ends)
        here = np.flatnonzero((s >= min(low, high)) & (s <= max(low, high)))
        if not len(here) or low == high:
            continue
        section = properties(span.outline((s[here] - low) / (high - low)))
        A, Iyy, Izz, Iyz = (
            np.broadcast_to(np.asarray(getattr(section, key), float), here.shape)
            for key in ("area", "Iyy", "Izz", "Iyz")
        )
        middle = (ends[0] + ends[1]) / 2.0
        twins = 2.0 if np.linalg.norm(middle - middle @ way * way / long**2) > ASIDE else 1.0
        axes = np.asarray(span.axes, float).reshape(3, 3)[1:]
        two = np.array([[Izz, Iyz], [Iyz, Iyy]]) / (Iyy * Izz - Iyz**2)
        bend = np.einsum("ai,abn,bj->nij", axes, two, axes)
        own = np.column_stack([1.0 / A, bend.reshape(-1, 9)]) / (twins * span.material.E)
        softer = ~(soft[here, 0] >= own[:, 0])
        soft[here[softer]] = own[softer]
    known = np.isfinite(soft[:, 0])
    filled = np.column_stack([np.interp(s, s[known], column[known]) for column in soft.T])
    return _Line(start, way, s, filled[:, 0], filled[:, 1:].reshape(-1, 3, 3))


def _triple(row: np.ndarray) -> tuple[float, float, float]:
    x, y, z = (float(v) for v in row)
    return x, y, z
