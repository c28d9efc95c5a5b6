"""Lugs: classical planes and the Air Force's interaction, against geometry, statics and bounds."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.strength.pinned import lug

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


STEEL = {"F_tu": 655.0, "F_ty": 435.0, "F_su": 393.0}


def test_axial_load_is_the_lesser_of_burst_and_net_tension():
    size = {"D_h": 10.0, "t": 6.0}
    got = lug.axial_load(
        w=np.array([16.0, 30.0]), R=np.array([20.0, 8.0]), r=np.inf, **size, **STEEL
    )
    F = min(STEEL["F_tu"], 1.304 * STEEL["F_ty"])
    # slim beside the bore: K_t = 1 on 6 x 6 mm; short ahead of it: two 40-degree planes
    beside = F * 6.0 * 6.0
    ahead = 2.0 * (8.0 - 5.0 * np.cos(np.radians(40.0))) * 6.0 * STEEL["F_su"] * F / STEEL["F_tu"]
    np.testing.assert_allclose(got, [beside, ahead], rtol=1e-12)


def test_metal_far_ahead_of_the_pin_is_not_counted():
    size = {"D_h": 10.0, "r": np.inf, "F_su": 393.0, "F_tu": 655.0}
    thick = lug.shear_bearing_efficiency(R=np.array([20.0, 40.0]), t=2.0, **size)
    thin = lug.shear_bearing_efficiency(R=np.array([14.0, 40.0]), t=1.9, **size)
    assert thick[0] == thick[1] and thin[0] == thin[1] and thin[0] < thick[0]
    assert np.isnan(lug.shear_bearing_efficiency(R=15.0, t=0.3, **size))


def test_a_wide_eye_of_strong_metal_reaches_less_of_its_ultimate():
    w = np.array([10.0, 22.0, 60.0])
    got = lug.net_tension_efficiency(w=w, D_h=10.0, F_tu=500.0, F_ty=450.0)
    wide = 0.6 * 500.0 / 450.0 * np.sqrt(10.0 / 25.0)
    np.testing.assert_allclose(got, [0.0, 0.6 / 0.9 * np.sqrt(10.0 / 6.0), wide], rtol=1e-12)


def frame_collapse(h, D, M):
    """Least collapse load over the frame's mechanisms, the hinge rotations found by search."""
    H, a = D + h / 2.0, D / 2.0
    lower = 1.0  # rotation of the loaded leg below the load
    upper = np.linspace(-4.0, 4.0, 80_001)  # and above it
    top = (lower * a + upper * (H - a)) / H  # rotation of the other leg
    # hinges: root and load point of the loaded leg, its top, and top and root of the other leg
    work = M * (lower + np.abs(lower - upper) + np.abs(upper) + 2.0 * np.abs(top))
    return np.min(work) / (lower * a)


@pytest.mark.parametrize("h", [2.0, 5.0, 12.0])
def test_transverse_load_is_the_least_mechanism_of_the_frame(h):
    D, t, F = 10.0, 6.0, 300.0
    M = F * t * h**2 / 4.0
    expected = min(frame_collapse(h, D, M), F * h * t / np.sqrt(3.0))
    # The search steps through the mechanisms at 1e-4 of a rotation.
    assert lug.transverse_load(h=h, D_h=D, t=t, F_ty=F) == pytest.approx(expected, rel=1e-3)


@given(P_au=st.floats(1.0, 1e6), P_tu=st.floats(1.0, 1e6), alpha=st.floats(0.0, np.pi / 2))
def test_oblique_load_uses_the_whole_lug(P_au, P_tu, alpha):
    P = lug.oblique_load(P_au=P_au, P_tu=P_tu, alpha=alpha)
    use = lug.oblique_use(P * np.cos(alpha), P_au, P * np.sin(alpha), P_tu)
    assert use == pytest.approx(1.0, rel=1e-9)


def test_oblique_load_at_the_ends_and_at_half():
    got = lug.oblique_load(P_au=5000.0, P_tu=3000.0, alpha=np.array([0.0, np.pi / 2]))
    np.testing.assert_allclose(got, [5000.0, 3000.0], rtol=EXACT)
    assert lug.oblique_use(1.0, 2.0, 1.0, 2.0) == pytest.approx(0.5 * 2.0 ** (1 / 1.6), rel=EXACT)


def test_a_bush_counts_on_a_third_more_than_yield():
    assert lug.bush_load(D_p=10.0, t=6.0, F_cy=400.0) == pytest.approx(1.304 * 24_000.0)
