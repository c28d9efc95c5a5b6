"""AISC Design Examples v16 (Companion to the Steel Construction Manual, volume 1), chapter D."""

from evidence import example

from parts.strength import pinned_plate, plate

INCH, KSI, KIP = 25.4, 6.894757, 4448.222
F_Y, F_U = 50.0 * KSI, 65.0 * KSI
D7 = "AISC Design Examples v16, example D.7 (pin-connected tension member), "
D9 = "AISC Design Examples v16, example D.9 (plate with staggered bolts), "
THREE = "printed to three figures"


@example(
    method="parts.strength.pinned_plate.structural_tension_load",
    source=D7 + "tensile rupture",
    published=105.0,
    unit="kip",
    tolerance=0.005,
    why=THREE,
)
def test_pinned_plate_breaks_beside_the_hole():
    b_e = pinned_plate.structural_effective_width(b=1.61 * INCH, t=0.5 * INCH)
    return pinned_plate.structural_tension_load(b_e=b_e, t=0.5 * INCH, F_u=F_U) / KIP


@example(
    method="parts.strength.pinned_plate.structural_effective_width",
    source=D7 + "effective width",
    published=1.61,
    unit="in",
    tolerance=1e-9,
    why="the printed value is an input of the example; 2 t + 0.63 in is larger",
)
def test_effective_width_beside_the_hole():
    return pinned_plate.structural_effective_width(b=1.61 * INCH, t=0.5 * INCH) / INCH


@example(
    method="parts.strength.pinned_plate.structural_shear_load",
    source=D7 + "shear rupture",
    published=107.0,
    unit="kip",
    tolerance=0.005,
    why=THREE,
)
def test_pin_shears_out_through_the_end():
    got = pinned_plate.structural_shear_load(
        a=2.25 * INCH, d=1.0 * INCH, t=0.5 * INCH, C_r=1.0, F_u=F_U
    )
    return got / KIP


@example(
    method="parts.strength.pinned_plate.structural_bearing_load",
    source=D7 + "bearing",
    published=45.0,
    unit="kip",
    tolerance=0.001,
    why="printed to three figures, exact in the example's units",
)
def test_pin_beds_into_the_plate():
    return pinned_plate.structural_bearing_load(d=1.0 * INCH, t=0.5 * INCH, F_y=F_Y) / KIP


def staggered(holes, gauges):
    gain = sum(plate.stagger_gain(s=2.5 * INCH, g=g * INCH) for g in gauges)
    return plate.net_width(w=14.0 * INCH, D_h=0.875 * INCH, n=holes, gain=gain) / INCH


STAGGER = "the example prints to a tenth of an inch"


@example(
    method="parts.strength.plate.net_width",
    source=D9 + "line A-B-C-D-E-F",
    published=11.5,
    unit="in",
    tolerance=0.05 / 11.5,
    why=STAGGER,
)
def test_path_through_four_holes_and_two_slants():
    return staggered(4, (3.0, 3.0))


@example(
    method="parts.strength.plate.net_width",
    source=D9 + "line A-B-D-E-F",
    published=12.1,
    unit="in",
    tolerance=0.05 / 12.1,
    why=STAGGER,
)
def test_path_through_three_holes_and_a_long_slant():
    return staggered(3, (7.0, 3.0))


@example(
    method="parts.strength.plate.net_width",
    source=D9 + "line A-B-C-D-G",
    published=11.9,
    unit="in",
    tolerance=0.05 / 11.9,
    why=STAGGER,
)
def test_path_through_three_holes_and_one_slant():
    return staggered(3, (3.0,))
