"""Refinement where the error is: stress smoothed over elements against the elements' own, in energy."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from parts.proof.curving import EDGES, curve, determinants, draw_back, products
from parts.proof.elastic import Solid, Solved, solve, unknowns_of
from parts.proof.errors import ProofError
from parts.proof.field import Field, fields
from parts.proof.mesh import Meshed
from parts.strength.method import method

ESTIMATE = (
    "O. C. Zienkiewicz and J. Z. Zhu, A simple error estimator and adaptive procedure for practical "
    "engineering analysis, Int. J. Numer. Methods Eng. 24 (1987), pp. 337-357"
)
SHARE = 0.75
"""Share of the squared error [-] whose elements are refined at most: bulk marking."""
LEFT, BELOW = 0.3, 0.9
"""Share of its squared error that an element keeps when it is divided, as beside an edge where stress has no limit; and
how far below the aim the next step is to come [-]."""
LEAST = 0.01
"""Share of all elements [-] that are refined at least, worst first: it saves steps at a singular edge."""


FIRST = 3
"""How many times the unknowns allowed the coarsest mesh may have, where small fillets ask for it."""


BASE_MB, MB_EACH, ANY = 700.0, 0.011, 10**9
"""Memory of a process with its libraries, and of each unknown [MB]; measured on the demo's parts, and rounded up."""


@dataclass(frozen=True)
class Aim:
    """When to stop: at an error in the energy norm [-], or at a number of unknowns, of seconds of processor time or of
    steps.

    It states the order of the elements too, the step of the mesher's ladder to start at, and the memory that may be
    taken [MB]; 0 takes as much as there is.

    The strain energy itself is off by the square of the error in its norm: 17 % there are 3 % of the energy.
    """

    error: float = 0.17
    unknowns: int = 200_000
    seconds: float = 120.0
    steps: int = 8
    order: int = 2
    coarsest: int = 0
    memory_mb: int = 0

    @property
    def most(self) -> int:
        """Unknowns that fit into the memory allowed and into the limit."""
        return min(self.unknowns, self.bearable)

    @property
    def bearable(self) -> int:
        """Unknowns that fit into the memory allowed."""
        if not self.memory_mb:
            return ANY
        return max(int((self.memory_mb - BASE_MB) / MB_EACH), 0)


@dataclass(frozen=True)
class Step:
    """One solution on the way: unknowns, error in the energy norm [-] of the worst case, energies [N*mm]."""

    unknowns: int
    elements: int
    error: float
    energies: tuple[float, ...]


@dataclass(frozen=True)
class Settled:
    """The last solution and the first, the last as numbers, the steps, and why it stopped."""

    solved: Solved
    first: Solved
    fields: tuple[Field, ...]
    steps: tuple[Step, ...]
    reached: bool
    stopped: str

    @property
    def error(self) -> float:
        return self.steps[-1].error


@method(
    formula="∫ C ε(u) : ε(v) dV + ∫ k u · v dA = ∫ t · v dA for all v; "
    "‖e‖ = √∫ (σ* - σ) : C⁻¹ (σ* - σ) dV, σ* smooth; refined until ‖e‖/‖u‖ ≤ aim",
    source="displacement method on curved tetrahedra of second or higher order; " + ESTIMATE,
    valid="small displacements, isotropic linear elastic; no contact, no plasticity",
)
def settle(
    meshed: Meshed, solid: Solid, aim: Aim, say: Callable[[str], None] = lambda _: None
) -> Settled:
    """Solve and refine until the aim is reached.

    Args:
        meshed: the mesh to start from; it stays as it is.
        solid: material, supports and loads.
        aim: when to stop.
        say: told of every step.

    Returns:
        The last solution.

    Raises:
        ProofError: the first mesh already has more unknowns than allowed.
    """
    started, steps = time.process_time(), []
    first = unknowns_of(meshed, aim.order)
    order = aim.order if first <= aim.unknowns else 2
    least = unknowns_of(meshed, order)
    if least > aim.bearable:
        raise ProofError(
            f"the coarsest mesh has {least} unknowns, which take some {BASE_MB + least * MB_EACH:.0f} MB where "
            f"{aim.memory_mb} MB are allowed; allow more, or leave out the smallest fillets"
        )
    if least > FIRST * aim.unknowns:
        raise ProofError(
            f"the coarsest mesh has {least} unknowns where {FIRST * aim.unknowns} are allowed; allow more, or "
            "leave out the smallest fillets"
        )
    coarse: Solved | None = None
    while True:
        begun = time.process_time()
        solved = solve(meshed, solid, order)
        coarse = coarse or solved
        found = fields(solved)
        shares, energies = estimate(solved, found)
        error = float(np.sqrt(max(share.sum() for share in shares)))
        steps.append(Step(solved.unknowns, int(meshed.mesh.ne), error, energies))
        say(f"{solved.unknowns} unknowns, error {error:.1%}")
        spent, took = time.process_time() - started, time.process_time() - begun
        stopped = ""
        if error <= aim.error:
            stopped = "error reached"
        elif len(steps) >= aim.steps:
            stopped = f"{aim.steps} steps"
        elif spent + 2.0 * took > aim.seconds:
            stopped = f"limit of {aim.seconds:g} s of processor time"
        else:
            finer = _within(meshed, np.max(shares, axis=0), order, aim, error)
            if finer is None:
                stopped = f"limit of {aim.most} unknowns"
                if aim.most < aim.unknowns:
                    stopped += f", for {aim.memory_mb} MB of memory"
            else:
                meshed = finer
        if stopped:
            return Settled(solved, coarse, found, tuple(steps), error <= aim.error, stopped)


