"""Blodgett, Design of Welded Structures, section 7.4: a weld treated as a line; from memory."""

import numpy as np
from evidence import example

from parts.strength import weld, weldline
from parts.strength.weldline import polyline

BLODGETT = "Blodgett, Design of Welded Structures, 7.4, Problem 1; from memory"

# A bracket's fillet along three sides, 5 by 10 in, 18 000 lbf at 10 in from the weld's centroid.
BRACKET = polyline([[5.0, 0.0], [0.0, 0.0], [0.0, 10.0], [5.0, 10.0]])


@example(
    method="parts.strength.weldline.unit_inertia",
    source=BLODGETT + ": polar moment of the line",
    published=385.9,
    unit="in^3",
    tolerance=0.002,
    why="the book's own formula gives 385.4 exactly: worked by slide rule",
)
def test_polar_moment_of_the_bracket():
    return weldline.unit_inertia(BRACKET)[2, 2]


@example(
    method="parts.strength.weld.line_force",
    source=BLODGETT + ": resultant at the far corner",
    published=3540.0,
    unit="lbf/in",
    tolerance=0.003,
    why="three figures, from parts worked by slide rule (2340 for 2335 lbf/in)",
)
def test_resultant_of_the_bracket():
    far = np.array([weldline.centroid(BRACKET)[0] + 10.0, 5.0, 0.0])
    q = weld.line_force(BRACKET, np.array([0.0, -18.0e3, 0.0]), np.zeros(3), far)
    return np.linalg.norm(q, axis=-1).max()
