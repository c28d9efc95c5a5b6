"""The least stock section that encloses a figure, at any turn: round, hexagon, square, rectangle."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

DIRECTIONS = 720
"""Directions in which a figure's outermost points are looked for: what lies between two of them reaches beyond by
1e-5 of its size at the most."""


@dataclass(frozen=True)
class Enclosed:
    """A figure by its outermost points [mm], shape (n, 2)."""

    points: np.ndarray

    @classmethod
    def of(cls, points: np.ndarray) -> Enclosed:
        """The figure of any points [mm], shape (n, 2)."""
        turn = np.linspace(0.0, 2.0 * np.pi, DIRECTIONS, endpoint=False)
        outermost = np.unique(np.argmax(points @ np.stack([np.cos(turn), np.sin(turn)]), axis=0))
        found = points[outermost]
        middle = found.mean(axis=0)
        order = np.argsort(np.arctan2(*(found - middle).T[::-1]), kind="stable")
        return cls(found[order])

    @cached_property
    def area(self) -> float:
        """Area within the outermost points [mm^2]."""
        (x, y), (u, v) = self.points.T, np.roll(self.points, -1, axis=0).T
        return float(np.abs(np.sum(x * v - u * y)) / 2.0)

    @cached_property
    def turns(self) -> np.ndarray:
        """Turns of the stock that are tried [rad]: each edge flush with a side, and every tenth of a degree."""
        edges = np.roll(self.points, -1, axis=0) - self.points
        flush = np.arctan2(edges[:, 1], edges[:, 0])
        return np.concatenate([flush, np.radians(np.arange(0.0, 180.0, 0.1))])

    def _span(self, turn: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Width of the figure across a turn and the middle of it [mm]."""
        across = self.points @ np.stack([np.cos(turn), np.sin(turn)])
        low, high = across.min(axis=0), across.max(axis=0)
        return high - low, (high + low) / 2.0

    @cached_property
    def rectangles(self) -> np.ndarray:
        """The two sides [mm] of the rectangle about the figure at each turn, the longer first, shape (n, 2)."""
        sides = np.stack([self._span(self.turns + quarter)[0] for quarter in (0.0, np.pi / 2.0)])
        return np.sort(sides, axis=0)[::-1].T

    @cached_property
    def square(self) -> float:
        """Side of the least square [mm]."""
        return float(self.rectangles[:, 0].min())

    @cached_property
    def least_rectangle(self) -> tuple[float, float]:
        """Sides of the rectangle of least area [mm], the longer first."""
        one = self.rectangles[int(np.argmin(self.rectangles.prod(axis=1)))]
        return float(one[0]), float(one[1])

    @cached_property
    def hexagon(self) -> float:
        """Width across flats of the least regular hexagon [mm].

        Its three pairs of sides share one middle: where those of the figure do not, the room left between the
        pairs must make up for it.
        """
        third = np.pi / 3.0
        width, middle = zip(*(self._span(self.turns + k * third) for k in range(3)), strict=True)
        apart = np.abs(middle[0] - middle[1] + middle[2])
        return float(
            np.maximum(np.max(width, axis=0), (np.sum(width, axis=0) + 2.0 * apart) / 3.0).min()
        )

    @cached_property
    def circle(self) -> float:
        """Diameter of the least circle [mm]."""
        p = self.points
        centre, radius = p[0], 0.0
        for i in range(len(p)):
            if _outside(p[i], centre, radius):
                centre, radius = p[i], 0.0
                for j in range(i):
                    if _outside(p[j], centre, radius):
                        centre = (p[i] + p[j]) / 2.0
                        radius = float(np.hypot(*(p[i] - centre)))
                        for k in range(j):
                            if _outside(p[k], centre, radius):
                                centre, radius = _through(p[i], p[j], p[k])
        return 2.0 * radius


def _outside(point: np.ndarray, centre: np.ndarray, radius: float) -> bool:
    return bool(np.hypot(*(point - centre)) > radius * (1.0 + 1e-9) + 1e-12)


def _through(a: np.ndarray, b: np.ndarray, c: np.ndarray) -> tuple[np.ndarray, float]:
    """The circle through three points."""
    sides = 2.0 * np.array([b - a, c - a])
    centre = a + np.linalg.solve(sides, [(b - a) @ (b - a), (c - a) @ (c - a)])
    return centre, float(np.hypot(*(a - centre)))