def _within(
    meshed: Meshed, shares: np.ndarray, order: int, aim: Aim, error: float
) -> Meshed | None:
    """The refined mesh, with fewer elements divided where it would have too many unknowns otherwise."""
    # What must go of the squared error, where dividing an element leaves so much of its own.
    bulk = min(SHARE, (1.0 - (BELOW * aim.error / error) ** 2) / (1.0 - LEFT))
    for part in (1.0, 0.5, 0.25):
        finer = refined(meshed, shares, part * bulk)
        if unknowns_of(finer, order) <= aim.most:
            return finer
    return None


def estimate(solved: Solved, found: Sequence[Field]) -> tuple[list[np.ndarray], tuple[float, ...]]:
    """Estimate the error of every load case.

    Args:
        solved: the solution.
        found: the same as numbers.

    Returns:
        For each case the squared error of every element as a share of the strain energy of the case, doubled; and
        the strain energies [N*mm].
    """
    import ngsolve as ng

    stuff = solved.solid.stuff
    weights = products()
    scale = determinants(solved.meshed.nodes.places).mean(axis=1)
    # Shear counts twice in the product of two tensors.
    twice = np.array([1.0, 1.0, 1.0, 2.0, 2.0, 2.0]) * (1.0 + stuff.nu) / stuff.E
    shares, energies = [], []
    for case, one in enumerate(found):
        # Between the corners smooth is taken straight: as the elements' own stress, which it is held against.
        smooth = one.smooth.copy()
        for k, (i, j) in enumerate(EDGES):
            smooth[:, 4 + k] = (smooth[:, i] + smooth[:, j]) / 2.0
        e = smooth - one.raw
        trace = e[..., :3].sum(axis=-1)
        squared = np.einsum("nik,k,nik->n", np.matmul(weights, e), twice, e) - (
            stuff.nu / stuff.E
        ) * np.einsum("ni,ni->n", trace @ weights, trace)
        energy = float(ng.InnerProduct(solved.loads[case].vec, solved.moved[case].vec))
        shares.append(np.maximum(squared * scale, 0.0) / energy)
        energies.append(energy / 2.0)
    return shares, tuple(energies)


def refined(meshed: Meshed, shares: np.ndarray, bulk: float = SHARE) -> Meshed:
    """The mesh with its worst elements divided; a new mesh, the old one stays.

    Args:
        meshed: the mesh.
        shares: squared error of every element.
        bulk: share of the squared error whose elements are divided.

    Returns:
        The finer mesh.
    """
    ranked = np.sort(shares)[::-1]
    count = int(np.searchsorted(np.cumsum(ranked), bulk * ranked.sum()))
    count = max(count, int(LEAST * len(ranked)))
    limit = ranked[min(count, len(ranked) - 1)]
    return divided(meshed, shares >= limit)


def divided(meshed: Meshed, flags: np.ndarray) -> Meshed:
    """The mesh with the elements divided that are flagged, shape (elements,); a new mesh, the old one stays."""
    import ngsolve as ng

    finer = ng.Mesh(meshed.mesh.ngmesh.Copy())
    for element in finer.Elements(ng.VOL):
        finer.SetRefinementFlag(element, bool(flags[element.nr]))
    finer.Refine()
    draw_back(finer)
    return replace(meshed, mesh=finer, nodes=curve(finer))
