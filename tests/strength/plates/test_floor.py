"""The floor of a fork: every case of the finite-element study, its limits, and beam theory."""

import csv
from pathlib import Path

import numpy as np
import pytest

from parts.strength.plates.floor import floor_multiplier

STUDY = Path(__file__).parents[2] / "studies" / "floor_of_fork.csv"


def cases():
    with STUDY.open(encoding="utf-8") as file:
        rows = [{name: float(text) for name, text in row.items()} for row in csv.DictReader(file)]
    return {name: np.array([row[name] for row in rows]) for name in rows[0]}


def shape(found, d=1.0):
    return {"d": d} | {name: d * found[f"{name}_d"] for name in "fswr"}


@pytest.mark.parametrize(("load", "most"), [("pull", 1.35), ("side", 1.25), ("across", 1.2)])
def test_the_bound_holds_over_every_case_and_is_not_far_above(load, most):
    found = cases()
    assert found["f_d"].size >= 80
    ratio = floor_multiplier(**shape(found, d=8.0), load=load) / found[load]
    assert ratio.min() >= 1.0
    assert ratio.max() <= most
    assert np.median(ratio) <= 1.15


def test_worked_example():
    got = floor_multiplier(10.0, np.array([6.0, 12.0]), 20.0, 20.0, 1.0, "pull")
    np.testing.assert_allclose(got, [3.50, 1.64], atol=0.006)


def test_a_thin_floor_bends_like_a_beam():
    """Beam theory: the floor's bending stress at the shank's edge over the shank's own is
    3 π/8 (s/d - 1) (d/f)² (d/w); the extra at the root is 0.8 to 2 times that, times K_t."""
    f, s, w = np.meshgrid([0.4, 0.6, 0.9], [2.0, 3.0, 4.0], [1.5, 2.0, 3.0])
    beam = 3.0 * np.pi / 8.0 * (s - 1.0) / f**2 / w
    extra = floor_multiplier(1.0, f, s, w, 0.1, "pull") - 1.12
    assert np.all((extra > 0.8 * beam) & (extra < 2.0 * beam))


def test_outside_the_study_it_is_nan_or_taken_at_the_safe_end():
    inside = {"d": 10.0, "f": 6.0, "s": 20.0, "w": 20.0, "r": 1.0}
    for name, value in {"f": 3.0, "s": 42.0, "w": 11.0, "r": 0.34}.items():
        assert np.isnan(floor_multiplier(**(inside | {name: value}), load="pull"))
    for name, value, end in [("f", 40.0, 20.0), ("s", 8.0, 10.0), ("w", 60.0, 30.0), ("r", 5.0, 3.0)]:  # fmt: skip
        beyond = floor_multiplier(**(inside | {name: value}), load="pull")
        assert beyond == floor_multiplier(**(inside | {name: end}), load="pull")


def test_it_broadcasts_and_knows_its_loads():
    got = floor_multiplier(
        10.0, np.array([[6.0], [9.0]]), np.array([15.0, 20.0, 30.0]), 20.0, 1.0, "side"
    )
    assert got.shape == (2, 3)
    with pytest.raises(KeyError, match="pull, side, across"):
        floor_multiplier(10.0, 6.0, 20.0, 20.0, 1.0, "twist")
