"""Arms that topple: Bessel's zeros, limits, and the yield moment of a short arm."""

import numpy as np
import pytest
from scipy import optimize, special

from parts.strength.columns import lateral

EI, GJ, L = 6.0e7, 9.0e7, 400.0
UNIT = np.sqrt(EI * GJ) / L**2


@pytest.mark.parametrize("height", [-0.3, -0.05, 0.0, 0.1, 0.4, 1.5, 8.0])
def test_the_end_load_solves_bessels_equation_at_any_height(height):
    """Reference: scipy's Bessel functions of order 1/4, which solve β'' + γ² s² β = 0."""
    h = height * L * np.sqrt(GJ / EI)

    def at_root(gamma):
        tip = special.gamma(0.75) * (gamma / 4.0) ** 0.25 * special.jv(-0.25, gamma / 2.0)
        turned = special.gamma(1.25) * (gamma / 4.0) ** -0.25 * special.jv(0.25, gamma / 2.0)
        return tip - gamma * height * turned

    gamma = optimize.brentq(at_root, 1e-6, 5.56)
    assert lateral.end_load_buckling(EI, GJ, L, h) == pytest.approx(gamma * UNIT, rel=1e-9)


def test_the_height_starts_with_timoshenkos_correction_and_ends_with_a_rigid_tip_on_a_twisted_bar():
    h = np.array([0.01, 0.1]) * L * np.sqrt(GJ / EI)
    got = lateral.end_load_buckling(EI, GJ, L, h) / (4.0126 * UNIT)
    # Timoshenko & Gere, section 6.3, for a small height: 1 - (h/L) √(EI_z/GJ).
    assert got[0] == pytest.approx(0.99, rel=0.001)
    assert got[1] == pytest.approx(0.90, rel=0.02)
    # Far off the centroid the arm only twists: P h = GJ/L.
    assert lateral.end_load_buckling(EI, GJ, L, 1e5) == pytest.approx(GJ / L / 1e5, rel=1e-3)


def test_an_end_moment_is_half_of_that_of_a_beam_held_at_both_ends():
    # Timoshenko & Gere, section 6.1: π/L √(EI GJ) for the beam on two forks; a cantilever is half of one.
    assert lateral.end_moment_buckling(EI, GJ, L) == pytest.approx(
        np.pi / (2 * L) * np.sqrt(EI * GJ)
    )


def test_a_short_arm_bears_its_yield_moment_and_a_slender_one_that_of_buckling():
    W, F_y = 2400.0, 350.0
    M_cr = np.array([1e9, 1e4])
    got = lateral.toppling_resistance(M_cr, W, F_y)
    assert got[0] == pytest.approx(W * F_y)
    assert got[1] == pytest.approx(1e4, rel=0.1) and got[1] < 1e4


def test_resistance_never_passes_yield_or_buckling():
    M_cr = np.geomspace(1e3, 1e9, 60)
    got = lateral.toppling_resistance(M_cr, 2400.0, 350.0)
    assert np.all(got <= np.minimum(M_cr, 2400.0 * 350.0) * (1 + 1e-12))
    assert np.all(np.diff(got) >= 0.0)


def test_torsion_constant_of_square_and_strip():
    # Timoshenko, Strength of Materials, part II: 0.1406 a⁴ for a square; d t³/3 for a thin strip.
    assert lateral.rectangle_torsion_constant(1.0, 1.0) == pytest.approx(0.1406, rel=5e-3)
    assert lateral.rectangle_torsion_constant(0.01, 10.0) == pytest.approx(1e-5 / 3.0, rel=1e-3)
    assert np.isnan(lateral.rectangle_torsion_constant(2.0, 1.0))


def test_all_broadcast():
    EI_z, h = np.array([[5e7], [6e7]]), np.array([0.0, 10.0, 30.0])
    assert lateral.end_load_buckling(EI_z, GJ, L, h).shape == (2, 3)
    assert lateral.end_moment_buckling(EI_z, GJ, np.array([200.0, 300.0])).shape == (2, 2)
