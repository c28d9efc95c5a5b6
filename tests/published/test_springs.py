"""Springs: worked examples of textbooks."""

import numpy as np
from evidence import FROM_MEMORY, LOOKED_UP, module, row, table

pulled, wound = module("springs.pulled"), module("springs.wound")
KSI = 6.894757
TURN = 2.0 * np.pi
MUSIC = {"d": "0.035 in", "D": "0.213 in"}
COIL = {"d": "0.072 in", "D": "0.5218 in"}
FRICTION = "the book takes 10.8 where theory has 64/(2 pi) = 10.19, for friction on the mandrel"


def wound_in():
    """The tension wound in as a stress without a factor [MPa]."""
    d, D = 0.035 * 25.4, 0.213 * 25.4
    return 8.0 * D * pulled.most_wound_in(d, D) / (np.pi * d**3)


test_shigley_springs = table(
    "Budynas and Nisbett, Shigley's Mechanical Engineering Design, 9th ed.", FROM_MEMORY,
    row("example 10-6: rate", "springs.pulled.pulled_rate", "17.91 lbf/in", n=12.57, G="11.6 Msi", **MUSIC),
    row("example 10-6 (b): stress in the coils under 5.25 lbf", "springs.pulled.coil_shear", "82.0 ksi",
        F="5.25 lbf", **MUSIC),
    row("example 10-6 (c): bending of the hook", "springs.pulled.loop_bending", "156.9 ksi", 2e-3,
        "the book rounds its factor", F="5.25 lbf", r="0.106 in", **MUSIC),
    row("example 10-6 (c): twist of the hook", "springs.pulled.loop_shear", "78.4 ksi", 3e-3,
        "the book rounds its factor", F="5.25 lbf", r="0.089 in", **MUSIC),
    row("example 10-6: upper end of the preferred tension", "springs.pulled.most_wound_in", "21.2 ksi", work=wound_in),
    row("example 10-7: limit of the coils without a mean, Gerber", "springs.life.endless_amplitude", "38.7 ksi",
        s_m=0.0, S_a="35 ksi", S_m="55 ksi", R="177.3 ksi"),
    row("example 10-8: coils that give", "springs.wound.coils_that_give", "4.657 -", n=4.25, l_1="1 in", l_2="1 in",
        D="0.5218 in"),
    row("example 10-8: rate for a turn", "springs.wound.wound_rate", "29.2 lbf*in", 0.065, FRICTION,
        read=lambda rate: rate * TURN, n=4.657, E="28.5 Msi", **COIL),
    row("example 10-8 (b): stress under 7.546 lbf in", "springs.wound.wound_stress", "229.6 ksi", 0.012,
        "EN 13906-3 takes (w + 0.07)/(w - 0.75), the book K_i", M="7.546 lbf*in", **COIL),
    row("example 10-8 (c): mean diameter wound by 0.236 of a turn", "springs.wound.inside_when_wound", "0.494 in", 1e-3,
        "the book rounds on the way", work=lambda: wound.inside_when_wound(0.5218, 0.0, 4.25, 0.236 * TURN) * 25.4),
)  # fmt: skip

test_other_springs = table(
    "Budynas and Nisbett, Shigley's Mechanical Engineering Design, 10th ed.: solutions", LOOKED_UP,
    row("problem 10-3: rate", "springs.pulled.pulled_rate", "1.314 N/mm", d=2.5, D=28.5, n=13.0, G=81e3),
    via="a public copy of its solutions",
)  # fmt: skip

test_mott = table(
    "Mott, Machine Elements in Mechanical Design, 4th ed.", LOOKED_UP,
    row("section 19-7, page 761: stress of the extension spring at 26.75 lbf", "springs.pulled.coil_shear", "120 ksi",
        0.01, "the book takes Wahl's factor 1.19, EN 13906 has 1.18", F="26.75 lbf", d="0.072 in", D="0.553 in"),
    row("section 19-7, page 761: 14.0 lbf/in of 16.3 coils", "springs.pulled.pulled_rate", "14.0 lbf/in",
        d="0.072 in", D="0.553 in", n=16.3, G="11.5 Msi"),
    via="a public copy",
)  # fmt: skip
