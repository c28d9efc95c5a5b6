"""Slots and slip, clamps, jam nuts, posts in one hole, ball friction, weld roots, tube walls, seats and warm metal."""

import numpy as np
from evidence import BY_HAND, FROM_MEMORY, LOOKED_UP, hand, module, row, table

tube = module("welded.tube_wall")
TUBE = {"d0": 38.0, "t0": 2.0, "f_y": 350.0}
FACE = {"h": 40.0, "b": 5.0, "b0": 40.0, "t0": 2.0, "f_y": 350.0}
M10 = {"d2": 9.026, "p": 1.5}
UP, DOWN = (
    "tan(atan(0.1 / cos(30 * deg)) + atan(1.5 / (pi * 9.026)))",
    "tan(atan(0.1 / cos(30 * deg)) - atan(1.5 / (pi * 9.026)))",
)
HELD = f"(4.513 * {DOWN} + 0.1 * 6.25) / (4.513 * {UP} + 0.1 * 6.25)"
HOLES = {"xy": np.array([[0.0, 0.0], [60.0, 0.0]]), "along": np.array([[0.0, 0.0], [1.0, 0.0]])}

test_design_examples = table(
    "AISC, Design Examples v14.1", FROM_MEMORY,
    row("K.2: plate along HSS 6.000x0.375, 5.5 there for the 5 of EN", "welded.tube_wall.longitudinal_plate_pull", "32.8 kip",
        read=lambda pull: 1.1 * pull, d0="6 in", t0="0.349 in", h="4 in", f_y="42 ksi"),
    row("K.3: local yielding of a plate across HSS 8x8x1/2", "welded.box_wall.uneven_plate_pull", "68.4 kip",
        b="5.5 in", t1="0.5 in", f_y1="50 ksi", b0="8 in", t0="0.465 in", f_y="46 ksi"),
)  # fmt: skip

test_peaks = table(
    "DNV-RP-C203 (2010), Table B-1: T joint of β 0.5, γ 12, τ 0.5", LOOKED_UP,
    row("chord saddle, pull", "welded.tube_joint.axial_peak", "6.21 -", d0=240.0, t0=10.0, d1=120.0, t1=5.0, theta=np.pi / 2),
    via="an open library of its equations, which prints its own check",
)  # fmt: skip

test_slip_examples = table(
    "AISC, Design Examples v14, slip-critical 3/4 in A325, class A, two faces, D_u 1.13", LOOKED_UP,
    row("J.4A: short slots across, φ = 1", "bolted.slots.slip_resistance", "19.0 kip", F=f"{1.13 * 28.0} kip", mu=0.30, m=2.0,
        gamma=1.0),
    row("J.4B: long slots along, φ = 0.70 there for k_s", "bolted.slots.slip_resistance", "13.3 kip", F=f"{1.13 * 28.0} kip",
        mu=0.30, k_s=0.70, m=2.0, gamma=1.0),
    via="the tests of an open library of its equations",
)  # fmt: skip

test_slip = table(
    "SCI P363, Steel Building Design: Design Data (EN 1993-1-8, 3.9.1)", FROM_MEMORY,
    row("M20 8.8 preloaded to 137.2 kN, μ 0.5, single shear", "bolted.slots.slip_resistance", "54.9 kN", F="137.2 kN",
        mu=0.5),
)  # fmt: skip

test_grooves = table(
    "DIN 471, load capacity of the groove F_N at 200 MPa, and of the ring F_Rg at the corner g", LOOKED_UP,
    row("shaft 10, F_N", "bearings.axial.groove_load", "1.01 kN", 0.02, "the 1.2 between is rounded", d=10.0, d_g=9.6, R=200.0,
        n=0.6),
    row("shaft 15, F_N", "bearings.axial.groove_load", "2.66 kN", 0.02, "the 1.2 between is rounded", d=15.0, d_g=14.3,
        R=200.0, n=1.1),
    row("shaft 18, F_N", "bearings.axial.groove_load", "4.58 kN", 0.01, "the 1.2 between is rounded", d=18.0, d_g=17.0,
        R=200.0, n=1.5),
    row("shaft 15, F_Rg at 1 mm", "bearings.axial.ring_load", "2.4 kN", s=1.0, g=1.0, k=2400.0),
    row("shaft 18, F_Rg at 1.5 mm", "bearings.axial.ring_load", "3.75 kN", 0.27, "a lower bound", s=1.2, g=1.5, k=2400.0),
    via="a public table of fasteners",
)  # fmt: skip

