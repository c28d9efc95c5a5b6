"""Stress concentration against exact limits, a second published formula, and the fits' own identity."""

import numpy as np
import pytest

from parts.strength.fatigue import notch
from parts.strength.fatigue import sensitivity as ns
from parts.strength.tables import rows

FITS = [pytest.param(r, id=f"{r['case']} {r['load']} {r['h_r_min']}") for r in rows("notch_fits")]


@pytest.mark.parametrize("fit", FITS)
def test_a_notch_through_the_whole_section_concentrates_nothing(fit):
    # At 2h/D = 1 each fit is forced to K_t = 1 for every h/r: one wrong coefficient breaks a sum.
    total = np.array([[float(fit[f"c{i}{j}"]) for j in range(3)] for i in range(1, 5)]).sum(axis=0)
    np.testing.assert_allclose(total, [1.0, 0.0, 0.0], atol=1.5e-3)  # printed to three decimals


@pytest.mark.parametrize("fit", FITS)
def test_every_fit_sharpens_with_the_notch(fit):
    function = getattr(notch, fit["case"])
    q = np.linspace(float(fit["h_r_min"]), float(fit["h_r_max"]), 40)
    # Up to 2h/D = 0.5. Torsion of the deepest, sharpest grooves dips by less than 1 % in the print.
    for depth in (0.05, 0.2, 0.5):
        h = depth * 10.0
        k = function(20.0, 20.0 - 2 * h, h / q, fit["load"])
        assert np.all(np.diff(k) > -0.01 * k[:-1])
        assert np.all(k >= 1.0)


@pytest.mark.parametrize(
    ("function", "load"),
    [(notch.round_fillet, "tension"), (notch.round_fillet, "bending"), (notch.flat_fillet, "tension"),
     (notch.round_groove, "tension"), (notch.round_groove, "torsion")],
)  # fmt: skip
def test_the_two_segments_meet(function, load):
    h = 1.0
    below, above = function(20.0, 18.0, h / np.array([1.999, 2.001]), load)
    assert below == pytest.approx(above, rel=0.01)


def test_shallow_semicircular_grooves_reach_their_exact_limits():
    wide = (1e6, 1e6 - 2.0, 1.0)
    # 3.065: edge of a half plane with a semicircular notch (Ling, in Peterson). Shear: exactly 2.
    assert notch.flat_notch(*wide) == pytest.approx(3.065, rel=2e-3)
    assert notch.round_groove(*wide, "tension") == pytest.approx(3.065, rel=0.01)
    assert notch.round_groove(*wide, "torsion") == pytest.approx(2.0, rel=1e-3)


def test_the_two_fits_of_the_pin_agree_on_one_peak_stress():
    x = np.linspace(0.15, 0.75, 13)
    net = 12.882 - 52.714 * x + 89.762 * x**2 - 51.667 * x**3
    bearing = 0.288 + 8.820 * x - 23.196 * x**2 + 29.167 * x**3
    np.testing.assert_allclose(net * x / (1 - x), bearing, rtol=0.045)  # read off two charts
    k = notch.pin_lug(x, 1.0, 1.25)
    assert np.all(k >= net - 1e-9)
    assert np.all(notch.pin_lug(x, 1.0, 0.5) > 1.06 * k)
    assert notch.pin_lug(0.4, 1.0, 1.0, clearance=1.5) == pytest.approx(
        1.5 * notch.pin_lug(0.4, 1.0, 1.0)
    )


def test_lug_end_factor_falls_with_length_and_reads_its_rows():
    for r in rows("lug_end_factor"):
        x, e = float(r["d_over_W"]), float(r["c_over_W"])
        assert notch.lug_end_factor(x, e) == pytest.approx(float(r["factor"]))
    e = np.linspace(0.5, 1.2, 50)
    assert np.all(np.diff(notch.lug_end_factor(0.5, e)) <= 0.0)


def test_outside_its_charts_a_factor_is_no_number_or_too_high():
    assert np.isnan(notch.round_fillet(40.0, 20.0, 0.1, "bending"))
    blunt = notch.round_fillet(22.0, 20.0, np.array([4.0, 8.0, 100.0]), "bending")
    assert blunt[0] == blunt[1] == blunt[2]
    assert not notch.round_fillet.holds(D=22.0, d=20.0, r=8.0, load="bending")
    assert np.isnan(notch.pin_lug(0.1, 1.0, 0.5))
    assert np.isnan(notch.pin_lug(0.5, 1.0, 0.4))
    assert np.isnan(notch.round_bar_hole(10.0, 20.0, "bending"))
    assert np.isnan(notch.keyseat(20.0, 0.05, "bending"))
    with pytest.raises(KeyError, match="tension, bending, torsion"):
        notch.round_fillet(40.0, 20.0, 2.0, "twist")
    with pytest.raises(KeyError, match="retaining ring groove"):
        notch.shaft_estimate("dent", "bending")
    with pytest.raises(KeyError, match="bending"):
        notch.shaft_estimate("sled-runner keyseat", "torsion")


def test_arrays_broadcast():
    D, r = np.array([20.0, 30.0, 40.0]), np.array([[1.0], [2.0]])
    assert notch.round_fillet(D, 18.0, r, "bending").shape == (2, 3)
    assert notch.round_bar_hole(r, D, "torsion").shape == (2, 3)
    assert notch.pin_lug(np.array([6.0, 8.0, 10.0]), 20.0, np.array([[10.0], [20.0]])).shape == (
        2,
        3,
    )


def test_small_holes_reach_kirschs_three_and_four():
    assert notch.hole_in_plate(np.array([0.0, 1.0, -1.0])) == pytest.approx([3.0, 2.0, 4.0])
    for load, limit in (("tension", 3.0), ("bending", 3.0), ("torsion", 4.0)):
        assert notch.round_bar_hole(1e-9, 20.0, load) == pytest.approx(limit)


def test_keyseat_fits_pass_through_petersons_printed_points():
    # Peterson: 2.14 in bending and 2.62 in torsion at r/d = 1/48 (Charts 5.1, 5.2), from memory.
    assert notch.keyseat(48.0, 1.0, "bending") == pytest.approx(2.14, rel=0.02)
    assert notch.keyseat(48.0, 1.0, "torsion") == pytest.approx(2.62, rel=0.015)
    assert notch.shaft_estimate("end-mill keyseat (r/d = 0.02)", "torsion") == 3.0


def test_sensitivity_tables_and_peterson():
    assert ns.peterson_length(2070.0) == pytest.approx(0.0254)
    assert ns.peterson(0.5, 0.5) == 0.5
