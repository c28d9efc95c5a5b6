"""Published worked examples as evidence: one test each, and one row each of a table for a report.

    @example(
        method="parts.strength.pin.double_shear",
        source="Author, Title, 3rd ed., Example 4-1, p. 120",
        published=41.4,
        unit="MPa",
        tolerance=0.002,
        why="printed to three figures",
    )
    def test_pin_of_example_4_1():
        return double_shear(F=13_000.0, D=20.0)

The function returns our value. The decorator compares it with the printed answer, and keeps the
example so that `rows` can lay all of them out. Convert to the house's units inside the function,
in sight of the reader; state `published` in `unit`, the unit of what the function returns.
"""

from __future__ import annotations

import functools
import importlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any


@dataclass(frozen=True)
class Example:
    """A published example and the function that works it."""

    method: str
    source: str
    published: float
    unit: str
    tolerance: float
    why: str
    name: str
    ours: Callable[[], float]


@dataclass(frozen=True)
class Row:
    """One line of the table of evidence; `difference` is relative to the published value."""

    method: str
    source: str
    example: str
    published: float
    ours: float
    unit: str
    difference: float
    tolerance: float
    why: str


EXAMPLES: dict[str, Example] = {}


def example(
    *, method: str, source: str, published: float, unit: str, tolerance: float, why: str
) -> Callable[[Callable[[], Any]], Callable[[], None]]:
    """Make a test of a function that works a published example.

    Args:
        method [-]: dotted name of the worked method, "parts.strength.<module>.<function>".
        source [-]: document, edition and example, page or table; "from memory" where not looked up.
        published [-]: the printed answer, in `unit`; not zero.
        unit [-]: unit of the printed answer and of ours.
        tolerance [-]: largest relative difference allowed.
        why [-]: why the tolerance is what it is.

    Returns:
        [-] the decorator; what it makes is an ordinary test without a return value.
    """

    def mark(function: Callable[[], Any]) -> Callable[[], None]:
        found = Example(
            method, source, float(published), unit, tolerance, why, function.__name__, function
        )
        EXAMPLES[f"{function.__module__}.{function.__name__}"] = found

        @functools.wraps(function)
        def test() -> None:
            assert hasattr(resolve(method), "formula"), f"{method} is not marked with @method"
            line = row(found)
            assert abs(line.difference) <= tolerance, (
                f"{source}: published {line.published:g} {unit}, ours {line.ours:g} {unit}, "
                f"off by {line.difference:.3%}, allowed {tolerance:.3%} ({why})"
            )

        return test

    return mark


def resolve(dotted: str) -> Any:
    """The function behind a dotted name."""
    module, _, name = dotted.rpartition(".")
    return getattr(importlib.import_module(module), name)


def row(found: Example) -> Row:
    """Work one example."""
    ours = float(found.ours())
    difference = ours / found.published - 1.0
    return Row(
        found.method,
        found.source,
        found.name.removeprefix("test_").replace("_", " "),
        found.published,
        ours,
        found.unit,
        difference,
        found.tolerance,
        found.why,
    )


def rows() -> list[Row]:
    """Work every example of this folder, in order of method and source."""
    for path in sorted(Path(__file__).parent.glob("test_*.py")):
        importlib.import_module(path.stem)
    found = (row(e) for e in EXAMPLES.values())
    return sorted(found, key=lambda r: (r.method, r.source, r.example))
