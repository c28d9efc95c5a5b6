"""The prover's benchmarks: finite elements on solids against published answers and closed forms."""

import functools

import numpy as np
import pytest
import solids
from evidence import BESIDE, CLOSED_FORM, ELEMENTS, FROM_MEMORY, module, row, table

cut, motion = module("cutting").cut, module("field").motion
buckling, frequencies = module("vibration").buckling, module("vibration").frequencies
settled = functools.partial(row, method="refine.settle")
BEAM = "the published answers are of beam theory"
BAR = 20.0 * 10.0**3 / 12.0  # I of the built-in bar of 20 by 10 by 400 mm [mm^4]


def end_of(beam, case, component):
    found, faces = beam()
    return motion(found.solved, case, faces[1]).shift[component]


def cantilever_tip():
    found, faces = solids.cantilever()
    root, end = (motion(found.solved, 0, f) for f in faces)
    return end.shift[2] - root.shift[2] + root.turn[1] * 200.0


def twist():
    """J/a⁴ of the middle stretch, away from the ends where the torque comes in."""
    found = solids.twisted_bar().fields[0]
    turns = []
    for x in (-20.0, 20.0):
        near = np.abs(found.places[..., 0] - x) < 4.0
        p, u = found.places[near], found.moved[near]
        weight = p[:, 1] ** 2 + p[:, 2] ** 2
        turned = (p[:, 1] * u[:, 2] - p[:, 2] * u[:, 1]).sum() / weight.sum()
        turns.append((turned, np.average(p[:, 0], weights=weight)))
    rate = (turns[1][0] - turns[0][0]) / (turns[1][1] - turns[0][1])
    return 1e5 / (210e3 / 2.6 * rate) / 20.0**4


def moment_in_a_cut():
    found = solids.cantilever()[0].fields[0]
    return -cut(found, (80.0, 0.0, 0.0), np.eye(3)).resultants((0.0, 0.0))["My"]


def stress_at(solved, place, component):
    return solids.at_point(solved, 0, place)[component]


test_nafems = table(
    "NAFEMS, The Standard NAFEMS Benchmarks, rev. 3 (1990)", FROM_MEMORY,
    settled("LE1: elliptic membrane, stress at D", printed="92.7 MPa", off=0.01,
        why="three dimensions where the test has plane stress",
            work=lambda: stress_at(solids.le1(), (2000, 0, 0), 1)),
    settled("LE10: thick plate, stress at D", printed="-5.38 MPa", off=0.03,
        why="a corner of an even mesh with a supported line",
            work=lambda: stress_at(solids.le10(), (2000, 0, 600), 1)),
    section=ELEMENTS,
)  # fmt: skip

test_macneal = pytest.mark.slow(table(
    "MacNeal and Harder, A proposed standard set of problems, Finite Elements in Analysis and Design 1 (1985)",
    FROM_MEMORY,
    settled("twisted beam, load in the plane [in]", printed="5.424e-3 -", off=0.005, why=BEAM,
        work=lambda: end_of(solids.twisted_beam, 0, 0)),
    settled("twisted beam, load out of the plane [in]", printed="1.754e-3 -", off=0.005, why=BEAM,
        work=lambda: end_of(solids.twisted_beam, 1, 1)),
    settled("curved beam, load in the plane [in]", printed="0.08734 -", off=0.015, why=BEAM,
        work=lambda: end_of(solids.curved_beam, 0, 1)),
    settled("curved beam, load out of the plane [in]", printed="0.5022 -", off=0.015, why=BEAM,
        work=lambda: end_of(solids.curved_beam, 1, 2)),
    section=ELEMENTS,
))  # fmt: skip

test_howland = pytest.mark.slow(table(
    "Howland (1930), table in Timoshenko and Goodier, Theory of Elasticity", FROM_MEMORY,
    settled("strip with a hole, d/W = 0.4, on the gross section", printed="3.74 -", off=0.02,
        why="the strip has a thickness",
            work=lambda: stress_at(solids.holed_strip(16.0), (0, 8, 0), 0) / 100.0),
    section=ELEMENTS,
))  # fmt: skip

test_elasticity = pytest.mark.slow(table(
    "Timoshenko and Goodier, Theory of Elasticity, 3rd ed.", CLOSED_FORM,
    settled("article 21: cantilever, P L³/3EI + 6 P L/5 G A at ν = 0", printed="0.243810 mm", off=1e-4,
        why="cubic elements hold this solution exactly", work=cantilever_tip),
    settled("article 28: Lamé's cylinder, hoop stress at the bore", printed="166.667 MPa", off=0.005,
        why="stress at a curved face, smoothed",
            work=lambda: stress_at(solids.thick_tube(), (20, 0, 10), 1)),
    settled("article 109: J of a square bar, 0.1406 a⁴", printed="0.1406 -", off=0.003,
        why="the ends where the torque comes in", work=twist),
    settled("article 109: shear of a square bar, 4.81 T/a³", printed="4.81 -", off=0.01, why="stress at a face",
            work=lambda: abs(stress_at(solids.twisted_bar(), (0, 10, 0), 4)) * 20.0**3 / 1e5),
    section=ELEMENTS,
))  # fmt: skip

test_bars = pytest.mark.slow(table(
    "Timoshenko: stability with Gere, section 2.1; vibration with Young and Weaver, chapter 5; statics", CLOSED_FORM,
    settled("column built in at one end, π² E I/4 L²", printed=f"{np.pi**2 * 210e3 * BAR / 4 / 400.0**2:.6g} N",
        off=0.003, why="the bar's shear and its stiff end",
            work=lambda: 1000.0 * buckling(solids.built_in_bar().solved, 0)[0]),
    settled("frequency of a cantilever, 1.8751² √(EI/ρA)/2πL²",
            printed=f"{1.8751**2 / (2 * np.pi * 400.0**2) * np.sqrt(210e3 * BAR / (7.85e-9 * 200)):.6g} Hz", off=0.003,
            why="rotary inertia and shear",
            work=lambda: frequencies(solids.built_in_bar().solved, 2)[0]),
    settled("moment in a cut through a cantilever", printed="120000 N*mm", off=1e-3,
        why="stress jumps between elements", work=moment_in_a_cut),
    section=ELEMENTS,
))  # fmt: skip

test_lug = pytest.mark.slow(table(
    "this library: `fatigue.notch.pin_lug` at d/W = 0.4", "own formula",
    settled("lug on a pin, peak over the net section",
        printed=f"{float(module('fatigue.notch').pin_lug(16.0, 40.0, 40.0)):.5g} -", off=0.15,
            why="a cosine of pressure in place of a pin with its fit and friction",
            work=lambda: stress_at(solids.lug(16.0), (0, 8, 0), 0) / (1e4 / ((40.0 - 16.0) * 5.0))),
    section=BESIDE,
))  # fmt: skip
