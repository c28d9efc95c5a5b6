"""A check as a value: what is asked of a part, what it can bear, and by which method that was found."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property, reduce
from typing import Any

import numpy as np

from parts.strength.method import Worked, both, plain


@dataclass(frozen=True)
class Check:
    """Demand against capacity in one failure mode under one load case. Both may be arrays.

    `demand` and `capacity` share `unit`. `formula` and `source` come from the methods behind them, and so does
    what went in; `steps` keeps the calculation for those who want to redo it. `given` is what went in where no
    method is behind them. `once` is what the bench must do first for the check to be about the part; empty for nothing.
    """

    name: str
    mode: str
    load_case: str
    demand: Any
    capacity: Any
    unit: str
    required: Any
    formula: str = ""
    source: str = ""
    given: dict[str, Any] = field(default_factory=dict)
    steps: tuple[Worked, ...] = ()
    note: str = ""
    in_range: Any = True
    once: str = ""

    @cached_property
    def inputs(self) -> dict[str, Any]:
        """What went in, by its symbol; see `inputs_of`."""
        return inputs_of(self.steps) if self.steps else dict(self.given)

    # Tables and rankings ask for these three again and again.
    @cached_property
    def factor(self) -> Any:
        """Factor of safety [-]: capacity over demand; infinite where nothing is asked."""
        demand, capacity = np.asarray(self.demand, float), np.asarray(self.capacity, float)
        with np.errstate(divide="ignore", invalid="ignore"):
            factor = np.where(
                demand > 0.0, capacity / demand, np.where(demand == 0.0, np.inf, np.nan)
            )
        return factor[()]

    @cached_property
    def ok(self) -> Any:
        """True where the factor reaches the required one. A factor that is not a number never does."""
        return (np.asarray(self.factor) >= self.required)[()]

    @cached_property
    def use(self) -> Any:
        """Required factor over factor [-]: how much of the allowable is used; 1 is the limit."""
        with np.errstate(divide="ignore"):
            return (np.asarray(self.required, float) / np.asarray(self.factor))[()]


def use_of(one: Check) -> float:
    """How much of the allowable is used [-]; infinite where the factor is not a number."""
    use = float(one.use)
    return np.inf if np.isnan(use) else use


def worsened(drawn: Check, made: Check) -> tuple[bool, float]:
    """A number to sort changed checks by, the worst first.

    A check that falls short comes before one that holds, and the more it uses the sooner, whatever it used before.
    Checks that hold are sorted by how much of their reserve the change took: from 1.60 to 1.55 of 1.5 is worse than
    from 10 to 8.

    Args:
        drawn: the check before.
        made: the same afterwards.

    Returns:
        Whether it falls short now, and the share of what it uses, or of what was left, that is used up [-]; the latter
        is negative where it gained.
    """
    before, after = use_of(drawn), use_of(made)
    if not made.ok:
        return True, after
    return False, -np.inf if before >= 1.0 else float((after - before) / (1.0 - before))


def governing(checks: Iterable[Check]) -> Check | None:
    """The check that uses the largest share of its allowable, the first of several; None without one."""
    return max(checks, key=use_of, default=None)


def all_hold(checks: Iterable[Check]) -> bool:
    """True where every check reaches its required factor."""
    return all(bool(one.ok) for one in checks)


def check(
    name: str,
    mode: str,
    *,
    load_case: str,
    demand: Any,
    capacity: Any,
    unit: str,
    required: Any,
    note: str = "",
    once: str = "",
) -> Check:
    """Build a check from numbers or from worked methods.

    Args:
        name [-]: what is checked and where, as in "pin, double shear".
        mode [-]: the failure mode, as in "shear".
        load_case [-]: name of the load case; empty where none applies.
        demand [-]: number or `Worked`, in `unit`.
        capacity [-]: number or `Worked`, in `unit`.
        unit [-]: unit of both.
        required [-]: factor of safety asked for.
        note [-]: what a reader must know of this check.
        once [-]: what the bench must do first, as in "its throat is shimmed"; a part holds but on that condition.

    Returns:
        [-] the check. Where a method lies outside its range of validity, the note says so.
    """
    worked = [value for value in (demand, capacity) if isinstance(value, Worked)]
    steps = tuple(step for value in worked for step in value.steps())
    # The shapes of the two need only broadcast against each other.
    in_range = reduce(both, (value.in_range for value in worked), True)
    outside: list[str] = []
    if in_range is not True and not np.all(in_range):
        outside = [
            f"outside the range of its method ({s.valid})" for s in steps if not np.all(s.holds)
        ]
    return Check(
        name=name,
        mode=mode,
        load_case=load_case,
        demand=_number(demand),
        capacity=_number(capacity),
        unit=unit,
        required=required,
        formula="; ".join(dict.fromkeys(s.formula for s in steps)),
        source="; ".join(dict.fromkeys(s.source for s in steps)),
        steps=steps,
        note="; ".join(dict.fromkeys([*([note] if note else []), *outside])),
        in_range=in_range,
        once=once,
    )


def _number(value: Any) -> Any:
    """The bare number or array; an array of one number without a shape is that number."""
    bare = plain(value)
    return bare[()] if isinstance(bare, np.ndarray) else bare


def inputs_of(steps: Sequence[Worked]) -> dict[str, Any]:
    """What went into a calculation, each value by the symbol that its method gives it.

    Several methods may use one symbol. It then stands for the value that was given, else for that of the latest step.
    Other values, where they differ, carry the name of their step, as in `sigma (cycles at)`.

    Args:
        steps [-]: the steps in working order.

    Returns:
        [-] values by symbol, in working order.
    """
    owner: dict[str, Worked] = {}
    for step in steps:
        for symbol, value in step.inputs.items():
            held = owner.get(symbol)
            given = not isinstance(value, Worked)
            if held is None or given or isinstance(held.inputs[symbol], Worked):
                owner[symbol] = step
    found: dict[str, Any] = {}
    for step in steps:
        for symbol, value in step.inputs.items():
            own, bare = plain(value), plain(owner[symbol].inputs[symbol])
            name = symbol
            if not _same(own, bare):
                name = f"{symbol} ({step.function.__name__.strip('_').replace('_', ' ')})"
            # Two calls of one method that differ: the second and later ones are counted.
            label, count = name, 1
            while label in found and not _same(found[label], own):
                count += 1
                label = f"{name[:-1]}, {count})"
            found.setdefault(label, own)
    return found


def _same(one: Any, other: Any) -> bool:
    """Whether two inputs are one: numbers, arrays or words."""
    if one is other:
        return True
    if isinstance(one, str) or isinstance(other, str):
        return bool(isinstance(one, str) and isinstance(other, str) and one == other)
    return np.array_equal(np.asarray(one, float), np.asarray(other, float), equal_nan=True)
