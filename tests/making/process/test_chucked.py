"""What a lathe holds a piece by: raw bar first, then what it has turned, never what it is about to turn."""

import re

import pytest
from by_turns import by_turns
from held import faults, plans
from stated import part_of

import parts
from parts.families import families

EACH = [
    (name, k) for name in ("footpeg", "bearing cup", "spacer", "heim-joint turnbuckle")
    for k in range(len(families()[name].examples))
]  # fmt: skip


@pytest.mark.parametrize(("name", "k"), by_turns(EACH, of=4))
def test_jaws_hold_raw_bar_and_then_a_diameter_that_is_there(name, k):
    family = families()[name]
    for one in plans(part_of(family, family.examples[k])):
        solid, turned = one.plan.solid, set(one.plan.bought)
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


@pytest.fixture(scope="module")
def folding():
    data = next(one for one in families()["footpeg"].examples if one["shank"]["type"] == "folding")
    (one,) = plans(families()["footpeg"].model_validate(dict(data)))
    return one


def test_jaws_below_the_middle_of_a_round_do_not_hold_it(folding):
    """Ø34 lying in a vice, its jaws 10 mm up: they push the peg out as they close."""
    tongue = [setup for setup in folding.setups if setup.machine == "mill"]
    assert len(tongue) == 2
    assert all(
        "by Ø34, 85 mm long, in the chuck of a dividing head" in one.holding for one in tongue
    )


def test_a_seat_on_the_lathe_is_bored_where_a_bore_is_open():
    """A spot drill met air, and an end mill was to wind out on a lathe."""
    (cup,) = plans(parts.load("params/hc-126-tail-hinge-cup.yaml"))
    second = cup.setups[1]
    assert faults(cup) == [] and "spot" not in [step.kind for step in second.steps]
    seat = next(step for step in second.steps if step.kind == "counterbore")
    assert seat.tool.startswith("boring bar") and seat.note == "bore to Ø34.20"


def test_both_ends_of_a_tube_are_sawn_on_the_bench():
    """End b was sawn on the mill, with the vent drilled."""
    (tube,) = plans(
        families()["coped tube"].model_validate(dict(families()["coped tube"].examples[3]))
    )
    sawn = {setup.machine for setup in tube.setups for step in setup.steps if step.kind == "saw"}
    assert sawn == {"bench"}


def test_the_bore_of_a_bought_tube_is_not_drilled():
    """A drill of the bore's size was to be run through the tube that has it."""
    family = families()["footpeg"]
    data = next(one for one in family.examples if one["shank"]["type"] == "folding plate")
    tube, _ = plans(part_of(family, data))
    made = {step.kind for setup in tube.setups for step in setup.steps}
    assert "face the end" in made and not made & {"spot", "drill", "bore", "countersink"}
