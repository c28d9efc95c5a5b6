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
    force, _ = part.bolt_forces(case)
    return np.hypot(force[..., 0], force[..., 1])


def test_loads_that_balance_each_other_count_each_alone(part):
    push, pull = (600.0, 0.0, 0.0), (-600.0, 0.0, 0.0)
    both = shear(part, case_of(peg=push, pedal=pull))
    alone = [shear(part, case_of(peg=push)), shear(part, case_of(pedal=pull))]
    together, _, _ = part.reactions(case_of(peg=push, pedal=pull))
    np.testing.assert_allclose(
        both, np.maximum.reduce([*alone, np.hypot(together[..., 0], together[..., 1])])
    )
    assert np.all(both >= np.maximum(*alone))


def test_one_load_is_what_it_was(part):
    case = case_of(peg=(200.0, -1500.0, 0.0))
    force, _ = part.bolt_forces(case)
    np.testing.assert_array_equal(force, part.reactions(case)[0])


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
