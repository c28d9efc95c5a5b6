"""Budynas and Nisbett, Shigley's Mechanical Engineering Design, 9th ed.: worked examples."""

import numpy as np
from evidence import FROM_MEMORY, module, row, table

boltgroup, boltstiffness, fatigue = (
    module("bolted.group"),
    module("bolted.stiffness"),
    module("fatigue.life"),
)
boltfatigue, joint, sensitivity = (
    module("bolted.fatigue"),
    module("bolted.joint"),
    module("fatigue.sensitivity"),
)
weld, weldline = module("welded.weld"), module("welded.line")
BOOK = "Budynas and Nisbett, Shigley's Mechanical Engineering Design, 9th ed."
MIB = 1e6 * 4.4482216152605 / 25.4  # N/mm in a Mlbf/in
ROUNDED = "the book rounds on the way"

# Example 8-2: 0.595 in of steel on 0.75 in of iron; the cones meet in the middle of the 1.345 in grip.
BELOW = 0.75 + 2.0 * 0.595 / np.sqrt(3.0)
# Example 8-5: 5/8-11 cap screw, 0.6875 in of steel over iron, 1 in of grip, cones meeting at 0.5 in.
FACE = 1.5 * 0.625
# Example 8-7: four bolts on 150 by 120 mm, 16 kN at 425 mm from their middle.
FOUR = np.array([[-75.0, -60.0], [75.0, -60.0], [75.0, 60.0], [-75.0, 60.0]])
# Example 9-1: 6 mm fillet along three sides of 56 by 190 mm, 25 kN a weld, 100 mm off the long side.
CHANNEL = weldline.polyline([[56.0, 0.0], [0.0, 0.0], [0.0, 190.0], [56.0, 190.0]])
# Example 9-4: two 2 in fillets of 3/8 in, 500 lbf at 6 in.
PAIR = weldline.line([0.0, 0.0], [0.0, 50.8]) + weldline.line([9.525, 0.0], [9.525, 50.8])
BAR = {"s_a": "8.38 ksi", "s_m": "8.38 ksi"}


def cones(*parts):
    """Frusta in series [N/mm]: (E in Mpsi, hole, small end, thickness in inches)."""
    each = [boltstiffness.frustum_stiffness(*p) * MIB for p in parts]
    return boltstiffness.series_stiffness(each)


def cap_screw():
    wide = FACE + 2.0 * 0.3125 / np.sqrt(3.0)
    return cones((30, 0.625, FACE, 0.5), (30, 0.625, wide, 0.1875), (16, 0.625, FACE, 0.3125))


def eccentric_bolts(which):
    return np.linalg.norm(boltgroup.elastic_shear(FOUR, 0.0, -16e3, 425.0, 0.0)[which])


def channel(station):
    q = weld.line_force(CHANNEL, np.array([0, -25e3, 0.0]), np.zeros(3), np.array([-100, 95.0, 0]))
    return weld.throat_stress(q, 6.0)[station]


def cantilever():
    load, at = np.array([0.0, -500 * 4.4482216, 0.0]), np.array([9.525 / 2, 25.4, 152.4])
    return weld.throat_stress(weld.line_force(PAIR, load, np.zeros(3), at), 0.375 * 25.4).max()


def axial_limit():
    S = 49 * 6.894757
    k_e = fatigue.reliability_factor(fatigue.reliability_z(99))
    k_a = fatigue.surface_factor(S, "machined or cold-drawn")
    return fatigue.endurance_limit(fatigue.specimen_limit(S), k_a=k_a, k_c=0.85, k_e=k_e)


