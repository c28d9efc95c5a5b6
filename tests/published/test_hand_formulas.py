"""Formulas of statics, geometry and beam theory, each worked by hand with its own numbers."""

import numpy as np
from evidence import BY_HAND, FROM_MEMORY, hand, module, row, table

BEAM = "Beer, Johnston and DeWolf, Mechanics of Materials: stresses in bars and beams"
TUBE = {"N": 2e3, "V": 1e3, "M": 50e3, "T": 80e3}

test_bars = table(
    BEAM, BY_HAND,
    hand("tube of 25 by 2 mm: A 144.51, W 768.9", "section.bar.round_tube_stress",
        "sqrt((2e3 / 144.51 + 50e3 / 768.9)**2 + 3 * (80e3 / (2 * 768.9) + 2 * 1e3 / 144.51)**2)", "MPa",
         A=144.51, W=768.9, **TUBE),
    hand("3 kN and 1 + 2 + 3 kN mm on 100 mm² and 200 mm³", "columns.link.pushed_and_bent_stress",
        "3e3 / 100 + 6e3 / 200",
        "MPa", P=3e3, A=100.0, M_1=1e3, M_2=2e3, W=200.0, M_3=3e3),
    hand("moments in one plane", "columns.link.moments_together", "1.2e3 + 0.8e3", "N*mm", M_1=1200.0, M_2=800.0),
    hand("4 kN and 20 N m on an edge of 6 by 40 mm", "plates.plate.edge_stress",
        "4e3 / (6 * 40) + 20e3 / (6 * 40**2 / 6)",
        "MPa", P=4e3, M=20e3, t=6.0, d=40.0),
    hand("ear of 20 by 6, 15 long: 5 kN along and 300 N across", "pinned.ear.root_stress",
        "5e3 / (20 * 6) + 300 * 15 / (20 * 6**2 / 6)", "MPa", P=5e3, V=300.0, L=15.0, w=20.0, t=6.0),
    hand("8 kN between ears at 10 and 30 mm", "pinned.ear.load_share", "8e3 * 30 / (10 + 30)", "N", P=8e3, a=10.0,
        b=30.0),
    hand("inertia: 0.5 kg/m at 20 g", "columns.column.inertia_load", "0.0005 * 9.80665 * 20", "N/mm", m=0.0005, n=20.0),
)  # fmt: skip

test_welds = table(
    "Budynas and Nisbett, Shigley's Mechanical Engineering Design, chapter 9, and AISC 360, J2", BY_HAND,
    hand("tube of 25 by 2 mm butt welded: A 144.51, I 9628.2", "welded.weld.tube_butt_stress",
         "sqrt((2e3 / (pi * 23 * 2) + 50e3 * 12.5 / (pi / 64 * (25**4 - 21**4)))**2 "
         "+ 3 * (80e3 * 12.5 / (pi / 32 * (25**4 - 21**4)) + 2 * 1e3 / (pi * 23 * 2))**2)", "MPa",
         D=25.0, t=2.0, **TUBE),
    hand("fillet around 25 mm: 2πr, πr² and 2πr²", "welded.weld.tube_fillet_force",
         "sqrt((2e3 / (2 * pi * 12.5) + 50e3 / (pi * 12.5**2))**2 + (1e3 / (pi * 12.5) "
         "+ 80e3 / (2 * pi * 12.5**2))**2)", "N/mm", D=25.0, **TUBE),
    hand("300 and 400 N/mm on a leg of 5", "welded.weld.leg_stress", "500 / 5", "MPa", q=np.array([300.0, 400.0, 0.0]),
        h=5.0),
    hand("plug of 16 mm in 5 mm plate at 200 MPa", "welded.weld.plug_capacity", "200 * pi / 4 * 16**2", "N", D=16.0,
        t=5.0,
        tau=200.0),
    hand("EN 1993-1-8, 4.5.3.2: 300 along, 400 across, throat 4", "welded.weld.directional_stress",
        "sqrt((400 / sqrt(2) / 4)**2 + 3 * ((400 / sqrt(2) / 4)**2 + (300 / 4)**2))", "MPa",
         q=np.array([300.0, 0.0, 400.0]), along=np.array([1.0, 0.0, 0.0]), normal=np.array([0.0, 0.0, 1.0]), a=4.0),
    hand("Blodgett 7.4: three sides of 5, 10 and 5 in", "welded.line.length", "5 + 10 + 5", "-",
         path=module("welded.line").polyline([[5.0, 0.0], [0.0, 0.0], [0.0, 10.0], [5.0, 10.0]])),
)  # fmt: skip

