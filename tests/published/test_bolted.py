"""Bolted joints worked by hand: VDI 2230, NASA-STD-5020A, AISC, Bhandari, and threads by H28 and Alexander."""

import numpy as np
from evidence import BY_HAND, FROM_MEMORY, LOOKED_UP, hand, module, row, table

boltgroup = module("bolted.group")
SQUARE = np.array([[-50.0, -50.0], [50.0, -50.0], [50.0, 50.0], [-50.0, 50.0]])
SHIGLEY = np.array([[-75.0, -60.0], [75.0, -60.0], [75.0, 60.0], [-75.0, 60.0]])

test_bhandari = table(
    "Bhandari, Design of Machine Elements", LOOKED_UP,
    row("example 7.8, p. 239: core area of a hanging bracket's bolt", "bolted.group.tension_about_edge",
        "455.284553 mm^2",
        read=lambda N: (10e3 + N[0]) / 75.0, h=np.array([450.0, 50.0]), M=20e3 * 550.0),
    row("example 7.9, p. 240: core area of a wall bracket's bolt", "bolted.group.tension_about_edge", "595.588235 mm^2",
        read=lambda N: (25e3 / 4 + N[-1]) / 50.0, h=np.array([50.0, 50.0, 200.0, 200.0]), M=25e3 * 400.0),
    via="the Scilab Textbook Companions of FOSSEE",
)  # fmt: skip

test_groups = table(
    "statics of a rigid plate on equal bolts, as in Shigley, chapter 8", BY_HAND,
    hand("centroid of 0, 0 and 90 mm with areas 1, 1 and 2", "bolted.group.centroid", "2 * 90 / 4", "mm",
        lambda c: c[0],
         xy=np.array([[0.0, 0.0], [0.0, 30.0], [90.0, 10.0]]), A=np.array([1.0, 1.0, 2.0])),
    hand("polar moment of example 8-7, unit areas", "bolted.group.polar_moment", "4 * (75**2 + 60**2)", "mm^4",
        xy=SHIGLEY),
    hand("four bolts at 50 mm: 8 kN and 1 kN m about x", "bolted.group.tension_about_centroid",
        "8e3 / 4 + 1e6 * 50 / (4 * 50**2)", "N", max,
         xy=SQUARE, Fz=8e3, Mx=1e6, My=0.0),
    hand("1 kN down, 60 mm off a pair 50 apart", "bolted.group.bolt_reactions", "1000 * 60 / 50", "N",
        lambda R: R[1, 2],
         xy=np.array([[0.0, -25.0], [0.0, 25.0]]), F=np.array([0.0, -1000.0, 0.0]), M=np.zeros(3),
         point=np.array([0.0, 0.0, 60.0])),
)  # fmt: skip

TEE = {"d": "0.75 in", "p": "4 in", "F_u": "58 ksi"}

test_prying = table(
    "AISC, Steel Construction Manual, part 9 (prying), and AISC 360-16", BY_HAND,
    hand("30 kip at b = 1.5 in, φ = 0.9: b' = 1.125 in", "bolted.plate.thickness_without_prying",
        "sqrt(4 * 30 * 1.125 / (0.9 * 4 * 58))", "in", T="30 kip", b="1.5 in", **TEE),
    hand("15 kip on 1/2 in: M_p 13.05, δ 0.796875, α 0.367816, ρ 0.692308", "bolted.plate.prying_force",
        "0.796875 * 0.3678161 * 0.6923077 * 13.05 / 1.125", "kip",
         T="15 kip", t="0.5 in", b="1.5 in", a="1.25 in", d_h="0.8125 in", **TEE),
    hand("bolt of 30 kip on 1/2 in: t_c² 0.646552, α' above 1", "bolted.plate.tee_capacity",
        "30 * 0.25 / 0.6465517 * (1 + 0.796875)", "kip",
         B="30 kip", t="0.5 in", b="1.5 in", a="1.25 in", d_h="0.8125 in", **TEE),
    hand("commentary J3.7: 0.6 of the tension and 0.8 of the shear", "bolted.plate.elliptical_use",
        "sqrt(0.6**2 + 0.8**2)", "-", T=6.0, V=8.0, T_u=10.0, V_u=10.0),
    hand("AASHTO LRFD 6.14.2.8: free edge of 10 mm at 250 MPa", "plates.plate.free_edge_limit",
        "2.06 * 10 * sqrt(200e3 / 250)", "mm", E=200e3, F_y=250.0, t=10.0),
)  # fmt: skip

M10 = {"p": 1.5, "d2": 9.026, "mu_t": 0.12}

