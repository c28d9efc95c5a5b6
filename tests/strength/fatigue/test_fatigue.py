"""Endurance limit, S-N lines, mean stress, damage and weld details: round trips, order and limits."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.strength.fatigue import life, mean_stress
from parts.strength.tables import rows
from parts.strength.welded import detail

SUT, SE, F = 620.0, 310.0, 0.86


def test_line_of_steel_passes_through_its_two_ends():
    assert life.strength_at(1e3, SUT, SE, F) == pytest.approx(F * SUT)
    assert life.strength_at(1e6, SUT, SE, F) == pytest.approx(SE)
    a, b = (F * SUT) ** 2 / SE, -np.log10(F * SUT / SE) / 3
    assert life.strength_at(2e4, SUT, SE, F) == pytest.approx(a * 2e4**b)


@given(st.floats(1.001e3, 0.999e6))
def test_life_and_strength_are_each_others_inverse(N):
    sigma = life.strength_at(N, SUT, SE, F)
    assert life.cycles_at(sigma, SUT, SE, F) == pytest.approx(N, rel=1e-9)
    sigma = life.falling_strength(N * 1e4, 400.0, 100.0, 5e8)
    assert life.falling_cycles(sigma, 400.0, 100.0, 5e8) == pytest.approx(N * 1e4, rel=1e-9)


def test_steel_lasts_below_its_limit_and_nothing_lasts_above_the_short_end():
    assert life.cycles_at(np.array([SE, 0.0]), SUT, SE, F).tolist() == [np.inf, np.inf]
    assert life.cycles_at(F * SUT * 1.01, SUT, SE, F) == 0.0


def test_aluminium_and_titanium_have_no_endless_life():
    S_r = life.aluminium_strength(310.0)
    assert S_r == pytest.approx(0.4 * 310)
    assert life.aluminium_strength(572.0) == 130.0
    line = (0.9 * 310.0, S_r, 5e8)
    assert life.falling_strength(5e8, *line) == pytest.approx(S_r)
    assert np.all(np.diff(life.falling_strength(np.geomspace(1e3, 1e12, 60), *line)) < 0.0)
    assert np.isfinite(life.falling_cycles(1.0, *line))
    assert life.titanium_strength(895.0) == pytest.approx(358.0)


@pytest.mark.parametrize("row", rows("fatigue_reliability"), ids=lambda r: r["reliability_percent"])
def test_reliability_factor_is_the_printed_one(row):
    z = life.reliability_z(float(row["reliability_percent"]))
    assert life.reliability_factor(z) == pytest.approx(float(row["k_e"]), abs=6e-4)


def test_reliability_variates_are_those_of_the_normal_distribution():
    norm = pytest.importorskip("scipy.stats").norm
    for row in rows("fatigue_reliability"):
        exact = norm.ppf(float(row["reliability_percent"]) / 100)
        assert float(row["z"]) == pytest.approx(exact, abs=7e-3)  # 90 % is printed as 1.288


def test_details_name_their_class_and_stress():
    root = detail.detail("fillet weld root, cruciform or tee")
    assert (root["steel_mpa"], root["aluminium_mpa"], root["slope"]) == ("36", "12", "3")
    # Eurocode's classes are those of its printed series, and aluminium is always below steel.
    series = {160, 140, 125, 112, 100, 90, 80, 71, 63, 56, 50, 45, 40, 36}
    for r in rows("weld_detail"):
        assert int(r["steel_mpa"]) in series
        assert not r["aluminium_mpa"] or int(r["aluminium_mpa"]) < 0.5 * int(r["steel_mpa"])
        assert (r["slope"] == "5") == ("shear in" in r["stress"])
    with pytest.raises(KeyError, match="fillet weld root"):
        detail.detail("a good weld")
    assert detail.partial_factor(damage_tolerant=False, high_consequence=True) == 1.35
    assert detail.partial_factor(damage_tolerant=True, high_consequence=False) == 1.0


def test_marin_factors_keep_to_their_limits():
    assert life.surface_factor(300.0, "ground") == pytest.approx(1.58 * 300**-0.085)
    assert life.surface_factor(np.array([50.0, 1500.0]), "machined or cold-drawn")[0] == 1.0
    assert life.size_factor(np.array([1.0, 7.62])) == pytest.approx([1.0, 0.998], abs=2e-3)
    # The two branches of the size factor meet at 51 mm within a per cent.
    below, above = life.size_factor(np.array([51.0, 51.001]))
    assert below == pytest.approx(above, rel=0.01)
    assert np.isnan(life.size_factor(300.0))
    assert life.specimen_limit(np.array([1000.0, 2000.0])).tolist() == [500.0, 700.0]
    assert life.strength_fraction(np.array([400.0, 620.0])) == pytest.approx([0.9, 0.864], abs=2e-3)
    assert life.endurance_limit(300.0, 0.8, 0.9, 0.85, 1.0, 0.814) == pytest.approx(
        300 * 0.8 * 0.9 * 0.85 * 0.814
    )
    assert life.equivalent_diameter(10.0, 40.0) == pytest.approx(16.16)
    assert life.equivalent_diameter_round(100.0) == pytest.approx(37.0)
    with pytest.raises(KeyError, match="as-forged"):
        life.surface_factor(500.0, "polished")
    with pytest.raises(KeyError, match=r"99\.9"):
        life.reliability_z(98.0)


@given(st.floats(1.0, 400.0), st.floats(0.1, 390.0))
def test_rules_of_mean_stress_stand_in_their_order(s_a, s_m):
    S_ut = 600.0
    gerber = mean_stress.gerber(s_a, s_m, S_ut)
    goodman = mean_stress.goodman(s_a, s_m, S_ut)
    assert s_a <= gerber <= goodman


def test_compression_earns_nothing_and_a_breaking_mean_is_endless_stress():
    for rule in (mean_stress.goodman, mean_stress.gerber):
        assert rule(100.0, -200.0, 600.0) == 100.0
        assert rule(100.0, 700.0, 600.0) == np.inf
    assert mean_stress.mises(30.0, 40.0) == pytest.approx((900 + 4800) ** 0.5)


def test_damage_adds_over_blocks():
    n = np.array([1e4, 2e5, 0.0])
    sigma = np.array([300.0, 150.0, 900.0])
    m, A = 5.0, 1e18
    assert mean_stress.damage(n, A / sigma**m) == pytest.approx(float((n * sigma**m / A).sum()))
    assert mean_stress.damage(n, np.array([np.inf, np.inf, 0.0])) == 0.0
    assert mean_stress.damage(n, np.array([0.0, 1e6, 1.0])) == np.inf
    assert mean_stress.damage(np.ones((4, 3)), 10.0).shape == (4,)


def test_weld_lines_meet_at_their_knees():
    C = 71.0
    assert detail.cycles(80.0, C) == pytest.approx(1.40e6, rel=2e-3)
    assert detail.cycles(0.0, C) == np.inf
    assert detail.cycles_shear(C, C) == pytest.approx(2e6)
    assert detail.cycles_shear(0.45 * C, C) == np.inf


def test_iiw_line_never_ends():
    assert detail.cycles_iiw(28.0, 28.0) == pytest.approx(2e6)
    knee = 28.0 * 0.2 ** (1 / 3)
    assert detail.cycles_iiw(knee, 28.0) == pytest.approx(1e7)
    assert detail.cycles_iiw(knee / 2, 28.0) == pytest.approx(1e7 * 2**5)
