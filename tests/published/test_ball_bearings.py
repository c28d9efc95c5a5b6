"""Ball bearings: ISO 76 and ISO 281, and what lies inside real ones."""

from evidence import BY_HAND, CLOSED_FORM, FROM_MEMORY, LOOKED_UP, hand, row, table

DATA = "6203 and 6205: balls by the Bearing Data Center of Case Western Reserve University, ratings of the trade"
REAL = {"D_w": 7.94, "D_pw": 39.04, "Z": 9.0}  # 6205


def f_c(gamma, groove=0.52):
    """Harris's closed form for balls, both grooves alike, times the 0.089 · ... of ISO in N and mm."""
    ratio = (1.0 - gamma) / (1.0 + gamma)
    return (
        39.9
        * (1.0 + (1.04 * ratio**1.72) ** (10.0 / 3.0)) ** -0.3
        * gamma**0.3 * (1.0 - gamma) ** 1.39 / (1.0 + gamma) ** (1.0 / 3.0)
        * (2.0 * groove / (2.0 * groove - 1.0)) ** 0.41
    )  # fmt: skip


test_inside = table(
    DATA, FROM_MEMORY,
    row("6205: balls of 0.3126 in", "bearings.ball_bearing.generic_ball", "0.3126 in", 0.05, "a generic inside", d=25.0,
        D=52.0),
    row("6203: balls of 0.2656 in", "bearings.ball_bearing.generic_ball", "0.2656 in", 0.05, "a generic inside", d=17.0,
        D=40.0),
    row("6205: pitch circle of 1.537 in", "bearings.ball_bearing.generic_pitch", "1.537 in", 0.02, "a generic inside",
        d=25.0,
        D=52.0),
    row("6203: pitch circle of 1.122 in", "bearings.ball_bearing.generic_pitch", "1.122 in", 0.02, "a generic inside",
        d=17.0,
        D=40.0),
    row("6205: nine balls", "bearings.ball_bearing.generic_count", "9 -", D_w=7.94, D_pw=39.04),
    row("6203: eight balls", "bearings.ball_bearing.generic_count", "8 -", D_w=6.746, D_pw=28.5),
    row("6205: 14.0 kN from its balls", "bearings.ball_bearing.dynamic_rating", "14.0 kN", 0.02,
        "the trade rounds its ratings",
        **REAL),
    row("6205: 7.8 kN from its balls", "bearings.ball_bearing.static_rating", "7.8 kN", 0.02,
        "the trade rounds its ratings", **REAL),
)  # fmt: skip

LOW = "an estimate lowered to lie below published ratings, to 0.4 below a bore of 10"

test_ratings = table(
    "the open table single_row_deep_groove_ball_bearing_parameters.csv", LOOKED_UP,
    *(row(f"{name}: C = {C} kN", "bearings.ball_bearing.generic_dynamic_rating", f"{C} kN", off, LOW, d=d, D=D)
      for name, d, D, C, off in (("618/9", 9.0, 17.0, "0.871", 0.25), ("61800", 10.0, 19.0, "1.72", 0.05),
                                 ("6000", 10.0, 26.0, "4.75", 0.3), ("6200", 10.0, 30.0, "5.4", 0.3))),
    *(row(f"{name}: C_0 = {C} kN", "bearings.ball_bearing.generic_static_rating", f"{C} kN", off, LOW, d=d, D=D)
      for name, d, D, C, off in (("618/9", 9.0, 17.0, "0.34", 0.05), ("61800", 10.0, 19.0, "0.83", 0.05),
                                 ("6000", 10.0, 26.0, "1.96", 0.3), ("6200", 10.0, 30.0, "2.36", 0.3))),
)  # fmt: skip

WHOLE = "the table prints whole numbers or halves"

test_f_0 = table(
    "the open table single_row_deep_groove_ball_bearing_parameters.csv", LOOKED_UP,
    row("608: f_0 = 12, balls of 3.969 on 15 mm", "bearings.ball_bearing.static_factor", "12 -", 0.05, WHOLE,
        ratio=3.969 / 15.0),
    row("6000: f_0 = 12, balls of 4.763 on 18 mm", "bearings.ball_bearing.static_factor", "12 -", 0.05, WHOLE,
        ratio=4.763 / 18.0),
    row("6200: f_0 = 13, balls of 4.763 on 20 mm", "bearings.ball_bearing.static_factor", "13 -", 0.05, WHOLE,
        ratio=4.763 / 20.0),
)  # fmt: skip

test_harris = table(
    "Harris, Rolling Bearing Analysis: basic dynamic capacity, grooves of 0.52", CLOSED_FORM,
    *(row(f"f_c at D_w/D_pw = {g}", "bearings.ball_bearing.dynamic_factor", f"{f_c(g):.5g} -", 0.045,
        "ISO lowers it by 0.957 for all ratios", ratio=g) for g in (0.1, 0.2, 0.3)),
)  # fmt: skip

test_iso = table(
    "ISO 76:2006, 5.3 and 6, and ISO 281:2007, 5.2", BY_HAND,
    hand("1000 N across and 800 N along", "bearings.ball_bearing.static_equivalent", "0.6 * 1000 + 0.5 * 800", "N",
        F_r=1000.0,
        F_a=800.0),
    hand("6.95 kN under 3 kN", "bearings.ball_bearing.static_safety", "6.95 / 3", "-", C_0=6950.0, P_0=3000.0),
)  # fmt: skip
