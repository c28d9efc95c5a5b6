"""Timoshenko's books: stability with Gere, elasticity with Goodier, strength of materials."""

import numpy as np
from evidence import FROM_MEMORY, PSI, module, row, table

column, plate, torsion = module("columns.column"), module("plates.plate"), module("section.torsion")
circle, rectangle = module("section.figures").circle, module("section.figures").rectangle
STABILITY = "Timoshenko and Gere, Theory of Elastic Stability, 2nd ed."
ELASTICITY = "Timoshenko and Goodier, Theory of Elasticity, 3rd ed."

# Table 2-10: m of P = m E I_2 / l²; I_1/I_2 down, a/l = 0.2, 0.4, 0.6, 0.8 across.
STEPPED = {0.01: "0.153 0.270 0.598 2.26", 0.1: "1.47 2.40 4.50 8.59", 0.2: "2.80 4.22 6.69 9.33",
           0.4: "5.09 6.68 8.51 9.67", 0.6: "6.98 8.19 9.24 9.78", 0.8: "8.55 9.18 9.63 9.84"}  # fmt: skip
ENTRIES = [(i, (k + 1) / 5, m) for i, line in STEPPED.items() for k, m in enumerate(line.split())]
LAST = "some entries of the table are a unit off in the last place"
FREE = "the table is for ν = 0.25, ours takes the lower k of ν = 0.3, of two terms"


def stepped(ratio, share):
    end = 0.5 * (1.0 - share)
    return column.stepped_load(ratio, end, 1.0, share, ratio, end)


def free_edge(share):
    """k of σ = k π² D / (b² t) for a free edge of length share b."""
    E, nu, b, t = 200e3, 0.3, 100.0, 2.0
    got = plate.free_edge_buckling_stress(E=E, F_y=1e9, t=t, b=b, a=share * b, nu=nu)
    return got / (np.pi**2 * E / (12.0 * (1.0 - nu**2)) * (t / b) ** 2)


def shear(section, y, area, nu):
    """Vertical shear at y on the level axis, over V/A."""
    field = torsion.shear_field(section, nu=nu)
    at = np.argmin(np.hypot(field.y - y, field.z))
    return abs(field.shear[0, 2, at].imag) * area


test_stepped_columns = table(
    STABILITY, FROM_MEMORY,
    *(row(f"table 2-10: I_1/I_2 = {i}, a/l = {s}", "columns.column.stepped_load", f"{m} -", 5e-3, LAST, work=lambda i=i,
        s=s: stepped(i, s)) for i, s, m in ENTRIES),
    row("table 9-4: three edges supported, one free, a/b = 1", "plates.plate.free_edge_buckling_stress", "1.440 -",
        0.03, FREE,
        work=lambda: free_edge(1.0)),
    row("table 9-4: three edges supported, one free, a/b = 2", "plates.plate.free_edge_buckling_stress", "0.698 -",
        0.04, FREE,
        work=lambda: free_edge(2.0)),
)  # fmt: skip

PLATE = {"E": 200e3, "t": 2.0, "nu": 0.3}
D_2 = (
    np.pi**2 * 200e3 / (12.0 * (1.0 - 0.3**2)) * (2.0 / 100.0) ** 2
)  # π² D/(b² t) of 2 mm on 100 mm [MPa]

test_plates = table(
    STABILITY, FROM_MEMORY,
    *(row(f"table 9-2: four edges supported, pushed one way, a/b = {a}", "plates.panel.held_buckling_stress", f"{k} -",
        5e-3,
          "printed to three figures", read=lambda s: s / D_2, a=100.0 * a, b=100.0, **PLATE)
      for a, k in ((0.5, "6.25"), (0.6, "5.14"), (1.0, "4.00"), (1.4, "4.47"))),
    *(row(f"table 9-10: four edges supported, sheared, a/b = {a}", "plates.panel.shear_buckling_stress", f"{k} -",
        0.045,
          "the parabola 5.34 + 4 (b/a)² lies a little below the table", read=lambda s: s / D_2, a=100.0 * a, b=100.0,
          **PLATE)
      for a, k in ((1.0, "9.34"), (1.5, "7.1"), (2.0, "6.6"), (3.0, "5.9"))),
    row("section 6.3: cantilever toppled by an end load, 4.013 √(EI GJ)/L²", "columns.lateral.end_load_buckling",
        "4.013 -",
        EI_z=1.0, GJ=1.0, L=1.0),
    row("section 6.1: cantilever toppled by an end moment, π/2 √(EI GJ)/L", "columns.lateral.end_moment_buckling",
        "1.5708 -",
        EI_z=1.0, GJ=1.0, L=1.0),
)  # fmt: skip

