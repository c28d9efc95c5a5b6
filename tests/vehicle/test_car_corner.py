"""Loads at a corner of a car: printed answers, balance of the whole car, and an upright on its six links."""

import numpy as np
import pytest
from builds import begun, refused

from parts.core.usual_loads import G_0
from parts.inputs.problems import InputError
from parts.report.build_starter import CAR_CORNER
from parts.vehicle.build import Build
from parts.vehicle.loads.car import corner_load


def corner(folder, *changes):
    return begun(folder, "corner", CAR_CORNER, *changes)


def test_a_car_at_rest():
    # NCERT, Physics, Class XI, ch. 7, a car of 1800 kg: axles 1.8 m apart, its centre 1.05 m behind the front one:
    # 3675 N on each front wheel and 5145 N on each back wheel, with g of 9.8; read in a public answer.
    at_rest = {"m": 1800.0, "h": 500.0, "L": 1800.0, "T": 1400.0, "r": 0.5, "b": 0.0, "s": 0.0}
    front = corner_load(q=0.75 / 1.8, **at_rest)
    rear = corner_load(q=1.05 / 1.8, **at_rest)
    assert front == pytest.approx(3675.0 * G_0 / 9.8, rel=1e-6)
    assert rear == pytest.approx(5145.0 * G_0 / 9.8, rel=1e-6)


def test_what_a_turn_shifts():
    # 750 kg on an axle at 1.0 g, 520 mm high on a track of 1,580: some 247 kg go to the outer tyre; a worked example
    # of a public calculator of load transfer. The axle stands alone here: all of its car, and all of the roll.
    alone = {"m": 750.0, "q": 1.0, "h": 520.0, "L": 2500.0, "T": 1580.0, "r": 1.0, "b": 0.0}
    shifted = corner_load(s=1.0, **alone) - corner_load(s=0.0, **alone)
    assert shifted / G_0 == pytest.approx(247.0, abs=0.5)


def test_braking_loads_the_front_as_a_college_problem_has_it():
    # Wheels l apart, the centre of mass halfway and h up: W/2 + W h a/(l g) on the front axle; GATE 2019, ME 1, 29.
    found = 2.0 * corner_load(m=100.0, q=0.5, h=400.0, L=1600.0, T=1200.0, r=0.5, b=0.8, s=0.0)
    assert found == pytest.approx(100.0 * G_0 * (0.5 + 400.0 / 1600.0 * 0.8))


DRIVEN = (
    ("  # on the frame", "  wheel centre: {at: [0, 625, 285], within: 1}\n  # on the frame"),
    ("loaded_at: [tyre on the ground]", "loaded_at: [tyre on the ground, wheel centre]"),
)


def driven(folder, case, car, *changes):
    return Build(
        corner(
            folder, *DRIVEN, ("contact: tyre", f"centre: wheel centre, {car}, contact: tyre"),
            ("  - {type: car corner, bump: 3}", f"  - {{type: car corner, {case}}}"), *changes,
        )
    )  # fmt: skip


@pytest.mark.parametrize(
    ("driving", "braking", "left", "how"),
    [
        (0.0, 0.0, 0.0, "front_drive: 0"),
        (0.0, 0.9, 0.0, "front_drive: 0"),
        (0.0, 0.0, 0.8, "front_drive: 0"),
        (0.0, 0.6, -0.7, "front_drive: 0"),
        (0.5, 0.0, 0.0, "front_drive: 0"),
        (0.3, 0.0, 0.6, "front_drive: 0"),
        (0.2, 0.0, -0.5, "front_drive: 1, differential: locked"),
        (-0.2, 0.4, 0.5, "front_drive: 0.4, differential: locked"),
    ],
)
def test_a_whole_car_is_in_balance(tmp_path, driving, braking, left, how):
    # Four corners of one car, each by a build of its own: with weight and inertia at its centre nothing is left over.
    # What the shaft does within the car goes out again: of its force all comes from the ground.
    m, L, track, h, q, roll = 620.0, 2350.0, 1280.0, 340.0, 0.46, 0.55
    force, moment = np.zeros(3), np.zeros(3)
    for end, x in (("front", (1.0 - q) * L), ("rear", -q * L)):
        for side, y in (("left", track / 2.0), ("right", -track / 2.0)):
            share = roll if end == "front" else 1.0 - roll
            car = f"end: {end}, side: {side}, roll_share: {share}, {how}"
            case = f"driving: {driving}, braking: {braking}, left: {left}"
            build = driven(tmp_path, case, car)
            for one in [f for f in build.cases[0].held if f.by == build.cases[0].name]:
                force += one.force
                moment += np.cross([x, y, 0.0], one.force)
    inertia = m * G_0 * np.array([braking - driving, -left, -1.0])
    assert force + inertia == pytest.approx(np.zeros(3), abs=1e-6)
    moment += np.cross([0.0, 0.0, h], inertia)
    assert moment == pytest.approx(np.zeros(3), abs=1e-3)


