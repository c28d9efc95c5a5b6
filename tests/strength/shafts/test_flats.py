"""Square and hexagon joints against integrals of the stated pressure and a series for torsion."""

import math

import numpy as np
import pytest

from parts.strength.shafts import flats


@pytest.mark.parametrize("n", [4, 6])
def test_the_pressure_carries_the_torque(n):
    s, L, T = 12.0, 20.0, 50e3
    peak = flats.flats_pressure(T, s, L, n)
    y = np.linspace(0.0, s / 2, 10_001)
    torque = n * np.trapezoid(peak * y / (s / 2) * y * L, y)
    assert torque == pytest.approx(T, rel=1e-7)


@pytest.mark.parametrize("n", [4, 6])
def test_hoop_is_the_ring_under_the_flats_forces(n):
    s, L, T, wall = 12.0, 20.0, 50e3, 4.0
    force = flats.flats_pressure(T, s, L, n) * s / 4 * L  # one flat, mean pressure on half of it
    hoop = n * force / (2 * math.pi)
    assert flats.flats_hoop_stress(T, s, L, wall) == pytest.approx(hoop / (L * wall))


def test_flat_width_of_square_and_hexagon():
    assert flats.flat_width(12.7, 4) == pytest.approx(12.7)
    assert flats.flat_width(12.7, 6) == pytest.approx(12.7 / math.sqrt(3))
    assert np.isnan(flats.flat_width(12.7, 5))


def torsion_of_polygon(n, terms=12):
    """Section's T/(τ AF³) by Saint-Venant: the stress function as harmonics fitted to the edge."""
    a, k = 0.5, n * np.arange(terms)
    edge = np.linspace(0.0, math.pi / n, 400)
    r = a / np.cos(edge)
    shape = (r[:, None] / a) ** k * np.cos(k * edge[:, None])
    c = np.linalg.lstsq(shape, r**2 / 2, rcond=None)[0]
    x, w = np.polynomial.legendre.leggauss(40)
    t = (x + 1) / 2 * math.pi / n
    reach = a / np.cos(t)
    rho = (x + 1)[:, None] / 2 * reach
    harmonics = (rho[..., None] / a) ** k * np.cos(k * t[:, None])
    phi = harmonics @ c - rho**2 / 2
    half_segment = np.sum(w[:, None] / 2 * reach * rho * phi * w / 2 * math.pi / n)
    return 2 * 2 * n * half_segment / (a - np.sum(c * k) / a)


@pytest.mark.parametrize("n", [4, 6])
def test_bar_stress_against_saint_venant(n):
    expected = 1e5 / (torsion_of_polygon(n) * 10.0**3)
    # The constants are printed to three figures.
    assert flats.bar_shear_stress(1e5, 10.0, n) == pytest.approx(expected, rel=3e-3)


def test_other_polygons_have_no_constant():
    assert np.isnan(flats.bar_shear_stress(1e5, 10.0, 5))
