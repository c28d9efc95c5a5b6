"""First buckling factors and natural frequencies, by subspace iteration on the factored stiffness."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.proof.elastic import Solved

ITERATIONS = 40
SPARE = 3
"""Vectors beyond those asked for: they make the asked ones settle sooner."""
SETTLED = 1e-3
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
    """Largest eigenvalues of K⁻¹ M by size, positive ones first."""
    import ngsolve as ng

    k = solved.stiffness.mat
    wide = count + SPARE
    vectors = ng.MultiVector(k.CreateColVector(), wide)
    rng = np.random.default_rng(0)
    for one in vectors:
        one.FV().NumPy()[:] = rng.standard_normal(len(one))
        moved = one.CreateVector()
        moved.data = solved.inverse * one
        one.data = moved
    last = np.zeros(count)
    values = last
    for _ in range(ITERATIONS):
        stiff = _gram(vectors, k)
        heavy = _gram(vectors, matrix)
        # Cholesky's factor turns the small problem into an ordinary one.
        low = np.linalg.cholesky((stiff + stiff.T) / 2.0)
        inner = np.linalg.solve(low, np.linalg.solve(low, (heavy + heavy.T) / 2.0).T)
        found, shape = np.linalg.eigh((inner + inner.T) / 2.0)
        order = np.argsort(-np.abs(found))
        mix = np.linalg.solve(low.T, shape[:, order])
        vectors = _mixed(vectors, mix)
        values = found[order]
        positive = np.sort(values[values > 0.0])[::-1][:count]
        if len(positive) == count and np.allclose(positive, last, rtol=SETTLED, atol=0.0):
            return np.asarray(positive)
        last = positive if len(positive) == count else np.zeros(count)
        for one in vectors:
            pushed = one.CreateVector()
            pushed.data = matrix * one
            one.data = solved.inverse * pushed
    return np.sort(values[values > 0.0])[::-1][:count]


def _gram(vectors: Any, matrix: Any) -> np.ndarray:
    import ngsolve as ng

    pushed = []
    for one in vectors:
        to = one.CreateVector()
        to.data = matrix * one
        pushed.append(to)
    return np.array([[float(ng.InnerProduct(a, b)) for b in pushed] for a in vectors])


def _mixed(vectors: Any, mix: np.ndarray) -> Any:
    import ngsolve as ng

    out = ng.MultiVector(vectors[0], len(vectors))
    stack = np.stack([one.FV().NumPy() for one in vectors], axis=1) @ mix
    for i, one in enumerate(out):
        one.FV().NumPy()[:] = stack[:, i]
    return out
