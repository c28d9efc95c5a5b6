"""Gere, Mechanics of Materials, chapter 11: columns."""

from evidence import COMPANIONS, LOOKED_UP, module, row, table

column = module("columns.column")
INCH, KSI, KIP = 25.4, 6.894757, 4448.222


def braced():
    return column.euler_load(E=29e3 * KSI, I_min=21.7 * INCH**4, L=150 * INCH) / 2.5


def safety():
    sizes = {
        "E": 30e3 * KSI,
        "A": 24.1 * INCH**2,
        "I_e": 24.1 * 6.05**2 * INCH**4,
        "c": 7.155 * INCH,
    }
    return column.secant_load(e=1.5 * INCH, L=300 * INCH, F=42 * KSI, **sizes) / (360 * KIP)


test_columns = table(
    "Gere, Mechanics of Materials", LOOKED_UP,
    row("example 11.1, p. 763: column braced at the middle, allowed by 2.5", "columns.column.euler_load", "110 kip",
        work=braced),
    row("example 11.4, p. 785: W 14 x 82, 1.5 in off, factor on load against 42 ksi", "columns.column.secant_load", "2.0 -",
        work=safety),
    via=COMPANIONS,
)  # fmt: skip
