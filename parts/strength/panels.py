"""Boundaries cut into panels that carry Gauss nodes, for the integral equations of `warping`.

A panel is a stretch of one edge. Panels that end in a corner have their nodes crowded into it by a
power law (the solution there is a fractional power of the distance); a panel longer than what lies
across from it is cut, so that thin walls and small fillets are resolved. All figures of one outline
share the same cuts, set by the worst of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from parts.strength.outline import Array, Boundary, Curve, Outline, arc_at
from parts.strength.section import gauss

__all__ = ["FEWER", "NODES", "Edges", "Nodes", "edges_of", "nodes_of", "on_panel"]

NODES = 10
"""Gauss nodes on a panel."""
FEWER = 6
"""The same where about 0.5 % of the stress will do, for a fifth of the time."""
CORNER = 0.02
"""Turn [rad] between two edges from which their joint counts as a corner."""
GRADING = 3
"""Power by which nodes crowd into a corner: makes the 2/3 power at a square re-entrant one smooth."""
REACH = 2.5
"""Longest panel for a given distance to what lies across from it."""
GROWTH = 3.0
"""Longest panel for a given length of its neighbour round a joint."""
ROUNDS = 24
"""Most rounds of cutting."""
MOST = 300
"""Most panels: a tube of a diameter of 120 walls. What needs more is left unresolved."""

SHORTEST = 1000
"""Panels below the length of all edges over this are never cut: acute corners would go on for ever."""

_SAMPLES = np.linspace(0.0, 1.0, 5)
_AT_ONCE = 4_000_000  # distances handled in one batch


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

    def at(self, edge: np.ndarray, t: Array) -> tuple[Array, Array]:
        """Points and derivatives (figures, panels, m, 2) on `edge` (panels,) at t (panels, m)."""
        if not self.curves:
            return arc_at(self.start[:, edge], self.end[:, edge], self.bulge[:, edge], t)
        found = [self.curves[e].at(row) for e, row in zip(edge, t, strict=True)]
        return np.stack([p for p, _ in found])[None], np.stack([d for _, d in found])[None]

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


@dataclass(frozen=True)
class Nodes:
    """The nodes of one piece: arrays (figures, nodes), panel after panel, loop after loop."""

    y: Array
    z: Array
    dy: Array  # derivative along the panel's own coordinate s, -1 to 1
    dz: Array
    w: Array  # (nodes,) Gauss weights
    loop: np.ndarray  # (panels,)
    turn: Array  # (figures, panels) turn at the end of the panel; 0 where the edge just goes on
    previous: np.ndarray  # (panels,) the panel before each
    resolved: bool  # whether every panel is short enough

    @property
    def panels(self) -> int:
        return len(self.loop)

    @property
    def order(self) -> int:
        """Nodes on a panel."""
        return self.w.size // self.panels

    def by_panel(self, values: Array) -> Array:
        """Values (..., nodes) as (..., panels, nodes per panel)."""
        return values.reshape(*values.shape[:-1], self.panels, self.order)


def edges_of(figure: Outline | Boundary) -> Edges:
    """The edges of a figure whose leading dimensions, if any, are one."""
    if isinstance(figure, Boundary):
        curves = tuple(c for loop in figure.loops for c in loop)
        ends = np.stack([c.at(np.array([0.0, 1.0]))[0] for c in curves])
        loop = np.repeat(np.arange(len(figure.loops)), [len(c) for c in figure.loops])
        bent = np.full((1, len(curves)), np.nan)
        return Edges(loop, ends[None, :, 0], ends[None, :, 1], bent, curves)
    shape = figure.shape or (1,)
    start, end, bulge = (
        [np.broadcast_to(a, shape + a.shape[-k:]) for a in arrays]
        for arrays, k in (
            ([p.points for p in figure.loops], 2),
            ([p.ends for p in figure.loops], 2),
            ([p.bulge for p in figure.loops], 1),
        )
    )
    loop = np.repeat(np.arange(len(figure.loops)), [b.shape[-1] for b in bulge])
    return Edges(
        loop,
        np.concatenate(start, axis=1),
        np.concatenate(end, axis=1),
        np.concatenate(bulge, axis=1),
    )


def nodes_of(edges: Edges, order: int = NODES) -> Nodes:
    """Cut the edges into panels and set `order` nodes on each."""
    turns = edges.turns()
    sharp = np.any(np.abs(turns) > CORNER, axis=0)
    before = np.empty(len(sharp), int)
    before[edges.following] = np.arange(len(sharp))
    edge, t0, t1, resolved = _cut(edges, sharp[before], sharp)
    first, last = t0 == 0.0, t1 == 1.0
    s, w = gauss(order)
    u = (1.0 + s) / 2.0
    into, out = (first & sharp[before][edge])[:, None], (last & sharp[edge])[:, None]
    place = np.where(into, u**GRADING, np.where(out, 1.0 - (1.0 - u) ** GRADING, u))
    rate = np.where(
        into, GRADING * u ** (GRADING - 1), np.where(out, GRADING * (1 - u) ** (GRADING - 1), 1.0)
    )
    span = (t1 - t0)[:, None]
    p, d = edges.at(edge, t0[:, None] + span * place)
    d = d * (rate * span / 2.0)[..., None]
    flat = (edges.figures, len(edge) * order)
    loop = edges.loop[edge]
    return Nodes(
        p[..., 0].reshape(flat), p[..., 1].reshape(flat),
        d[..., 0].reshape(flat), d[..., 1].reshape(flat),
        np.tile(w, len(edge)), loop, np.where(last, turns[:, edge], 0.0), _before(loop), resolved,
    )  # fmt: skip


def _before(loop: np.ndarray) -> np.ndarray:
    """The panel before each, round its loop."""
    starts = np.append(True, loop[1:] != loop[:-1])
    before = np.arange(len(loop)) - 1
    before[starts] = np.append(np.nonzero(starts)[0][1:], len(loop)) - 1
    return before


def _cut(edges: Edges, into: np.ndarray, out: np.ndarray) -> tuple[np.ndarray, Array, Array, bool]:
    """Edge, first and last parameter of every panel, in order, and whether all are short enough."""
    edge = np.arange(len(into))
    # An arc of half a turn, or an edge with a corner at both ends, starts as two panels or more.
    angle = 4.0 * np.abs(np.arctan(edges.bulge)).max(axis=0)
    count = np.where(np.isnan(angle), 4, np.maximum(np.ceil(angle / 1.6 - 1e-9), 1)).astype(int)
    count = np.maximum(count, np.where(into & out, 2, 1))
    panel = np.repeat(edge, count)
    rank = np.arange(len(panel)) - np.repeat(np.cumsum(count) - count, count)
    t0, t1 = rank / count[panel], (rank + 1) / count[panel]
    straight = np.all(edges.bulge == 0.0, axis=0)
    for _ in range(ROUNDS):
        split = _to_split(edges, panel, t0, t1, straight)
        if not np.any(split):
            return panel, t0, t1, True
        if len(panel) + np.count_nonzero(split) > MOST:
            break
        middle = t0 + (t1 - t0) * np.where(split > 0.0, split, 0.5)
        keep = np.repeat(np.arange(len(panel)), np.where(split > 0.0, 2, 1))
        second = np.append(False, keep[1:] == keep[:-1])
        first = np.append(second[1:], False)
        panel = panel[keep]
        t0, t1 = np.where(second, middle[keep], t0[keep]), np.where(first, middle[keep], t1[keep])
    return panel, t0, t1, False


def _to_split(edges: Edges, panel: np.ndarray, t0: Array, t1: Array, straight: np.ndarray) -> Array:
    """Where to cut each panel, as a share of it; 0 where it may stay whole."""
    n = len(panel)
    batch = max(1, _AT_ONCE // (n * len(_SAMPLES)) ** 2)
    worst, share = np.zeros(n), np.full(n, 0.5)
    for first in range(0, edges.figures, batch):
        some = (
            edges
            if batch >= edges.figures
            else edges.take(np.arange(edges.figures)[first:][:batch])
        )
        excess, at = _excess(some, panel, t0, t1, straight)
        share = np.where(excess > worst, at, share)
        worst = np.maximum(worst, excess)
    cut = worst > 1.0
    if edges.curves:
        bent = _unresolved(edges, panel, t0, t1)
        share, cut = np.where(cut, share, 0.5), cut | bent
    return np.where(cut, share, 0.0)


def _excess(
    edges: Edges, panel: np.ndarray, t0: Array, t1: Array, straight: np.ndarray
) -> tuple[Array, Array]:
    """Length of each panel over what it may be, in the worst figure; and where best to cut it."""
    n, row = len(panel), np.arange(len(panel))
    p = edges.at(panel, t0[:, None] + (t1 - t0)[:, None] * _SAMPLES)[0]
    y, z = p[..., 0], p[..., 1]
    length = np.hypot(np.diff(y, axis=-1), np.diff(z, axis=-1)).sum(-1)
    reach = _least(y, z)  # (figures, source panel, its sample, target panel)
    before = _before(edges.loop[panel])
    near = np.zeros((n, n), bool)
    near[row, before] = near[before, row] = True
    # A straight edge does not see itself, and a joint is dealt with by the grading.
    same = (panel[:, None] == panel[None, :]) & straight[panel][:, None]
    far = ~(near | same | np.eye(n, dtype=bool))
    limit = np.where(far, reach.min(axis=2) * REACH, np.inf)
    limit = np.where(near & ~same, length[:, None, :] * GROWTH, limit)
    excess = length[:, :, None] / np.maximum(limit, 1e-300)
    whole = length.sum(axis=-1)[:, None, None]
    excess = np.where(length[:, :, None] * SHORTEST > whole, excess, 0.0)
    target = excess.max(axis=0).argmax(axis=1)
    figure = excess[:, row, target].argmax(axis=0)
    where = _SAMPLES[reach[figure, row, :, target].argmin(axis=-1)]
    share = np.where(where < 0.3, 0.35, np.where(where > 0.7, 0.65, 0.5))
    return excess[figure, row, target], share


def _least(y: Array, z: Array) -> Array:
    """Least distance from each sample of each panel to each panel's samples."""
    figures, n, m = y.shape
    # The samples of the targets come first: the least of them is then taken along whole rows.
    square = np.zeros((m, figures, n * m, n))
    for v in (y, z):
        gap = v.reshape(figures, n * m, 1) - np.moveaxis(v, -1, 0)[:, :, None]
        gap *= gap
        square += gap
    return np.asarray(np.sqrt(square.min(axis=0)).reshape(figures, n, m, n))


