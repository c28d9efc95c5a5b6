"""EN 1993-1-9:2005, fatigue of steel structures: the numbers printed with its curves (section 7.1)."""

from evidence import example

from parts.strength import weld_detail


@example(
    method="parts.strength.weld_detail.constant_amplitude_limit",
    source="EN 1993-1-9:2005, 7.1 (2): (2/5)^(1/3) printed as 0.737",
    published=73.7,
    unit="MPa",
    tolerance=1e-3,
    why="printed to three figures",
)
def test_constant_amplitude_limit_of_class_100():
    return weld_detail.constant_amplitude_limit(100.0)


@example(
    method="parts.strength.weld_detail.cut_off_limit",
    source="EN 1993-1-9:2005, 7.1 (3): (5/100)^(1/5) printed as 0.549, of 0.737 of the class",
    published=0.549 * 73.7,
    unit="MPa",
    tolerance=2e-3,
    why="product of two factors printed to three figures",
)
def test_cut_off_of_class_100():
    return weld_detail.cut_off_limit(100.0)


@example(
    method="parts.strength.weld_detail.range_at",
    source="ENV 1993-1-1:1992, Table 9.6.1 (same curves): class 71, cut-off limit 29 MPa; from memory",
    published=29.0,
    unit="MPa",
    tolerance=0.5 / 29,
    why="printed to whole megapascals",
)
def test_class_71_at_a_hundred_million():
    return weld_detail.range_at(1e8, 71.0)


@example(
    method="parts.strength.weld_detail.cycles_shear",
    source="EN 1993-1-9:2005, 7.1 (2): (2/100)^(1/5) printed as 0.457, cut-off of shear at 1e8 cycles",
    published=1e8,
    unit="cycles",
    tolerance=0.01,
    why="0.457 to three figures, raised to the fifth power",
)
def test_shear_line_reaches_its_cut_off():
    return weld_detail.cycles_shear(0.4574 * 80.0, 80.0)
