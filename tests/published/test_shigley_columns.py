"""Budynas & Nisbett, Shigley's Mechanical Engineering Design, and Gere, Mechanics of Materials.

Column examples, from memory.
"""

import numpy as np
from evidence import example

from parts.strength import column

KSI, KIP, INCH = 6.894757, 4448.222, 25.4


@example(
    method="parts.strength.column.euler_load",
    source="Shigley's Mechanical Engineering Design, 8th ed., example 4-17 (round column of "
    "37.48 mm, 1.5 m, bears 22 kN by a design factor of 4), from memory",
    published=88.0,
    unit="kN",
    tolerance=0.002,
    why="the diameter is printed to four figures and raised to the fourth power",
)
def test_round_column():
    return column.euler_load(E=207_000.0, I_min=np.pi / 64.0 * 37.48**4, L=1500.0) / 1000.0


@example(
    method="parts.strength.column.johnson_euler_load",
    source="Shigley's Mechanical Engineering Design, 8th ed., example 4-17, the same column of "
    "500 MPa yield is an Euler column, from memory",
    published=88.0,
    unit="kN",
    tolerance=0.002,
    why="the diameter is printed to four figures and raised to the fourth power",
)
def test_round_column_is_long_enough_for_euler():
    d = 37.48
    got = column.johnson_euler_load(
        E=207_000.0, A=np.pi / 4.0 * d**2, I_min=np.pi / 64.0 * d**4, L=1500.0, F_cy=500.0
    )
    return got / 1000.0


@example(
    method="parts.strength.column.secant_load",
    source="Gere, Mechanics of Materials, chapter 11, secant formula example (W 14 x 82, 25 ft, "
    "eccentricity 1.5 in, yield 42 ksi), from memory",
    published=716.0,
    unit="kip",
    tolerance=0.002,
    why="printed to three figures",
)
def test_wide_flange_column_loaded_off_its_axis():
    A, r, S = 24.1 * INCH**2, 6.05 * INCH, 123.0 * INCH**3
    I_e = A * r**2
    got = column.secant_load(
        E=30_000.0 * KSI, A=A, I_e=I_e, c=I_e / S, e=1.5 * INCH, L=300.0 * INCH, F=42.0 * KSI
    )
    return got / KIP
