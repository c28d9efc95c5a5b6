"""All load cases worked out together say what each says by itself."""

import numpy as np
import pytest
from by_turns import by_turns

from parts.core.at_once import at_once
from parts.core.check import use_of
from parts.families import families

EXAMPLES = [(name, k) for name, one in sorted(families().items()) for k in range(len(one.examples))]
APART = (
    "to and fro",
    "repeated load",
    "fatigue",
    "aslant",
    "buckling",
    "bent one by one",
    "slant",
    "at full",
    "preload on one side",
)
"""Checks that hang on how often a load comes, on one load alone, or on no load case."""

LINKS = ("heim-joint turnbuckle", "adjustable link")
"""These take the worst of what shakes them sideways, so that all cases together may use more."""


def several(name, k):
    """A part with its loads, the same turned round and less, and one that asks for more."""
    part = families()[name].model_validate(dict(families()[name].examples[k]))
    own = part.loads[0]
    turned = [
        one.model_copy(update={of: tuple(-0.8 * v for v in getattr(one, of)) for of in ("force", "moment")})
        for one in own.forces
    ]  # fmt: skip
    more = part.required.model_copy(update={"on_yield": 2.0, "on_ultimate": 3.0})
    return part.model_copy(update={"loads": [
        *part.loads,
        own.model_copy(update={"name": "the other way", "forces": turned}),
        own.model_copy(update={"name": "asked more", "required": more}),
    ]})  # fmt: skip


@pytest.mark.parametrize(("name", "k"), by_turns(EXAMPLES, of=6))
def test_every_check_uses_what_it_uses_under_its_worst_case(name, k):
    part = several(name, k)
    found = at_once(part)
    assert found is not None
    alone: dict[str, float] = {}
    for case in part.loads:
        for one in part.checks_under(case):
            alone[one.name] = max(alone.get(one.name, 0.0), use_of(one))
    together: dict[str, float] = {}
    for one in found.checks:
        use = np.nan_to_num(np.asarray(one.use, float), nan=np.inf)
        together[one.name] = max(together.get(one.name, 0.0), float(use.max()))
    assert together.keys() <= alone.keys()
    left = [one for one in alone.keys() - together.keys() if not any(way in one for way in APART)]
    assert left == []
    for one, use in together.items():
        assert use >= alone[one] * (1.0 - 1e-9), one
        assert use <= alone[one] * (1.25 if part.family in LINKS else 1.0 + 1e-6), one


def test_the_case_that_falls_short_is_named():
    part = several("clevis", 0)
    assert at_once(part).worst is None
    heavy = part.loads[0].model_copy(update={"name": "heavy", "forces": [
        one.model_copy(update={"force": tuple(40.0 * v for v in one.force)}) for one in part.loads[0].forces
    ]})  # fmt: skip
    part = part.model_copy(update={"loads": [*part.loads, heavy]})
    assert at_once(part).worst.name == "heavy"
    assert any(not one.ok for one in part.checks_under(heavy))


def test_a_part_with_one_case_or_none_is_worked_case_by_case():
    part = families()["spacer"].model_validate(dict(families()["spacer"].example))
    assert at_once(part.model_copy(update={"loads": []})) is None
    assert at_once(part.model_copy(update={"loads": part.loads[:1]})) is None
