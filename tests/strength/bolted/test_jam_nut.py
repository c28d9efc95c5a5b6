"""Jam nuts under torque against the screw of Shigley, wedge by wedge."""

import numpy as np
import pytest

from parts.strength.bolted import jam_nut, tightening

M10 = dict(d2=9.026, p=1.5)


def test_the_share_is_that_of_a_wedge_up_and_down():
    """Force triangle on the mean helix: tan(ρ ± λ) with tan ρ = μ/cos 30°, and the face's friction."""
    mu, face = 0.10, 12.5
    rho, lead = np.arctan(mu / np.cos(np.radians(30.0))), np.arctan(1.5 / (np.pi * 9.026))
    down = 9.026 / 2.0 * np.tan(rho - lead) + mu * face / 2.0
    up = 9.026 / 2.0 * np.tan(rho + lead) + mu * face / 2.0
    assert jam_nut.held_share(mu=mu, D_b=face, **M10) == pytest.approx(down / up)


def test_behind_a_wide_face_the_shank_turns_in_both():
    """No face rubs then: the nut's thread and the body's, one up its helix and one down."""
    mu, face = 0.10, 40.0
    rho, lead = np.arctan(mu / np.cos(np.radians(30.0))), np.arctan(1.5 / (np.pi * 9.026))
    threads = 9.026 / 2.0 * (np.tan(rho - lead) + np.tan(rho + lead))
    up = 9.026 / 2.0 * np.tan(rho + lead) + mu * face / 2.0
    assert jam_nut.held_share(mu=mu, D_b=face, **M10) == pytest.approx(threads / up)


def test_less_friction_holds_a_smaller_share():
    share = jam_nut.held_share(mu=np.array([0.02, 0.08, 0.12, 0.20]), D_b=12.5, **M10)
    assert np.all(np.diff(share) > 0.0) and share[-1] < 1.0


def test_a_slippery_thread_without_a_face_runs_off():
    assert jam_nut.held_share(mu=0.03, D_b=0.0, **M10) == 0.0
    assert jam_nut.torque_held_loose(5e3, mu=0.03, **M10) == 0.0


def test_what_is_held_falls_with_the_wrench_and_with_settling():
    full = jam_nut.torque_held(40e3, mu=0.1, D_b=12.5, scatter=0.0, **M10)
    short = jam_nut.torque_held(40e3, mu=0.1, D_b=12.5, scatter=0.25, loss=0.2, **M10)
    assert short == pytest.approx(0.75 * 0.8 * full)
    # The joint's own two steps, through the preload, give the same.
    bite = tightening.preload_by_friction(40e3, 9.026, 1.5, 0.1, 0.1, 12.5)
    assert full == pytest.approx(tightening.loosening_torque(bite, 9.026, 1.5, 0.1, 0.1, 12.5))


def test_the_least_bite_is_the_driest_joint_under_the_weakest_pull():
    mean = tightening.preload_by_friction(40e3, 9.026, 1.5, 0.12, 0.12, 12.5)
    least = jam_nut.least_bite(40e3, mu_most=0.20, D_b=12.5, scatter=0.1, loss=500.0, **M10)
    dry = tightening.preload_by_friction(40e3, 9.026, 1.5, 0.20, 0.20, 12.5)
    assert least == pytest.approx(0.9 * dry - 500.0)
    assert least < 0.6 * mean


def test_a_loose_nut_leaves_the_pull_in_the_link():
    got = jam_nut.torque_held_loose(np.array([-5e3, 0.0, 5e3]), mu=0.1, **M10)
    rho, lead = np.arctan(0.1 / np.cos(np.radians(30.0))), np.arctan(1.5 / (np.pi * 9.026))
    once = 5e3 * 9.026 / 2.0 * np.tan(rho - lead)
    np.testing.assert_allclose(got, [once, 0.0, once])


def test_outside_the_range_there_is_no_number():
    assert np.isnan(jam_nut.held_share(9.0, 5.0, 0.1, 12.5))
    assert np.isnan(jam_nut.torque_held(1e4, mu=0.1, D_b=12.5, scatter=1.2, **M10))


def test_arrays_broadcast():
    T = np.array([[30e3], [40e3]])
    got = jam_nut.torque_held(T, mu=np.array([0.08, 0.1, 0.12]), D_b=12.5, scatter=0.25, **M10)
    assert got.shape == (2, 3)
