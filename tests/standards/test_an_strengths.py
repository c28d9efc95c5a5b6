"""Rated tension of AN bolts against their steel on the root of the thread, size by size."""

import csv
import math
from pathlib import Path

import pytest

import parts.standards

TABLE = Path(parts.standards.__file__).parent / "fasteners" / "an_strengths.csv"
SIZES = {
    "AN3": (0.190, 32), "AN4": (0.250, 28), "AN5": (0.3125, 24), "AN6": (0.375, 24),
    "AN7": (0.4375, 20), "AN8": (0.500, 20), "AN9": (0.5625, 18), "AN10": (0.625, 18),
}  # fmt: skip


def ratings():
    lines = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if line[0] != "#"]
    return {row["name"]: float(row["tension_lbf"]) for row in csv.DictReader(lines)}


@pytest.mark.parametrize("name", SIZES)
def test_rated_tension_is_125_ksi_at_the_root_of_the_sharp_thread(name):
    """FED-STD-H28: the sharp thread's root lies at d − 1.299 p, p the pitch."""
    d, per_inch = SIZES[name]
    root = math.pi / 4.0 * (d - 1.299 / per_inch) ** 2
    assert ratings()[name] == pytest.approx(125e3 * root, rel=0.01)


@pytest.mark.parametrize("name", SIZES)
def test_the_stress_area_would_say_some_tenth_more(name):
    d, per_inch = SIZES[name]
    stress_area = math.pi / 4.0 * (d - 0.9743 / per_inch) ** 2
    assert 1.06 < 125e3 * stress_area / ratings()[name] < 1.15
