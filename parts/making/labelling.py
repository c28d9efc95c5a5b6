"""Where on a flat figure a label fits best: away from its edges and its holes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from parts.making.lettering import extent

GRID = 28
"""Places tried across the longer side of a figure."""
TURNS = 12
"""Directions tried over half a turn."""


@dataclass(frozen=True)
class Label:
    """Lines of text on a figure: the middle of its box (2,) [mm], its angle [rad], and the height of a
    capital [mm]."""

    lines: tuple[str, ...]
    at: np.ndarray
    angle: float
    height: float

    def place(self, points: np.ndarray) -> np.ndarray:
        """Points of the label about its middle, on the figure."""
        c, s = np.cos(self.angle), np.sin(self.angle)
        return self.at + points @ np.array([(c, s), (-s, c)])


def best_label(
    loops: Sequence[np.ndarray],
    layouts: Sequence[tuple[str, ...]],
    *,
    clear: float,
    least: float,
    most: float,
) -> Label | None:
    """Find the place, direction and layout that allow the tallest letters.

    Args:
        loops: rows of points (n, 2) [mm] along every edge of the figure, close to each other, closed.
        layouts: ways to break the text into lines.
        clear: least distance of the text from every edge [mm].
        least: least height of a capital [mm].
        most: height that is tall enough [mm].

    Returns:
        The label; None where the least height does not fit.
    """
    edges = np.concatenate(list(loops))
    places = _inside(loops, edges)
    if not len(places):
        return None
    best: Label | None = None
    for angle in np.linspace(0.0, np.pi, TURNS, endpoint=False):
        # Text is read from the bottom or the right, as on a drawing.
        turn = float(angle) if angle <= np.pi / 2.0 + 1e-9 else float(angle) - np.pi
        c, s = np.cos(turn), np.sin(turn)
        away = (edges[None, :, :] - places[:, None, :]) @ np.array([(c, -s), (s, c)])
        along, across = np.abs(away[..., 0]), np.abs(away[..., 1])
        for lines in layouts:
            wide, tall = (v / 2.0 for v in extent(lines, 1.0))
            # A label of height h keeps clear of an edge point where either side of its box does.
            room = np.maximum((along - clear) / wide, (across - clear) / tall).min(axis=1)
            i = int(np.argmax(room))
            height = float(min(room[i], most))
            if height >= least and (best is None or height > best.height + 1e-6):
                best = Label(tuple(lines), places[i], turn, height)
    return best


def _inside(loops: Sequence[np.ndarray], edges: np.ndarray) -> np.ndarray:
    """Places of a grid that lie in the figure."""
    low, high = edges.min(axis=0), edges.max(axis=0)
    step = float((high - low).max()) / GRID
    x, y = (np.arange(a + step / 2.0, b, step) for a, b in zip(low, high, strict=True))
    places = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
    return places[inside(loops, places)]


def inside(loops: Sequence[np.ndarray], places: np.ndarray) -> np.ndarray:
    """True for every place (n, 2) in the figure, by how often a line to the right meets its edges."""
    count = np.zeros(len(places), int)
    x, y = places[:, 0, None], places[:, 1, None]
    for loop in loops:
        a, b = loop, np.roll(loop, -1, axis=0)
        between = (a[:, 1] > y) != (b[:, 1] > y)
        rise = np.where(a[:, 1] == b[:, 1], 1.0, b[:, 1] - a[:, 1])
        count += (between & (x < a[:, 0] + (y - a[:, 1]) * (b[:, 0] - a[:, 0]) / rise)).sum(axis=1)
    return count % 2 == 1
