"""Exact solutions and chart values printed in Peterson's Stress Concentration Factors (from memory)."""

from evidence import example

from parts.strength import notch

WIDE = 1e6  # mm: so wide that a notch of 1 mm sees a half plane


@example(
    method="parts.strength.notch.hole_in_strip",
    source="Howland (1930), tabled in Timoshenko and Goodier, Theory of Elasticity: d/W = 0.5, "
    "4.32 on the gross section; from memory",
    published=4.32,
    unit="-",
    tolerance=5e-3,
    why="fit of Howland's curve, table to three figures",
)
def test_hole_half_as_wide_as_the_strip():
    return notch.hole_in_strip(0.5, 1.0) / (1.0 - 0.5)


@example(
    method="parts.strength.notch.flat_notch",
    source="Ling, semicircular notch in the edge of a half plane: 3.065, in Peterson; from memory",
    published=3.065,
    unit="-",
    tolerance=2e-3,
    why="coefficients printed to three decimals",
)
def test_semicircular_edge_notch():
    return notch.flat_notch(WIDE, WIDE - 2.0, 1.0)


@example(
    method="parts.strength.notch.round_groove",
    source="Shallow semicircular groove under antiplane shear, 1 + √(h/r) = 2, in Peterson",
    published=2.0,
    unit="-",
    tolerance=1e-3,
    why="coefficients printed to three decimals",
)
def test_semicircular_groove_in_torsion():
    return notch.round_groove(WIDE, WIDE - 2.0, 1.0, "torsion")


@example(
    method="parts.strength.notch.hole_in_bent_plate",
    source="Reissner, large hole in a thin bent plate, (5 + 3 nu)/(3 + nu) at nu = 0.3, in Peterson",
    published=5.9 / 3.3,
    unit="-",
    tolerance=5e-3,
    why="fit printed to three figures",
)
def test_large_hole_in_a_thin_bent_plate():
    return notch.hole_in_bent_plate(1e4, 1e9, 1.0)


@example(
    method="parts.strength.notch.keyseat",
    source="Peterson, Chart 5.1: end-milled keyseat in bending, 2.14 at r/d = 1/48; from memory",
    published=2.14,
    unit="-",
    tolerance=0.02,
    why="fit of a chart read to two decimals",
)
def test_keyseat_in_bending():
    return notch.keyseat(48.0, 1.0, "bending")
