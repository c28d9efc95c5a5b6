"""Which numbers decide: Sobol indices of first order and in total."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

AGAIN = 200
"""Resamples by which the error of an index is found."""


@dataclass(frozen=True)
class Index:
    """How much of the variance of a result one number, or a group of them, decides.

    `first` is its share alone, `total` with all that it does together with others [-]; each with its half width at 95
    %. `numbers` is how many are moved together.
    """

    name: str
    first: float
    first_error: float
    total: float
    total_error: float
    numbers: int = 1


def sobol(
    of: Callable[[np.ndarray], np.ndarray],
    groups: Sequence[tuple[str, Sequence[int]]],
    inputs: int,
    count: int,
) -> tuple[Index, ...]:
    """Sobol indices by the estimators of Saltelli et al. (2010), Computer Physics Communications 181, table 2.

    Args:
        of: the result [-] of shape (draws,) for shares in [0, 1) of shape (inputs, draws).
        groups: name and numbers of the inputs that are moved together.
        inputs: how many there are in all.
        count: draws for each, a power of two.

    Returns:
        One index for each group, in order; zeros where the result never moves.
    """
    from scipy.stats import qmc, sobol_indices

    drawn = qmc.Sobol(2 * inputs, rng=np.random.default_rng(5)).random(count).T
    one, other = drawn[:inputs], drawn[inputs:]
    mixed = np.repeat(one[None], len(groups), axis=0)
    for k, (_, numbers) in enumerate(groups):
        mixed[k, list(numbers)] = other[list(numbers)]
    f_one, f_other = of(one), of(other)
    f_mixed = np.array([of(each) for each in mixed])
    middle = np.mean([f_one, f_other])
    f_one, f_other, f_mixed = f_one - middle, f_other - middle, f_mixed - middle
    if np.ptp(np.concatenate([f_one, f_other])) < 1e-12:
        return tuple(Index(name, 0.0, 0.0, 0.0, 0.0, len(own)) for name, own in groups)
    found = sobol_indices(
        func={"f_A": f_one[None], "f_B": f_other[None], "f_AB": f_mixed[:, None]}, n=count
    )
    again = _again(f_one, f_other, f_mixed)
    return tuple(
        Index(name, float(first), float(e1), float(total), float(e2), len(own))
        for (name, own), first, total, e1, e2 in zip(
            groups, np.ravel(found.first_order), np.ravel(found.total_order), *again, strict=True
        )
    )


def _again(one: np.ndarray, other: np.ndarray, mixed: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Half widths at 95 % of both kinds of index, by draws taken again with replacement."""
    random = np.random.default_rng(11)
    found = []
    for _ in range(AGAIN):
        some = random.integers(0, len(one), len(one))
        a, b, ab = one[some], other[some], mixed[:, some]
        variance = np.var(np.concatenate([a, b])) or 1.0
        found.append(
            [
                np.mean(b * (ab - a), axis=1) / variance,
                np.mean((a - ab) ** 2, axis=1) / (2.0 * variance),
            ]
        )
    first, total = 1.96 * np.std(found, axis=0)
    return first, total
