"""A machine that falls over: what comes to the point that strikes, what bends first, and the brackets of the demo."""

import numpy as np
import pytest
from builds import DEMO, copied, refused
from by_turns import by_turns
from scipy.integrate import solve_ivp

from parts.core.usual_loads import G_0
from parts.vehicle.build import Build
from parts.vehicle.checks import bending_checks
from parts.vehicle.file.loading import build_of
from parts.vehicle.loads import dynamics
from parts.vehicle.loads.statics import FRAME

FALL = "fall on left peg"


@pytest.fixture(scope="module")
def demo():
    return build_of(DEMO)


def case_of(build, name):
    (found,) = [one for one in build.cases if one.name == name]
    return found


def sunk(h, y, z, k, m, gyration, grip):
    """How far a point sinks on a spring [mm], by moving the machine in time as a free body in the plane.

    The ground holds its wheels and the point from below alone, and sideways by `grip` times that, a coefficient of
    friction. Lengths in m; the machine turns as far as it will while the point sinks.
    """
    h, y, z, k, gyration = h / 1e3, y / 1e3, z / 1e3, k * 1e3, gyration / 1e3
    lean = np.arctan2(z, y)
    inertia, stiff = m * gyration**2, 1e2 * k
    omega = np.sqrt(2.0 * m * G_0 * h * (1.0 - np.cos(lean)) / (inertia + m * h**2))
    wheels, point = np.array([0.0, -h]), np.array([y, z - h])

    def turned(arm, by):
        return np.cos(by) * arm[0] + np.sin(by) * arm[1], np.cos(by) * arm[1] - np.sin(by) * arm[0]

    def move(_, s):
        # Where the centre is, aside and up, how far it has turned, and the speeds of the three.
        forces = np.array([0.0, -m * G_0, 0.0])
        for arm, spring, stood in ((wheels, stiff, 0.0), (point, k, np.hypot(y, z))):
            aside, up = turned(arm, s[2])
            down = max(-s[1] - up, 0.0) * spring
            across = np.clip(-stiff * (s[0] + aside - stood), -grip * down, grip * down)
            forces += across, down, up * across - aside * down
        return [*s[3:], *(forces / [m, m, inertia])]

    def sinks(_, s):
        return -s[1] - turned(point, s[2])[1]

    def comes_up(t, s):
        return sinks(t, s) + 1e-9

    comes_up.terminal, comes_up.direction = True, -1
    ahead, high = h * np.sin(lean), h * np.cos(lean)
    start = [ahead, high, lean, omega * high, -omega * ahead, omega]
    found = solve_ivp(
        move, (0.0, 1.0), start, "LSODA", events=comes_up, max_step=4e-3, rtol=1e-6, atol=1e-9
    )
    return float(max(sinks(0.0, s) for s in found.y.T)) * 1e3


@pytest.mark.parametrize(
    ("h", "y", "z", "reaches"),
    by_turns([
        (520.0, 395.0, 1060.0, 0.9),  # a bar end: the centre comes down between wheels and point
        (520.0, 437.0, 92.0, 0.65),  # low and far out: the wheels keep their hold
        (511.0, 256.0, 31.0, 0.8),  # lower still: the machine turns on by more than it leaned
        (591.0, 392.0, 21.0, 0.75),
        (693.0, 181.0, 639.0, 0.85),  # the centre comes down at the point itself
        (520.0, 231.0, 352.0, 0.5),  # a peg: it comes down beyond, and the wheels lift
        (520.0, 150.0, 300.0, 0.25),
    ]),
)  # fmt: skip
@pytest.mark.parametrize("grip", [0.0, 1.2])
@pytest.mark.parametrize("gyration", [100.0, 300.0])
def test_a_machine_that_falls_brings_no_more_than_this_to_one_point(
    h, y, z, reaches, gyration, grip
):
    m, d = 120.0, 80.0
    force = dynamics.force_of_fall(m, h, y, z, d)
    deep = sunk(h, y, z, force / d, m, gyration, grip)
    assert reaches * d < deep <= d * 1.003


