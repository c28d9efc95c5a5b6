"""What a part is refused for: rules that it breaks, joints, loads that reach no point, and stock that is too thick."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, Protocol

import numpy as np

from parts.core.rules import NoSuchPoint, Rule, SameName, at_most, broken
from parts.core.search.subject import Subject
from parts.inputs.document import dotted
from parts.standards.materials.materials import Material, material

if TYPE_CHECKING:
    from parts.core.clearances import Clearance


class Ruled(Subject, Protocol):
    """A part as its rules see it; `parts.core.part.Part` says what each answer holds."""

    @property
    def material(self) -> Material: ...
    @property
    def form(self) -> str | None: ...

    def rules(self) -> Iterator[Rule]: ...
    def clearances(self) -> Sequence[Clearance]: ...
    def stock_thickness(self) -> Any: ...


class BrokenRules(ValueError):
    """Dimensions that cannot be built or should not be; `.rules` holds every broken rule."""

    def __init__(self, rules: Sequence[Rule | NoSuchPoint | SameName]) -> None:
        self.rules = tuple(rules)
        super().__init__("; ".join(f"{rule.field}: {rule.wrong()}; {rule.how}" for rule in rules))


def refuse_broken(part: Ruled) -> None:
    """Raise `BrokenRules` where a part breaks a rule."""
    for rules_of in (_every_rule, joint_rules):  # a joint is looked at once its sizes can be built
        every = rules_of(part)
        if wrong := broken(every):
            from parts.core.told_rules import told

            raise BrokenRules(told(part, every, wrong, rules_of))


def _every_rule(part: Ruled) -> Sequence[Rule]:
    from parts.core.service import warm_rules

    return [*warm_rules(part), *part.rules()]


def joint_rules(part: Ruled) -> Sequence[Rule]:
    """Every joint goes together at the limits of its sizes, and is no looser than stated."""
    return [rule for one in part.clearances() for rule in one.rules()]


def refuse_too_thick(part: Ruled) -> None:
    """Raise `BrokenRules` where its stock is thicker than its material is listed."""
    rule = _stock_rule(part)
    if not np.all(rule.ok):
        from parts.core.told_rules import of_a_dimension

        raise BrokenRules([of_a_dimension(part, rule, 0, lambda part: [_stock_rule(part)])])


def _stock_rule(part: Ruled) -> Rule:
    listed = material(part.material.name, form=part.form)
    return at_most(
        "stock.thick",
        "material",
        part.stock_thickness(),
        listed.thickness_up_to_mm,
        f"of {listed.name}{f' {part.form}' if part.form else ''} no strength is listed for thicker stock",
        "make it smaller, or choose another material or form",
    )


def refuse_lost_loads(part: Ruled) -> None:
    """Raise `BrokenRules` where a load acts at no point of a part, or two load cases have one name.

    Reports, pages and proofs find a load case by its name.
    """
    known = tuple(part.points())
    names = [case.name for case in part.loads]
    wrong: list[NoSuchPoint | SameName] = [
        NoSuchPoint(dotted(("loads", i, kind, k, "at")), one.at, known)
        for i, case in enumerate(part.loads)
        for kind, stated in case.stated().items()
        for k, one in enumerate(stated)
        if one.at not in known
    ]
    if not wrong:
        twice = [i for i, name in enumerate(names) if name in names[:i]]
        wrong = [SameName(dotted(("loads", i, "name")), names[i]) for i in twice]
    if wrong:
        raise BrokenRules(wrong)
