"""First buckling factors and natural frequencies, by a Krylov space on the factored stiffness."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from parts.proof.elastic import Solid, Solved, solve, unknowns_of
from parts.proof.mesh import Meshed
from parts.proof.refine import Aim

BLOCK = 3
"""Vectors that are pushed on at a time: as many equal frequencies as a round piece may have, and one."""
STEPS = 12
SETTLED = 1e-3
"""Change of the values [-] from one step to the next at which they are settled."""
ORDERS, STAYS = (2, 3, 4, 5), 0.04
"""Orders of the elements that are tried for buckling, and by how much [-] the factors may change in the last step."""
TONNE = 1e-3
"""N, mm and s want the mass in tonnes, t = 1000 kg."""


def frequencies(solved: Solved, count: int = 3) -> np.ndarray:
    """First natural frequencies of the piece on its supports.

    Args:
        solved: a solution; the density of its material counts.
        count: how many.

    Returns:
        [Hz] the frequencies, the lowest first.
    """
    import ngsolve as ng

    u, v = solved.space.TnT()
    mass = ng.BilinearForm(solved.space, symmetric=True)
    mass += solved.solid.stuff.density * TONNE * u * v * ng.dx
    mass.Assemble()
    values = _largest(solved, mass.mat, count)
    return np.sqrt(1.0 / values[values > 0.0]) / (2.0 * np.pi)


def buckling(solved: Solved, case: int, count: int = 1) -> np.ndarray:
    """First buckling factors: how many times the loads of a case make the piece buckle.

    Args:
        solved: a solution.
        case: number of the load case.
        count: how many.

    Returns:
        [-] the factors that are positive, the least first; none where the loads stretch it all over.
    """
    import ngsolve as ng

    u, v = solved.space.TnT()
    stress = solved.stress(case)
    geometric = ng.BilinearForm(solved.space, symmetric=True)
    geometric += -ng.InnerProduct(ng.Grad(u) * stress, ng.Grad(v)) * ng.dx
    geometric.Assemble()
    values = _largest(solved, geometric.mat, count)
    return 1.0 / values[values > 1e-9]


def buckling_factors(
    meshed: Meshed, solid: Solid, aim: Aim, say: Callable[[str], None] = lambda _: None
) -> dict[int, float] | None:
    """First buckling factor of every load case that makes the piece buckle.

    The mesh stays; the order of its elements rises until the factors stay. Elements of low order are far too stiff
    against waves in a thin plate, and the mesh is refined for what the loads do in its plane alone.

    Args:
        meshed: the first mesh of the piece.
        solid: material, supports and loads, with what keeps the piece from swaying.
        aim: how many unknowns may be taken.
        say: told of every step.

    Returns:
        [-] the factor by number of the load case; cases that stretch the piece all over are left out. None where the
        factors did not settle within the unknowns allowed.
    """
    last: dict[int, float] = {}
    for order in ORDERS:
        if unknowns_of(meshed, order) > aim.most:
            return None
        solved = solve(meshed, solid, order)
        rows = {k: buckling(solved, k) for k in range(len(solid.cases))}
        now = {k: float(row[0]) for k, row in rows.items() if len(row)}
        say(f"buckling, order {order}: {', '.join(f'{v:.2f}' for v in now.values())}")
        if now.keys() == last.keys() and all(abs(last[k] - v) < STAYS * v for k, v in now.items()):
            return now
        last = now
    return None


def _largest(solved: Solved, matrix: Any, count: int) -> np.ndarray:
    """Largest eigenvalues of K⁻¹ M by size, positive ones only, by a block Krylov space, orthonormal in K."""
    k = solved.stiffness.mat
    n = int(solved.unknowns)
    block = _solved(solved, np.random.default_rng(0).standard_normal((BLOCK, n)))
    basis, pushed = np.zeros((0, n)), np.zeros((0, n))
    last = np.zeros(count)
    for _ in range(STEPS):
        for _ in range(2):  # once is not enough in rounded arithmetic
            block = block - (_times(k, block) @ basis.T) @ basis
        low = np.linalg.cholesky(_symmetric(block @ _times(k, block).T))
        block = np.linalg.solve(low, block)
        basis = np.concatenate([basis, block])
        pushed = np.concatenate([pushed, _times(matrix, block)])
        values = np.linalg.eigvalsh(_symmetric(basis @ pushed.T))
        positive = np.sort(values[values > 0.0])[::-1][:count]
        if len(positive) == count == len(last) and np.allclose(
            positive, last, rtol=SETTLED, atol=0.0
        ):
            break
        last = positive
        block = _solved(solved, pushed[-BLOCK:])
    return np.asarray(positive)


def _symmetric(matrix: np.ndarray) -> np.ndarray:
    return np.asarray((matrix + matrix.T) / 2.0)


def _times(matrix: Any, rows: np.ndarray) -> np.ndarray:
    """A matrix of the solver on vectors, row by row."""
    source, target = matrix.CreateColVector(), matrix.CreateColVector()
    out = np.empty_like(rows)
    for row, to in zip(rows, out, strict=True):
        source.FV().NumPy()[:] = row
        target.data = matrix * source
        to[:] = target.FV().NumPy()
    return out


def _solved(solved: Solved, rows: np.ndarray) -> np.ndarray:
    """The displacements under vectors of forces, row by row."""
    return _times(solved.inverse, rows)
