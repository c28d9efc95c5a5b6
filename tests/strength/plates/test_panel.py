"""Panels that buckle: printed coefficients, a Ritz solution of the corner plate, and limits."""

import numpy as np
import pytest

from parts.strength.plates import panel

E = 205_000.0
UNIT = np.pi**2 * E / 10.92
"""Stress of k = 1 at t = b, ν = 0.3 [MPa]."""


@pytest.mark.parametrize(
    ("ratio", "k"), [(0.4, 8.41), (0.6, 5.14), (0.8, 4.20), (1.0, 4.0), (1.2, 4.13), (1.4, 4.47)]
)
def test_compressed_panel(ratio, k):
    # Timoshenko & Gere, table 9-1, from memory; printed to three figures.
    got = panel.held_buckling_stress(E, 1.0, 100.0 * ratio, 100.0)
    assert got / UNIT * 1e4 == pytest.approx(k, rel=2e-3)


@pytest.mark.parametrize(("ratio", "k"), [(1.0, 9.34), (1.5, 7.1), (2.0, 6.6), (3.0, 6.1)])
def test_sheared_panel(ratio, k):
    # Timoshenko & Gere, table 9-10, from memory; the formula of EN 1993-1-5 lies up to 6 % below it.
    got = panel.shear_buckling_stress(E, 1.0, 100.0 * ratio, 100.0) / UNIT * 1e4
    assert 0.93 * k <= got <= 1.005 * k
    assert panel.shear_buckling_stress(E, 1.0, 100.0, 100.0 * ratio) / UNIT * 1e4 == got


def ritz(ratio, degree=8, nu=0.3, angle=90.0):
    """Coefficient on (t/h)² of a corner plate with legs 1 and `ratio` at an angle [deg]: products of the distances
    along the legs times polynomials, exact in the limit."""
    a, b = 1.0, ratio
    c, s = np.cos(np.radians(angle)), np.sin(np.radians(angle))
    node, weight = np.polynomial.legendre.leggauss(24)
    u, v = np.meshgrid((node + 1.0) / 2.0, (node + 1.0) / 2.0)
    x, y = (a * u).ravel(), (b * v * (1.0 - u)).ravel()
    area = (np.outer(weight, weight) / 4.0 * a * b * (1.0 - u)).ravel()

    def power(z, n, times, scale):
        """The `times`-th derivative of (z/scale)^n."""
        factor = float(np.prod([n - m for m in range(times)]))
        return factor * (z / scale) ** max(n - times, 0) / scale**times

    def all_of(along, across):
        return np.array([
            power(x, i, along, a) * power(y, j, across, b)
            for i in range(1, degree + 1) for j in range(1, degree + 2 - i)
        ])  # fmt: skip

    xx, uv = all_of(2, 0), all_of(1, 1)
    yy, xy = (all_of(0, 2) - 2.0 * c * uv + c**2 * xx) / s**2, (uv - c * xx) / s
    stiff = (xx * area) @ xx.T + (yy * area) @ yy.T + 2.0 * (1.0 - nu) * (xy * area) @ xy.T
    stiff += nu * ((xx * area) @ yy.T + (yy * area) @ xx.T)
    h = np.hypot(a - b * c, b * s)
    along = (a * all_of(1, 0) - b * all_of(0, 1)) / h
    lower = np.linalg.inv(np.linalg.cholesky(stiff))
    return h**2 / np.pi**2 / np.linalg.eigvalsh(lower @ ((along * area) @ along.T) @ lower.T).max()


@pytest.mark.parametrize("ratio", [1.0, 1.25, 1.5, 2.0, 3.0, 4.0, 5.0])
def test_corner_plate_lies_just_below_its_ritz_solution(ratio):
    k = ritz(ratio)
    assert k == pytest.approx(ritz(ratio, degree=6), rel=2e-3)
    a, b = 100.0, 100.0 * ratio
    got = panel.corner_buckling_stress(E, 1.0, a, b) / UNIT * (a**2 + b**2)
    assert 0.94 * k <= got <= k
    assert panel.corner_buckling_stress(E, 1.0, b, a) / UNIT * (a**2 + b**2) == pytest.approx(got)


@pytest.mark.parametrize("angle", [45.0, 55.0, 65.0, 75.0, 85.0, 95.0, 105.0, 115.0, 125.0, 130.0])
@pytest.mark.parametrize("ratio", [1.0, 4.0])
def test_a_corner_of_any_angle_lies_below_its_ritz_solution(angle, ratio):
    phi = np.radians(angle)
    h = np.sqrt(1.0 + ratio**2 - 2.0 * ratio * np.cos(phi))
    got = panel.triangle_buckling_stress(E, 1.0, h, ratio * np.sin(phi) / h, phi) / UNIT * h**2
    k = ritz(ratio, degree=10, angle=angle)
    assert 0.6 * k <= got <= 0.99 * k


def test_worked_example():
    assert panel.corner_buckling_stress(E, 1.5, 120.0, 160.0) == pytest.approx(27.6, rel=3e-3)
    assert panel.corner_shear_buckling_stress(E, 1.5, 120.0, 160.0) == pytest.approx(13.3, rel=4e-3)
    assert np.isnan(panel.corner_buckling_stress(E, 1.5, 20.0, 160.0))


def test_strength_is_elastic_when_slender_and_yield_when_stocky():
    got = panel.panel_strength(F_e=np.array([50.0, 150.0, 1e6]), F=300.0)
    np.testing.assert_allclose(got, [50.0, 150.0, 300.0], rtol=1e-4)


def test_reserve_meets_the_single_loads_and_their_parabola():
    assert panel.panel_reserve(0.5, 0.0) == pytest.approx(2.0)
    assert panel.panel_reserve(0.0, 0.25) == pytest.approx(4.0)
    n = panel.panel_reserve(0.3, 0.4)
    assert n * 0.3 + (n * 0.4) ** 2 == pytest.approx(1.0)
    assert panel.panel_reserve(-0.5, 0.25) == pytest.approx(4.0)
    assert panel.panel_reserve(0.0, 0.0) == np.inf


def test_all_broadcast():
    a, t = np.array([[80.0], [120.0]]), np.array([1.0, 1.5, 2.0])
    for call in (
        panel.shear_buckling_stress,
        panel.held_buckling_stress,
        panel.corner_buckling_stress,
    ):
        assert call(E, t, a, 100.0).shape == (2, 3)