test_bolts = table(
    BOOK, FROM_MEMORY,
    row("example 8-2 (a): upper frustum, steel", "bolted.stiffness.frustum_stiffness", "30.80 Mlbf/in",
        work=lambda: cones((30, 0.5, 0.75, 0.595))),
    row("example 8-2 (a): members of steel and iron", "bolted.stiffness.series_stiffness", "9.378 Mlbf/in",
        work=lambda: cones((30, 0.5, 0.75, 0.595), (14.5, 0.5, BELOW, 0.0775), (14.5, 0.5, 0.75, 0.6725))),
    row("example 8-2 (b): both plates of steel", "bolted.stiffness.member_stiffness", "14.64 Mlbf/in",
        E="30 Msi", d="0.5 in", L="1.345 in"),
    row("example 8-3 (a): stiffness constant", "bolted.joint.load_share", "0.320 -", k_b=6.50, k_m=13.8),
    row("example 8-3 (a): service stress", "bolted.joint.bolt_force", "72.17 ksi",
        work=lambda: joint.bolt_force(25.0, 6.0, 0.320) / 0.373 * 6.894757),
    row("example 8-3 (b): torque, eq. 8-26, friction 0.15", "bolted.tightening.tightening_torque", "3551 lbf*in", 3e-4, ROUNDED,
        F="25 kip", d2="0.70925 in", p="0.0625 in", mu_t=0.15, mu_b=0.15, D_b="0.9375 in"),
    row("example 8-3 (b): preload of that torque", "bolted.tightening.preload_by_friction", "25.0 kip",
        T="3551 lbf*in", d2="0.70925 in", p="0.0625 in", mu_t=0.15, mu_b=0.15, D_b="0.9375 in"),
    row("example 8-3 (b): torque, eq. 8-27, K = 0.2", "bolted.tightening.torque_by_nut_factor", "3750 lbf*in",
        F="25 kip", d="0.75 in", K=0.2),
    row("example 8-3 (b): preload of that torque, K = 0.2", "bolted.tightening.preload_by_nut_factor", "25.0 kip",
        T="3750 lbf*in", d="0.75 in", K=0.2),
    row("example 8-4 (b): factor against separation, 6 kip a bolt", "bolted.joint.separation_load", "3.80 -",
        work=lambda: joint.separation_load(14.4, 0.368) / 6.0),
    row("example 8-5: members", "bolted.stiffness.series_stiffness", "17.40 Mlbf/in", 4e-4, ROUNDED, work=cap_screw),
    row("example 8-5: screw threaded over the whole grip", "bolted.stiffness.bolt_stiffness", "6.78 Mlbf/in",
        A_d="0.3068 in^2", l_d=0.0, A_t="0.226 in^2", l_t="1 in", E="30 Msi"),
    row("example 8-5: alternating stress, 0 to 5 kip", "bolted.fatigue.bolt_amplitude", "3.10 ksi",
        work=lambda: 6.894757 * boltfatigue.bolt_amplitude(
            14.4, 5.0, 0.0, joint.load_share(6.78, cap_screw() / MIB), 0.226)),
    row("example 8-5 (a): Goodman factor", "bolted.fatigue.goodman_amplitude", "2.44 -",
        work=lambda: boltfatigue.goodman_amplitude(18.6, 120.0, 63.72) / 3.10),
    row("example 8-7: bolts A and B", "bolted.group.elastic_shear", "21.0 kN", work=lambda: eccentric_bolts(1)),
    row("example 8-7: bolts C and D", "bolted.group.elastic_shear", "14.8 kN", work=lambda: eccentric_bolts(0)),
    row("table 8-16: cut threads of SAE grade 2 (380 MPa)", "bolted.fatigue.thread_fatigue_factor", "2.8 -",
        S_ut=510.0, made="cut"),
    row("table 8-16: rolled threads of SAE grade 5 and up", "bolted.fatigue.thread_fatigue_factor", "3.0 -",
        S_ut=830.0, made="rolled"),
)  # fmt: skip

METRIC = "the metric form rounds 1.2427 to 1.24, the book takes (d/7.62)^-0.107"

