"""How sure a part is: the chance that a check falls short, which numbers decide it, and what would make it surer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np

from parts.inputs.problems import InputError
from parts.study.dimension import dimension, refusal
from parts.study.stating import Stated, first_problem
from parts.study.sure.chances import Bought, Chance, CheckChance, Sure, Swing, quantile
from parts.study.sure.deciding import Index, sobol
from parts.study.sure.drawing import TOGETHER, Drawing
from parts.study.sure.given import Given, givens

MOST, FEWEST = 100_000, 20_000
"""Draws at most, and at least."""
CHECKS = 100
"""Checks that so many draws are made of; of more checks, fewer draws in proportion."""
WELDED = 20
"""How many times fewer draws are made of a part that is welded: its welds are worked along their whole length."""
LEADING = 8
"""Numbers whose Sobol indices are found one by one; the others count as one."""
MATTERS = 0.02
"""Share of the greatest swing below which a number counts among the others [-]."""
FOLLOWS = 0.01
"""Square of the rank correlation above which the factor follows a number [-]."""
EACH = 1024
"""Draws for each Sobol index; a quarter of it where few are made."""
LOW, HIGH = 0.05, 0.95
"""Shares of a number's spread that the tornado goes to [-]."""
DECIDERS, LEAST_SHARE = 3, 0.01
"""Numbers that are told to decide, at most, and the total index [-] that each has at least."""
THICKER = 1.1
"""How much larger a size is tried that would make the part surer."""


def how_sure(
    file: str | Path,
    loads: Mapping[str, float] | None = None,
    tolerances: Mapping[str, str] | None = None,
    draws: int = 0,
) -> Sure:
    """Draw what is not known exactly of a part, and check each draw.

    Args:
        file: the part's file.
        loads: how far off the load cases are guessed, two standard deviations [-] by name; `""` for all others.
        tolerances: of dimensions by path, as a builder writes them, in place of those of the sheet.
        draws: how many; by the number of checks where 0.

    Returns:
        What was found.

    Raises:
        InputError: the file, a load case or a dimension is wrong, or the part states no load.
    """
    stated = Stated(file)
    if not stated.part.loads:
        raise refusal(str(file), "loads", "no_loads", f"{stated.part.name} states no load case",
                      "state its loads: without them nothing can fall short")  # fmt: skip
    loads = loads or {}
    _refuse_unknown(stated, loads)
    own = _tolerances(stated, tolerances or {})
    drawing = Drawing(stated.part, givens(stated, loads, own))
    return _Study(stated, drawing, draws or _enough(drawing)).found(loads, own)


