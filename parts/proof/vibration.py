"""First buckling factors and natural frequencies, by a Krylov space on the factored stiffness."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.proof.elastic import Solved

BLOCK = 3
"""Vectors that are pushed on at a time: as many equal frequencies as a round piece may have, and one."""
STEPS = 12
SETTLED = 1e-3
"""Change of the values [-] from one step to the next at which they are settled."""
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
