"""Lugs and pins worked by hand: ASME BTH-1, the Air Force's stress analysis manual, Bruhn, EN 1993-1-8."""

from evidence import BY_HAND, FROM_MEMORY, PSI, hand, module, row, table

lug = module("pinned.lug")
SMALL = {
    "t": "0.75 in",
    "D_h": "0.875 in",
}  # lug of 3/4 in plate, 3 in wide, pin of 3/4 in, N_d = 3
LARGE = {
    "D_h": "1.6875 in",
    "t": "0.75 in",
}  # lug of 3/4 in plate, round end of 4.15625 in, pin of 1 3/8 in, N_d = 2
A36 = {"F_y": "36 ksi", "F_u": "58 ksi"}

test_bth = table(
    "ASME BTH-1-2014, 3-3.3", BY_HAND,
    hand("pin of 3/4 in in a hole of 7/8 in, eq. 3-46", "pinned.standards.clearance_factor",
        "1 - 0.275 * sqrt(1 - (0.75 / 0.875)**2)", "-", D_p="0.75 in", D_h="0.875 in"),
    hand("1 1/16 in beside that hole, eq. 3-48", "pinned.standards.effective_width",
        "0.6 * 1.0625 * 58 / 36 * sqrt(0.875 / 1.0625)", "in", b_e="1.0625 in", **SMALL, **A36),
    hand("tension, eq. 3-45, over 1.2 N_d", "pinned.standards.tension_load",
        "0.858353 * 58 * 2 * 0.75 * 0.932061 / (1.2 * 3)", "kip",
         lambda P: P / 3.6, t="0.75 in", b_eff="0.932061 in", C_r=0.858353, F_u="58 ksi"),
    hand("splitting, eq. 3-49, over 1.2 N_d", "pinned.standards.fracture_load",
         "0.858353 * 58 * (1.13 * (1.5 - 0.875 / 2) + 0.92 * 1.0625 / (1 + 1.0625 / 0.875)) * 0.75 / (1.2 * 3)", "kip",
         lambda P: P / 3.6, R="1.5 in", b_e="1.0625 in", C_r=0.858353, F_u="58 ksi", **SMALL),
    hand("two planes of the round end, eq. 3-51, φ = 55° 1.375/1.6875", "pinned.standards.shear_area",
         "2 * 0.75 * (4.15625 - 0.84375 + 0.6875 * (1 - cos(44.8148148 * deg)) - (4.15625 - sqrt(4.15625**2 "
         "- (0.6875 * sin(44.8148148 * deg))**2)))",
         "in^2", R="4.15625 in", D_p="1.375 in", r="4.15625 in", **LARGE),
    hand("shear of those planes, eq. 3-50, over 1.2 N_d", "pinned.standards.shear_load", "0.70 * 58 * 5.22589 / (1.2 * 2)",
        "kip",
         lambda P: P / 2.4, A_v="5.22589 in^2", F_u="58 ksi"),
    hand("bearing, eq. 3-53, over N_d", "pinned.standards.bearing_load", "1.25 * 36 * 1.375 * 0.75 / 2", "kip",
         lambda P: P / 2.0, D_p="1.375 in", t="0.75 in", F_y="36 ksi"),
)  # fmt: skip

STEEL = {"F_tu": "58 ksi", "F_ty": "36 ksi"}
SQUARE = {"R": "1.5 in", "r": float("inf"), **SMALL}

test_air_force = table(
    "AFFDL-TR-69-42, Stress Analysis Manual, chapter 9", BY_HAND,
    hand("ultimate that counts, 1.304 F_ty below F_tu", "pinned.lug.usable_ultimate", "1.304 * 36", "ksi", **STEEL),
    hand("bush of 3/4 in in 3/4 in plate, F_cy = 36 ksi", "pinned.lug.bush_load", "1.304 * 36 * 0.75 * 0.75", "kip",
        D_p="0.75 in", t="0.75 in", F_cy="36 ksi"),
    hand("40° plane of the square-ended lug", "pinned.lug.shear_bearing_efficiency",
        "2 * 0.6 * (1.5 - 0.4375 * cos(40 * deg)) / 0.875", "-",
         F_su="34.8 ksi", F_tu="58 ksi", **SQUARE),
    hand("net section by the width of BTH-1", "pinned.lug.net_tension_efficiency", "0.6 * 58 / 36 * sqrt(0.875 / 1.0625)", "-",
        w="3 in", D_h="0.875 in", **STEEL),
    hand("axial load, shear-bearing governs", "pinned.lug.axial_load", "1.59752 * 1.304 * 36 * 0.875 * 0.75", "kip", w="3 in",
        F_su="34.8 ksi", **SQUARE, **STEEL),
    hand("half of each load, axial and transverse", "pinned.lug.oblique_use", "(2 * 0.5**1.6)**(1 / 1.6)", "-", P_a=50.0,
        P_au=100.0, P_t=30.0, P_tu=60.0),
    hand("pull at 45° on 100 and 60 kN", "pinned.lug.oblique_load",
        "1 / ((sqrt(0.5) / 100)**1.6 + (sqrt(0.5) / 60)**1.6)**(1 / 1.6)", "kN",
         P_au=100e3, P_tu=60e3, alpha="45 deg"),
    hand("ears of 6, tongue of 10, gaps of 1: arm", "pinned.pin.double_shear_arm", "6 / 2 + 1 + 10 / 4", "mm", t1=6.0, t2=10.0,
        g=1.0),
    hand("82 N m that tilt a tongue of 15 mm, ears 23.4 apart", "pinned.pin.couple_moment",
        "82e3 * (23.4 / 2 - 15 / 3) / 23.4", "N*mm", M=82e3, w=15.0, b=23.4),
    hand("10 kN on that arm", "pinned.pin.double_shear_moment", "10e3 * 6.5 / 2", "N*mm", P=10e3, b=6.5),
    hand("lap of 6 and 10, gap 1, under 10 kN", "pinned.pin.single_shear_moment", "10e3 * (6 + 10 + 2 * 1) / 4", "N*mm",
        P=10e3, t1=6.0, t2=10.0, g=1.0),
    hand("pin of 10 mm, 900 MPa, k = 1.56", "pinned.pin.bending_moment_capacity", "1.56 * 900 * pi * 10**3 / 32", "N*mm",
        D=10.0, F=900.0, k=1.56),
)  # fmt: skip