test_vdi = table(
    "VDI 2230-1", BY_HAND,
    hand("eq. R9: M10 rolled before heat treatment", "bolted.fatigue.endurance_rolled_before", "0.85 * (150 / 10 + 45)",
        "MPa", d=10.0),
    hand("eq. R9: M10 rolled after, mean at 0.6 of the limit", "bolted.fatigue.endurance_rolled_after",
        "0.85 * (150 / 10 + 45) * (2 - 0.6)", "MPa", d=10.0, F_m=6.0, F_p=10.0),
    hand("amplitude of that bolt, 58 mm², a fifth of the load", "pinned.rod_end.thread_amplitude_capacity",
        "51 * 58 / 0.2",
        "N", A_s=58.0, sigma_A=51.0, C=0.2),
    hand("cone of a through bolt, β = 2.5 and y = 2.5", "bolted.stiffness.cone_tangent",
        "0.362 + 0.032 * log(2.5 / 2) + 0.153 * log(2.5)", "-", L=40.0, d_w=16.0, D_A=40.0),
    hand("two sleeves of one cone: M10, 40 long, head 16, hole 11, part of 24: D_K = 24",
        "bolted.stiffness.narrow_member_stiffness",
         "pi * 200e3 / (2 / (11 * 0.4311766) * log((16 + 11) * (24 - 11) / ((16 - 11) * (24 + 11))) "
         "+ 4 * (40 - (24 - 16) / 0.4311766) / (24**2 - 11**2))", "N/mm", lambda k: k, E=200e3, L=40.0, d_w=16.0,
         d_h=11.0, D_A=24.0),
    hand("10 kN on a ring from 13 to 34 mm at 0.08", "bolted.joint.face_friction",
        "0.08 * 10e3 * (34**3 - 13**3) / (3 * (34**2 - 13**2))", "N*mm", F=10e3, mu=0.08, D=34.0, d=13.0),
    hand("M10 tapped in aluminium", "bolted.stiffness.tapped_hole_stiffness", "71e3 * pi * 10**2 / 4 / (0.33 * 10)",
        "N/mm", E=71e3, d=10.0),
    hand("11 µm of embedding, 400 and 1200 N/µm", "bolted.joint.embedding_loss", "11 * 400 * 1200 / (400 + 1200)", "N",
        f_z=0.011, k_b=400e3, k_m=1200e3),
    hand("aluminium of 30 mm on a steel bolt, 80 K colder", "bolted.joint.contraction", "(23e-6 - 12e-6) * 80 * 30", "mm",
        fall=80.0, alpha_m=23e-6, alpha_b=12e-6, L=30.0),
    hand("the same, 400 and 1200 N/µm", "bolted.joint.embedding_loss", "26.4 * 400 * 1200 / (400 + 1200)", "N",
        f_z=0.0, k_b=400e3, k_m=1200e3, f_T=0.0264),
    hand("ring 30 by 12 under 2 kN and 90 N m, half of it repeated", "bolted.joint.closing_preload",
        "0.5 * (2e3 + 90e3 / (pi / 32 * (30**4 - 12**4) / 30) * pi / 4 * (30**2 - 12**2))", "N",
        N=2e3, M=90e3, D=30.0, d=12.0, s=0.5),
    hand("slip of 10 kN at 0.12 on two faces", "bolted.joint.slip_load", "0.12 * 10e3 * 2", "N", F=10e3, mu=0.12,
        m=2.0),
)  # fmt: skip

test_vdi_table = table(
    "VDI 2230-1, table A1: M10 8.8, μ = 0.12 is tightened to 29.6 kN at 90 % of 640 MPa", FROM_MEMORY,
    row("stress while tightening", "bolted.tightening.tightening_stress", "576 MPa", 0.09,
        "VDI counts torsion as plastic, ours as elastic, on the safe side", F=29.6e3, A_s=58.0, **M10),
)  # fmt: skip

test_nasa = table(
    "NASA-STD-5020A", BY_HAND,
    hand("least preload: 10 kN, 25 %, loss 0.5 kN, four bolts", "bolted.joint.least_preload",
        "10e3 * (1 - 0.25 / sqrt(4)) - 500", "N", F=10e3, scatter=0.25, loss=500.0, n=4.0),
    hand("greatest preload: 10 kN, 25 %", "bolted.joint.greatest_preload", "10e3 * 1.25", "N", F=10e3, scatter=0.25),
    hand("thread in the shear plane: 0.6 of tension leaves (1 - 0.36)^(1/1.2)", "bolted.plate.spaceflight_use",
        "((1 - 0.6**2)**(1 / 1.2))**1.2 + 0.6**2", "-",
         T=0.6, V=(1 - 0.6**2) ** (1 / 1.2), T_u=1.0, V_u=1.0),
    hand("shank in the shear plane: 0.6 of tension leaves (1 - 0.6^1.5)^(1/2.5)", "bolted.plate.spaceflight_use",
        "((1 - 0.6**1.5)**(1 / 2.5))**2.5 + 0.6**1.5", "-",
         T=0.6, V=(1 - 0.6**1.5) ** (1 / 2.5), T_u=1.0, V_u=1.0, thread=False),
)  # fmt: skip

