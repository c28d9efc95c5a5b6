"""AISC Design Guide 29, Vertical Bracing Connections: Analysis and Design, example 5.1."""

from evidence import example

from parts.strength import plate

INCH, KSI, KIP = 25.4, 6.894757, 4448.222
SQ = INCH**2
GUIDE = "AISC Design Guide 29, Vertical Bracing Connections, example 5.1, "
THREE = "printed to three figures, sums of rounded parts"


@example(
    method="parts.strength.plate.block_shear_load",
    source=GUIDE + "block shear of the brace (p. 49)",
    published=1250.0,
    unit="kip",
    tolerance=0.005,
    why=THREE,
)
def test_block_tears_out_of_the_brace_with_shear_yielding():
    got = plate.block_shear_load(
        A_gv=39.0 * SQ, A_nv=26.0 * SQ, A_nt=7.0 * SQ, F_y=36.0 * KSI, F_u=58.0 * KSI
    )
    return got / KIP


@example(
    method="parts.strength.plate.block_shear_load",
    source=GUIDE + "block shear of the gusset (p. 50)",
    published=1140.0,
    unit="kip",
    tolerance=0.005,
    why=THREE,
)
def test_block_tears_out_of_the_gusset_with_shear_rupture():
    got = plate.block_shear_load(
        A_gv=39.0 * SQ, A_nv=26.0 * SQ, A_nt=2.0 * SQ, F_y=50.0 * KSI, F_u=65.0 * KSI
    )
    return got / KIP


@example(
    method="parts.strength.plate.hole_bearing_load",
    source=GUIDE + "bearing of an end bolt, φ = 0.75 (p. 51)",
    published=60.3,
    unit="kip",
    tolerance=0.005,
    why="the example rounds the clear distance to three figures",
)
def test_plate_tears_in_front_of_the_end_bolt():
    clear = (1.50 - 0.5 * 15.0 / 16.0) * INCH
    got = plate.hole_bearing_load(l_c=clear, d=0.875 * INCH, t=1.0 * INCH, F_u=65.0 * KSI)
    return 0.75 * got / KIP


@example(
    method="parts.strength.plate.hole_bearing_load",
    source=GUIDE + "bearing of an inner bolt, φ = 0.75 (p. 51)",
    published=102.0,
    unit="kip",
    tolerance=0.005,
    why="printed to three figures",
)
def test_plate_bulges_in_front_of_an_inner_bolt():
    clear = (3.00 - 15.0 / 16.0) * INCH
    got = plate.hole_bearing_load(l_c=clear, d=0.875 * INCH, t=1.0 * INCH, F_u=65.0 * KSI)
    return 0.75 * got / KIP


@example(
    method="parts.strength.plate.whitmore_width",
    source=GUIDE + "Whitmore section (p. 52)",
    published=23.8,
    unit="in",
    tolerance=0.003,
    why="printed to three figures",
)
def test_gusset_carries_on_its_whitmore_section():
    return plate.whitmore_width(s=3.0 * INCH, L=18.0 * INCH, w=1000.0) / INCH


@example(
    method="parts.strength.plate.gusset_compression_load",
    source=GUIDE + "compression on the Whitmore section, φ = 0.90 (p. 52)",
    published=941.0,
    unit="kip",
    tolerance=0.003,
    why="printed to three figures; the example's area of 20.9 in² goes in as its width at 1 in",
)
def test_gusset_strip_is_short_enough_to_yield():
    got = plate.gusset_compression_load(
        E=29_000.0 * KSI, F_y=50.0 * KSI, t=1.0 * INCH, l_w=20.9 * INCH, L=0.5 * 9.76 * INCH
    )
    return 0.90 * got / KIP


@example(
    method="parts.strength.plate.edge_interaction",
    source=GUIDE + "force interaction at the beam flange, LRFD (p. 57)",
    published=0.0829,
    unit="-",
    tolerance=0.005,
    why="the example rounds 1420 kip to three figures and squares it",
)
def test_pull_and_shear_together_on_the_edge_of_a_gusset():
    return plate.edge_interaction(M=0.0, M_n=11_200.0, N=269.0, N_n=1_420.0, V=440.0, V_n=945.0)