@pytest.mark.parametrize(
    ("h", "y", "z"), [(485.0, 231.0, 317.0), (517.0, 238.0, 369.0), (520.0, 437.0, 92.0)]
)
def test_a_fall_has_no_step(h, y, z):
    # Over heights of the centre through those where it comes down at the point (485) and where wheels keep their hold.
    walk = np.linspace(0.6, 1.6, 2001)
    for force in (
        dynamics.force_of_fall(120.0, h * walk, y, z, 80.0),
        dynamics.force_of_fall(120.0, h, y * walk, z, 80.0),
        dynamics.force_of_fall(120.0, h, y, z * walk, 80.0),
    ):
        force = np.broadcast_to(force, walk.shape)
        assert np.abs(np.diff(force)).max() < 5e-3 * force.max()


def test_a_fall_by_hand():
    # 100 kg at 500 mm onto a point 300 mm aside and 400 mm up: it turns by atan(4/3), the centre sinks by 500 (1 - 0.6)
    # = 200 mm and comes down 400 mm from the wheels, 100 short of the point. 100 mm give: on these it turns from 53.13
    # by arcsin(100/500) = 11.54 to 64.67 degrees, and the centre sinks by 500 (0.6 - 0.4279) = 86.06 mm more. The point
    # is as far from the wheels as the centre: all of the fall, c = 1.
    by_hand = 2.0 * 100.0 * G_0 * (200.0 + 86.0612) / 100.0
    assert dynamics.force_of_fall(100.0, 500.0, 300.0, 400.0, 100.0) == pytest.approx(by_hand)
    # 400 mm aside, 600 up, 900 for the centre: r² = 520000, 900 * 600 is beyond it, c = 520000 / 810000.
    share = 520000.0 / 810000.0
    by_hand = 2.0 * 100.0 * G_0 * (share * 9.0 * (1.0 - 400.0 / np.sqrt(520000.0)) + 1.0)
    assert dynamics.force_of_fall(100.0, 900.0, 400.0, 600.0, 100.0) == pytest.approx(by_hand)


def test_a_machine_falls_from_its_height_without_its_rider_where_that_brings_more(demo):
    # Rear spring 431.5 N without the rider, 987.6 with him: it sinks by 3.29 and 34.65 mm from where it was measured.
    # Right peg, without: centre 520 - 3.29 = 516.71 up, peg 238 aside and 372 - 3.29 = 368.71 up, 438.86 from the line
    # of the wheels; the centre comes down 516.71 * 368.71 / 438.86 = 434.12 from it, 0.9892 of the way to the peg.
    # c = (438.86/516.71)² / 0.9892 = 0.7293; on 80 mm it turns from 57.16 by 10.50 degrees, and the centre would sink
    # by 83.8 mm: all 80 count. 2 * 120 g (0.7293 * 516.71 (1 - 238/438.86)/80 + 1) = 7427 N.
    for point, by_hand in (("right peg", 7427.0), ("left peg", 6814.0)):
        (load,) = [one for one in case_of(demo, f"fall on {point}").held if one.point == point]
        assert np.linalg.norm(load.force) == pytest.approx(by_hand, abs=1.0)
    # Left peg, without: 348.71 up, 231 aside: 418.28 from the wheels, the centre comes down 430.8 from them, beyond it:
    # c = (418.28/516.71)² = 0.6553: 2 * 120 g (0.6553 * 516.71 (1 - 231/418.28)/80 + 1) = 6814 N.


def test_the_bar_bends_before_the_fall_has_brought_all(demo, tmp_path):
    # 6061-T6 of 42 ksi, its strongest row, 22.2 mm outside and 17.2 inside, 300 mm from the clamp to the end, which is
    # 1060 mm over the ground less the 3.3 that the machine sinks without its rider; square to the bar by 395 of
    # hypot(395, 1056.7).
    case = case_of(demo, "fall on bar end")
    (load,) = [one for one in case.held if one.point == "bar end"]
    moment = 1.25 * 289.6 * (22.2**3 - 17.2**3) / 6.0
    by_hand = moment / (300.0 * 395.0 / np.hypot(395.0, 1056.7))
    assert np.linalg.norm(load.force) == pytest.approx(by_hand, rel=1e-3)
    assert "bends over first" in case.note and "10" in case.note
    # A bar of steel as thick does not: then all of the fall goes into the head tube.
    stiff = copied(tmp_path, ("bore: 17.2, material: 6061-T6", "material: 4130 normalized"))
    (load,) = [
        one for one in case_of(Build(stiff), "fall on bar end").held if one.point == "bar end"
    ]
    all_of_it = dynamics.force_of_fall(120.0, 520.0 - 3.3, 395.0, 1060.0 - 3.3, 80.0)
    assert np.linalg.norm(load.force) == pytest.approx(all_of_it, rel=5e-3)


