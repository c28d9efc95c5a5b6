"""Posts in one hole and bolts in one ear, against equilibrium and the beams of the handbooks."""

import numpy as np
import pytest

from parts.strength.pinned import stop_pin

V, H, D, L = 2.0e3, 12.0, 8.0, 10.0


def test_the_pressure_balances_force_and_moment():
    M = 5.0e3
    mouth = stop_pin.mouth_pressure(V, H, D, L, M)
    bottom = stop_pin.bottom_pressure(V, H, D, L, M)
    x = np.linspace(0.0, L, 100001)
    p = mouth - (mouth + bottom) * x / L
    step = x[1] - x[0]
    assert ((p[1:] + p[:-1]) / 2.0 * D * step).sum() == pytest.approx(V)
    turn = p * D * x
    assert ((turn[1:] + turn[:-1]) / 2.0 * step).sum() == pytest.approx(-(V * H + M), rel=1e-6)


def test_it_is_mean_pressure_and_the_bending_of_a_strip():
    """The German texts: p_d = V/(d L), and p_b = 6 V (h + L/2)/(d L²) beside it."""
    got = stop_pin.mouth_pressure(V, H, D, L)
    assert got == pytest.approx(V / (D * L) + 6.0 * V * (H + L / 2.0) / (D * L**2))


def test_the_largest_moment_lies_below_the_face():
    mouth, bottom = stop_pin.mouth_pressure(V, H, D, L), stop_pin.bottom_pressure(V, H, D, L)
    x = np.linspace(0.0, L, 200001)
    shear = V - D * (mouth * x - (mouth + bottom) * x**2 / (2.0 * L))
    step = x[1] - x[0]
    bending = V * H + np.concatenate([[0.0], np.cumsum((shear[1:] + shear[:-1]) / 2.0 * step)])
    assert bending[-1] == pytest.approx(0.0, abs=1e-3 * V * H)
    assert stop_pin.buried_moment(V, H, L) == pytest.approx(bending.max(), rel=1e-6)


E_I = 205.0e3 * 201.1


def test_without_clearance_it_is_the_propped_cantilever():
    """Load at the middle: 3 P L/16 at the fixed end, 5 P/16 at the prop (Shigley, Table A-9, case 11)."""
    got = stop_pin.one_ear_moment(1.0e3, 0.0, 10.0, 20.0, E_I)
    assert got == pytest.approx(3.0 * 1.0e3 * 20.0 / 16.0)
    assert stop_pin.far_ear_load(1.0e3, 0.0, 10.0, 20.0, E_I) == pytest.approx(5.0 * 1.0e3 / 16.0)


def test_until_the_gap_closes_it_is_a_cantilever_and_then_goes_on_without_a_step():
    close = stop_pin.closing_load(0.1, 7.0, 17.0, E_I)
    # Shigley, Table A-9, case 2: deflection at the end w of a load at s.
    assert close * 7.0**2 * (3.0 * 17.0 - 7.0) / (6.0 * E_I) == pytest.approx(0.1)
    load = close * np.array([0.5, 1.0, 1.0 + 1e-9, 2.0])
    moment = stop_pin.one_ear_moment(load, 0.1, 7.0, 17.0, E_I)
    np.testing.assert_allclose(moment[:3], load[:3] * 7.0, rtol=1e-8)
    assert moment[3] < load[3] * 7.0
    added = stop_pin.one_ear_moment(load[3] - close, 0.0, 7.0, 17.0, E_I)
    assert moment[3] == pytest.approx(close * 7.0 + added)


def test_outside_the_range_there_is_no_number():
    assert np.isnan(stop_pin.mouth_pressure(V, H, D, 0.0))
    assert np.isnan(stop_pin.one_ear_moment(1.0, 0.1, 20.0, 17.0, E_I))
    assert np.isnan(stop_pin.buried_moment(V, H, 0.0))


def test_arrays_broadcast():
    h = np.array([0.0, 6.0, 12.0])
    assert stop_pin.mouth_pressure(V, h, D, np.array([[8.0], [10.0]])).shape == (2, 3)
    got = stop_pin.one_ear_moment(
        np.array([[1e3], [9e4]]), np.array([0.0, 0.1, 0.3]), 7.0, 17.0, E_I
    )
    assert got.shape == (2, 3) and np.all(np.diff(got[1]) > 0.0)
