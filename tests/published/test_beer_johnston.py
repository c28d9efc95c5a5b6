"""Beer, Johnston and DeWolf, Mechanics of Materials: worked examples."""

import math

from evidence import COMPANIONS, LOOKED_UP, module, row, table

pin, spring = module("pinned.pin"), module("shafts.torsion_bar")


def geared_shafts():
    """Sample problem 3.3: twist of three shafts in a row."""
    parts = ((250e3, 30.0, 400.0, 0.0), (2250e3, 60.0, 200.0, 0.0), (2250e3, 60.0, 600.0, 44.0))
    return sum(spring.twist(T=T, d=d, L=L, G=77e3, d_i=d_i) for T, d, L, d_i in parts)


test_joints = table(
    "Beer, Johnston and DeWolf, Mechanics of Materials", LOOKED_UP,
    row("example 1.1 (a), p. 18: pin A", "pinned.pin.single_shear", "6790.6 psi", F="750 lbf", D="0.375 in"),
    row("example 1.1 (b): pin C", "pinned.pin.double_shear", "7639 psi", F="750 lbf", D="0.25 in"),
    row("example 1.1 (c): link at A", "pinned.lug.net_section_stress", "2286 psi", P="750 lbf", w="1.25 in", D_h="0.375 in",
        t="0.375 in"),
    row("example 1.1 (c): area of the link at A", "pinned.lug.net_area", "0.3281 in^2", 2e-4,
        "the example works with 3/8 (1.25 - 0.375)",
        w="1.25 in", D_h="0.375 in", t="0.375 in"),
    row("example 1.1 (e): bearing at C", "pinned.lug.bearing_stress", "6000 psi", P="375 lbf", D_p="0.25 in", t="0.25 in"),
    row("example 1.2, p. 19: bolt of 27.6 mm in double shear at 100 MPa", "pinned.pin.shear_load", "120 kN", D=27.6, F_s=100.0,
        n=2.0),
    row("example 1.2: bearing of the bolt", "pinned.lug.bearing_stress", "214 MPa", P="120 kN", D_p=28.0, t=20.0),
    row("example 1.2: end 62.3 mm wide at 175 MPa", "pinned.lug.net_section_load", "120 kN", w=62.3, D_h=28.0, t=20.0,
        F=175.0),
    row("example 1.2: bar 34.3 mm wide at 175 MPa", "plates.plate.plate_tension_load", "120 kN", w_n=34.3, t=20.0, F=175.0),
    row("example 1.4 (d), p. 35: bolt at C, 60/3 and 40/3 ksi", "pinned.pin.shear_load", "5.238 kip", 5e-4, "π taken as 22/7",
        D="0.5 in", F_s="13.33333 ksi", n=2.0),
    via=COMPANIONS,
)  # fmt: skip

test_torsion = table(
    "Beer, Johnston and DeWolf, Mechanics of Materials", LOOKED_UP,
    row("example 3.01, p. 150: hollow shaft", "shafts.torsion_bar.shear_stress", "120 MPa", T="4.084070 kN*m", d=60.0, d_i=40.0),
    row("example 3.02, p. 160: polar moment", "shafts.torsion_bar.polar_moment", "1.021e6 mm^4", d=60.0, d_i=40.0),
    row("example 3.02: torque for two degrees", "shafts.torsion_bar.torque_at_twist", "1.829 kN*m", 3e-4,
        "the moment is rounded to 1.021e-6 m^4",
        theta="2 deg", d=60.0, L=1500.0, G=77e3, d_i=40.0),
    row("example 3.02: the same by the rate", "shafts.torsion_bar.torsional_rate", "1.829 kN*m", 3e-4,
        "the moment is rounded to 1.021e-6 m^4",
        work=lambda: math.radians(2.0) * spring.torsional_rate(d=60.0, L=1500.0, G=77e3, d_i=40.0)),
    row("example 3.03: twist that shears the inner surface by 70 MPa", "shafts.torsion_bar.shear_stress_at_twist", "70.0 MPa",
        theta="3.906530 deg", d=40.0, L=1500.0, G=77e3),
    row("sample problem 3.3, p. 165: three shafts in a row", "shafts.torsion_bar.twist", "2.310 deg", 3e-4,
        "moments rounded to three figures", work=geared_shafts),
    via=COMPANIONS,
)  # fmt: skip

test_bending = table(
    "Beer, Johnston and DeWolf, Mechanics of Materials", LOOKED_UP,
    row("example 4.01, p. 232: bar of 0.8 by 2.5 in", "plates.plate.flat_bending_stress", "36 ksi", M="30 kip*in", b="0.8 in",
        t="2.5 in"),
    row("sample problem 4.1, p. 235: tube, I = 12.97 in^4", "section.bar.bending_stress", "20.0 ksi", M="103.76 kip*in",
        W="5.188 in^3"),
    row("sample problem 10.2, p. 654: critical load of the tube", "columns.column.euler_load", "62.1 kip", E="29 Msi",
        I_min="8.00 in^4", L="192 in"),
    row("sample problem 10.2: effective length of an 8 ft cantilever", "columns.column.effective_length", "192 in", L_0="96 in",
        K=2.0),
    row("sample problem 10.2 (b): tube loaded 0.75 in off", "columns.column.secant_stress", "21.98 ksi", 2.5e-3,
        "the radius of gyration is rounded to 1.50 in",
        P="31.1 kip", E="29 Msi", A="3.54 in^2", I_e="8.00 in^4", c="2.00 in", e="0.75 in", L="192 in"),
    via=COMPANIONS,
)  # fmt: skip
