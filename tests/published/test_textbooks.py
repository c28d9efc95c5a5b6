"""Books with a few examples each."""

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
