"""The table of the sizes that were measured on a piece: blank, and read back, an inspection sheet as well."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from parts.inputs.csv_file import PART, csv_lines, named_once, of_this_part, part_cell
from parts.inputs.problems import NO_UNIT
from parts.inputs.units import LENGTH, BadQuantity, Units, read_number
from parts.standards.fits.general_tolerances import Deviation, deviation_of, general_deviations
from parts.study.dimension import Dimension, dimension, dimensions, refusal
from parts.study.made.fits import Reading, readings_of
from parts.study.made.inspected import Row, is_inspection, measured_rows
from parts.study.stating import Stated

DIMENSION, MEASURED, WITHIN = "dimension", "measured", "within"
HEADS = (PART, DIMENSION, "stated", "least", "greatest", f"{MEASURED} [mm]", f"{WITHIN} [mm]")
_HEAD = re.compile(r"(\w+)\s*(?:\[([^\]]+)\])?")
ROUGHEST = 1.0
"""Error of the roughest reading of a size that is not long [mm]: a rule's; common practice, no source."""
NOT_ON_THE_PART = ("milling.",)
"""Groups of lengths that are the cutter's, not the part's."""
OF_JOINT = " > "
"""Between a joint and the size in it, in the first column of a table."""


@dataclass(frozen=True)
class Size:
    """A length that was measured [mm], with the error of the reading and the general tolerance about the stated one."""

    dimension: Dimension
    measured: float
    error: float
    deviation: float
    """nan where the drawing states no class of ISO 2768 for such a length."""

    @property
    def off(self) -> float:
        """How much larger than stated it came out [mm]."""
        return self.measured - float(self.dimension.value)

    @property
    def outside(self) -> bool:
        """Whether it is surely outside the general tolerance, the error of the reading allowed for."""
        return bool(abs(self.off) - self.error > self.deviation)

    def at(self, shift: float = 0.0) -> str:
        """The measured length as a file states it, shifted by so many errors."""
        return f"{self.measured + shift * self.error:.10g} mm"


def sizes_of_table(
    stated: Stated, table: Path, error: float
) -> tuple[tuple[Size, ...], tuple[Row, ...], tuple[Reading, ...]]:
    """What was measured, from a CSV file.

    Args:
        stated: the part.
        table: the columns `dimension` and `measured`, and `within`; or an inspection sheet.
        error: of a reading that states none [mm].

    Returns:
        Sizes, rows of an inspection sheet that are no size of their own, and sizes of joints.

    Raises:
        InputError: the table is wrong, or of another part.
    """
    deviations = general_deviations(stated.part.drawing.tolerance)
    lines = csv_lines(table, "sizes")
    of_this_part(table, lines, part_cell(stated.part.name, stated.part.revision))
    if is_inspection(lines[0]):
        rows = measured_rows(stated.part, table, lines)
        sizes = tuple(_inspected(rows, table, deviations, error))
        return (
            sizes,
            tuple(one for one in rows if one.dimension is None),
            tuple(readings_of(rows, error)),
        )
    found = list(_sizes(stated, table, lines, deviations, error))
    return (
        tuple(one for one in found if isinstance(one, Size)),
        (),
        tuple(one for one in found if isinstance(one, Reading)),
    )


def length_of(stated: Stated, path: str, place: str) -> Dimension:
    """The length at a path; what is none is refused."""
    one = dimension(stated.part, path, place)
    if one.kind is not LENGTH:
        raise refusal(place, one.path, "no_length", f"`{one.path}` is no length",
                      "measure lengths and diameters")  # fmt: skip
    return one


def _inspected(
    rows: Sequence[Row], table: Path, deviations: Sequence[Deviation], error: float
) -> Iterator[Size]:
    """The dimensions among the rows of an inspection sheet."""
    seen: dict[str, int] = {}
    for one in rows:
        if one.dimension is None:
            continue
        path, value = one.dimension.path, float(one.dimension.value)
        if path in seen:
            raise refusal(
                f"{table}:{one.line}",
                path,
                "twice",
                f"`{path}` stands in line {seen[path]} too",
                "keep one reading of it",
            )
        seen[path] = one.line
        not_far_off(f"{table}:{one.line}", path, one.measured, value)
        yield Size(one.dimension, one.measured, error, deviation_of(value, deviations))


def not_far_off(place: str, path: str, measured: float, value: float) -> None:
    """Refuse a size [mm] that is so far off its stated one that another was measured, or in another unit."""
    if abs(measured - value) > max(0.2 * abs(value), 2.0):
        raise refusal(place, path, "far_off", f"{measured:g} mm was measured where {value:g} mm is stated",
                      "check the unit and the line; a part so far off is another part")  # fmt: skip


