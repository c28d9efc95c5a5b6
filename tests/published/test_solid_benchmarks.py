"""The prover's own benchmarks: finite elements on solids against published answers and closed forms.

The answers of NAFEMS and of MacNeal and Harder are those that these benchmarks are known by; they were met in
secondary sources or are from memory, as each row says.
"""

import functools

import numpy as np
import solids
from evidence import example

from parts.proof.cutting import cut
from parts.proof.field import field, motion
from parts.proof.vibration import buckling, frequencies
from parts.strength.notch import hole_in_strip, pin_lug

finite_elements = functools.partial(example, method="parts.proof.refine.settle")
NAFEMS = "NAFEMS, The Standard NAFEMS Benchmarks, rev. 3 (1990), as quoted by users of it"
GOODIER = "S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed."
HOWLAND = float(hole_in_strip(16.0, 40.0))
LUG = float(pin_lug(16.0, 40.0, 40.0))


@finite_elements(
    source=f"{NAFEMS}, test LE10: -5.38 MPa at D",
    published=-5.38, unit="MPa", tolerance=0.03,
    why="a corner of an even mesh with a supported line: NAFEMS' own spread of meshes is a few per cent",
)  # fmt: skip
def test_nafems_le10_thick_plate():
    return solids.at_point(solids.le10(), 0, (2000, 0, 600))[1]


@finite_elements(
    source=f"{NAFEMS}, test LE1: 92.7 MPa at D",
    published=92.7, unit="MPa", tolerance=0.01, why="three dimensions where the test has plane stress",
)  # fmt: skip
def test_nafems_le1_elliptic_membrane():
    return solids.at_point(solids.le1(), 0, (2000, 0, 0))[1]


MACNEAL = (
    "R. H. MacNeal and R. L. Harder, A proposed standard set of problems to test finite element accuracy, "
    "Finite Elements in Analysis and Design 1 (1985); from memory"
)
BEAM = "the published answers are of beam theory"


@finite_elements(
    source=f"{MACNEAL}: twisted beam, load in the plane", published=5.424e-3, unit="in", tolerance=0.005, why=BEAM
)  # fmt: skip
def test_twisted_beam_in_plane():
    found, faces = solids.twisted_beam()
    return motion(found, 0, faces[1]).shift[0]


@finite_elements(
    source=f"{MACNEAL}: twisted beam, load out of the plane", published=1.754e-3, unit="in", tolerance=0.005, why=BEAM
)  # fmt: skip
def test_twisted_beam_out_of_plane():
    found, faces = solids.twisted_beam()
    return motion(found, 1, faces[1]).shift[1]


@finite_elements(
    source=f"{MACNEAL}: curved beam, load in the plane", published=0.08734, unit="in", tolerance=0.015, why=BEAM
)  # fmt: skip
def test_curved_beam_in_plane():
    found, faces = solids.curved_beam()
    return motion(found, 0, faces[1]).shift[1]


@finite_elements(
    source=f"{MACNEAL}: curved beam, load out of the plane", published=0.5022, unit="in", tolerance=0.015, why=BEAM
)  # fmt: skip
def test_curved_beam_out_of_plane():
    found, faces = solids.curved_beam()
    return motion(found, 1, faces[1]).shift[2]


@finite_elements(
    source="Howland's solution, Peterson's Stress Concentration Factors, Chart 4.1, d/W = 0.4, from memory",
    published=HOWLAND, unit="-", tolerance=0.02, why="the chart's polynomial is a fit; the strip has a thickness",
)  # fmt: skip
def test_strip_with_hole():
    sigma = solids.at_point(solids.holed_strip(16.0), 0, (0, 8, 0))[0]
    return sigma / (100.0 / (1.0 - 0.4))


@finite_elements(
    source="Peterson's Stress Concentration Factors, Chart 4.67 (Frocht and Hill), d/W = 0.4, from memory",
    published=LUG, unit="-", tolerance=0.15,
    why="a cosine of pressure in place of the photoelastic pin, whose fit and friction the chart holds",
)  # fmt: skip
def test_lug_on_a_pin():
    sigma = solids.at_point(solids.lug(16.0), 0, (0, 8, 0))[0]
    return sigma / (1e4 / ((40.0 - 16.0) * 5.0))


