"""The vernier against trying every move of both splines."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.vehicle.rear_end.clocking import (
    ClockingError,
    clocked_angle,
    finest_step,
    nearest_settings,
)

teeth = st.integers(1, 60)


def away(angle, wanted):
    """How far two angles stand apart round the circle."""
    return abs(math.remainder(angle - wanted, 2 * math.pi))


@given(teeth, teeth, st.floats(-3.0, 3.0), st.integers(1, 6))
def test_nothing_stands_nearer_than_what_is_listed(anchor, arm, wanted, count):
    found = nearest_settings(wanted, anchor, arm, count)
    every = 2 * np.pi * (np.arange(anchor)[:, None] / anchor + np.arange(arm) / arm)
    distances = np.abs((every - wanted + np.pi) % (2 * np.pi) - np.pi).ravel()
    step = 2 * math.pi / math.lcm(anchor, arm)
    # All angles that can be had are whole steps: count distances of different steps.
    distinct = np.unique(
        np.round((every.ravel() % (2 * np.pi)) / step).astype(int) % math.lcm(anchor, arm)
    )
    assert len(distinct) == math.lcm(anchor, arm)
    assert len(found) == min(count, math.lcm(anchor, arm))
    assert abs(found[0].error) == pytest.approx(distances.min(), abs=1e-9)
    assert [abs(s.error) for s in found] == pytest.approx(
        sorted(abs(s.error) for s in found), abs=1e-9
    )
    for s in found:
        assert s.error == pytest.approx(s.angle - wanted, abs=1e-12)
        assert away(clocked_angle(s.anchor, s.arm, anchor, arm), s.angle) < 1e-9
        assert abs(s.error) <= (len(found) / 2 + 0.5) * step + 1e-9
    assert len({round(s.angle / step) for s in found}) == len(found)


@given(teeth, teeth, st.floats(-3.0, 3.0))
def test_the_fewest_teeth_are_moved(anchor, arm, wanted):
    best = nearest_settings(wanted, anchor, arm, 1)[0]
    moves = [
        abs(p) + abs(q)
        for p in range(-anchor, anchor + 1)
        for q in range(-arm, arm + 1)
        if away(clocked_angle(p, q, anchor, arm), best.angle) < 1e-9
    ]
    assert abs(best.anchor) + abs(best.arm) == min(moves)


def test_47_and_48_teeth_make_a_vernier_of_a_sixth_of_a_degree():
    assert math.degrees(finest_step(47, 48)) == pytest.approx(360 / (47 * 48))
    one = nearest_settings(2 * math.pi / 47 - 2 * math.pi / 48, 47, 48, 1)[0]
    assert (one.anchor, one.arm) == (1, -1)
    assert one.error == pytest.approx(0.0, abs=1e-12)


def test_equal_teeth_step_by_one_tooth_and_the_arm_alone_is_moved():
    assert finest_step(48, 48) == pytest.approx(2 * math.pi / 48)
    found = nearest_settings(math.radians(15.0), 48, 48, 3)
    assert [(s.anchor, s.arm) for s in found] == [(0, 2), (0, 1), (0, 3)]


def test_of_two_equally_near_the_one_with_fewer_teeth_comes_first():
    step = 2 * math.pi / 48
    assert nearest_settings(-1.5 * step, 48, 48, 1)[0].arm == -1
    assert nearest_settings(1.5 * step, 48, 48, 1)[0].arm == 1


def test_steps_broadcast():
    assert finest_step(np.array([36, 47]), 48) == pytest.approx(
        [2 * np.pi / 144, 2 * np.pi / (47 * 48)]
    )


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        ((0.1, 0, 48, 5), "0 teeth at the anchor"),
        ((0.1, 47, 48.5, 5), "48.5 teeth at the arm"),
        ((float("nan"), 47, 48, 5), "wanted angle is nan"),
        ((0.1, 47, 48, 0), "0 settings are asked for"),
    ],
)
def test_splines_that_are_none_are_refused(asked, message):
    with pytest.raises(ClockingError, match=message):
        nearest_settings(*asked)
