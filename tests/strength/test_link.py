"""What a preload leaves over, and a bar pushed and bent, against hand calculations."""

import numpy as np
import pytest

from parts.strength.link import left_by_preload, pushed_and_bent_stress


def test_a_preload_is_taken_off_and_never_leaves_less_than_nothing():
    assert left_by_preload(18e3, 7e3) == 11e3
    assert np.array_equal(left_by_preload(np.array([5e3, 9e3]), 7e3), [0.0, 2e3])


def test_push_and_two_bendings_add_at_the_outer_fibre():
    b, h = 10.0, 20.0  # a rectangle: A = b h, W = b h^2/6
    stress = pushed_and_bent_stress(4e3, b * h, 3e4, 1e4, b * h**2 / 6.0)
    assert stress == pytest.approx(4e3 / 200.0 + 4e4 / 666.6666666666666)
