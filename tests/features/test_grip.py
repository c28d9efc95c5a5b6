"""A bolt for a stack: dash numbers and lengths by hand, and what no length of a size goes with."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from parts.core.clearances import usual_off
from parts.features.bolts.grip import (
    Joint,
    choose_bolt,
    grip_rules,
    length_rule,
    plain_shank,
    plain_under,
    thread_left,
)
from parts.report.lookup import look_up
from parts.standards.designation import UnknownDesignation
from parts.standards.fasteners.fasteners import bolt, nut, washer

INCH = 25.4
SIZES = ("AN3", "AN6", "NAS6606", "M8 8.8", "M10 10.9", "M10x1.25 12.9 socket", "3/8-24 grade 8")


def codes(joint: Joint, stack, **more) -> list[str]:
    return [rule.code for rule in grip_rules("x", joint, stack, **more) if not np.all(rule.ok)]


@pytest.mark.parametrize(
    ("stack_in", "dash", "washers"),
    # Published grips of AN6: -13A 13/16, -14A 15/16, -15A 1-1/16. A stack as thick as the grip takes one
    # washer under the nut; one 1/16 in thinner takes two of them, 0.063 in each.
    [(15 / 16, "AN6-14A", 1), (14 / 16, "AN6-14A", 2), (17 / 16, "AN6-15A", 1)],
)
def test_dash_number_for_a_stack(stack_in, dash, washers) -> None:
    joint = choose_bolt("AN6", stack_in * INCH)
    assert joint.bolt.designation == dash
    assert joint.under_head + joint.under_nut == washers


def test_a_nut_with_a_split_pin_takes_the_drilled_bolt() -> None:
    assert choose_bolt("AN6", 15 / 16 * INCH, nut_form="hex").bolt.designation == "AN6-14"


def test_metric_length_for_a_clevis() -> None:
    """M10 through ears of 8 and a ball of 14: the last shear plane lies 22 mm in, the stack is 30 mm.

    ISO 4014: b = 2 d + 6 = 26, so M10x60 has l_g = 34 and l_s = 34 - 5 x 1.5 = 26.5 mm, over 22. Its nut
    clamps from 34 mm on, and the stack may be 0.2 mm thinner (ISO 2768-m): three washers of 2 mm, for two make
    33.8. M10x55 has l_s = 21.5, too little.
    """
    joint = choose_bolt("M10 10.9", 30.0, last_plane=22.0)
    assert joint.bolt.designation == "M10x60 10.9"
    assert plain_shank(joint.bolt) == pytest.approx(60 - 26 - 5 * 1.5)
    assert joint.under_head + joint.under_nut == 3
    (left,) = thread_left("pin", "pin.bolt", joint, 30.0)
    assert (float(left.least), float(left.greatest)) == pytest.approx((1.8, 9.7))
    shorter = Joint(bolt("M10x55 10.9"), joint.nut, joint.washer, 0, 2)
    assert codes(shorter, 30.0, last_plane=22.0) == ["grip.short"]


def test_a_joint_in_tension_alone_takes_a_bolt_threaded_to_the_head() -> None:
    """Stack 20, washer 1.6, nut 9.5, one pitch 1.25: 32.35 mm, so 35."""
    assert choose_bolt("M8 8.8", 20.0, last_plane=0.0).bolt.designation == "M8x35 8.8"


@pytest.mark.parametrize("size", SIZES)
def test_many_stacks_are_held_as_one_is(size) -> None:
    stacks = np.linspace(1.0, 320.0, 30)
    for share in (0.0, 0.7, None):
        planes = None if share is None else share * stacks
        together = length_rule("x", size, stacks, planes).ok
        each = [
            bool(length_rule("x", size, stack, None if share is None else share * stack).ok)
            for stack in stacks
        ]
        assert list(together) == each and any(each) and not all(each)
    across = length_rule("x", size, 30.0, np.array([0.0, 10.0, 300.0])).ok
    assert across[0] and not across[2]


def test_each_rule_of_a_joint() -> None:
    joint = Joint(
        bolt("AN6-14A"), nut("3/8-24", "nylon insert"), washer("3/8-24", "aircraft"), 0, 1
    )
    grip, thick, pitch = 15 / 16 * INCH, 0.063 * INCH, INCH / 24
    assert codes(joint, grip) == []
    assert codes(joint, grip + pitch + 0.01) == ["grip.short"]
    assert codes(joint, grip - thick - 0.01) == ["grip.long"]
    # 1.578 long less nut 0.469, washer 0.063 and one pitch: a stack of 1.004 in at the most.
    longest = joint.bolt.length - 0.469 * INCH - thick - pitch
    assert "grip.nut" in codes(joint, longest + 0.01, last_plane=0.0)
    assert "grip.nut" not in codes(joint, longest - 0.01, last_plane=0.0)
    # A washer under the head draws the shank out of the hole.
    drawn = Joint(joint.bolt, joint.nut, joint.washer, 1, 1)
    assert codes(drawn, grip) == ["grip.short"]


def test_arrays_equal_one_at_a_time() -> None:
    joint = choose_bolt("AN6", 23.8)
    stacks = np.linspace(15.0, 35.0, 21)
    for whole in grip_rules("x", joint, stacks):
        single = [
            next(r for r in grip_rules("x", joint, s) if r.code == whole.code).ok for s in stacks
        ]
        assert list(np.broadcast_to(whole.ok, stacks.shape)) == [bool(ok) for ok in single]


@given(st.sampled_from(SIZES), st.floats(5.0, 120.0), st.floats(0.0, 1.0))
def test_a_chosen_bolt_keeps_its_rules_and_none_shorter_does(size, stack, share) -> None:
    try:
        joint = choose_bolt(size, stack, last_plane=share * stack)
    except UnknownDesignation as refused:
        assert refused.nearest
        assume(False)
    plane, off = share * stack, usual_off(stack)
    limits = (stack - off, stack, stack + off)
    assert [codes(joint, one, last_plane=plane) for one in limits] == [[], [], []]
    assert joint.under_nut >= 1 and joint.under_head <= 1
    fewer = Joint(joint.bolt, joint.nut, joint.washer, 0, joint.under_head + joint.under_nut - 1)
    if fewer.under_nut:
        assert any(codes(fewer, one, last_plane=plane) for one in limits)


@pytest.mark.parametrize(
    ("size", "stack", "near"),
    [("M10 10.9", 30.0, "M10x"), ("AN6", 500.0, "AN6-80"), ("AN8", 20.0, "NAS6608"), ("AN66", 20.0, "AN10"),
     ("M8", 20.0, "8.8"), ("AN6-14", 20.0, "AN6"), ("spoke", 20.0, "AN6")],
)  # fmt: skip
def test_refusals_name_what_is_near(size, stack, near) -> None:
    with pytest.raises(UnknownDesignation, match=near):
        choose_bolt(size, stack)


def test_bought_hardware_can_be_looked_up() -> None:
    for size in ("AN6", "M10 10.9"):
        bolt_, nut_, washers = choose_bolt(size, 30.0, last_plane=20.0).bought("the ears")
        assert [look_up([each.designation]).kind for each in (bolt_, nut_, washers)] == [
            "bolt",
            "nut",
            "washer",
        ]
        assert washers.quantity >= 1 and all(each.source for each in (bolt_, nut_, washers))


def test_plain_shank_of_many_stacks_is_that_of_each_bolt_chosen():
    stacks = np.linspace(9.0, 61.0, 33)
    for size in ("AN6", "M10 10.9"):
        for stack, plain in zip(stacks, plain_under(size, stacks), strict=True):
            try:
                joint = choose_bolt(size, float(stack))
            except UnknownDesignation:
                assert np.isnan(plain)
                continue
            own = plain_shank(joint.bolt) - joint.under_head * joint.washer.thickness
            assert plain == pytest.approx(own, abs=1e-12)
