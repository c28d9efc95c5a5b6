"""Walls of tubes against AISC 360, chapter K, and against yield lines worked out by minimising their energy."""

import numpy as np
import pytest

from parts.strength.welded import box_wall, tube_wall

D, T, F_Y = 60.0, 3.0, 320.0


def test_round_coefficients_are_nine_tenths_of_the_american_ones():
    """AISC 360-16, Tables K2.1, K3.1 and K4.1, nominal, times φ = 0.9; from memory."""
    b, h, d1 = 36.0, 45.0, 30.0
    plate = 5.5 * F_Y * T**2 * (1.0 + 0.25 * h / D)
    got = tube_wall.longitudinal_plate_pull(D, T, h, F_Y)
    assert got == pytest.approx(0.9 * plate, rel=0.02)
    across = 5.5 / (1.0 - 0.81 * b / D) * F_Y * T**2
    assert tube_wall.transverse_plate_pull(D, T, b, F_Y) == pytest.approx(0.9 * across, rel=0.02)
    gamma, beta = D / (2.0 * T), d1 / D
    post = F_Y * T**2 * (3.1 + 15.6 * beta**2) * gamma**0.2
    passing = F_Y * T**2 * 5.7 / (1.0 - 0.81 * beta)
    assert tube_wall.post_pull(D, T, d1, F_Y) == pytest.approx(0.9 * min(post, passing), rel=0.02)
    rocking = 5.39 * F_Y * T**2 * np.sqrt(gamma) * beta * d1
    punching = 0.6 * F_Y * T * d1**2
    got = tube_wall.post_moment_along(D, T, d1, F_Y)
    assert got == pytest.approx(min(0.9 * rocking, 0.95 * punching), rel=0.02)
    across = F_Y * T**2 * d1 * 3.0 / (1.0 - 0.81 * beta)
    assert tube_wall.post_moment_across(D, T, d1, F_Y) == pytest.approx(0.9 * across, rel=0.005)


def test_longitudinal_moment_is_the_american_share_of_its_pull():
    got = tube_wall.longitudinal_plate_moment(D, T, 45.0, F_Y)
    assert got == pytest.approx(0.8 * 45.0 * tube_wall.longitudinal_plate_pull(D, T, 45.0, F_Y))


def test_a_thick_wall_and_a_long_plate_count_no_more_than_the_limit():
    at_limit = tube_wall.longitudinal_plate_pull(D, D / 10.0, 4.0 * D, F_Y)
    assert tube_wall.longitudinal_plate_pull(D, D / 8.0, 5.0 * D, F_Y) == pytest.approx(at_limit)


def test_outside_the_range_there_is_no_number():
    assert np.isnan(tube_wall.longitudinal_plate_pull(D, D / 51.0, 40.0, F_Y))
    assert np.isnan(tube_wall.transverse_plate_pull(D, T, 0.1 * D, F_Y))
    assert np.isnan(tube_wall.post_pull(D, T, 1.1 * D, F_Y))
    assert np.isnan(tube_wall.chord_factor(1.2)) and np.isnan(tube_wall.high_yield_factor(900.0))
    assert np.isnan(box_wall.face_pull(40.0, 36.0, 40.0, 2.0, F_Y))
    assert np.isnan(box_wall.face_pull(40.0, 5.0, 40.0, 1.0, F_Y))
    assert np.isnan(box_wall.transverse_plate_pull(10.0, 5.0, 40.0, 2.0, F_Y))


def test_compression_along_the_tube():
    """EN 1993-1-8: k_p at n = 0.8 is 1 − 0.3·0.8·1.8; tension takes nothing off."""
    np.testing.assert_allclose(
        tube_wall.chord_factor(np.array([-0.5, 0.0, 0.8])), [1.0, 1.0, 0.568]
    )
    np.testing.assert_allclose(
        box_wall.chord_factor_plate(np.array([-1.0, 0.2, 0.9])), [1, 1, 0.13]
    )
    np.testing.assert_allclose(box_wall.chord_factor_post(np.array([-1.0, 0.6]), 0.4), [1.0, 0.7])