FATIGUE = "Dowling, Mechanical Behavior of Materials"

test_fatigue = table(
    FATIGUE, BY_HAND,
    hand("Palmgren and Miner: 1e4 of 5e4 and 2e5 of 1e6", "fatigue.mean_stress.damage", "1e4 / 5e4 + 2e5 / 1e6", "-",
        n=np.array([1e4, 2e5]), N=np.array([5e4, 1e6])),
    hand("Peterson's length at 690 MPa", "fatigue.sensitivity.peterson_length", "0.0254 * (2070 / 690)**1.8", "mm",
        S_ut=690.0),
    hand("Peterson's q at r = 1.5 mm", "fatigue.sensitivity.peterson", "1 / (1 + 0.184 / 1.5)", "-", a=0.184, r=1.5),
)  # fmt: skip

test_shigley = table(
    "Budynas and Nisbett, Shigley's Mechanical Engineering Design, chapter 6: equations", BY_HAND,
    hand("eq. 6-25: flat of 10 by 40 mm", "fatigue.life.equivalent_diameter", "0.808 * sqrt(10 * 40)", "mm", h=10.0,
        b=40.0),
)  # fmt: skip

test_norton = table(
    "Norton, Machine Design", FROM_MEMORY,
    row("eq. 6.5c: aluminium of 200 MPa", "fatigue.life.aluminium_strength", "80 MPa", S_ut=200.0),
    row("eq. 6.5c: aluminium of 480 MPa", "fatigue.life.aluminium_strength", "130 MPa", S_ut=480.0),
)  # fmt: skip

test_fits = table(
    "Timoshenko, Strength of Materials, part II, 3rd ed.: thick cylinders and thermal expansion", BY_HAND,
    hand("bore of 10 in a ring of 20 under 40 MPa outside", "shafts.press_fit.bore_change",
        "-2 * 40 * 20**2 * 10 / (200e3 * (20**2 - 10**2))", "mm", p=40.0, d=20.0, d_i=10.0, E=200e3),
    hand("aluminium on steel, 30 mm, 60 K: 0.030 left of", "shafts.press_fit.interference_at_temperature",
        "0.030 - 11e-6 * 30 * 60", "mm",
         delta=0.030, d=30.0, alpha_o=23e-6, alpha_i=12e-6, dT=60.0),
    hand("DIN 7190-1: Rz 6.3 and 4 µm", "shafts.press_fit.effective_interference", "0.040 - 0.8 * (0.0063 + 0.004)",
        "mm",
        delta=0.040, Rz_o=0.0063, Rz_i=0.004),
    hand("50 µm of anodise, half of it outside", "shafts.press_fit.bore_change_by_coating", "-2 * 0.5 * 0.050", "mm",
        t=0.050,
        g=0.5),
)  # fmt: skip

DUDLEY = "Dudley, When Splines Need Stress Control, Product Engineering (1957)"
TEETH = {"T": 300e3, "D": 25.0, "N": 48.0, "L_e": 25.0}

