"""Shigley's Mechanical Engineering Design (9th ed.), chapter 11: rolling bearings. Quoted from memory."""

from evidence import example

from parts.strength import bearing

BOOK = "Shigley's Mechanical Engineering Design, 9th ed., {}, from memory"
ESTIMATE = "a generic estimate from bore and outside diameter: stated to some 10 per cent"


@example(
    method="parts.strength.bearing.rating_life",
    source=BOOK.format("Example 11-1 (5000 h at 1725 rev/min under 400 lbf needs 3211 lbf)"),
    published=5000 * 60 * 1725 / 1e6,
    unit="million revolutions",
    tolerance=1e-3,
    why="rating printed to four figures",
)
def test_life_under_400_lbf():
    return bearing.rating_life(3211.0, 400.0)


@example(
    method="parts.strength.bearing.dynamic_equivalent",
    source=BOOK.format("Table 11-1 interpolated at F_a/C_0 = 0.09 (X = 0.56, Y = 1.527)"),
    published=0.56 * 500 + 1.527 * 400,
    unit="lbf",
    tolerance=2e-3,
    why="the book's table goes by F_a/C_0, which is ISO's f_0 F_a/C_0 over 12.3",
)
def test_equivalent_load_with_thrust():
    return bearing.dynamic_equivalent(500.0, 400.0, C_0=400.0 / 0.09, f_0=12.3)


@example(
    method="parts.strength.bearing.generic_dynamic_rating",
    source=BOOK.format("Table 11-2, 02 series, bore 25 mm"),
    published=14.0e3,
    unit="N",
    tolerance=0.10,
    why=ESTIMATE,
)
def test_generic_bearing_of_25_by_52():
    return bearing.generic_dynamic_rating(25.0, 52.0)


@example(
    method="parts.strength.bearing.generic_dynamic_rating",
    source=BOOK.format("Table 11-2, 02 series, bore 30 mm"),
    published=19.5e3,
    unit="N",
    tolerance=0.10,
    why=ESTIMATE,
)
def test_generic_bearing_of_30_by_62():
    return bearing.generic_dynamic_rating(30.0, 62.0)


@example(
    method="parts.strength.bearing.generic_dynamic_rating",
    source=BOOK.format("Table 11-2, 02 series, bore 20 mm"),
    published=12.7e3,
    unit="N",
    tolerance=0.10,
    why=ESTIMATE,
)
def test_generic_bearing_of_20_by_47():
    return bearing.generic_dynamic_rating(20.0, 47.0)