test_joints = table(
    "Budynas and Nisbett, Shigley's Mechanical Engineering Design, chapter 8: equations", BY_HAND,
    hand("eq. 8-25: clamp left of example 8-4", "bolted.joint.clamp_force", "14.4 - (1 - 0.368) * 6", "kip",
        F_i="14.4 kip",
        P="6 kip", C=0.368),
    hand("eq. 8-30: preload against opening, factor 1.5", "bolted.joint.jam_preload_needed", "5e3 * (1 - 0.2) * 1.5",
        "N",
        P=5e3, C=0.2, s=1.5),
    hand("eq. 8-26 with the lead reversed, M10: tan λ = 1.5/(π 9.026)", "bolted.tightening.loosening_torque",
         "10e3 * (4.513 * (0.12 / cos(30 * deg) - 1.5 / (pi * 9.026)) / (1 "
         "+ 0.12 * 1.5 / (pi * 9.026) / cos(30 * deg)) + 0.12 * 13 / 2)", "N*mm",
         F=10e3, mu_b=0.12, D_b=13.0, **M10),
)  # fmt: skip

test_threads = table(
    "FED-STD-H28/2B and ASME B1.1, appendix B: thread strength", BY_HAND,
    hand("1/4-20, 2A, over 100 ksi: least pitch diameter 0.2127 in", "bolted.thread.stress_area_unified_strong",
        "pi * (0.2127 / 2 - 0.16237976 / 20)**2", "in^2", d2_min="0.2127 in", p="0.05 in"),
    hand("M10 outside, 10 mm: three quarters of π D1 L, of which 0.7", "bolted.stripping.external_strip_area_basic",
        "0.7 * 0.75 * pi * (10 - 1.0825318 * 1.5) * 10", "mm^2", d=10.0, p=1.5, L_e=10.0),
    hand("M10 inside, 10 mm: seven eighths of π d L, of which 0.7", "bolted.stripping.internal_strip_area_basic",
        "0.7 * 0.875 * pi * 10 * 10", "mm^2", d=10.0, L_e=10.0),
    hand("150 mm² at 300 MPa, C1 0.9 and C 0.85", "bolted.stripping.strip_capacity", "0.9 * 0.85 * 300 * 150", "N",
        A=150.0,
        tau=300.0, C1=0.9, C=0.85),
    hand("58 mm² at 800 MPa on the weaker of 14 mm at 300 and 19 mm at 180 MPa",
        "bolted.stripping.engagement_for_bolt_break",
        "800 * 58 / (19 * 180)", "mm",
         A_s=58.0, R_m=800.0, a_ext=14.0, tau_ext=300.0, a_int=19.0, tau_int=180.0),
    hand("M10, 15 mm deep at 180 MPa in a boss of 16 mm", "bolted.stripping.boss_strip_capacity",
        "(3.8 * 1.6 - 1.6**2 - 2.61) * 180 * 0.7 * 0.875 * pi * 10 * 15", "N",
         d=10.0, L_e=15.0, tau=180.0, D_o=16.0),
    hand("the same with an insert, 11.9486 mm outside, in a boss of 24 mm", "bolted.stripping.boss_strip_capacity_insert",
        "180 * 0.7 * 0.875 * pi * 11.9485572 * 15", "N",
         d=10.0, p=1.5, L_e=15.0, tau=180.0, D_o=24.0),
)  # fmt: skip

test_alexander = table(
    "Alexander, SAE 770420 (1977): factors of thread strength", BY_HAND,
    hand("swelling of 1.6 diameters", "bolted.stripping.dilation_factor", "3.8 * 1.6 - 1.6**2 - 2.61", "-", D_o=16.0,
        d=10.0),
    hand("strength ratio of 150 mm² at 180 and 120 mm² at 300 MPa", "bolted.stripping.strip_strength_ratio",
        "150 * 180 / (120 * 300)", "-", A_int=150.0, tau_int=180.0, A_ext=120.0, tau_ext=300.0),
    hand("bending of the nut at R = 0.75", "bolted.stripping.internal_bending_factor",
        "0.728 + 1.769 * 0.75 - 2.896 * 0.75**2 + 1.296 * 0.75**3", "-", R=0.75),
    hand("bending of the bolt at R = 1.2", "bolted.stripping.external_bending_factor",
        "5.594 - 13.682 * 1.2 + 14.107 * 1.2**2 - 6.057 * 1.2**3 + 0.9353 * 1.2**4", "-", R=1.2),
)  # fmt: skip
