"""Axial hold of seats, against Lamé worked through and the printed loads of circlip grooves."""

import numpy as np
import pytest

from parts.strength.bearings import axial
from parts.strength.shafts import press_fit


def test_the_loosest_pair_counts():
    got = axial.least_interference(20.015, np.array([20.0, 20.010, 20.021]))
    np.testing.assert_allclose(got, [0.015, 0.005, 0.0], atol=1e-12)
    smooth = axial.least_interference(20.015, 20.0, Rz_o=0.004, Rz_i=0.002)
    assert smooth == pytest.approx(0.015 - 0.8 * 0.006)
    warm = axial.least_interference(20.015, 20.0, alpha_o=23e-6, alpha_i=11e-6, dT=30.0)
    assert warm == pytest.approx(0.015 - 12e-6 * 20.0 * 30.0)


def test_the_force_is_pressure_times_friction_all_round():
    boss, bush = (40.0, 70.0e3, 0.33), (205.0e3, 0.29)
    p = 0.02 / (20.0 * ((2000.0 / 1200.0 + 0.33) / 70.0e3 + (1.0 - 0.29) / 205.0e3))
    got = axial.press_only_force(0.02, 20.0, 12.0, 0.08, *boss, *bush)
    assert got == pytest.approx(np.pi * 20.0 * 12.0 * 0.08 * p)
    assert axial.press_only_force(0.0, 20.0, 12.0, 0.08, *boss, *bush) == 0.0
    assert np.isnan(axial.press_only_force(0.02, 20.0, 12.0, 0.08, 18.0, *boss[1:], *bush))


def test_a_shorter_land_has_no_number():
    assert np.isnan(axial.groove_load(20.0, 19.0, 200.0, 1.0))
    assert np.isfinite(axial.groove_load(20.0, 19.0, 200.0, 1.5))


def test_a_bore_and_a_shaft_bear_on_their_rings():
    shaft = axial.groove_load(40.0, 37.5, 200.0, 5.0)
    assert shaft == pytest.approx(np.pi * 38.75 * 1.25 * 200.0 / 1.2)
    assert axial.groove_load(37.5, 40.0, 200.0, 5.0) == pytest.approx(shaft)


def test_a_long_land_yields_before_it_shears():
    """At three depths of land the shear of the land is twice the groove's load and more."""
    load = axial.groove_load(40.0, 42.0, 240.0, 3.0)
    assert axial.land_shear_load(42.0, 3.0, 240.0 / np.sqrt(3.0)) > 2.0 * load


def test_arrays_broadcast():
    delta = np.array([[0.0], [0.01]])
    got = axial.press_only_force(
        delta, 20.0, np.array([8.0, 12.0, 16.0]), 0.08, 40.0, 7e4, 0.33, 2e5, 0.3
    )
    assert got.shape == (2, 3) and np.all(got[0] == 0.0)
    fit = press_fit.contact_pressure(0.01, 20.0, 40.0, 7e4, 0.33, 2e5, 0.3)
    assert got[1, 1] == pytest.approx(np.pi * 20.0 * 12.0 * 0.08 * fit)
