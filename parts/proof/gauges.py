"""The dial gauges of a proof load: what each must read, and what its readings say of the part."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

import numpy as np

from parts.inputs.csv_file import PART, csv_lines, named_once, of_this_part, part_cell
from parts.inputs.document import content_of
from parts.inputs.problems import InputError, Problem
from parts.inputs.units import FORCE, LENGTH, BadQuantity, Units, read_number

if TYPE_CHECKING:
    from parts.core.part import Part

STEPS = (0.05, 0.25, 0.5, 0.75, 1.0, 0.05)
"""Shares of the proof load: a seating load, four rising steps, and the seating load again for the set [-]."""
GAUGE = 0.01
"""What a dial gauge may be off [mm]; common practice, no source."""
LEAST = 0.02
"""Least reading that a dial gauge tells from nothing [mm]; common practice, no source."""
SET = 0.03
"""Share of the full reading that may remain [-]; common practice, no source."""
OVER = 1.05
"""Share of the proof load that may have been pulled [-]: half of what is kept below yield; common practice, no
source."""
SCALE = 0.02
"""How well a scale says what is pulled [-]; common practice, no source."""
AXES = "xyz"
TABLE = "proof-load.csv"


@dataclass(frozen=True)
class Gauge:
    """A dial gauge that reads along an axis of the part.

    Attributes:
        name: on the sheet.
        place: where its tip stands [mm], in the part's axes.
        axis: 0, 1 or 2 for x, y, z; the tip may stand on either side.
        weights: of the reference gauges, whose readings are taken off; none of a reference.
        reading: at the whole proof load, the references taken off [mm].
        band: share by which it may differ [-].
    """

    name: str
    place: tuple[float, float, float]
    axis: int
    weights: tuple[float, ...]
    reading: float
    band: float

    def limits(self, share: float) -> tuple[float, float]:
        """Between which it must read at a share of the proof load, from the seating load on [mm]."""
        middle = (share - STEPS[0]) * self.reading
        off = abs(middle) * self.band + GAUGE
        return middle - off, middle + off

    @property
    def most_set(self) -> float:
        """What may remain after the load [mm]."""
        return SET * abs(self.reading) + GAUGE


class Expected(Protocol):
    """What is to be read: of which part, the largest pull [N], the gauges, and those that are taken off."""

    @property
    def part_cell(self) -> str: ...
    @property
    def pull(self) -> float: ...
    @property
    def gauges(self) -> tuple[Gauge, ...]: ...
    @property
    def references(self) -> tuple[Gauge, ...]: ...


@dataclass(frozen=True)
class Kept:
    """A test as its `proof-load.json` keeps it, so that readings are judged without solving again."""

    part: str
    revision: str
    case: str
    pull: float
    gauges: tuple[Gauge, ...]
    references: tuple[Gauge, ...]
    limit: Mapping[str, np.ndarray]
    """The force that was proved at each point: what is pulled there, over the share of the limit load [N]."""

    @property
    def part_cell(self) -> str:
        return part_cell(self.part, self.revision)

    def stale(self, part: Part) -> str:
        """Why the test proves nothing of a part as it is stated now; empty where it does."""
        if self.part_cell != part_cell(part.name, part.revision):
            return f"it is of {self.part_cell}, the part is {part_cell(part.name, part.revision)}"
        case = next((one for one in part.loads if one.name == self.case), None)
        if case is None:
            return f"{part.name} has no load case {self.case!r} any more"
        for load in case.forces:
            force, pulled = np.asarray(load.force, float), self.limit.get(load.at)
            size = float(np.linalg.norm(force))
            if pulled is not None and float(pulled @ force) < (1.0 - SCALE) * size**2:
                return (
                    f"{self.case!r} was proved with {np.linalg.norm(pulled):.0f} N at {load.at}, where the part states "
                    f"{size:.0f} N now"
                )
        return ""


def kept(file: Path) -> Kept:
    """Read a test that was kept.

    Args:
        file: `proof-load.json`.

    Raises:
        InputError: it is none.
    """
    try:
        data = json.loads(content_of(file))
        gauges = tuple(
            Gauge(one["name"], tuple(one["place_mm"]), AXES.index(one["along"]), tuple(one["taken_off"]),
                  float(one["reading_mm"]), float(one["band"]))
            for one in data["gauges"]
        )  # fmt: skip
        references = tuple(
            Gauge(one["name"], tuple(one["place_mm"]), AXES.index(one["along"]), (), 0.0, 0.0)
            for one in data["references"]
        )
        limit: dict[str, np.ndarray] = {}
        for one in data["pulls"]:
            force = np.asarray(one["force_N"], float) / float(data["share_of_limit"])
            limit[one["at"]] = limit.get(one["at"], np.zeros(3)) + force
        pull = float(np.linalg.norm(data["force_N"]))
        return Kept(
            data["part"], data["revision"], data["load_case"], pull, gauges, references, limit
        )
    except (KeyError, TypeError, ValueError):
        raise _wrong(f"{file}", 0, "", "this is no test of a proof load",
                     "name the proof-load.json that `oneoff proof-load` wrote") from None  # fmt: skip


@dataclass(frozen=True)
class Verdict:
    """What the readings say: of each gauge what it came to for the whole load, and what remained [mm]."""

    tested: bool
    ok: bool
    lines: tuple[str, ...]
    stiffness: Mapping[str, float]
    sets: Mapping[str, float]

    @property
    def state(self) -> str:
        """Whether it was tested, and held."""
        return (
            ("tested: held" if self.ok else "tested: DID NOT HOLD") if self.tested else "NOT TESTED"
        )


def judged(found: Expected, table: Path) -> Verdict:
    """Hold readings against what was to be read.

    Args:
        found: the test.
        table: the CSV of `blank_csv`, filled in; empty cells are passed over.

    Raises:
        InputError: a cell is no number, or a column or every reading is missing.
    """
    rows = _read(found, table)
    lines, fits, sets = [], {}, {}
    ok, whole = True, True
    for one in found.gauges:
        names = [
            one.name,
            *(ref.name for ref, w in zip(found.references, one.weights, strict=True) if w),
        ]
        known = [row for row in rows if all(name in row for name in names)]
        rising = [row for row in known if row["step"] < len(STEPS)]
        last = [row for row in known if row["step"] == len(STEPS)]
        first = [row for row in known if row["step"] == 1]
        most = max((row["load"] for row in rising), default=0.0)
        if len(rising) < 3 or most < 0.98 * found.pull:
            whole = False
            lines.append(
                f"{one.name}: {len(rising)} steps were read, up to {most:.0f} N of {found.pull:.0f}: NOT TESTED"
            )
            continue
        load = np.array([row["load"] for row in rising])
        net = np.array([_net(found, one, row) for row in rising])
        slope, at_nil = np.polyfit(load, net, 1)
        came = float(slope * (1.0 - STEPS[0]) * found.pull)
        low, high = one.limits(1.0)
        bend = float(np.abs(net - slope * load - at_nil).max())
        straight = bend <= 0.05 * abs(came) + 0.01
        inside = min(low, high) <= came <= max(low, high)
        fits[one.name] = came
        said = f"{one.name}: {came:.3f} mm, {low:.3f} to {high:.3f} asked"
        if not inside:
            said += ": SOFTER" if abs(came) > abs(one.reading) else ": STIFFER"
        if not straight:
            said += f"; NOT STRAIGHT by {bend:.3f} mm"
        if first and last:
            rest = sets[one.name] = abs(_net(found, one, last[0]) - _net(found, one, first[0]))
            said += f"; set {rest:.3f} of {one.most_set:.3f} mm"
            ok &= rest <= one.most_set
            said += "" if rest <= one.most_set else ": TOO MUCH"
        else:
            whole = False
            said += "; the set was NOT READ"
        ok &= inside and straight
        lines.append(said)
    return Verdict(whole, ok and whole, tuple(lines), fits, sets)


def was_filled(table: Path) -> bool:
    """Whether a table of readings holds any; step and load alone are no reading."""
    heads, *lines = csv_lines(table)
    read = [
        i
        for i, head in enumerate(heads)
        if head.partition("[")[0].strip() not in (PART, "step", "load")
    ]
    return any(len(line) > i and line[i].strip() for line in lines for i in read)


def _net(found: Expected, one: Gauge, row: Mapping[str, float]) -> float:
    taken = sum(
        w * row[ref.name] for ref, w in zip(found.references, one.weights, strict=True) if w
    )
    return row[one.name] - taken


def _read(found: Expected, table: Path) -> list[dict[str, float]]:
    lines = csv_lines(table, "proof")
    of_this_part(table, lines, found.part_cell)
    wanted = ["step", "load", *(one.name for one in (*found.references, *found.gauges))]
    heads, units = [], {}
    for cell in lines[0]:
        name, _, unit = cell.strip().partition("[")
        heads.append(name.strip())
        units[name.strip()] = unit.rstrip("] ") or ("N" if name.strip() == "load" else "mm")
    for name in wanted:
        if name not in heads:
            raise _wrong(f"{table}", 1, name, f"there is no column `{name}`",
                         "head the columns step, load [N], and each gauge's name with its unit")  # fmt: skip
    named_once(table, heads)
    rows: list[dict[str, float]] = []
    for i, line in enumerate(lines[1:], 2):
        row = {}
        for head, cell in zip(heads, line, strict=False):
            if head in wanted and cell.strip():
                row[head] = _number(
                    table, i, head, cell.strip(), "" if head == "step" else units[head]
                )
        if not {"step", "load"} <= row.keys() or len(row) < 3:
            continue
        if row["step"] not in range(1, len(STEPS) + 1) or row["step"] in [
            one["step"] for one in rows
        ]:
            raise _wrong(f"{table}", i, "step", f"there is no step {row['step']:g}, or it stands twice",
                         f"number the steps 1 to {len(STEPS)}, as the sheet does")  # fmt: skip
        if row["load"] > OVER * found.pull:
            raise _wrong(f"{table}", i, "load", f"{row['load']:.0f} N was pulled, where the test asks "
                         f"{found.pull:.0f} N: nothing says that the part stayed below yield",
                         "check the unit of the column; a part that was overloaded is not to be used")  # fmt: skip
        rows.append(row)
    if not rows:
        raise _wrong(f"{table}", 0, "", "nothing was read", "fill in a gauge's column")
    return rows


def _number(table: Path, line: int, head: str, cell: str, unit: str) -> float:
    kind = FORCE if head == "load" else LENGTH
    try:
        value = float(cell) if not unit else read_number(cell, kind, Units(**{kind.name: unit}))
    except ValueError as error:
        said = error.wrong if isinstance(error, BadQuantity) else f"`{cell}` is no number"
        raise _wrong(f"{table}", line, f"{head} [{unit}]" if unit else head, said,
                     "write a number in the unit of its column, or leave the cell empty") from None  # fmt: skip
    return float(value)


def _wrong(file: str, line: int, field: str, wrong: str, right: str) -> InputError:
    return InputError(
        [Problem("bad_reading", file, line, 1 if line else 0, field, "", wrong, right)]
    )
