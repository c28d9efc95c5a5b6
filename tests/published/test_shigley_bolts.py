"""Shigley, Mechanical Engineering Design, 9th ed., chapter 8: bolted joints; from memory."""

import numpy as np
from evidence import example

from parts.strength import boltgroup

SHIGLEY = "Shigley, Mechanical Engineering Design, 9th ed., "
FIGURES = "printed to three figures"

# Example 8-7: four bolts on 150 by 120 mm, 16 kN at 425 mm from their middle.
FOUR = np.array([[-75.0, -60.0], [75.0, -60.0], [75.0, 60.0], [-75.0, 60.0]])


@example(
    method="parts.strength.boltgroup.elastic_shear",
    source=SHIGLEY + "Example 8-7, bolts A and B; from memory",
    published=21.0,
    unit="kN",
    tolerance=0.0024,
    why=FIGURES,
)
def test_near_bolts_of_example_8_7():
    return np.linalg.norm(boltgroup.elastic_shear(FOUR, 0.0, -16e3, 425.0, 0.0)[1]) / 1e3


@example(
    method="parts.strength.boltgroup.elastic_shear",
    source=SHIGLEY + "Example 8-7, bolts C and D; from memory",
    published=14.8,
    unit="kN",
    tolerance=0.0034,
    why=FIGURES,
)
def test_far_bolts_of_example_8_7():
    return np.linalg.norm(boltgroup.elastic_shear(FOUR, 0.0, -16e3, 425.0, 0.0)[0]) / 1e3
