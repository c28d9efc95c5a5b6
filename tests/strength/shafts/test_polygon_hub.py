"""Thin corners of square and hexagon bores: every case of the finite-element study, and equilibrium."""

import csv
from pathlib import Path

import numpy as np
import pytest

from parts.strength.shafts import polygon_hub
from parts.strength.shafts.flats import flats_hoop_stress

STUDY = Path(__file__).parents[2] / "studies" / "polygon_hub.csv"


def cases(n):
    with STUDY.open(encoding="utf-8") as file:
        rows = [{name: float(text) for name, text in row.items()} for row in csv.DictReader(file)]
    return {name: np.array([row[name] for row in rows if row["n"] == n]) for name in rows[0]}


def shape(found, n, AF=1.0):
    wall = (found["D_AF"] - 1.0 / np.cos(np.pi / n) - found["relief_AF"]) / 2.0
    return {
        "n": n,
        "AF": AF,
        "t_w": wall * AF,
        "d_r": found["relief_AF"] * AF,
        "D": found["D_AF"] * AF,
        "w": found["arm_D"] * found["D_AF"] * AF,
        "phi": found["clock"] * np.pi / n,
    }


@pytest.mark.parametrize("n", [4, 6])
@pytest.mark.parametrize(
    ("kind", "method", "most", "middle"),
    [
        ("section", polygon_hub.corner_section_stress, 1.52, 1.32),
        ("peak", polygon_hub.corner_peak_stress, 1.62, 1.35),
    ],
)
def test_the_bound_holds_over_every_case_and_is_not_far_above(n, kind, method, most, middle):
    found = cases(n)
    ratio = method(1.0, **shape(found, n, AF=17.0)) / found[kind]
    ratio = ratio[np.isfinite(ratio)]
    assert ratio.size >= 40
    assert ratio.min() >= 1.0
    assert ratio.max() <= most
    assert np.median(ratio) <= middle


@pytest.mark.parametrize("n", [4, 6])
def test_every_case_bears_more_than_the_mean_of_a_ring_that_is_not_bent(n):
    """Equilibrium of one side of an n-sided ring alone: the flat's push F = 3 T/(n s) and the ligaments' pull
    N = F/(2 sin(π/n)), over the mean hoop stress: π/(n sin(π/n)). An arm on one side and bending come on top."""
    ring = np.pi / (n * np.sin(np.pi / n))
    assert np.all(cases(n)["section"] > 1.5 * ring)


def test_worked_example():
    t_w = (42.0 - 20.0 * np.sqrt(2.0) - 4.0) / 2.0
    got = polygon_hub.corner_section_stress(1.0, 4, 20.0, t_w, 4.0, 42.0, 34.0, 0.0)
    assert got == pytest.approx(4.60, rel=3e-3)
    hoop = flats_hoop_stress(T=2e5, s=16.0, L=30.0, t_w=t_w)
    stress = polygon_hub.corner_section_stress(hoop, 4, 20.0, t_w, 4.0, 42.0, 34.0, 0.0)
    assert stress == pytest.approx(got * hoop)


def test_outside_the_study_it_is_nan():
    inside = {
        "hoop": 1.0,
        "n": 4,
        "AF": 20.0,
        "t_w": 5.0,
        "d_r": 4.0,
        "D": 42.3,
        "w": 30.0,
        "phi": 0.2,
    }
    assert np.isfinite(polygon_hub.corner_peak_stress(**inside))
    for name, value in {"n": 5, "t_w": 2.9, "d_r": 0.8, "w": 20.0}.items():
        assert np.isnan(polygon_hub.corner_peak_stress(**(inside | {name: value})))
        assert np.isnan(polygon_hub.corner_section_stress(**(inside | {name: value})))


def test_it_broadcasts():
    n, phi = np.array([[4], [6]]), np.array([0.0, 0.1, 0.2])
    got = polygon_hub.corner_peak_stress(100.0, n, 20.0, 5.0, 4.0, 45.0, 30.0, phi)
    assert got.shape == (2, 3) and np.all(np.isfinite(got))
