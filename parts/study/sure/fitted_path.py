"""The stress along the load path over many small changes of the sizes: a plane through looks at the whole path.

A look at the path gives an upper bound or an estimate at every station and is cheap; a solution at the critical section
is not. The logarithm of what the look finds is fitted by a plane over the sizes. By as much as the plane ever lay below
a look, and by the greatest ratio of solution to look in a few draws, all of it is raised. Where a look is far above the
plane, as beside a hole that all but meets an edge, that draw is solved, and its solution counts.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.part import Part
from parts.core.search.critical import criticals
from parts.core.search.look import looks
from parts.core.search.result import Result
from parts.study.sure.given import Given

LOOKS, SPARE, FEW = 3, 50, 10
"""Looks for each number that is varied; of many numbers, so many more than there are; and beside those."""
SOLVED = 4
"""Draws whose critical sections are solved."""
MORE, OUTLYING = 8, 0.15
"""Further draws that are solved at most: whose look lies above the plane by more than this in logarithm [-]."""


@dataclass(frozen=True)
class FittedPath:
    """A plane for each load case.

    Attributes:
        level: logarithm of the share of yield where nothing is moved, shape (cases,); raised.
        slopes: of it [1/mm], shape (cases, numbers).
        over: logarithm of the solved stress over that of a look, at the most [-], shape (cases,).
        low, high: the least and the greatest of the solved stress over that of the plane [-].
    """

    level: np.ndarray
    slopes: np.ndarray
    over: np.ndarray
    low: float
    high: float

    def shares(self, values: np.ndarray) -> np.ndarray:
        """Share of yield [-], shape (cases, draws); `values` [mm] of shape (numbers, draws)."""
        return np.asarray(np.exp(self.level[:, None] + self.slopes @ values))

    @property
    def note(self) -> str:
        return (
            "stress along the load path: fitted over the sizes, raised until no look at the path lay above it; solved "
            f"in {SOLVED} draws, it reached {self.low:.0%} to {self.high:.0%} of the fit"
        )


def fitted_path(
    model_of: Callable[[np.ndarray], Part],
    moved: Sequence[Given],
    result: Result[Part],
    like: FittedPath | None = None,
) -> FittedPath:
    """Look at the path of some draws, and fit.

    Args:
        model_of: gives the part of one draw, from what `Given.at` gives of each number.
        moved: the numbers, sizes and readings.
        result: of the part as drawn.
        like: that of nearly the same part, with the same numbers: its slopes and what looks are raised by are taken
            over, its level is found anew.

    Returns:
        The planes, on the safe side of every look and of every solution made.
    """
    random = np.random.default_rng(7)
    numbers = len(moved)
    count = (min(LOOKS * numbers, numbers + SPARE) if like is None else 0) + FEW
    shares = np.clip(random.random((len(moved), count)), 0.01, 0.99)
    values = np.array([one.at(share) for one, share in zip(moved, shares, strict=True)])
    values = values.reshape(len(moved), count)
    seen = np.log(np.array([_seen(model_of(values[:, i])) for i in range(count)]).T)
    known = np.vstack([np.ones(count), values])
    plane, rest = _plane(known, seen, like)
    first = range(SOLVED if like is None else 0)
    solved = {i: _logs(_solved(model_of(values[:, i]))) for i in (*first, *np.flatnonzero(~rest))}
    drawn = _logs([_share(one) for one in result.criticals])
    # A look lies above the stress by this at least; a draw that the plane does not fit answers by its own solution.
    over = np.max(
        [
            drawn - _logs(_seen(result.part)),
            *(solved[i] - seen[:, i] for i in first),
            *(() if like is None else [like.over]),
        ],
        axis=0,
    )
    short = np.max((seen - plane @ known)[:, rest], axis=1) + over
    own = [solved[i] - plane @ known[:, i] for i in solved]
    level = plane[:, 0] + np.max([short, *own], axis=0)
    slopes = plane[:, 1:]
    if like is not None:
        return FittedPath(level, slopes, over, like.low, like.high)
    ratio = np.exp([solved[i] - level - slopes @ values[:, i] for i in first])
    return FittedPath(level, slopes, over, float(ratio.min()), float(ratio.max()))


def _plane(
    known: np.ndarray, seen: np.ndarray, like: FittedPath | None
) -> tuple[np.ndarray, np.ndarray]:
    """The plane through the looks of most draws, shape (cases, numbers + 1), and which draws those are: at most `MORE`
    are left out, the farthest above it, where they lie above it by more than `OUTLYING`."""
    rest = np.ones(known.shape[1], bool)
    if like is not None:
        level = np.mean(seen - like.slopes @ known[1:], axis=1)
        return np.column_stack([level, like.slopes]), rest
    for _ in range(MORE + 1):
        plane = np.linalg.lstsq(known[:, rest].T, seen[:, rest].T, rcond=None)[0].T
        off = np.where(rest, np.max(seen - plane @ known, axis=0), -np.inf)
        worst = int(np.argmax(off))
        if off[worst] <= OUTLYING or (~rest).sum() >= MORE:
            break
        rest[worst] = False
    return plane, rest


def _logs(values: Any) -> np.ndarray:
    return np.asarray(np.log(values))


def _seen(part: Part) -> np.ndarray:
    """The greatest share of yield along the path as it is looked at, by load case."""
    found: list[Any] = []
    for one in looks(part.spans(), part.loads):
        stress = np.where(np.isnan(one.stress), np.inf, one.stress)
        found.append(stress.max(axis=1) / one.span.material.yield_strength)
    return np.maximum(np.max(found, axis=0), 1e-12)


def _solved(part: Part) -> list[float]:
    return [_share(one) for one in criticals(looks(part.spans(), part.loads))]


def _share(one: Any) -> float:
    return max(float(one.stress.von_mises) / float(one.span.material.yield_strength), 1e-12)
