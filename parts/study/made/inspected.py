"""A filled inspection sheet read back: its rows as dimensions of the part, where they are such."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from parts.core.drawing import Drawn
from parts.core.part import Part
from parts.inputs.problems import InputError
from parts.inputs.units import LENGTH, Units, read_number
from parts.inputs.variants import with_values
from parts.making.bench.inspection import Item, items
from parts.study.dimension import Dimension, dimensions, refusal

NUMBER, NAME, READ = "no", "dimension", "measured_mm"
NOT_READ = ("bevel protractor", "thread gauge")
"""Instruments whose rows are not read back: they are judged at the bench."""
PASSES = ("go", "ok", "yes", "x")
"""What may be written in a row that is not read back, or that a plug gauge passed."""
SAME = 1e-6
STEP = 0.01
"""How far a dimension is moved to see whether a row moves with it [mm]."""


@dataclass(frozen=True)
class Row:
    """A row that was measured [mm]: that of the sheet, what was read, and the dimension that it is.

    `dimension` is None of what follows from other dimensions, as the throat of a rod end: it is held against its limits
    alone.
    """

    item: Item
    measured: float
    dimension: Dimension | None
    line: int

    @property
    def outside(self) -> bool:
        """Whether it lies outside the limits of the sheet; never where the sheet states none."""
        return bool(self.measured < self.item.low - SAME or self.measured > self.item.high + SAME)


def is_inspection(heads: Sequence[str]) -> bool:
    """Whether a table is an inspection sheet, by its heading."""
    return {NUMBER, NAME, READ} <= {head.strip().casefold() for head in heads}


def measured_rows(part: Part, table: Path, lines: Sequence[Sequence[str]]) -> list[Row]:
    """The rows of an inspection sheet that were filled in.

    Args:
        part: the part, as it is drawn.
        table: the file, for messages.
        lines: its cells, the heading first.

    Raises:
        InputError: a number is none, or the sheet is of another part.
    """
    heads = [cell.strip().casefold() for cell in lines[0]]
    found = []
    for i, line in enumerate(lines[1:], 2):
        cells = dict(zip(heads, (cell.strip() for cell in line), strict=False))
        if cells.get(READ):
            found.append((i, cells))
    sheet = _sheet(part, [cells for _, cells in found])
    rows = {item.number: item for item in items(part, part.drawn()[sheet])} if part.drawn() else {}
    read = (_row(part, sheet, rows, f"{table}:{i}", i, cells) for i, cells in found)
    return [one for one in read if one is not None]


def _sheet(part: Part, filled: Sequence[Mapping[str, str]]) -> int:
    """The sheet of the part whose rows have the names of the table."""
    wanted = {(cells.get(NUMBER), cells.get(NAME)) for cells in filled}
    alike = [
        len(wanted & {(str(one.number), one.name) for one in items(part, drawn)})
        for drawn in part.drawn()
    ]
    return int(np.argmax(alike)) if alike else 0


def _row(
    part: Part,
    sheet: int,
    rows: Mapping[int, Item],
    place: str,
    line: int,
    cells: Mapping[str, str],
) -> Row | None:
    """A row as it was read; None of one that its gauge passed."""
    number, name = cells.get(NUMBER, ""), cells.get(NAME, "")
    item = rows.get(int(number)) if number.isdigit() else None
    if item is None or item.name != name:
        raise refusal(
            place, NAME, "no_row", f"row {number} is no `{name}` on the inspection sheet of {part.name}",
            "fill in the sheet of this part and revision",
        )  # fmt: skip
    said = cells[READ].casefold()
    if "gauge" in item.tool and said in PASSES:
        return None
    if item.tool in NOT_READ:
        if re.search(r"\d", said):
            return None
        raise refusal(place, READ, "bad_value", f"`{cells[READ]}` does not say that it is good",
                      f"write `go` where the {item.tool} passes it; else it is not to be used")  # fmt: skip
    try:
        measured = float(read_number(cells[READ], LENGTH, Units(length="mm")))
    except ValueError as error:
        raise refusal(place, READ, "bad_value", str(error), "") from None
    if measured < 0.0 or (measured == 0.0 and item.nominal > 0.0):
        raise refusal(
            place, READ, "bad_value", f"`{cells[READ]}` is no size", "write what was measured"
        )
    return Row(item, measured, _dimension(part, sheet, item), line)


def _dimension(part: Part, sheet: int, item: Item) -> Dimension | None:
    """The one dimension of the part that a row is: it has its size, and the row moves as it does."""
    found = []
    for one in dimensions(part):
        if (
            one.kind is not LENGTH
            or one.path.startswith("milling.")
            or abs(float(one.value) - item.nominal) > SAME
        ):
            continue
        if any(
            abs(moved.nominal - item.nominal - STEP) < SAME
            for moved in _moved(part, sheet, item, one)
        ):
            found.append(one)
    return found[0] if len(found) == 1 else None


def _moved(part: Part, sheet: int, item: Item, one: Dimension) -> Iterator[Item]:
    """The row as it is with a dimension moved; nothing where the part cannot be drawn so."""
    try:
        drawn: Sequence[Drawn] = with_values(part, {one.path: float(one.value) + STEP}).drawn()
        yield from (each for each in items(part, drawn[sheet]) if each.number == item.number)
    except (InputError, ValueError, IndexError, KeyError):
        return
