"""Bolts of a bracket whose loads balance each other: a stiff frame takes each load where it enters."""

import numpy as np
import pytest
from brackets import bracket

from parts.core.loads import LoadCase, PointLoad


def case_of(**forces):
    return LoadCase(
        name="case", forces=[PointLoad(at=at, force=force) for at, force in forces.items()]
    )


@pytest.fixture(scope="module")
def part():
    return bracket("tapped pivots")


def shear(part, case):
    force, _ = part.loads_on_mounts.bolt_forces(case)
    return np.hypot(force[..., 0], force[..., 1])


def test_loads_that_balance_each_other_count_each_alone(part):
    push, pull = (600.0, 0.0, 0.0), (-600.0, 0.0, 0.0)
    both = shear(part, case_of(peg=push, pedal=pull))
    alone = [
        part.loads_on_mounts.reactions(case_of(**{at: force}))[0]
        for at, force in (("peg", push), ("pedal", pull))
    ]
    assert np.all(both >= np.maximum(*(np.hypot(one[:, 0], one[:, 1]) for one in alone)))


def test_one_load_is_that_of_a_stiff_plate_or_of_a_soft_one(part):
    """The soft plate by hand: each mount as stiff as 1/L³, in balance, and 1.35 times that."""
    place, load = np.array([-35.0, 48.0]), np.array([200.0, -1500.0])
    places = np.array([mount.at for mount in part.mounts], float)
    case = case_of(peg=(*load, 0.0))
    A = np.hypot(*(places - place).T) ** -3.0
    middle = A @ places / A.sum()
    r, arm = places - middle, place - middle
    spin = (arm[0] * load[1] - arm[1] * load[0]) / (A @ (r**2).sum(1))
    soft = A[:, None] * (load / A.sum() + spin * np.stack([-r[:, 1], r[:, 0]], axis=1))
    assert soft.sum(0) == pytest.approx(load)
    stiff = part.loads_on_mounts.reactions(case)[0][:, :2]
    np.testing.assert_allclose(
        shear(part, case), np.maximum(np.hypot(*stiff.T), 1.35 * np.hypot(*soft.T)), rtol=1e-9
    )


def test_the_checks_of_a_mount_take_it(part):
    balanced = case_of(peg=(600.0, 0.0, 0.0), pedal=(-600.0, 0.0, 0.0))
    alone = case_of(pedal=(-600.0, 0.0, 0.0))

    def demand(case):
        return {
            one.name: float(one.demand) for one in part.modes(case)
            if one.name.startswith("mount") and "shear" in one.name
        }  # fmt: skip

    found, least = demand(balanced), demand(alone)
    assert found and set(found) == set(least)
    assert all(found[name] >= least[name] * (1.0 - 1e-12) for name in found)
