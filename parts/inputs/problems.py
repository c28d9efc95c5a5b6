"""What is wrong with an input file: each problem with its place, and what would be right."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

NO_UNIT = "no_unit"
MOST_BARE = 3
"""Values without a unit that are named in one file: where `units:` is left out or misspelt, it is all of them."""


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
        """A line for each problem; of many values without a unit in one file, the first few and how many more."""
        lines: list[str] = []
        bare: Counter[str] = Counter()
        for problem in self.problems:
            if problem.code == NO_UNIT:
                bare[problem.file] += 1
            if problem.code != NO_UNIT or bare[problem.file] <= MOST_BARE:
                lines.append(str(problem))
        lines += [
            f"{file}: {many - MOST_BARE} more values have no unit"
            for file, many in bare.items()
            if many > MOST_BARE
        ]
        return "\n".join(lines)