test_splines = table(
    DUDLEY, BY_HAND,
    hand("48 teeth on 25 mm: tooth thickness", "shafts.spline.tooth_thickness", "pi * 25 / (2 * 48)", "mm", D=25.0,
        N=48.0),
    hand("300 N m: shear of the teeth", "shafts.spline.tooth_shear_stress", "4 * 300e3 / (25 * 48 * 25 * 0.818)", "MPa",
        t=0.818, **TEETH),
    hand("300 N m: flanks of a fixed spline", "shafts.spline.flank_pressure_fixed",
        "2 * 300e3 / (9 * 25 * 48 * 25 * 0.4)",
        "MPa", h=0.4, **TEETH),
    hand("300 N m: shaft under the teeth, K_a 1.5", "shafts.spline.root_shear_stress",
        "16 * 300e3 * 24 * 1.5 / (pi * 24**4)",
        "MPa", T=300e3, D_re=24.0, K_a=1.5),
    hand("300 N m: hub wall of 6, 25 long, 30°", "shafts.spline.hub_radial_tension",
        "300e3 * tan(30 * deg) / (pi * 25 * 6 * 25)", "MPa", T=300e3, D=25.0, t_w=6.0, L=25.0, phi="30 deg"),
    hand("300 N m: tooth as a beam, Y 1.5", "shafts.spline.tooth_beam_tension", "4 * 300e3 / (25**2 * 25 * 1.5)", "MPa",
        T=300e3, D=25.0, L_e=25.0),
    hand("bursting: 1.5 (14.7 + 51.2) + 3", "shafts.spline.bursting_stress", "1.5 * (14.7 + 51.2) + 3", "MPa", s_1=14.7,
        s_3=51.2, s_2=3.0, K_a=1.5),
)  # fmt: skip

test_clamps = table(
    "statics of a clamp on a hinge and of flats", BY_HAND,
    hand("flat of 17 mm across a hexagon", "shafts.flats.flat_width", "17 * tan(30 * deg)", "mm", AF=17.0, n=6.0),
    hand("triangle of pressure: n s² L p/12 makes 60 N m", "shafts.flats.flats_pressure",
        "12 * 60e3 / (6 * 9.815**2 * 20)",
        "MPa", T=60e3, s=9.815, L=20.0, n=6.0),
    hand("ring that holds the flats' forces 3T/(n s) as a pressure", "shafts.flats.flats_hoop_stress",
        "3 * 60e3 / (9.815 * 2 * pi * 20 * 5)", "MPa", T=60e3, s=9.815, L=20.0, t_w=5.0),
    hand("bolt 12 from the hinge's far side, 20 to the bar", "bolted.pinch.pinch_force", "8e3 * (20 + 12) / 20", "N",
        F=8e3,
        a=20.0, e=12.0),
    hand("800 N and 20 N m on 24 mm: the pressure of that much less theirs at one end is nil", "bolted.pinch.lifting_force", "800 + 24 * 6 * 20e3 / 24**2", "N", V=800.0, M=20e3, w=24.0),
    hand("6 N m and 640 N along 25 mm slide at the rim by 480 and 640 N, two halves at 0.15; 5.8 kN lift one",
        "bolted.pinch.grip_needed", "(480**2 + 640**2)**0.5 / 2 / 0.15 + 5.8e3", "N", T=6e3, A=640.0, D=25.0, mu=0.15,
        L=5.8e3),
    hand("two lines at 12.8 kN, 25 mm, 0.15", "bolted.pinch.clamp_torque", "2 * 0.15 * 12.8e3 * 12.5", "N*mm", N=12.8e3,
        D=25.0, mu=0.15),
    hand("hinge of 6 by 20 mm, 20 from the bar", "bolted.pinch.hinge_tension", "8e3 * 12 / 20 / (6 * 20)", "MPa", F=8e3,
        e=12.0, a=20.0, h=6.0, L=20.0),
    hand("locked thread: 9 kN on 4 kN of preload", "columns.link.left_by_preload", "9e3 - 4e3", "N", F_0=9e3, F_j=4e3),
    hand("FAA AC 43.13-1B, 7: grip of 20 on a shank of 18", "pinned.pin.thread_in_grip", "20 - 18", "mm", grip=20.0,
        shank=18.0),
)  # fmt: skip

