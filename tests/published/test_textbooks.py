"""Books with a few examples each."""

from evidence import COMPANIONS, LOOKED_UP, module, row, table

fatigue, sensitivity = module("fatigue.life"), module("fatigue.sensitivity")
PSI = 6.894757e-3

test_dieter = table(
    "Dieter, Mechanical Metallurgy", LOOKED_UP,
    row("example 12.4, p. 404: stress at a cross hole", "fatigue.sensitivity.kuhn_hardrath", "33658.4 psi", 1e-5,
        "M D/2I is rounded",
        work=lambda: 16297.466 * PSI * sensitivity.kuhn_hardrath(2.2, 0.02 * 25.4**0.5, 0.025 * 25.4)),
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
    row("example 4.10, p. 116: biaxial stress, Goodman", "fatigue.mean_stress.goodman_factor", "5.04 -", s_a=25.0,
        s_m=65.383,
        S_e=280.0, S_ut=600.0),
    row("example 4.14, p. 121: 300 to -150 MPa at a factor of 1.5", "fatigue.mean_stress.goodman_factor", "1.5 -",
        s_a=225.0,
        s_m=75.0, S_e=393.75, S_ut=787.5),
    row("example 4.14: mean of the cycle", "fatigue.mean_stress.cycle_mean", "75 MPa", sigma=300.0, K_f=1.0, R=-0.5),
    row("example 4.14: amplitude of the cycle", "fatigue.mean_stress.cycle_amplitude", "225 MPa", sigma=300.0, K_f=1.0,
        R=-0.5),
    row("example 4.19, p. 124: plate of 12.5 mm by Soderberg", "fatigue.mean_stress.soderberg", "225 MPa", 0.01,
        "the thickness is printed to three figures",
        s_a=1.5 * 75.95e3 / (110 * 12.5), s_m=1.5 * 174.05e3 / (110 * 12.5), S_y=300.0),
    via=COMPANIONS,
)  # fmt: skip

test_hibbeler = table(
    "Hibbeler, Mechanics of Materials", LOOKED_UP,
    row("example 13.2, p. 668: braced column, weak axis", "columns.column.euler_load", "263 kip", E="29000 ksi",
        I_min="9.32 in^4", L="100.8 in"),
    via=COMPANIONS,
)  # fmt: skip

test_bhavikatti = table(
    "Bhavikatti, Strength of Materials", LOOKED_UP,
    row("example 8.17, p. 350: compound cylinder, 0.2 mm on 250 mm", "shafts.press_fit.assembly_temperature_rise",
        "66.67 K",
        delta=0.2, d=250.0, alpha=1.2e-5, clearance=0.0),
    via=COMPANIONS,
)  # fmt: skip