test_bore_rings = table(
    "DIN 472, load capacity of the groove F_N at 200 MPa, and of the ring F_Rg at the corner g", LOOKED_UP,
    row("bore 14, F_N", "bearings.axial.groove_load", "2.25 kN", 0.01, "the 1.2 between is rounded", d=14.0, d_g=14.6,
        R=200.0, n=0.9),
    row("bore 10, F_Rg at 0.5 mm", "bearings.axial.ring_load", "2.2 kN", 0.17, "a lower bound", s=1.0, g=0.5, k=1100.0),
    via="a public table of fasteners",
)  # fmt: skip

test_ring_sheet = table(
    "Smalley, data sheet of the ring RS-196: π 1.969 in · 0.034 in · 45 ksi with a factor of 2", LOOKED_UP,
    row("groove load", "bearings.axial.groove_load", "4729 lbf", 0.035, "the sheet counts the shaft's circumference",
        read=lambda load: load * 1.2 / 2.0, d="1.969 in", d_g="1.902 in", R="45 ksi", n="0.11 in"),
)  # fmt: skip

test_warm_steel = table(
    "MIL-HDBK-5J, Figure 2.3.1.1.1, as an open digitisation has it", LOOKED_UP,
    row("F_ty of low-alloy steel at 307 °F", "fatigue.temperature.yield_factor", "0.899 -", 0.005, "the table is rounded down",
        celsius=(307.2 - 32.0) / 1.8, alloy="4130", condition="normalized"),
    row("F_tu of low-alloy steel at 410 °F", "fatigue.temperature.ultimate_factor", "0.951 -", 0.015,
        "the table is rounded down",
        celsius=(409.6 - 32.0) / 1.8, alloy="4130", condition="normalized"),
)  # fmt: skip

test_warm_aluminium = table(
    "Aluminum Standards and Data (The Aluminum Association), typical tensile strength after 10 000 hours", FROM_MEMORY,
    row("6061-T6 at 212 °F, 42 of 45 ksi", "fatigue.temperature.ultimate_factor", "0.933 -", 0.05, "minimum beside typical",
        celsius=100.0, alloy="6061", condition="T6"),
    row("7075-T6 at 300 °F, 31 of 83 ksi", "fatigue.temperature.ultimate_factor", "0.373 -", 0.13, "minimum beside typical",
        celsius=148.9, alloy="7075", condition="T6"),
)  # fmt: skip

test_roots = table(
    "EN 1993-1-9:2005, 7.1 and 8", FROM_MEMORY,
    row("0.737 of class 36 at 5e6 cycles", "welded.root.damage", "1.00 -", 0.01, "0.737 to the third power", n=5e6,
        d_sigma=0.737 * 36.0, d_tau=0.0, gamma=1.0),
    row("0.457 of class 80 in shear at 1e8 cycles", "welded.root.damage", "1.00 -", 0.01, "0.457 to the fifth power", n=1e8,
        d_sigma=0.0, d_tau=0.4574 * 80.0, gamma=1.0),
)  # fmt: skip

