"""What draws come to: chances with their own error, what a number moves, what a change buys."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from parts.study.stating import Stated
from parts.study.sure.deciding import Index
from parts.study.sure.drawing import Drawing
from parts.study.sure.given import Given

SURE = 0.95
"""Confidence of every chance [-]."""


@dataclass(frozen=True)
class Chance:
    """A chance with the limits between which it lies at 95 % (Clopper and Pearson 1934).

    `count` of `draws` draws fell short.
    """

    count: int
    draws: int

    @property
    def value(self) -> float:
        return self.count / self.draws

    @cached_property
    def limits(self) -> tuple[float, float]:
        from scipy.stats import binomtest

        found = binomtest(self.count, self.draws).proportion_ci(SURE, "exact")
        return float(found.low), float(found.high)


@dataclass(frozen=True)
class CheckChance:
    """A check under a load case over the draws.

    Attributes:
        name, case: of the check.
        drawn: its factor as stated [-]; nan where the full check does not hold it.
        required: the factor asked for [-].
        median, low: of the factor over the draws, and what 1 in 100 does not reach [-].
        below_required: chance that it does not reach what is asked for.
        fails: chance that its factor is below 1.
    """

    name: str
    case: str
    drawn: float
    required: float
    median: float
    low: float
    below_required: Chance
    fails: Chance


@dataclass(frozen=True)
class Swing:
    """The factor of the leading check with one number at its low and at its high end, the others in the middle [-]."""

    given: Given
    low: float
    high: float


@dataclass(frozen=True)
class Bought:
    """What a change would buy: the chance that a check fails, and the factor that 1 draw of 1000 does not reach."""

    said: str
    fails: Chance
    thousandth: float


@dataclass(frozen=True)
class Sure:
    """How sure a part is. `least` is the least factor of all checks in each draw [-]; `checks` begins with the one that
    leads: it fails most often, or comes nearest. Swings and indices are of its factor."""

    stated: Stated
    drawing: Drawing
    least: np.ndarray
    short: Chance
    fails: Chance
    checks: tuple[CheckChance, ...]
    swings: tuple[Swing, ...]
    indices: tuple[Index, ...]
    buys: tuple[Bought, ...] = ()
    not_drawn: tuple[str, ...] = ()
    apart: tuple[str, ...] = ()
    """Checks that stand a little otherwise for one draw alone than for many together."""
    no_number: Chance = Chance(0, 1)
    """Draws in which a check is no number, which counts as failing."""
    no_number_why: str = ""
    """The rule that the first of them breaks; empty where it breaks none."""

    @property
    def draws(self) -> int:
        return len(self.least)

    def reached(self, share: float) -> float:
        """The factor that so large a share of the draws does not reach [-]."""
        return quantile(self.least, share)

    @property
    def thousandth(self) -> float:
        return self.reached(0.001)


def quantile(values: Any, share: float) -> float:
    """The value that so large a share of all does not reach, one of them."""
    return float(np.sort(values)[int(share * (len(values) - 1))])
