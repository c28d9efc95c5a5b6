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
    """Left peg: its shoulder 160 mm out, 92 long, 34 thick, 352 high. Right: 164, 95, 34, 372."""
    left, right = found["HC-115 strikes before HC-114"], found["HC-116 strikes before HC-113"]
    assert left.demand == pytest.approx(lean(231.0 - 71.0 + 92.0, 352.0 - 17.0))
    assert right.demand == pytest.approx(lean(238.0 - 74.0 + 95.0, 372.0 - 17.0))
    # The toe of the shift lever: hub 174 out, crank 4, half the boss 7, foot 14 out and half as far again to the end.
    assert left.capacity == pytest.approx(lean(174.0 + 4.0 + 7.0 + 21.0, 372.0 - 5.0))
    assert left.ok and right.ok


def test_the_machine_leans_through_its_turn(found, build):
    """The outrigger that holds the bar touches first: 341 mm out and 278 high, 39.2 degrees for the 34 of the turn."""
    one = found["machine leans until it touches"]
    at = build.points["bar anchor"]
    assert one.capacity == pytest.approx(lean(at[1], at[2])) == pytest.approx(39.19, abs=0.01)
    assert one.demand == pytest.approx(34.0) and one.ok
    assert "bar anchor at 39.2°" in one.note and "HC-115 at 53." in one.note


def test_a_lower_pedal_strikes_before_its_peg(tmp_path):
    for path in DEMO.rglob("*.yaml"):
        copy = tmp_path / path.relative_to(DEMO)
        copy.parent.mkdir(exist_ok=True)
        text = path.read_text()
        if path.name == "hc-113-brake-pedal.yaml":
            text = text.replace("height_of_foot: 12 mm", "height_of_foot: 52 mm")
        copy.write_text(text)
    found = {one.name: one for one in lean_checks(Build(tmp_path / "build.yaml"))}
    assert not found["HC-116 strikes before HC-113"].ok
