"""What is wrong with an input file: each problem with its place, and what would be right."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

NO_UNIT = "no_unit"
LONGEST_PATH = 4096
MOST_ALIKE = 3
MOST_LINES = 40
"""Lines that are said of all that is wrong: whoever mends them runs the command again."""
MANY = {NO_UNIT: "values have no unit", "unknown_key": "keys are none here"}
"""Problems that one slip can bring by the hundred, and what is said of those that are not told one by one."""
"""Values without a unit that are named in one file: where `units:` is left out or misspelt, it is all of them."""


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong. `code` is stable; `line` and `column` count from 1, 0 is no place.

    `field` is the dotted path as in `mounts[1].thickness`, empty for the file as a whole; `value` is
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
        file = _one_line(self.file, LONGEST_PATH)
        place = f"{file}:{self.line}:{self.column}" if self.line else file
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
        """A line for each problem, as far as anyone would read; of many that are alike in one file, the first few,
        and how many more and where."""
        lines: list[str] = []
        alike: dict[tuple[str, str, str], list[Problem]] = {}
        for problem in self.problems:
            same = alike.setdefault(_kind(problem), [])
            same.append(problem)
            if problem.code not in MANY or len(same) <= MOST_ALIKE:
                lines.append(str(problem))
        for (file, code, _), same in alike.items():
            if code in MANY and len(same) > MOST_ALIKE:
                where = ", ".join(str(one.line) for one in same[MOST_ALIKE:])
                said = f"{len(same) - MOST_ALIKE} more {MANY[code]}: lines {where}"
                lines.append(f"{_one_line(file, LONGEST_PATH)}: {_one_line(said, 200)}")
        if len(lines) > MOST_LINES:
            more = len(lines) - MOST_LINES
            lines = [*lines[:MOST_LINES], f"at least {more} more problems; mend these first"]
        return "\n".join(lines)


def _kind(problem: Problem) -> tuple[str, str, str]:
    """What is alike in problems that a file has many of."""
    return problem.file, problem.code, "" if problem.code == NO_UNIT else problem.right
