"""Tables of values for a sweep: every combination of ranges, or the rows of a CSV file."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np

from parts.inputs.csv_file import csv_lines
from parts.inputs.units import ANGLE, Units
from parts.study.dimension import Dimension, dimension, refusal
from parts.study.stating import Stated
from parts.study.value_list import asked_values

MOST_ROWS = 1_000_000
ROW = "row"
"""Column of a sweep's own file that counts its rows."""
_HEAD = re.compile(r"(?P<path>[^\[\]]+(?:\[\d+\][^\[\]]*)*?)\s*(?:\[(?P<unit>[^\d\]][^\]]*)\])?")


@dataclass(frozen=True)
class Column:
    """One dimension over the rows: `values` in inside units, or the positions of a row in `choices`."""

    dimension: Dimension
    values: np.ndarray
    choices: tuple[Any, ...] = ()

    @property
    def path(self) -> str:
        return self.dimension.path

    @property
    def unit(self) -> str:
        """The unit that the values are written in; empty for a ratio or a designation."""
        kind = self.dimension.kind
        return "" if kind is None else "deg" if kind is ANGLE else kind.inside

    def value(self, row: int) -> Any:
        """The value of a row, inside."""
        return self.choices[self.values[row]] if self.choices else float(self.values[row])

    def shown(self, row: int) -> str:
        """The value of a row as the table writes it, in `unit`."""
        value = self.value(row)
        if self.choices:
            return self.dimension.shown(value)
        return f"{np.degrees(value) if self.dimension.kind is ANGLE else value:.10g}"

    def stated(self, row: int) -> str:
        """The value of a row as a part's file states it."""
        return f"{self.shown(row)} {self.unit}".strip()


def columns_of_ranges(stated: Stated, free: Sequence[str]) -> tuple[Column, ...]:
    """Every combination of the values asked for, the last dimension changing fastest.

    Args:
        stated: the part's file.
        free: for each dimension "PATH=VALUES", as in "ears.thickness=4 mm to 8 mm by 0.5 mm".

    Raises:
        InputError: a dimension is unknown or stands twice, its values cannot be read, or there are too many.
    """
    asked: list[tuple[Dimension, list[Any]]] = []
    for said in free:
        path, equals, text = said.partition("=")
        one = dimension(stated.part, path, stated.file)
        if not equals:
            words = ", ".join(one.words) or one.shown(one.value)
            values = "4 mm to 8 mm by 0.5 mm" if one.kind is not None else words
            example = f"--free '{one.path}={values}'"
            raise refusal(stated.file, one.path, "no_values", f"no values are asked for `{one.path}`",
                          f"write {example}")  # fmt: skip
        asked.append(
            (one, [value for _, value in asked_values(one, text, stated.units, stated.file)])
        )
    _refuse_twice([one.path for one, _ in asked], stated.file)
    count = int(np.prod([len(values) for _, values in asked], dtype=float))
    if count > MOST_ROWS:
        raise refusal(stated.file, "", "too_many", f"these ranges have {count} combinations, where {MOST_ROWS} "
                      "are swept at most", "take fewer values")  # fmt: skip
    places = np.indices([len(values) for _, values in asked]).reshape(len(asked), -1)
    return tuple(_column(one, values, at) for (one, values), at in zip(asked, places, strict=True))


def _column(one: Dimension, values: Sequence[Any], at: np.ndarray) -> Column:
    if one.kind is None:
        return Column(one, at, tuple(values))
    return Column(one, np.asarray(values, float)[at])


def columns_of_file(stated: Stated, table: Path) -> tuple[Column, ...]:
    """The rows of a CSV file whose first line names dimensions.

    A heading may carry the unit of its numbers, as in `ears.thickness [mm]`; without one a number
    takes the unit that the part's file declares, or states its own. A column `row` is passed over.

    Raises:
        InputError: the file cannot be read, names what is no dimension, or a cell is no value.
        OSError: the disk refused.
    """
    lines = csv_lines(table)
    heads = [cell.strip() for cell in lines[0]]
    body = [(i, line) for i, line in enumerate(lines[1:], 2) if any(cell.strip() for cell in line)]
    if not body:
        raise refusal(str(table), "", "empty_table", "the table has no row of values",
                      "write one variant a line below its headings")  # fmt: skip
    if len(body) > MOST_ROWS:
        raise refusal(str(table), "", "too_many", f"the table has {len(body)} rows, where "
                      f"{MOST_ROWS} are swept at most", "split it")  # fmt: skip
    for i, line in body:
        if len(line) != len(heads):
            raise refusal(f"{table}:{i}", "", "ragged", f"this line has {len(line)} cells, where the first has "
                          f"{len(heads)}", "give every line one cell a column")  # fmt: skip
    headed = [(k, _heading(stated, table, head)) for k, head in enumerate(heads) if head != ROW]
    _refuse_twice([one.path for _, (one, _) in headed], str(table))
    return tuple(_read_column(table, body, k, *found) for k, found in headed)


def _heading(stated: Stated, table: Path, head: str) -> tuple[Dimension, Units]:
    """The dimension of a column, and the units of its bare numbers."""
    found = _HEAD.fullmatch(head)
    path, unit = (found["path"], found["unit"]) if found else (head, None)
    one = dimension(stated.part, path, str(table))
    if unit is None or one.kind is None:
        return one, stated.units
    try:
        return one, replace(stated.units, **{one.kind.name: unit.strip()})
    except (ValueError, TypeError):
        raise refusal(str(table), head, "bad_units", f"`{unit}` is no unit of {one.kind.name}",
                      f"units are {one.kind.spelled or 'none'}") from None  # fmt: skip


def _read_column(
    table: Path, body: Sequence[tuple[int, list[str]]], k: int, one: Dimension, units: Units
) -> Column:
    known: dict[str, Any] = {}
    read = []
    for i, line in body:
        text = line[k].strip()
        if text not in known:
            try:
                known[text] = one.read(text, units)
            except ValueError as error:
                raise refusal(f"{table}:{i}", one.path, "bad_value", str(error), "") from None
        read.append(text)
    if one.kind is not None:
        return Column(one, np.array([known[text] for text in read], float))
    place = {text: at for at, text in enumerate(known)}
    return Column(one, np.array([place[text] for text in read]), tuple(known.values()))


def _refuse_twice(paths: Sequence[str], file: str) -> None:
    twice = next((path for path in paths if paths.count(path) > 1), None)
    if twice is not None:
        raise refusal(file, twice, "twice", f"`{twice}` stands twice", "name it once")


def values_at(columns: Sequence[Column], rows: Any) -> Mapping[str, Any]:
    """Numbers by path for some rows, an array each; designations and options are left to the base that has them.

    Args:
        columns: the columns.
        rows: positions of rows, or one position.

    Returns:
        Values by path, as `parts.inputs.variants.with_values` takes them.
    """
    numbers = [one for one in columns if not one.choices]
    if np.ndim(rows) == 0:
        return {one.path: one.value(int(rows)) for one in numbers}
    return {one.path: one.values[rows] for one in numbers}
