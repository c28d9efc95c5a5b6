"""Torsion of strips side by side, held against the exact solution and Timoshenko's rectangles."""

import numpy as np
import pytest
from figures import polygon
from hypothesis import given, settings
from hypothesis import strategies as st

from parts.strength.section.figures import rectangle
from parts.strength.section.strips import strip_torsion
from parts.strength.section.torsion import CLEARANCE, torsion


def test_a_rectangle_has_its_torsion_constant():
    """J = k b t³, k of S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed., art. 109, from memory."""
    for ratio, k in ((1.0, 0.1406), (1.5, 0.196), (2.0, 0.229), (3.0, 0.263), (5.0, 0.291)):
        t = 8.0
        found = strip_torsion([ratio * t], [t], 1.0)
        assert pytest.approx(k * ratio * t**4, rel=0.01) == found.J


@given(st.floats(0.5, 12.0))
def test_the_stress_of_a_rectangle_is_near(ratio):
    exact = torsion(rectangle(ratio * 8.0, 8.0))
    found = strip_torsion([ratio * 8.0], [8.0], 1.0)
    # The parabola across is worst for rectangles that stand on their short side, where the ends are read high.
    assert 0.95 < found.stress.max() / exact.stress < 1.2
    assert pytest.approx(exact.J, rel=0.05) == found.J


def test_pieces_add_and_strips_without_breadth_are_none():
    one = strip_torsion([30.0, 20.0], [6.0, 9.0], 1.0)
    both = strip_torsion([30.0, 20.0, 5.0, 0.0, 30.0, 20.0], [6.0, 9.0, 0.0, 3.0, 6.0, 9.0], 1.0)
    assert pytest.approx(2.0 * one.J, rel=1e-6) == both.J
    assert both.stress[:2] == pytest.approx(both.stress[4:], rel=1e-6)
    assert both.stress[2] == both.stress[3] == 0.0


@settings(max_examples=30, deadline=None)
@given(
    st.floats(6.0, 30.0),
    st.floats(6.0, 40.0),
    st.floats(6.0, 40.0),
    st.floats(0.1, 2.0),
    st.booleans(),
)
def test_a_step_is_ranked_near_the_exact_solution(t, low, high, step, two_sided):
    T = t * (1.0 + step)
    below = (T - t) / 2.0 if two_sided else 0.0
    corners = [(0, 0), (low, 0), (low, -below), (low + high, -below), (low + high, T - below)]
    corners += [(low, T - below), (low, t), (0, t)]
    kept = [p for k, p in enumerate(corners) if p != corners[k - 1]]
    figure = polygon(*kept)
    clear = CLEARANCE * np.sqrt(low * t + high * T)
    exact, found = torsion(figure), strip_torsion([low, high], [t, T], clear)
    # What the method states; half breadths of the thickness are beyond it.
    if min(low / t, high / T) > 0.7:
        assert 0.6 < found.J / exact.J < 1.6
        assert 0.75 < found.stress.max() / exact.stress < 2.2


def test_many_at_once_are_as_one_at_a_time():
    rng = np.random.default_rng(2)
    w, t = rng.uniform(0.0, 30.0, (2, 7, 5))
    t[2, 1], w[3, 2] = 0.0, 0.0
    found = strip_torsion(w, t, 0.5)
    for k in range(7):
        one = strip_torsion(w[k], t[k], 0.5)
        assert found.J[k] == pytest.approx(one.J, rel=1e-9)
        assert found.stress[k] == pytest.approx(one.stress, rel=1e-9)
