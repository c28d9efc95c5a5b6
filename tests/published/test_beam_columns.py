"""Beam-columns, springs and other members against solutions by another route: closed forms."""

import numpy as np
from evidence import BY_HAND, CLOSED_FORM, hand, module, row, table
from scipy.integrate import quad
from scipy.linalg import solve_banded
from scipy.optimize import brentq

column, link, figures, stress = (
    module("columns.column"),
    module("columns.link"),
    module("section.figures"),
    module("section.stress"),
)
spring, torsion, strips = (
    module("shafts.torsion_bar"),
    module("section.torsion"),
    module("section.strips"),
)
STABILITY = "Timoshenko and Gere, Theory of Elastic Stability, 2nd ed."
GRID = "finite differences on 6000 stretches"


def number(value, unit):
    """A value as text with six figures."""
    return f"{value:.6g} {unit}"


def beam_column(L, P, EI, M_0, at):
    """Moment [N*mm] at `at` of a pinned bar: E I w'' + P w = -M_0 solved by finite differences."""
    n = 6000
    x = np.linspace(0.0, L, n + 1)[1:-1]
    h, stiff, first = L / n, EI(x), M_0(x)
    banded = np.stack([stiff / h**2, P - 2.0 * stiff / h**2, stiff / h**2])
    w = solve_banded(
        (1, 1), np.stack([np.roll(banded[0], 1), banded[1], np.roll(banded[2], -1)]), -first
    )
    return np.interp(at, x, first + P * w)


def mid_load(F, L):
    return lambda x: F / 2.0 * np.minimum(x, L - x)


def alike(EI):
    return lambda x: np.full_like(x, EI)


def stepped(x):
    """Bending stiffness of three pieces [N*mm^2]: 60 of 2e8, 180 of 8e8 and 60 of 2e8."""
    return np.where((x < 60.0) | (x > 240.0), 2e8, 8e8)


PIECES = {"EI_1": 2e8, "L_1": 60.0, "EI_2": 8e8, "L_2": 180.0, "EI_3": 2e8, "L_3": 60.0}
P_PIECES = column.stepped_load(2e8, 60.0, 8e8, 180.0, 2e8, 60.0)
P_E, L = np.pi**2 * 8e8 / 300.0**2, 300.0


def stepped_column(ratio, share):
    """m of P = m E I_2 / l² of a column with thinner ends: tan(k_1 l_1) tan(k_2 a/2) = k_1/k_2."""

    def condition(m):
        k_1, k_2 = np.sqrt(m / ratio), np.sqrt(m)
        u, v = k_1 * (1.0 - share) / 2.0, k_2 * share / 2.0
        return np.sin(u) * np.sin(v) * k_2 - k_1 * np.cos(u) * np.cos(v)

    grid = np.linspace(1e-4, np.pi**2, 4000)
    signs = [condition(m) for m in grid]
    first = next(i for i in range(len(grid) - 1) if signs[i] * signs[i + 1] < 0.0)
    return brentq(condition, grid[first], grid[first + 1])


SHARES = ((0.01, 0.4), (0.1, 0.6), (0.2, 0.8), (0.4, 0.2), (0.8, 0.6))

test_columns = table(
    STABILITY + ", sections 1.3, 1.12 and 2.14", CLOSED_FORM,
    *(row(f"column with thinner ends, I_1/I_2 = {i}, a/l = {s}", "columns.column.stepped_load",
        number(stepped_column(i, s), "-"), 1e-5, "the equation solved by bisection",
          EI_1=i, L_1=(1 - s) / 2, EI_2=1.0, L_2=s, EI_3=i, L_3=(1 - s) / 2) for i, s in SHARES),
    row("even load, a quarter of the buckling load, to be borne twice", "columns.column.uniform_load_moment",
        number(beam_column(L, P_E / 2, alike(8e8), lambda x: 0.5 * x * (L - x), 150.0), "N*mm"), 1e-4, GRID, q=1.0, L=L,
        P=P_E / 4, P_E=P_E, n=2.0),
    row("load at the middle, a quarter of the buckling load, to be borne twice", "columns.column.middle_load_moment",
        number(beam_column(L, P_E / 2, alike(8e8), mid_load(500.0, L), 150.0), "N*mm"), 1e-3, GRID, F=500.0, L=L,
        P=P_E / 4, P_E=P_E, n=2.0),
    row("couples of 1 N*m at both ends, a quarter of the buckling load, to be borne twice", "columns.column.couples_moment",
        number(beam_column(L, P_E / 2, alike(8e8), lambda x: np.full_like(x, 1000.0), 150.0), "N*mm"), 1e-4, GRID,
        M_0=1000.0, P=P_E / 4, P_E=P_E, n=2.0),
    row("bow of half a sine wave, 2 mm, a quarter of the buckling load, to be borne twice", "columns.column.bow_moment",
        number(beam_column(L, P_E / 2, alike(8e8), lambda x: P_E / 4 * 2.0 * np.sin(np.pi * x / L), 150.0), "N*mm"),
        1e-4, GRID, P=P_E / 4, a=2.0, P_E=P_E, n=2.0),
    row("bow of half a sine wave, 30 N*m, a quarter of the buckling load, to be borne twice",
        "columns.column.grown_moment",
        number(beam_column(L, P_E / 2, alike(8e8), lambda x: 30e3 * np.sin(np.pi * x / L), 150.0), "N*mm"),
        1e-4, GRID, M_0=30e3, u_cr=0.25, n=2.0),
    row("three pieces pushed 3 mm off the axis, a quarter of the buckling load, to be borne twice",
        "columns.link.off_axis_moment",
        number(beam_column(L, P_PIECES / 2, stepped, lambda x: np.full_like(x, P_PIECES / 4 * 3.0), 150.0), "N*mm"),
        2e-3, GRID + ", across steps",
        P=P_PIECES / 4, e=3.0, P_E=P_PIECES, x=150.0, n=2.0, **PIECES),
    row("three pieces, 500 N at the middle: what a quarter of the buckling load adds, to be borne twice",
        "columns.link.added_by_push",
        number(beam_column(L, P_PIECES / 2, stepped, mid_load(500.0, L), 150.0) - 500.0 * L / 4, "N*mm"), 3e-3,
        GRID + ", across steps",
        F=500.0, P=P_PIECES / 4, P_E=P_PIECES, x=150.0, n=2.0, **PIECES),
    hand("Perry's factor of a bow of 2 mm: 2 · 12 · 200/20 000", "columns.column.bow_factor", "2 * 12 * 200 / 20000", "-",
        a=2.0, c=12.0, A=200.0, I_e=20000.0),
    row("bow that brings 200 mm² to 300 MPa, η = 0.24, Euler 80 kN: (F - σ)(σ_E - σ) = η σ_E σ",
        "columns.column.perry_robertson_load",
        number(200.0 * brentq(lambda s: (300.0 - s) * (400.0 - s) - 0.24 * 400.0 * s, 0.0, 300.0), "N"), 1e-5,
        "the equation solved by bisection",
        P_E=80e3, A=200.0, F_y=300.0, eta=0.24),
)  # fmt: skip