def _enough(drawing: Drawing) -> int:
    """Draws for what a part's checks cost, in one digit."""
    checks = max(len(drawing.result.checks), CHECKS)
    welded = WELDED if drawing.part.weldment() is not None else 1
    return max(FEWEST // welded, int(float(f"{MOST * CHECKS / checks / welded:.0e}")))


def _refuse_unknown(stated: Stated, loads: Mapping[str, float]) -> None:
    known = [case.name for case in stated.part.loads]
    for name in loads:
        if name and name not in known:
            raise refusal(stated.file, name, "no_case", f"{stated.part.name} has no load case `{name}`",
                          f"its load cases are {', '.join(f'`{one}`' for one in known)}")  # fmt: skip


def _tolerances(stated: Stated, asked: Mapping[str, str]) -> dict[str, float]:
    found = {}
    for path, text in asked.items():
        one = dimension(stated.part, path, stated.file)
        try:
            half = abs(float(one.read(text.lstrip("+-± "), stated.units)))
        except (ValueError, TypeError) as error:
            raise refusal(
                stated.file, one.path, "bad_value", str(error), "write a length, as in `0.05 mm`"
            ) from None
        found[one.path] = half
    return found


class _Study:
    def __init__(self, stated: Stated, drawing: Drawing, draws: int) -> None:
        self.stated, self.drawing, self.draws = stated, drawing, draws

    def found(self, loads: Mapping[str, float], tolerances: Mapping[str, float]) -> Sure:
        random = np.random.default_rng(1)
        shares = random.random((len(self.drawing.givens), self.draws))
        tally = _Tally(self.draws)
        for start in range(0, self.draws, TOGETHER):
            some = slice(start, min(start + TOGETHER, self.draws))
            tally.take(self.drawing, shares[:, some], some)
        checks = self._checks(tally)
        self.lead = checks[0].name, checks[0].case
        swings = self._swings()
        seen = _values(self.drawing.givens, shares[:, : min(TOGETHER, self.draws)])
        indices = self._indices(swings, tally.rows[self.lead].factors, seen)
        worked = {name for name, _ in tally.rows}
        every = dict.fromkeys(one.name for one in self.drawing.result.checks)
        few = self.draws // 5
        deciders = [
            one.name for one in sorted(indices, key=lambda one: -one.total) if _is_one(one)
        ][:DECIDERS]
        return Sure(
            self.stated, self.drawing, tally.least, Chance(int(tally.short.sum()), self.draws),
            Chance(int((~(tally.least >= 1.0)).sum()), self.draws), checks, swings, indices,
            tuple(self._buys(deciders, shares[:, :few], loads, tolerances)),
            tuple(one for one in every if one not in worked), self.drawing.apart(seen),
            Chance(int(tally.no_number.sum()), self.draws), self._why(shares[:, tally.no_number]),
        )  # fmt: skip

    def _why(self, shares: np.ndarray) -> str:
        """The rule that a part of the first of some draws breaks; empty where there is none, or it breaks none."""
        if not shares.shape[1]:
            return ""
        values = _values(self.drawing.givens, shares[:, :1])[:, 0]
        sizes = zip(self.drawing.givens, values, strict=True)
        try:
            self.stated.variant(
                {
                    one.name: f"{self.drawing.stated[one.name] + value:.10g} mm"
                    for one, value in sizes
                    if one.kind == "size"
                }
            )
        except InputError as error:
            return first_problem(error)
        return ""

    def _checks(self, tally: _Tally) -> tuple[CheckChance, ...]:
        drawn = {(one.name, one.load_case): float(one.factor) for one in self.drawing.result.checks}
        found = [
            CheckChance(name, case, drawn.get((name, case), np.nan), one.required, float(np.median(one.factors)),
                        quantile(one.factors, 0.01),
                        Chance(one.short, self.draws), Chance(one.fails, self.draws))
            for (name, case), one in tally.rows.items()
        ]  # fmt: skip
        return tuple(
            sorted(
                found,
                key=lambda one: (
                    -one.fails.count,
                    -one.below_required.count,
                    one.low / one.required,
                ),
            )
        )

    def _least(self, shares: np.ndarray, givens: Sequence[Given] | None = None) -> np.ndarray:
        """The least factor of all checks for shares of the numbers' spreads."""
        return self._factors(_values(givens or self.drawing.givens, shares))

    def _factors(self, values: np.ndarray, lead: bool = False) -> np.ndarray:
        """The least factor of all checks, or that of the leading one, for values of the numbers."""
        found = np.full(values.shape[1], np.inf)
        for start in range(0, len(found), TOGETHER):
            some = slice(start, start + TOGETHER)
            for row in self.drawing.rows(values[:, some], self.lead[1] if lead else None):
                if not lead or (row.name, row.case) == self.lead:
                    found[some] = np.minimum(found[some], _number(row.factor))
        return found

    def _swings(self) -> tuple[Swing, ...]:
        count = len(self.drawing.givens)
        shares = np.full((count, 2 * count), 0.5)
        for k in range(count):
            shares[k, 2 * k : 2 * k + 2] = LOW, HIGH
        least = self._factors(_values(self.drawing.givens, shares), lead=True)
        found = [Swing(one, float(least[2 * k]), float(least[2 * k + 1]))
                 for k, one in enumerate(self.drawing.givens)]  # fmt: skip
        return tuple(sorted(found, key=lambda one: -abs(one.high - one.low)))

    def _indices(
        self, swings: Sequence[Swing], factors: Sequence[float], values: np.ndarray
    ) -> tuple[Index, ...]:
        """Sobol indices of the numbers that lead: by their swing alone, or by how the factor follows them."""
        names = [one.name for one in self.drawing.givens]
        most = abs(swings[0].high - swings[0].low)
        wide = [one.given.name for one in swings if abs(one.high - one.low) > MATTERS * most]
        follow = _shared(np.asarray(factors, float), values)
        close = [names[k] for k in np.argsort(-follow, kind="stable") if follow[k] > FOLLOWS]
        leading = list(dict.fromkeys((*wide[: LEADING // 2], *close, *wide)))[:LEADING]
        groups: list[tuple[str, Sequence[int]]] = [(name, [names.index(name)]) for name in leading]
        if rest := [k for k, name in enumerate(names) if name not in leading]:
            groups.append((f"all {len(rest)} others", rest))

        def level(shares: np.ndarray) -> np.ndarray:
            found = self._factors(_values(self.drawing.givens, shares), lead=True)
            return np.asarray(np.log(np.maximum(found, 1e-9)))

        return sobol(level, groups, len(names),
                     EACH if self.draws >= FEWEST else EACH // 4)  # fmt: skip

    def _buys(
        self,
        deciders: Sequence[str],
        shares: np.ndarray,
        loads: Mapping[str, float],
        tolerances: Mapping[str, float],
    ) -> Iterator[Bought]:
        """What the next steps would buy, with the same draws: each decider known twice as well, and a larger size."""
        yield _bought("as it is", self._least(shares))
        for name in deciders:
            one = next(g for g in self.drawing.givens if g.name == name)
            to = np.sqrt(0.5) if one.kind == "reading" else 0.5
            changed = [g.narrowed(to) if g is one else g for g in self.drawing.givens]
            yield _bought(_NARROWED[one.kind].format(name=name.removeprefix("strength of ").removeprefix("load, ")),
                          self._least(shares, changed))  # fmt: skip
        if (larger := self._larger(loads, tolerances)) is not None:
            said, study = larger
            names = [g.name for g in self.drawing.givens]
            own = np.array([shares[names.index(g.name)] if g.name in names else np.full(shares.shape[1], 0.5)
                            for g in study.drawing.givens])  # fmt: skip
            yield _bought(said, study._least(own))

    def _larger(
        self, loads: Mapping[str, float], tolerances: Mapping[str, float]
    ) -> tuple[str, _Study] | None:
        """The part with the one size larger that makes it surest, read as strictly as its file."""
        sizes = [k for k, one in enumerate(self.drawing.givens) if one.kind == "size"]
        count = len(self.drawing.givens)
        values = np.repeat(
            _values(self.drawing.givens, np.full((count, 1), 0.5)), len(sizes) + 1, axis=1
        )
        for column, k in enumerate(sizes, 1):
            own = self.drawing.stated[self.drawing.givens[k].name]
            values[k, column] += (THICKER - 1.0) * own
        least = self._factors(values, lead=True)
        for column in np.argsort(-least[1:], kind="stable")[:3] + 1:
            if least[column] <= least[0] * 1.005:
                return None
            path = self.drawing.givens[sizes[column - 1]].name
            own = self.drawing.stated[path]
            larger = (
                float(np.ceil(own * THICKER * 2.0 - 1e-9) / 2.0)
                if own >= 4.0
                else float(f"{own * THICKER:.3g}")
            )
            try:
                part = self.stated.variant({path: f"{larger:g} mm"})
            except InputError:
                continue
            other = _Restated(self.stated, part)
            drawing = Drawing(part, givens(other, loads, tolerances), like=self.drawing)
            return f"{path} {larger:g} mm in place of {own:g}", _Study(other, drawing, self.draws)
        return None


class _Restated(Stated):
    """A part's file with another size."""

    def __init__(self, stated: Stated, part: Any) -> None:
        self.__dict__.update(vars(stated))
        self.part = part


_NARROWED = {
    "size": "{name} kept to half its tolerance",
    "reading": "{name} read once more",
    "strength": "{name} from a heat that was tested, known twice as well",
    "load": "{name} measured, known twice as well",
}


def _values(givens: Sequence[Given], shares: np.ndarray) -> np.ndarray:
    found = [one.at(share) for one, share in zip(givens, shares, strict=True)]
    return np.array(found).reshape(len(givens), shares.shape[1])


def _shared(factors: np.ndarray, values: np.ndarray) -> np.ndarray:
    """Square of the correlation of the factor's rank with that of each number [-]; 0 where one never moves."""
    rows = np.argsort(np.argsort(np.vstack([factors, values]), axis=1), axis=1).astype(float)
    same = np.ptp(np.vstack([factors, values]), axis=1) <= 0.0
    found = np.square(np.corrcoef(rows)[0, 1:])
    return np.asarray(np.where(same[1:] | same[0], 0.0, found))


def _number(factor: Any) -> np.ndarray:
    """A factor that is not a number never reaches anything."""
    return np.nan_to_num(np.asarray(factor, float), nan=-np.inf, posinf=np.inf, neginf=-np.inf)


def _bought(said: str, least: np.ndarray) -> Bought:
    return Bought(said, Chance(int((~(least >= 1.0)).sum()), len(least)), quantile(least, 0.001))


def _is_one(one: Index) -> bool:
    return one.numbers == 1 and one.total >= LEAST_SHARE


@dataclass
class _Row:
    required: float
    short: int = 0
    fails: int = 0
    factors: list[float] = field(default_factory=list)


class _Tally:
    """What the draws come to while they are made."""

    def __init__(self, draws: int) -> None:
        self.rows: dict[tuple[str, str], _Row] = {}
        self.least = np.full(draws, np.inf)
        self.short = np.zeros(draws, bool)
        self.no_number = np.zeros(draws, bool)

    def take(self, drawing: Drawing, shares: np.ndarray, some: slice) -> None:
        count = shares.shape[1]
        least = self.least[some]
        for row in drawing.rows(_values(drawing.givens, shares)):
            factor = np.broadcast_to(_number(row.factor), (count,))
            below = factor < np.asarray(row.required, float)
            held = self.rows.setdefault((row.name, row.case), _Row(float(np.max(row.required))))
            held.short += int(below.sum())
            held.fails += int((factor < 1.0).sum())
            if some.start == 0:
                held.factors = factor.tolist()
            np.minimum(least, factor, out=least)
            self.no_number[some] |= np.isnan(np.asarray(row.factor, float))
            self.short[some] |= below
