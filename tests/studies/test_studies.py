"""The scripts of the studies still give the rows that were written: the first case of each is solved again."""

import csv
from pathlib import Path

import boss_on_plate
import floor_of_fork
import numpy as np
import polygon_hub
import pytest

SOLVED = {
    floor_of_fork: floor_of_fork.multipliers,
    polygon_hub: polygon_hub.factors,
    boss_on_plate: lambda one: boss_on_plate.peaks(*one.values()),
}


@pytest.mark.slow
@pytest.mark.parametrize("study", SOLVED, ids=lambda one: one.__name__)
def test_the_first_case_comes_out_again(study):
    """Meshers differ: 3 % is allowed."""
    one = study.drawn(np.random.default_rng(study.SEED))
    with Path(study.__file__).with_suffix(".csv").open(encoding="utf-8") as file:
        printed = {name: float(text) for name, text in next(csv.DictReader(file)).items()}
    assert {name: printed[name] for name in one} == one
    for name, value in SOLVED[study](one).items():
        assert value == pytest.approx(printed[name], rel=0.03)