test_walls = table(
    "NASA SP-8007 (1968), Buckling of Thin-Walled Circular Cylinders", BY_HAND,
    hand("r/t = 100", "columns.wrinkling.wall_knock_down", "1 - 0.901 * (1 - exp(-sqrt(100) / 16))", "-", r=50.0, t=0.5),
    hand("aluminium, r/t = 400, elastic", "columns.wrinkling.wall_buckling_stress",
        "(1 - 0.901 * (1 - exp(-sqrt(400) / 16))) * 70e3 / 400 / sqrt(3 * (1 - 0.3**2))", "MPa",
         E=70e3, r=200.0, t=0.5, F_cy=400.0),
)  # fmt: skip


def cone(taper, d, D):
    """Plain length that twists as a cone: the integral of (d/x)^4."""
    return quad(lambda x: (d / (d + (D - d) * x / taper)) ** 4, 0.0, taper)[0]


def arm(degrees):
    """Force on a 300 mm arm that starts 20° below level on a bar of 40 N m/rad [N]."""
    return spring.arm_force(
        k=40e3, theta=np.radians(degrees + 20.0), R=300.0, phi=np.radians(degrees)
    )


SLOPE = (arm(10.001) - arm(9.999)) / (
    300.0 * (np.sin(np.radians(10.001)) - np.sin(np.radians(9.999)))
)

test_springs = table(
    "SAE HS-796, Spring Design Manual: torsion bars", CLOSED_FORM,
    row("taper of 30 from 20 to 28 mm", "shafts.torsion_bar.taper_length", number(cone(30.0, 20.0, 28.0), "mm"), 1e-5, "quadrature",
        taper=30.0, d=20.0, D=28.0),
    row("rate at the arm, 10° above level: slope of the force", "shafts.torsion_bar.arm_rate", number(SLOPE, "N/mm"), 1e-5,
        "a difference over 0.002°",
        k=40e3, theta="30 deg", R=300.0, phi="10 deg"),
    hand("work from 20° below to 10° above, torque times half the angle", "shafts.torsion_bar.stored_energy",
        "40e3 * (30 * deg) * (30 * deg) / 2", "N*mm", k=40e3, theta="30 deg"),
    hand("force: torque over the level arm", "shafts.torsion_bar.arm_force", "40e3 * 30 * deg / (300 * cos(10 * deg))", "N", k=40e3,
        theta="30 deg", R=300.0, phi="10 deg"),
    hand("bar of 40 and arm of 160 N/mm", "shafts.torsion_bar.rate_in_series", "40 * 160 / (40 + 160)", "N/mm", c_1=40.0,
        c_2=160.0),
    hand("share of 0.45 of 1800 MPa", "shafts.torsion_bar.allowable_shear", "0.45 * 1800", "MPa", S_ut=1800.0, c=0.45),
)  # fmt: skip

ROUND = figures.circle(20.0)

test_sections = table(
    "Boresi and Schmidt, Advanced Mechanics of Materials: bending and torsion", CLOSED_FORM,
    row("round of 20 mm, 100 N m of bending and 150 N m of torque", "section.stress.von_mises",
        number(np.hypot(32e5 / (np.pi * 8000.0), np.sqrt(3.0) * 16 * 1.5e5 / (np.pi * 8000.0)), "MPa"), 1e-3,
        "points along the edge",
        read=lambda peak: peak.von_mises, figure=ROUND, resultants=stress.Resultants(T=1.5e5, My=1e5)),
    row("strip of 40 by 4 mm: J = b t³/3 (1 - 0.630 t/b)", "section.strips.strip_torsion",
        number(40 * 64 / 3 * (1 - 0.630 * 0.1), "mm^4"), 1e-2, "for ranking, within 1 %",
        read=lambda got: got.J, breadth=np.array([40.0]), thickness=np.array([4.0]), clearance=np.array([0.1])),
)  # fmt: skip