test_bolted = table(
    "EN 1993-1-8, VDI 2230-1, Shigley and statics: bolted joints", BY_HAND,
    hand("round hole, slot at 60 mm, 500 N at 90 mm: the slot", "bolted.slots.slotted_shear", "500 * 90 / 60", "N",
        read=lambda f: f[1, 1], Fx=0.0, Fy=500.0, x=90.0, y=0.0, **HOLES),
    hand("bolt of 300 and 400 N held by 1 kN", "bolted.slots.slip_use", "sqrt(300**2 + 400**2) / 1e3", "-",
        V=np.array([[300.0, 400.0]]), F_s=1e3),
    hand("α_A = 1.6", "bolted.slots.tightening_scatter", "0.6 / 2.6", "-", alpha_A=1.6),
    hand("M8 in 9 mm", "bolted.slots.shift_at_slip", "9 - 8", "mm", D_h=9.0, d=8.0),
    hand("two such bolts 40 mm apart", "bolted.slots.turn_at_slip", "(1 + 1) / 40", "rad", x_1=1.0, x_2=1.0, L=40.0),
    hand("split ring pulled at its own radius: P = δ E I/(3 π R³), δ = π c", "bolted.split_clamp.closing_force",
        "pi * 0.05 * 85.05e6 / (3 * pi * 15.5**3)", "N", c=0.05, EI=85.05e6, R=15.5, e=15.5),
    hand("its closure", "bolted.split_clamp.slit_closure", "pi * 0.05", "mm", c=0.05, R=15.5, e=15.5),
    hand("two bolts of 9 kN, 25 % and 500 N short, 4 kN to close", "bolted.split_clamp.least_grip",
        "2 * (9e3 * 0.75 - 500) - 4e3", "N", F_i=9e3, n=2.0, scatter=0.25, loss=500.0, F_c=4e3),
    hand("20 kN under a face of 13 on a hole of 9", "bolted.split_clamp.head_pressure", "20e3 / (pi / 4 * (13**2 - 9**2))",
        "MPa", F=20e3, d_w=13.0, d_h=9.0),
    hand("M10, μ 0.1, face 12.5", "bolted.jam_nut.held_share", HELD, "-", mu=0.1, D_b=12.5, **M10),
    hand("the same at 40 N m, 25 % short", "bolted.jam_nut.torque_held", f"40e3 * 0.75 * {HELD}", "N*mm", T=40e3, mu=0.1,
        D_b=12.5, scatter=0.25, **M10),
    hand("its bite at that friction, 10 % short", "bolted.jam_nut.least_bite", f"0.9 * 40e3 / (4.513 * {UP} + 0.1 * 6.25)",
        "N",
        T=40e3, mu_most=0.1, D_b=12.5, scatter=0.1, **M10),
    hand("loose, 5 kN in the link", "bolted.jam_nut.torque_held_loose", f"5e3 * 4.513 * {DOWN}", "N*mm", P=5e3, mu=0.1,
        **M10),
    hand("3 kN and 20 N m on M10", "bolted.threads_loaded.moment_as_pull", "3e3 + 20e3 * (9.026 / 2) / (pi * (9.026 / 2)**3) "
        "* 2 * pi * (9.026 / 2)", "N", N=3e3, M=20e3, d2=9.026),
    hand("2.5 mm of thread in 8", "bolted.threads_loaded.bearing_thickness", "8 - 2.5", "mm", t=8.0, x=2.5),
)  # fmt: skip

