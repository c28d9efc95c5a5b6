"""Where the views stand on the sheet: in line with the front view, in first or third angle, at a scale."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from parts.making.bench.ink import Ink, extent

SCALES = (10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05)
"""Of ISO 5455, as far as a part of a vehicle needs them."""
A_SERIES = 2.0**0.5
"""Width of a sheet over its height [-]: ISO 216."""
SPACE = 9.0
"""Least distance of two views with all that belongs to them [mm]."""

_CELLS: Mapping[str, Mapping[str, tuple[int, int]]] = {
    # Column and row of each view about the front view: ISO 128-3, clauses on first and third angle.
    "third angle": {
        "front": (0, 0), "top": (0, 1), "bottom": (0, -1), "left": (-1, 0), "right": (1, 0), "back": (2, 0),
    },
    "first angle": {
        "front": (0, 0), "top": (0, -1), "bottom": (0, 1), "left": (1, 0), "right": (-1, 0), "back": (2, 0),
    },
}  # fmt: skip


@dataclass(frozen=True)
class Arranged:
    """Views in place: where each view's origin lies, and the size of the whole from (0, 0) [mm]."""

    origins: tuple[np.ndarray, ...]
    size: tuple[float, float]


def arranged(sides: Sequence[str], inks: Sequence[Sequence[Ink]], projection: str) -> Arranged:
    """Put views in line with each other, none touching another; details, more inks than sides, beside or above them.

    Args:
        sides: the side of each view that is no detail.
        inks: what belongs to each view, its origin that of the part, then to each detail.
        projection: "first angle" or "third angle".

    Returns:
        The origins.
    """
    cells = [_CELLS[projection][side] for side in sides]
    every = [extent(list(ink)) for ink in inks]
    boxes = every[: len(sides)]
    across = _track([c for c, _ in cells], [(b[0][0], b[1][0]) for b in boxes])
    upward = _track([r for _, r in cells], [(b[0][1], b[1][1]) for b in boxes])
    origins = [np.array([across[c], upward[r]]) for c, r in cells]
    low = np.min([o + b[0] for o, b in zip(origins, boxes, strict=True)], axis=0)
    high = np.max([o + b[1] for o, b in zip(origins, boxes, strict=True)], axis=0)
    placed = Arranged(
        tuple(o - low for o in origins), (float(high[0] - low[0]), float(high[1] - low[1]))
    )
    more = every[len(sides) :]
    ways = (_joined(placed, more, along) for along in (0, 1))
    return min(ways, key=lambda one: max(one.size[0] / A_SERIES, one.size[1])) if more else placed


def _joined(
    placed: Arranged, boxes: Sequence[tuple[np.ndarray, np.ndarray]], along: int
) -> Arranged:
    """The same with details in a row above the views (`along` 0), or in a column to their right (1)."""
    other = 1 - along
    origins, size = list(placed.origins), np.array(placed.size)
    edge, run, deep = float(size[other]) + SPACE, 0.0, 0.0
    for low, high in boxes:
        at = np.zeros(2)
        at[along], at[other] = run - low[along], edge - low[other]
        origins.append(at)
        run += float(high[along] - low[along]) + SPACE
        deep = max(deep, float(high[other] - low[other]))
    size[other] = edge + deep
    size[along] = max(float(size[along]), run - SPACE)
    return Arranged(tuple(origins), (float(size[0]), float(size[1])))


def _track(places: Sequence[int], spans: Sequence[tuple[float, float]]) -> dict[int, float]:
    """Origins of the columns (or rows): each past the widest reach of the one before."""
    low, high = {}, {}
    for place, (a, b) in zip(places, spans, strict=True):
        low[place] = min(a, low.get(place, a))
        high[place] = max(b, high.get(place, b))
    order = sorted(low)
    found = {order[0]: 0.0}
    for before, here in pairwise(order):
        found[here] = found[before] + high[before] + SPACE - low[here]
    return found


def scale_words(scale: float) -> str:
    """A scale as a title block writes it."""
    return f"{scale:g}:1" if scale >= 1.0 else f"1:{1.0 / scale:g}"
