"""Ears that sway under a push: the free cantilever, a rigid link on a spring, and the worked example."""

import numpy as np
import pytest

from parts.strength.columns import sway

E = 72_400.0


def test_a_push_that_keeps_its_direction_gives_the_free_cantilever():
    # AISC 360-16, commentary table C-A-7.1, case (e): 2.1 recommended, from memory.
    assert sway.sway_length_factor(40.0, np.inf) == pytest.approx(2.1, rel=1e-6)
    assert sway.sway_length_factor(40.0, 1e9) == pytest.approx(2.1, rel=1e-4)


def test_a_short_link_is_a_strut_on_the_spring_that_the_ear_is():
    """A rigid strut of length c on a spring k buckles at k c; a cantilever's end is a spring of 3 EI/L³."""
    L, c, I_z = 40.0, 0.01, 260.0
    spring = 3.0 * E * I_z / L**3
    K = sway.sway_length_factor(L, c) / sway.FLOOR
    assert np.pi**2 * E * I_z / (K * L) ** 2 == pytest.approx(spring * c, rel=1e-3)


def test_the_tangent_holds():
    c = np.array([40.0, 120.0, 800.0])
    u = sway.FLOOR * np.pi / sway.sway_length_factor(40.0, c)
    np.testing.assert_allclose(np.tan(u), u * (1.0 + c / 40.0), rtol=1e-9)


def test_worked_example():
    K = sway.sway_length_factor(40.0, 200.0) / sway.FLOOR
    assert pytest.approx(2.156, abs=1e-3) == K
    assert sway.ear_push_load(E, 5.0, 25.0, 40.0, K, 270.0, n=1.0) == pytest.approx(
        22.4e3, rel=3e-3
    )


def test_two_ears_bear_twice_and_shapes_broadcast():
    one = sway.ear_push_load(E, 5.0, 25.0, 40.0, 2.1, 270.0, n=1.0)
    assert sway.ear_push_load(E, 5.0, 25.0, 40.0, 2.1, 270.0) == pytest.approx(2.0 * one)
    t, L = np.array([[3.0], [5.0]]), np.array([30.0, 40.0, 60.0])
    got = sway.ear_push_load(E, t, 25.0, L, sway.sway_length_factor(L, 200.0), 270.0)
    assert got.shape == (2, 3) and np.all(np.diff(got, axis=1) < 0.0)
