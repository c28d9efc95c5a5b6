"""Roark's Formulas for Stress and Strain (7th ed.)."""

from evidence import example

from parts.strength import notch


@example(
    method="parts.strength.notch.round_fillet",
    source="Shigley's Mechanical Engineering Design, 9th ed., Example 6-6 (chart A-15-9 read as "
    "1.65), against Roark's fit; from memory",
    published=1.65,
    unit="-",
    tolerance=0.01,
    why="a chart read to two decimals",
)
def test_shoulder_of_a_shaft_in_bending():
    return notch.round_fillet(D=38.0, d=32.0, r=3.0, load="bending")