test_pinned = table(
    "Roloff/Matek, ch. 9, Shigley, Table A-9, and statics: pins, bolts and balls", BY_HAND,
    hand("peg: F (6 l + 4 s)/(d s²)", "pinned.stop_pin.mouth_pressure", "1e3 * (6 * 25 + 4 * 15) / (10 * 15**2)", "MPa",
        V=1e3,
        h=25.0, d=10.0, L=15.0),
    hand("peg, other end: F (6 l + 2 s)/(d s²)", "pinned.stop_pin.bottom_pressure", "1e3 * (6 * 25 + 2 * 15) / (10 * 15**2)",
        "MPa", V=1e3, h=25.0, d=10.0, L=15.0),
    hand("flush load: V L (1/6 − 1/54)", "pinned.stop_pin.buried_moment", "1e3 * 15 * (1 / 6 - 1 / 54)", "N*mm", V=1e3, h=0.0,
        L=15.0),
    hand("case 2: end deflection of a load at a", "pinned.stop_pin.closing_load", "0.2 * 6 * 41.2e6 / (7**2 * (3 * 17 - 7))",
        "N", c=0.2, s=7.0, w=17.0, EI=41.2e6),
    hand("case 11: fixed and propped, 3 F l/16", "pinned.stop_pin.one_ear_moment", "3 * 6e3 * 24 / 16", "N*mm", V=6e3, c=0.0,
        s=12.0, w=24.0, EI=41.2e6),
    hand("case 11: prop, 5 F/16", "pinned.stop_pin.far_ear_load", "5 * 6e3 / 16", "N", V=6e3, c=0.0, s=12.0, w=24.0,
        EI=41.2e6),
    hand("6 kN across and 0.5 along of 20 kN", "pinned.rated_ball.rated_use", "6 / 20 + 0.5 / 2", "-", F_r=6e3, F_a=500.0,
        C_0=20e3),
    hand("8 kN on a ball of 19, μ 0.2", "pinned.ball_friction.friction_moment", "0.2 * 8e3 * 19 / 2", "N*mm", F=8e3, d=19.0,
        mu=0.2),
    hand("its shank of 8.16", "pinned.ball_friction.shank_amplitude", "15.2e3 / (pi * 8.16**3 / 32)", "MPa", M=15.2e3,
        d3=8.16),
    hand("its bung of 18 on M10", "pinned.ball_friction.housing_amplitude", "15.2e3 * 9 / (pi / 64 * (18**4 - 10**4))", "MPa",
        M=15.2e3, D=18.0, d=10.0),
)  # fmt: skip

test_welded = table(
    "EN 1993-1-9, 5 (6), Table 8.5, and the IIW's recommendations: weld roots", BY_HAND,
    hand("leg of 5", "welded.root.fillet_throat", "5 * cos(45 * deg)", "mm", h=5.0),
    hand("60 and 80 N/mm across, 50 along, throat 4", "welded.root.transverse_range", "sqrt(60**2 + 80**2) / 4", "MPa",
        q=np.array([60.0, 50.0, 80.0]), along=np.array([0.0, 1.0, 0.0]), a=4.0),
    hand("along", "welded.root.along_range", "50 / 4", "MPa", q=np.array([60.0, 50.0, 80.0]), along=np.array([0.0, 1.0, 0.0]),
        a=4.0),
    hand("one fillet of 4, 3 mm beside", "welded.root.one_sided_range", "60 / 4 + 60 * 3 / (4**2 / 6)", "MPa", q=60.0, a=4.0,
        e=3.0),
    hand("eq. 8.3 at 20 and 50 MPa, γ 1.35", "welded.root.use_at_two_million", "(1.35 * 20 / 36)**3 + (1.35 * 50 / 80)**5",
        "-",
        d_sigma=20.0, d_tau=50.0),
    hand("aluminium, 1e5 cycles at 18 and 30 MPa", "welded.root.damage_aluminium",
        "1e5 / 2e6 * (18 / 12)**3 + 1e5 / 2e6 * (30 / 28)**5", "-", n=1e5, d_sigma=18.0, d_tau=30.0, gamma=1.0),
    hand("IIW: 6 of 12 and 7 of 28, out of step", "welded.root.use_iiw", "((6 / 12)**2 + (7 / 28)**2) / 0.5", "-",
        d_sigma=6.0,
        d_tau=7.0, C_sigma=12.0, C_tau=28.0, gamma=1.0),
)  # fmt: skip

