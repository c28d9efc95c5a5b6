"""Clamps: friction and pressure as integrals round the bar, the split ring by Castigliano."""

import math

import numpy as np
import pytest

from parts.strength.bolted import clamp
from parts.strength.shafts import press_fit

MU, D, LENGTH = 0.12, 20.0, 25.0
HALF = np.linspace(-math.pi / 2, math.pi / 2, 20_001)


def test_the_docstring_example():
    N = clamp.clamp_force(2, 12e3, 30.0, 15.0)
    assert N == 48e3
    assert clamp.friction_torque(N, D, MU) == pytest.approx(115_200)


@pytest.mark.parametrize(
    ("pressure", "c", "peak"),
    [
        (np.ones_like(HALF), clamp.FLEXIBLE, clamp.mean_pressure),
        (np.cos(HALF), clamp.COSINE, clamp.cosine_pressure),
    ],
)
def test_friction_and_peak_are_integrals_of_the_pressure(pressure, c, peak):
    p = 30.0
    N = np.trapezoid(p * pressure * np.cos(HALF) * LENGTH * D / 2, HALF)
    friction = 2 * np.trapezoid(MU * p * pressure * LENGTH * D / 2, HALF)
    assert clamp.friction_torque(N, D, MU, c) == pytest.approx(friction * D / 2, rel=1e-7)
    assert clamp.friction_force(N, MU, c) == pytest.approx(friction, rel=1e-7)
    assert peak(N, D, LENGTH) == pytest.approx(p, rel=1e-7)


def test_rigid_hub_touches_along_two_lines():
    N = 10e3
    assert clamp.friction_torque(N, D, MU) == pytest.approx(2 * MU * N * D / 2)


def test_an_even_hug_slips_as_a_press_fit_of_the_same_pressure():
    n, F = 2, 8e3
    N = clamp.band_force(n, F)
    p = clamp.mean_pressure(N, D, LENGTH)
    assert p == pytest.approx(2 * n * F / (D * LENGTH))
    assert clamp.friction_torque(N, D, MU, clamp.FLEXIBLE) == pytest.approx(
        press_fit.slip_torque(p, D, LENGTH, MU)
    )


def test_torque_and_thrust_share_the_friction():
    N = 10e3
    slip, push = clamp.friction_torque(N, D, MU), clamp.friction_force(N, MU)
    assert clamp.torque_with_thrust(0.0, push, D) == pytest.approx(slip)
    assert clamp.torque_with_thrust(0.6 * slip, 0.8 * push, D) == pytest.approx(slip)


def test_ear_is_a_cantilever():
    n, F, e, w, t = 2, 5e3, 12.0, 30.0, 10.0
    assert clamp.ear_bending_stress(n, F, e, w, t) == pytest.approx(
        n * F * e * (t / 2) / (w * t**3 / 12)
    )
    assert clamp.ear_shear_stress(n, F, w, t) == pytest.approx(1.5 * n * F / (w * t))
    assert not clamp.ear_bending_stress.holds(n=n, F=F, e=2.0, w=w, t=t)


def test_closing_the_slit_by_castigliano():
    E, inertia, R, pull = 71e3, 400.0, 15.0, 1000.0
    phi = np.linspace(0.0, 2 * math.pi, 20_001)  # from the slit; M = P R (1 - cos φ)
    closed = np.trapezoid(pull * R * (1 - np.cos(phi)) * R * (1 - np.cos(phi)) * R, phi) / (
        E * inertia
    )
    assert clamp.closing_force(closed, E, inertia, R) == pytest.approx(pull, rel=1e-9)


def test_out_of_range_gives_no_number():
    assert np.isnan(clamp.friction_torque(1e4, D, MU, 2.0))
    assert np.isnan(clamp.clamp_force(2, 1e4, 0.0, 10.0))
    assert clamp.friction_torque(np.array([1e3, 2e3]), D, np.array([[0.1], [0.15]])).shape == (2, 2)
