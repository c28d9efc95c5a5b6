"""Beer & Johnston, Mechanics of Materials (5th ed.; example numbers from memory)."""

import math

from evidence import example

from parts.strength import spring


@example(
    method="parts.strength.spring.torque_at_twist",
    source="Beer & Johnston, Mechanics of Materials, 5th ed., Example 3.02, from memory",
    published=1.829e6,
    unit="N*mm",
    tolerance=5e-4,
    why="printed to four figures",
)
def test_torque_for_two_degrees_in_a_hollow_shaft():
    return spring.torque_at_twist(math.radians(2.0), d=60.0, L=1500.0, G=77_000.0, d_i=40.0)


@example(
    method="parts.strength.spring.shear_stress",
    source="Beer & Johnston, Mechanics of Materials, 5th ed., Example 3.01, from memory",
    published=120.0,
    unit="MPa",
    tolerance=2e-3,
    why="torque printed as 4.08 kN*m, three figures",
)
def test_largest_torque_of_a_hollow_shaft():
    return spring.shear_stress(4.08e6, d=60.0, d_i=40.0)


THETA = 148.3e-3  # printed twist under 4.60 kN*m, past yield
SHAFT = {"d": 50.0, "L": 1200.0, "G": 77_000.0, "tau_y": 150.0}


@example(
    method="parts.strength.spring.preset_torque",
    source="Beer & Johnston, Mechanics of Materials, 5th ed., Example 3.08, from memory",
    published=4.60e6,
    unit="N*mm",
    tolerance=1e-3,
    why="twist printed to four figures, torque to three",
)
def test_torque_of_a_partly_yielded_shaft():
    return spring.preset_torque(THETA, **SHAFT)


@example(
    method="parts.strength.spring.permanent_set",
    source="Beer & Johnston, Mechanics of Materials, 5th ed., Example 3.09, from memory",
    published=1.81,
    unit="deg",
    tolerance=5e-3,
    why="printed as the difference 8.50 - 6.69, each rounded to 0.01 deg",
)
def test_permanent_twist_after_unloading():
    return math.degrees(spring.permanent_set(THETA, **SHAFT))


@example(
    method="parts.strength.spring.residual_stress",
    source="Beer & Johnston, Mechanics of Materials, 5th ed., Example 3.09, from memory",
    published=-37.3,
    unit="MPa",
    tolerance=5e-3,
    why="printed as the difference of 150 and 187.3",
)
def test_residual_stress_after_unloading():
    return spring.residual_stress(THETA, **SHAFT)
