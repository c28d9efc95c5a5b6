"""A part on the swing arm turns with it: its loads stand in its own axes, however its place is stated."""

import numpy as np
import pytest
from builds import DEMO, copied

from parts.vehicle.build import Build

LEG = """family: coped tube
build: build.yaml
name: HC-141
material: 4130 normalized
form: tube
tube: 1-1/2 in x 0.120 in
length: 350 mm
a: {type: coped, tube: 1-3/4 in x 0.120 in}
b: {type: square}
"""
POINTS = """  leg end: {from: rear axle, offset: [130, 80, 60], within: 0.5}
  leg root: {from: rear axle, offset: [440, 80, 90], within: 0.5}
  # tail
"""
BY_POINTS = "{origin: leg root, x: [leg root, leg end], z: up}"
BY_WAYS = "{origin: rear axle, x: rearward, z: up}"


def with_leg(folder, place):
    (folder / "leg.yaml").write_text(LEG)
    entry = f"""parts:
  - file: leg.yaml
    body: swing arm
    place: {place}
    points: {{b: leg end}}
    carries: {{b: rear axle}}
"""
    return Build(copied(folder, ("  # tail\n", POINTS), ("\nparts:\n", "\n" + entry)))


def turn(swing):
    """About y, right-handed."""
    c, s = np.cos(swing), np.sin(swing)
    return np.array([[c, 0.0, s], [0.0, 1.0, 0.0], [-s, 0.0, c]])


@pytest.mark.parametrize("place", [BY_POINTS, BY_WAYS])
def test_the_wheels_load_on_a_leg_stands_in_the_legs_own_axes_where_the_wheel_is(tmp_path, place):
    build = with_leg(tmp_path, place)
    (case,) = [one for one in build.cases if one.name == "rear wheel at rest, rider seated"]
    (wheel,) = [one for one in case.held if (one.body, one.point) == ("swing arm", "rear axle")]
    drawn, pivot = build.frame("HC-141"), build.points["swing arm pivot"]
    # By another route: the axle lies on its circle about the pivot, at the height that it stands at.
    was, now = build.points["rear axle"] - pivot, case.points["rear axle"] - pivot
    swing = np.arcsin(now[2] / np.hypot(now[0], now[2])) - np.arcsin(was[2] / np.hypot(*was[::2]))
    assert np.degrees(swing) > 3.0
    back = turn(swing).T  # from where the wheel is to where it was drawn
    (given,) = [one for one in build.loads("HC-141") if one["name"] == case.name]
    (one,) = given["forces"]
    force, moment = (np.array([float(v.split()[0]) for v in one[k]]) for k in ("force", "moment"))
    assert force == pytest.approx(drawn.turned_into(back @ wheel.force), abs=1e-3)
    # The load point stays 130 mm ahead, 80 mm beside and 60 mm above the axle of the leg as drawn.
    beside = np.cross([-130.0, -80.0, -60.0], back @ wheel.force)
    assert moment == pytest.approx(drawn.turned_into(beside), abs=0.5)


def test_the_arms_own_axes_stay_those_of_its_points():
    build = Build(DEMO)
    for case in build.cases:
        here, by_points = (f(("HC-103"), case.points) for f in (build.frame, build._frame))
        assert here.axes == pytest.approx(by_points.axes, abs=1e-12)
