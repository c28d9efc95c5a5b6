"""The cycles that a part bears: within each block of its load cases, and from one load case to another.

A part that one case pulls and another pushes goes from the one to the other: a cycle of both, larger than either. The
file does not say which case follows which. So the turning points are paired in the worst way, the widest range first,
as a rainflow or reservoir count does where the cases alternate.

A stress is known by its size alone. The stress of the difference of two cases says how far apart they are: the square
of a point's von Mises stress is a quadratic form of the loads. With the sizes a and b of two cases and d of their
difference, the part that they share is c = (a² + b² - d²)/(2 a b). No range is larger than a + b, so that a place that
feels pulls alone is not charged with a push.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any, NamedTuple

import numpy as np

from parts.core.loads import LoadCase, times

COUNTING = "the cases taken to alternate, counted by rainflow: ASTM E1049-85, 5.4.4, from memory"
SAID = 3
"""How many ways from one case to another a note tells, the widest range first."""
OWN_FIRST = 1e-6
"""What the range of a block's own cycle counts more in the pairing [-]: equal ranges leave blocks as stated."""


def less(one: LoadCase, other: LoadCase) -> LoadCase:
    """The loads of a case less those of another; its name says from which to which it goes."""
    forces = [*one.forces, *times(other.forces, -1.0)]
    name = f"{other.name} to {one.name}"
    return one.model_copy(update={"name": name, "forces": forces, "practice": [], "ratio": 0.0})


class Cycles(NamedTuple):
    """Cycles of a place, a row each: greatest stress [MPa], least over greatest [-], the stress that friction adds both
    ways [MPa], and how many; `said` names those that go from one case to another."""

    peak: np.ndarray
    ratio: np.ndarray
    swing: np.ndarray
    number: np.ndarray
    said: str


@dataclass(frozen=True)
class Spectrum:
    """The load cases that state one, and the difference of each two.

    `cases` are the cases themselves; `apart` holds the differences by the numbers of the two. `cycles` needs what a
    place feels under each case of `asked`, in that order.
    """

    cases: tuple[LoadCase, ...]
    apart: dict[tuple[int, int], LoadCase]

    @property
    def asked(self) -> tuple[LoadCase, ...]:
        """Every load case whose stress `cycles` asks for."""
        turned = (one.turned for one in self.cases if one.turned is not None)
        return (*self.cases, *turned, *self.apart.values())

    def cycles(self, peaks: Any, swings: Any) -> Cycles:
        """The cycles of a place.

        Args:
            peaks: its stress under each of `asked`, signs left out [MPa].
            swings: what friction adds to each, both ways [MPa].

        Returns:
            Its cycles: those stated, and of two cases whose loads lie further apart those from one to the other.
        """
        count, swing = len(self.cases), np.asarray(swings, float)
        base = np.maximum(np.asarray(peaks, float) - swing, 0.0)
        rest = iter(range(count, len(base)))
        points: list[_Point] = []
        for k, case in enumerate(self.cases):
            # The loads turned round are worked out as large as they come.
            j, full = (k, 1.0) if case.turned is None else (next(rest), abs(case.least))
            points += [
                _Point(k, b, share, _times(base[row], times), _times(swing[row], times))
                for b, block in enumerate(case.spectrum)
                for share, row, times in (
                    (block.share, k, block.share),
                    (case.ratio * block.share, j, abs(case.ratio) * block.share / full),
                )
            ]
        gaps = {pair: base[row] for pair, row in zip(self.apart, rest, strict=True)}
        left = [block.cycles for case in self.cases for block in case.spectrum for _ in range(2)]
        shared = {pair: _shared(base[pair[0]], base[pair[1]], gap) for pair, gap in gaps.items()}
        return _paired(points, left, shared, [case.name for case in self.cases])


def turns_round(case: LoadCase, loads: Sequence[LoadCase]) -> bool:
    """Whether what acts turns round: within a cycle of the case, or from it to another that is repeated."""
    return case.ratio < 0.0 or any(_against(case, other) for other in loads if other.spectrum)


def least_ratio(case: LoadCase, loads: Sequence[LoadCase]) -> float:
    """Least over greatest load of a case among all that come one after another [-]: -1 where another acts against it,
    at most 0 where another case does not load what it loads."""
    if any(_against(case, other) for other in loads if other.spectrum):
        return -1.0
    alone = all(one is case or not one.spectrum for one in loads)
    return case.ratio if alone else min(case.ratio, 0.0)


