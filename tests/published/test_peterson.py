"""Stress concentration: charts and exact solutions in Peterson's book."""

from evidence import CLOSED_FORM, FROM_MEMORY, module, row, table

notch = module("fatigue.notch")
WIDE = 1e6  # mm: so wide that a notch of 1 mm sees a half plane
FIT = "a fit of the exact curve"

test_charts = table(
    "Peterson, Stress Concentration Factors", FROM_MEMORY,
    row("Ling: semicircular notch in the edge of a half plane", "fatigue.notch.flat_notch", "3.065 -", D=WIDE, d=WIDE - 2.0,
        r=1.0),
    row("chart 5.1: end-milled keyseat in bending, r/d = 1/48", "fatigue.notch.keyseat", "2.14 -", 0.02, "a fit of the chart",
        d=48.0, r=1.0, load="bending"),
)  # fmt: skip

test_exact = table(
    "Peterson, Stress Concentration Factors: exact solutions", CLOSED_FORM,
    row("Kirsch: hole in a plate pulled one way, 3", "fatigue.notch.hole_in_plate", "3 -", 1e-9, "exact", beta=0.0),
    row("Kirsch: hole in a plate in pure shear, 4", "fatigue.notch.hole_in_plate", "4 -", 1e-9, "exact", beta=-1.0),
    row("Kirsch: hole in a plate pulled both ways, 2", "fatigue.notch.hole_in_plate", "2 -", 1e-9, "exact", beta=1.0),
    row("shallow semicircular groove in torsion, 1 + √(h/r)", "fatigue.notch.round_groove", "2.000 -", 1e-3,
        "coefficients to three decimals",
        D=WIDE, d=WIDE - 2.0, r=1.0, load="torsion"),
    row("round hole in a bar in torsion: pure shear, 4", "fatigue.notch.round_bar_hole", "4.0 -", 0.01,
        "a fit of Roark's at a small hole", a=1.0, D=1e5, load="torsion"),
)  # fmt: skip