test_fatigue = table(
    BOOK, FROM_MEMORY,
    row("example 6-2: strength at 1e4 cycles", "fatigue.life.strength_at", "64.6 ksi",
        N=1e4, S_ut="90 ksi", S_e="45 ksi", f=0.86),
    row("example 6-2: life at 55 ksi", "fatigue.life.cycles_at", "77500 cycles", 0.01,
        "the exponent is rounded to three figures",
        sigma="55 ksi", S_ut="90 ksi", S_e="45 ksi", f=0.86),
    row("figure 6-18: fraction f of 90 ksi", "fatigue.life.strength_fraction", "0.86 -", 0.01,
        "a figure read to two decimals",
        S_ut="90 ksi"),
    row("example 6-3: machined, 520 MPa", "fatigue.life.surface_factor", "0.860 -",
        S_ut=520.0, finish="machined or cold-drawn"),
    row("example 6-4: rotating shaft of 32 mm", "fatigue.life.size_factor", "0.858 -", 4e-3, METRIC, d=32.0),
    row("example 6-4: shaft of 32 mm that does not turn", "fatigue.life.size_factor", "0.954 -", 4e-3, METRIC,
        work=lambda: fatigue.size_factor(fatigue.equivalent_diameter_round(32.0))),
    row("example 6-4: equivalent diameter of that shaft", "fatigue.life.equivalent_diameter_round", "11.84 mm", d=32.0),
    row("table 6-5: 99 per cent", "fatigue.life.reliability_factor", "0.814 -", z=2.326),
    row("example 6-6: K_f of the shoulder, q 0.84", "fatigue.sensitivity.fatigue_factor", "1.55 -", K_t=1.65, q=0.84),
    row("example 6-6: K_t of the shoulder, chart A-15-9", "fatigue.notch.round_fillet", "1.65 -", 0.01,
        "a chart beside Roark's fit",
        D=38.0, d=32.0, r=3.0, load="bending"),
    row("example 6-8: endurance limit of a machined bar, axial", "fatigue.life.endurance_limit", "16.3 ksi",
        work=axial_limit),
    row("example 6-8: its strength at 7e4 cycles", "fatigue.life.strength_at", "23.9 ksi",
        N=7e4, S_ut="49 ksi", S_e="16.3 ksi", f=0.9),
    row("example 6-8: limit of the specimen", "fatigue.life.specimen_limit", "24.5 ksi", S_ut="49 ksi"),
)  # fmt: skip

test_welds_and_columns = table(
    BOOK, FROM_MEMORY,
    row("example 9-1: polar second moment of the throat", "welded.line.unit_inertia", "7.07e6 mm^4",
        work=lambda: weldline.unit_inertia(CHANNEL)[2, 2] * 6.0 / np.sqrt(2.0)),
    row("example 9-1: centroid behind the long side", "welded.line.centroid", "10.4 mm", read=lambda c: c[0],
        path=CHANNEL),
    row("example 9-1: points A and B", "welded.weld.throat_stress", "37.0 MPa", 5e-3, ROUNDED, work=lambda: channel(0)),
    row("example 9-1: points C and D", "welded.weld.throat_stress", "43.9 MPa", 5e-3, ROUNDED, work=lambda: channel(2)),
    row("example 9-4: cantilever on two fillets", "welded.weld.line_force", "8.51 ksi", 2e-3, ROUNDED, work=cantilever),
    row("8th ed., example 4-17: round column", "columns.column.euler_load", "88 kN",
        E=207e3, I_min=np.pi / 64 * 37.48**4, L=1500.0),
)  # fmt: skip

ESTIMATE = "an estimate lowered to 0.78, to lie below published ratings"

test_bearings = table(
    BOOK, FROM_MEMORY,
    *(row(f"table 11-2, 02 series, bore {d:g}", "bearings.ball_bearing.generic_dynamic_rating", f"{C} kN", 0.3, ESTIMATE, d=d, D=D)
      for d, D, C in ((10.0, 30.0, "5.07"), (17.0, 40.0, "9.56"), (25.0, 52.0, "14.0"), (40.0, 80.0, "30.7"))),
    *(row(f"table 11-2, 02 series, bore {d:g}", "bearings.ball_bearing.generic_static_rating", f"{C} kN", 0.3, ESTIMATE, d=d, D=D)
      for d, D, C in ((10.0, 30.0, "2.24"), (17.0, 40.0, "4.50"), (25.0, 52.0, "6.95"), (40.0, 80.0, "16.6"))),
)  # fmt: skip
