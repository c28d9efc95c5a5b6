"""Machines on three wheels: loads by statics with a printed answer, where a wheel lifts, and a sidecar on its links."""

import numpy as np
import pytest
from builds import begun, refused
from numpy.testing import assert_allclose
from scipy.optimize import brentq

from parts.core.usual_loads import G_0
from parts.report.build_starter import SIDECAR
from parts.vehicle.build import Build
from parts.vehicle.loads.vehicle import three_wheel_loads


def outfit(folder, *changes):
    return begun(folder, "outfit", SIDECAR, *changes)


def test_a_truck_on_three_wheels():
    # A box of 103 kg on a three-wheel truck, one wheel in line with it 540 mm ahead, two 625 mm behind, 515 mm to
    # the one side and 195 to the other: 541.52, 128.50 and 339.38 N with g of 9.8. A problem of a college text on
    # statics, read with this answer in a public question-and-answer thread; the book is not named there.
    found = three_wheel_loads(103.0, 0.0, 0.0, 0.0, [540.0, -625.0, -625.0], [0.0, 515.0, -195.0])
    assert_allclose(found, np.array([541.52, 128.50, 339.38]) * G_0 / 9.8, rtol=2e-3)


def test_a_trike_tips_over_the_line_of_front_and_outer_wheel():
    # By the triangle: the resultant of weight and inertia meets the line from the front wheel to a rear one, at l/L of
    # half the track beside the middle, so a = g (l/L) T / (2 h).
    L, track, h, back = 1600.0, 1200.0, 550.0, 1000.0
    most = G_0 * (back / L) * track / (2.0 * h)
    wheels = [back, back - L, back - L]
    loads = three_wheel_loads(
        300.0, 0.0, 0.0, h, wheels, [0.0, track / 2.0, -track / 2.0], 0.0, most
    )
    assert loads[1] == pytest.approx(0.0, abs=1e-9) and loads[0] > 0.0 and loads[2] > 0.0
    assert np.sum(loads) == pytest.approx(300.0 * G_0)


def test_the_whole_outfit_is_in_balance_and_its_sidecar_hangs_on_six_links(tmp_path):
    build = Build(outfit(tmp_path))
    for case, left in zip(build.cases, (0.0, -0.2, 0.4), strict=True):
        assert not [one.error for one in case.balances if one.error], case.name
        bodies = {one.body for one in case.balances}
        assert bodies >= {"sidecar", "wheel", "fork", "frame"}
        ground = [one for body in case.balances for one in body.acting
                  if one.by == "ground" or (body.body == "sidecar" and one.by == "three wheels")]  # fmt: skip
        assert len(ground) == 3
        force = sum(np.asarray(one.force) for one in ground)
        # Everything that the ground gives holds the weight and turns the way: 275 kg in all.
        assert force == pytest.approx(275.0 * G_0 * np.array([0.0, left, 1.0]), rel=1e-9, abs=1e-6)
        # Its moment is that of weight and inertia at the centre of mass.
        centre = (
            190.0 * np.array([140.0, -210.0, 480.0]) + 85.0 * np.array([-40.0, 0.0, 980.0])
        ) / 275.0
        moment = sum(np.cross(np.asarray(one.at) - centre, one.force) for one in ground)
        assert moment == pytest.approx(np.zeros(3), abs=1e-3)
    (turn,) = [one for one in build.part("first").loads if one.name == "turning left"]
    stay = [one for one in build.cases[2].held if (one.body, one.by) == ("front stay", "sidecar")]
    assert np.linalg.norm(turn.forces[0].force) == pytest.approx(
        np.linalg.norm(stay[0].force), rel=1e-6
    )


@pytest.mark.parametrize("left", [0.0, -0.2, 0.4])
def test_the_struts_bear_what_the_sidecar_weighs_beside_what_its_wheel_brings(tmp_path, left):
    # Turning right at 0.2 g its wheel is all but lifted, and the struts carry it: all six together what 70 kg weigh,
    # and hold them in the turn, less what the ground gives its wheel.
    build = Build(outfit(tmp_path))
    case = next(one for one, a in zip(build.cases, (0.0, -0.2, 0.4), strict=True) if a == left)
    on = [one for one in case.held if one.body == "sidecar"]
    (ground,) = [one for one in on if one.by == "three wheels"]
    (own,) = [one for one in on if one.by.startswith("weight")]
    assert own.force == pytest.approx(70.0 * G_0 * np.array([0.0, -left, -1.0]), abs=1e-6)
    struts = [one for one in on if one not in (ground, own)]
    force = sum(np.asarray(one.force) for one in struts)
    assert force == pytest.approx(-ground.force - own.force, abs=1e-6)
    turn = sum(np.cross(case.points[one.point], one.force) for one in [*struts, ground, own])
    assert turn == pytest.approx(np.zeros(3), abs=1e-2)
    if left == -0.2:
        assert np.linalg.norm(force) > 2.0 * np.linalg.norm(ground.force)


