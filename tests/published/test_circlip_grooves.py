"""Load capacities of circlip grooves as printed in DIN 471 and in ring makers' data sheets."""

from evidence import example

from parts.strength.bearings import axial

INCH, KSI, POUND = 25.4, 6.894757, 4.448222
DIN = "DIN 471:2011, Table 1, load capacity of the groove F_N; from memory"


@example(
    method="parts.strength.bearings.axial.groove_load",
    source=DIN + ", shaft 20",
    published=5.06,
    unit="kN",
    tolerance=0.01,
    why="printed to three figures; the 1.2 between is rounded",
)
def test_groove_of_a_20_mm_shaft():
    return axial.groove_load(20.0, 19.0, 200.0, 1.5) / 1e3


@example(
    method="parts.strength.bearings.axial.groove_load",
    source=DIN + ", shaft 30",
    published=10.73,
    unit="kN",
    tolerance=0.01,
    why="printed to four figures; the 1.2 between is rounded",
)
def test_groove_of_a_30_mm_shaft():
    return axial.groove_load(30.0, 28.6, 200.0, 2.1) / 1e3


@example(
    method="parts.strength.bearings.axial.groove_load",
    source=DIN + ", shaft 10",
    published=1.01,
    unit="kN",
    tolerance=0.02,
    why="printed to three figures; the 1.2 between is rounded",
)
def test_groove_of_a_10_mm_shaft():
    return axial.groove_load(10.0, 9.6, 200.0, 0.6) / 1e3


@example(
    method="parts.strength.bearings.axial.groove_load",
    source="Smalley RS-196, data sheet: groove of 1.902 in on 1.969 in, 45 ksi, with a factor of 2: 4729 lb",
    published=2.0 * 4729.0 / 1.2,
    unit="lb",
    tolerance=0.035,
    why="the sheet counts the shaft's circumference times 0.034 in, this the ring between 1.969 and 1.902 in",
)
def test_groove_of_an_inch_ring():
    return axial.groove_load(1.969 * INCH, 1.902 * INCH, 45.0 * KSI, 0.11 * INCH) / POUND
