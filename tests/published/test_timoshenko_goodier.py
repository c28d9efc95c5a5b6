"""Timoshenko and Goodier, Theory of Elasticity (3rd ed., 1970; numbers and articles from memory)."""

import numpy as np
from evidence import example

from parts.strength import plate
from parts.strength.outline import circle, rectangle
from parts.strength.torsion import shear_field, torsion

BOOK = "Timoshenko and Goodier, Theory of Elasticity, 3rd ed."
TORSION = f"{BOOK}, torsion of rectangular bars, table of k1 and k; from memory"
FLEXURE = (
    f"{BOOK}, bending of rectangular bars, table of tau_max over 1.5 V/A, nu = 1/4; from memory"
)
SLOPE = "printed to three or four figures, and 0.1 % for a stress read at the edge"


def _constant(a: float, b: float) -> float:
    return float(torsion(rectangle(a, b)).J / (a * b**3))


def _stress(a: float, b: float) -> float:
    return float(1.0 / (torsion(rectangle(a, b)).stress * a * b**2))


def _edge_shear(depth: float, breadth: float) -> float:
    """Vertical shear at the ends of the level axis over 1.5 V/A."""
    field = shear_field(rectangle(breadth, depth), nu=0.25)
    at = np.argmin(np.hypot(field.y - breadth / 2, field.z))
    return float(abs(field.shear[0, 2, at].imag) * breadth * depth / 1.5)


def _middle_shear(depth: float, breadth: float) -> float:
    """Vertical shear at the centroid over 1.5 V/A."""
    field = shear_field(rectangle(breadth, depth), nu=0.25)
    at = np.argmin(np.hypot(field.y, field.z))
    return float(abs(field.shear[0, 2, at].imag) * breadth * depth / 1.5)


@example(
    method="parts.strength.torsion.torsion", source=TORSION, published=0.1406, unit="-",
    tolerance=4e-4, why="printed to four figures",
)  # fmt: skip
def test_constant_of_a_square():
    return _constant(10.0, 10.0)


@example(
    method="parts.strength.torsion.torsion", source=TORSION, published=0.229, unit="-",
    tolerance=2e-3, why="printed to three figures",
)  # fmt: skip
def test_constant_of_a_rectangle_two_to_one():
    return _constant(20.0, 10.0)


@example(
    method="parts.strength.torsion.torsion", source=TORSION, published=0.208, unit="-",
    tolerance=2.5e-3, why=SLOPE,
)  # fmt: skip
def test_stress_of_a_square():
    return _stress(10.0, 10.0)


@example(
    method="parts.strength.torsion.torsion", source=TORSION, published=0.246, unit="-",
    tolerance=2.5e-3, why=SLOPE,
)  # fmt: skip
def test_stress_of_a_rectangle_two_to_one():
    return _stress(20.0, 10.0)


@example(
    method="parts.strength.plate.flat_twist_stress", source=TORSION, published=0.312, unit="-",
    tolerance=0.01, why="the rule 3 + 1.8 t/b is an approximation, 0.8 % off at ten to one",
)  # fmt: skip
def test_stress_of_a_strip_ten_to_one():
    return 1.0 / (float(plate.flat_twist_stress(T=1.0, b=10.0, t=1.0)) * 10.0)


@example(
    method="parts.strength.torsion.shear_field",
    source=f"{BOOK}, bending of a circular bar: 1.38 V/A at the centre for nu = 0.3; from memory",
    published=1.38, unit="-", tolerance=4e-3, why="printed to three figures",
)  # fmt: skip
def test_shear_at_the_centre_of_a_disc():
    field = shear_field(circle(10.0), nu=0.3)
    at = np.argmin(np.hypot(field.y, field.z))
    return float(abs(field.shear[0, 2, at].imag) * np.pi * 25)


@example(
    method="parts.strength.torsion.shear_field", source=FLEXURE, published=1.033, unit="-",
    tolerance=1.5e-3, why=SLOPE,
)  # fmt: skip
def test_edge_of_a_rectangle_twice_as_deep_as_broad():
    return _edge_shear(20.0, 10.0)


@example(
    method="parts.strength.torsion.shear_field", source=FLEXURE, published=1.126, unit="-",
    tolerance=1.5e-3, why=SLOPE,
)  # fmt: skip
def test_edge_of_a_square():
    return _edge_shear(10.0, 10.0)


@example(
    method="parts.strength.torsion.shear_field", source=FLEXURE, published=1.396, unit="-",
    tolerance=1.5e-3, why=SLOPE,
)  # fmt: skip
def test_edge_of_a_rectangle_twice_as_broad_as_deep():
    return _edge_shear(10.0, 20.0)


@example(
    method="parts.strength.torsion.shear_field", source=FLEXURE, published=1.988, unit="-",
    tolerance=1.5e-3, why=SLOPE,
)  # fmt: skip
def test_edge_of_a_rectangle_four_times_as_broad_as_deep():
    return _edge_shear(10.0, 40.0)


@example(
    method="parts.strength.torsion.shear_field", source=FLEXURE, published=0.940, unit="-",
    tolerance=1e-3, why="printed to three figures",
)  # fmt: skip
def test_middle_of_a_square():
    return _middle_shear(10.0, 10.0)


@example(
    method="parts.strength.torsion.shear_field", source=FLEXURE, published=0.805, unit="-",
    tolerance=1e-3, why="printed to three figures",
)  # fmt: skip
def test_middle_of_a_rectangle_four_times_as_broad_as_deep():
    return _middle_shear(10.0, 40.0)
