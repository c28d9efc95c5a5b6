"""What a builder is told of broken rules: in terms of the dimension that he typed, where that can be."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from typing import Any, Literal

import numpy as np
from pydantic import BaseModel

from parts.core.group import Group
from parts.core.rules import Rule
from parts.inputs.document import Document, Node, dotted
from parts.inputs.quantities import Quantity
from parts.inputs.tracing import sign_at, trace
from parts.inputs.units import ANGLE, LENGTH
from parts.inputs.variants import with_values

_FACTORS = (np.geomspace(0.5, 2.0, 241), np.geomspace(0.1, 10.0, 241), np.geomspace(0.01, 1.0, 241))
"""By how much a dimension is changed to find where a rule is met: near by first."""
_KINDS = {"mm": LENGTH, "deg": ANGLE}

Rules = Callable[[Any], Sequence[Rule]]


def told(part: Any, every: Sequence[Rule], wrong: Sequence[Rule], rules: Rules) -> list[Rule]:
    """Broken rules as a builder is told them.

    Some rules hold a dimension through another number, as the wall that a width leaves. They are turned into the limit
    of that dimension, with all others unchanged. A rule whose value cannot be worked out fails because of another one:
    it is told only where no other is broken. A rule that no value of its field can meet says so, and what else to
    change.

    Args:
        part: the part.
        every: all its rules.
        wrong: those that are broken.
        rules: gives all rules of a part with some dimensions replaced by arrays.
    """
    known = [rule for rule in wrong if rule.worked_out] or list(wrong)
    found = []
    for rule in known:
        value, sign = sign_at(part, rule.field)
        if rule.below(sign) and _same(value, rule.value):
            found.append(replace(rule, met_by_none=True))
        elif value is not None and _same(value, rule.value):
            found.append(rule)
        elif value is None:
            found.append(replace(rule, through=True))  # it names a designation, a choice or a group
        else:
            found.append(of_a_dimension(part, rule, every.index(rule), rules))
    others = dict.fromkeys(f"`{rule.field}`" for rule in found if not rule.met_by_none)
    how = (
        f"put {' and '.join(list(others)[:3])} right first"
        if others
        else "change the dimensions around it"
    )
    return [replace(rule, how=how) if rule.met_by_none else rule for rule in found]


def _same(value: Any, other: Any) -> bool:
    return value is not None and bool(np.all(np.isclose(value, other, rtol=1e-9, atol=1e-12)))


def of_a_dimension(part: Any, rule: Rule, index: int, rules: Rules) -> Rule:
    """A rule as the limit of the dimension that it names. Where no value of it will do, the rule names a neighbour of
    it that will; where the file does not state it, the stated dimension that must change least or that has the same
    value. Else the rule stays as it is."""
    kind, every = _KINDS.get(rule.unit), list(_dimensions(part))
    own = [one for one in every if one[0] == rule.field]
    alike = [one for one in every if one[2] is kind]
    group = rule.field.rpartition(".")[0]
    beside = [one for one in alike if own and one[0].rpartition(".")[0] == group and one not in own]
    for could in (own or alike, beside):
        tried = (
            (path, value, _nearest(part, path, value, (index, rule.code), rules))
            for path, value, _ in could
        )
        found = [
            (abs(math.log(limit / value)), path, value, limit)
            for path, value, limit in tried
            if limit is not None
        ]
        if found and (could is not beside or len(found) == 1):
            _, path, value, limit = min(found)
            sense: Literal["at least", "at most"] = "at least" if limit > value else "at most"
            return replace(
                rule, sense=sense, field=path, value=value, limit=limit, unit=_unit(part, path)
            )
    same = [path for path, value, _ in alike if not own and _same(value, rule.value)]
    return replace(rule, field=same[0]) if len(same) == 1 else replace(rule, through=True)


def _unit(part: Any, path: str) -> str:
    kind = next(kind for name, _, kind in _dimensions(part) if name == path)
    return "deg" if kind is ANGLE else ("" if kind.inside == "-" else str(kind.inside))


def _nearest(part: Any, path: str, value: float, at: tuple[int, str], rules: Rules) -> float | None:
    """The value of a dimension nearest to its own that meets a rule, rounded to its safe side."""

    index, code = at

    def met(values: Any) -> Any:
        with np.errstate(all="ignore"):  # of dimensions tried, many are absurd
            found = rules(with_values(part, {path: values}))[index]
            if found.code != code:
                raise LookupError("the rules are others with these values")
            return np.broadcast_to(found.ok, np.shape(values))

    for factors in _FACTORS:
        try:
            fine = met(value * factors)
            if not fine.any():
                continue
            far = np.abs(np.log(factors))
            best = np.argmin(np.where(fine, far, np.inf))
            step = factors[1] / factors[0]
            within = (
                value
                * factors[best]
                * np.geomspace(1.0, step if factors[best] < 1.0 else 1.0 / step, 201)
            )
            reached = float(within[met(within)][-1])
            rounded = np.array([float(f"{reached:.4g}"), _rounded(reached, value)])
            return next((float(one) for one in rounded[met(rounded)]), None)
        except (ValueError, TypeError, ArithmeticError, LookupError):
            continue
    return None


def _rounded(limit: float, value: float) -> float:
    """A limit to four digits, away from the value."""
    place = 10.0 ** (math.floor(math.log10(abs(limit))) - 3)
    up = (limit > value) == (limit > 0.0)
    return float(f"{(math.ceil if up else math.floor)(limit / place) * place:.4g}")


def _dimensions(
    model: BaseModel, around: tuple[str | int, ...] = ()
) -> Iterator[tuple[str, float, Any]]:
    """The dimensions that a file states: dotted path, value and kind; none of a load."""
    given = model.given() if isinstance(model, Group) else ()
    for name in sorted(model.model_fields_set.difference(given)):
        value, path = getattr(model, name), (*around, name)
        if isinstance(value, BaseModel):
            yield from _dimensions(value, path)
        elif isinstance(value, list) and path != ("loads",):
            for i, one in enumerate(value):
                if isinstance(one, BaseModel):
                    yield from _dimensions(one, (*path, i))
        elif isinstance(value, float) and value:
            mark = trace(type(model), (name,), Document("", Node(0, 0))).mark(Quantity)
            if mark is not None:
                yield dotted(path), value, mark.kind
