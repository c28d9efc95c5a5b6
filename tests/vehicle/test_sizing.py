"""The exact bar for a linkage, held against its response."""

import numpy as np
import pytest
from hill_climb import LINKAGE, STEEL, WANTED
from linkages import SKEWED

from parts.vehicle.rear_end.bars import Wanted, bar_for
from parts.vehicle.rear_end.linkage import LinkageError
from parts.vehicle.rear_end.ride import rest
from parts.vehicle.rear_end.suspension import Bar, RearEnd, response


@pytest.mark.parametrize("linkage", [LINKAGE, SKEWED])
def test_the_exact_bar_gives_the_wanted_rate_and_sag(linkage):
    diameters = np.array([20.0, 25.4])
    rear = bar_for(linkage, WANTED, diameters, STEEL.G)
    there = response(rear, WANTED.sag)
    assert there.wheel_force == pytest.approx(WANTED.load)
    assert there.wheel_rate == pytest.approx(WANTED.wheel_rate)
    assert rear.bar.length[1] / rear.bar.length[0] == pytest.approx((25.4 / 20.0) ** 4)
    assert rest(rear, WANTED.load).travel == pytest.approx([WANTED.sag] * 2, abs=1e-7)


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ((0.0, 900.0, 33.0, 110.0), "wheel rate is 0; it must be more than nothing"),
        ((18.0, -1.0, 33.0, 110.0), "load is -1"),
        ((18.0, 900.0, 120.0, 110.0), "a sag of 120 mm leaves nothing of 110 mm"),
    ],
)
def test_rides_that_make_no_sense_are_refused(fields, message):
    with pytest.raises(LinkageError, match=message):
        Wanted(*fields)


def test_the_exact_bar_refuses_what_the_linkage_does_not_do():
    with pytest.raises(LinkageError, match="travels 110 mm where 90 mm are wanted"):
        bar_for(LINKAGE, Wanted(18.0, 900.0, 30.0, 90.0), 25.4, STEEL.G)
    # Towards full bump this linkage stiffens by its geometry alone, by more than that soft a bar would add.
    assert response(RearEnd(LINKAGE, Bar(25.4, 300.0, STEEL.G), 0.0), 80.0).rate_of_geometry > 0.1
    with pytest.raises(LinkageError, match="the geometry alone gives"):
        bar_for(LINKAGE, Wanted(0.1, 900.0, 80.0, 110.0), 25.4, STEEL.G)
