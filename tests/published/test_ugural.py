"""Ugural and Fenster, Advanced Strength and Applied Elasticity: worked examples."""

from evidence import COMPANIONS, LOOKED_UP, row, table

FIT = {"E_o": 200e3, "nu_o": 0.3, "E_i": 200e3, "nu_i": 0.3}
SLOPE = {"S_3": 2160.0, "S_r": 800.0, "N_r": 1e8}

test_examples = table(
    "Ugural and Fenster, Advanced Strength and Applied Elasticity", LOOKED_UP,
    row("example 4.6, p. 112: amplitude by distortion energy", "fatigue.mean_stress.mises", "680.24 MPa", sigma=680.0,
        tau=10.5),
    row("example 4.6: reversed stress by Goodman", "fatigue.mean_stress.goodman", "804.25 MPa", s_a=680.243, s_m=370.048,
        S_ut=2400.0),
    row("example 4.6: reversed stress by Gerber", "fatigue.mean_stress.gerber", "696.81 MPa", s_a=680.243, s_m=370.048,
        S_ut=2400.0),
    row("example 4.6: life by Gerber", "fatigue.life.falling_cycles", "4.934e8 cycles", 5e-3, "the exponent is rounded",
        sigma=696.809, **SLOPE),
    row("example 4.6: strength at that life", "fatigue.life.falling_strength", "696.809 MPa", 5e-4,
        "the exponent is rounded", N=4.934e8, **SLOPE),
    row("example 8.1, p. 239: cylinder of 0.3 and 0.4 m under 70 MPa", "shafts.press_fit.hub_hoop_stress", "250 MPa", p=70.0,
        d=300.0, D_o=400.0),
    row("example 8.3, p. 243: fit of 0.1 mm on the radius of 200 mm", "shafts.press_fit.contact_pressure", "12.3 MPa",
        delta=0.2, d=400.0, D_o=500.0, d_i=300.0, **FIT),
    row("example 8.3: outer cylinder at the fit", "shafts.press_fit.hub_hoop_stress", "56.0333 MPa", p=12.3, d=400.0,
        D_o=500.0),
    row("example 8.3: inner cylinder at its bore", "shafts.press_fit.shaft_hoop_stress", "-56.2286 MPa", p=12.3, d=400.0,
        d_i=300.0),
    row("example 11.1, p. 319: strut of 50 by 100 mm, weak axis", "columns.column.euler_load", "285484.42 N", E=210e3,
        I_min=1.0416666667e6, L=2750.0),
    via=COMPANIONS,
)  # fmt: skip
