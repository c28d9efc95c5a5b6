"""How the prover's error falls as its elements become smaller: benchmarks on meshes that are refined all over.

Each study solves one benchmark on a mesh and on ever finer ones, every element divided. The rate is the slope of the
error over the cube root of the number of unknowns, that is over the size of the elements: 2 is what second-order
elements can do in the energy norm where the solution is smooth.
"""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import solids

from parts.proof.elastic import Solid, Solved, solve
from parts.proof.mesh import Meshed, meshed
from parts.proof.refine import refined


@dataclass(frozen=True)
class Level:
    """One mesh of a study: unknowns, what was found, how far off it is [-], and the rate since the mesh before."""

    unknowns: int
    found: float
    error: float
    rate: float | None


@dataclass(frozen=True)
class Study:
    """A benchmark on ever finer meshes; `exact` is what it goes to, and `least` the rate that the tests ask for, None
    where no rate is to be expected and the error alone counts."""

    name: str
    what: str
    unit: str
    source: str
    exact: float
    least: float | None
    setup: Callable[[], tuple[Any, Solid]]
    read: Callable[[Solved], float]
    in_energy: bool
    levels: int = 3
    coarsest: int = 0


def energy(solved: Solved) -> float:
    """Strain energy [N*mm]: half the work of the loads."""
    import ngsolve as ng

    return 0.5 * float(ng.InnerProduct(solved.loads[0].vec, solved.moved[0].vec))


def at(place: tuple[float, float, float], component: int) -> Callable[[Solved], float]:
    """A stress [MPa], smoothed, at the point of the mesh nearest to a place."""

    def read(solved: Solved) -> float:
        from parts.proof.field import fields

        (found,) = fields(solved)
        away = ((found.places.reshape(-1, 3) - np.asarray(place)) ** 2).sum(axis=1)
        return float(found.smooth.reshape(-1, 6)[np.argmin(away), component])

    return read


@functools.cache
def levels(study: Study, order: int = 2) -> tuple[Level, ...]:
    """Solve a study on all its meshes."""
    solid, held = study.setup()
    mesh: Meshed = meshed(solid, coarsest=study.coarsest)
    found: list[Level] = []
    for k in range(study.levels):
        mesh = refined(mesh, np.ones(mesh.mesh.ne), 1.0) if k else mesh
        solved = solve(mesh, held, order)
        value = study.read(solved)
        error = abs(value / study.exact - 1.0)
        error = float(np.sqrt(error)) if study.in_energy else error
        rate = None
        if found:
            finer = np.log(solved.unknowns / found[-1].unknowns) / 3.0
            rate = float(np.log(found[-1].error / error) / finer)
        found.append(Level(solved.unknowns, value, error, rate))
    return tuple(found)


def _tube_energy() -> float:
    """Lamé's tube in plane strain: half of pressure times wall times displacement of the wall, a quarter, 20 long."""
    a, b, p, E, nu = 20.0, 40.0, 100.0, solids.STEEL.E, solids.STEEL.nu
    moved = (1 + nu) * p * a / (E * (b**2 - a**2)) * ((1 - 2 * nu) * a**2 + b**2)
    return 0.5 * p * moved * (np.pi * a / 2.0 * 20.0)


def _beam_energy() -> float:
    """Timoshenko's cantilever at ν = 0: bending and shear."""
    P, L, E, I, A = 1000.0, 200.0, 210e3, 10.0 * 40.0**3 / 12.0, 400.0  # noqa: E741
    return P**2 * L**3 / (6.0 * E * I) + 1.2 * P**2 * L / (2.0 * E / 2.0 * A)


GOODIER = "Timoshenko and Goodier, Theory of Elasticity, 3rd ed."
NAFEMS = "NAFEMS, The Standard NAFEMS Benchmarks, rev. 3"
STUDIES = (
    Study("thick cylinder", "strain energy", "N·mm", f"{GOODIER}, article 28", _tube_energy(), 1.8,
          solids.tube_held, energy, True),
    Study("cantilever with shear", "strain energy", "N·mm", f"{GOODIER}, article 21, from memory", _beam_energy(), 1.8,
          solids.cantilever_held, energy, True, coarsest=3),
    Study("elliptic membrane", "stress at D", "MPa", f"{NAFEMS}, test LE1", 92.7, None,
          solids.le1_held, at((2000.0, 0.0, 0.0), 1), False),
    Study("thick plate", "stress at D", "MPa", f"{NAFEMS}, test LE10", -5.38, None,
          solids.le10_held, at((2000.0, 0.0, 600.0), 1), False),
)  # fmt: skip


HEAD = """## How the error falls with the size of the elements

Every element divided, from mesh to mesh, second-order elements. The rate is the slope of the error over the cube root
of the number of unknowns. The error of a strain energy is that in the energy norm, the square root of the
energy's own; second-order elements make it fall with the square of their size. Stresses at a point are held against
three printed figures, and LE10 is held by a line that is singular: they settle, and no rate is asked of them."""


def section() -> str:
    """The table of all studies."""
    columns = ("benchmark", "source", "goes to", "unknowns", "found", "off", "rate")
    lines = [HEAD, "", _line(columns), _line(["---"] * len(columns))]
    for study in STUDIES:
        for level in levels(study):
            rate = "" if level.rate is None or study.least is None else f"{level.rate:.2f}"
            lines.append(_line((
                f"{study.name}, {study.what}", study.source, f"{study.exact:.6g} {study.unit}", str(level.unknowns),
                f"{level.found:.6g}", f"{100.0 * level.error:.2g} %", rate,
            )))  # fmt: skip
    return "\n".join([*lines, ""])


def _line(cells: tuple[str, ...] | list[str]) -> str:
    return "| " + " | ".join(cells) + " |"
