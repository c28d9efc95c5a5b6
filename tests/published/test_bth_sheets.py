"""Two lifting lugs worked to ASME BTH-1, from calculation sheets that their authors share publicly.

The sheets are secondary evidence: others' arithmetic with the standard's equations. The shear area of
the 2014 sheet does not follow from its own inputs by the equation it names, and is left out.
"""

from evidence import example

from parts.strength import pinned_plate

INCH, KSI, KIP = 25.4, 6.894757, 4448.222
F_Y, F_U = 36.0 * KSI, 58.0 * KSI
YEAR_2014 = "calculation sheet 'Lifting Lug Design (ASME BTH-1 2014)', N_d = 3, "
YEAR_2005 = "calculation sheet 'Lifting Lug Design per ASME BTH-1-2005', loose pin, N_d = 2, "
SIX = "printed to six figures"
ROUNDED = "the sheet rounds its inputs and results to three or four figures"

T = 0.75 * INCH  # both lugs
SMALL = {"D_p": 0.75 * INCH, "D_h": 0.875 * INCH}
LARGE = {"D_p": 1.375 * INCH, "D_h": 1.6875 * INCH}


def small_factor():
    return pinned_plate.clearance_factor(**SMALL)


def small_width():
    return pinned_plate.effective_width(b_e=1.0625 * INCH, t=T, D_h=SMALL["D_h"], F_u=F_U, F_y=F_Y)


@example(
    method="parts.strength.pinned_plate.clearance_factor",
    source=YEAR_2014 + "C_r",
    published=0.8583533,
    unit="-",
    tolerance=1e-6,
    why="printed to seven figures",
)
def test_loose_pin():
    return small_factor()


@example(
    method="parts.strength.pinned_plate.effective_width",
    source=YEAR_2014 + "b_eff",
    published=0.9321,
    unit="in",
    tolerance=1e-4,
    why="printed to four figures",
)
def test_width_beside_the_hole_that_counts():
    return small_width() / INCH


@example(
    method="parts.strength.pinned_plate.tension_load",
    source=YEAR_2014 + "P_t",
    published=19.3343,
    unit="kip",
    tolerance=1e-5,
    why=SIX,
)
def test_tension_through_the_hole():
    load = pinned_plate.tension_load(t=T, b_eff=small_width(), C_r=small_factor(), F_u=F_U)
    return load / (pinned_plate.BTH_FRACTURE * 3.0) / KIP


@example(
    method="parts.strength.pinned_plate.fracture_load",
    source=YEAR_2014 + "P_b",
    published=17.0312,
    unit="kip",
    tolerance=1e-5,
    why=SIX,
)
def test_splitting_beyond_the_hole():
    load = pinned_plate.fracture_load(
        R=1.5 * INCH, b_e=1.0625 * INCH, t=T, D_h=SMALL["D_h"], C_r=small_factor(), F_u=F_U
    )
    return load / (pinned_plate.BTH_FRACTURE * 3.0) / KIP


@example(
    method="parts.strength.pinned_plate.shear_area",
    source=YEAR_2005 + "A_v of a round end",
    published=5.23,
    unit="in²",
    tolerance=0.001,
    why=ROUNDED,
)
def test_two_shear_planes_of_a_round_end():
    return large_area() / INCH**2


def large_area():
    radius = 4.15625 * INCH
    return pinned_plate.shear_area(R=radius, t=T, r=radius, **LARGE)


@example(
    method="parts.strength.pinned_plate.shear_load",
    source=YEAR_2005 + "P_v",
    published=88.41,
    unit="kip",
    tolerance=0.001,
    why=ROUNDED,
)
def test_shear_beyond_the_hole():
    load = pinned_plate.shear_load(A_v=large_area(), F_u=F_U)
    return load / (pinned_plate.BTH_FRACTURE * 2.0) / KIP


@example(
    method="parts.strength.pinned_plate.fracture_load",
    source=YEAR_2005 + "P_b",
    published=68.76,
    unit="kip",
    tolerance=0.001,
    why=ROUNDED,
)
def test_splitting_beyond_the_large_hole():
    load = pinned_plate.fracture_load(
        R=4.15625 * INCH,
        b_e=1.66 * INCH,
        t=T,
        D_h=LARGE["D_h"],
        C_r=pinned_plate.clearance_factor(**LARGE),
        F_u=F_U,
    )
    return load / (pinned_plate.BTH_FRACTURE * 2.0) / KIP


@example(
    method="parts.strength.pinned_plate.bearing_load",
    source=YEAR_2005 + "P_p",
    published=23.20,
    unit="kip",
    tolerance=0.0005,
    why="printed to four figures",
)
def test_bearing_of_the_pin():
    return pinned_plate.bearing_load(D_p=LARGE["D_p"], t=T, F_y=F_Y) / 2.0 / KIP
