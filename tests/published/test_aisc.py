"""Coefficients and examples of the AISC Steel Construction Manual and its Design Examples."""

import numpy as np
from evidence import example

from parts.strength import boltgroup

INCH = 25.4


def row(n: int, e: float) -> float:
    """One vertical row of n bolts 3 in apart, vertical load e inches off."""
    xy = np.stack([np.zeros(n), 3.0 * INCH * np.arange(n)], axis=-1)
    middle = 1.5 * INCH * (n - 1)
    return boltgroup.instantaneous_centre_coefficient(xy, 0.0, -1.0, e * INCH, middle)


@example(
    method="parts.strength.boltgroup.instantaneous_centre_coefficient",
    source="AISC Manual, Part 7, C at angle 0, one row, s 3 in, n = 2, e = 3 in; from memory",
    published=0.88,
    unit="-",
    tolerance=0.0057,
    why="printed to two decimals",
)
def test_row_of_two_3_in_off():
    return row(2, 3.0)


@example(
    method="parts.strength.boltgroup.instantaneous_centre_coefficient",
    source="AISC Manual, Part 7, C at angle 0, one row, s 3 in, n = 3, e = 3 in; from memory",
    published=1.75,
    unit="-",
    tolerance=0.0029,
    why="printed to two decimals",
)
def test_row_of_three_3_in_off():
    return row(3, 3.0)


@example(
    method="parts.strength.boltgroup.instantaneous_centre_coefficient",
    source="AISC Manual, Part 7, C at angle 0, one row, s 3 in, n = 4, e = 6 in; from memory",
    published=1.73,
    unit="-",
    tolerance=0.0029,
    why="printed to two decimals",
)
def test_row_of_four_6_in_off():
    return row(4, 6.0)
