"""Pinned plates: the standards' forms at their limits and against each other."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.strength.pinned import lug, standards

EXACT = 1e-12  # round-off only


def test_a_pin_that_fills_its_hole_loses_nothing_and_one_too_big_is_refused():
    got = standards.clearance_factor(D_p=np.array([10.0, 6.0, 10.1]), D_h=10.0)
    np.testing.assert_allclose(got, [1.0, 1.0 - 0.275 * 0.8, np.nan], rtol=EXACT)


def test_effective_width_is_the_whole_ligament_of_a_slim_eye_only():
    # 0.6 (F_u/F_y) √(D_h/b_e) = 1 at b_e = 0.36 (F_u/F_y)² D_h.
    F_u, F_y, D_h = 400.0, 250.0, 10.0
    slim = 0.36 * (F_u / F_y) ** 2 * D_h
    b_e = slim * np.array([0.9, 1.0, 4.0])
    got = standards.effective_width(b_e=b_e, t=20.0, D_h=D_h, F_u=F_u, F_y=F_y)
    np.testing.assert_allclose(got, [0.9 * slim, slim, 2.0 * slim], rtol=1e-9)


def test_a_thin_plate_counts_four_thicknesses_unless_braced():
    size = {"b_e": 9.0, "D_h": 10.0, "F_u": 400.0, "F_y": 250.0}
    got = standards.effective_width(t=1.5, braced=np.array([0.0, 1.0]), **size)
    assert got[0] == 6.0
    assert got[1] == standards.effective_width(t=10.0, **size)


def test_shear_planes_of_a_tight_pin_leave_at_fifty_five_degrees():
    phi = np.radians(55.0)
    got = standards.shear_area(R=15.0, D_p=10.0, D_h=10.0, t=5.0, r=np.inf)
    assert got == pytest.approx(2 * 5.0 * (15.0 - 5.0 * np.cos(phi)), rel=EXACT)
    y = 5.0 * np.sin(phi)
    got = standards.shear_area(R=12.0, D_p=10.0, D_h=10.0, t=5.0, r=12.0)
    chord = np.sqrt(144.0 - y**2) - 5.0 * np.cos(phi)
    assert got == pytest.approx(2 * 5.0 * chord, rel=EXACT)


def test_a_needle_in_a_hole_shears_the_shortest_planes():
    got = standards.shear_area(R=15.0, D_p=1e-6, D_h=10.0, t=5.0, r=np.inf)
    assert got == pytest.approx(lug.tear_out_load(R=15.0, D_h=10.0, t=5.0, F_s=1.0), rel=1e-6)


@given(D_p=st.floats(1.0, 10.0), R=st.floats(6.0, 40.0))
def test_a_looser_pin_is_never_stronger(D_p, R):
    loose = np.array([D_p, 0.95 * D_p])
    area = standards.shear_area(R=R, D_p=loose, D_h=10.0, t=5.0, r=np.inf)
    factor = standards.clearance_factor(D_p=loose, D_h=10.0)
    assert area[1] <= area[0] and factor[1] <= factor[0]


def test_nothing_beyond_or_beside_the_hole_bears_nothing():
    size = {"t": 5.0, "D_h": 10.0, "C_r": 1.0, "F_u": 400.0}
    assert standards.fracture_load(R=5.0, b_e=8.0, **size) == 0.0
    assert standards.fracture_load(R=12.0, b_e=0.0, **size) == 0.0
    assert np.isnan(standards.shear_area(R=15.0, D_p=11.0, D_h=10.0, t=5.0, r=np.inf))


def test_fracture_by_hand():
    # R 12, hole 10, b_e 7: 1.13 x 7 + 0.92 x 7 / 1.7 = 11.698 mm of 5 mm plate at 400 MPa.
    got = standards.fracture_load(R=12.0, b_e=7.0, t=5.0, D_h=10.0, C_r=1.0, F_u=400.0)
    assert got == pytest.approx(11.698 * 2000.0, rel=5e-5)  # hand figure rounded
    assert standards.shear_load(A_v=100.0, F_u=400.0) == pytest.approx(28_000.0)
    assert standards.tension_load(t=5.0, b_eff=7.0, C_r=1.0, F_u=400.0) == 28_000.0


def test_a_turning_joint_beds_at_half_the_load():
    got = standards.bearing_load(D_p=10.0, t=5.0, F_y=250.0, turning=np.array([0.0, 1.0]))
    np.testing.assert_allclose(got, [1.25 * 12_500.0, 0.63 * 12_500.0], rtol=EXACT)
