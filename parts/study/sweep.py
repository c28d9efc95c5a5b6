"""Tables of variants of one part, all checked at once: which hold, by what, and what they weigh."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from parts.core.part import Part
from parts.core.refusing import joint_rules
from parts.core.search.critical import criticals
from parts.core.search.look import looks
from parts.core.search.result import section_checks
from parts.core.service import warmed
from parts.inputs.document import Document
from parts.inputs.problems import InputError
from parts.inputs.reading import with_values
from parts.standards.designation import UnknownDesignation
from parts.standards.materials.materials import Material, material
from parts.study.dimension import refusal
from parts.study.mass import SOLIDS, estimated_mass
from parts.study.size import refuse_unknown
from parts.study.stating import Stated
from parts.study.stress import PathStress, path_stress
from parts.study.stress_fit import FittedStress, fitted_stress
from parts.study.table import Column, columns_of_file, columns_of_ranges, values_at

TOGETHER = 4000
"""Variants that are calculated with in one go: their arrays still fit the processor's store."""
IN_FULL = 8
"""Variants on the efficient edge that are checked in full at most."""

TRIED = 40
"""Rows of the same designations and options of which one must meet the rules, for the others to be looked at."""
ON_THE_PATH = ("critical section", "stress along the load path")
"""How the checks begin that a sweep works as the stress along the load path."""
ONE_BY_ONE = 300
"""Rows of a part whose sections take no arrays that are checked one after another at most."""


@dataclass(frozen=True)
class Swept:
    """A sweep: one value for each row in every array.

    `broken` is the code of the first rule that a row breaks, empty where it meets all; such a row has
    no other figures. `mass` [kg] and the stress along the load path are estimates, as `notes` say.
    `factor`, `required` and `governing` are of the check with the largest share of its allowable used;
    `reserve` is factor over required factor, at least 1 where the row holds.
    `edge` marks the rows that nothing lighter or equal reaches in reserve; `in_full` has the reserve of
    some of them by the full check, nan elsewhere. `asked` is the beginning of a check's name, and `leaves` the least
    reserve of the checks called so; nan where none is asked for.
    """

    stated: Stated
    columns: tuple[Column, ...]
    broken: np.ndarray
    mass: np.ndarray
    factor: np.ndarray
    required: np.ndarray
    governing: np.ndarray
    names: tuple[str, ...]
    edge: np.ndarray
    in_full: np.ndarray
    notes: tuple[str, ...]
    asked: str
    leaves: np.ndarray

    @property
    def reserve(self) -> np.ndarray:
        with np.errstate(divide="ignore", invalid="ignore"):
            return np.asarray(self.factor / self.required)

    @property
    def ok(self) -> np.ndarray:
        """Whether a row meets its rules and reaches its factors."""
        return np.asarray((self.broken == "") & (self.reserve >= 1.0))

    def governed_by(self, row: int) -> str:
        return self.names[self.governing[row]] if self.governing[row] >= 0 else ""

    def part(self, row: int) -> Part:
        """The part of a row, counted from 0, read as strictly as its file.

        Raises:
            InputError: the row breaks a rule.
        """
        return self.stated.variant(self._values(row))

    def document(self, row: int) -> Document:
        """What a file of the row, counted from 0, would state."""
        return self.stated.varied(self._values(row))

    def _values(self, row: int) -> dict[str, Any]:
        values = {one.path: one.stated(row) for one in self.columns}
        return {**values, "name": f"{self.stated.part.name}-row-{row + 1}"}


def sweep_part(
    file: str | Path, free: Sequence[str] = (), table: Path | None = None, asked: str = ""
) -> Swept:
    """Check many variants of a part.

    Args:
        file: the part's file.
        free: ranges, "PATH=VALUES" each; every combination is a row.
        table: a CSV file of rows, in place of ranges.
        asked: beginning of the name of a check, of which each row shows what it leaves.

    Returns:
        The sweep.

    Raises:
        InputError: the file, a range or the table is wrong, or the part has no load case.
        OSError: the disk refused.
    """
    stated = Stated(file)
    if bool(free) == (table is not None):
        raise refusal(str(file), "", "no_variants", "a sweep takes either ranges or a table",
                      "give --free with ranges, or --table with a CSV file")  # fmt: skip
    if not stated.part.loads:
        raise refusal(str(file), "loads", "no_loads", f"{stated.part.name} states no load case, so there is "
                      "nothing to check", "state its loads")  # fmt: skip
    columns = columns_of_file(stated, table) if table else columns_of_ranges(stated, free)
    refuse_unknown(stated, asked)
    return _Sweep(stated, columns, asked).swept()


