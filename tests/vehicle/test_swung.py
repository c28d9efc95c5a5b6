"""Loads on the swing arm: the wheel goes where they balance the bar, stops take the rest, and bodies balance."""

import numpy as np
import pytest
from builds import DEMO, copied, exact, refused, with_rear_end, write
from scipy.optimize import brentq

from parts.vehicle.build import Build
from parts.vehicle.file.loading import build_of
from parts.vehicle.loads.rear_cases import let_off
from parts.vehicle.rear_end.suspension import response

SIDEWAYS = "  - {type: stated, name: side, at: rear axle, direction: left, force: 30 kN}\n"


def with_case(folder, line):
    return exact(copied(folder, ("\ncases:\n", f"\ncases:\n{line}")))


def held(build, name):
    (case,) = [one for one in build.cases if one.name == name]
    return case, {(one.body, one.point, one.by): one for one in case.held}


def test_a_side_load_at_the_axle_is_on_the_swing_arm_and_its_pivot_bears_it(tmp_path):
    build = Build(with_case(tmp_path, SIDEWAYS))
    case, on = held(build, "side")
    assert on["swing arm", "rear axle", "side"].force == pytest.approx([0.0, 30000.0, 0.0])
    bearing = on["swing arm", "swing arm pivot", "pivot bearings"]
    assert bearing.force[1] == pytest.approx(-30000.0)
    # It has no lever about a crosswise axis: the wheel stays at rest, and the moment about z is 30 kN times the reach.
    rest = build.rear.positions["rear wheel at rest, rider seated"]
    assert f"{rest:.0f} mm of travel" in case.note
    reach = case.points["rear axle"][0] - case.points["swing arm pivot"][0]
    link = on["swing arm", "link on swing arm", "link"]
    beside = case.points["link on swing arm"] - case.points["swing arm pivot"]
    assert bearing.moment[2] == pytest.approx(
        -30000.0 * reach - np.cross(beside, link.force)[2], rel=1e-9
    )
    assert ("frame", "rear axle", "side") not in on
    assert on["frame", "swing arm pivot", "swing arm"].force == pytest.approx(-bearing.force)


@pytest.mark.parametrize("force", [300.0, 900.0])
def test_the_wheel_goes_to_where_bar_and_load_balance(tmp_path, force):
    line = f"  - {{type: stated, name: lift, at: rear axle, direction: up, force: {force} N}}\n"
    build = Build(with_case(tmp_path, line))
    rear = build.rear
    load = force + float(rear.loads[1])
    # By another route: the root of the wheel's force over the travel.
    travel = brentq(lambda z: float(response(rear.end, z).wheel_force) - load, 0.0, 110.0)
    case, on = held(build, "lift")
    assert case.points["rear axle"][2] == pytest.approx(320.0 + travel, abs=1e-6)
    link = float(np.linalg.norm(on["link", "link on arm", "arm"].force))
    assert link == pytest.approx(abs(float(response(rear.end, travel).link_force)), rel=1e-6)
    assert not any("stop" in one.by for one in case.held)


def test_what_the_bar_does_not_hold_goes_through_the_bump_stop(tmp_path):
    line = "  - {type: stated, name: lift, at: rear axle, direction: up, force: 9 kN}\n"
    build = Build(with_case(tmp_path, line))
    case, on = held(build, "lift")
    stop = on["swing arm", "damper on swing arm", "bump stop"]
    # Virtual work: the wheel's surplus against the stop, by the damper's ratio at full bump.
    surplus = 9000.0 + float(build.rear.loads[1]) - float(build.rear.whole.wheel_force[-1])
    ratio = float(build.rear.damped.ratio[-1])
    assert np.linalg.norm(stop.force) == pytest.approx(surplus / ratio, rel=1e-6)
    assert "bump stop" in case.note and stop.force[2] < 0.0


def test_a_stop_that_is_needed_and_not_stated_is_asked_for(tmp_path):
    case = "{type: stated, name: lift, at: axle, direction: up, force: 9 kN}"
    text = with_rear_end(("\nparts:", f"\ncases:\n  - {case}\nparts:"))
    (problem,) = refused(write(tmp_path, text))
    assert problem.field == "cases[1]" and "state `stops:" in str(problem)


