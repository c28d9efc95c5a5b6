"""Plates that buckle or bend round a boss, arms that topple, ears that sway: printed numbers and closed forms."""

import math

from evidence import BY_HAND, CLOSED_FORM, FROM_MEMORY, LOOKED_UP, hand, row, table

E = 205_000.0

test_popov = table(
    "Popov, Engineering Mechanics of Solids, problem 11-65: P = 4.013 √(B_1 C)/L²",
    LOOKED_UP,
    row(
        "B_1 = C = 1, L = 1",
        "columns.lateral.end_load_buckling",
        "4.013 N",
        EI_z=1.0,
        GJ=1.0,
        L=1.0,
    ),
    via="a student's answers on Numerade that repeat the problem",
)

test_plate_buckling = table(
    "EN 1993-1-5, annex A and equation (10.6): E = 210 000, t = 10, panel 2000 x 1000 mm, σ = 100, τ = 50",
    LOOKED_UP,
    row("critical compression along 2000", "plates.panel.held_buckling_stress", "75.920033855 MPa",
        E=210_000.0, t=10.0, a=2000.0, b=1000.0),
    row("critical shear", "plates.panel.shear_buckling_stress", "120.333253659 MPa", E=210_000.0, t=10.0, a=2000.0, b=1000.0),
    row("both together, 1/1.437297259411460", "plates.panel.panel_reserve", f"{1.0 / 1.437297259411460:.9f} -",
        R_c=100.0 / 75.920033855, R_s=50.0 / 120.333253659),
    via="the hand values of a public plate checker's tests",
)  # fmt: skip

test_roark = table(
    "Roark's Formulas for Stress and Strain, Table 11.2, trunnion, edge simply supported: σ = β M/(a t²)",
    FROM_MEMORY,
    row("b/a = 0.10", "plates.boss.trunnion_stress", "9.475 MPa", 1e-3, "the last printed figure is uncertain",
        M=1.0, t=1.0, d=0.2, a=1.0),
    row("b/a = 0.15", "plates.boss.trunnion_stress", "6.256 MPa", 1e-3, "the last printed figure is uncertain",
        M=1.0, t=1.0, d=0.3, a=1.0),
)  # fmt: skip

test_timoshenko = table(
    "Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, table 3: σ = k P/h²",
    FROM_MEMORY,
    row("a/b = 2", "plates.boss.rigid_post_stress", "0.753 MPa", P=1.0, t=1.0, d=1.0, a=1.0),
    row("a/b = 5", "plates.boss.rigid_post_stress", "1.745 MPa", 1e-3, "the last printed figure is uncertain",
        P=1.0, t=1.0, d=0.4, a=1.0),
)  # fmt: skip

test_closed = table(
    "Timoshenko & Gere, Theory of Elastic Stability, 2nd ed.",
    CLOSED_FORM,
    row("an end far off the centroid only twists the arm: P h = GJ/L", "columns.lateral.end_load_buckling", "0.0225 N", 2e-3,
        "the limit of a long lever", EI_z=6e7, GJ=9e7, L=400.0, h=1e7),
    row("a short rigid link on the spring 3 EI/L³ of the ear: K = π √(L/(3 c))", "columns.sway.sway_length_factor",
        f"{1.05 * math.pi * math.sqrt(40.0 / 3.0 / 0.01):.6f} -", 1e-3, "the limit of a short link", L=40.0, c=0.01),
    row("cantilever under a push that keeps its direction: K = 2, times 1.05", "columns.sway.sway_length_factor", "2.1 -",
        L=40.0, c=1e12),
)  # fmt: skip