@finite_elements(
    source=f"{GOODIER}, article 21, from memory; at ν = 0 P L³/3EI + 6 P L/5 G A",
    published=1e3 * 200.0**3 / (3 * 210e3 * 10 * 40**3 / 12) + 1.2 * 1e3 * 200.0 / (105e3 * 400),
    unit="mm", tolerance=1e-4, why="cubic elements hold this solution exactly",
)  # fmt: skip
def test_cantilever_with_shear():
    found, faces = solids.cantilever()
    root, end = (motion(found, 0, f) for f in faces)
    return end.shift[2] - root.shift[2] + root.turn[1] * 200.0


@finite_elements(
    source=f"{GOODIER}, article 28, Lamé's cylinder: hoop stress at the bore",
    published=100.0 * (40.0**2 + 20.0**2) / (40.0**2 - 20.0**2), unit="MPa", tolerance=0.005,
    why="stress at a curved face, smoothed",
)  # fmt: skip
def test_thick_cylinder():
    return solids.at_point(solids.thick_tube(), 0, (20, 0, 10))[1]


@finite_elements(
    source=f"{GOODIER}, article 109: J = 0.1406 a⁴ of a square bar",
    published=0.1406, unit="-", tolerance=0.003, why="the factor is printed to four figures",
)  # fmt: skip
def test_twist_of_a_square_bar():
    found = field(solids.twisted_bar(), 0)
    # Turn of the middle stretch, away from the ends where the torque comes in.
    turns = []
    for x in (-20.0, 20.0):
        near = np.abs(found.places[..., 0] - x) < 4.0
        p, u = found.places[near], found.moved[near]
        weight = p[:, 1] ** 2 + p[:, 2] ** 2
        turned = (p[:, 1] * u[:, 2] - p[:, 2] * u[:, 1]).sum() / weight.sum()
        turns.append((turned, np.average(p[:, 0], weights=weight)))
    rate = (turns[1][0] - turns[0][0]) / (turns[1][1] - turns[0][1])
    return 1e5 / (210e3 / 2.6 * rate) / 20.0**4


@finite_elements(
    source=f"{GOODIER}, article 109: 4.81 T/a³ in the middle of a side",
    published=4.81, unit="-", tolerance=0.01, why="the factor is printed to three figures; stress at a face",
)  # fmt: skip
def test_shear_of_a_twisted_square_bar():
    return abs(solids.at_point(solids.twisted_bar(), 0, (0, 10, 0))[4]) * 20.0**3 / 1e5


@finite_elements(
    source="Euler's column, one end built in: F = π² E I / 4 L² (Timoshenko and Gere, 2nd ed., section 2.1)",
    published=np.pi**2 * 210e3 * 20 * 10**3 / 12 / 4 / 400.0**2, unit="N", tolerance=0.003,
    why="the bar's shear and its stiff end",
)  # fmt: skip
def test_column():
    return 1000.0 * buckling(solids.built_in_bar().solved, 0)[0]


@finite_elements(
    source="1.8751² √(EI/ρA)/2πL²: Weaver, Timoshenko, Young, Vibration Problems in Engineering, 5th ed., chapter 5, "
    "from memory",
    published=1.8751**2 / (2 * np.pi * 400.0**2) * np.sqrt(210e3 * 20 * 10**3 / 12 / (7.85e-9 * 200)),
    unit="Hz", tolerance=0.003, why="rotary inertia and shear, left out by the formula",
)  # fmt: skip
def test_frequency_of_a_cantilever():
    return frequencies(solids.built_in_bar().solved, 2)[0]


@finite_elements(
    source="statics: the moment in a cantilever is the load times its lever", published=1000.0 * 120.0,
    unit="N*mm", tolerance=1e-3, why="a cut through the elements, whose stress jumps between them",
)  # fmt: skip
def test_moment_in_a_cut():
    found = field(solids.cantilever()[0], 0)
    return -cut(found, (80.0, 0.0, 0.0), np.eye(3)).resultants((0.0, 0.0))["My"]
