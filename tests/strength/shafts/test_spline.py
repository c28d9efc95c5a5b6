"""Involute splines by Dudley: statics behind each formula, the tables, and inch against metric."""

import math

import numpy as np
import pytest

from parts.strength.shafts import spline

D, N, L, T = 25.4 * 36 / 48, 36, 20.0, 200e3


def test_the_docstring_example():
    t = spline.tooth_thickness(D, N)
    assert t == pytest.approx(0.831, abs=5e-4)
    assert spline.tooth_shear_stress(T, D, N, L, t) == pytest.approx(70.2, abs=0.1)


def test_tooth_shear_is_the_tangential_force_on_half_the_teeth():
    force = T / (D / 2)
    assert spline.tooth_shear_stress(T, D, N, L, 0.8) == pytest.approx(force / (N / 2 * L * 0.8))


def test_flank_pressure_is_the_tangential_force_on_every_tooth():
    force = T / (D / 2)
    assert spline.flank_pressure_flexible(T, D, N, L, 0.5) == pytest.approx(force / (N * L * 0.5))
    assert spline.flank_pressure_fixed(T, D, N, L, 0.5) == pytest.approx(force / (N * L * 0.5) / 9)


def test_radial_tension_is_that_of_a_thin_ring_under_the_radial_tooth_loads():
    phi, wall = math.radians(30), 5.0
    pressure = T / (D / 2) * math.tan(phi) / (math.pi * D * L)
    assert spline.hub_radial_tension(T, D, wall, L, phi) == pytest.approx(pressure * D / 2 / wall)


def test_centrifugal_tension_is_dudleys_in_inches():
    rpm, outside, inside = 6000.0, 3.0, 1.5  # inches
    printed = 1.656e-6 * rpm**2 * (outside**2 + 0.212 * inside**2) * spline.PSI
    ours = spline.hub_centrifugal_tension(
        rpm * 2 * math.pi / 60, outside * 25.4, inside * 25.4, density=7.83e-6
    )
    assert ours == pytest.approx(printed, rel=3e-3)  # 1.656 is rounded, for 0.283 lb/in^3


def test_bursting_sums_its_three_parts_and_factors_scale_it():
    assert spline.bursting_stress(10.0, 20.0, 3.0) == 33.0
    assert spline.bursting_stress(10.0, 20.0, 3.0, K_a=2.0, K_m=1.5, K_f=0.5) == 186.0


def test_factors_of_shock_and_life_raise_the_stress():
    plain = spline.root_shear_stress(T, 18.0)
    assert plain == pytest.approx(16 * T / (math.pi * 18.0**3))
    assert spline.root_shear_stress(T, 18.0, K_a=2.0, K_f=0.4) == pytest.approx(5 * plain)
    assert np.isnan(spline.root_shear_stress(T, 18.0, D_h=18.0))


@pytest.mark.parametrize(
    ("cycles", "share", "factor"), [(1e3, 0, 1.8), (1e5, 0, 0.5), (1e5, 1, 0.4), (1e7, 1, 0.2)]
)
def test_life_factor_reads_the_printed_rows(cycles, share, factor):
    assert spline.fatigue_life_factor(cycles, share) == pytest.approx(factor)


def test_misalignment_takes_the_next_row_and_column_up():
    assert spline.load_distribution_factor(0.004, 25.4) == 1.5
    assert spline.load_distribution_factor(0.0041, 25.4) == 2.0
    assert spline.load_distribution_factor(0.004, 26.0) == 2.0
    assert np.isnan(spline.load_distribution_factor(0.01, 20.0))
    angles = np.array([0.0, 0.002, 0.008])[:, None]
    assert spline.load_distribution_factor(angles, np.array([10.0, 50.8])).shape == (3, 2)


def test_tables_answer_by_name_and_say_what_they_have():
    assert spline.application_factor("medium shock", "heavy shock") == 2.8
    with pytest.raises(KeyError, match="light shock / heavy shock"):
        spline.application_factor("thunder", "heavy shock")
    assert spline.allowable("302-351 HB", "shear") == pytest.approx(275.8, abs=0.05)
    assert spline.allowable("302-351 HB", "compression", crowned=True) == pytest.approx(
        82.74, abs=0.01
    )
    with pytest.raises(KeyError, match="58-63 HRC"):
        spline.allowable("very hard", "shear")
    with pytest.raises(KeyError, match="compression"):
        spline.allowable("302-351 HB", "crushing")


def test_factors_fall_between_rows_and_end_where_the_tables_end():
    n = np.geomspace(10.0, 1e7, 200)
    assert np.all(np.diff(spline.fatigue_life_factor(n)) <= 1e-12)
    assert spline.fatigue_life_factor(10.0) == pytest.approx(1.8)
    assert np.isnan(spline.fatigue_life_factor(2e7))
