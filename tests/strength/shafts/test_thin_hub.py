"""The ring of a hub between its arms: every case of the finite-element study, and shorter and longer levers."""

import csv
import warnings
from pathlib import Path

import numpy as np
import pytest

from parts.strength.shafts import thin_hub

STUDY = Path(__file__).parents[2] / "studies" / "thin_hub.csv"
SHAPE = ("bore", "w", "b", "long")
OTHERS = [  # bore, w, b, length of the lever, peak at the root, peak on the ring: as the study, other lengths
    (0.802, 0.675, 1.281, 1.0, 7.5514, 10.4822), (0.302, 0.522, 1.185, 1.0, 0.9664, 2.8561),
    (0.774, 0.606, 2.259, 1.4, 2.2339, 8.4272), (0.657, 0.663, 1.18, 1.4, 1.8674, 2.9532),
    (0.791, 0.323, 1.825, 4.0, 1.4386, 14.5614), (0.591, 0.513, 2.715, 4.0, 0.8552, 6.2516),
]  # fmt: skip


def cases():
    with STUDY.open(encoding="utf-8") as file:
        rows = [{name: float(text) for name, text in row.items()} for row in csv.DictReader(file)]
    return {name: np.array([row[name] for row in rows]) for name in rows[0]}


def factors(bore, w, b, long, D=40.0):
    h, w = (1.0 - np.asarray(bore)) / 2.0 * D, np.asarray(w) * D
    root = thin_hub.root_factor(h=h, w=w, t=10.0, b=10.0 * np.asarray(b), L=long * D, D=D)
    return root, thin_hub.ring_stress(stress=1.0, h=h, w=w, D=D)


def pull(bore, w, b, D=40.0):
    h = (1.0 - np.asarray(bore)) / 2.0 * D
    return thin_hub.pull_factor(h=h, w=np.asarray(w) * D, t=10.0, b=10.0 * np.asarray(b), D=D)


def test_the_bounds_hold_over_every_case_and_are_not_far_above():
    found = cases()
    root, ring = factors(found["bore"], found["w"], found["b"], 2.0)
    studied = np.isfinite(root)
    assert studied.sum() > 240
    assert np.array_equal(studied, found["bore"] <= 0.84)
    over, above = (root / found["plane"])[studied], (ring / found["wall"])[studied]
    assert over.min() >= 1.0
    assert above.min() >= 1.0
    matters = studied & (found["plane"] > 1.2) & (found["w"] <= 0.8)
    assert np.median((root / found["plane"])[matters]) < 1.5
    assert (root / found["plane"])[matters].max() < 2.3
    assert np.median(above) < 1.85
    assert above.max() < 3.3
    pulled = (pull(found["bore"], found["w"], found["b"]) / found["pull"])[studied]
    assert 1.0 <= pulled.min() < 1.01
    assert np.median(pulled) < 1.35
    assert pulled.max() < 3.1


@pytest.mark.parametrize(("bore", "w", "b", "long", "plane", "wall"), OTHERS)
def test_shorter_and_longer_levers_stay_below(bore, w, b, long, plane, wall):
    root, ring = factors(bore, w, b, long)
    assert root >= plane
    assert ring >= wall


def test_a_hub_thinner_than_the_study_never_passes():
    assert np.isnan(factors(0.86, 0.5, 2.0, 2.0)).all()
    assert np.isnan(pull(0.86, 0.5, 2.0))


@pytest.mark.parametrize("h", [0.0, -3.0])
def test_a_hub_without_a_wall_gives_no_number_and_no_warning(h):
    """A hub smaller than its bearing reaches the methods before its rule refuses it."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert np.isnan(thin_hub.root_factor(h, 20.0, 10.0, 20.0, 100.0, 40.0))
        assert np.isnan(thin_hub.pull_factor(h, 20.0, 10.0, 20.0, 40.0))
        assert np.isnan(thin_hub.ring_stress(100.0, h, 20.0, 40.0))
