"""The wall round a bearing against a ring that is integrated, and that ring against a printed one."""

import numpy as np
import pytest

from parts.strength.bearings.seat_ring import COEFFICIENT, seat_ring_stress

TURN = np.linspace(0.0, 2.0 * np.pi, 20_001)


def ring_moments(radial, R=1.0):
    """Moments round a thin ring under a radial load, that shear sin θ/(π R) for each unit of force holds.

    Statics along the ring, closed by no turn and no shift of its ends (Castigliano): trapezia, no Fourier series.
    """
    step = TURN[1] - TURN[0]
    x, y = R * np.sin(TURN), R * np.cos(TURN)
    out, along = np.stack([np.sin(TURN), np.cos(TURN)]), np.stack([np.cos(TURN), -np.sin(TURN)])
    total = np.trapezoid(radial * np.cos(TURN), dx=step) * R
    load = radial * out + total / (np.pi * R) * np.sin(TURN) * along
    fx, fy = (np.concatenate([[0.0], np.cumsum((v[1:] + v[:-1]) / 2.0 * step * R)]) for v in load)
    spin = x * load[1] - y * load[0]
    mz = np.concatenate([[0.0], np.cumsum((spin[1:] + spin[:-1]) / 2.0 * step * R)])
    free = mz - (x * fy - y * fx)
    base = np.stack([np.ones_like(TURN), np.sin(TURN), np.cos(TURN)])
    A = np.trapezoid(base[:, None] * base[None], dx=step)
    return free - np.linalg.solve(A, np.trapezoid(base * free, dx=step)) @ base


def test_the_ring_of_a_point_load_is_the_printed_one():
    # Roark, Table 9.2, a load held by shear round the ring; Bruhn's ring of a frame: 0.239 W R, 3/(4π); from memory.
    width = TURN[1] - TURN[0]
    point = np.zeros_like(TURN)
    point[[0, -1]] = 1.0 / width
    assert np.abs(ring_moments(point)).max() == pytest.approx(3.0 / (4.0 * np.pi), rel=1e-3)


def test_a_shaft_that_fits_bends_its_ring_as_integrated():
    pressure = np.maximum(np.cos(TURN), 0.0) * 2.0 / np.pi
    assert np.abs(ring_moments(pressure)).max() == pytest.approx(COEFFICIENT, rel=1e-3)


def test_it_grows_with_load_and_radius_and_falls_with_the_square_of_the_wall():
    one = seat_ring_stress(1000.0, 200.0, 2.0, 10.0)
    assert seat_ring_stress(-2000.0, 200.0, 2.0, 10.0) == pytest.approx(2.0 * one)
    assert one == pytest.approx(
        6.0 * 0.04736 * 1000.0 * 200.0 * 1.005 / (10.0 * 4.0) + 25.0, rel=1e-3
    )