test_by_hand = table(
    "worked by hand from the formulas beside the methods",
    BY_HAND,
    hand("two ears 5 x 25, K L = 84, slender", "columns.sway.ear_push_load",
         "2 * 33750 * (1 - 33750 / (4 * pi**2 * 72400 * 25 * 125 / 12 / 84**2))", "N",
         E=72_400.0, t=5.0, w=25.0, L=40.0, K=2.1, F_cy=270.0),
    hand("corner plate 1.5 mm, legs 120 and 160", "plates.panel.corner_buckling_stress",
         "pi**2 * 205000 * 2.25 / 10.92 * (0.45 / 40000 + 0.507 / 9216)", "MPa", E=E, t=1.5, a=120.0, b=160.0),
    hand("the same sheared along its legs", "plates.panel.corner_shear_buckling_stress",
         "pi**2 * 205000 * 2.25 / 10.92 * (0.45 / 40000 + 0.507 / 9216) * 120 * 160 / 40000", "MPa",
         E=E, t=1.5, a=120.0, b=160.0),
    hand("elastic buckling at 0.8 of yield", "plates.panel.panel_strength", "300 * (1 - 300 / (4 * 240))", "MPa",
         F_e=240.0, F=300.0),
    hand("boss of 20 mm bored 8.5, shear at 12 mm", "plates.boss.boss_root_bending",
         "32 * 12000 * 20 / (pi * (20**4 - 8.5**4))", "MPa", V=1e3, h=12.0, d=20.0, d_i=8.5),
    hand("fillet of 2 mm on a plate of 8", "plates.boss.boss_fillet_factor", "1.95 * 4**0.55 * 0.4**0.2", "-",
         t=8.0, d=20.0, r=2.0),
    hand("moment along a plate 60 x 8", "plates.boss.boss_bending_stress",
         "50e3 / 64 * (6.3 / 60 + 4 / (20 * pi) * (1 - 4 / 49 * (1.3 + 0.7 / 49) / (6.6 + 1.4 / 2401)))",
         "MPa", M=5e4, t=8.0, d=20.0, W=60.0, a=70.0),
    hand("moment across an endless plate of that width", "plates.boss.boss_twist_stress",
         "50e3 / 64 * (1.18 * (3 + 1.8 * 8 / 60) / 60 + 6 / (20 * pi) * (1 - 1 / 3) * 20 / 26)",
         "MPa", M=5e4, T=5e4, t=8.0, d=20.0, W=60.0, a=1e9),
    hand("all of them, and 2 kN in the plane", "plates.boss.beside_boss_stress",
        "100.0 + 20.0 + 30.0 + 2000 / (20 * 8)", "MPa", along=100.0, across=20.0, square=30.0, V=2000.0, t=8.0, d=20.0),
    hand("a bar of 160 N m turns a boss of 40 in 12 mm", "plates.boss.boss_turning_stress",
         "3**0.5 * 2 * 160e3 / (pi * 40**2 * 12)", "MPa", T=160e3, t=12.0, d=40.0),
    hand("force of 1 kN, 14 mm from the boss's middle", "plates.boss.boss_force_stress",
         "6 * 14000 / (60 * 64) + 0.107 * 1000 / 64 * (2 / 3) * 2.5**1.25", "MPa",
         F=1e3, M=14e3, t=8.0, d=20.0, W=60.0),
    hand("undercut 10 mm behind a floor of 6", "plates.floor.floor_multiplier",
         "1.12 + 0.48 * 1.4**1.2 * (10 / 6)**2.2 * 0.5 * 10**0.3333", "-",
         d=10.0, f=6.0, s=20.0, w=20.0, r=1.0, load="pull"),
    hand("square hub, a flat turned to the arm: across the ligament", "shafts.polygon_hub.corner_section_stress",
         "100 * 3.04 * 0.25**-0.053 * 0.2**-0.056 * 0.8**-0.572 * exp(0.128)", "MPa",
         hoop=100.0, n=4, AF=20.0, t_w=5.0, d_r=4.0, D=40.0, w=32.0, phi=0.0),
    hand("hexagon hub, a corner turned to the arm: peak on the relief", "shafts.polygon_hub.corner_peak_stress",
         "100 * 2.52 * 0.25**0.224 * 0.1**-0.476 * 0.8**-0.441 * exp(-0.025)", "MPa",
         hoop=100.0, n=6, AF=20.0, t_w=5.0, d_r=2.0, D=40.0, w=32.0, phi=math.pi / 6.0),
    hand("hub of 48 with a wall of 6, arm of 30: peak at its root", "shafts.thin_hub.root_factor",
         "0.51 * 8**1.268 * 0.625**0.993 * 2**-0.502 * 0.75 * 180 / 156", "-",
         h=6.0, w=30.0, t=13.0, b=26.0, L=180.0, D=48.0),
    hand("the same, pulled along its arm", "shafts.thin_hub.pull_factor", "0.26 * 8**1.69 * 0.625**0.21 * 2**-0.5", "-",
         h=6.0, w=30.0, t=13.0, b=26.0, D=48.0),
    hand("the same, its ring", "shafts.thin_hub.ring_stress", "10 * 0.94 * 8**1.104 * 0.625**-0.396", "MPa",
         stress=10.0, h=6.0, w=30.0, D=48.0),
)  # fmt: skip

