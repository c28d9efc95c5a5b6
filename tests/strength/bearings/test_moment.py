"""A single bearing under a moment, against the balls of a ring added up one by one."""

import numpy as np
import pytest

from parts.strength.bearings import ball_bearing, moment

D_PW, Z = 39.0, 9


def ball_by_ball(M, exponent, alpha, Z):
    """Largest ball load under a pure moment: the ring tilts, each ball is pressed as its own way to the power."""
    psi = 2.0 * np.pi * np.arange(Z) / Z
    share = np.sign(np.cos(psi)) * np.abs(np.cos(psi)) ** exponent
    return M / (np.sin(alpha) * D_PW / 2.0 * (share * np.cos(psi)).sum())


@pytest.mark.parametrize("exponent", [1.0, 1.5])  # springs; Hertz
def test_the_worst_ball_is_no_harder_pressed_than_stated(exponent):
    alpha, M = np.arcsin(0.4), 3.0e4
    exact = ball_by_ball(M, exponent, alpha, Z)
    got = moment.largest_ball_load(0.0, 0.0, M, D_PW, Z, alpha)
    assert exact < got < 1.3 * exact
    # Tight balls on springs: the 4 of the guideline for yaw bearings.
    assert ball_by_ball(M, 1.0, alpha, Z) == pytest.approx(4.0 * M / (D_PW * Z * np.sin(alpha)))


def test_the_equivalent_load_presses_the_worst_ball_as_hard():
    """ISO 76: C_0 is where 5 F_r/Z reaches its limit; P_0 of a moment must give the same ball load."""
    P_0 = moment.static_equivalent(0.0, 0.0, 3.0e4, D_PW)
    got = moment.largest_ball_load(0.0, 0.0, 3.0e4, D_PW, Z, np.arcsin(0.4))
    assert pytest.approx(got) == 5.0 * P_0 / Z


def test_without_a_moment_it_is_never_below_the_standard():
    F_r, F_a = np.array([0.0, 500.0, 3000.0]), np.array([[0.0], [800.0], [4000.0]])
    got = moment.static_equivalent(F_r, F_a, 0.0, D_PW)
    assert got.shape == (3, 3)
    assert np.all(got >= ball_bearing.static_equivalent(F_r, F_a) - 1e-9)
    assert got[2, 0] == pytest.approx(0.5 * 4000.0)


def test_outside_the_range_there_is_no_number():
    assert np.isnan(moment.moment_as_axial(1.0, 0.0))
    assert np.isnan(moment.largest_ball_load(1.0, 1.0, 1.0, D_PW, Z, 0.0))
