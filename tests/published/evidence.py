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

`EVIDENCE.md` beside this file is the table of all of them. After adding an example or a method, write it anew:

    python tests/published/evidence.py
"""

from __future__ import annotations

import functools
import importlib
import inspect
import pkgutil
from collections.abc import Callable, Sequence
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


def rows(methods: str = "") -> list[Row]:
    """Work every example of this folder, in order of method and source.

    Args:
        methods [-]: how the dotted names of the methods begin; all where left out.

    Returns:
        [-] one row an example.
    """
    _collect()
    found = (row(e) for e in EXAMPLES.values() if e.method.startswith(methods))
    return sorted(found, key=lambda r: (r.method, r.source, r.example))


def _collect() -> None:
    for path in sorted(Path(__file__).parent.glob("test_*.py")):
        importlib.import_module(path.stem)


def without_example() -> dict[str, list[str]]:
    """Methods of `parts.strength` that no published example works, by module."""
    import parts.strength

    _collect()
    worked = {e.method for e in EXAMPLES.values()}
    found: dict[str, list[str]] = {}
    for info in pkgutil.iter_modules(parts.strength.__path__):
        module = importlib.import_module(f"parts.strength.{info.name}")
        for name, one in vars(module).items():
            marked = inspect.isfunction(one) and hasattr(one, "formula")
            own = marked and one.__module__ == module.__name__ and not name.startswith("_")
            if own and f"{module.__name__}.{name}" not in worked:
                found.setdefault(info.name, []).append(name)
    return {module: sorted(names) for module, names in sorted(found.items())}


HEAD = """# Evidence

Every published worked example that the methods are held against, with what this library gives for it. Written
by `python tests/published/evidence.py`, which works each example anew; the tests fail where a difference
exceeds its tolerance, or where this table is not what they work out. Sources marked "from memory" could not be
looked up.
"""

COLUMNS = (
    "method",
    "example",
    "source",
    "published",
    "ours",
    "unit",
    "difference",
    "allowed, and why",
)


def section(title: str, found: list[Row], drop: str) -> str:
    """One table of rows; `drop` is left out before the names of methods."""
    lines = [f"## {title}", "", _line(COLUMNS), _line(["---"] * len(COLUMNS))]
    for one in found:
        difference = f"{100.0 * one.difference:+.2f} %".replace("-0.00", "0.00").replace(
            "+0.00", "0.00"
        )
        allowed = f"{100.0 * one.tolerance:g} %: {one.why}"
        figures = (f"{one.published:.5g}", f"{one.ours:.5g}", one.unit, difference, allowed)
        lines.append(_line([one.method.removeprefix(drop), one.example, one.source, *figures]))
    return "\n".join([*lines, ""])


def strength_section() -> str:
    """The table of the methods of `parts.strength`."""
    return section("Methods of calculation", rows("parts.strength."), "parts.strength.")


def gaps_section() -> str:
    """The methods without a published example of their own."""
    missing = without_example()
    count = sum(map(len, missing.values()))
    lines = [
        "## Without a published example of their own",
        "",
        f"These {count} methods have none in the tables above. They are held by closed forms written out",
        "in the tests, by identities and limits, or only as a step of a worked method above; for their numbers",
        "the source named in their `@method` stands alone.",
        "",
        _line(("module", "methods")),
        _line(("---", "---")),
    ]
    lines += [_line((module, ", ".join(names))) for module, names in missing.items()]
    return "\n".join([*lines, ""])


def _line(cells: Sequence[str]) -> str:
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def document() -> str:
    """The whole of `EVIDENCE.md`. Solves the examples by finite elements too, which takes a while."""
    import convergence

    elements = section("Finite elements", rows("parts.proof."), "parts.")
    parts = [HEAD, strength_section(), elements, convergence.section(), gaps_section()]
    return "\n".join(parts)


EVIDENCE = Path(__file__).with_name("EVIDENCE.md")

if __name__ == "__main__":
    # The tests import this file by its name; the examples gather there, not in this run of it.
    import evidence

    evidence.EVIDENCE.write_text(evidence.document(), encoding="utf-8")
