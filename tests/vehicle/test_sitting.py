"""A load goes through the body that it acts on to what that stands on: swing arm, engine, another body, the frame."""

import numpy as np
import pytest
from builds import copied, exact, refused, write

from parts.core.usual_loads import G_0
from parts.vehicle.build import Build

PLAIN = """
build: plain
units: mm
hardpoints:
  pivot: {at: [0, 0, 400]}
  axle: {at: [-500, 0, 320]}
  front: {at: [860, 0, 320]}
  head: {at: [620, 0, 860]}
  shock foot: {at: [-420, 0, 360]}
  shock top: {at: [-300, 0, 700]}
  sprocket: {from: axle, offset: [0, 60, 0]}
  gearbox: {at: [70, 60, 420]}
  machine: {at: [180, 0, 520]}
  rider: {at: [-40, 0, 980]}
vehicle: {machine_mass: 120 kg, machine_centre: machine, rider_mass: 80 kg, rider_centre: rider,
  wheelbase: 1360, rear_axle: axle, tyre_radius: 320}
front_end: {axle: front, headstock: head}
chain: {rear_sprocket: sprocket, front_sprocket: gearbox, rear_radius: 120, front_radius: 40}
links:
  shock: {frame: shock top, body: shock foot}
bodies:
  swing arm: {hinge: pivot, link: shock, loaded_at: [axle]}
cases:
  - {type: cornering, lateral: 0.5, lean: 0}
  - {type: acceleration}
not_modelled: {swing arm: bought, shock: bought, pivot: lugs, wheel: bought, fork: bought, gearbox: shaft, head: tube}
parts:
  - {file: a.yaml, points: {pin: shock top}, place: {origin: shock top, x: [shock top, shock foot], z: left}}
"""
LENGTH = {"a.yaml": "30 mm"}


def on(build, name):
    (case,) = [one for one in build.cases if one.name == name]
    assert not [one.error for one in case.balances if one.error]
    return case, {(one.body, one.point, one.by): one for one in case.held if not one.mirrored}


def test_the_wheel_of_a_plain_swing_arm_loads_its_shock_and_its_pivot(tmp_path):
    build = Build(write(tmp_path, PLAIN, LENGTH))
    _, held = on(build, "cornering")
    # By hand: 200 kg, its centre 592 mm ahead of the rear contact of 1,360 mm; the rear wheel carries the rest.
    up = 200.0 * G_0 * (1360.0 - 592.0) / 1360.0
    side = 0.5 * up
    wheel = held["swing arm", "axle", "wheel"]
    assert wheel.force == pytest.approx([0.0, side, up])
    # About the pivot: the wheel's load 500 mm back is held by the shock, 340 mm of its 360.6 upright, 120 along.
    way = np.array([120.0, 0.0, 340.0]) / np.hypot(120.0, 340.0)
    foot = np.array([-420.0, 0.0, -40.0])
    push = 500.0 * up / np.cross(foot, way)[1]
    shock = held["frame", "shock top", "shock"]
    assert shock.force == pytest.approx(push * way)
    # The pivot bears the force at the contact, 400 mm below it and 500 behind, sideways with its moments.
    pivot = held["frame", "pivot", "swing arm"]
    assert pivot.force + shock.force == pytest.approx([0.0, side, up])
    moment = np.cross([-500.0, 0.0, -400.0], [0.0, side, up])
    assert pivot.moment[[0, 2]] == pytest.approx(moment[[0, 2]])
    assert not [one for one in held if one[:2] == ("frame", "axle")]
    # The clevis at the shock's top takes it, read alone as with all of the build.
    (case,) = [one for one in Build(build.path).part("A").loads if one.name == "cornering"]
    assert np.linalg.norm(case.forces[0].force) == pytest.approx(push, rel=1e-6)


SADDLE = (
    ("hinge: tail hinge", "hinge: damper on swing arm"),
    ("lifting, at: [head steady, tail hinge]", "lifting, at: [head steady]"),
)