def test_every_body_balances_and_what_goes_in_comes_out_at_the_masses(tmp_path):
    build = Build(with_case(tmp_path, SIDEWAYS))
    for case in build.cases:
        assert not any(one.error for one in case.balances), case.name
    bodies = {one.body for case in build.cases for one in case.balances}
    assert bodies >= {"swing arm", "wheel", "link", "arm", "bar", "frame"}
    # The side load enters at the axle alone; beside the weight on the wheel the masses take it all.
    (case,) = [one for one in build.cases if one.name == "side"]
    (frame,) = [one for one in case.balances if one.body == "frame"]
    masses = frame.acting[-1]
    into = np.array([0.0, 30000.0, float(build.rear.loads[1])])
    assert masses.force == pytest.approx(-into, abs=1e-6)
    # And their moment is that of these forces where they enter, about the centre of mass.
    moment = np.cross(case.points["rear axle"] - masses.at, into)
    assert masses.moment == pytest.approx(-moment, rel=1e-6, abs=1.0)


def test_the_driven_wheel_balances_and_hands_grip_and_chain_to_the_axle():
    build = build_of(DEMO)
    case, on = held(build, "chain snatch")
    weight = 205.0 * 9.80665
    (drive,) = [one.value for one in case.factors if one.name == "full drive [N]"]
    pull = 1.5 * drive * 320.0 / 121.4
    axle = on["swing arm", "rear axle", "wheel"]
    chain = on["wheel", "rear sprocket", "chain"]
    assert np.linalg.norm(chain.force) == pytest.approx(pull, rel=1e-4)
    # The axle gets the chain's pull, and of the ground what the wheel's own mass does not take.
    own = 16.0 * np.array([drive / 205.0, 0.0, 9.80665])
    assert axle.force - chain.force == pytest.approx(np.array([drive, 0.0, weight]) - own, abs=0.1)
    assert axle.moment[1] == pytest.approx(0.0, abs=1e-6)


def test_a_stated_ratio_of_bumps_is_held_against_droop_and_bump(tmp_path):
    least, _ = let_off(build_of(DEMO).rear)
    (tmp_path / "less").mkdir()
    for ratio, fine in ((least - 0.05, True), (least + 0.05, False)):
        folder = tmp_path / ("fine" if fine else "less")
        folder.mkdir(exist_ok=True)
        path = copied(folder, ("    blocks:\n", f"    ratio: {ratio:.4f}\n    blocks:\n"))
        if fine:
            assert any(one.spectrum for one in Build(path).cases)
        else:
            (problem,) = refused(path)
            assert problem.field == "rear_end.bumps.ratio" and "too small a range" in str(problem)
    # Left out, it is the solved one.
    (bump,) = [one for one in build_of(DEMO).cases if one.spectrum]
    assert least - 1e-3 <= bump.spectrum.ratio <= least


ANCHOR = "  anchor: bar anchor\n"
BUMP = "rear wheel at full bump"


