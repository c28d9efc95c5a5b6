"""Pins: statics, beam theory and the circle of shear against bending."""

import numpy as np
import pytest

from parts.strength.pinned import pin

EXACT = 1e-12  # round-off only


def test_two_planes_halve_the_shear_and_a_bore_raises_it():
    assert pin.double_shear(F=1000.0, D=8.0) == 0.5 * pin.single_shear(F=1000.0, D=8.0)
    solid, hollow = pin.single_shear(1000.0, 8.0), pin.single_shear(1000.0, 8.0, 4.0)
    assert hollow / solid == pytest.approx(1.0 / (1.0 - 0.25), rel=EXACT)


def test_shear_load_puts_the_stress_at_the_strength():
    P = pin.shear_load(D=10.0, F_s=400.0, n=2.0, d=3.0)
    assert pin.double_shear(F=P, D=10.0, d=3.0) == pytest.approx(400.0, rel=EXACT)


def test_moment_of_evenly_spread_contacts_is_that_of_the_beam():
    # Ears 5, gap 0.5, tongue 8, 1000 N: integrate the load along the pin numerically.
    t1, t2, g, P = 5.0, 8.0, 0.5, 1000.0
    x = (np.arange(200_000) + 0.5) * (t1 + g + t2 / 2.0) / 200_000  # from the outside to the middle
    q = np.where(x < t1, P / 2.0 / t1, np.where(x > t1 + g, -P / t2, 0.0))
    M = np.sum(q * (x[-1] - x)) * (x[1] - x[0])
    got = pin.double_shear_moment(P=P, b=pin.double_shear_arm(t1=t1, t2=t2, g=g))
    assert got == pytest.approx(M, rel=1e-4)  # midpoint sum


def test_moment_is_that_of_the_european_standard():
    a, b, c, F = 6.0, 11.0, 0.4, 900.0  # EN 1993-1-8, 3.13.2: M = F (b + 4 c + 2 a) / 8
    got = pin.double_shear_moment(P=F, b=pin.double_shear_arm(t1=a, t2=b, g=c))
    assert got == pytest.approx(F * (b + 4 * c + 2 * a) / 8.0, rel=EXACT)


def test_single_shear_shares_the_couple():
    got = pin.single_shear_moment(P=100.0, t1=4.0, t2=6.0, g=1.0)
    assert got == 100.0 * (2 + 3 + 1) / 2.0


def test_plastic_factor_of_solid_and_thin_rounds():
    solid = pin.plastic_bending_factor(D=10.0)
    assert solid == pytest.approx(16.0 / (3.0 * np.pi), rel=EXACT)
    # thin tube: 4/π, reached as the wall goes to nothing
    assert pin.plastic_bending_factor(D=10.0, d=9.999) == pytest.approx(4.0 / np.pi, rel=1e-3)
    assert np.isnan(pin.plastic_bending_factor(D=10.0, d=10.0))


def test_moment_capacity_is_stress_turned_round_and_is_cut_at_the_plastic_moment():
    M = pin.bending_moment_capacity(D=12.0, F=900.0)
    assert pin.bending_stress(M=M, D=12.0) == pytest.approx(900.0, rel=EXACT)
    cut = pin.bending_moment_capacity(D=12.0, F=900.0, k=5.0)
    assert cut == pytest.approx(900.0 * 12.0**3 / 6.0, rel=EXACT)
    assert not pin.bending_moment_capacity.holds(D=12.0, F=900.0, k=5.0)


def test_threads_in_the_grip():
    bearing = pin.thread_in_grip(grip=np.array([20.0, 18.0]), shank=19.0)
    np.testing.assert_array_equal(bearing, [1.0, 0.0])