SHANK = {"d3": 8.16, "sigma": 400.0}

test_rod_ends = table(
    "ISO 12240-4: rod ends, strength of materials on its dimensions", BY_HAND,
    hand("head of 28 by 10.5 round a ball of 19.05", "pinned.rod_end.head_area_flat", "10.5 * (28 - 19.05)", "mm^2",
        D=28.0,
        T=10.5, K=19.05),
    hand("the same head turned round, less the slot", "pinned.rod_end.head_area_round",
        "28**2 / 2 * asin(10.5 / 28) + 10.5 / 2 * sqrt(28**2 - 10.5**2) - 19.05 * 10.5", "mm^2", D=28.0, T=10.5,
        K=19.05),
    hand("93.975 mm² at 300 MPa", "pinned.rod_end.head_capacity", "300 * 93.975", "N", A=93.975, sigma=300.0),
    hand("ball of 19.05 in 10.5 of race at 150 MPa", "pinned.rod_end.race_capacity", "150 * 19.05 * 10.5", "N", E=19.05,
        T=10.5,
        p=150.0),
    hand("M10 shank at its root", "pinned.rod_end.shank_capacity", "400 * pi / 4 * 8.16**2", "N", **SHANK),
    hand("M10 shank: 5 kN and 200 N at 30 mm", "pinned.rod_end.shank_stress",
        "5e3 / (pi / 4 * 8.16**2) + 200 * 30 / (pi / 32 * 8.16**3)", "MPa", N=5e3, V=200.0, L=30.0, d3=8.16),
    hand("M10 shank pulled 2° off, 30 mm out", "pinned.rod_end.misaligned_capacity",
        "400 / (cos(2 * deg) / (pi / 4 * 8.16**2) + 30 * sin(2 * deg) / (pi / 32 * 8.16**3))", "N",
         beta="2 deg", L=30.0, **SHANK),
    hand("square corner: head of 28 by 10.5 between ears 14 apart", "pinned.rod_end.swing_between_ears_square",
        "asin(14 / sqrt(28**2 + 10.5**2)) - atan(10.5 / 28)", "rad", G=14.0, T=10.5, D=28.0),
    hand("long ears: the form of the tables", "pinned.rod_end.swing_between_ears", "asin(14 / 28) - asin(10.5 / 28)",
        "rad",
        G=14.0, T=10.5, D=28.0),
    hand("ears of radius 9 on a head of 25.4 by 10.3, gap 14", "pinned.rod_end.swing_at_ear_rim",
        "atan(14 / 18) - asin(10.3 / (2 * sqrt(9**2 + 7**2)))", "rad", G=14.0, T=10.3, D=25.4, R=9.0),
)  # fmt: skip

WHOLE = "printed to whole degrees"

test_swing = table(
    "ISO 12240-4, series K (DIN 648 K): angle of tilt", FROM_MEMORY,
    row("size 6: ball 12.7, widths 9 and 6.75", "pinned.rod_end.swing_at_shoulder", "13 deg", 0.04, WHOLE,
        S=(12.7**2 - 81.0) ** 0.5, T=6.75, E=12.7),
    row("size 10: ball 19.05, widths 14 and 10.5", "pinned.rod_end.swing_at_shoulder", "14 deg", 0.04, WHOLE,
        S=(19.05**2 - 196.0) ** 0.5, T=10.5, E=19.05),
    row("size 12: ball 22.225, widths 16 and 12", "pinned.rod_end.swing_at_shoulder", "13 deg", 0.04, WHOLE,
        S=(22.225**2 - 256.0) ** 0.5, T=12.0, E=22.225),
)  # fmt: skip
