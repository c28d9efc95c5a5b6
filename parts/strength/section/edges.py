"""The edges of a piece of material, in figures of one topology: lines, arcs and other curves."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from parts.strength.section.outline import Array, Boundary, Curve, Outline, arc_at


@dataclass(frozen=True)
class Edges:
    """All edges of one piece of material, in `figures` figures of the same topology.

    Edges are numbered loop after loop. Lines and arcs are held as `start`, `end` (figures, edges, 2)
    [mm] and `bulge` (figures, edges) [-]; other curves as `curves`, of a single figure.
    """

    loop: np.ndarray  # (edges,) number of the loop
    start: Array
    end: Array
    bulge: Array
    curves: tuple[Curve, ...] = ()

    @property
    def figures(self) -> int:
        return int(self.start.shape[0])

    @property
    def following(self) -> np.ndarray:
        """The edge that each edge runs into."""
        n = len(self.loop)
        last = np.append(self.loop[1:] != self.loop[:-1], True)
        first = np.searchsorted(self.loop, self.loop)
        return np.where(last, first, np.arange(n) + 1)

    @property
    def leading(self) -> np.ndarray:
        """The edge that runs into each edge."""
        found = np.empty(len(self.loop), int)
        found[self.following] = np.arange(len(self.loop))
        return found

    def at(self, edge: np.ndarray, t: Array) -> tuple[Array, Array]:
        """Points and derivatives (figures, panels, m, 2) on `edge` (panels,) at t (panels, m)."""
        if not self.curves:
            return arc_at(self.start[:, edge], self.end[:, edge], self.bulge[:, edge], t)
        points, slopes = np.empty((2, *np.shape(t), 2))
        for e in np.unique(edge):
            own = edge == e
            points[own], slopes[own] = self.curves[e].at(t[own])
        return points[None], slopes[None]

    def turns(self) -> Array:
        """Turn [rad] (figures, edges) at the end of each edge, counter-clockwise positive."""
        every = np.arange(len(self.loop))
        d = self.at(every, np.tile([0.0, 1.0], (len(every), 1)))[1]
        out, into = d[:, self.following, 0], d[:, :, 1]
        cross = into[..., 0] * out[..., 1] - into[..., 1] * out[..., 0]
        return np.asarray(np.arctan2(cross, (into * out).sum(-1)))

    def take(self, figures: np.ndarray) -> Edges:
        """Some of the figures."""
        return Edges(
            self.loop, self.start[figures], self.end[figures], self.bulge[figures], self.curves
        )


def edges_of(figure: Outline | Boundary) -> Edges:
    """The edges of a figure whose leading dimensions, if any, are one."""
    if isinstance(figure, Boundary):
        curves = tuple(c for loop in figure.loops for c in loop)
        ends = np.stack([c.at(np.array([0.0, 1.0]))[0] for c in curves])
        loop = np.repeat(np.arange(len(figure.loops)), [len(c) for c in figure.loops])
        bent = np.full((1, len(curves)), np.nan)
        return Edges(loop, ends[None, :, 0], ends[None, :, 1], bent, curves)
    shape = figure.shape or (1,)
    s = figure.segments
    points = (*shape, len(s.loop), 2)
    return Edges(
        s.loop,
        np.broadcast_to(s.start, points),
        np.broadcast_to(s.end, points),
        np.broadcast_to(s.bulge, points[:-1]),
    )