DRIVEN = (
    ("{type: three wheels, name: standing}", "{type: acceleration}\n  - {type: landing, height: 200}"),
    ("vehicle:", "  sprocket: {at: [-486, 60, 320]}\n  gearbox: {at: [72, 60, 428]}\nvehicle:"),
    ("third_wheel:", "tyre_rate: 200, third_wheel:"),
    ("front_end:", "chain: {rear_sprocket: sprocket, front_sprocket: gearbox, rear_radius: 120, front_radius: 35}\n"
     "front_end:"),
    ("not_modelled:", "not_modelled:\n  gearbox: bought\n  sprocket: bought"),
)  # fmt: skip


def test_an_outfit_drives_until_its_rear_tyre_slides_and_its_tyres_hold_it_from_turning(tmp_path):
    build = Build(outfit(tmp_path, *DRIVEN))
    (case,) = [one for one in build.cases if one.name == "acceleration"]
    assert not [one.error for one in case.balances if one.error]
    ground = [one for body in case.balances for one in body.acting
              if one.by == "ground" or (body.body == "sidecar" and one.by == "acceleration")]  # fmt: skip
    assert len(ground) == 3
    force = sum(np.asarray(one.force) for one in ground)
    centre = (
        190.0 * np.array([140.0, -210.0, 480.0]) + 85.0 * np.array([-40.0, 0.0, 980.0])
    ) / 275.0
    assert force[1] == pytest.approx(0.0, abs=1e-6) and force[2] == pytest.approx(275.0 * G_0)
    # Nothing pitches, rolls or turns it; the sidecar's wheel rolls freely.
    moment = sum(np.cross(np.asarray(one.at) - centre, one.force) for one in ground)
    assert moment == pytest.approx(np.zeros(3), abs=1e-2)
    (third,) = [one for one in ground if one.at[1] < -1000.0]
    assert third.force[:2] == pytest.approx([0.0, 0.0])
    rear = max(ground, key=lambda one: one.force[0]).force
    (said,) = [one for one in case.factors if one.name == "full drive [N]"]
    limits = {"the rear tyre slides": rear[0] - 1.2 * rear[2]}
    limits["the front wheel lifts"] = min(one.force[2] for one in ground)
    assert limits[said.source.partition(";")[0]] == pytest.approx(0.0, abs=1e-6 * rear[2])


def test_a_third_wheel_lands_on_its_tyre(tmp_path):
    build = Build(outfit(tmp_path, *DRIVEN))
    (case,) = [one for one in build.cases if one.name == "landing"]
    assert not [one.error for one in case.balances if one.error]
    (third,) = [one for one in case.held if one.body == "sidecar" and one.by == "landing"]
    # By the root of the energies: the mass that it carries at rest drops 200 mm and on into a tyre of 200 N/mm.
    at = np.array([[-486.0, 0.0], [854.0, 0.0], [-286.0, -1050.0]])
    load = np.linalg.solve(
        np.vstack([np.ones(3), at.T]),
        [275.0, 190.0 * 140.0 - 85.0 * 40.0, 190.0 * -210.0],
    )[2] * G_0  # fmt: skip
    y = brentq(lambda y: 100.0 * y**2 - load * (200.0 + y), 0.0, 500.0)
    assert third.force == pytest.approx([0.0, 0.0, 200.0 * y], rel=1e-6)


@pytest.mark.parametrize(
    ("change", "field", "words"),
    [
        (("left: -0.2", "left: -0.3"), "cases[2].left", "the third wheel lifts at 0.7"),
        (("{type: three wheels, name: standing}", "{type: cornering, lateral: 0.4}"), "cases[1].type",
         "is a case of a machine on two wheels"),
        (("{type: three wheels, name: standing}", "{type: acceleration, slope: 5 deg}"), "cases[1].slope",
         "on level ground"),
        (("{type: three wheels, name: standing}", "{type: landing, height: 100, lean: 5 deg}"), "cases[1].lean",
         "upright"),
        (("{type: three wheels, name: standing}", "{type: fall, at: headstock, gives: 50}"), "cases[1].type",
         "does not fall over"),
        ((", third_wheel: side wheel on the ground", ""), "cases[1].type", "states no third wheel"),
        (("third_wheel: side wheel on the ground", "third_wheel: side wheel"), "vehicle.third_wheel",
         "no hardpoint `side wheel`"),
        (("at: [-286, -1050, 0]", "at: [-286, 0, 0]"), "vehicle.third_wheel", "in one line"),
        (("at: [140, -210, 480]", "at: [140, 400, 480]"), "vehicle.machine_centre", "its third wheel lifts"),
        (("mass: 70 kg", "mass: 300 kg"), "bodies.sidecar.mass", "with those who ride it 275 kg"),
        ((", centre: sidecar centre", ""), "bodies.sidecar", "states `mass:` and `centre:`, or neither"),
        (("centre: sidecar centre", "centre: middle"), "bodies.sidecar.centre", "no hardpoint `middle`"),
        (("name: standing}", "name: standing, braking: 0.3}"), "cases[1].type", "does not state its rear brake"),
    ],
)  # fmt: skip
def test_what_three_wheels_cannot_bear_is_told_at_its_place(tmp_path, change, field, words):
    problems = refused(outfit(tmp_path, change))
    assert any(one.field == field and words in str(one) and one.line > 0 for one in problems), (
        problems
    )
