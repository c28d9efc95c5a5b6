"""Threads: published limits of size, closed forms, and where the formulas stop."""

import doctest

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.strength.bolted import stripping, thread

# Limits of size in mm: p, d, d_min, d2_min, D1_max, D2_max.
# M4 to M10: ISO 965-2, medium fit 6g/6H; inch sizes: ASME B1.1, class 2A/2B. From memory.
LIMITS = {
    "M4": (0.7, 4.0, 3.838, 3.433, 3.422, 3.663),
    "M6": (1.0, 6.0, 5.794, 5.212, 5.153, 5.500),
    "M8": (1.25, 8.0, 7.760, 7.042, 6.912, 7.348),
    "M10": (1.5, 10.0, 9.732, 8.862, 8.676, 9.206),
    "10-32": tuple(25.4 * x for x in (1 / 32, 0.1900, 0.1831, 0.1658, 0.1640, 0.1736)),
    "1/4-20": tuple(25.4 * x for x in (1 / 20, 0.2500, 0.2408, 0.2127, 0.2070, 0.2224)),
    "3/8-24": tuple(25.4 * x for x in (1 / 24, 0.3750, 0.3667, 0.3430, 0.3400, 0.3528)),
}


def test_examples_in_the_docstrings():
    assert doctest.testmod(thread).failed == 0


@pytest.mark.parametrize("size", LIMITS)
def test_nominal_strip_area_is_a_lower_bound_for_usual_tolerances(size):
    p, d, d_min, d2_min, D1_max, D2_max = LIMITS[size]
    external = stripping.external_strip_area(p, 1.0, D1_max, d2_min)
    internal = stripping.internal_strip_area(p, 1.0, d_min, D2_max)
    assert 0.85 < stripping.external_strip_area_basic(d, p, 1.0) / external <= 1.0
    assert 0.85 < stripping.internal_strip_area_basic(d, 1.0) / internal <= 1.0


def test_basic_diameters_give_the_basic_areas():
    p, d = 1.25, 8.0
    d2, D1 = thread.pitch_diameter(d, p), thread.minor_diameter(d, p)
    # The overlap of basic flanks is 3/4 and 7/8 of the pitch: exact, so only rounding is allowed.
    assert stripping.external_strip_area(p, 8.0, D1, d2) == pytest.approx(
        0.75 * np.pi * D1 * 8.0, rel=1e-12
    )
    assert stripping.internal_strip_area(p, 8.0, d, d2) == pytest.approx(
        0.875 * np.pi * d * 8.0, rel=1e-12
    )


def test_strong_bolts_have_less_stress_area():
    p, d, _, d2_min, _, _ = LIMITS["3/8-24"]
    basic = thread.pitch_diameter(d, p)
    # At the basic pitch diameter both published forms are one formula.
    assert thread.stress_area_unified_strong(basic, p) == pytest.approx(
        thread.stress_area_unified(d, p), rel=1e-12
    )
    assert thread.stress_area_unified_strong(d2_min, p) < thread.stress_area_unified(d, p)


def test_engagement_agrees_with_the_standard_form_for_equal_materials():
    p, d, d_min, d2_min, D1_max, D2_max = LIMITS["M8"]
    A_s = thread.stress_area_iso(d, p)
    # FED-STD-H28/2: Le = 2 As / (π D1max (1/2 + (d2min − D1max)/(√3 p))), shear half of tensile.
    standard = 2.0 * A_s / (np.pi * D1_max * (0.5 + (d2_min - D1_max) / (np.sqrt(3.0) * p)))
    ours = stripping.engagement_for_bolt_break(
        A_s,
        800.0,
        stripping.external_strip_area(p, 1.0, D1_max, d2_min),
        400.0,
        stripping.internal_strip_area(p, 1.0, d_min, D2_max),
        400.0,
    )
    assert ours == pytest.approx(standard, rel=1e-12)


