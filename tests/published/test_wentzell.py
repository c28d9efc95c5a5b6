"""Wentzell, Machine Design: worked examples in inches and pounds."""

import math

from evidence import COMPANIONS, LBF, LOOKED_UP, PSI, module, row, table

column, joint, mean_stress = (
    module("columns.column"),
    module("bolted.joint"),
    module("fatigue.mean_stress"),
)
KSI = 1e3 * PSI
CHANNEL = {"E": "30 Msi", "A": "2.26 in^2", "I_min": "0.764 in^4", "L": "39 in", "F_cy": "36 ksi"}
DIAMETER = "the diameter is printed to three figures and cubed"


def cantilever(diameter):
    """Examples 5.2 and 5.3: mean and amplitude of 0 to 1000 lbf at 12 in, times the factor of 1.6 [MPa]."""
    return 1.6 * 6000.0 / (math.pi * diameter**3 / 32.0) * KSI / 1000.0


def vessel():
    studs, head = 10 * 0.9 * 120_000 * 1.073, 500 * math.pi * 20.0**2 / 4.0
    return joint.bolt_force(studs, head, joint.load_share(10 * 1.073, 50.0)) * LBF


test_examples = table(
    "Wentzell, Machine Design", LOOKED_UP,
    row("example 3.1, p. 41: bar of 1 in under 20 000 lbf", "section.bar.direct_stress", "25464.79 psi", F="20000 lbf",
        A="0.78539816 in^2"),
    row("example 3.2, p. 43: beam of 2 by 2 in", "section.bar.bending_stress", "20250 psi", M="27000 lbf*in",
        W="1.33333333 in^3"),
    row("example 3.2: the same as a flat", "plates.plate.flat_bending_stress", "20250 psi", M="27000 lbf*in", b="2 in",
        t="2 in"),
    row("example 3.4, p. 46: shaft of 1/2 in", "shafts.torsion_bar.shear_stress", "14667.72 psi", T="360 lbf*in", d="0.5 in"),
    row("example 3.5: link of 5/8 in", "columns.column.euler_load", "2464.16 lbf", E="30 Msi", I_min=math.pi / 64 * 15.875**4,
        L="30 in"),
    row("example 3.6: effective length, K = 0.65", "columns.column.effective_length", "39.00 in", L_0="60 in", K=0.65),
    row("example 3.6: twice the load at a factor of 2", "columns.column.johnson_euler_load", "70233 lbf", **CHANNEL),
    row("example 4.1, p. 66: column of 2 in, 2 in off", "section.bar.round_bar_stress", "28647.89 psi", F="10000 lbf",
        M="20000 lbf*in", T=0.0, D="2 in"),
    row("example 4.2, p. 67: pin under 800 and 600 lbf", "pinned.pin.single_shear", "5092.96 psi", F="1000 lbf", D="0.5 in"),
    row("example 5.3, p. 97: 1.65 in by Goodman, limit 28.9 ksi", "fatigue.mean_stress.goodman", "28.9 ksi", 0.015, DIAMETER,
        s_a=cantilever(1.65), s_m=cantilever(1.65), S_ut="90 ksi"),
    row("example 6.1, p. 120: torque of 3/4-10 at 85 % of proof", "bolted.tightening.torque_by_nut_factor", "3619.73 lbf*in",
        F="24131.5 lbf", d="0.75 in", K=0.2),
    row("example 6.4, p. 124: torque of a stud of 1 1/4 in", "bolted.tightening.torque_by_nut_factor", "21728.25 lbf*in",
        F="115884 lbf", d="1.25 in", K=0.15),
    row("example 6.4: load on ten studs under pressure", "bolted.joint.bolt_force", "1186593 lbf", work=vessel),
    row("example 8.6, p. 167: work of 4 in at 80.5 lbf/in", "shafts.torsion_bar.stored_energy", "644 lbf*in", k="80.5 lbf/in",
        theta="4 in"),
    row("example 15.2, p. 335: six splines, 0.81 in to 1 in, 2 in long", "shafts.spline.flank_pressure_flexible", "1000 psi",
        T="515.85 lbf*in", D="0.905 in", N=6.0, L_e="2 in", h="0.095 in"),
    via=COMPANIONS,
)  # fmt: skip
