"""Vehicles by the hundred: every body balances in every case, no load is lost, and names and sides change nothing."""

import numpy as np
import pytest

from parts.inputs.problems import InputError
from parts.vehicle.build import Build
from tests.vehicle.random_vehicles import SIDEWAYS, built, mirrored, renamed, vehicle

FEW = [pytest.param(seed, id=f"seed {seed}") for seed in range(1)]
MANY = [pytest.param(seed, id=f"seed {seed}", marks=pytest.mark.slow) for seed in range(100, 400)]
OUTSIDE = ("ground", "weight and inertia of", "inertia of the wheel")


def outside(case):
    """Everything that acts on the vehicle from outside: the ground, and the weight and inertia of its masses."""
    found = [one for body in case.balances for one in body.acting if one.by.startswith(OUTSIDE)]
    return np.array([one.force for one in found]), np.array(
        [np.cross(one.at, one.force) + one.moment for one in found]
    )


def on_tail(cases):
    """What acts on the tail, by load case."""
    found = {
        case.name: [
            (one.point, one.by, *one.force, *one.moment) for one in case.held if one.body == "tail"
        ]
        for case in cases
    }
    return {name: held for name, held in found.items() if held}


@pytest.mark.parametrize("seed", [*FEW, *MANY])
def test_a_vehicle_by_chance(seed, tmp_path):
    data = vehicle(seed)
    build = built(data, tmp_path / "one")
    if build is None:
        pytest.skip("this one cannot be put together")
    whole = 0
    for case in build.cases:
        assert not [one.error for one in case.balances if one.error], case.name
        bodies = {one.body for one in case.balances}
        if "wheel" not in bodies or case.name == "kick start":
            continue
        whole += 1
        # What goes in at the ground comes out at the masses, through every joint between them.
        forces, moments = outside(case)
        size = np.max(np.linalg.norm(forces, axis=-1))
        assert np.linalg.norm(forces.sum(axis=0)) < 1e-6 * size, case.name
        assert np.linalg.norm(moments.sum(axis=0)) < 1e-5 * 1000.0 * size, case.name
    assert whole >= 10
    assert all(one.takers or one.not_modelled for ends in build.ends.values() for one in ends)
    assert on_tail(Build(build.path).reaching("first")) == on_tail(build.cases)
    names = {name: f"{name}, otherwise" for name in data["hardpoints"]}
    other = built(renamed(data, names), tmp_path / "other")
    twin = built(mirrored(data), tmp_path / "twin")
    sideways = {one.get("name", one["type"]) for one in SIDEWAYS}
    for case, again, mirror in zip(build.cases, other.cases, twin.cases, strict=True):
        for one, same in zip(case.held, again.held, strict=True):
            assert same.force == pytest.approx(one.force, rel=1e-9, abs=1e-6)
            assert same.moment == pytest.approx(one.moment, rel=1e-9, abs=1e-3)
        if any(case.name.startswith(word) for word in sideways):
            continue
        for one, back in zip(case.held, mirror.held, strict=True):
            scale = max(np.linalg.norm(one.force), 1.0)
            assert back.force * [1, -1, 1] == pytest.approx(one.force, abs=1e-6 * scale), case.name
            assert back.moment * [-1, 1, -1] == pytest.approx(one.moment, abs=1e-3 * scale), (
                case.name
            )


@pytest.mark.parametrize("seed", [FEW[0], *MANY[::5]])
def test_parts_of_a_vehicle_by_chance_bear_what_comes_to_them(seed, tmp_path):
    """Levers, pegs, mount plates, coped tubes and all else: what each part bears, in the vehicle's axes, is what acts
    there; each is in balance with what holds it, and every check is a number."""
    build = built(vehicle(seed, parts=True), tmp_path)
    if build is None:
        pytest.skip("this one cannot be put together")
    cases, read = {one.name: one for one in build.cases}, []
    for name, entry in build.entries.items():
        try:
            part = build.part(name)
        except InputError:
            continue  # its own rules refuse it where the points went
        read.append(part.family)
        for load in part.loads:
            if load.name not in cases or entry.sides == "both":
                continue
            case = cases[load.name]
            sits = {entry.carries.get(own, at) for own, at in entry.points.items()}
            acts = [one for one in case.held if one.body == entry.body and one.point in sits]
            acts = [one for one in acts if not (one.mirrored or one.also)]
            axes = build.frame(name, case.points).axes
            borne = sum((np.asarray(one.force, float) @ axes for one in load.forces), np.zeros(3))
            there = sum((one.force for one in acts), np.zeros(3))
            assert borne == pytest.approx(there, abs=1e-5 * max(np.linalg.norm(there), 1.0)), name
        result = part.check() if seed >= 100 else None
        assert result is None or not [one for one in result.checks if np.isnan(one.demand)], name
    wanted = {"foot lever", "footpeg", "coped tube", "mount plate"}
    assert wanted <= set(read) if seed < 100 else len(read) > 5, read
