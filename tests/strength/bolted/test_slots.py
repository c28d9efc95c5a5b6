"""Slotted bolt groups against statics by hand, and friction joints against EN 1993-1-8."""

import numpy as np
import pytest

from parts.strength.bolted import group, slots

ROUND, ALONG_X, ALONG_Y = [0.0, 0.0], [1.0, 0.0], [0.0, 1.0]


def test_a_round_hole_and_a_slot_that_points_at_it_share_as_a_beam_on_two_supports():
    xy = np.array([[0.0, 0.0], [80.0, 0.0]])
    got = slots.slotted_shear(xy, np.array([ROUND, ALONG_X]), 700.0, -900.0, 30.0, 12.0)
    # Moments about the round hole: 80 Y = -900 * 30 - 700 * 12; the slot gives nothing along x.
    Y = (-900.0 * 30.0 - 700.0 * 12.0) / 80.0
    np.testing.assert_allclose(got, [[700.0, -900.0 - Y], [0.0, Y]], atol=1e-9)


def test_three_slots_are_three_rollers():
    """Two slots along y at x = 0 and one along x: each reaction from one equation of statics."""
    xy = np.array([[0.0, 0.0], [0.0, 50.0], [40.0, 20.0]])
    got = slots.slotted_shear(xy, np.array([ALONG_Y, ALONG_Y, ALONG_X]), 300.0, 200.0, 10.0, 35.0)
    # Y of the third = 200; moments about the first: X2 * 50 from 200 * 40 - X2 * 50 = 200 * 10 - 300 * 35.
    X2 = (200.0 * 40.0 - (200.0 * 10.0 - 300.0 * 35.0)) / 50.0
    np.testing.assert_allclose(got, [[300.0 - X2, 0.0], [X2, 0.0], [0.0, 200.0]], atol=1e-9)


def test_round_holes_are_the_elastic_group():
    xy = np.array([[0.0, 0.0], [60.0, 5.0], [30.0, 45.0]])
    A = np.array([50.0, 80.0, 50.0])
    load = (400.0, -1200.0, 90.0, -10.0, 3.0e4)
    got = slots.slotted_shear(xy, np.zeros((3, 2)), *load, A=A)
    # With unlike areas the elastic method turns about the centroid of the areas, as these springs do.
    np.testing.assert_allclose(got, group.elastic_shear(xy, *load, A=A), rtol=1e-9)


@pytest.mark.parametrize(
    ("along", "load"),
    [
        ([ALONG_X, ALONG_X], (100.0, 0.0, 0.0, 0.0)),  # along both slots
        ([ALONG_Y, ALONG_Y], (0.0, 5.0, 30.0, 0.0)),  # across the line, along both
        ([ROUND, ALONG_Y], (0.0, 50.0, 60.0, 0.0)),  # turns about the round hole
    ],
)
def test_what_only_friction_holds_is_not_a_number(along, load):
    xy = np.array([[0.0, 0.0], [60.0, 0.0]])
    assert np.isnan(slots.slotted_shear(xy, np.array(along), *load)).all()


def test_a_load_that_the_slots_hold_stays_a_number_though_they_are_free_the_other_way():
    xy = np.array([[0.0, 0.0], [60.0, 0.0]])
    got = slots.slotted_shear(xy, np.array([ALONG_X, ALONG_X]), 0.0, 100.0, 15.0, 0.0)
    np.testing.assert_allclose(got, [[0.0, 75.0], [0.0, 25.0]], atol=1e-9)


def test_a_bolt_of_no_area_bears_nothing():
    xy = np.array([[0.0, 0.0], [60.0, 0.0], [30.0, 40.0]])
    got = slots.slotted_shear(
        xy, np.zeros((3, 2)), 0.0, 100.0, 30.0, 0.0, A=np.array([1.0, 1.0, 0.0])
    )
    np.testing.assert_allclose(got, [[0.0, 50.0], [0.0, 50.0], [0.0, 0.0]], atol=1e-9)


def test_the_method_shows_its_range():
    xy = np.array([[0.0, 0.0], [60.0, 0.0]])
    load = dict(Fx=np.array([0.0, 100.0]), Fy=np.array([100.0, 0.0]), x=0.0, y=0.0)
    holds = slots.slotted_shear.holds(xy=xy, along=np.array([ALONG_X, ALONG_X]), **load)
    assert holds.tolist() == [True, False]


def test_arrays_give_what_numbers_give():
    xy = np.array([[[0.0, 0.0], [60.0, 0.0]], [[0.0, 0.0], [90.0, 0.0]]])
    Fy = np.array([[100.0], [200.0], [300.0]])
    got = slots.slotted_shear(xy, np.array([ROUND, ALONG_X]), 0.0, Fy, 45.0, 0.0)
    assert got.shape == (3, 2, 2, 2)
    one = slots.slotted_shear(xy[1], np.array([ROUND, ALONG_X]), 0.0, 300.0, 45.0, 0.0)
    np.testing.assert_allclose(got[2, 1], one)
    use = slots.slip_use(got, slots.slip_resistance(np.array([[[900.0]]]), 0.2))
    assert use.shape == (1, 3, 2) or use.shape == (3, 2)


def test_the_bolt_that_slips_first_counts():
    V = np.array([[300.0, 400.0], [0.0, -100.0]])
    assert slots.slip_use(V, np.array([1000.0, 80.0])) == pytest.approx(1.25)
    assert np.isnan(slots.slip_use(np.full((2, 2), np.nan), 10.0))


def test_no_preload_holds_nothing():
    assert slots.slip_resistance(-50.0, 0.2) == 0.0
    assert slots.slip_use(np.array([[1.0, 0.0]]), 0.0) == np.inf
    # What bears nothing slips nowhere, even unclamped; nothing known of its friction is nothing known.
    assert slots.slip_use(
        np.array([[3.0, 0.0], [0.0, 0.0]]), np.array([6.0, 0.0])
    ) == pytest.approx(0.5)
    assert np.isnan(slots.slip_use(np.array([[0.0, 0.0]]), np.nan))
    assert np.isnan(slots.slip_resistance(100.0, 1.4))


def test_the_scatter_of_a_torque_wrench_is_that_of_the_spaceflight_standard():
    """NASA-STD-5020 prints 35 % for a torque wrench; VDI 2230 1.6 to 2.5 for the same tool."""
    low, high = slots.tightening_scatter(np.array([1.6, 2.5]))
    assert low < 0.35 < high
    assert (1.0 + high) / (1.0 - high) == pytest.approx(2.5)


def test_tables():
    assert slots.hole_factor("long slot along") == 0.63
    assert slots.face_friction("steel, as rolled or untreated") == 0.20
    with pytest.raises(KeyError, match="oversize"):
        slots.hole_factor("kidney")