def _against(case: LoadCase, other: LoadCase) -> bool:
    """Whether the forces or the moments of two cases act against each other at the points that both load, in any of
    many variants. Where they share no loaded point this is unknown; they count as if they acted against each other."""
    both = [(one, two) for one in case.forces for two in other.forces if one.at == two.at]
    along = [
        sum(np.sum(np.multiply(*pair), axis=-1) for pair in pairs)
        for pairs in zip(
            *(((a.force, b.force), (a.moment, b.moment)) for a, b in both), strict=True
        )
    ]
    return not both or any(bool(np.any(one < 0.0)) for one in along)


def spectrum_of(loads: Sequence[LoadCase]) -> Spectrum | None:
    """The spectrum of a part's load cases; None where none states one."""
    cases = tuple(case for case in loads if case.spectrum)
    if not cases:
        return None
    pairs = combinations(range(len(cases)), 2)
    return Spectrum(cases, {(i, j): less(cases[i], cases[j]) for i, j in pairs})


class _Point(NamedTuple):
    """A turning point: of which case and block, the share of the case's load there, and what a place feels of it."""

    case: Any
    block: Any
    share: Any
    stress: Any
    swing: Any


def _times(stress: float, share: float) -> float:
    """A stress times a share [MPa]; nothing of one without end is nothing."""
    return float(stress * share) if share > 0.0 else 0.0


def _shared(a: float, b: float, apart: float) -> float:
    """Part of two stresses that they share, of their product [-]: 1 alike, -1 opposite."""
    if not 0.0 < a * b < np.inf:
        return 0.0
    return float(np.clip((a**2 + b**2 - min(apart, a + b) ** 2) / (2.0 * a * b), -1.0, 1.0))


def _paired(
    points: Sequence[_Point],
    left: list[float],
    shared: dict[tuple[int, int], float],
    names: Sequence[str],
) -> Cycles:
    """The turning points in pairs, the widest range first; those of two blocks of one case only where no others are
    left."""
    of = _Point(*(np.array(column) for column in zip(*points, strict=True)))
    i, j = np.triu_indices(len(points), 1)
    own = of.case[i] == of.case[j]
    alike = np.eye(len(names))
    for pair, one in shared.items():
        alike[pair] = alike[pair[::-1]] = one
    with np.errstate(invalid="ignore"):
        width = _range(of.stress[i], of.stress[j],
            np.sign(of.share[i]) * np.sign(of.share[j]) * alike[of.case[i], of.case[j]])  # fmt: skip
    friction = np.maximum(of.swing[i], of.swing[j])
    wide = (width + 2.0 * friction) * (1.0 + OWN_FIRST * own)
    # What is no number goes first, so that it is never left over.
    order = np.lexsort(
        (-np.nan_to_num(wide, nan=np.inf, posinf=np.inf), own & (of.block[i] != of.block[j]))
    )
    rows: list[tuple[float, float, float, float]] = []
    said: dict[str, float] = {}
    for way, a, b in zip(order.tolist(), i[order].tolist(), j[order].tolist(), strict=True):
        n = min(left[a], left[b])
        if n <= 0.0:
            continue
        left[a], left[b] = left[a] - n, left[b] - n
        one, other = points[a], points[b]
        most = float(np.maximum(one.stress, other.stress))
        ratio = 1.0 - float(width[way]) / most if 0.0 < most < np.inf else 0.0
        rows.append((most, ratio, float(friction[way]), n))
        if one.case != other.case and min(one.stress, other.stress) > 0.0:
            known = f"from {names[one.case]!r} to {names[other.case]!r}"
            said[known] = said.get(known, 0.0) + n
    told = [f"{n:.3g} cycles go {way}" for way, n in list(said.items())[:SAID]]
    peak, ratios, swing, number = np.array(rows, float).T
    return Cycles(peak, ratios, swing, number, "; ".join([*told, COUNTING]) if told else "")


def _range(a: np.ndarray, b: np.ndarray, same: np.ndarray) -> np.ndarray:
    """How far apart stresses lie [MPa], of which so much is shared [-]."""
    apart = np.sqrt(np.maximum(a**2 + b**2 - 2.0 * same * a * b, 0.0))
    return np.asarray(np.where(np.isfinite(a + b), apart, a + b))
