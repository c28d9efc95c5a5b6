"""Beer & Johnston, Mechanics of Materials, chapter 1: the pins of a boom and rod, and a tie bar.

From memory, with the figures of the SI editions.
"""

from evidence import example

from parts.strength import lug, pin

BOOM = "Beer & Johnston, Mechanics of Materials, section 1.2 (boom and rod), from memory: "
TIE = "Beer & Johnston, Mechanics of Materials, sample problem 1.2 (steel tie bar), from memory: "
THREE = "printed to three figures"


@example(
    method="parts.strength.pin.single_shear",
    source=BOOM + "pin C, 25 mm, 50 kN",
    published=102.0,
    unit="MPa",
    tolerance=0.002,
    why=THREE,
)
def test_pin_cut_once():
    return pin.single_shear(F=50_000.0, D=25.0)


@example(
    method="parts.strength.pin.double_shear",
    source=BOOM + "pin A, 25 mm, 40 kN",
    published=40.7,
    unit="MPa",
    tolerance=0.002,
    why=THREE,
)
def test_pin_cut_twice():
    return pin.double_shear(F=40_000.0, D=25.0)


@example(
    method="parts.strength.lug.bearing_stress",
    source=BOOM + "boom AB at A, 30 mm thick",
    published=53.3,
    unit="MPa",
    tolerance=0.002,
    why=THREE,
)
def test_pin_bears_on_the_boom():
    return lug.bearing_stress(P=40_000.0, D_p=25.0, t=30.0)


@example(
    method="parts.strength.lug.net_section_stress",
    source=BOOM + "flat end of rod BC, 40 by 20 mm with a 25 mm hole",
    published=167.0,
    unit="MPa",
    tolerance=0.003,
    why=THREE,
)
def test_flat_end_pulled_beside_its_hole():
    return lug.net_section_stress(P=50_000.0, w=40.0, D_h=25.0, t=20.0)


@example(
    method="parts.strength.pin.double_shear",
    source=TIE + "bolt of 27.6 mm at the allowable shear",
    published=100.0,
    unit="MPa",
    tolerance=0.004,
    why="the diameter is printed to three figures and squared",
)
def test_bolt_of_the_tie_bar():
    return pin.double_shear(F=120_000.0, D=27.6)


@example(
    method="parts.strength.lug.bearing_stress",
    source=TIE + "28 mm bolt in 20 mm bar",
    published=214.0,
    unit="MPa",
    tolerance=0.002,
    why=THREE,
)
def test_bolt_bears_on_the_tie_bar():
    return lug.bearing_stress(P=120_000.0, D_p=28.0, t=20.0)


@example(
    method="parts.strength.lug.net_section_load",
    source=TIE + "end width 62.3 mm at the allowable tension of 175 MPa",
    published=120.0,
    unit="kN",
    tolerance=0.003,
    why="the width is printed to three figures",
)
def test_end_of_the_tie_bar():
    return lug.net_section_load(w=62.3, D_h=28.0, t=20.0, F=175.0) / 1000.0
