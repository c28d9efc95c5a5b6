"""A rule: a dimension held to a limit, with the sentence that a builder reads when it is broken."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np

from parts.inputs.units import MM_PER_INCH


def reaches(value: Any, limit: Any) -> Any:
    """Whether a value is a limit or more, but for what binary numbers add; never where it is not a number."""
    return value >= limit - 1e-9 * np.maximum(1.0, np.abs(limit))


@dataclass(frozen=True)
class Rule:
    """`value` must be at least or at most `limit`. Both may be arrays over variants.

    `field` is the dotted path of the dimension that the builder should look at; `why` says what goes
    wrong beyond the limit, `how` how to meet it.
    """

    code: str
    field: str
    value: Any
    sense: Literal["at least", "at most"]
    limit: Any
    why: str
    how: str
    unit: str = "mm"
    met_by_none: bool = False
    """True where the limit lies below the least that the field may be, so that other dimensions are wrong."""
    through: bool = False
    """True where the value is not that of the field, but comes of it and of others."""

    @property
    def ok(self) -> Any:
        """True where the rule is met; a value that is not a number never meets it."""
        value, limit = np.asarray(self.value, float), np.asarray(self.limit, float)
        met = reaches(value, limit) if self.sense == "at least" else reaches(-value, -limit)
        return met[()]

    @property
    def worked_out(self) -> bool:
        """Whether value and limit of a single part are numbers."""
        return bool(np.isfinite(self.value) and np.isfinite(self.limit))

    def wrong(self) -> str:
        """What is wrong, with the limit, for a single part."""
        if not self.unit and {float(self.value), float(self.limit)} == {0.0, 1.0}:
            return self.why  # a question of yes and no
        if np.isnan(self.value):
            return f"it cannot be worked out from these dimensions: {self.why}"
        value, limit = self._show(self.value), self._show(self.limit)
        if not np.isfinite(self.limit):
            return f"{value} where no limit is known: {self.why}"
        if not np.isfinite(self.value):
            value = "more than can be said"
        if self.met_by_none:
            return f"{value} where no value fits, for the limit comes out at {limit}: {self.why}"
        comes = "it comes to " if self.through else ""
        return f"{comes}{value} where {self.sense} {limit} is needed: {self.why}"

    def _show(self, value: Any) -> str:
        number = float(value)
        if self.unit == "deg":
            return f"{np.degrees(number):.4g} deg"
        text = f"{number:.4g}{' ' + self.unit if self.unit else ''}"
        return f"{text} ({number / MM_PER_INCH:.4f} in)" if self.unit == "mm" else text

    def below(self, sign: str) -> bool:
        """Whether its limit lies below what a field may be whose values are "positive" or "not negative"."""
        limit = np.asarray(self.limit, float)
        beneath = limit <= 0.0 if sign == "positive" else limit < 0.0
        return bool(sign) and self.sense == "at most" and bool(np.all(beneath))


def broken(rules: Iterable[Rule]) -> list[Rule]:
    """Those of some rules that are not met, over arrays not everywhere; held against their limits all at once."""
    rules = list(rules)
    sides = np.array([1.0 if rule.sense == "at least" else -1.0 for rule in rules])
    try:
        values = np.array([rule.value for rule in rules], float)
        limits = np.array([rule.limit for rule in rules], float)
    except ValueError:  # some are arrays over variants, and some are not
        values = limits = np.zeros((0, 0))
    if not values.ndim == limits.ndim == 1:
        return [rule for rule in rules if not np.all(rule.ok)]
    met = reaches(sides * values, sides * limits)
    return [rule for rule, fine in zip(rules, met, strict=True) if not fine]


@dataclass(frozen=True)
class NoSuchPoint:
    """A load at a point that the part does not have: `field` is its dotted path, `at` the name there."""

    field: str
    at: str
    known: tuple[str, ...]
    code = "no_such_point"

    def wrong(self) -> str:
        """What is wrong."""
        return f"{self.at!r} is no point of this part"

    @property
    def how(self) -> str:
        """What would be right."""
        near = difflib.get_close_matches(self.at, self.known, 1)
        hint = f"nearest is `{near[0]}`; " if near else ""
        return f"{hint}its points are {', '.join(self.known)}"


@dataclass(frozen=True)
class SameName:
    """A load case by the name of an earlier one: `field` is the dotted path of the later name."""

    field: str
    name: str
    code = "same_name"
    how = "give each load case a name of its own"

    def wrong(self) -> str:
        """What is wrong."""
        return f"an earlier load case is called {self.name!r} too"


def at_least(
    code: str, field: str, value: Any, limit: Any, why: str, how: str, unit: str = "mm"
) -> Rule:
    """A rule with a lower limit; see `Rule`."""
    return Rule(code, field, value, "at least", limit, why, how, unit)


def at_most(
    code: str, field: str, value: Any, limit: Any, why: str, how: str, unit: str = "mm"
) -> Rule:
    """A rule with an upper limit; see `Rule`."""
    return Rule(code, field, value, "at most", limit, why, how, unit)


def none_or_at_least(
    code: str, field: str, value: Any, limit: Any, why: str, how: str, unit: str = "mm"
) -> Rule:
    """A rule with a lower limit for a value that may also be left out by 0; see `Rule`."""
    stated = np.where(np.equal(value, 0.0), limit, value)[()]
    return Rule(code, field, stated, "at least", limit, why, how, unit)
