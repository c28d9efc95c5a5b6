"""What a lathe holds a piece by: raw bar first, then what it has turned, never what it is about to turn."""

import re

import pytest
from held import faults, plans
from stated import part_of

from parts.families import families

EACH = [
    (name, k) for name in ("footpeg", "bearing cup", "spacer", "heim-joint turnbuckle")
    for k in range(len(families()[name].examples))
]  # fmt: skip


@pytest.mark.parametrize(("name", "k"), EACH)
def test_jaws_hold_raw_bar_and_then_a_diameter_that_is_there(name, k):
    family = families()[name]
    for one in plans(part_of(family, family.examples[k])):
        solid, turned = one.plan.solid, set()
        assert faults(one) == []
        for n, setup in enumerate(one.setups):
            if setup.machine != "lathe":
                continue
            assert "too little" not in setup.holding
            if n == 0:
                low = min(step.bottom for step in setup.steps if step.kind != "part off")
                assert setup.grip >= 5.0 and setup.low[2] + setup.grip < low + 1e-6
            elif said := re.search(r"soft jaws on Ø([\d.]+)", setup.holding):
                assert any(abs(2.0 * solid.faces[i].radius - float(said[1])) < 0.01 for i in turned)
            turned |= {i for step in setup.steps for i in step.faces}


def test_a_bore_through_a_spacer_is_drilled_with_its_outside_before_it_is_parted_off():
    family = families()["spacer"]
    (one,) = plans(part_of(family, family.examples[0]))
    made = [step.kind for step in one.setups[0].steps]
    assert {"turn", "drill", "part off"} <= set(made) and "drill" not in [
        step.kind for step in one.setups[1].steps
    ]


def test_a_bore_as_wide_as_the_tap_drill_is_that_drill_run_on():
    family = families()["heim-joint turnbuckle"]
    (one,) = plans(part_of(family, family.examples[0]))
    steps = [step for setup in one.setups for step in setup.steps]
    assert not [step for step in steps if step.kind == "recess"]
    assert "the drill of the thread, run on" in [step.note for step in steps]
