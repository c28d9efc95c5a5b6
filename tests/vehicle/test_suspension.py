"""Forces of the rear end against virtual work, stored energy, statics, and the trade's formula for an arm."""

from itertools import pairwise

import numpy as np
import pytest
from hill_climb import LINKAGE, REAR, ROD_END, STEEL
from linkages import DROOP, LENGTH, PARALLEL, SKEWED

from parts.core.freebody import Acting, balance
from parts.strength.shafts import torsion_bar
from parts.vehicle.rear_end.linkage import LinkageError, dot
from parts.vehicle.rear_end.motion import motion
from parts.vehicle.rear_end.suspension import (
    Bar,
    RearEnd,
    arm_angle_for_preload,
    free_bodies,
    response,
    shear_check,
    swing_check,
    unwound_check,
)

BAR = Bar(24.0, 400.0, 79_300.0)
EVERY = [
    pytest.param(REAR, id="hill climb"),
    pytest.param(RearEnd(SKEWED, BAR, 0.05), id="skewed"),
    pytest.param(RearEnd(SKEWED, BAR, -0.4), id="wound backwards"),
    pytest.param(RearEnd(PARALLEL, BAR, 0.02), id="parallel"),
]
STATIONS = np.linspace(1.0, 99.0, 15)


@pytest.mark.parametrize("rear", EVERY)
def test_wheel_force_is_the_slope_of_the_stored_energy(rear):
    h = 0.05
    low, here, high = (response(rear, STATIONS + d) for d in (-h, 0.0, h))
    # Central differences, error of order h² of a curve that bends over 100 mm.
    assert here.wheel_force == pytest.approx(
        (high.energy - low.energy) / (2 * h), rel=1e-6, abs=1e-3
    )


@pytest.mark.parametrize("rear", EVERY)
def test_wheel_rate_is_the_slope_of_the_wheel_force(rear):
    h = 0.01
    low, here, high = (response(rear, STATIONS + d) for d in (-h, 0.0, h))
    slope = (high.wheel_force - low.wheel_force) / (2 * h)
    assert here.wheel_rate == pytest.approx(slope, rel=1e-6)
    assert here.wheel_rate - here.rate_of_geometry == pytest.approx(
        rear.bar.rate * here.motion.ratio**2
    )


@pytest.mark.parametrize("rear", EVERY)
def test_virtual_work_of_link_and_wheel_agree(rear):
    h = 0.01
    low, high = motion(rear.linkage, STATIONS - h), motion(rear.linkage, STATIONS + h)
    here = response(rear, STATIONS)
    # The link pulls along its own line: its work on the pick-up is that of the wheel, in any small movement.
    work = dot(here.link_force[:, None] * here.motion.link, high.pick_up - low.pick_up)
    assert here.wheel_force * 2 * h == pytest.approx(work, rel=1e-6)


@pytest.mark.parametrize("rear", EVERY)
def test_the_swing_arm_solved_as_six_equations_gives_the_same_wheel_force(rear):
    # Independent statics: unknown are wheel force, three bearing forces and two bearing moments.
    found = response(rear, STATIONS)
    axis = np.asarray(rear.linkage.pivot_axis, float) / np.linalg.norm(rear.linkage.pivot_axis)
    square = np.linalg.svd(axis[None, :])[2][1:]
    for i in range(len(STATIONS)):
        link = -found.link_force[i] * found.motion.link[i]
        arms = [
            np.subtract(p, rear.linkage.pivot)
            for p in (found.motion.axle[i], found.motion.pick_up[i])
        ]
        matrix = np.zeros((6, 6))
        matrix[:3, 0], matrix[3:, 0] = (0, 0, 1), np.cross(arms[0], (0, 0, 1))
        matrix[:3, 1:4] = np.eye(3)
        matrix[3:, 4:] = square.T
        solved = np.linalg.solve(matrix, -np.concatenate([link, np.cross(arms[1], link)]))
        assert solved[0] == pytest.approx(found.wheel_force[i], rel=1e-9)


@pytest.mark.parametrize("rear", EVERY)
def test_every_part_is_in_balance(rear):
    bodies = free_bodies(rear, response(rear, STATIONS))
    assert [b.body for b in bodies] == ["swing arm", "link", "arm", "bar"]
    for body in bodies:
        assert body.ok and not body.error
        assert np.max(body.share) < 1e-9
    for one, other in pairwise(bodies):
        # Action and reaction: what the next part exerts on this one it feels the other way.
        given = next(a for a in one.acting if a.by == other.body)
        felt = next(a for a in other.acting if a.by == one.body)
        assert np.allclose(np.asarray(given.force) + felt.force, 0.0)
        assert np.allclose(np.asarray(given.moment) + felt.moment, 0.0)


def test_a_wrong_wheel_force_throws_the_swing_arm_out_of_balance():
    found = response(REAR, 50.0)
    body = free_bodies(REAR, found)[0]
    wheel = body.acting[0]
    more = Acting(wheel.at, np.asarray(wheel.force) * 1.001, by="wheel")
    wrong = balance("swing arm", (more, *body.acting[1:]))
    assert not wrong.ok
    assert "swing arm is out of balance" in wrong.error


def test_a_parallelogram_is_an_arm_on_a_bar():
    # SAE HS-796's torsion bar with an arm, as parts.strength.shafts.torsion_bar holds it, from memory there.
    rear = RearEnd(PARALLEL, BAR, 0.02)
    s = np.linspace(0.0, 100.0, 11)
    phi = np.arcsin((LENGTH * np.sin(DROOP) + s) / LENGTH)
    theta = 0.02 + phi - DROOP
    found = response(rear, s)
    assert found.wheel_force == pytest.approx(
        torsion_bar.arm_force(BAR.rate, theta, LENGTH, phi), rel=1e-10
    )
    assert found.wheel_rate == pytest.approx(
        torsion_bar.arm_rate(BAR.rate, theta, LENGTH, phi), rel=1e-10
    )


