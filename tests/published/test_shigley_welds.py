"""Shigley, Mechanical Engineering Design, 9th ed., chapter 9: welds; from memory."""

import numpy as np
from evidence import example

from parts.strength import weld, weldline
from parts.strength.weldline import line, polyline

SHIGLEY = "Shigley, Mechanical Engineering Design, 9th ed., "
INCH, LBF = 25.4, 4.4482216

# Example 9-1: 6 mm fillet along three sides of 56 by 190 mm, 25 kN on each of two welds, 100 mm off
# the long side. The book works with 0.707 h for the throat and rounds on the way.
CHANNEL = polyline([[56.0, 0.0], [0.0, 0.0], [0.0, 190.0], [56.0, 190.0]])


def stress_of_example_9_1(station: int) -> float:
    load = np.array([0.0, -25.0e3, 0.0])
    q = weld.line_force(CHANNEL, load, np.zeros(3), np.array([-100.0, 95.0, 0.0]))
    return weld.throat_stress(q, 6.0)[station]


@example(
    method="parts.strength.weldline.unit_inertia",
    source=SHIGLEY + "Example 9-1, polar second moment of the throat; from memory",
    published=7.07e6,
    unit="mm^4",
    tolerance=0.0009,
    why="printed to three figures; the book's 0.707 for the throat adds 0.02 %",
)
def test_polar_moment_of_example_9_1():
    return weldline.unit_inertia(CHANNEL)[2, 2] * 6.0 / np.sqrt(2.0)


@example(
    method="parts.strength.weld.throat_stress",
    source=SHIGLEY + "Example 9-1, points A and B (open ends); from memory",
    published=37.0,
    unit="MPa",
    tolerance=0.005,
    why="vectors rounded to three figures before they are added",
)
def test_open_ends_of_example_9_1():
    return stress_of_example_9_1(0)


@example(
    method="parts.strength.weld.throat_stress",
    source=SHIGLEY + "Example 9-1, points C and D (corners); from memory",
    published=43.9,
    unit="MPa",
    tolerance=0.005,
    why="vectors rounded to three figures before they are added",
)
def test_corners_of_example_9_1():
    return stress_of_example_9_1(2)


@example(
    method="parts.strength.weld.line_force",
    source=SHIGLEY + "Example 9-4, cantilever on two 2 in fillets, 500 lbf at 6 in; from memory",
    published=8.51,
    unit="kpsi",
    tolerance=0.002,
    why="the book rounds I_u and I to three figures on the way",
)
def test_cantilever_of_example_9_4():
    two = line([0.0, 0.0], [0.0, 2.0 * INCH]) + line([9.525, 0.0], [9.525, 2.0 * INCH])
    load = np.array([0.0, -500.0 * LBF, 0.0])
    q = weld.line_force(two, load, np.zeros(3), np.array([9.525 / 2, INCH, 6.0 * INCH]))
    return weld.throat_stress(q, 0.375 * INCH).max() / (LBF / INCH**2) / 1e3