test_bent_sheet = table(
    "DIN 6935, supplement 2: corrections for 90°, v = 2 (r + t) − l, as tables for metalworkers print them",
    FROM_MEMORY,
    row("r = 1, t = 1: v = 1.9", "plates.sheet.bend_allowance", "2.1 mm", 0.02, "printed to 0.1 mm",
        a=math.pi / 2.0, r=1.0, t=1.0, k=0.65),
    row("r = 1.6, t = 1: v = 2.1", "plates.sheet.bend_allowance", "3.1 mm", 0.02, "printed to 0.1 mm",
        a=math.pi / 2.0, r=1.6, t=1.0, k=0.65 + 0.5 * math.log10(1.6)),
    row("r = 2.5, t = 1: v = 2.4", "plates.sheet.bend_allowance", "4.6 mm", 0.02, "printed to 0.1 mm",
        a=math.pi / 2.0, r=2.5, t=1.0, k=0.65 + 0.5 * math.log10(2.5)),
    row("r = 4, t = 2: v = 4.5", "plates.sheet.bend_allowance", "7.5 mm", 0.02, "printed to 0.1 mm",
        a=math.pi / 2.0, r=4.0, t=2.0, k=0.65 + 0.5 * math.log10(2.0)),
)  # fmt: skip

test_sheet = table(
    "Sheet at bends, roots and heads", BY_HAND,
    hand("r = 3, t = 2", "plates.sheet.neutral_factor", "0.65 + 0.5 * log(1.5) / log(10)", "-", r=3.0, t=2.0),
    hand("beyond five thicknesses the middle", "plates.sheet.neutral_factor", "1", "-", r=30.0, t=2.0),
    hand("a load 20 mm from the root, over 12 mm", "plates.sheet.spread_width", "12 + 20 / 0.509", "mm", a=20.0, d=12.0,
         w=80.0),
    hand("the collar of an M6 rivet nut", "plates.sheet.collar_load", "6 * 235 * 1 * sqrt(8 * 1)", "N", D=8.0, t=1.0,
         S_y=235.0),
    hand("an M6 head through 1.5 mm", "plates.sheet.pull_through_load", "0.6 * pi * 9.6 * 1.5 * 360", "N", d_m=9.6, t=1.5,
         F_u=360.0),
)  # fmt: skip

STRIP = 60.0**3 / (3.0 * 205e6 * 30.0 * 27.0 / 12.0)
test_shaken = table(
    "Rao, Mechanical Vibrations, sections 2.2, 3.6 and 8.2",
    CLOSED_FORM,
    row("0.5 kg on a cantilever of 60, 30 wide and 3 thick: √(3 E I/(m L³))/2π", "vibration.shaken.natural_frequency",
        f"{math.sqrt(1.0 / (STRIP * 0.5)) / (2.0 * math.pi):.6f} Hz", cm=STRIP * 0.5),
    row("a bare cantilever by 3.516 √(E I/(μ L⁴))", "vibration.shaken.natural_frequency",
        f"{3.516 / (2.0 * math.pi):.6f} Hz", 0.02, "Dunkerley's bound lies 1.5 % below", cm=1.0 / 12.0),
    row("far above resonance no more than at its peak, 1/(2 ζ) for small ζ", "vibration.shaken.amplification", "25 -", 1e-3,
        "ζ is small, not nothing", f=1e4, f_n=100.0, zeta=0.02),
    row("half the natural frequency, no damping: 1/(1 − 1/4)", "vibration.shaken.amplification",
        f"{4.0 / 3.0:.6f} -", 1e-5, "a trace of damping", f=50.0, f_n=100.0, zeta=1e-4),
    row("second order at 6000 a minute", "vibration.shaken.order_frequency", "200 Hz", o=2.0, n=6000.0),
)  # fmt: skip
