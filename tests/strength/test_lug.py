"""Lugs: classical planes and the Air Force's interaction, against geometry, statics and bounds."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.strength import lug

EXACT = 1e-12  # round-off only

sizes = st.floats(1.0, 200.0)


def test_a_ring_of_known_size():
    # 24 wide, 10 bore, 6 thick: 14 x 6 = 84 mm^2 at 250 MPa.
    assert lug.net_section_load(w=24.0, D_h=10.0, t=6.0, F=250.0) == 250.0 * 84.0
    assert lug.net_section_stress(P=8400.0, w=24.0, D_h=10.0, t=6.0) == 100.0
    assert lug.bearing_stress(P=6000.0, D_p=10.0, t=6.0) == 100.0
    assert lug.bearing_load(D_p=10.0, t=6.0, F_br=100.0) == 6000.0


def test_nothing_left_beside_or_behind_the_bore_bears_nothing():
    assert lug.net_section_load(w=10.0, D_h=10.0, t=6.0, F=250.0) == 0.0
    assert lug.net_section_stress(P=1.0, w=9.0, D_h=10.0, t=6.0) == np.inf
    assert lug.tear_out_load(R=4.0, D_h=10.0, t=6.0, F_s=150.0) == 0.0


def test_shear_plane_of_a_square_end_is_the_forty_degree_one():
    got = lug.shear_plane(R=15.0, D_h=10.0, r=np.inf)
    assert got == pytest.approx(15.0 - 5.0 * np.cos(np.radians(40.0)), rel=EXACT)


def test_shear_plane_of_a_round_end_ends_on_the_circle():
    y = 5.0 * np.sin(np.radians(40.0))
    chord = np.sqrt(12.0**2 - y**2) - 5.0 * np.cos(np.radians(40.0))
    assert lug.shear_plane(R=12.0, D_h=10.0, r=12.0) == pytest.approx(chord, rel=EXACT)


def test_an_end_radius_below_half_the_bore_is_no_lug():
    assert np.isnan(lug.shear_out_load(R=12.0, D_h=10.0, t=6.0, r=4.0, F_s=150.0))


@given(R=sizes, D_h=sizes, t=sizes)
def test_least_planes_bear_less_than_forty_degree_planes_of_a_square_end(R, D_h, t):
    least = lug.tear_out_load(R=R, D_h=D_h, t=t, F_s=1.0)
    assert least <= lug.shear_out_load(R=R, D_h=D_h, t=t, r=np.inf, F_s=1.0) + 1e-9


def test_soft_metal_counts_on_less_than_its_ultimate():
    got = lug.usable_ultimate(F_tu=np.array([500.0, 500.0]), F_ty=np.array([450.0, 250.0]))
    np.testing.assert_allclose(got, [500.0, 1.304 * 250.0], rtol=EXACT)


def test_one_call_checks_many_lugs():
    t = np.linspace(3.0, 12.0, 50)
    many = lug.shear_out_load(R=14.0, D_h=12.0, t=t, r=14.0, F_s=200.0)
    one = [lug.shear_out_load(R=14.0, D_h=12.0, t=float(x), r=14.0, F_s=200.0) for x in t]
    np.testing.assert_array_equal(many, one)