def test_bar_rate_and_stress_of_a_textbook_problem():
    # Shigley's Mechanical Engineering Design, 9th ed., Problem 4-3(b): a torsion bar built in at both ends
    # and twisted in the middle is two bars in parallel; d = 0.5 in, 5 in to each side, G = 11.5 Mpsi,
    # 1500 lbf·in. Problem looked up; answers 28.2 kip·in/rad, 750 lbf·in and 30.6 kpsi from memory.
    inch, pound = 25.4, 4.448_221_615_260_5
    half = Bar(0.5 * inch, 5.0 * inch, 11.5e6 * pound / inch**2)
    # Printed to three figures.
    assert 2 * half.rate / (pound * inch) == pytest.approx(28.2e3, rel=2e-3)
    torque = 750.0 * pound * inch
    assert torsion_bar.shear_stress(torque, half.diameter) / (pound / inch**2) == pytest.approx(
        30.6e3, rel=2e-3
    )


def test_bar_rate_is_the_handbook_formula_and_a_bore_takes_its_core_away():
    assert BAR.rate == pytest.approx(79_300.0 * np.pi * 24.0**4 / (32 * 400.0))
    hollow = Bar(24.0, 400.0, 79_300.0, bore=12.0)
    assert hollow.rate == pytest.approx(BAR.rate * (1 - 0.5**4))
    assert hollow.mass(7.85e-6) == pytest.approx(np.pi / 4 * (24**2 - 12**2) * 400 * 7.85e-6)


def test_the_hill_climb_link_pulls():
    found = response(REAR, STATIONS)
    assert np.all(found.link_force > 0.0)


@pytest.mark.parametrize("linkage", [LINKAGE, SKEWED])
def test_clocking_the_free_arm_changes_the_preload_by_that_angle(linkage):
    now = RearEnd(linkage, BAR, 0.02)
    psi = float(arm_angle_for_preload(now, 0.05))
    assert abs(psi) == pytest.approx(0.03)
    # The arm is brought back up to the link from further away: the free arm went against its turn in bump.
    in_bump = float(motion(linkage, linkage.drawn_at + 5.0).arm_turn)
    assert np.sign(psi) == -np.sign(in_bump)
    assert arm_angle_for_preload(now, 0.02) == 0.0


def test_checks_over_variants_take_the_worst_of_each():
    diameters = np.array([22.0, 25.4])
    travel = np.linspace(0.0, 110.0, 12)
    many = RearEnd(LINKAGE, Bar(diameters, 355.0, STEEL.G), 0.03)
    together = shear_check(many, response(many, travel[:, None]), 1900.0, 0.5)
    for i, d in enumerate(diameters):
        one = RearEnd(LINKAGE, Bar(d, 355.0, STEEL.G), 0.03)
        assert together.factor[i] == pytest.approx(
            shear_check(one, response(one, travel), 1900.0, 0.5).factor
        )


def test_shear_check_takes_the_worst_of_the_travel():
    found = response(REAR, np.linspace(0.0, 110.0, 12))
    shear = shear_check(REAR, found, STEEL.ultimate_strength, 0.5)
    assert shear.demand == pytest.approx(16 * np.max(found.torque) / (np.pi * 25.4**3))
    assert shear.capacity == pytest.approx(0.5 * STEEL.ultimate_strength)
    assert shear.ok
    assert not shear_check(REAR, found, STEEL.ultimate_strength, 0.5, required=3.0).ok


def test_swing_check_holds_the_tilt_against_the_rod_end():
    moved = response(REAR, np.linspace(0.0, 110.0, 12)).motion
    limit = ROD_END.swing_between(ROD_END.ball_width)
    for tilt in (moved.pick_up_swing, moved.arm_swing):
        assert swing_check("joint", tilt, limit).ok
        tight = swing_check("joint", tilt, 0.99 * np.max(tilt))
        assert not tight.ok and tight.factor == pytest.approx(0.99)
        assert tight.demand == pytest.approx(np.degrees(np.max(tilt)))


def test_a_bar_is_let_off_no_further_than_it_is_wound():
    travel = np.linspace(0.0, 110.0, 12)
    for preload, ok in ((0.01, True), (-0.01, False)):
        end = RearEnd(LINKAGE, BAR, preload)
        found = response(end, travel)
        one = unwound_check(found)
        assert bool(one.ok) is ok is bool(np.all(found.twist >= 0.0))
        assert one.demand == pytest.approx(np.degrees(np.ptp(found.twist)))
        assert one.capacity == pytest.approx(np.degrees(np.max(found.twist)))


def test_many_bars_in_one_call_equal_one_at_a_time():
    diameters = np.array([22.0, 24.0, 25.4])
    together = response(RearEnd(LINKAGE, Bar(diameters, 355.0, 79_300.0), 0.03), STATIONS[:, None])
    for i, d in enumerate(diameters):
        alone = response(RearEnd(LINKAGE, Bar(d, 355.0, 79_300.0), 0.03), STATIONS)
        assert together.wheel_rate[:, i] == pytest.approx(alone.wheel_rate, rel=1e-12)


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ((0.0, 300.0, 8e4), "diameter is 0"),
        ((20.0, -1.0, 8e4), "length is -1"),
        ((20.0, 300.0, 8e4, 20.0), "bore is 20 mm; it must be less than its diameter"),
    ],
)
def test_bars_that_are_none_are_refused(fields, message):
    with pytest.raises(LinkageError, match=message):
        Bar(*fields)
