"""Plates: the standard's forms at their joints, limits, and agreement with the lug methods."""

import numpy as np
import pytest

from parts.strength.pinned import lug
from parts.strength.plates import plate

EXACT = 1e-12  # round-off only
E, F_Y, F_U = 205_000.0, 250.0, 400.0


def test_block_shear_takes_the_lesser_shear():
    areas = {"A_gv": 1000.0, "A_nt": 200.0, "F_y": F_Y, "F_u": F_U}
    got = plate.block_shear_load(A_nv=np.array([400.0, 900.0]), **areas)
    rupture = 0.6 * F_U * 400.0 + F_U * 200.0
    yielding = 0.6 * F_Y * 1000.0 + F_U * 200.0
    np.testing.assert_allclose(got, [rupture, yielding], rtol=EXACT)


def test_whitmore_width_stops_at_the_edge_of_the_plate():
    got = plate.whitmore_width(s=20.0, L=30.0, w=np.array([100.0, 40.0]))
    np.testing.assert_allclose(got, [20.0 + 60.0 / np.sqrt(3.0), 40.0], rtol=EXACT)


def test_gusset_strip_is_euler_with_the_standards_cut_when_slender():
    t, l_w, L = 3.0, 60.0, 200.0
    euler = np.pi**2 * E * (l_w * t**3 / 12.0) / L**2
    got = plate.gusset_compression_load(E=E, F_y=F_Y, t=t, l_w=l_w, L=L)
    assert got == pytest.approx(0.877 * euler, rel=EXACT)
    short = plate.gusset_compression_load(E=E, F_y=F_Y, t=t, l_w=l_w, L=np.array([0.0, 20.0]))
    np.testing.assert_allclose(short, F_Y * t * l_w, rtol=EXACT)


def test_gusset_strip_curves_meet_where_the_standard_changes_over():
    slender = 4.71 * np.sqrt(E / F_Y)
    L = slender * 3.0 / np.sqrt(12.0) * np.array([1 - 1e-9, 1 + 1e-9])
    a, b = plate.gusset_compression_load(E=E, F_y=F_Y, t=3.0, l_w=60.0, L=L)
    assert a == pytest.approx(b, rel=2e-3)  # 4.71 and 0.877 are rounded in the standard


def test_a_long_free_edge_buckles_like_an_outstand_and_never_above_yield():
    long = plate.free_edge_buckling_stress(E=E, F_y=1e9, t=2.0, b=60.0, a=1e6)
    assert long == pytest.approx(0.425 * np.pi**2 * E / (12 * 0.91) * (2.0 / 60.0) ** 2, rel=1e-6)
    assert plate.free_edge_buckling_stress(E=E, F_y=F_Y, t=10.0, b=60.0, a=60.0) == F_Y


def test_bending_stresses_are_those_of_a_rectangle():
    assert plate.flat_bending_stress(M=900.0, b=6.0, t=3.0) == 900.0 * 1.5 / (6.0 * 27.0 / 12.0)
    got = plate.edge_stress(P=100.0, M=-600.0, t=2.0, d=10.0)
    assert got == 100.0 / 20.0 + 600.0 * 5.0 / (2.0 * 1000.0 / 12.0)


@pytest.mark.parametrize(
    ("ratio", "alpha"),
    [
        (1.0, 0.208),
        (1.5, 0.231),
        (2.0, 0.246),
        (3.0, 0.267),
        (4.0, 0.282),
        (10.0, 0.312),
        (1e6, 1 / 3),
    ],
)
def test_twist_of_a_strip_is_that_of_the_tables_within_four_per_cent(ratio, alpha):
    # α of τ = T/(α b t²): Timoshenko & Goodier, Theory of Elasticity, torsion of rectangular bars; from memory.
    got = plate.flat_twist_stress(T=1000.0, b=ratio * 3.0, t=3.0)
    assert got == pytest.approx(1000.0 / (alpha * ratio * 3.0 * 9.0), rel=0.045)
    assert got <= 1000.0 / (alpha * ratio * 3.0 * 9.0) * 1.002


def test_a_tab_is_as_strong_as_its_weakest_mode():
    size = {"D_h": 8.2, "t": 4.0}
    got = plate.tab_load(
        w=20.0,
        w_0=30.0,
        D_p=8.0,
        R=np.array([9.0, 40.0]),
        r=np.inf,
        F_tu=F_U,
        F_su=0.6 * F_U,
        F_bru=1.5 * F_U,
        **size,
    )
    tears = lug.shear_out_load(R=9.0, r=np.inf, F_s=0.6 * F_U, **size)
    beside = lug.net_section_load(w=20.0, F=F_U, **size)
    np.testing.assert_allclose(got, [tears, min(beside, 1.5 * F_U * 8.0 * 4.0)], rtol=EXACT)
    assert plate.hole_bearing_load(l_c=-1.0, d=8.0, t=4.0, F_u=F_U) == 0.0
