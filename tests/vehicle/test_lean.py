"""What touches the ground first, worked by hand on the demo: arctan of height over distance from the middle."""

from pathlib import Path

import numpy as np
import pytest

from parts.vehicle.build import Build
from parts.vehicle.space.lean import lean_checks

DEMO = Path(__file__).parents[2] / "params"


def lean(y, z):
    return np.degrees(np.arctan2(z, y))


@pytest.fixture(scope="module")
def build():
    return Build(DEMO / "build.yaml")


@pytest.fixture(scope="module")
def found(build):
    return {one.name: one for one in lean_checks(build)}


def test_the_pegs_take_a_fall_before_the_levers(found):
    """Left: once the peg has folded, the nose of its fork, 14 about a pin 185 out and 352 high, a third of a right
    angle below the level. Right peg: its shoulder 164 mm out, 95 long, 34 thick, 372 high."""
    left, right = found["HC-115 strikes before HC-114"], found["HC-116 strikes before HC-113"]
    assert left.demand == pytest.approx(lean(185.0 + 14.0 * np.cos(np.pi / 6.0), 352.0 - 7.0))
    assert right.demand == pytest.approx(lean(238.0 - 74.0 + 95.0, 372.0 - 17.0))
    # The toe of the shift lever: hub 174 out, crank 4, half the boss 7, foot 14 out and half as far again to the end.
    assert left.capacity == pytest.approx(lean(174.0 + 4.0 + 7.0 + 21.0, 372.0 - 5.0))
    assert left.ok and right.ok


def test_the_machine_leans_through_its_turn(found, build):
    """The plate of the anchor touches first. Its lowest bolts are 10 mm below the bar at 278; beside them wall 7 and
    half a washer of 24 mm and what the wall adds; its outer face is 341 + 20 + 7 out. The turn presses the wheel up."""
    one = found["machine leans until it touches"]
    (turn,) = [case for case in build.cases if case.name == "cornering"]
    up = turn.points["rear axle"][2] - build.points["rear axle"][2]
    pad = np.tan(np.radians(one.capacity)) * 368.0 + up - 278.0 + 10.0
    assert 30.0 < up < 60.0
    assert -32.0 < pad < -19.0
    assert one.demand == pytest.approx(24.0 + 5.0) and one.ok
    assert "HC-123 at 29." in one.note and "no peg, so nothing warns" in one.note


def test_a_plate_that_hangs_below_the_outrigger_strikes_in_the_turn(tmp_path):
    """Two bolts 71 mm below the bar: 278 - 71 - 25 less what the turn presses the wheel up, over 368 mm, is some 21
    degrees for the 24 of the turn and 5 more."""
    copied(DEMO, tmp_path, "hc-123-bar-anchor.yaml", ("[-97, -10]", "[-23, -71]"))
    one = {c.name: c for c in lean_checks(Build(tmp_path / "build.yaml"))}[
        "machine leans until it touches"
    ]
    assert not one.ok and one.capacity == pytest.approx(
        lean(368.0, 278.0 - 71.0 - 25.0 - 38.0), abs=1.5
    )


def test_a_turn_without_a_lean_of_its_own_leans_with_its_load(tmp_path):
    """0.7 g to the side and 1 down: 35 degrees, and 5 more, for the 29 at which the plate touches; without pegs too."""
    upright = " lateral: 0.7, lean: 2 deg, name: slow}"
    copied(DEMO, tmp_path, "build.yaml",
           (" lateral: 0.7, lean: 24 deg}", f" lateral: 0.7}}\n  - {{type: cornering,{upright}"))  # fmt: skip
    text = (tmp_path / "build.yaml").read_text()
    i, j = text.index("  - file: hc-115"), text.index("  - file: hc-120")
    (tmp_path / "build.yaml").write_text(text[:i] + text[j:])
    one, slow = lean_checks(Build(tmp_path / "build.yaml"))
    assert slow.load_case == "slow" and slow.demand == pytest.approx(2.0 + 5.0) and slow.ok
    assert one.demand == pytest.approx(np.degrees(np.arctan(0.7)) + 5.0) and not one.ok


def test_a_lower_pedal_strikes_before_its_peg(tmp_path):
    copied(
        DEMO,
        tmp_path,
        "hc-113-brake-pedal.yaml",
        ("height_of_foot: 12 mm", "height_of_foot: 52 mm"),
    )
    found = {one.name: one for one in lean_checks(Build(tmp_path / "build.yaml"))}
    assert not found["HC-116 strikes before HC-113"].ok


def copied(folder, to, file, change):
    """The demo with one text of one of its files in place of another."""
    for path in folder.rglob("*.yaml"):
        copy = to / path.relative_to(folder)
        copy.parent.mkdir(exist_ok=True)
        text = path.read_text()
        copy.write_text(text.replace(*change) if path.name == file else text)
        assert path.name != file or change[0] in text
