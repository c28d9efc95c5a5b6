"""Boresi and Schmidt, Advanced Mechanics of Materials: worked examples."""

from evidence import COMPANIONS, LOOKED_UP, module, row, table

figures, torsion = module("section.figures"), module("section.torsion")
FIT = {"E_o": 200e3, "nu_o": 0.29, "E_i": 200e3, "nu_i": 0.29}

test_examples = table(
    "Boresi and Schmidt, Advanced Mechanics of Materials", LOOKED_UP,
    row("example 6.1, p. 205: tube of 50 by 44 mm", "shafts.torsion_bar.shear_stress", "50.89 MPa", T="500 N*m", d=50.0, d_i=44.0),
    row("example 6.1: twist of a metre", "shafts.torsion_bar.twist", "0.0264 rad", T="500 N*m", d=50.0, L=1000.0, G=77e3, d_i=44.0),
    row("example 6.8, p. 227: rectangle of 60 by 40 mm", "section.torsion.torsion", "51.86 MPa", 2e-3,
        "its factor is printed to three figures",
        work=lambda: 1150e3 * torsion.torsion(figures.rectangle(60.0, 40.0)).stress),
    row("example 11.1, p. 397: hoop stress at the bore", "shafts.press_fit.hub_hoop_stress", "325.00 MPa", p=300.0, d=20.0,
        D_o=100.0),
    row("example 11.3, p. 398: pressure of the shrink fit", "shafts.press_fit.contact_pressure", "188.97 MPa", 5e-3,
        "the example works the inner cylinder at its radius of 25.072", delta=0.144, d=50.0, D_o=100.0, d_i=20.0,
        **FIT),
    row("example 11.3: bore of the inner cylinder", "shafts.press_fit.shaft_hoop_stress", "-449.92 MPa", 1e-4,
        "from a pressure printed to five figures",
        p=188.97, d=50.0, d_i=20.0),
    row("example 11.3: bore of the outer cylinder", "shafts.press_fit.hub_hoop_stress", "314.94 MPa", 1e-4,
        "from a pressure printed to five figures",
        p=188.97, d=50.0, D_o=100.0),
    row("example 11.4, p. 403: yield needed at 1.75 times 300 MPa", "shafts.press_fit.hub_equivalent_stress", "947.47 MPa",
        p=525.0, d=20.0, D_o=100.0),
    row("example 11.8, p. 415: disc of 600 by 200 mm that yields at 620 MPa", "shafts.spline.hub_centrifugal_tension",
        "620 MPa",
        omega="1020.77 rad/s", D_o=600.0, D_i=200.0, density=7.85e-6, nu=0.29),
    row("example 14.3, p. 529: shouldered beam, 200 to 100 mm, r = 10", "fatigue.notch.flat_fillet", "1.77 -", 0.09,
        "Roark's fit lies above the chart of the book, on the safe side",
        D=200.0, d=100.0, r=10.0, load="bending"),
    via=COMPANIONS,
)  # fmt: skip
