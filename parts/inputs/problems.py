"""What is wrong with an input file: each problem with its place, and what would be right."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong. `code` is stable; `line` and `column` count from 1, 0 is no place.

    `field` is the dotted path as in `ears[0].thickness`, empty for the file as a whole; `value` is
    what was typed, empty where nothing was; `wrong` and `right` are clauses without a full stop.
    """

    code: str
    file: str
    line: int
    column: int
    field: str
    value: str
    wrong: str
    right: str

    def __post_init__(self) -> None:
        # What was typed may hold anything, also what a terminal obeys.
        longest = {"field": 200, "value": 60, "wrong": 600, "right": 600}
        for name, most in longest.items():
            object.__setattr__(self, name, _one_line(getattr(self, name), most))

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}:{self.column}" if self.line else self.file
        head = f"{place}: {self.field}: " if self.field else f"{place}: "
        value = f" (value {self.value})" if self.value and self.value not in self.wrong else ""
        return f"{head}{self.wrong}{value}" + (f"; {self.right}" if self.right else "")


def _one_line(text: str, most: int) -> str:
    line = "".join(c if c.isprintable() else " " for c in text)
    line = " ".join(line.split())
    return line if len(line) <= most else f"{line[: most - 3]}..."


class InputError(Exception):
    """An input file that cannot be used; `.problems` holds everything found wrong, by line.

    What concerns the file as a whole comes last.
    """

    def __init__(self, problems: Iterable[Problem]) -> None:
        by_line = sorted(problems, key=lambda p: (p.file, p.line == 0, p.line, p.column))
        self.problems = tuple(by_line)
        super().__init__(self.problems)

    def __str__(self) -> str:
        return "\n".join(str(problem) for problem in self.problems)
