"""Timoshenko, Strength of Materials, part II (3rd ed.; numbers from memory)."""

from evidence import example

from parts.strength import pressfit
from parts.strength.spline import PSI

INCH = 25.4


@example(
    method="parts.strength.pressfit.contact_pressure",
    source="Timoshenko, Strength of Materials, part II, 3rd ed., stresses produced by shrink fit: "
    "cylinders of 4, 6 and 8 in radius, 0.005 in on the radius; from memory",
    published=4050.0,
    unit="psi",
    tolerance=1e-3,
    why="printed to three figures",
)
def test_shrink_fit_of_two_cylinders():
    steel = {"E_o": 30e6 * PSI, "nu_o": 0.3, "E_i": 30e6 * PSI, "nu_i": 0.3}
    p = pressfit.contact_pressure(
        delta=2 * 0.005 * INCH, d=12 * INCH, D_o=16 * INCH, d_i=8 * INCH, **steel
    )
    return p / PSI
