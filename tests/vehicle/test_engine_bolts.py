"""Bolts of a bracket that hold the engine: its chain, its own mass and its inertia at every turn of the crank."""

import re

import numpy as np
import pytest
from builds import DEMO, copied

from parts.core.usual_loads import G_0
from parts.vehicle.build import Build
from parts.vehicle.checks import check_build
from parts.vehicle.engine_bolts import engine_bolt_checks, engine_bolts
from parts.vehicle.file.loading import build_of

THREE = ("head steady, swing arm pivot, front engine lug,\n    lower front lug]", "head steady]")


@pytest.fixture(scope="module")
def demo():
    return build_of(DEMO)


def test_the_bolts_of_both_brackets_are_found_by_their_place(demo):
    assert [(one.part, one.which, one.at) for one in engine_bolts(demo)] == [
        ("HC-104", 0, "lower engine bolt, left"), ("HC-105", 0, "lower engine bolt, right")
    ]  # fmt: skip
    found = [one for one in check_build(demo).checks if "engine bolt" in one.name]
    assert len(found) == 6 and all(one.ok for one in found)


def test_engine_bolts_that_hold_on_six_mounts_slip_on_three(tmp_path):
    path = copied(tmp_path, THREE)
    without = re.sub(r"  - file: hc-120.*\n(    .*\n)+", "", path.read_text())
    path.write_text(without)  # the plates of the mounts that are gone
    build = Build(path)
    slip = {one.name[:6]: one for one in engine_bolt_checks(build) if one.mode == "slip"}
    assert not any(one.ok for one in slip.values()) and not check_build(build).ok
    # 0.42 kg on a crank of 42 mm at 8000 a minute, r / l = 42 / 140; half of the first order balanced. The force goes
    # through the crank at (140, 395), the mounts stand at (60, 300) twice and (150, 640): each bears a third of it, and
    # of what turns it about their middle by the sum of squares of their distances.
    first = 0.42 * 0.042 * (8000.0 * np.pi / 30.0) ** 2
    places = np.array([[60.0, 300.0], [60.0, 300.0], [150.0, 640.0]])
    beside = places - places.mean(axis=0)
    worst = 0.0
    for turn in np.linspace(0.0, 2.0 * np.pi, 720):
        along = 0.5 * first * np.cos(turn) + 0.3 * first * np.cos(2.0 * turn)
        force = np.array([-0.5 * first * np.sin(turn), along])
        lever = np.array([140.0, 395.0]) - places.mean(axis=0)
        moment = lever[0] * force[1] - lever[1] * force[0]
        on = force / 3.0 + moment / np.sum(beside**2) * np.array([-beside[0][1], beside[0][0]])
        worst = max(worst, float(np.hypot(*on)))
    assert float(slip["HC-104"].demand) == pytest.approx(worst, rel=1e-3)


def test_the_chain_s_pull_and_the_plate_are_felt_together(demo):
    left = next(iter(engine_bolts(demo)))
    (snatch,) = [one for one in demo.cases if one.name == "chain snatch"]
    shear, pull = left.felt(snatch)
    (own,) = [one for one in snatch.held if one.body == "frame" and one.point == left.at]
    assert np.hypot(*shear) == pytest.approx(np.hypot(own.force[0], own.force[2]))
    assert pull == pytest.approx(abs(own.force[1]))
    # In the rider's landing the engine does nothing, and the plate alone is on the bolt.
    (landing,) = [one for one in demo.cases if one.name == "standing on the left peg at landing"]
    assert not np.any(left.by_engine(landing)) and np.hypot(*left.felt(landing)[0]) > 500.0


def test_the_engine_s_own_mass_hangs_on_its_mounts(demo):
    for name in ("landing", "rear brake"):
        (case,) = [one for one in demo.cases if one.name == name]
        (engine,) = [one for one in case.balances if one.body == "engine"]
        (weight,) = [one for one in engine.acting if one.by.startswith("weight and inertia")]
        mounts = sum(
            np.asarray(one.force) for one in engine.acting if one.by.startswith("mount at")
        )
        assert (
            mounts == pytest.approx(-np.asarray(weight.force), rel=1e-6, abs=1e-6)
            and not engine.error
        )
        assert np.asarray(weight.at) == pytest.approx([150.0, 0.0, 430.0])
    # Braked by the rear tyre it is thrown forward by its share of the ground's force.
    (ground,) = [
        one
        for body in case.balances
        if body.body == "wheel"
        for one in body.acting
        if one.by == "ground"
    ]
    assert weight.force[0] == pytest.approx(-34.0 / 205.0 * ground.force[0])
    assert weight.force[2] == pytest.approx(-34.0 * G_0)


def test_a_mass_without_a_place_is_asked_for(tmp_path):
    path = copied(tmp_path, ("  centre: engine centre\n", ""))
    with pytest.raises(Exception, match="state `centre:`"):
        _ = Build(path).cases