def test_what_is_to_bend_in_a_fall_must_bear_the_rider(tmp_path):
    bends = "bends: {diameter: 24, material: 6061-T6, lever: 79}"
    path = copied(
        tmp_path,
        ("at: left peg, gives: 80, required", f"at: left peg, gives: 80, {bends}, required"),
    )
    found = {
        one.load_case: one for one in bending_checks(Build(path)) if one.name.startswith("left peg")
    }
    (one,) = [one for case, one in found.items() if "standing on the left peg" in case]
    # 85 kg times 2.5 on a lever of 79 mm: 32 M / (π 24³) = 121.3 MPa of 228 at least.
    assert float(one.demand) == pytest.approx(32.0 * 85.0 * G_0 * 2.5 * 79.0 / (np.pi * 24.0**3))
    assert one.ok and "fall on left peg" not in found
    weak = path.read_text().replace("diameter: 24,", "diameter: 20,")
    path.write_text(weak)
    assert not all(one.ok for one in bending_checks(Build(path)))
    path.write_text(weak.replace("diameter: 20,", "diameter: 20, bore: 20,"))
    assert any("leaves nothing" in str(one) for one in refused(path))


@pytest.mark.parametrize("part", [pytest.param("HC-104", marks=pytest.mark.slow), "HC-105"])
def test_a_bracket_that_bears_the_rider_alone_falls_short_in_a_fall(demo, part):
    one = demo.part(part)
    thin = {"HC-104": 20.0, "HC-105": 21.0}[part]
    asked = [c for c in one.check().checks if c.load_case.startswith("fall on")]
    assert asked and all(c.ok for c in asked)
    assert {float(c.required) for c in asked if c.mode == "local bending"} == {1.0, 1.5}
    weak = one.changed({"plate.thickness": f"{thin} mm"}).check()
    short = [c for c in weak.checks if not c.ok]
    assert short and all(c.load_case.startswith("fall on") for c in short)


def test_a_fall_on_harder_ground_breaks_a_bracket(tmp_path):
    path = copied(tmp_path, ("at: left peg, gives: 80", "at: left peg, gives: 40"))
    found = Build(path).part("HC-104").check()
    assert not found.ok and found.governing.load_case == FALL


def test_a_fall_on_a_lever_reaches_it_its_stop_and_its_bracket(tmp_path):
    """What strikes the pad goes through the pedal; what of it lifts the pad comes to the post, 115 ahead over 45.
    The levers do not hold that: the pegs strike before them, which is checked."""
    struck = "  - {type: fall, at: kick lever pad, gives: 80}\n"
    more = "".join(
        f"  - {{type: fall, at: {at}, gives: 80}}\n" for at in ("brake pedal pad", "shift toe")
    )
    build = Build(copied(tmp_path, (struck, struck + more)))
    for name, bracket, fall, own in (("HC-113", "HC-105", "fall on brake pedal pad", "pedal"),
                                     ("HC-114", "HC-104", "fall on shift toe", "shift")):  # fmt: skip
        (case,) = [one for one in build.cases if one.name == fall]
        strikes = sum(one.force for one in case.held if one.body != FRAME and one.by == fall)
        lever, there = ({one["at"]: np.array([float(v.split()[0]) for v in one["force"]])
                         for load in build.loads(part) if load["name"] == fall for one in load["forces"]}
                        for part in (name, bracket))  # fmt: skip
        assert lever["toe"] @ build.frame(name).axes == pytest.approx(strikes, abs=1e-3)
        assert there[own] @ build.frame(bracket).axes == pytest.approx(
            -(lever["pivot"] @ build.frame(name).axes), abs=1e-3
        )
        if "stop" in there:
            pull = float(build.bare(name).facts()["greatest pull of the return spring"][0])
            out = 45.0  # post at 43.1, 23.5 along the arm at 115, 10
            assert np.linalg.norm(there["stop"]) == pytest.approx(
                (strikes[2] * 115.0 - strikes[0] * 10.0 + pull * 29.5) / out, rel=0.02
            )
        assert not build.part(name).check().ok