@pytest.mark.parametrize(("end", "front_drive", "way"), [("front", 1.0, -1.0), ("rear", 0.0, 1.0)])
def test_a_driven_axle_slips_where_a_lecture_has_it(tmp_path, end, front_drive, way):
    # A public lecture on load transfer in acceleration: T = μ (R_F - F h/b) of a car driven in front, μ (R_R + F h/b)
    # behind, with F = T. Its example: wheelbase 2.6 m, centre of mass 0.7 m high in the middle, μ 0.7.
    a = 0.7 / 2.0 / (1.0 - way * 0.7 * 0.7 / 2.6)
    same = (
        ("mass: 620 kg, front_share: 0.46, height: 340, wheelbase: 2350",
         "mass: 1800 kg, front_share: 0.5, height: 700, wheelbase: 2600, grip: 0.7"),
        ("braking: 1.2", "braking: 0.7"), ("left: -1.2", "left: -0.1"), ("braking: 0.8, left: -0.8", "braking: 0.1"),
    )  # fmt: skip
    car = f"end: {end}, front_drive: {front_drive}"
    found = driven(tmp_path, f"driving: {0.999999 * a}", car, *same).cases[0]
    (shaft,) = [one for one in found.held if one.point == "wheel centre" and one.by == found.name]
    assert shaft.force == pytest.approx([1800.0 * G_0 * a / 2.0, 0.0, 0.0], rel=1e-4)
    with pytest.raises(InputError, match="the tyre slips"):
        _ = driven(tmp_path, f"driving: {1.0001 * a}", car, *same).cases


def test_the_shaft_takes_the_torque_and_a_brake_hands_it_to_the_upright(tmp_path):
    # Slowed at 0.3 g by the engine or by a brake: the same force of the ground. The upright feels the brake's moment
    # about the wheel's axle, F times the 285 mm from ground to centre, and none of the engine's.
    axle, found = np.array([0.0, 625.0, 285.0]), {}
    for what in ("driving: -0.3", "braking: 0.3"):
        build = driven(tmp_path, what, "front_drive: 1")
        (upright,) = [one for one in build.cases[0].balances if one.body == "upright"]
        assert upright.ok
        held = [one for one in upright.acting if one.by != build.cases[0].name]
        about = sum(np.cross(np.asarray(one.at) - axle, one.force) for one in held)
        found[what] = sum(np.asarray(one.force) for one in held), about
    # Braking at 0.3 g: 620 kg * (0.23 + 0.3 * 340 / 4700) on the wheel. All tyres brake, the engine's two alone.
    wheel = 620.0 * G_0 * (0.23 + 0.3 * 340.0 / (2.0 * 2350.0))
    assert found["braking: 0.3"][0][0] == pytest.approx(0.3 * wheel)
    assert found["driving: -0.3"][0][0] == pytest.approx(0.3 * 620.0 * G_0 / 2.0)
    assert found["braking: 0.3"][1][1] == pytest.approx(-0.3 * wheel * 285.0)
    assert found["driving: -0.3"][1][1] == pytest.approx(0.0, abs=1e-3)


def test_the_upright_hangs_on_six_links(tmp_path):
    build = Build(corner(tmp_path))
    assert [case.name for case in build.cases][:2] == [
        "front left corner: bump of 3", "front left corner: braking at 1.2 g",
    ]  # fmt: skip
    for case in build.cases:
        (upright,) = [one for one in case.balances if one.body == "upright"]
        assert upright.ok and len(upright.acting) == 7
    # 620 kg, 0.46 in front, three times 1398 N.
    (up,) = [one for one in build.cases[0].held if one.by == build.cases[0].name]
    assert up.force == pytest.approx([0.0, 0.0, 3.0 * 620.0 * G_0 * 0.23])


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ([("braking: 1.2", "braking: 1.3")], "the tyre slips"),
        ([("braking: 1.2", "braking: 1.2, left: 0.3")], "the tyre slips"),
        ([("{type: car corner, left: 0.5}", "{type: car corner, left: 1.2}"), ("height: 340", "height: 640")],
         "lifts off the ground"),
        ([("car: {", "title: none  # {")], "no `car:`"),
        ([("contact: tyre on the ground", "contact: tyre on the road")], "tyre on the road"),
        ([("braking: 1.2", "driving: 0.4")], "which wheels the engine drives"),
        ([("braking: 1.2", "driving: 0.4"), ("contact: tyre", "front_drive: 1, contact: tyre")],
         "centre of the driven"),
        ([("contact: tyre", "centre: hub, contact: tyre")], "hub"),
        ([("links: [upper", "mass: 12 kg, centre: push rod on upright, links: [upper")],
         "brings this weight"),
        ([("braking: 1.2", "driving: 0.4"),
          ("contact: tyre", "front_drive: 1, centre: tyre on the ground, contact: tyre")], "does not stand above"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_told(tmp_path, changes, says):
    assert says in str(refused(corner(tmp_path, *changes)))
