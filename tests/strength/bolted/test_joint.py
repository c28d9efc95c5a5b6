"""Preloaded joints: torque there and back, springs side by side, what opens them, what tires them."""

import doctest

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.strength.bolted import fatigue, joint, stiffness, tightening

M8 = {"d2": 7.188, "p": 1.25}


@pytest.mark.parametrize("module", [joint, stiffness, fatigue])
def test_examples_in_the_docstrings(module):
    assert doctest.testmod(module).failed == 0


@given(st.floats(1e2, 1e5), st.floats(0.02, 0.4), st.floats(0.0, 0.4))
def test_torque_and_preload_are_each_others_inverse(F, mu_t, mu_b):
    rub = {**M8, "mu_t": mu_t, "mu_b": mu_b, "D_b": 11.0}
    T = tightening.tightening_torque(F, **rub)
    assert tightening.preload_by_friction(T, **rub) == pytest.approx(F, rel=1e-12)
    assert tightening.loosening_torque(F, **rub) < T


def test_without_friction_all_work_goes_into_the_lead():
    T = tightening.tightening_torque(1000.0, **M8, mu_t=0.0, mu_b=0.0, D_b=11.0)
    assert T * 2.0 * np.pi == pytest.approx(1000.0 * 1.25, rel=1e-12)


def test_first_order_form_of_the_guideline_agrees():
    # VDI 2230-1, R13: M = F (0.16 p + 0.58 d2 μ_G + D_Km/2 μ_K), constants rounded to two figures and
    # terms in μ tan λ left out: within 1.5 % for usual friction.
    F, mu = 2.0e4, 0.12
    R13 = F * (0.16 * 1.25 + 0.58 * 7.188 * mu + 11.0 / 2.0 * mu)
    assert tightening.tightening_torque(F, **M8, mu_t=mu, mu_b=mu, D_b=11.0) == pytest.approx(
        R13, rel=0.015
    )


def test_tightening_stress_adds_twist_to_tension():
    F, A_s = 15.0e3, 36.6
    assert tightening.tightening_stress(F, A_s, **M8, mu_t=0.12) > F / A_s
    d_s = np.sqrt(4.0 * A_s / np.pi)
    lead_only = np.hypot(F / A_s, np.sqrt(3.0) * 16.0 * F * 1.25 / (2.0 * np.pi**2 * d_s**3))
    assert tightening.tightening_stress(F, A_s, **M8, mu_t=0.0) == pytest.approx(
        lead_only, rel=1e-12
    )


@given(st.floats(0.0, 5e4), st.floats(0.0, 5e4), st.floats(0.01, 0.9))
def test_bolt_and_members_carry_preload_and_load_together(F_i, P, C):
    balance = joint.bolt_force(F_i, P, C) - joint.clamp_force(F_i, P, C)
    assert balance == pytest.approx(P, abs=1e-6)
    opens = joint.separation_load(F_i, C)
    assert joint.clamp_force(F_i, 0.999 * opens, C) >= 0.0
    assert joint.clamp_force(F_i, 1.001 * opens, C) == 0.0


def test_the_jam_nut_just_bites_at_the_preload_it_needs():
    F_j = joint.jam_preload_needed(8.0e3, 0.2)
    assert joint.separation_load(F_j, 0.2) == pytest.approx(8.0e3)
    assert joint.jam_preload_limit(1e3, 250.0, 36.6, 640.0) == 36.6 * 640.0


def test_losses_never_make_preload_negative_and_more_bolts_scatter_less():
    assert joint.least_preload(1e4, 0.35, 1e4) == 0.0
    assert joint.least_preload(1e4, 0.3, 0.0, 9.0) == pytest.approx(0.9e4)
    assert not joint.least_preload.holds(F=1e4, scatter=1.2)