@given(
    st.sampled_from(sorted(LIMITS)),
    st.floats(300.0, 1200.0),
    st.floats(100.0, 800.0),
    st.floats(100.0, 800.0),
)
def test_at_the_engagement_found_nothing_strips_before_the_bolt(size, R_m, tau_ext, tau_int):
    p, d, d_min, d2_min, D1_max, D2_max = LIMITS[size]
    A_s = thread.stress_area_unified(d, p)
    unit = (
        stripping.external_strip_area(p, 1.0, D1_max, d2_min),
        stripping.internal_strip_area(p, 1.0, d_min, D2_max),
    )
    L = stripping.engagement_for_bolt_break(A_s, R_m, unit[0], tau_ext, unit[1], tau_int)
    strips = [
        stripping.strip_capacity(stripping.external_strip_area(p, L, D1_max, d2_min), tau_ext),
        stripping.strip_capacity(stripping.internal_strip_area(p, L, d_min, D2_max), tau_int),
    ]
    assert min(strips) == pytest.approx(R_m * A_s, rel=1e-9)


def test_factors_meet_where_their_branches_join():
    assert stripping.dilation_factor(1.9, 1.0) == 1.0
    assert stripping.dilation_factor(1.9 - 1e-9, 1.0) == pytest.approx(1.0, abs=1e-8)
    assert stripping.internal_bending_factor(1.0 - 1e-9) == pytest.approx(0.897, abs=1e-6)
    # The published polynomial gives 0.8973 at 1: its coefficients are rounded.
    assert stripping.external_bending_factor(1.0 + 1e-9) == pytest.approx(0.897, abs=1e-3)


def test_a_wall_thinner_than_measured_counts_less_than_the_parabola_would():
    """A rivet nut of M8 is 11 mm outside, 1.375 diameters: 1.875 x 0.375 = 0.703, by the parabola 0.724."""
    assert stripping.dilation_factor(11.0, 8.0) == pytest.approx(0.703125)
    assert stripping.dilation_factor(1.4, 1.0) == pytest.approx(1.875 * 0.4)
    s = np.linspace(1.25, 1.399, 30)
    assert np.all(stripping.dilation_factor(s, 1.0) < 3.8 * s - s**2 - 2.61)


def test_outside_the_range_no_number_is_given():
    assert np.isnan(stripping.dilation_factor(12.4, 10.0))
    assert (
        stripping.internal_bending_factor(0.3) == 1.0
    )  # held at 1, and said to lie outside the range
    assert not stripping.internal_bending_factor.holds(R=0.4)
    assert np.isnan(stripping.boss_strip_capacity(8.0, 16.0, 165.0, 9.9))
    assert stripping.external_bending_factor(5.0) == 1.0
    assert not stripping.external_strip_area_basic.holds(d=3.0, p=0.5, L_e=5.0)
    assert stripping.external_strip_area(1.0, 5.0, 6.0, 5.0) == 0.0


def test_an_insert_strips_at_a_larger_diameter_until_the_wall_gets_thin():
    plain = stripping.boss_strip_capacity(8.0, 16.0, 165.0, 25.0)
    D = stripping.insert_major_diameter(8.0, 1.25)
    assert stripping.boss_strip_capacity_insert(8.0, 1.25, 16.0, 165.0, 25.0) == pytest.approx(
        plain * D / 8.0
    )
    assert np.isnan(stripping.boss_strip_capacity_insert(8.0, 1.25, 16.0, 165.0, 12.0))


def test_arrays_broadcast():
    d = np.array([6.0, 8.0, 10.0])
    p = np.array([1.0, 1.25, 1.5])
    L = np.array([[5.0], [10.0]])
    area = stripping.external_strip_area_basic(d, p, L)
    assert area.shape == (2, 3)
    assert area[1, 2] == stripping.external_strip_area_basic(10.0, 1.5, 10.0)
    assert stripping.boss_strip_capacity(d, L, 165.0, 2.0 * d).shape == (2, 3)
