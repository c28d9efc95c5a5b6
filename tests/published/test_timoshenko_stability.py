"""Timoshenko & Gere, Theory of Elastic Stability, 2nd ed., 1961. Tables quoted from memory."""

import numpy as np
import pytest
from evidence import example

from parts.strength import column, plate

BOOK = "Timoshenko & Gere, Theory of Elastic Stability, 2nd ed., "
STEPPED = BOOK + "table 2-10 (P = m E I_2 / l², ends I_1, middle I_2 over a), from memory: "
EDGE = BOOK + "table 9-4 (three edges supported, one free, ν = 0.25), from memory: "

# I_1/I_2 down, a/l across.
TABLE = {
    0.01: {0.2: 0.153, 0.4: 0.270, 0.6: 0.598, 0.8: 2.26},
    0.1: {0.2: 1.47, 0.4: 2.40, 0.6: 4.50, 0.8: 8.59},
    0.2: {0.2: 2.80, 0.4: 4.22, 0.6: 6.69, 0.8: 9.33},
    0.4: {0.2: 5.09, 0.4: 6.68, 0.6: 8.51, 0.8: 9.67},
    0.6: {0.2: 6.98, 0.4: 8.19, 0.6: 9.24, 0.8: 9.78},
    0.8: {0.2: 8.55, 0.4: 9.18, 0.6: 9.63, 0.8: 9.84},
}


def coefficient(ratio, share):
    end = 0.5 * (1.0 - share)
    return column.stepped_load(ratio, end, 1.0, share, ratio, end)


@pytest.mark.parametrize("ratio", TABLE)
@pytest.mark.parametrize("share", [0.2, 0.4, 0.6, 0.8])
def test_every_entry_of_the_stepped_column_table(ratio, share):
    # printed to three figures; 0.270 stands where the exact value rounds to 0.271
    assert coefficient(ratio, share) == pytest.approx(TABLE[ratio][share], rel=5e-3)


@example(
    method="parts.strength.column.stepped_load",
    source=STEPPED + "I_1/I_2 = 0.1, a/l = 0.6",
    published=4.50,
    unit="-",
    tolerance=0.005,
    why="printed to three figures",
)
def test_tube_between_slender_stubs():
    return coefficient(0.1, 0.6)


@example(
    method="parts.strength.column.stepped_load",
    source=STEPPED + "I_1/I_2 = 0.4, a/l = 0.8",
    published=9.67,
    unit="-",
    tolerance=0.005,
    why="printed to three figures",
)
def test_tube_between_short_stubs():
    return coefficient(0.4, 0.8)


def edge_coefficient(share):
    """k of σ = k π² D / (b² t) for a free edge of length a = share b."""
    E, nu, b, t = 200_000.0, 0.3, 100.0, 2.0
    got = plate.free_edge_buckling_stress(E=E, F_y=1e9, t=t, b=b, a=share * b, nu=nu)
    return got / (np.pi**2 * E / (12.0 * (1.0 - nu**2)) * (t / b) ** 2)


@example(
    method="parts.strength.plate.free_edge_buckling_stress",
    source=EDGE + "a/b = 1",
    published=1.440,
    unit="-",
    tolerance=0.03,
    why="the table is for ν = 0.25, we take the lower k of ν = 0.3; the two-term k is approximate",
)
def test_square_plate_with_a_free_edge():
    return edge_coefficient(1.0)


@example(
    method="parts.strength.plate.free_edge_buckling_stress",
    source=EDGE + "a/b = 2",
    published=0.698,
    unit="-",
    tolerance=0.04,
    why="the table is for ν = 0.25, we take the lower k of ν = 0.3; the two-term k is approximate",
)
def test_plate_twice_as_long_as_deep_with_a_free_edge():
    return edge_coefficient(2.0)
