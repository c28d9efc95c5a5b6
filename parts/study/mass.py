"""Mass of many variants of a part: of the metal along the load path, or by a few solids and a fit."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from parts.core.loadpath import Span
from parts.core.part import Part
from parts.strength.section.outline import Outline
from parts.strength.section.properties import area_and_length, gauss
from parts.study.table import Column

NODES, WEIGHTS = gauss(2)
SOLIDS = 12
"""Solids that are built at most for a fit of the mass."""
TOGETHER = 4000
"""Variants that are calculated with in one go."""


def span_mass(span: Span) -> Any:
    """Mass of a span: its area along its length, by Gauss's rule of two stations, exact for a cubic.

    Args:
        span: a stretch of a load path, of any variants.

    Returns:
        [kg] one value for each variant.
    """
    t = (NODES + 1.0) / 2.0
    long = np.linalg.norm(np.subtract(span.end, span.start), axis=-1)
    areas = [_area(span.outline(np.asarray(one))) for one in t]
    mean = sum(w / 2.0 * area for w, area in zip(WEIGHTS, areas, strict=True))
    return mean * long * span.material.density


def mass_along(spans: Sequence[Span]) -> Any:
    """Mass of the metal along a load path.

    It ranks variants of one part. It is no mass of the part: twins such as the second ear count once,
    spans that cross count twice, and what bears nothing is left out.

    Args:
        spans: the load path.

    Returns:
        [kg] the sum of its spans.
    """
    return sum((span_mass(span) for span in spans), np.asarray(0.0))


def _area(outline: Outline) -> Any:
    return sum(area_and_length(loop)[0] for loop in outline.loops)


def estimated_mass(
    model_of: Callable[[Any], Part], columns: Sequence[Column], rows: np.ndarray
) -> tuple[np.ndarray, str]:
    """Mass of every row, and how it was found.

    Args:
        model_of: gives the part with arrays over some rows, or, of one row, with its numbers.
        columns: the swept dimensions.
        rows: the rows.

    Returns:
        [kg] one value a row, and the note.
    """
    found = np.empty(len(rows))
    try:
        for start in range(0, len(rows), TOGETHER):
            some = rows[start : start + TOGETHER]
            found[start : start + TOGETHER] = mass_along(model_of(some).spans())
    except (ValueError, TypeError, IndexError):
        return _by_solids(model_of, columns, rows)
    if not np.all(found > 0.0):
        # A load path of single cuts has no length.
        return _by_solids(model_of, columns, rows)
    return found, (
        "mass: of the metal along the load path, for ranking; twins count once, and what bears nothing is left "
        "out"
    )


def _by_solids(
    model_of: Callable[[Any], Part], columns: Sequence[Column], rows: np.ndarray
) -> tuple[np.ndarray, str]:
    """Solids of rows spread over the table, and a quadratic in the swept dimensions through them."""
    taken = rows[np.unique(np.linspace(0, len(rows) - 1, SOLIDS).astype(int))]
    masses = np.array([_solid_mass(model_of(row)) for row in taken])
    if len(taken) == len(rows):
        return masses, "mass: of the solid of every row"
    over = [
        one.values.astype(float)
        for one in columns
        if not one.choices and np.ptp(one.values[rows]) > 0.0
    ]
    scaled = [(v - v[rows].mean()) / np.ptp(v[rows]) for v in over]
    terms = [np.ones(len(rows)), *(v[rows] for v in scaled), *(v[rows] ** 2 for v in scaled)]
    table = np.stack(terms, axis=-1)
    at = np.searchsorted(rows, taken)
    weights = np.linalg.lstsq(table[at], masses, rcond=None)[0]
    off = float(np.abs(table[at] @ weights / masses - 1.0).max())
    return table @ weights, (
        f"mass: a quadratic through the solids of {len(taken)} rows, off by {off:.1%} at most in them"
    )


def _solid_mass(part: Part) -> float:
    return float(sum(piece.solid.val().Volume() * piece.material.density for piece in part.pieces))
