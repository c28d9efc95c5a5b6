"""Closing a split clamp against the thin ring of the handbooks, and what its bolts are left with."""

import numpy as np
import pytest

from parts.strength.bolted import joint, split_clamp

E, WALL, WIDTH, R = 70.0e3, 9.0, 20.0, 15.5
I_RING = WIDTH * WALL**3 / 12.0


def work_of(force, e, free):
    """Closure at the bolts of a ring built in at `free`, by adding up its bending in small steps."""
    edge = np.linspace(0.0, free, 20001)
    phi = 0.5 * (edge[1:] + edge[:-1])
    arm = e - R * np.cos(phi)
    return 2.0 * force * R / (E * I_RING) * (arm**2).sum() * (edge[1] - edge[0])


@pytest.mark.parametrize("free", [np.pi, 2.2, 1.2])
@pytest.mark.parametrize("e", [R, 18.0, 30.0])
def test_the_force_closes_the_slit_by_what_the_clearance_asks(e, free):
    force = split_clamp.closing_force(0.05, E * I_RING, R, e, free)
    closure = split_clamp.slit_closure(0.05, R, e, free)
    assert work_of(force, e, free) == pytest.approx(closure, rel=1e-6)


def test_pulled_at_its_own_radius_it_is_the_split_ring_of_the_books():
    """Roark, ch. 9: a ring cut at one place closes by 3 π P R³/(E I) under P at the cut."""
    force = split_clamp.closing_force(0.05, E * I_RING, R, R)
    assert force * 3.0 * np.pi * R**3 / (E * I_RING) == pytest.approx(np.pi * 0.05)


def test_contact_would_begin_a_little_earlier():
    """Touching at both sides of the bore (virtual work of a pair of unit forces there) asks less."""
    e = 18.0
    first = 0.05 * E * I_RING / (2.0 * R**2 * (e + np.pi * R / 4.0))
    spent = split_clamp.closing_force(0.05, E * I_RING, R, e)
    assert first < spent < 1.4 * first


def test_an_arm_at_the_back_stiffens_and_a_press_fit_costs_nothing():
    held = split_clamp.closing_force(0.05, E * I_RING, R, 18.0, np.pi / 2.0)
    assert held > 2.0 * split_clamp.closing_force(0.05, E * I_RING, R, 18.0)
    assert split_clamp.closing_force(-0.02, E * I_RING, R, 18.0) == 0.0
    assert np.isnan(split_clamp.closing_force(0.05, E * I_RING, R, 10.0))


def test_bolts_under_one_wrench_err_together():
    one = split_clamp.least_grip(9.0e3, 1.0, 0.3, 400.0)
    four = split_clamp.least_grip(9.0e3, 4.0, 0.3, 400.0)
    assert four == pytest.approx(4.0 * one) == pytest.approx(4.0 * (9.0e3 * 0.7 - 400.0))
    assert four < 4.0 * joint.least_preload(9.0e3, 0.3, 400.0, n=4.0)
    assert split_clamp.least_grip(9.0e3, 1.0, 0.3, 400.0, F_c=7.0e3) == 0.0


def test_settling_of_a_milled_joint():
    """VDI 2230-1, Table 5: 3 + 2·3 + 2 µm in tension, up to Rz 40."""
    assert split_clamp.settling(25.0, False, 1) == pytest.approx(0.011)
    assert split_clamp.settling(10.0, False, 2, heads=1) == pytest.approx(
        1e-3 * (3 + 2.5 + 2 * 1.5)
    )
    with pytest.raises(ValueError, match="160"):
        split_clamp.settling(200.0, True, 1)


def test_a_head_that_soft_metal_stands():
    p = split_clamp.head_pressure(20.0e3, 13.0, 9.0)
    assert split_clamp.creep_pressure("6082-T6") < p < split_clamp.creep_pressure("7075-T6")
    assert np.isnan(split_clamp.head_pressure(1.0, 8.0, 9.0))
    with pytest.raises(KeyError, match="AZ91"):
        split_clamp.creep_pressure("wood")


def test_arrays_broadcast():
    c, e = np.array([0.0, 0.02, 0.05]), np.array([[18.0], [25.0]])
    got = split_clamp.closing_force(c, E * I_RING, R, e)
    assert got.shape == (2, 3)
    assert got[1, 2] == pytest.approx(split_clamp.closing_force(0.05, E * I_RING, R, 25.0))