BAR = "torsion of rectangular bars: "
TABLE = "bending of rectangular bars, ν = 0.25: "
EDGE = "0.1 % for a stress read at the edge"

test_elasticity = table(
    ELASTICITY, FROM_MEMORY,
    row(BAR + "J of a square", "section.torsion.torsion", "0.1406 -",
        work=lambda: torsion.torsion(rectangle(10.0, 10.0)).J / 1e4),
    row(BAR + "J of a square by the rule for flats", "columns.lateral.rectangle_torsion_constant", "0.1406 -", 3e-3,
        "a rule",
        t=1.0, d=1.0),
    row(BAR + "J of 3 : 1 by the rule for flats", "columns.lateral.rectangle_torsion_constant", "0.263 -", 3e-3,
        "a rule",
        read=lambda J: J / 3.0, t=1.0, d=3.0),
    row(BAR + "J of 2 : 1", "section.torsion.torsion", "0.229 -",
        work=lambda: torsion.torsion(rectangle(20.0, 10.0)).J / 2e4),
    row(BAR + "stress of a square", "section.torsion.torsion", "0.208 -",
        work=lambda: 1e-3 / torsion.torsion(rectangle(10.0, 10.0)).stress),
    row(BAR + "stress of 2 : 1", "section.torsion.torsion", "0.246 -",
        work=lambda: 0.5e-3 / torsion.torsion(rectangle(20.0, 10.0)).stress),
    row(BAR + "stress of 10 : 1", "plates.plate.flat_twist_stress", "0.312 -", 0.01,
        "the rule 3 + 1.8 t/b is 0.8 % off at 10 : 1",
        work=lambda: 0.1 / plate.flat_twist_stress(T=1.0, b=10.0, t=1.0)),
    row("bending of a circular bar: 1.38 V/A at the centre", "section.torsion.shear_field", "1.38 -",
        work=lambda: shear(circle(10.0), 0.0, np.pi * 25.0, 0.3)),
    *(row(TABLE + f"{where} of {depth:g} deep by {wide:g}, over 1.5 V/A", "section.torsion.shear_field", f"{value} -",
        1.5e-3,
        EDGE,
          work=lambda d=depth, w=wide, y=y: shear(rectangle(w, d), y, d * w, 0.25) / 1.5)
      for where, depth, wide, y, value in (
          ("edge", 20.0, 10.0, 5.0, "1.033"), ("edge", 10.0, 10.0, 5.0, "1.126"), ("edge", 10.0, 20.0, 10.0, "1.396"),
          ("edge", 10.0, 40.0, 20.0, "1.988"), ("middle", 10.0, 10.0, 0.0, "0.940"), ("middle", 10.0, 40.0, 0.0,
          "0.805"))),
    row("bars: torsion of a square flat, T/(0.208 a³)", "shafts.flats.bar_shear_stress", "120.2 MPa", 1e-3,
        "the factor is printed to three figures",
        T=200e3, AF=20.0, n=4.0),
)  # fmt: skip

FIT = {"E_o": 30e6 * PSI, "nu_o": 0.3, "E_i": 30e6 * PSI, "nu_i": 0.3}

test_strength = table(
    "Timoshenko, Strength of Materials, part II, 3rd ed.", FROM_MEMORY,
    row("shrink fit of radii 4, 6 and 8 in, 0.005 in on the radius", "shafts.press_fit.contact_pressure", "4050 psi",
        1e-3,
        "printed to three figures",
        delta="0.010 in", d="12 in", D_o="16 in", d_i="8 in", **FIT),
)  # fmt: skip
