"""Engagement of a screwed link, its statics, and a jam nut, by hand."""

import numpy as np
import pytest

from parts.core.loads import LoadCase, PointLoad
from parts.families.links.adjustment import Adjustment, Mouth, PinToPin
from parts.families.links.jam_nut import JamNutLock
from parts.families.links.rod_end import RodEndEnd
from parts.families.links.statics import borne, load_rules
from parts.standards.threads.threads import thread

POINTS = {
    "end a": np.array([-100.0, 0.0, 0.0]),
    "end b": np.array([100.0, 0.0, 0.0]),
    "middle": np.zeros(3),
}
HOLE = Mouth(depth=20.0, open_to=1e4, countersink=1.0, witness=2.0)


def adjustment(a="M10 male RH", b="M10 male LH", **changes):
    ends = RodEndEnd(rod_end=a), RodEndEnd(rod_end=b)
    lengths = PinToPin(minimum=190.0, nominal=195.0, maximum=200.0)
    return Adjustment(lengths, ends, (HOLE, HOLE), (12.0, 12.0), **changes)


def case(*loads):
    names = ("at", "force", "moment")
    return LoadCase(
        name="case", forces=[PointLoad(**dict(zip(names, one, strict=False))) for one in loads]
    )


def test_depths_add_up_at_every_length():
    link = adjustment()
    for length in (190.0, 195.0, 200.0):
        assert link.body + link.bare(0, length) + link.bare(1, length) == pytest.approx(length)
        assert link.face(length) == pytest.approx(-length / 2.0 + link.bare(0, length))


def test_what_holds_is_depth_less_point_and_countersink():
    link = adjustment()
    # 12 mm wanted, 1.5 mm point, 1 mm countersink, 2 mm witness hole.
    assert link.entry(0, 200.0) == pytest.approx(16.5)
    assert link.engaged(0, 200.0) == pytest.approx(14.0)
    # 5 mm deeper at 190 mm; the thread of the hole ends at 20 mm.
    assert link.entry(0, 190.0) == pytest.approx(21.5)
    assert link.engaged(0, 190.0) == pytest.approx(19.0)


def test_a_stated_body_shifts_both_ends_alike():
    link = adjustment(stated_body=adjustment().body - 2.0)
    assert link.entry(0, 200.0) == pytest.approx(15.5)
    broken = [rule for rule in link.rules(195.0) if not rule.ok]
    assert {rule.code for rule in broken} == {"link.reach"}
    assert float(broken[0].limit) == pytest.approx(198.0)


def test_hands_decide_what_a_turn_does():
    assert adjustment().per_turn == pytest.approx(3.0)
    assert adjustment(b="M10 male RH").per_turn == 0.0
    assert adjustment(b="M10x1.25 male RH").per_turn == pytest.approx(0.25)


def test_the_free_end_reacts():
    load = borne(case(("end a", (-700.0, 0.0, 0.0))), POINTS)
    assert load.b.force[0] == pytest.approx(700.0)
    assert load.on_end(0).pull == pytest.approx(700.0) and load.on_end(1).pull == pytest.approx(
        700.0
    )
    assert load.pull == pytest.approx(700.0) and load.push == 0.0


def test_a_side_force_off_the_middle_is_shared_by_lever_arms():
    points = {**POINTS, "middle": np.array([50.0, 0.0, 0.0])}
    load = borne(case(("middle", (0.0, 400.0, 0.0))), points)
    assert load.a.force[1] == pytest.approx(-100.0)
    assert load.b.force[1] == pytest.approx(-300.0)


def test_a_force_along_the_middle_pulls_one_half_and_pushes_the_other():
    load = borne(case(("middle", (500.0, 0.0, 0.0))), POINTS)
    assert load.b.force[0] == pytest.approx(-500.0)
    assert load.push == pytest.approx(500.0) and load.pull == 0.0


def test_unbalanced_ends_are_refused_and_balanced_ones_pass():
    assert broken(("end a", (-5.0, 0.0, 0.0)), ("end b", (7.0, 0.0, 0.0))) == ["link.balance"]
    assert broken(("end a", (-5.0, 0.0, 0.0)), ("end b", (5.0, 0.0, 0.0))) == []


def broken(*loads, joints=("ball", "ball")):
    """The rules that such a load case breaks."""
    return [rule.code for rule in load_rules([case(*loads)], joints) if not rule.ok]


def test_a_moment_that_a_joint_leaves_free_is_refused():
    """A ball carries none; a pin along z none about itself; no twist along the link where either end is a ball."""
    nothing, twist, about_pin, across = (
        (0.0,) * 3,
        (3.0, 0.0, 0.0),
        (0.0, 0.0, 3.0),
        (0.0, 3.0, 0.0),
    )
    pins = ("pin", "pin")
    assert broken(("middle", (0.0, 1.0, 0.0), twist)) == ["link.twist"]
    assert broken(("end a", nothing, across)) == ["link.ball"]
    assert broken(("end a", nothing, twist), joints=pins) == []
    assert broken(("end a", nothing, across), joints=pins) == []
    assert broken(("end b", nothing, about_pin), joints=pins) == ["link.pin"]
    assert broken(("end b", nothing, twist), joints=("ball", "pin")) == ["link.twist"]


def test_a_couple_pushes_harder_at_the_shortest():
    """16 N*m at end a: 50 N at either pin over 320 mm, 64 N over 250."""
    points = {"end a": [-160.0, 0, 0], "end b": [160.0, 0, 0], "middle": [0.0, 0, 0]}
    points = {name: np.array(at) for name, at in points.items()}
    load = borne(case(("end a", (0.0,) * 3, (0.0, 16e3, 0.0))), points, (250.0, 330.0))
    assert load.b.force[2] == pytest.approx(50.0)
    assert abs(load.on_end(1).along_pin) == pytest.approx(64.0)
    assert abs(load.on_end(0).along_pin) == pytest.approx(64.0)


def test_a_jam_nut_is_tightened_to_a_quarter_of_yield_unless_a_torque_is_stated():
    """T = K F d with K = 0.2; 600 MPa on the 58.0 mm^2 of M10: F = 8700 N, T = 17.4 N*m."""
    m10 = thread("M10")
    assert JamNutLock().tightening(m10, 600.0) == pytest.approx(17.4e3, rel=1e-3)
    assert JamNutLock(torque=20e3).tightening(m10, 600.0) == 20e3