def _unresolved(edges: Edges, panel: np.ndarray, t0: Array, t1: Array) -> np.ndarray:
    """Panels on which a polynomial through the nodes does not follow the curve."""
    s, _ = gauss(NODES)
    check = np.array([-0.97, -0.5, 0.03, 0.45, 0.96])
    span = (t1 - t0)[:, None]
    at, between = (edges.at(panel, t0[:, None] + span * (1.0 + x) / 2.0)[1][0] for x in (s, check))
    guess = np.einsum("km,pmc->pkc", on_panel(tuple(check)), at)
    return np.asarray(np.abs(guess - between).max(axis=(1, 2)) > 1e-7 * np.abs(at).max(axis=(1, 2)))


@lru_cache(maxsize=256)
def on_panel(s: tuple[float, ...], order: int = NODES) -> Array:
    """Matrix [-] from a panel's values at its nodes to those at the coordinates s."""
    nodes, _ = gauss(order)
    legendre = np.polynomial.legendre.legvander
    return np.asarray(legendre(np.array(s), order - 1) @ np.linalg.inv(legendre(nodes, order - 1)))


@lru_cache
def slope_and_sum(order: int = NODES) -> tuple[Array, Array]:
    """Matrices from a panel's nodal values to their derivative, and to their integral from s = -1."""
    nodes, _ = gauss(order)
    leg = np.polynomial.legendre
    inverse = np.linalg.inv(leg.legvander(nodes, order - 1))
    unit = np.eye(order)
    slope = np.stack([leg.legval(nodes, leg.legder(c)) for c in unit], axis=-1)
    total = np.stack([leg.legval(nodes, leg.legint(c, lbnd=-1)) for c in unit], axis=-1)
    return slope @ inverse, total @ inverse
