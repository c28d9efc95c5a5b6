"""Vehicles by the hundred: every body balances in every case, no load is lost, and names and sides change nothing."""

import numpy as np
import pytest

from parts.vehicle.build import Build
from tests.vehicle.random_vehicles import SIDEWAYS, built, mirrored, renamed, vehicle

FEW = [pytest.param(seed, id=f"seed {seed}") for seed in range(2)]
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
