"""A part as it was made: measured sizes in place of stated ones, rules and checks worked again."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

import numpy as np

from parts.core.check import Check, worsened
from parts.core.part import Part
from parts.core.search.result import Result
from parts.inputs.document import read_document
from parts.inputs.problems import InputError, Problem
from parts.inputs.reading import refers_to_build
from parts.inputs.units import LENGTH, Units, read_number
from parts.standards.fits.general_tolerances import Deviation, deviation_of, general_deviations
from parts.study.dimension import Dimension, dimension, dimensions, refusal
from parts.study.made.fits import Fit, Reading, fits_of, readings_of, unknown
from parts.study.made.inspected import Row, is_inspection, measured_rows
from parts.study.made.mates import Mate, mates_of
from parts.study.made.record import CALIPER, FOLDER, Record, is_record, read_record, records_of
from parts.study.stating import Stated
from parts.study.table import csv_lines
from parts.vehicle.file.loading import found_in_build

DIMENSION, MEASURED, WITHIN = "dimension", "measured", "within"
HEADS = (DIMENSION, "stated", "least", "greatest", f"{MEASURED} [mm]", f"{WITHIN} [mm]")
_HEAD = re.compile(r"(\w+)\s*(?:\[([^\]]+)\])?")
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


@dataclass(frozen=True)
class Change:
    """A check of the part as drawn and as made."""

    drawn: Check
    made: Check

    @property
    def share(self) -> float:
        """Reserve as made over reserve as drawn [-]."""
        with np.errstate(divide="ignore", invalid="ignore"):
            share = float(np.divide(self.drawn.use, self.made.use))
        return 1.0 if np.isnan(share) and self.drawn.use == self.made.use else share


@dataclass(frozen=True)
class AsMade:
    """What became of a part. `result` is None, and `broken` says why, where the sizes break its rules."""

    stated: Stated
    sizes: tuple[Size, ...]
    result: Result[Part] | None
    broken: tuple[Problem, ...]
    others: tuple[Row, ...] = ()
    """Rows of an inspection sheet that are no dimension of their own, held against their limits."""
    readings: tuple[Reading, ...] = ()
    """Measured sizes of joints."""
    record: Record | None = None

    @cached_property
    def fits(self) -> tuple[Fit, ...]:
        """The joints of which a size was measured."""
        part = None if self.result is None else self.result.part
        return fits_of(self.stated.part, part, self.readings, self._holds)

    @cached_property
    def mates(self) -> tuple[Mate, ...]:
        """Other parts of its build that its sizes reach; none where it is of no build, or breaks its rules."""
        document = read_document(self.stated.file)
        if self.result is None or not refers_to_build(document):
            return ()
        build, name = found_in_build(Path(self.stated.file), document)
        return mates_of(build, name, self._values, self.readings)

    @property
    def _values(self) -> dict[str, str]:
        return {one.dimension.path: one.at() for one in self.sizes}

    def _holds(self, values: Mapping[str, str]) -> bool:
        return self.stated.variant({**self._values, **values}).check().ok

    @property
    def ok(self) -> bool:
        """Whether the part as made meets its rules and reaches its factors, its joints go together, and its mates
        stand."""
        return self.holds and all(one.ok for one in (*self.fits, *self.mates))

    @property
    def holds(self) -> bool:
        """Whether the part by itself meets its rules and reaches its factors."""
        return self.result is not None and self.result.ok

    @cached_property
    def drawn(self) -> Result[Part]:
        return self.stated.part.check()

    @cached_property
    def changes(self) -> tuple[Change, ...]:
        """The checks that both have and that moved, what got worst first."""
        if self.result is None:
            return ()
        before = {(one.name, one.load_case): one for one in self.drawn.checks}
        both = [
            Change(before[key], one)
            for one in self.result.checks
            if (key := (one.name, one.load_case)) in before
        ]
        moved = [one for one in both if abs(one.share - 1.0) > 1e-6]
        return tuple(sorted(moved, key=lambda one: worsened(one.drawn, one.made), reverse=True))

    @cached_property
    def unless(self) -> tuple[str, ...]:
        """What a reading that is off by its error would turn into a part that falls short, one reading at a time."""
        return tuple(self._unless()) if self.holds else ()

    def _unless(self) -> Iterator[str]:
        for one in self.sizes:
            for shift in (-1.0, 1.0):
                values = {other.dimension.path: other.at(shift if other is one else 0.0)
                          for other in self.sizes}  # fmt: skip
                try:
                    found = self.stated.variant(values).check()
                except InputError as error:
                    yield f"{one.dimension.path} is {one.at(shift)}: {error.problems[0].wrong}"
                    continue
                if not found.ok and found.governing is not None:
                    worst = found.governing
                    yield (
                        f"{one.dimension.path} is {one.at(shift)}: {worst.name} is then "
                        f"{float(worst.factor):.5g} of {float(worst.required):g}"
                    )


def as_made(file: str | Path, table: Path | None = None) -> AsMade:
    """Check a part with the sizes that were measured on it.

    Args:
        file: the part's file.
        table: the record of a piece (YAML); or a CSV file with the columns `dimension` and `measured`, and `within` for
            the error of a reading; the unit of their bare numbers as in `measured [mm]`, else that of the part's file.
            Or the inspection sheet of `make --for bench`, filled in. Lines without a measured size are passed over,
            other columns too. The record beside the part's file where None.

    Returns:
        The part as made.

    Raises:
        InputError: a file is wrong, a dimension is none, or nothing was measured.
        OSError: the disk refused.
    """
    stated = Stated(file)
    if table is None:
        known = records_of(file, stated.part)
        if not known:
            raise refusal(str(file), "", "no_record", f"there is no record of {stated.part.name} as it was made",
                          f"name a CSV, or write {FOLDER}/{stated.part.name}-{stated.part.revision}.yaml")  # fmt: skip
        table = known[0]
    record = read_record(table, stated.part) if is_record(table) else None
    sizes, others, readings = _read(stated, table, record)
    if not (sizes or others or readings) and record is None:
        raise refusal(str(table), MEASURED, "nothing_measured", "no line holds a measured size",
                      f"fill in the column `{MEASURED}`")  # fmt: skip
    if (wrong := unknown(stated.part, readings)) is not None:
        joints = ", ".join(f"`{one.joint}`" for one in stated.part.clearances())
        raise refusal(str(table), wrong.joint, "no_joint", f"{stated.part.name} has no `{wrong.size}` in a joint of "
                      "that name", f"its joints are {joints}" if joints else "it has no joints")  # fmt: skip
    try:
        part = stated.variant({one.dimension.path: one.at() for one in sizes})
    except InputError as error:
        return AsMade(stated, sizes, None, tuple(error.problems), others, readings, record)
    return AsMade(stated, sizes, part.check(), (), others, readings, record)


def _read(
    stated: Stated, table: Path, record: Record | None
) -> tuple[tuple[Size, ...], tuple[Row, ...], tuple[Reading, ...]]:
    """Sizes, rows that are no size of their own, and sizes of joints."""
    if record is None:
        return _of_table(stated, table, CALIPER)
    entry = record.entry
    deviations = general_deviations(stated.part.drawing.tolerance)
    read = [_of_table(stated, table.parent / one, entry.within) for one in entry.tables]
    sizes, others, readings = (tuple(each for one in read for each in one[k]) for k in range(3))
    seen = {one.dimension.path for one in sizes}
    if len(seen) < len(sizes):
        paths = [one.dimension.path for one in sizes]
        path = next(one for one in paths if paths.count(one) > 1)
        raise refusal(record.place("table"), path, "twice", f"`{path}` stands in two tables",
                      "keep one reading of it")  # fmt: skip
    own = []
    for path, measured in entry.sizes.items():
        place = record.place("sizes", path)
        one = _length_of(stated, path, place)
        if one.path in seen:
            raise refusal(place, one.path, "twice", f"`{one.path}` stands in {', '.join(entry.tables)} too",
                          "keep one reading of it")  # fmt: skip
        _not_far_off(place, one.path, measured, float(one.value))
        own.append(Size(one, measured, entry.within, deviation_of(float(one.value), deviations)))
    joints = (
        Reading(size, value, of.get(WITHIN, entry.within), joint)
        for joint, of in entry.fits.items()
        for size, value in of.items()
        if size != WITHIN
    )
    return (*sizes, *own), others, (*readings, *joints)


def _of_table(
    stated: Stated, table: Path, error: float
) -> tuple[tuple[Size, ...], tuple[Row, ...], tuple[Reading, ...]]:
    deviations = general_deviations(stated.part.drawing.tolerance)
    lines = csv_lines(table)
    rows = measured_rows(stated.part, table, lines) if lines and is_inspection(lines[0]) else []
    if rows:
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


def _length_of(stated: Stated, path: str, place: str) -> Dimension:
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
        _not_far_off(f"{table}:{one.line}", path, one.measured, value)
        yield Size(one.dimension, one.measured, error, deviation_of(value, deviations))


def _not_far_off(place: str, path: str, measured: float, value: float) -> None:
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
    heads, units = _heads(table, lines[0] if lines else [], stated.units)
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
        one = None if of else _length_of(stated, said, place)
        path = said if one is None else one.path
        if path in seen:
            raise refusal(place, path, "twice", f"`{path}` stands twice", "keep one reading of it")
        seen.add(path)
        measured = _length(place, path, cells[MEASURED], units.get(MEASURED, stated.units))
        error = _length(
            place, path, cells.get(WITHIN) or f"{usual} mm", units.get(WITHIN, stated.units)
        )
        if one is None:
            yield Reading(size.strip(), measured, error, joint.strip())
            continue
        _not_far_off(place, one.path, measured, float(one.value))
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


def _length(place: str, path: str, text: str, units: Units) -> float:
    try:
        return float(read_number(text, LENGTH, units))
    except ValueError as error:
        raise refusal(place, path, "bad_value", str(error), "") from None


def blank_csv(file: str | Path) -> bytes:
    """A CSV to be filled in: every length of the part with its limits by the drawing's general tolerance [mm], then the
    sizes of its joints with theirs."""
    stated = Stated(file)
    deviations = general_deviations(stated.part.drawing.tolerance)
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\n")
    rows.writerow(HEADS)
    for one in dimensions(stated.part):
        if one.kind is LENGTH and not one.path.startswith(NOT_ON_THE_PART):
            size = float(one.value)
            around = deviation_of(size, deviations)
            limits = (
                ["", ""]
                if np.isnan(around)
                else [f"{size - around:.6g} mm", f"{size + around:.6g} mm"]
            )
            rows.writerow([one.path, f"{size:.6g} mm", *limits, "", ""])
    for joint in stated.part.clearances():
        for each in {s.name: s for s in (*joint.room, *joint.filled)}.values():
            low, high = float(each.least), float(each.most)
            name = f"{joint.joint}{OF_JOINT}{each.name}"
            rows.writerow([name, "", f"{low:.6g} mm", f"{high:.6g} mm", "", ""])
    return text.getvalue().encode()