def test_a_seat_that_hinges_on_the_swing_arm_loads_the_swing_arm(tmp_path):
    build = Build(exact(copied(tmp_path, *SADDLE)))
    case, held = on(build, "seat landing")
    hinge = held["tail", "damper on swing arm", "frame"]
    given = held["swing arm", "damper on swing arm", "tail"]
    assert given.force == pytest.approx(-hinge.force) and given.moment == pytest.approx(
        -hinge.moment
    )
    assert not [one for one in held if one[:2] == ("frame", "damper on swing arm")]
    # What the swing arm hands on holds all that comes to it: link and pivot, beside what the wheel carries at rest.
    arm = sum(one.force for key, one in held.items() if key[0] == "swing arm")
    assert arm == pytest.approx(np.zeros(3), abs=1e-6)
    assert held["swing arm", "rear axle", "wheel"].force == pytest.approx(
        [0.0, 0.0, build.rear.loads[1]]
    )
    assert "mm of travel" in case.note


def test_a_shift_rod_that_ends_on_the_gearbox_loads_the_mounts_of_the_engine(tmp_path):
    build = Build(copied(
        tmp_path, ("loaded_at: [kick lever pad]", "loaded_at: [kick lever pad, gearbox shaft arm]")
    ))  # fmt: skip
    _, held = on(build, "missed gear")
    rod = held["engine", "gearbox shaft arm", "shift rod"].force
    mounts = sum(one.force for key, one in held.items() if key[0] == "frame" and key[2] == "engine")
    assert np.linalg.norm(rod) > 800.0 and mounts == pytest.approx(rod)
    assert not [one for one in held if one[:2] == ("frame", "gearbox shaft arm")]


CORNER = """
build: corner
units: mm
hardpoints:
  contact: {at: [0, 720, 0]}
  a1: {at: [120, 350, 330]}
  a2: {at: [-130, 350, 330]}
  a: {at: [0, 620, 320]}
  b1: {at: [150, 300, 150]}
  b2: {at: [-150, 300, 150]}
  b: {at: [5, 650, 130]}
  c1: {at: [90, 310, 180]}
  c: {at: [95, 640, 165]}
  d: {at: [0, 600, 150]}
  rocker push: {at: [0, 330, 480]}
  rocker pivot: {at: [-40, 300, 520]}
  rocker damper: {at: [-60, 300, 590]}
  damper foot: {at: [-360, 300, 560]}
links:
  1: {frame: a1, body: a}
  2: {frame: a2, body: a}
  3: {frame: b1, body: b}
  4: {frame: b2, body: b}
  5: {frame: c1, body: c}
  pushrod: {frame: rocker push, body: d}
  damper: {frame: damper foot, body: rocker damper}
bodies:
  rocker: {hinge: rocker pivot, link: damper, loaded_at: [rocker push]}
  upright: {links: ["1", "2", "3", "4", "5", pushrod], loaded_at: [contact]}
cases:
  - {type: stated, name: kerb, at: contact, force: 4 kN, direction: [-0.3, -0.8, 1]}
not_modelled: {upright: bought, "1": tube, "2": tube, "3": tube, "4": tube, "5": tube, pushrod: tube, rocker: plate,
  damper: bought, a1: lug, a2: lug, b1: lug, b2: lug, c1: lug, rocker pivot: lug}
parts:
  - {file: a.yaml, points: {pin: damper foot}, place: {origin: damper foot, x: [damper foot, rocker damper], z: left}}
"""


def test_a_wheel_of_a_car_loads_its_rocker_by_the_pushrod_and_the_damper_by_the_rocker(tmp_path):
    text = CORNER
    for one in "12345":
        text = text.replace(f"  {one}: {{frame", f'  "{one}": {{frame')
    build = Build(write(tmp_path, text, LENGTH))
    case, held = on(build, "kerb")
    push = held["rocker", "rocker push", "pushrod"].force
    assert push == pytest.approx(-held["pushrod", "rocker push", "frame"].force)
    # About the rocker's hinge, which lies crosswise: the damper holds what the pushrod turns.
    places = case.points
    damper = held["rocker", "rocker damper", "damper"].force
    turn = [np.cross(places[at] - places["rocker pivot"], one)[1]
            for at, one in (("rocker push", push), ("rocker damper", damper))]  # fmt: skip
    assert turn[0] == pytest.approx(-turn[1]) and abs(turn[0]) > 1e5
    assert not [one for one in held if one[:2] == ("frame", "rocker push")]
    # What goes in at the tyre comes out at the frame, with its moment.
    frame = [one for one in case.held if one.body == "frame"]
    load = held["upright", "contact", "kerb"].force
    assert sum(one.force for one in frame) == pytest.approx(load)
    moment = sum(np.cross(places[one.point], one.force) + one.moment for one in frame)
    assert moment == pytest.approx(np.cross(places["contact"], load), abs=1e-3)