test_walls = table(
    "EN 1993-1-8:2005, Tables 7.2 to 7.5 and 7.10 to 7.14: walls of tubes", BY_HAND,
    hand("k_p at n = 0.6", "welded.tube_wall.chord_factor", "1 - 0.3 * 0.6 * 1.6", "-", n=0.6),
    hand("S420", "welded.tube_wall.high_yield_factor", "0.9", "-", f_y=420.0),
    hand("plate of 40 along 38 by 2", "welded.tube_wall.longitudinal_plate_moment",
        "0.8 * 40 * 5 * 350 * 2**2 * (1 + 0.25 * 40 / 38)", "N*mm", h=40.0, **TUBE),
    hand("plate of 40, bent sideways", "welded.tube_wall.sideways_plate_moment", "2 * 40 * 350 * 2**2 / 4", "N*mm", t0=2.0,
        L=40.0, f_y=350.0),
    hand("plate of 20 across", "welded.tube_wall.transverse_plate_pull", "350 * 2**2 * 5 / (1 - 0.81 * 20 / 38)", "N", b=20.0,
        **TUBE),
    hand("the same, rocked", "welded.tube_wall.transverse_plate_moment", "0.5 * 20 * 350 * 2**2 * 5 / (1 - 0.81 * 20 / 38)",
        "N*mm", b=20.0, **TUBE),
    hand("plate of 5 on a wall of 2", "welded.tube_wall.punching_stress", "2 * 2 * 350 / sqrt(3) / 5", "MPa", t0=2.0, t1=5.0,
        f_y=350.0),
    hand("post of 15", "welded.tube_wall.post_pull", "350 * 2**2 * 5.2 / (1 - 0.81 * 15 / 38)", "N", d1=15.0, **TUBE),
    hand("post of 15, rocked along", "welded.tube_wall.post_moment_along", "15**2 * 2 * 350 / sqrt(3)", "N*mm", d1=15.0,
        **TUBE),
    hand("post of 15, rocked across", "welded.tube_wall.post_moment_across", "2.7 * 350 * 2**2 * 15 / (1 - 0.81 * 15 / 38)",
        "N*mm", d1=15.0, **TUBE),
    hand("2 of 8 kN and 50 of 100 N m", "welded.tube_wall.wall_use", "2 / 8 + 50 / 100", "-", N=2e3, N_R=8e3, M_i=5e4,
        M_iR=1e5),
    hand("k_m at n = 0.5", "welded.box_wall.chord_factor_plate", "1.3 * 0.5", "-", n=0.5),
    hand("a round tube on a face of 20 walls", "welded.tube_joint.face_peak", "7.5 * 13.5 * 43.5 / (57 * 3)", "-", b0=60.0,
         t0=3.0, d1=30.0, t1=3.0),
    hand("a tube 30 along and 19 across 38 by 2", "welded.box_end.round_pull", "350 * 2**2 * 5 / (1 - 0.81 * 0.5) * (1 + 7.5 / 38)",
        "N", b=19.0, h=30.0, **TUBE),
    hand("the same, rocked along", "welded.box_end.round_moment_along", "30 * 350 * 2**2 * 5 / (1 - 0.81 * 0.5)", "N*mm",
        b=19.0, h=30.0, **TUBE),
    hand("the same, rocked across", "welded.box_end.round_moment_across",
        "9.5 * 350 * 2**2 * 5 / (1 - 0.81 * 0.5) * (1 + 7.5 / 38)", "N*mm", b=19.0, h=30.0, **TUBE),
    hand("a rectangular tube at 5.8 of a round one", "welded.box_end.round_peak", "1.5 * 5.8 * sqrt(30 / 20)", "-", k_r=5.8,
        b=20.0, h=30.0, c=1.5),
    hand("k_n at n = 0.5, β 0.5", "welded.box_wall.chord_factor_post", "1.3 - 0.4 * 0.5 / 0.5", "-", n=0.5, beta=0.5),
    hand("tab of 40 by 5 on 40 by 2", "welded.box_wall.face_pull", "350 * 2**2 / 0.875 * (2 * 40 / 40 + 4 * sqrt(0.875))",
        "N",
        **FACE),
    hand("the same, rocked along", "welded.box_wall.face_moment_along",
        "350 * 2**2 * 40 * (1 / 2 + 2 / sqrt(0.875) + 1 / 0.875)",
        "N*mm", **FACE),
    hand("the same, rocked across", "welded.box_wall.face_moment_across",
        "350 * 2**2 * (40 * 1.125 / (2 * 0.875) + sqrt(2 * 40 * 5 * 1.125 / 0.875))", "N*mm", **FACE),
    hand("plate of 30 by 5 across 40 by 2", "welded.box_wall.transverse_plate_pull", "350 * 2**2 * (2 + 2.8 * 0.75) / "
        "sqrt(1 - 0.9 * 0.75)", "N", b=30.0, t1=5.0, b0=40.0, t0=2.0, f_y=350.0),
)  # fmt: skip

