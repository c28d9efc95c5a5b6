"""American Institute of Steel Construction: manual, design examples and design guide 29."""

import numpy as np
from evidence import FROM_MEMORY, INCH, LBF, LOOKED_UP, PSI, module, row, table

boltgroup, boltplate, plate = (
    module("bolted.group"),
    module("bolted.plate"),
    module("plates.plate"),
)
KIP, KSI = 1e3 * LBF, 1e3 * PSI
ROUND = "printed to three figures, from rounded parts"
MANUAL = "AISC, Steel Construction Manual"


def bolts_in_a_row(n, e):
    """C of one vertical row of n bolts 3 in apart, vertical load e inches off."""
    xy = np.stack([np.zeros(n), 3.0 * INCH * np.arange(n)], axis=-1)
    return boltgroup.instantaneous_centre_coefficient(xy, 0.0, -1.0, e * INCH, 1.5 * INCH * (n - 1))


def per_inch(F_u, l_c=None):
    """Design strength at a 3/4 in bolt, for an inch of plate [N/mm]."""
    if l_c:
        return 0.75 * boltplate.hole_capacity(0.75 * INCH, l_c * INCH, INCH, F_u * KSI) / INCH
    return 0.75 * boltplate.bearing_capacity(0.75 * INCH, INCH, F_u * KSI) / INCH


def torn(l_c):
    return 0.75 * plate.hole_bearing_load(l_c=l_c * INCH, d=0.875 * INCH, t=INCH, F_u=65 * KSI)


def whitmore_strip():
    sizes = {"t": INCH, "l_w": 20.9 * INCH, "L": 0.5 * 9.76 * INCH}
    return 0.90 * plate.gusset_compression_load(E=29e3 * KSI, F_y=50 * KSI, **sizes)


test_manual = table(
    MANUAL, FROM_MEMORY,
    row("part 7: C, angle 0, s 3 in, n = 2, e = 3 in", "bolted.group.instantaneous_centre_coefficient", "0.88 -",
        work=lambda: bolts_in_a_row(2, 3.0)),
    row("part 7: C, angle 0, s 3 in, n = 3, e = 3 in", "bolted.group.instantaneous_centre_coefficient", "1.75 -",
        work=lambda: bolts_in_a_row(3, 3.0)),
    row("part 7: C, angle 0, s 3 in, n = 4, e = 6 in", "bolted.group.instantaneous_centre_coefficient", "1.73 -",
        work=lambda: bolts_in_a_row(4, 6.0)),
    row("table 7-4: 3/4 in, s = 3 in, 58 ksi", "bolted.plate.bearing_capacity", "78.3 kip/in",
        work=lambda: per_inch(58.0)),
    row("table 7-4: 3/4 in, s = 3 in, 65 ksi", "bolted.plate.bearing_capacity", "87.8 kip/in", 6e-4, "87.75 exactly",
        work=lambda: per_inch(65.0)),
    row("table 7-5: 3/4 in, edge 1 1/4 in, 58 ksi", "bolted.plate.hole_capacity", "44.0 kip/in",
        work=lambda: per_inch(58.0, 1.25 - 13 / 32)),
    row("design example J.3: tension beside 18.1 ksi of shear", "bolted.plate.tension_beside_shear", "76.8 ksi",
        F_nt="90 ksi", F_nv="54 ksi", f_v="18.1 ksi"),
)  # fmt: skip

test_design_guide = table(
    "AISC, Design Guide 29, Vertical Bracing Connections", LOOKED_UP,
    row("example 5.1, p. 49: block shear of the brace", "plates.plate.block_shear_load", "1250 kip", 5e-3, ROUND,
        A_gv="39 in^2", A_nv="26 in^2", A_nt="7 in^2", F_y="36 ksi", F_u="58 ksi"),
    row("example 5.1, p. 50: block shear of the gusset", "plates.plate.block_shear_load", "1140 kip", 5e-3, ROUND,
        A_gv="39 in^2", A_nv="26 in^2", A_nt="2 in^2", F_y="50 ksi", F_u="65 ksi"),
    row("example 5.1, p. 51: end bolt, φ = 0.75", "plates.plate.hole_bearing_load", "60.3 kip",
        work=lambda: torn(1.5 - 0.5 * 15 / 16)),
    row("example 5.1, p. 51: inner bolt, φ = 0.75", "plates.plate.hole_bearing_load", "102 kip",
        work=lambda: torn(3.0 - 15 / 16)),
    row("example 5.1, p. 51: tear-out at the end bolt", "bolted.plate.tearout_capacity", "60.3 kip",
        read=lambda R: 0.75 * R,
        l_c="1.03125 in", t="1 in", F_u="65 ksi"),
    row("example 5.1, p. 52: Whitmore section", "plates.plate.whitmore_width", "23.8 in", s="3 in", L="18 in", w=1000.0),
    row("example 5.1, p. 52: compression on 20.9 in^2, φ = 0.90", "plates.plate.gusset_compression_load", "941 kip", 6e-4,
        ROUND, work=whitmore_strip),
)  # fmt: skip
