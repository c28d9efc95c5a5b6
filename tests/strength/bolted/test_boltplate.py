"""Plates and bolts: statics of the prying flange, limits of the interaction curves."""

import doctest

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.strength.bolted import plate

# A bolted foot of 4130: M8, 20 mm off the web, 20 mm to the edge, 40 mm for each bolt.
FOOT = {"b": 20.0, "a": 20.0, "d": 8.0, "d_h": 9.0, "p": 40.0, "F_u": 620.0}
share = st.floats(0.0, 2.0)


def test_examples_in_the_docstrings():
    assert doctest.testmod(plate).failed == 0


@pytest.mark.parametrize("t", [3.0, 4.0, 5.0])
def test_the_flange_is_in_balance(t):
    b_in, a_out, delta = 20.0 - 4.0, 20.0 + 4.0, 1.0 - 9.0 / 40.0
    M_p = 0.9 * 40.0 * t**2 * 620.0 / 4.0
    # The largest pull bends the flange fully both ways: M_p at the stem, δ M_p over the bolt.
    T = M_p * (1.0 + 0.999 * delta) / b_in
    q = plate.prying_force(T, t, **FOOT)
    assert q * a_out == pytest.approx(T * b_in - M_p, rel=1e-9)
    assert np.isnan(plate.prying_force(T * 1.01, t, **FOOT))
    assert not plate.prying_force.holds(T=T * 1.01, t=t, **FOOT)


@given(st.floats(500.0, 5e4))
def test_no_prying_at_the_thickness_that_needs_none(T):
    t = plate.thickness_without_prying(T, 20.0, 8.0, 40.0, 620.0)
    # At that thickness the bolt's own tension is the limit, whatever prying might add.
    assert plate.prying_force(T, t * 1.0001, **FOOT) == 0.0
    assert plate.tee_capacity(T, t * 1.0001, **FOOT) == pytest.approx(T, rel=1e-12)
    assert plate.prying_force(T, t * 0.99, **FOOT) > 0.0


@given(st.floats(1.0, 12.0), st.floats(2e3, 6e4))
def test_at_the_capacity_bolt_or_flange_is_spent(t, B):
    T = plate.tee_capacity(B, t, **FOOT)
    assert 0.0 < T <= B
    q = plate.prying_force(T * (1.0 - 1e-9), t, **FOOT)
    b_in, delta = 16.0, 1.0 - 9.0 / 40.0
    flange = 0.9 * 40.0 * t**2 * 620.0 / 4.0 * (1.0 + delta) / b_in
    # 1e-6 of B: the capacity was approached to 1e-9 from below.
    assert min(abs(T + q - B), abs(T - flange)) < 1e-6 * B
    assert T + q <= B * (1.0 + 1e-6)


def test_bearing_or_tear_out_governs_at_the_edge_distance_where_they_meet():
    # 2.4 d = 1.2 l_c where l_c = 2 d.
    d = 8.0
    assert plate.hole_capacity(d, 2.0 * d, 5.0, 620.0) == plate.bearing_capacity(d, 5.0, 620.0)
    assert plate.hole_capacity(d, 1.9 * d, 5.0, 620.0) < plate.bearing_capacity(d, 5.0, 620.0)
    stretch = plate.hole_capacity(d, np.array([5.0, 50.0]), 5.0, 620.0, np.array([True, True]))
    rigid = plate.hole_capacity(d, np.array([5.0, 50.0]), 5.0, 620.0)
    np.testing.assert_allclose(stretch / rigid, 1.25, rtol=1e-12)
    assert plate.tearout_capacity(-1.0, 5.0, 620.0) == 0.0


@given(share, share)
def test_interaction_uses_grow_in_step_with_the_load(t, v):
    for use in (
        lambda k: plate.elliptical_use(k * t, k * v, 1.0, 1.0),
        lambda k: plate.spaceflight_use(k * t, k * v, 1.0, 1.0, True),
        lambda k: plate.spaceflight_use(k * t, k * v, 1.0, 1.0, False),
    ):
        assert use(2.0) == pytest.approx(2.0 * use(1.0), rel=1e-9, abs=1e-300)
        assert max(t, v) * (1 - 1e-9) <= use(1.0)


@pytest.mark.parametrize(("thread", "m", "n"), [(True, 1.2, 2.0), (False, 2.5, 1.5)])
@given(v=st.floats(0.01, 1.0))
def test_points_of_the_curves_use_all_of_the_bolt(thread, m, n, v):
    t = (1.0 - v**m) ** (1.0 / n)
    assert plate.spaceflight_use(t, v, 1.0, 1.0, thread) == pytest.approx(1.0, rel=1e-9)


def test_compression_uses_no_tension_strength():
    assert plate.elliptical_use(-5.0, 0.6, 1.0, 1.0) == 0.6
    assert plate.spaceflight_use(-5.0, 0.0, 1.0, 1.0) == 0.0


def test_no_tension_is_left_beside_full_shear_but_the_line_allows_some():
    full = 0.75 * 372.0
    # The straight line of the specification keeps 0.3 F_nt at full shear.
    assert plate.tension_beside_shear(620.0, 372.0, full) == pytest.approx(0.3 * 620.0)
    assert plate.tension_beside_shear(620.0, 372.0, full * 1.01) == 0.0
    assert plate.tension_beside_shear(620.0, 372.0, 0.2 * full) == 620.0


def test_arrays_broadcast():
    T = plate.tee_capacity(np.array([5e3, 2e4]), np.array([[2.0], [5.0], [9.0]]), **FOOT)
    assert T.shape == (3, 2)
    assert (np.diff(T, axis=0) >= 0.0).all()
