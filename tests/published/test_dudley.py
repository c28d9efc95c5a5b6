"""Dudley's spline formulas as printed in inches, against the house's in millimetres (from memory)."""

import math

from evidence import example

from parts.strength import spline

BOOK = "Dudley, When Splines Need Stress Control (1957); Machinery's Handbook, 27th ed., p. 2174, from memory"
INCH, INCH_POUND = 25.4, 25.4 * 4.448_221_615_260_5


@example(
    method="parts.strength.spline.hub_centrifugal_tension",
    source=BOOK + ": 1.656e-6 rpm² (D_oi² + 0.212 D_ri²) at 6000 rpm, 3 in and 1.5 in",
    published=1.656e-6 * 6000**2 * (3.0**2 + 0.212 * 1.5**2),
    unit="psi",
    tolerance=3e-3,
    why="1.656 and 0.212 are rounded, for steel of 0.283 lb/in³ and nu = 0.3",
)
def test_centrifugal_tension_of_a_steel_hub():
    omega = 6000 * 2 * math.pi / 60
    return spline.hub_centrifugal_tension(omega, 3 * INCH, 1.5 * INCH, density=7.83e-6) / spline.PSI


@example(
    method="parts.strength.spline.fatigue_life_factor",
    source="Machinery's Handbook, 27th ed., p. 2172, Table 9: 100 000 fully reversed torque cycles",
    published=0.4,
    unit="-",
    tolerance=1e-9,
    why="a row of the table",
)
def test_life_factor_of_a_hundred_thousand_reversals():
    return spline.fatigue_life_factor(1e5, 1.0)