@pytest.mark.parametrize(
    "case",
    [
        "{type: fall, at: rear sprocket, gives: 80}",
        "{type: lifting, name: hook, at: [rear axle, head steady]}",
        "{type: one peg, name: boot, at: rear sprocket}",
    ],
)
def test_what_acts_on_the_swing_arm_is_carried_by_it_whatever_its_type(tmp_path, case):
    build = Build(exact(copied(tmp_path, ("\ncases:\n", f"\ncases:\n  - {case}\n"))))
    found = build.cases[0]
    assert not [one.error for one in found.balances if one.error]
    assert {"swing arm", "link", "arm", "frame"} <= {one.body for one in found.held}
    assert not [one for one in found.held if (one.body, one.point) in
                (("frame", "rear sprocket"), ("frame", "rear axle"))]  # fmt: skip
    assert build.ends


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ([("at: kick lever pad, gives", "at: front axle, gives")], "cases[", "under `front_end.loaded_at:`"),
        ([("type: kick lever, at: kick lever pad", "type: kick lever, at: crank")], "cases[",
         "under `engine.loaded_at:`"),
        ([("{type: seat, at: seat,", "{type: seat, at: seat mount,")], "cases[", "under `bodies.tail.loaded_at:`"),
        ([("{type: seat, at: seat,", "{type: seat, at: link on arm,")], "cases[", "sits on `arm`, which moves"),
        ([("{frame: strut foot, body", "{frame: link on swing arm, body")], "links.seat strut.frame",
         "name a hardpoint on the frame"),
        ([("mounts: [\"lower", "mounts: [rear sprocket, \"lower")], "engine.mounts[1]", "sits on `swing arm`"),
        ([("loaded_at: [kick lever pad]", "loaded_at: [kick lever pad, seat]")], "bodies.tail.loaded_at[1]",
         "sits on `engine` already"),
        ([("{frame: gearbox shaft arm,", "{frame: seat,"), ("{frame: strut foot,", "{frame: shift toe,"),
          ("sides: both}\n  brake", "sides: one}\n  brake")], "cases[", "stand on each other in a circle"),
    ],
)  # fmt: skip
def test_what_would_be_lost_on_the_frame_or_count_twice_is_refused(tmp_path, changes, field, words):
    told = [one for one in refused(copied(tmp_path, *changes)) if one.field.startswith(field)]
    assert any(words in str(one) and one.line > 0 for one in told), refused(tmp_path / "build.yaml")


def test_a_load_on_a_swing_arm_needs_the_masses(tmp_path):
    path = write(
        tmp_path, PLAIN.replace("  shock: {frame: shock top, body: shock foot}\n", ""), LENGTH
    )
    text = path.read_text()
    start, end = text.index("vehicle:"), text.index("front_end:")
    lines = """rear_end: {pivot: pivot, axle: axle, pick_up: shock foot, arm_end: arm, bar_line: bar, travel: 100,
  bar: {diameter: 20, length: 400, material: 300M}, preload: 3 deg}
"""
    places = "  arm: {at: [-430, 0, 220]}\n  bar: {at: [-230, 0, 230]}\nvehicle:"
    text = (
        text[:start].removesuffix("\n")
        + "\n"
        + places.removesuffix("vehicle:")
        + lines
        + text[end:]
    )
    bodies, cases = text.index("links:"), text.index("cases:")
    text = text[:bodies] + text[cases:]
    text = text.replace("  - {type: cornering, lateral: 0.5, lean: 0}\n  - {type: acceleration}\n",
                        "  - {type: stated, name: shove, at: axle, force: 30 kN, direction: left}\n")  # fmt: skip
    text = text.replace("swing arm: bought, shock: bought,", "swing arm: bought, axle: named,")
    path.write_text(text)
    (problem,) = refused(path)
    assert problem.field == "cases[1].at" and "state `vehicle:`" in str(problem)
