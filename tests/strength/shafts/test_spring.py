"""Torsion bars against closed forms, derivatives by difference, and integrals over the section."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.strength.shafts import torsion_bar

D, L, G = 20.0, 600.0, 79_300.0


def test_the_docstring_example():
    assert torsion_bar.polar_moment(D) == pytest.approx(math.pi * 20**4 / 32)
    assert torsion_bar.torsional_rate(D, L, G) == pytest.approx(2.076e6, rel=1e-3)
    assert torsion_bar.shear_stress_at_twist(math.radians(30), D, L, G) == pytest.approx(
        692.0, rel=1e-3
    )


@given(st.floats(0.0, 0.95), st.floats(1e3, 1e7))
def test_stress_from_torque_is_stress_from_the_twist_it_gives(bore, T):
    theta = torsion_bar.twist(T, D, L, G, bore * D)
    assert torsion_bar.shear_stress(T, D, bore * D) == pytest.approx(
        torsion_bar.shear_stress_at_twist(theta, D, L, G), rel=1e-12
    )
    assert torsion_bar.torque_at_twist(theta, D, L, G, bore * D) == pytest.approx(T, rel=1e-12)


def test_a_hollow_bar_is_the_solid_less_its_core():
    hollow = torsion_bar.torsional_rate(D, L, G, 12.0)
    core = torsion_bar.torsional_rate(12.0, L, G)
    assert hollow == pytest.approx(torsion_bar.torsional_rate(D, L, G) - core)


def test_outside_its_range_a_method_gives_no_number():
    assert np.isnan(torsion_bar.shear_stress(1e5, D, 25.0))
    assert np.isnan(torsion_bar.arm_rate(1e6, 0.2, 200.0, math.radians(100)))
    assert np.isnan(torsion_bar.taper_length(10.0, 20.0, 15.0))


def test_energy_is_stress_squared_over_4G_in_a_solid_bar():
    theta = 0.4
    tau = torsion_bar.shear_stress_at_twist(theta, D, L, G)
    volume = math.pi * D**2 / 4 * L
    energy = torsion_bar.stored_energy(torsion_bar.torsional_rate(D, L, G), theta)
    assert energy == pytest.approx(tau**2 / (4 * G) * volume)


def test_taper_twists_as_its_integral():
    length, d, large = 40.0, 20.0, 28.0
    x = np.linspace(0.0, length, 20_001)
    slices = (d / (d + (large - d) * x / length)) ** 4
    assert torsion_bar.taper_length(length, d, large) == pytest.approx(
        np.trapezoid(slices, x), rel=1e-7
    )
    assert torsion_bar.taper_length(length, d, d) == pytest.approx(length)


def test_presetting_raises_the_allowable_and_the_table_names_its_groups():
    steel = "hardened and tempered carbon and low-alloy steel"
    assert torsion_bar.shear_share(steel, preset=False) == 0.50
    assert torsion_bar.shear_share(steel, preset=True) == 0.65
    assert torsion_bar.allowable_shear(1500.0, 0.5) == 750.0
    with pytest.raises(KeyError, match="nonferrous alloy"):
        torsion_bar.shear_share("cheese", preset=True)


def test_arrays_broadcast():
    assert torsion_bar.arm_rate(1e6, np.ones((5, 1)), 200.0, np.array([0.1, 0.2])).shape == (5, 2)


def test_the_trades_rule_for_a_steel_bar_with_an_arm():
    # Pounds per inch = 1 120 000 d⁴ / (L R²) in inches: common practice, no source; it rounds πG/32 of
    # a steel with G = 11.4e6 psi.
    inch, pound = 25.4, 4.448_221_615_260_5
    d, length, R, G_psi = 0.9, 40.0, 12.0, 11.4e6
    k = torsion_bar.torsional_rate(d * inch, length * inch, G_psi * pound / inch**2)
    rate = torsion_bar.arm_rate(k, 0.0, R * inch, 0.0) / (pound / inch)
    assert rate == pytest.approx(1_120_000 * d**4 / (length * R**2), rel=1e-3)
