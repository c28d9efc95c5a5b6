"""Books with a few examples each."""

import numpy as np
from evidence import COMPANIONS, LOOKED_UP, module, row, table

fatigue, sensitivity = module("fatigue.life"), module("fatigue.sensitivity")
PSI = 6.894757e-3

test_dieter = table(
    "Dieter, Mechanical Metallurgy", LOOKED_UP,
    row("example 12.5, p. 422: fatigue limit at a notch", "fatigue.sensitivity.fatigue_factor", "14245.3 psi",
        work=lambda: fatigue.endurance_limit(42e3 * PSI, 0.9, 0.75, 0.81) / sensitivity.fatigue_factor(1.68, 0.9)),
    via=COMPANIONS,
)  # fmt: skip

test_singh = table(
    "Sadhu Singh, Machine Design I", LOOKED_UP,
    row("example 3.3, p. 64: link of 22.36 by 89.44 mm, 20 kN at 6 t", "plates.plate.edge_stress", "100 MPa", P="20 kN",
        M=20e3 * 6 * 22.36, t=22.36, d=89.44),
    row("example 7.3, p. 204: eight splines, 52 to 60 mm, 111 mm long", "shafts.spline.flank_pressure_flexible",
        "6.00 MPa",
        T="596.831 N*m", D=56.0, N=8.0, L_e=111.0, h=4.0),
    row("example 4.14: mean of the cycle", "fatigue.mean_stress.cycle_mean", "75 MPa", sigma=300.0, K_f=1.0, R=-0.5),
    row("example 4.14: amplitude of the cycle", "fatigue.mean_stress.cycle_amplitude", "225 MPa", sigma=300.0, K_f=1.0,
        R=-0.5),
    via=COMPANIONS,
)  # fmt: skip

test_hibbeler = table(
    "Hibbeler, Mechanics of Materials", LOOKED_UP,
    row("example 13.2, p. 668: braced column, weak axis", "columns.column.euler_load", "263 kip", E="29000 ksi",
        I_min="9.32 in^4", L="100.8 in"),
    via=COMPANIONS,
)  # fmt: skip

SQUARE = np.array([(x, y) for x in (-100.0, 100.0) for y in (-100.0, 100.0)])

test_public = table(
    "Solved examples in public notes and manuals", LOOKED_UP,
    row("lecture notes, bolts under eccentric load: 13.5 kN 250 mm beside a square of 200 mm, one bolt of four",
        "bolted.group.bolt_reactions", "8687.8 N", 1e-4, "from rounded parts",
        read=lambda each: np.hypot(each[..., 0], each[..., 1]).max(),
        xy=SQUARE, F=[0.0, -13.5e3, 0.0], M=[0.0, 0.0, 0.0], point=[250.0, 0.0, 0.0]),
    row("manual of a library for reliability, Palmgren and Miner: an hour of three loads on bearings",
        "fatigue.mean_stress.damage", "0.01351 %", n=[40.0 / 60.0, 15.0 / 60.0, 5.0 / 60.0], N=[50e3, 6500.0, 1000.0]),
    row("questions of plastic analysis: shape factor of a round", "pinned.pin.plastic_bending_factor", "1.7 -", D=10.0),
    row("the same: of a tube", "pinned.pin.plastic_bending_factor", "1.27 -", 5e-3, "of a thin one", D=10.0, d=9.99),
    row("school notes, springs of 2 and 3 N/m in series [N/m]", "shafts.torsion_bar.rate_in_series", "1.2 -", c_1=2.0,
        c_2=3.0),
)  # fmt: skip
