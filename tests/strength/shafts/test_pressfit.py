"""Interference fits: compatibility of the two parts, limits, and a known compound cylinder."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.strength.shafts import press_fit

STEEL, ALUMINIUM = {"E": 205e3, "nu": 0.29}, {"E": 70e3, "nu": 0.33}


def fit(delta, d, D_o, hub, shaft, d_i=0.0):
    return press_fit.contact_pressure(
        delta, d, D_o, hub["E"], hub["nu"], shaft["E"], shaft["nu"], d_i
    )


def test_the_docstring_example():
    p = fit(0.02, 20.0, 40.0, ALUMINIUM, STEEL)
    assert p == pytest.approx(31.3, abs=0.05)
    assert press_fit.hub_hoop_stress(p, 20.0, 40.0) == pytest.approx(52.1, abs=0.1)


@given(st.floats(0.0, 0.9), st.floats(1.1, 5.0))
def test_hub_growth_and_shaft_closure_make_up_the_interference(bore, outside):
    d, delta = 25.0, 0.03
    p = fit(delta, d, outside * d, ALUMINIUM, STEEL, bore * d)
    hub_hoop = press_fit.hub_hoop_stress(p, d, outside * d)
    hub = d * (hub_hoop + ALUMINIUM["nu"] * p) / ALUMINIUM["E"]
    # Hoop at the fit: that at the bore plus p (Lamé: the sum of hoop and radial is constant).
    at_bore = press_fit.shaft_hoop_stress(p, d, bore * d)
    at_fit = np.where(bore > 0.0, at_bore + p, at_bore)
    shaft = d * (at_fit + STEEL["nu"] * p) / STEEL["E"]
    assert hub - shaft == pytest.approx(delta, rel=1e-9)


def test_like_materials_and_solid_shaft_reduce_to_the_short_formula():
    d, D_o, delta = 30.0, 60.0, 0.03
    short = STEEL["E"] * delta / (2 * d) * (1 - (d / D_o) ** 2)
    assert fit(delta, d, D_o, STEEL, STEEL) == pytest.approx(short)


def test_bore_change_is_hoop_strain_of_the_bore():
    p, d, d_i = 20.0, 16.0, 12.0
    strain = press_fit.shaft_hoop_stress(p, d, d_i) / STEEL["E"]
    assert press_fit.bore_change(p, d, d_i, STEEL["E"]) == pytest.approx(strain * d_i)


def test_roughness_coating_and_clearance():
    assert press_fit.effective_interference(0.02, 0.005, 0.0025) == pytest.approx(0.014)
    assert press_fit.effective_interference(0.002, 0.005, 0.005) == 0.0
    assert press_fit.bore_change_by_coating(0.050, 0.5) == pytest.approx(-0.050)
    assert fit(-0.01, 20.0, 40.0, STEEL, STEEL) == 0.0


def test_impossible_rings_give_no_number():
    assert np.isnan(fit(0.02, 20.0, 20.0, STEEL, STEEL))
    assert np.isnan(fit(0.02, 20.0, 40.0, STEEL, STEEL, 20.0))
    assert np.isnan(press_fit.bore_change_by_coating(0.05, 1.5))
    grid = fit(np.array([0.01, 0.02])[:, None], np.array([10.0, 20.0, 30.0]), 40.0, STEEL, STEEL)
    assert grid.shape == (2, 3)


def test_mises_of_the_bore():
    hoop, p = press_fit.hub_hoop_stress(10.0, 20.0, 40.0), 10.0
    shear = ((hoop + p) ** 2 + hoop**2 + p**2) / 2
    assert press_fit.hub_equivalent_stress(p, 20.0, 40.0) == pytest.approx(shear**0.5)
