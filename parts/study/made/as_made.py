"""A part as it was made: measured sizes in place of stated ones, rules and checks worked again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import numpy as np

from parts.core.check import Check, worsened
from parts.core.part import Part
from parts.core.search.result import Result
from parts.inputs.document import read_document
from parts.inputs.problems import InputError, Problem
from parts.inputs.reading import refers_to_build
from parts.standards.fits.general_tolerances import deviation_of, general_deviations
from parts.study.dimension import refusal
from parts.study.made.fits import Fit, Reading, fits_of, unknown
from parts.study.made.inspected import Row
from parts.study.made.mates import Mate, mates_of
from parts.study.made.record import CALIPER, FOLDER, Record, is_record, read_record, records_of
from parts.study.made.size_table import (
    MEASURED,
    WITHIN,
    Size,
    length_of,
    not_far_off,
    sizes_of_table,
)
from parts.study.stating import Stated
from parts.vehicle.file.loading import found_in_build


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
        return sizes_of_table(stated, table, CALIPER)
    entry = record.entry
    deviations = general_deviations(stated.part.drawing.tolerance)
    read = [sizes_of_table(stated, table.parent / one, entry.within) for one in entry.tables]
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
        one = length_of(stated, path, place)
        if one.path in seen:
            raise refusal(place, one.path, "twice", f"`{one.path}` stands in {', '.join(entry.tables)} too",
                          "keep one reading of it")  # fmt: skip
        not_far_off(place, one.path, measured, float(one.value))
        own.append(Size(one, measured, entry.within, deviation_of(float(one.value), deviations)))
    joints = (
        Reading(size, value, of.get(WITHIN, entry.within), joint)
        for joint, of in entry.fits.items()
        for size, value in of.items()
        if size != WITHIN
    )
    return (*sizes, *own), others, (*readings, *joints)