test_bruhn = table(
    "Bruhn, Analysis and Design of Flight Vehicle Structures, D1", BY_HAND,
    hand("40° plane of a round end, R 15, hole 10", "pinned.lug.shear_plane",
        "15 - 5 * cos(40 * deg) - (15 - sqrt(15**2 - (5 * sin(40 * deg))**2))", "mm", R=15.0, D_h=10.0, r=15.0),
    hand("two such planes of 8 mm plate at 200 MPa", "pinned.lug.shear_out_load",
        "2 * 8 * (15 - 5 * cos(40 * deg) - 15 + sqrt(15**2 - (5 * sin(40 * deg))**2)) * 200", "N",
         R=15.0, D_h=10.0, t=8.0, r=15.0, F_s=200.0),
    hand("tab, width 30 and 26 at the root: 440 MPa at the net section", "plates.plate.tab_load", "440 * (30 - 10) * 4", "N",
         w=30.0, w_0=26.0, D_h=10.0, D_p=10.0, R=25.0, r=float("inf"), t=4.0, F_tu=440.0, F_su=290.0, F_bru=900.0),
    hand("tab with a hole near its end: 290 MPa on the 40° planes", "plates.plate.tab_load",
        "2 * 4 * (12 - 5 * cos(40 * deg)) * 290", "N",
         w=30.0, w_0=26.0, D_h=10.0, D_p=10.0, R=12.0, r=float("inf"), t=4.0, F_tu=440.0, F_su=290.0, F_bru=900.0),
)  # fmt: skip

test_data_sheet = table(
    "British Aircraft Corporation, Structural Design Data Sheet 15.2.1", FROM_MEMORY,
    row("a 10, c 8, d 4, t 1.5 mm, 58 ksi: 610 lbf uses 0.5463", "pinned.lug.shear_bearing_efficiency", "1116.6 lbf", 0.10,
        "ours is a lower estimate of the sheet's curve",
        work=lambda: 58e3 * PSI * 6.0 * lug.shear_bearing_efficiency(R=10.0, D_h=4.0, t=1.5, r=float("inf"), F_su=34.8,
        F_tu=58.0)),
)  # fmt: skip

test_pins = table(
    "EN 1993-1-8:2005, table 3.10 and figure 3.11", BY_HAND,
    hand("moment F (b + 4c + 2a)/8: tongue 10, gaps 1, ears 6", "pinned.pin.double_shear_moment",
        "10e3 * (10 + 4 * 1 + 2 * 6) / 8", "N*mm", P=10e3, b=6.0 / 2 + 1 + 10.0 / 4),
    hand("0.6 of the shear and 0.8 of the moment", "pinned.pin.shear_and_bending", "sqrt(0.6**2 + 0.8**2)", "-", V=60.0,
        V_u=100.0, M=8.0, M_u=10.0),
)  # fmt: skip

test_sections = table(
    "Beer, Johnston and DeWolf, Mechanics of Materials: areas and moduli", BY_HAND,
    hand("tube of 10 by 6 mm", "pinned.pin.section_area", "pi / 4 * (10**2 - 6**2)", "mm^2", D=10.0, d=6.0),
    hand("50 N m in a pin of 12 mm", "pinned.pin.bending_stress", "50e3 * 6 / (pi / 64 * 12**4)", "MPa", M=50e3, D=12.0),
    hand("plastic over elastic modulus of a round: 16/3π, printed as 1.70", "pinned.pin.plastic_bending_factor",
        "16 / (3 * pi)", "-", D=10.0),
    hand("bore of 10 to the edge at 15, 4 mm plate, 200 MPa", "pinned.lug.tear_out_load", "2 * 4 * (15 - 5) * 200", "N",
        R=15.0, D_h=10.0, t=4.0, F_s=200.0),
)  # fmt: skip
