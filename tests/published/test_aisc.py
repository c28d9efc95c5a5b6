"""Coefficients and examples of the AISC Steel Construction Manual and its Design Examples."""

import numpy as np
from evidence import example

from parts.strength import boltgroup, boltplate

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


KSI, KIP = 6.894757, 4448.2216


def per_inch(kind: str, F_u: float) -> float:
    """Design strength at a 3/4 in bolt in a standard hole, for an inch of plate, in kip."""
    if kind == "edge 1 1/4 in":
        l_c = (1.25 - 13.0 / 32.0) * INCH
        return 0.75 * boltplate.hole_capacity(0.75 * INCH, l_c, INCH, F_u * KSI) / KIP
    return 0.75 * boltplate.bearing_capacity(0.75 * INCH, INCH, F_u * KSI) / KIP


@example(
    method="parts.strength.boltplate.bearing_capacity",
    source="AISC Manual, Table 7-4, 3/4 in bolt, standard hole, s = 3 in, Fu = 58 ksi; from memory",
    published=78.3,
    unit="kip/in",
    tolerance=0.0007,
    why="printed to three figures",
)
def test_bearing_at_3_in_spacing_58_ksi():
    return per_inch("spacing 3 in", 58.0)


@example(
    method="parts.strength.boltplate.bearing_capacity",
    source="AISC Manual, Table 7-4, 3/4 in bolt, standard hole, s = 3 in, Fu = 65 ksi; from memory",
    published=87.8,
    unit="kip/in",
    tolerance=0.0006,
    why="printed to three figures",
)
def test_bearing_at_3_in_spacing_65_ksi():
    return per_inch("spacing 3 in", 65.0)


@example(
    method="parts.strength.boltplate.hole_capacity",
    source="AISC Manual, Table 7-5, 3/4 in bolt, edge 1 1/4 in, Fu = 58 ksi; from memory",
    published=44.0,
    unit="kip/in",
    tolerance=0.0012,
    why="printed to three figures",
)
def test_tear_out_at_the_edge_58_ksi():
    return per_inch("edge 1 1/4 in", 58.0)


@example(
    method="parts.strength.boltplate.tension_beside_shear",
    source="AISC Design Examples, v14, Example J.3: 90 and 54 ksi, 18.1 ksi of shear; from memory",
    published=76.8,
    unit="ksi",
    tolerance=0.0007,
    why="printed to three figures",
)
def test_tension_beside_shear_of_example_j_3():
    return boltplate.tension_beside_shear(90.0, 54.0, 18.1)