class _Sweep:
    """The arrays of a sweep while they are filled."""

    def __init__(self, stated: Stated, columns: tuple[Column, ...], asked: str) -> None:
        self.stated, self.columns, self.asked = stated, columns, asked.casefold()
        self.said = [one for one in columns if one.choices]
        self.bases: dict[tuple[int, ...], Part] = {}
        self.count = len(columns[0].values)
        self.broken = np.full(self.count, "", dtype=object)
        self.mass = np.full(self.count, np.nan)
        self.use = np.full(self.count, np.nan)
        self.factor = np.full(self.count, np.nan)
        self.required = np.full(self.count, np.nan)
        self.governing = np.full(self.count, -1)
        self.leaves = np.full(self.count, np.nan)
        self.names: dict[str, int] = {}
        self.worked: set[str] = set()
        self.notes: dict[str, None] = {}

    def swept(self) -> Swept:
        for rows in self._alike():
            self._hold_to_rules(rows)
            rows = rows[self.broken[rows] == ""]
            if len(rows):
                self._check(rows)
        self._say_what_is_left_out()
        reserve = self.factor / self.required
        edge = efficient_edge(self.mass, np.where(self.broken == "", reserve, np.nan))
        return Swept(
            self.stated, self.columns, self.broken, self.mass, self.factor, self.required,
            self.governing, tuple(self.names), edge, self._edge_in_full(edge), tuple(self.notes),
            self.asked, self.leaves,
        )  # fmt: skip

    def _model(self, rows: Any) -> Part:
        """The part with arrays over some rows, or with the numbers of one."""
        base = self.stated.part
        if self.said:
            base = self.bases[self._words(rows if np.ndim(rows) == 0 else rows[0])]
        return with_values(base, values_at(self.columns, rows))

    def _words(self, row: Any) -> tuple[int, ...]:
        """Which designations and options a row has."""
        return tuple(int(one.values[row]) for one in self.said)

    def _has_base(self, rows: np.ndarray) -> bool:
        """Read the part with the designations and options of some rows, as strictly as its file; false where none of
        them gives a part, and the rows are then marked with the rule that they break."""
        for row in rows[:TRIED]:
            try:
                part = self.stated.variant({one.path: one.stated(row) for one in self.columns})
            except InputError as error:
                self.broken[row] = error.problems[0].code
            else:
                self.bases[self._words(row)] = part
                return True
        if len(rows) > TRIED:
            self.broken[rows[TRIED:]] = self.broken[rows[TRIED - 1]]
            self.notes[
                f"of {len(rows)} rows with the same designations and options {TRIED} were read, and none is a part; "
                "the others were not looked at"
            ] = None
        return False

    def _alike(self) -> Iterator[np.ndarray]:
        """Rows of the same designations and of one strength, for strength depends on the thickness."""
        said = [one.values for one in self.said]
        groups = list(_groups(np.stack(said, -1))) if said else [np.arange(self.count)]
        self.groups = len(groups)
        for rows in groups:
            if said and not self._has_base(rows):
                continue
            model = self._model(rows)
            thickness = np.broadcast_to(np.asarray(model.stock_thickness(), float), rows.shape)
            each, where = np.unique(thickness, return_inverse=True)
            metals = [_metal(model, float(one)) for one in each]
            kinds = {metal: k for k, metal in enumerate(dict.fromkeys(metals))}
            of_row = np.array([kinds[metal] for metal in metals])[where]
            for metal, k in kinds.items():
                some = rows[of_row == k]
                if metal is None:
                    self.broken[some] = "material"
                else:
                    yield some

    def _hold_to_rules(self, rows: np.ndarray) -> None:
        with np.errstate(all="ignore"):
            for rule in self._model(rows).rules():
                wrong = ~np.broadcast_to(rule.ok, rows.shape)
                bad = rows[wrong]
                self.broken[bad[self.broken[bad] == ""]] = rule.code
        whole = rows[self.broken[rows] == ""]
        for rule in joint_rules(self._model(whole)) if len(whole) else ():
            bad = whole[~np.broadcast_to(rule.ok, whole.shape) & (self.broken[whole] == "")]
            self.broken[bad] = rule.code

    def _check(self, rows: np.ndarray) -> None:
        stress: PathStress | FittedStress | None = path_stress(
            self._model, rows, self.stated.part.loads
        )
        if stress is None and len(rows) <= ONE_BY_ONE:
            self._check_each(rows)
        elif stress is None:
            stress = fitted_stress(self._model, self.columns, rows)
        if stress is not None:
            self.notes |= dict.fromkeys(stress.notes)
        for start in range(0, len(rows), TOGETHER):
            self._check_some(rows[start : start + TOGETHER], stress)
        self.mass[rows], note = estimated_mass(
            self._model, self.columns, rows, max(SOLIDS // self.groups, 1)
        )
        self.notes[note] = None

    def _check_some(self, rows: np.ndarray, stress: PathStress | FittedStress | None) -> None:
        model = self._model(rows)
        with np.errstate(all="ignore"):
            for case in model.loads:
                for one in model.checks_under(case):
                    self._take(rows, one.name, one.load_case, one.factor, one.required)
            for one in warmed(model, model.standing()):
                self._take(rows, one.name, one.load_case, one.factor, one.required)
            for k, (name, factor, required) in enumerate(
                stress.factors(model, rows) if stress else ()
            ):
                self._take(rows, name, model.loads[k // 2].name, factor, required / model.keeps)

    def _check_each(self, rows: np.ndarray) -> None:
        self.notes["stress along the load path: solved for every row"] = None
        for row in rows:
            model = self._model(row)
            for worst in criticals(looks(model.spans(), model.loads)):
                for one in warmed(model, section_checks(model, worst.case, worst)):
                    self._take(np.array([row]), one.name, one.load_case, one.factor, one.required)

    def _take(self, rows: np.ndarray, name: str, case: str, factor: Any, required: Any) -> None:
        """Keep a check where it uses more than those before; what is no number is never enough."""
        factor, required = (
            np.broadcast_to(np.asarray(v, float), rows.shape) for v in (factor, required)
        )
        use = np.nan_to_num(required / factor, nan=np.inf)
        self.worked.add(name)
        if self.asked and _is_asked(name.casefold(), self.asked):
            self.leaves[rows] = np.fmin(self.leaves[rows], 1.0 / use)
        before = self.use[rows]
        more = np.isnan(before) | (use > before)
        at = rows[more]
        label = f"{name}, {case}"
        self.use[at], self.factor[at], self.required[at] = use[more], factor[more], required[more]
        self.governing[at] = self.names.setdefault(label, len(self.names))

    def _say_what_is_left_out(self) -> None:
        """Checks of the stated part that no row was held against: some take one part at a time alone."""
        checks = self.stated.part.check().checks
        left = [one for one in dict.fromkeys(one.name for one in checks)
                if one not in self.worked and not one.startswith(ON_THE_PATH)]  # fmt: skip
        if left and self.worked:
            said = f"NOT CHECKED in any row: {', '.join(left)}; a row that holds here may fall short by these"
            self.notes[said] = None

    def _edge_in_full(self, edge: np.ndarray) -> np.ndarray:
        """Reserve of rows on the edge by the full check, as even along it as their number allows."""
        found = np.full(self.count, np.nan)
        on = np.flatnonzero(edge)
        for row in (
            on[np.unique(np.linspace(0, len(on) - 1, IN_FULL).astype(int))] if len(on) else ()
        ):
            governing = self._model(row).check().governing
            if governing is not None:
                found[row] = 1.0 / float(governing.use)
        return found


def _is_asked(name: str, asked: str) -> bool:
    """Whether a check of the sweep is one asked for; the critical section goes by the stress along the path."""
    return name.startswith(asked) or (
        name.startswith("stress along the load path") and asked.startswith("critical section")
    )


def efficient_edge(mass: Any, reserve: Any) -> np.ndarray:
    """Rows that no row of at most their mass equals or exceeds in reserve.

    Args:
        mass: [kg] of each row; nan for a row that does not count.
        reserve: [-] of each row; nan for a row that does not count.

    Returns:
        [-] True on the edge.
    """
    mass, reserve = np.asarray(mass, float), np.asarray(reserve, float)
    edge = np.zeros(mass.shape, bool)
    counts = np.flatnonzero(np.isfinite(mass) & ~np.isnan(reserve))
    order = counts[np.lexsort((-reserve[counts], mass[counts]))]
    best = np.maximum.accumulate(reserve[order])
    edge[order] = reserve[order] > np.concatenate([[-np.inf], best[:-1]])
    return edge


def _groups(keys: np.ndarray) -> Iterator[np.ndarray]:
    _, where = np.unique(keys, axis=0, return_inverse=True)
    where = where.reshape(-1)
    for k in range(int(where.max()) + 1):
        yield np.flatnonzero(where == k)


def _metal(model: Part, thickness: float) -> Material | None:
    """The row of strengths for a thickness; None where no strength is known for it."""
    try:
        return material(model.material.name, thickness_mm=thickness, form=model.form)
    except UnknownDesignation:
        return None
