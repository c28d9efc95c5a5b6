"""Plates loaded through a boss: printed coefficients, every case of the finite-element study, and limits."""

import csv
from pathlib import Path

import numpy as np
import pytest

from parts.strength.plates import boss

STUDY = Path(__file__).parents[2] / "studies" / "boss_on_plate.csv"


@pytest.mark.parametrize(("k", "beta"), [(0.1, 9.475), (0.15, 6.256), (0.2, 4.630)])
def test_trunnion_coefficients_of_roark(k, beta):
    # Roark, Table 11.2, trunnion with the edge simply supported: σ = β M/(a t²), ν = 0.3; from memory.
    assert boss.trunnion_stress(1.0, 1.0, 2.0 * k, 1.0) == pytest.approx(beta, rel=3e-3)


@pytest.mark.parametrize("k", [0.1, 0.3, 0.5, 0.8])
@pytest.mark.parametrize("nu", [0.2, 0.33])
def test_trunnion_solves_the_plate_equation(k, nu):
    """w = (A r + B r³ + C/r + E r ln r) cos θ: a rigid middle turned by 1 within r = k, and an edge at r = 1 that holds
    deflection and lets turn. The couple is 4 π D E (Timoshenko & Woinowsky-Krieger, section 64)."""

    def rows(r):
        w = np.array([r, r**3, 1.0 / r, r * np.log(r)])
        slope = np.array([1.0, 3.0 * r**2, -1.0 / r**2, np.log(r) + 1.0])
        bend = np.array([0.0, 6.0 * r, 2.0 / r**3, 1.0 / r])
        return w, slope, bend + nu * (slope / r - w / r**2)

    (w_in, slope_in, bend_in), (w_out, _, bend_out) = rows(k), rows(1.0)
    constants = np.linalg.solve([w_in, slope_in, w_out, bend_out], [k, 1.0, 0.0, 0.0])
    stress = 6.0 * abs(bend_in @ constants) / (4.0 * np.pi * abs(constants[3]))
    assert boss.trunnion_stress(1.0, 1.0, 2.0 * k, 1.0, nu) == pytest.approx(stress, rel=1e-9)


@pytest.mark.parametrize(
    ("x", "k"),
    [(1.25, 0.227), (1.5, 0.428), (2.0, 0.753), (3.0, 1.205), (4.0, 1.514), (5.0, 1.745)],
)
def test_rigid_middle_coefficients_of_timoshenko(x, k):
    # Timoshenko & Woinowsky-Krieger, table 3: σ = k P/h², ν = 0.3; from memory.
    assert boss.rigid_post_stress(1.0, 1.0, 2.0, x) == pytest.approx(k, rel=2e-3)


def cases():
    with STUDY.open(encoding="utf-8") as file:
        rows = [{name: float(text) for name, text in row.items()} for row in csv.DictReader(file)]
    return {name: np.array([row[name] for row in rows]) for name in rows[0]}


def strip(found):
    """Moment that flows to the side with more, torque there, and moment of a force half a thickness beyond the boss."""
    c, e, t, both = found["c_d"], found["e_d"], found["t_d"], found["held"] == 2.0
    length, x = c + e, 0.5 + 0.5 * found["t_d"]
    # A beam clamped at both ends under a force at c from one and e from the other (Roark, Table 8.1, case 1d).
    middle = 2.0 * c**2 * e**2 / length**3
    right = e**2 * (3.0 * c + e) / length**3 * x - middle
    left = c**2 * (3.0 * e + c) / length**3 * x - middle
    bent = np.maximum(middle, np.maximum(abs(right), abs(left)))
    return np.where(both, 0.5, 1.0), np.where(both, 0.5, 1.0), np.where(both, bent, x), t


def ratios(found):
    M, T, bent, t = strip(found)
    W = found["W_d"] - found["off_d"]
    a = np.where(found["held"] == 2.0, np.minimum(found["c_d"], found["e_d"]), found["c_d"])
    return {
        "along": boss.boss_bending_stress(M, t, 1.0, W, a) * t**2 / found["face_along"],
        "across": boss.boss_twist_stress(1.0, T, t, 1.0, W, a) * t**2 / found["face_across"],
        "normal": boss.boss_force_stress(1.0, bent, t, 1.0, W) * t**2 / found["face_normal"],
    }


@pytest.mark.parametrize(("load", "most"), [("along", 1.6), ("across", 1.65), ("normal", 1.7)])
def test_the_bound_holds_over_every_case_and_is_not_far_above(load, most):
    found = cases()
    ratio = ratios(found)[load]
    assert ratio.size >= 60
    assert ratio.min() >= 1.0
    assert ratio.max() <= most
    assert np.median(ratio) <= 1.35


def test_the_root_fillet_is_bounded_over_every_case():
    found = cases()
    factor = boss.boss_fillet_factor(found["t_d"], 1.0, found["r_d"])
    for load, most in (("along", 2.1), ("across", 2.1), ("normal", 4.5)):
        ratio = factor * ratios(found)[load] * found[f"face_{load}"] / found[f"root_{load}"]
        assert ratio.min() >= 1.0 and ratio.max() <= most
    assert np.isnan(boss.boss_fillet_factor(8.0, 20.0, 0.7))
    assert boss.boss_fillet_factor(8.0, 20.0, 8.0) == boss.boss_fillet_factor(8.0, 20.0, 7.2)


def test_the_stress_of_a_narrow_plate_is_that_of_its_section_and_of_a_wide_one_the_trunnions():
    t, d = 8.0, 20.0
    narrow = boss.boss_bending_stress(5e4, t, d, W=d, a=100.0)
    assert narrow == pytest.approx(1.05 * 6.0 * 5e4 / (d * t**2))
    wide = boss.boss_bending_stress(5e4, t, d, W=1e6, a=1e6)
    assert wide == pytest.approx(boss.trunnion_stress(5e4, t, d, np.inf), rel=1e-3)


def test_worked_example():
    assert boss.boss_bending_stress(5e4, 8.0, 20.0, 60.0, 70.0) == pytest.approx(131.0, rel=1e-3)


def test_the_root_of_a_boss_is_a_cantilever():
    # Gere & Goodno: σ = M/W, W = π d³/32; a bore takes its fourth power off.
    assert boss.boss_root_bending(1e3, 12.0, 20.0) == pytest.approx(12e3 * 32.0 / np.pi / 8e3)
    hollow = boss.boss_root_bending(1e3, 12.0, 20.0, d_i=10.0, M=3e3)
    assert hollow == pytest.approx(15e3 * 32.0 / np.pi / 8e3 / (1.0 - 1.0 / 16.0))
    assert np.isnan(boss.boss_root_bending(1e3, 12.0, 20.0, d_i=20.0))


def test_outside_the_range_it_is_nan_and_all_broadcasts():
    assert np.isnan(boss.boss_bending_stress(5e4, 2.0, 20.0, 60.0, 70.0))
    assert np.isnan(boss.boss_bending_stress(5e4, 8.0, 20.0, 19.0, 70.0))
    W, t = np.array([[40.0], [60.0]]), np.array([6.0, 8.0, 10.0])
    assert boss.boss_bending_stress(5e4, t, 20.0, W, 70.0).shape == (2, 3)
    assert boss.boss_twist_stress(5e4, 5e4, t, 20.0, W, 70.0).shape == (2, 3)
    assert boss.boss_force_stress(1e3, 1e4, t, 20.0, W).shape == (2, 3)