def _sizes(
    stated: Stated,
    table: Path,
    lines: Sequence[Sequence[str]],
    deviations: Sequence[Deviation],
    usual: float,
) -> Iterator[Size | Reading]:
    heads, units = _heads(table, lines[0], stated.units)
    named_once(table, heads)
    for head in (DIMENSION, MEASURED):
        if head not in heads:
            raise refusal(f"{table}:1", head, "no_column", f"there is no column `{head}`",
                          f"head the columns {', '.join((DIMENSION, MEASURED, WITHIN))}")  # fmt: skip
    seen: set[str] = set()
    for i, line in enumerate(lines[1:], 2):
        cells = dict(zip(heads, (cell.strip() for cell in line), strict=False))
        if not cells.get(MEASURED):
            continue
        place, said = f"{table}:{i}", cells[DIMENSION]
        joint, of, size = said.partition(OF_JOINT)
        one = None if of else length_of(stated, said, place)
        path = said if one is None else one.path
        if path in seen:
            raise refusal(place, path, "twice", f"`{path}` stands twice", "keep one reading of it")
        seen.add(path)
        measured = _length(
            place, path, MEASURED, cells[MEASURED], units.get(MEASURED, stated.units)
        )
        error = _within(
            place,
            path,
            cells.get(WITHIN) or f"{usual} mm",
            units.get(WITHIN, stated.units),
            measured,
        )
        if one is None:
            yield Reading(size.strip(), measured, error, joint.strip())
            continue
        not_far_off(place, one.path, measured, float(one.value))
        yield Size(one, measured, error, deviation_of(float(one.value), deviations))


def _heads(table: Path, cells: Sequence[str], units: Units) -> tuple[list[str], dict[str, Units]]:
    """The names of the columns, and the units of those that state their own."""
    names, own = [], {}
    for cell in cells:
        found = _HEAD.fullmatch(cell.strip().casefold())
        name, unit = found.groups() if found else (cell.strip(), None)
        names.append(name)
        if unit:
            try:
                own[name] = replace(units, length=unit.strip())
            except (ValueError, TypeError):
                raise refusal(f"{table}:1", cell.strip(), "bad_units", f"`{unit}` is no unit of length",
                              f"units are {LENGTH.spelled}") from None  # fmt: skip
    return names, own


def _length(place: str, path: str, column: str, text: str, units: Units) -> float:
    try:
        return float(read_number(text, LENGTH, units))
    except BadQuantity as error:
        right = error.right
        if error.code == NO_UNIT:
            right = f"write `{text} mm`, or head the column `{column} [mm]`"
        raise refusal(place, path, "bad_value", error.wrong, right) from None


def _within(place: str, path: str, text: str, units: Units, measured: float) -> float:
    """The error of a reading [mm]; the second half of a number with a decimal comma is none."""
    error = _length(place, path, WITHIN, text, units)
    if not 0.0 <= error <= max(ROUGHEST, 0.01 * measured):
        raise refusal(place, path, "bad_value", f"`{text}` is no error of a reading of {measured:g} mm",
                      "write how far it may be off, and decimals with a point")  # fmt: skip
    return error


def blank_csv(file: str | Path) -> bytes:
    """A CSV to be filled in: every length of the part with its limits by the drawing's general tolerance [mm], then the
    sizes of its joints with theirs."""
    stated = Stated(file)
    deviations = general_deviations(stated.part.drawing.tolerance)
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\n")
    rows.writerow(HEADS)
    own = part_cell(stated.part.name, stated.part.revision)
    for one in dimensions(stated.part):
        if one.kind is LENGTH and not one.path.startswith(NOT_ON_THE_PART):
            size = float(one.value)
            around = deviation_of(size, deviations)
            limits = (
                ["", ""]
                if np.isnan(around)
                else [f"{size - around:.6g} mm", f"{size + around:.6g} mm"]
            )
            rows.writerow([own, one.path, f"{size:.6g} mm", *limits, "", ""])
    for joint in stated.part.clearances():
        for each in {s.name: s for s in (*joint.room, *joint.filled)}.values():
            low, high = float(each.least), float(each.most)
            name = f"{joint.joint}{OF_JOINT}{each.name}"
            rows.writerow([own, name, "", f"{low:.6g} mm", f"{high:.6g} mm", "", ""])
    return text.getvalue().encode()
