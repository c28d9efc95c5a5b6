"""Thread areas printed in ASME B1.1, FED-STD-H28, ISO 898-1 and the insert standards."""

from evidence import example

from parts.strength import thread

INCH = 25.4
THREE_FIGURES = "printed to three figures"


@example(
    method="parts.strength.thread.stress_area_unified",
    source="FED-STD-H28 and ASME B1.1, tensile stress areas, 3/8-24 UNF; from memory",
    published=0.0878,
    unit="in^2",
    tolerance=0.0006,
    why=THREE_FIGURES,
)
def test_stress_area_of_3_8_24():
    return thread.stress_area_unified(0.375 * INCH, INCH / 24) / INCH**2


@example(
    method="parts.strength.thread.stress_area_unified",
    source="FED-STD-H28 and ASME B1.1, tensile stress areas, 1/4-20 UNC; from memory",
    published=0.0318,
    unit="in^2",
    tolerance=0.0016,
    why=THREE_FIGURES,
)
def test_stress_area_of_1_4_20():
    return thread.stress_area_unified(0.25 * INCH, INCH / 20) / INCH**2


@example(
    method="parts.strength.thread.stress_area_unified",
    source="FED-STD-H28 and ASME B1.1, tensile stress areas, 3/4-16 UNF; from memory",
    published=0.373,
    unit="in^2",
    tolerance=0.0014,
    why=THREE_FIGURES,
)
def test_stress_area_of_3_4_16():
    return thread.stress_area_unified(0.75 * INCH, INCH / 16) / INCH**2


@example(
    method="parts.strength.thread.stress_area_iso",
    source="ISO 898-1:2013, Table 4 (minimum ultimate tensile loads, coarse), M6; from memory",
    published=20.1,
    unit="mm^2",
    tolerance=0.0025,
    why=THREE_FIGURES,
)
def test_stress_area_of_m6():
    return thread.stress_area_iso(6.0, 1.0)


@example(
    method="parts.strength.thread.stress_area_iso",
    source="ISO 898-1:2013, Table 4 (minimum ultimate tensile loads, coarse), M12; from memory",
    published=84.3,
    unit="mm^2",
    tolerance=0.0006,
    why=THREE_FIGURES,
)
def test_stress_area_of_m12():
    return thread.stress_area_iso(12.0, 1.75)


@example(
    method="parts.strength.thread.stress_area_iso",
    source="ISO 898-1:2013, Table 6 (ultimate tensile loads, fine), M10 × 1.25; from memory",
    published=61.2,
    unit="mm^2",
    tolerance=0.0009,
    why=THREE_FIGURES,
)
def test_stress_area_of_m10_fine():
    return thread.stress_area_iso(10.0, 1.25)


@example(
    method="parts.strength.thread.external_strip_area",
    source="FED-STD-H28/2B, thread strength table, 1/4-20 UNC: external, per inch; from memory",
    published=0.368,
    unit="in^2",
    tolerance=0.0014,
    why=THREE_FIGURES,
)
def test_external_strip_area_of_1_4_20():
    return thread.external_strip_area(INCH / 20, INCH, 0.2070 * INCH, 0.2127 * INCH) / INCH**2


@example(
    method="parts.strength.thread.internal_strip_area",
    source="FED-STD-H28/2B, thread strength table, 1/4-20 UNC: internal, per inch; from memory",
    published=0.539,
    unit="in^2",
    tolerance=0.001,
    why=THREE_FIGURES,
)
def test_internal_strip_area_of_1_4_20():
    return thread.internal_strip_area(INCH / 20, INCH, 0.2408 * INCH, 0.2224 * INCH) / INCH**2


@example(
    method="parts.strength.thread.insert_major_diameter",
    source="NASM33537, tapped hole for 1/4-20 helical coil insert, major diameter; from memory",
    published=0.3150,
    unit="in",
    tolerance=0.0004,
    why="printed to four decimals",
)
def test_insert_hole_of_1_4_20():
    return thread.insert_major_diameter(0.25 * INCH, INCH / 20) / INCH
