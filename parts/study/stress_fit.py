"""The stress along the load path of many variants where sections take no arrays: solved for some, fitted through.

The variants that are solved lie as far from each other as their number allows. Through the logarithm of the share
of yield that they use runs the surface φ(r) = r³ with a plane (a cubic spline in as many dimensions as are swept).
Some more variants are solved to see how far the surface is off; by as much as it ever lay too low there, all of it
is raised.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.part import Part
from parts.core.search.critical import criticals
from parts.core.search.look import looks
from parts.study.table import Column

THROUGH, BESIDE = 56, 16
"""Variants that the surface goes through, and others that it is held against."""
LEAST = 1e-12
"""Share of yield below which a variant counts as unloaded [-]."""


@dataclass(frozen=True)
class FittedStress:
    """Shares of yield under each load case for some rows of a table.

    Attributes:
        rows: of the table, in rising order.
        shares: of yield that are used [-], shape (cases, rows).
        to_ultimate: yield over ultimate strength [-].
        notes: what a reader must know.
    """

    rows: np.ndarray
    shares: np.ndarray
    to_ultimate: float
    notes: tuple[str, ...]

    def factors(self, model: Part, rows: np.ndarray) -> Iterator[tuple[str, Any, Any]]:
        """For each load case the factor on yield and that on ultimate strength, with those required.

        Args:
            model: a part with arrays over the rows.
            rows: some of the rows.

        Returns:
            Name, factor and required factor: two for each load case, in order.
        """
        at = np.searchsorted(self.rows, rows)
        for case, share in zip(model.loads, self.shares[:, at], strict=True):
            required = model.factors(case)
            yield "stress along the load path, yield", 1.0 / share, required.on_yield
            ultimate = share * self.to_ultimate
            yield "stress along the load path, ultimate", 1.0 / ultimate, required.on_ultimate


def fitted_stress(
    model_of: Callable[[Any], Part], columns: Sequence[Column], rows: np.ndarray
) -> FittedStress:
    """Solve some rows, and fit the others.

    Args:
        model_of: gives the part of one row.
        columns: the swept dimensions.
        rows: rows of one material and of the same designations, in rising order.

    Returns:
        The shares of all rows, and how far they may be off.
    """
    places = _places(columns, rows)
    taken = spread(places, THROUGH + BESIDE)
    solved, to_ultimate = _solved(model_of, rows[taken])
    # The last that were taken fill the gaps: they stand farthest from what the surface knows.
    through, beside = taken[:THROUGH], taken[THROUGH:]
    known, checked = np.log(solved[:, :THROUGH]), np.log(solved[:, THROUGH:])
    fitted = surface(places[through], known, places)
    off = fitted[:, beside] - checked
    raised = float(np.exp(np.max(-off, initial=0.0)))
    high = float(np.exp(np.max(off, initial=0.0)) - 1.0)
    shares = np.exp(fitted) * raised
    shares[:, taken] = solved
    note = (
        f"stress along the load path: solved for {len(taken)} rows, fitted for the others; {len(beside)} of these were "
        f"solved too: the fit was up to {raised - 1.0:.1%} too low there, by which all of it is raised, and up to "
        f"{high:.1%} too high"
    )
    return FittedStress(rows, shares, to_ultimate, (note,))


def _places(columns: Sequence[Column], rows: np.ndarray) -> np.ndarray:
    """Where each row lies between the least and the greatest of its dimensions, shape (rows, dimensions)."""
    over = [
        one.values[rows].astype(float)
        for one in columns
        if not one.choices and np.ptp(one.values[rows].astype(float)) > 0.0
    ]
    if not over:
        return np.zeros((len(rows), 1))
    return np.stack([(v - v.min()) / np.ptp(v) for v in over], axis=-1)


def spread(places: np.ndarray, count: int) -> np.ndarray:
    """Places far from each other: each one is the farthest from all before it, the first lies at the low end.

    Args:
        places: shape (n, dimensions).
        count: how many are wanted.

    Returns:
        Numbers of distinct places in the order in which they were taken; fewer where there are no more.
    """
    taken = [int(np.argmin(places.sum(axis=-1)))]
    away = np.linalg.norm(places - places[taken[0]], axis=-1)
    while len(taken) < count and away.max() > 0.0:
        taken.append(int(np.argmax(away)))
        away = np.minimum(away, np.linalg.norm(places - places[taken[-1]], axis=-1))
    return np.array(taken)


def surface(known: np.ndarray, values: np.ndarray, places: np.ndarray) -> np.ndarray:
    """A surface φ(r) = r³ with a plane through values at known places.

    Args:
        known: shape (n, dimensions), distinct.
        values: shape (surfaces, n).
        places: where the values are wanted, shape (m, dimensions).

    Returns:
        Shape (surfaces, m).
    """
    plane = np.hstack([np.ones((len(known), 1)), known])
    own = np.block([[_cubed(known, known), plane],
                    [plane.T, np.zeros((plane.shape[1], plane.shape[1]))]])  # fmt: skip
    right = np.hstack([values, np.zeros((len(values), plane.shape[1]))])
    # Where the known places lie in one plane, its tilt is open; the least one is taken.
    weights = np.linalg.lstsq(own, right.T, rcond=None)[0]
    found = np.empty((len(values), len(places)))
    for start in range(0, len(places), 4000):
        some = places[start : start + 4000]
        basis = np.hstack([_cubed(some, known), np.ones((len(some), 1)), some])
        found[:, start : start + 4000] = (basis @ weights).T
    return found


def _cubed(one: np.ndarray, other: np.ndarray) -> np.ndarray:
    return np.asarray(np.linalg.norm(one[:, None, :] - other[None, :, :], axis=-1) ** 3)


def _solved(model_of: Callable[[Any], Part], rows: np.ndarray) -> tuple[np.ndarray, float]:
    """Share of yield that each load case uses at its critical section, shape (cases, rows); yield over ultimate."""
    found = []
    over = 1.0
    for row in rows:
        model = model_of(row)
        worst = criticals(looks(model.spans(), model.loads))
        found.append(
            [float(one.stress.von_mises) / one.span.material.yield_strength for one in worst]
        )
        metals = {one.span.material for one in worst}
        over = max(one.yield_strength / one.ultimate_strength for one in metals)
    return np.maximum(np.array(found).T, LEAST), over
