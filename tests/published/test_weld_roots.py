"""Class 36 of EN 1993-1-9 at the limits that its tables print."""

from evidence import example

from parts.strength.welded import root


@example(
    method="parts.strength.welded.root.damage",
    source="EN 1993-1-9:2005, 7.1 (2): 0.737 of class 36 at 5e6 cycles",
    published=5.0,
    unit="million cycles",
    tolerance=0.01,
    why="0.737 to three figures, raised to the third power",
)
def test_knee_of_the_root_class():
    return 1.0 / root.damage(1e6, 0.737 * 36.0, 0.0, 1.0)


@example(
    method="parts.strength.welded.root.damage",
    source="EN 1993-1-9:2005, 7.1 (2): 0.457 of class 80 in shear at 1e8 cycles",
    published=100.0,
    unit="million cycles",
    tolerance=0.01,
    why="0.457 to three figures, raised to the fifth power",
)
def test_cut_off_of_the_throat_in_shear():
    return 1.0 / root.damage(1e6, 0.0, 0.4574 * 80.0, 1.0)
