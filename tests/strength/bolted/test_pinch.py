"""Split clamps against statics worked out the other way round."""

import numpy as np
import pytest

from parts.strength.bolted import pinch


def test_moments_about_the_hinge_balance():
    F, a, e = 10.0e3, 16.0, 18.0
    N = pinch.pinch_force(F, a, e)
    # The bar pushes N at a from the hinge, the bolts pull F at a + e.
    assert N * a == pytest.approx(F * (a + e))
    # What the bar pushes and the bolts do not hold, the hinge does.
    assert pinch.hinge_tension(F, e, a, 5.0, 20.0) * 5.0 * 20.0 == pytest.approx(N - F)


def test_two_lines_of_contact_hold_a_torque():
    # Each half presses N on one line and slips at mu N, both at half the diameter.
    assert pinch.clamp_torque(21250.0, 22.0, 0.12) == pytest.approx(2.0 * 0.12 * 21250.0 * 11.0)


def test_arrays_broadcast():
    F, a = np.array([1.0e3, 2.0e3]), np.array([[10.0], [20.0]])
    found = pinch.pinch_force(F, a, 15.0)
    assert found.shape == (2, 2)
    assert found[1, 0] == pytest.approx(1.0e3 * (1.0 + 15.0 / 20.0))
