"""EN 1993: buckling curves, pins, welds and fatigue."""

from evidence import FROM_MEMORY, module, row, table

detail = module("welded.detail")

test_toppling = table(
    "EN 1993-1-1:2005, 6.3.2.2, curve d as tabled by the ECCS", FROM_MEMORY,
    row("toppling at λ = 1.0", "columns.lateral.toppling_resistance", "0.4671 -", M_cr=1.0, W=1.0, F_y=1.0),
)  # fmt: skip

test_fatigue = table(
    "EN 1993-1-9:2005, 7.1", FROM_MEMORY,
    row("(2): (2/100)^(1/5) printed as 0.457, shear at 1e8", "welded.detail.cycles_shear", "1e8 cycles", 0.01,
        "0.457 raised to the fifth power",
        work=lambda: detail.cycles_shear(0.4574 * 80.0, 80.0)),
    row("class 71 at 2e6 cycles", "welded.detail.cycles", "2e6 cycles", stress_range=71.0, C=71.0),
    row("class 71 at its constant amplitude limit of 52 MPa", "welded.detail.cycles", "5e6 cycles", 0.04,
        "printed to whole megapascals",
        stress_range=52.0, C=71.0),
)  # fmt: skip

test_iiw = table(
    "Hobbacher (IIW), Recommendations for Fatigue Design of Welded Joints, table 3.4", FROM_MEMORY,
    row("FAT 71 at its knee of 41.5 MPa, 1e7 cycles", "welded.detail.cycles_iiw", "1e7 cycles", 5e-3,
        "the knee is printed to three figures",
        stress_range=41.5, FAT=71.0),
    row("FAT 100 at its knee of 58.5 MPa, 1e7 cycles", "welded.detail.cycles_iiw", "1e7 cycles", 5e-3,
        "the knee is printed to three figures",
        stress_range=58.5, FAT=100.0),
)  # fmt: skip

test_joints = table(
    "EN 1993-1-8:2005", FROM_MEMORY,
    row("4.5.3.3: S355, 510 MPa, β 0.9: 262 MPa", "welded.weld.simplified_strength", "262 MPa", f_u=510.0, beta_w=0.9),
    row("4.5.3.3: S235, 360 MPa, β 0.8: 208 MPa", "welded.weld.simplified_strength", "208 MPa", f_u=360.0, beta_w=0.8),
    row("4.5.3.2: S235, 360 MPa, β 0.8: 360 MPa", "welded.weld.directional_strength", "360 MPa", f_u=360.0, beta_w=0.8),
    row("4.5.1 (2): least length of a fillet of 4 mm throat", "welded.weld.least_length", "30 mm", a=4.0),
    row("4.5.1 (2): least length of a fillet of 6 mm throat", "welded.weld.least_length", "36 mm", a=6.0),
)  # fmt: skip