def test_cold_aluminium_slackens_its_bolt_by_the_springs_in_series():
    kb, km, L, fall = 3.0e5, 6.0e5, 20.0, 50.0
    gap = joint.contraction(fall, 23.6e-6, 11.7e-6, L)
    assert gap == pytest.approx((23.6e-6 - 11.7e-6) * fall * L)
    F = joint.embedding_loss(0.0, kb, km, gap)
    assert F / kb + F / km == pytest.approx(gap, rel=1e-12)
    assert joint.contraction(fall, 8.6e-6, 11.7e-6, L) == 0.0  # titanium on a steel bolt


def test_standard_washer_form_is_two_frusta():
    # Shigley derives eq. 8-22 from two frusta of 1.5 d; tan 30° in its 0.5774 is exact here.
    half = stiffness.frustum_stiffness(2.05e5, 8.0, 12.0, 10.0)
    assert stiffness.member_stiffness(2.05e5, 8.0, 20.0) == pytest.approx(half / 2.0, rel=1e-12)


@pytest.mark.parametrize(
    ("tapped", "D_A"), [(False, 14.0), (False, 80.0), (True, 15.0), (True, 80.0)]
)
def test_narrow_parts_are_the_integral_over_cone_and_sleeve(tapped, D_A):
    E, L, d_w, d_h = 6.9e4, 20.0, 12.0, 8.4
    tan = stiffness.cone_tangent(L, d_w, D_A, tapped)
    z = (np.arange(200_000) + 0.5) / 200_000 * L
    deep = z if tapped else np.minimum(z, L - z)
    width = np.minimum(d_w + 2.0 * deep * tan, D_A)
    resilience = (L / z.size / (E * np.pi / 4.0 * (width**2 - d_h**2))).sum()
    # Midpoint rule, 200 000 steps, one kink.
    assert stiffness.narrow_member_stiffness(E, L, d_w, d_h, D_A, tapped) == pytest.approx(
        1.0 / resilience, rel=1e-6
    )


def test_parts_narrower_than_the_face_are_a_sleeve_and_said_to_be_outside():
    k = stiffness.narrow_member_stiffness(7e4, 20.0, 14.0, 8.4, 12.0)
    assert k == pytest.approx(7e4 * np.pi / 4.0 * (12.0**2 - 8.4**2) / 20.0, rel=1e-9)
    assert not stiffness.narrow_member_stiffness.holds(E=7e4, L=20.0, d_w=14.0, d_h=8.4, D_A=12.0)


def test_amplitude_jumps_once_the_joint_opens():
    closed = fatigue.bolt_amplitude(1e4, 1.2e4, 0.0, 0.2, 36.6)
    assert closed == pytest.approx(0.2 * 1.2e4 / (2.0 * 36.6))
    opened = fatigue.bolt_amplitude(1e4, 2.0e4, 0.0, 0.2, 36.6)
    assert opened == pytest.approx((2.0e4 - 1.0e4) / (2.0 * 36.6))


def test_endurance_stays_inside_its_range():
    assert np.isnan(fatigue.endurance_rolled_before(3.0))
    assert np.isnan(fatigue.endurance_rolled_after(8.0, 1.1, 1.0))
    assert fatigue.endurance_rolled_after(8.0, 1.0, 1.0) == fatigue.endurance_rolled_before(8.0)
    low = fatigue.endurance_rolled_after(8.0, np.array([0.0, 0.3]), 1.0)
    assert low[0] == low[1]


def test_goodman_amplitude_lies_on_its_line():
    S_e, S_ut, sigma_i = 129.0, 830.0, 420.0
    a = fatigue.goodman_amplitude(S_e, S_ut, sigma_i)
    assert a / S_e + (sigma_i + a) / S_ut == pytest.approx(1.0, rel=1e-12)
    assert fatigue.goodman_amplitude(S_e, S_ut, 900.0) == 0.0


def test_arrays_broadcast():
    k = stiffness.narrow_member_stiffness(
        7e4, np.linspace(10.0, 30.0, 5)[:, None], 12.0, 8.4, np.linspace(12.0, 40.0, 4), True
    )
    assert k.shape == (5, 4)
    assert (np.diff(k, axis=1) >= 0.0).all()
    assert (np.diff(k, axis=0) < 0.0).all()