def test_the_bars_torque_goes_into_the_frame_at_its_anchor_and_all_else_at_its_line(tmp_path):
    for name in ("with", "without"):
        (tmp_path / name).mkdir()
    build = Build(exact(copied(tmp_path / "with")))
    case, on = held(build, BUMP)
    anchor, line = on["frame", "bar anchor", "bar"], on["frame", "torsion bar", "arm"]
    # By hand: the bar lies crosswise, so its torque is what the link turns the arm with about y, at the far end as at
    # the near one, and no force goes with it.
    pull = on["arm", "link on arm", "link"].force
    arm = case.points["link on arm"] - case.points["torsion bar"]
    torque = arm[2] * pull[0] - arm[0] * pull[2]
    assert anchor.force == pytest.approx(np.zeros(3))
    assert anchor.moment == pytest.approx([0.0, torque, 0.0], rel=1e-9)
    assert abs(torque) == pytest.approx(abs(float(build.rear.at(110.0).torque)), rel=1e-9)
    assert line.force == pytest.approx(pull) and line.moment[1] == pytest.approx(0.0, abs=1e-3)
    assert line.moment == pytest.approx(np.cross(arm, pull) - [0.0, torque, 0.0], abs=1e-3)
    # The part at the anchor takes it, turned by nothing else: its z lies along the bar.
    (bump,) = [one for one in build.part("HC-123").loads if one.name == BUMP]
    assert np.linalg.norm(bump.forces[0].moment) == pytest.approx(abs(torque), rel=1e-6)
    # Without an anchor of its own both act where the bar's line is named, and the part there bears nothing.
    path = exact(copied(tmp_path / "without", (ANCHOR, "")))
    (problem,) = refused(path)
    assert "no load case reaches HC-123: none loads bar anchor" in str(problem) and problem.line > 0
    path.write_text(path.read_text().replace("    points: {bar: bar anchor}\n", ""))
    _, both = held(Build(path), BUMP)
    together = both["frame", "torsion bar", "arm and bar"]
    assert together.force == pytest.approx(line.force)
    assert together.moment == pytest.approx(line.moment + anchor.moment, rel=1e-9, abs=1e-3)


ALONG = (
    # The bar lies along the machine beside the swing arm; its arm stands crosswise under the link.
    ("torsion bar: {at: [-80, -64, 278]", "torsion bar: {at: [-258, 60, 300]"),
    ("torsion bar, offset: [-182, 0, -27]", "torsion bar, offset: [0, -124, -10]"),
    ("bar anchor: {from: torsion bar, offset: [0, 405, 0]}", "bar anchor: {from: torsion bar, offset: [405, 0, 0]}"),
    ("  bar_line: torsion bar\n", "  bar_line: torsion bar\n  bar_along: forward\n"),
    (", material: 300M, preset: true}", ", material: 300M}"),
    ("    arms: [160, 184, 210]\n", ""),
)  # fmt: skip


def test_a_bar_along_the_machine_is_wound_by_an_arm_that_stands_crosswise(tmp_path):
    build = Build(exact(copied(tmp_path, *ALONG)))
    rear = build.sprung
    assert rear.end.linkage.bar_axis == pytest.approx([1.0, 0.0, 0.0])
    assert rear.end.linkage.arm_pin == pytest.approx([1.0, 0.0, 0.0])
    # By energy: the wheel's force is the slope of what the bar stores.
    step = 0.01
    low, mid, high = (response(rear.end, z) for z in (60.0 - step, 60.0, 60.0 + step))
    slope = (float(high.energy) - float(low.energy)) / (2.0 * step)
    assert float(mid.wheel_force) == pytest.approx(slope, rel=1e-6) and slope > 0.0
    # By the closure of the loop: the turn of the arm at which the link keeps its length.
    drawn, there = build.points, mid.motion
    bar, end, pick = (drawn[at] for at in ("torsion bar", "link on arm", "link on swing arm"))
    length = np.linalg.norm(pick - end)

    def gap(turn):
        (y, z), c, s = (end - bar)[1:], np.cos(turn), np.sin(turn)
        at = [end[0], bar[1] + y * c - z * s, bar[2] + y * s + z * c]
        return np.linalg.norm(np.asarray(there.pick_up) - at) - length

    assert float(there.arm_turn) == pytest.approx(brentq(gap, -0.8, 0.1), abs=1e-9)
    (case,) = [one for one in build.cases if one.name == BUMP]
    assert not [one.error for one in case.balances if one.error]
    (torque,) = [one.moment for one in case.held if (one.body, one.by) == ("frame", "bar")]
    assert abs(torque[0]) == pytest.approx(abs(float(rear.at(110.0).torque)), rel=1e-9)
    assert torque[1:] == pytest.approx([0.0, 0.0], abs=1e-6)


def test_an_anchor_beside_the_line_of_the_bar_is_refused(tmp_path):
    change = "torsion bar, offset: [0, 405, 0]}", "torsion bar, offset: [9, 405, 0]}"
    (problem,) = refused(copied(tmp_path, change))
    assert problem.field == "rear_end.anchor" and "9.0 mm beside the line" in str(problem)
