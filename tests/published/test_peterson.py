"""Stress concentration: charts and exact solutions in Peterson's book."""

from evidence import CLOSED_FORM, FROM_MEMORY, LOOKED_UP, module, row, table

notch = module("fatigue.notch")
WIDE = 1e6  # mm: so wide that a notch of 1 mm sees a half plane
READ_OFF = "read off two charts"
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
    row("Inglis: ellipse twice as long across the pull as wide, ρ = b²/a, 1 + 2 a/b = 5", "fatigue.notch.slot_in_plate",
        "5 -", 1e-9, "exact", a=10.0, rho=2.5),
    row("Kirsch: a slot as long as it is wide, 3", "fatigue.notch.slot_in_plate", "3 -", 1e-9, "exact", a=4.0, rho=4.0),
    row("shallow semicircular groove in torsion, 1 + √(h/r)", "fatigue.notch.round_groove", "2.000 -", 1e-3,
        "coefficients to three decimals",
        D=WIDE, d=WIDE - 2.0, r=1.0, load="torsion"),
    row("round hole in a bar in torsion: pure shear, 4", "fatigue.notch.round_bar_hole", "4.0 -", 0.01,
        "a fit of Roark's at a small hole", a=1.0, D=1e5, load="torsion"),
)  # fmt: skip

test_loaded_holes = table(
    "Niu, Airframe Structural Design, fig. 7.7.25: peak beside a loaded hole over the load on its diameter", LOOKED_UP,
    row("d/W = 0.3, 1.558 on d: 1.558 · 0.7/0.3 on the net section", "fatigue.notch.pin_lug", "3.635 -", 0.06, READ_OFF,
        d=12.0, W=40.0, c=50.0),
    row("d/W = 0.4, 1.976 on d: 1.976 · 0.6/0.4 on the net section", "fatigue.notch.pin_lug", "2.964 -", 0.03, READ_OFF,
        d=16.0, W=40.0, c=50.0),
    row("d/W = 0.5, 2.651 on d", "fatigue.notch.pin_lug", "2.651 -", 0.05, READ_OFF, d=20.0, W=40.0, c=50.0),
    row("d/W = 0.6, 3.572 on d: 3.572 · 0.4/0.6 on the net section", "fatigue.notch.pin_lug", "2.381 -", 0.05, READ_OFF,
        d=24.0, W=40.0, c=50.0),
    via="its curve as points in a public table",
)  # fmt: skip