BEND = {"R": 76.0, "D": 25.4, "t": 1.65}
H = "(1.65 * 76 / 11.875**2)"

test_bends = table(
    "ASME B31.1, appendix D, and BPVC III, NB-3683.7: bends of tubes", BY_HAND,
    hand("25.4 by 1.65 to 76, turning", "section.bent_tube.flexibility", f"1.65 / {H}", "-", **BEND),
    hand("the same, flattened", "section.bent_tube.collapse_index", f"1.30 / {H}**(2 / 3)", "-", **BEND),
    hand("the same, its peak", "section.bent_tube.peak_index", f"1.95 / {H}**(2 / 3)", "-", **BEND),
    hand("38 by 2 to 40, as a butt weld", "section.bent_tube.weld_index", "0.9 / (2 * 40 / 18**2)**(2 / 3)", "-", R=40.0,
        D=38.0, t=2.0),
    hand("its outside", "section.bent_tube.outer_wall", "1.65 * 76 / (76 + 12.7)", "mm", **BEND),
    hand("30 by 2, 10 % oval", "section.bent_tube.flattened_modulus", "0.9 * pi * (30**4 - 26**4) / (32 * 30)", "mm^3",
        D=30.0, t=2.0, o=0.1),
    hand("1 kN and 50 N m", "section.bent_tube.indexed_stress", "1000 / 100 + 1.4 * 50e3 / 500", "MPa", N=1e3, M=5e4,
        A=100.0, W=500.0, B=1.4),
)  # fmt: skip

test_seats = table(
    "ISO 76, Lamé and statics: seats of bearings", BY_HAND,
    hand("30 N m on a circle of 39", "bearings.moment.moment_as_axial", "5 * 30e3 / 39", "N", M=30e3, D_pw=39.0),
    hand("and 1 kN across", "bearings.moment.static_equivalent", "1e3 + 0.5 * 5 * 30e3 / 39", "N", F_r=1e3, F_a=0.0, M=30e3,
        D_pw=39.0),
    hand("the worst of 9 balls", "bearings.moment.largest_ball_load",
        "5 * 1e3 / (9 * cos(asin(0.4))) + 5 * 30e3 / (39 * 9 * 0.4)",
        "N", F_r=1e3, F_a=0.0, M=30e3, D_pw=39.0, Z=9.0, alpha=float(np.arcsin(0.4))),
    hand("20.015 in 20.002, 20 K warmer in aluminium", "bearings.axial.least_interference", "0.013 - 11.9e-6 * 20.002 * 20",
        "mm",
        D_min=20.015, B_max=20.002, alpha_o=23.6e-6, alpha_i=11.7e-6, dT=20.0),
    hand("solid steel of 20 in aluminium of 40, 0.02 tight", "bearings.axial.press_only_force",
        "pi * 20 * 12 * 0.08 * 0.02 / (20 * ((2000 / 1200 + 0.33) / 70e3 + (1 - 0.29) / 205e3))", "N", delta=0.02,
        d=20.0,
        L=12.0, mu=0.08, D_o=40.0, E_o=70e3, nu_o=0.33, E_i=205e3, nu_i=0.29),
    hand("land of 2 on a groove of 42 at 138 MPa", "bearings.axial.land_shear_load", "pi * 42 * 2 * 138", "N", d_g=42.0, n=2.0,
        tau=138.0),
    hand("weaker of 0.83 and 0.80 at 100 °C", "fatigue.temperature.least_factor", "0.80", "-", celsius=100.0, alloy="7075",
        condition="T6"),
)  # fmt: skip
