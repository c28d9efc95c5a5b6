"""Ride height against an independent root finder, frequency against closed forms, turns against differences."""

import numpy as np
import pytest
from hill_climb import LINKAGE, REAR, TURNBUCKLE, VEHICLE
from scipy.optimize import brentq

from parts.vehicle.rear_end.linkage import Linkage, LinkageError
from parts.vehicle.rear_end.ride import (
    G_0,
    Turnbuckle,
    adjustment,
    natural_frequency,
    rest,
)
from parts.vehicle.rear_end.suspension import Bar, RearEnd, response

LOAD = float(VEHICLE.rear_sprung_load())


def force(travel, link=None):
    return float(response(REAR, travel, link).wheel_force)


def test_rest_is_the_root_of_the_wheel_force():
    loads = np.array([500.0, LOAD, 1500.0])
    found = rest(REAR, loads)
    for load, sag in zip(loads, found.travel, strict=True):
        assert sag == pytest.approx(brentq(lambda s, w=load: force(s) - w, 0.0, 110.0), abs=1e-9)
    assert found.share == pytest.approx(found.travel / 110.0)


def test_on_its_stops_the_wheel_has_no_frequency():
    found = rest(REAR, np.array([100.0, LOAD, 9000.0]))
    assert found.travel == pytest.approx(
        [0.0, brentq(lambda s: force(s) - LOAD, 0, 110), 110.0], abs=1e-9
    )
    assert list(found.topped) == [True, False, False]
    assert list(found.bottomed) == [False, False, True]
    assert list(np.isnan(found.frequency)) == [True, False, True]


def test_frequency_of_a_spring_that_its_own_weight_presses_by_delta():
    # f = √(g/δ)/2π: Den Hartog, Mechanical Vibrations, ch. 2, from memory.
    m, delta = 80.0, 40.0
    c = m * G_0 / delta
    assert natural_frequency(c, m) == pytest.approx(np.sqrt(G_0 * 1000.0 / delta) / (2 * np.pi))
    assert np.isnan(natural_frequency(-1.0, 80.0))


def test_a_turn_moves_the_wheel_as_the_geometry_says():
    # At constant load dF = 0: c ds + (∂F/∂L) dL = 0, the second by difference.
    h = 1e-3
    sag = float(rest(REAR, LOAD).travel)
    link = float(LINKAGE.drawn_length)
    pull = (force(sag, link + h) - force(sag, link - h)) / (2 * h)
    per_mm = -pull / float(response(REAR, sag).wheel_rate)
    turns = 0.01
    found = adjustment(REAR, TURNBUCKLE, [-turns, turns], [LOAD])
    slope = (found.sag[1, 0] - found.sag[0, 0]) / (2 * turns)
    # Differences over a fiftieth of a turn, 0.05 mm of link.
    assert slope == pytest.approx(per_mm * 2.54, rel=1e-4)


def test_adjustment_lists_every_load_and_both_ends_of_the_travel():
    found = adjustment(REAR, TURNBUCKLE, [-1.0, 0.0, 1.0], [430.0, LOAD])
    assert found.sag.shape == (3, 2)
    assert found.height[1] == pytest.approx([0.0, 0.0])
    # A shorter link winds this bar up: less sag, a higher machine, more stress.
    assert np.all(np.diff(found.sag[:, 1]) > 0.0) and np.all(np.diff(found.height[:, 1]) < 0.0)
    assert np.all(np.diff(found.preload) < 0.0) and np.all(np.diff(found.bump_shear) < 0.0)
    assert found.preload[1] == pytest.approx(float(response(REAR, 0.0).twist))
    assert found.droop_force[2] == pytest.approx(force(0.0, TURNBUCKLE.at(1.0)))
    assert found.bump_force[2] == pytest.approx(force(110.0, TURNBUCKLE.at(1.0)))


def test_turns_to_both_ends_of_the_thread():
    low, high = TURNBUCKLE.turns
    assert TURNBUCKLE.at(low) == pytest.approx(TURNBUCKLE.shortest)
    assert TURNBUCKLE.at(high) == pytest.approx(TURNBUCKLE.longest)


@pytest.mark.parametrize(
    ("turns", "message"),
    [
        (-9.0, "shorter than the turnbuckle's shortest, 145.00 mm"),
        (9.0, "longer than the 163.00 mm"),
    ],
)
def test_turns_beyond_the_thread_are_refused(turns, message):
    with pytest.raises(LinkageError, match=message):
        adjustment(REAR, TURNBUCKLE, [turns], [LOAD])


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ((150.0, 0.0, 140.0, 160.0), "changes by 0 mm a turn"),
        ((150.0, 2.5, 160.0, 140.0), "160 mm at its shortest and 140 mm at its longest"),
        (
            (130.0, 2.5, 140.0, 160.0),
            "130.00 mm is shorter than the turnbuckle's shortest, 140.00 mm",
        ),
        ((170.0, 2.5, 140.0, 160.0), "170.00 mm is longer than the 160.00 mm"),
    ],
)
def test_turnbuckles_that_make_no_sense_are_refused(fields, message):
    with pytest.raises(LinkageError, match=message):
        Turnbuckle(*fields)


def test_a_wheel_that_would_snap_through_is_refused():
    # The pick-up swings towards the line of link and pivot: its lever falls faster than the bar winds up.
    linkage = Linkage(
        pivot=(0, 0, 437), axle=(-486, 0, 320), pick_up=(34, 52, 455), arm_end=(-242, 60, 390),
        bar=(-249, 0, 490), travel=110.0,
    )  # fmt: skip
    rear = RearEnd(linkage, Bar(25.4, 360.0, 79_300.0), preload=0.3)
    rates = response(rear, np.linspace(0.0, 110.0, 45)).wheel_rate
    assert np.min(rates) < 0.0
    with pytest.raises(LinkageError, match="would snap through"):
        rest(rear, 500.0)
