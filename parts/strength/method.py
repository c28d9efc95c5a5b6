"""A published method as a value: the function, its formula in symbols and its source.

Each function of `parts.strength` that computes a demand or a capacity is marked with `@method`. Called
plainly it returns plain numbers. Through `work` the same call also keeps what went in, so that a report
can lay the calculation out for redoing by hand; a result may be the input of the next step.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any, TypeAlias, TypeVar

import numpy as np
from numpy.typing import ArrayLike, NDArray

# What every method of this package takes and gives: a number or an array of them.
Number: TypeAlias = float | NDArray[np.float64]

F = TypeVar("F", bound=Callable[..., Any])

_ARGUMENT = re.compile(r"^\s+(\w+) \[([^\]]+)\]: ", re.M)
_RETURNS = re.compile(r"Returns:\s+\[([^\]]+)\]")


def method(
    *,
    formula: str,
    source: str,
    valid: str = "",
    holds: Callable[..., ArrayLike] | None = None,
    shows: Callable[[Any], ArrayLike] | None = None,
) -> Callable[[F], F]:
    """Mark a function as a method of calculation.

    Args:
        formula [-]: the formula in symbols; the symbols are the function's argument names.
        source [-]: document and section, table or page; or "common practice, no source".
        valid [-]: the range of validity in words; empty where the formula holds for every input that
            the function accepts.
        holds [-]: takes the function's own keyword arguments and is True where they lie in that range.
        shows [-]: in its place for a method that can tell its range only by working the case: takes the
            result and is True where that lies in the range.

    Returns:
        [-] the decorator.
    """

    def mark(function: F) -> F:
        function.formula = formula  # type: ignore[attr-defined]
        function.source = source  # type: ignore[attr-defined]
        function.valid = valid  # type: ignore[attr-defined]
        function.shows = shows  # type: ignore[attr-defined]
        function.holds = holds if shows is None else _worked_out(function, shows)  # type: ignore[attr-defined]
        return function

    return mark


def _worked_out(
    function: Callable[..., Any], shows: Callable[[Any], ArrayLike]
) -> Callable[..., ArrayLike]:
    """The range of a method that its result shows, asked for by what goes in."""
    return lambda **given: shows(function(**given))


def units_of(function: Callable[..., Any]) -> tuple[dict[str, str], str]:
    """Read the units of a method from its docstring.

    Args:
        function [-]: a function marked with `method`.

    Returns:
        [-] units by argument name, and the unit of the result.
    """
    text = function.__doc__ or ""
    head, _, tail = text.partition("Returns:")
    found = _RETURNS.search("Returns:" + tail)
    return dict(_ARGUMENT.findall(head)), found.group(1) if found else ""


def range_of(function: Callable[..., Any]) -> str:
    """Name of a method and its range of validity, in words.

    Args:
        function [-]: a function marked with `method`.

    Returns:
        [-] as in "round bar hole (a/D up to 0.45)".
    """
    return f"{function.__name__.replace('_', ' ')} ({function.valid})"  # type: ignore[attr-defined]


@dataclass(frozen=True)
class Worked:
    """One step of a calculation: a method, the numbers put in, and what came out."""

    function: Callable[..., Any]
    inputs: dict[str, Any]
    value: Any

    @property
    def formula(self) -> str:
        return str(self.function.formula)  # type: ignore[attr-defined]

    @property
    def source(self) -> str:
        return str(self.function.source)  # type: ignore[attr-defined]

    @property
    def valid(self) -> str:
        return str(self.function.valid)  # type: ignore[attr-defined]

    @property
    def unit(self) -> str:
        return units_of(self.function)[1]

    @cached_property
    def holds(self) -> Any:
        """True where this step lies in its own range of validity."""
        shows, holds = self.function.shows, self.function.holds  # type: ignore[attr-defined]
        if shows is not None:
            return shows(self.value)
        return True if holds is None else holds(**{k: plain(v) for k, v in self.inputs.items()})

    @cached_property
    def in_range(self) -> Any:
        """True where this step and every step before it lie in their range of validity."""
        own = self.holds
        for step in self.inputs.values():
            if isinstance(step, Worked):
                own = both(own, step.in_range)
        return own

    def steps(self) -> Iterator[Worked]:
        """Every step in the order in which a person works it: inputs before what they go into."""
        for step in self.inputs.values():
            if isinstance(step, Worked):
                yield from step.steps()
        yield self


def both(one: Any, other: Any) -> Any:
    """True where both are; most steps hold for every input, and are not asked."""
    if one is True:
        return other
    return one if other is True else np.logical_and(one, other)


def plain(value: Any) -> Any:
    """The bare number or array of a value that may be a `Worked` step."""
    return value.value if isinstance(value, Worked) else value


def work(function: Callable[..., Any], **inputs: Any) -> Worked:
    """Call a method and keep the calculation.

    Args:
        function [-]: a function marked with `method`.
        inputs [-]: its arguments by name, in the units of its docstring; each may itself be a `Worked`.

    Returns:
        [-] the calculation; `.value` is what the function returned.
    """
    return Worked(function, inputs, function(**{k: plain(v) for k, v in inputs.items()}))
