"""A part as it was made: measured sizes in place of stated ones, rules and checks worked again."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

import numpy as np

from parts.core.check import Check
from parts.core.part import Part
from parts.core.search.result import Result
from parts.inputs.problems import InputError, Problem
from parts.inputs.units import LENGTH, Units, read_number
from parts.standards.fits.general_tolerances import Deviation, deviation_of, general_deviations
from parts.study.dimension import Dimension, dimension, dimensions, refusal
from parts.study.inspected import Row, is_inspection, measured_rows
from parts.study.stating import Stated
from parts.study.table import csv_lines

DIMENSION, MEASURED, WITHIN = "dimension", "measured", "within"
HEADS = (DIMENSION, "stated", "least", "greatest", f"{MEASURED} [mm]", f"{WITHIN} [mm]")
_HEAD = re.compile(r"(\w+)\s*(?:\[([^\]]+)\])?")
NOT_ON_THE_PART = ("milling.",)
"""Groups of lengths that are the cutter's, not the part's."""
CALIPER = 0.05
"""Error of a reading where none is stated [mm]; a caliper's, common practice, no source."""


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

    @property
    def ok(self) -> bool:
        """Whether the part as made meets its rules and reaches its factors."""
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
        return tuple(sorted(moved, key=lambda one: one.share))

    @cached_property
    def unless(self) -> tuple[str, ...]:
        """What a reading that is off by its error would turn into a part that falls short, one reading at a time."""
        if not self.ok:
            return ()
        return tuple(self._unless())

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
                        f"{float(worst.factor):.3g} of {float(worst.required):g}"
                    )


def as_made(file: str | Path, table: Path) -> AsMade:
    """Check a part with the sizes that were measured on it.

    Args:
        file: the part's file.
        table: a CSV file with the columns `dimension` and `measured`, and `within` for the error of a reading; the
            unit of their bare numbers as in `measured [mm]`, else that of the part's file. Or the inspection sheet of
            `make --for bench`, filled in. Lines without a measured size are passed over, other columns too.

    Returns:
        The part as made.

    Raises:
        InputError: a file is wrong, a dimension is none, or nothing was measured.
        OSError: the disk refused.
    """
    stated = Stated(file)
    deviations = general_deviations(stated.part.drawing.tolerance)
    lines = csv_lines(table)
    rows = measured_rows(stated.part, table, lines) if lines and is_inspection(lines[0]) else []
    others = tuple(one for one in rows if one.dimension is None)
    sizes = (
        tuple(_inspected(rows, table, deviations))
        if rows
        else tuple(_sizes(stated, table, lines, deviations))
    )
    if not sizes and not others:
        raise refusal(str(table), MEASURED, "nothing_measured", "no line holds a measured size",
                      f"fill in the column `{MEASURED}`")  # fmt: skip
    try:
        part = stated.variant({one.dimension.path: one.at() for one in sizes})
    except InputError as error:
        return AsMade(stated, sizes, None, tuple(error.problems), others)
    return AsMade(stated, sizes, part.check(), (), others)


def _inspected(rows: Sequence[Row], table: Path, deviations: Sequence[Deviation]) -> Iterator[Size]:
    """The dimensions among the rows of an inspection sheet, each with the error of a caliper."""
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
        yield Size(one.dimension, one.measured, CALIPER, deviation_of(value, deviations))


def _not_far_off(place: str, path: str, measured: float, value: float) -> None:
    if abs(measured - value) > max(0.2 * abs(value), 2.0):
        raise refusal(place, path, "far_off", f"{measured:g} mm was measured where {value:g} mm is stated",
                      "check the unit and the line; a part so far off is another part")  # fmt: skip


def _sizes(
    stated: Stated, table: Path, lines: Sequence[Sequence[str]], deviations: Sequence[Deviation]
) -> Iterator[Size]:
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
        place = f"{table}:{i}"
        one = dimension(stated.part, cells[DIMENSION], place)
        if one.kind is not LENGTH:
            raise refusal(place, one.path, "no_length", f"`{one.path}` is no length",
                          "measure lengths and diameters")  # fmt: skip
        if one.path in seen:
            raise refusal(
                place, one.path, "twice", f"`{one.path}` stands twice", "keep one reading of it"
            )
        seen.add(one.path)
        measured = _length(place, one.path, cells[MEASURED], units.get(MEASURED, stated.units))
        error = _length(
            place, one.path, cells.get(WITHIN) or f"{CALIPER} mm", units.get(WITHIN, stated.units)
        )
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
    """A CSV to be filled in: every length of the part with its limits by the drawing's general tolerance [mm]."""
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
    return text.getvalue().encode()
