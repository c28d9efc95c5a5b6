"""Threads under a moment against a ring of springs, and against a weld round a tube."""

import numpy as np
import pytest

from parts.strength.bolted import threads_loaded
from parts.strength.welded import weld


def test_the_worst_side_is_that_of_a_ring_of_springs():
    n, d2, N, M = 720, 9.026, 3.0e3, 2.0e4
    angle = 2.0 * np.pi * np.arange(n) / n
    lever = d2 / 2.0 * np.cos(angle)
    each = N / n + M * lever / (lever**2).sum()
    assert each.max() * n == pytest.approx(threads_loaded.moment_as_pull(N, M, d2))


def test_it_is_the_force_on_a_weld_round_the_same_circle():
    d2 = np.array([[6.0], [9.0]])
    M = np.array([0.0, 1.0e4, -2.0e4])
    got = threads_loaded.moment_as_pull(-3.0e3, M, d2)
    np.testing.assert_allclose(got, weld.tube_fillet_force(d2, -3.0e3, 0.0, M, 0.0) * np.pi * d2)


def test_thread_does_not_bear():
    got = threads_loaded.bearing_thickness(8.0, np.array([0.0, 3.0, 9.0]))
    np.testing.assert_allclose(got, [8.0, 5.0, 0.0])
