"""Mass of many variants of a part: of the metal along the load path, or by a few solids and a fit."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from parts.core.loadpath import Span
from parts.core.part import Part
from parts.inputs.problems import InputError
from parts.shapes.volume import volume
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
    model_of: Callable[[Any], Part],
    columns: Sequence[Column],
    rows: np.ndarray,
    solids: int = SOLIDS,
) -> tuple[np.ndarray, str]:
    """Mass of the part of every row, and how it was found.

    Args:
        model_of: gives the part with arrays over some rows, or, of one row, with its numbers.
        columns: the swept dimensions.
        rows: the rows.
        solids: how many solids are built at most.

    Returns:
        [kg] one value a row, and the note.
    """
    at = np.unique(np.linspace(0, len(rows) - 1, solids).astype(int))
    built = np.array([_solid_mass(model_of(row)) for row in rows[at]])
    if len(at) == len(rows):
        return built, "mass: of the solid of every row"
    whole = np.isfinite(built)
    if not whole.any():
        return np.full(len(rows), np.nan), "mass: none of the solids tried could be built"
    at, built = at[whole], built[whole]
    path = _path_masses(model_of, rows)
    over = [one.values[rows].astype(float) for one in columns if not one.choices]
    scaled = [(v - v.mean()) / np.ptp(v) for v in over if np.ptp(v) > 0.0]
    table = np.stack([np.ones(len(rows)), *scaled, *(v**2 for v in scaled)], axis=-1)
    weights = np.linalg.lstsq(table[at], built / path[at], rcond=None)[0]
    found = path * (table @ weights)
    off = float(np.abs(found[at] / built - 1.0).max())
    return found, (
        "mass: that of the metal along the load path, times a factor fitted to the solids of "
        f"{len(at)} rows as a quadratic; in those rows it is off by {off:.1%} at most"
    )


def _path_masses(model_of: Callable[[Any], Part], rows: np.ndarray) -> np.ndarray:
    """Mass of the metal along the load path of every row [kg]; ones where the sections take no arrays."""
    found = np.empty(len(rows))
    try:
        for start in range(0, len(rows), TOGETHER):
            some = slice(start, start + TOGETHER)
            found[some] = mass_along(model_of(rows[some]).spans())
    except (ValueError, TypeError, IndexError):
        return np.ones(len(rows))
    # A load path of single cuts has no length.
    return found if np.all(found > 0.0) else np.ones(len(rows))


def _solid_mass(part: Part) -> float:
    """[kg]; nan where the solid cannot be built."""
    try:
        pieces = part.pieces
    except InputError:
        raise  # what the system lacks
    except Exception:  # the kernel raises many kinds; making the row says which
        return float("nan")
    return float(sum(volume(piece.solid.val()) * piece.material.density for piece in pieces))