def test_a_ring_bears_half_of_a_moment_on_each_side():
    """A ring under one moment and an even shear flow: its bending nowhere passes half of the moment."""
    t, L = 2.0, 40.0
    s = np.linspace(0.0, 2.0 * np.pi, 40001)  # round from the load, unit radius and moment
    flow = (s - np.sin(s)) / (2.0 * np.pi)
    # The cut's bending, thrust and shear are such that it does not open: least squares of the bending.
    cut = np.array([np.ones_like(s), 1.0 - np.cos(s), np.sin(s)]).T
    bending = flow - cut @ np.linalg.lstsq(cut, flow, rcond=None)[0]
    assert np.abs(bending).max() == pytest.approx(0.5, rel=1e-3)
    assert 0.5 * tube_wall.sideways_plate_moment(t, L, F_Y) / L == pytest.approx(F_Y * t**2 / 4.0)


def hip_mechanism(h, b, b0, t0, f_y):
    """Least load of straight yield lines round a patch pushed into a strip held at both edges, by trial."""
    m, a = f_y * t0**2 / 4.0, (b0 - b) / 2.0
    x = np.linspace(0.05, 4.0, 40001) * b0
    return (m * (4.0 * (h + 2.0 * x) / a + 4.0 * b0 / x)).min()


@pytest.mark.parametrize(("h", "b"), [(40.0, 5.0), (20.0, 20.0), (60.0, 30.0)])
def test_the_face_gives_way_along_its_best_yield_lines(h, b):
    got = box_wall.face_pull(h, b, 40.0, 2.0, F_Y)
    assert got == pytest.approx(hip_mechanism(h, b, 40.0, 2.0, F_Y), rel=1e-4)


def test_flat_walls_by_the_american_equations():
    """AISC 360-16, chapter K: the same yield lines, and 0.6 F_y for shear; from memory."""
    b0, t0, b, t1, h, eta = 60.0, 3.0, 40.0, 6.0, 50.0, 50.0 / 60.0
    beta = b / b0
    moment = F_Y * t0**2 * h * (1 / (2 * eta) + 2 / np.sqrt(1 - beta) + eta / (1 - beta))
    assert box_wall.face_moment_along(h, b, b0, t0, F_Y) == pytest.approx(moment)
    uneven = 10.0 / (b0 / t0) * F_Y * t0 * b
    assert box_wall.uneven_plate_pull(b, t1, 400.0, b0, t0, F_Y) == pytest.approx(uneven)
    # A plate as wide as the tube: the side walls, F_y t (2 t_p + 10 t), or punching.
    sides = F_Y * t0 * (2.0 * t1 + 10.0 * t0)
    punch = F_Y * t0 / np.sqrt(3.0) * (2.0 * t1 + 2.0 * 10.0 * t0)
    got = box_wall.transverse_plate_pull(b0, t1, b0, t0, F_Y)
    assert got == pytest.approx(min(sides, punch))


def test_bending_across_grows_from_a_line_to_a_post():
    """As b goes to nil it is a line on a plate: plastic hinges on both sides of the line, f t² h/2."""
    line = box_wall.face_moment_across(40.0, 1e-9, 40.0, 2.0, F_Y)
    assert line == pytest.approx(tube_wall.sideways_plate_moment(2.0, 40.0, F_Y), rel=1e-3)
    wide = box_wall.face_moment_across(40.0, np.array([0.0, 10.0, 20.0, 30.0]), 40.0, 2.0, F_Y)
    assert np.all(np.diff(wide) > 0.0)


def test_shares_add():
    got = tube_wall.wall_use(-2.0, 10.0, 3.0, 10.0, np.array([0.0, 4.0]), 10.0)
    np.testing.assert_allclose(got, [0.5, 0.9])


def test_arrays_broadcast():
    d0, h = np.array([38.0, 50.0]), np.array([[20.0], [40.0], [60.0]])
    got = tube_wall.longitudinal_plate_pull(d0, 2.0, h, F_Y, tube_wall.chord_factor(0.2))
    assert got.shape == (3, 2)
    assert got[2, 1] == pytest.approx(
        tube_wall.longitudinal_plate_pull(50.0, 2.0, 60.0, F_Y, tube_wall.chord_factor(0.2))
    )
    assert box_wall.face_pull(h, 5.0, d0, 2.0, F_Y).shape == (3, 2)
    assert box_wall.transverse_plate_pull(30.0, 5.0, d0, np.array([[2.0], [2.5]]), F_Y).shape == (
        2,
        2,
    )
