"""A rated ball: each load alone uses up its own capacity, both together less of each."""

import numpy as np
import pytest

from parts.strength.pinned import rated_ball, rod_end


def test_each_load_alone_ends_at_its_own_capacity():
    assert rated_ball.rated_use(-20.0e3, 0.0, 20.0e3) == pytest.approx(1.0)
    alone = rod_end.axial_capacity(20.0e3, 0.2)
    assert rated_ball.rated_use(0.0, alone, 20.0e3, 0.2) == pytest.approx(1.0)


def test_both_together_are_no_better_than_a_circle_between_them():
    F_r, F_a = 20.0e3 * np.array([0.2, 0.6, 0.9]), 2.0e3 * np.array([0.7, 0.5, 0.1])
    got = rated_ball.rated_use(F_r, F_a, 20.0e3)
    assert np.all(got >= np.hypot(F_r / 20.0e3, F_a / 2.0e3))


def test_outside_the_range_there_is_no_number():
    assert np.isnan(rated_ball.rated_use(1.0, 1.0, 0.0))
    assert np.isnan(rated_ball.rated_use(1.0, 1.0, 10.0, 0.0))


def test_arrays_broadcast():
    assert rated_ball.rated_use(np.ones((3, 1)), np.ones(2), 20.0e3).shape == (3, 2)
