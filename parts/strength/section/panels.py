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

from parts.strength.section.edges import Edges
from parts.strength.section.outline import Array
from parts.strength.section.properties import gauss

__all__ = ["COARSE", "FINE", "Fineness", "Nodes", "nodes_of", "on_panel"]


@dataclass(frozen=True)
class Fineness:
    """How finely a boundary is cut."""

    order: int
    """Gauss nodes on a panel."""
    reach: float
    """Longest panel for a given distance to what lies across from it."""
    growth: float
    """Longest panel for a given length of its neighbour round a joint."""


FINE = Fineness(10, 2.5, 3.0)
COARSE = Fineness(6, 4.0, 4.0)
"""Where 0.3 % of the stress will do, for less than half the time: beside some fillets and sharp corners it came out
1.6 % high, in a slit tube of 60 walls across 0.8 % low."""

CORNER = 0.02
"""Turn [rad] between two edges from which their joint counts as a corner."""
GRADING = 3
"""Power by which nodes crowd into a re-entrant corner: makes the 2/3 power at a square one smooth."""
CONVEX = 2
"""The same in a convex corner, where the solution is nearly smooth and a higher power would only hide it."""
SHORE = 0.1
"""Length of the panels at a sharp re-entrant corner, as a share of the root of the area: what the corner does to the
rest is then known at the clearance within which its stress is not taken."""
SPIT = 0.003
"""The same at a re-entrant corner so acute that its two edges run close beside each other for a while: only beyond
these panels do they see each other, and are cut as any two edges that lie across from each other."""
ACUTE = 1.8
"""Turn [rad] from which a re-entrant corner is so acute: 77 degrees between its edges."""
ENOUGH = 1.0 + 1e-4
"""Panels that exceed their length by less than this [-] stay whole: the distances are in short numbers."""
ROUNDS = 40
"""Most rounds of cutting."""
MOST = 300
"""Most panels: a tube of a diameter of 120 walls. What needs more is left unresolved."""

SHORTEST = 1000
"""Panels below the length of all edges over this are never cut: acute corners would go on for ever."""

_SAMPLES = np.linspace(0.0, 1.0, 5)
_AT_ONCE = 4_000_000  # distances handled in one batch


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
    def loops(self) -> int:
        """Loops: the outer one, numbered 0, and the holes."""
        return int(self.loop[-1]) + 1

    @property
    def order(self) -> int:
        """Nodes on a panel."""
        return self.w.size // self.panels

    def by_panel(self, values: Array) -> Array:
        """Values (..., nodes) as (..., panels, nodes per panel)."""
        return values.reshape(*values.shape[:-1], self.panels, self.order)


def nodes_of(edges: Edges, fineness: Fineness = FINE) -> Nodes:
    """Cut the edges into panels and set nodes on each."""
    order = fineness.order
    turns = edges.turns()
    sharp = np.any(np.abs(turns) > CORNER, axis=0)
    before = edges.leading
    sharpest = turns.min(axis=0)
    inward = sharpest < -CORNER
    edge, t0, t1, resolved = _cut(edges, sharp[before], sharp, sharpest, fineness)
    first, last = t0 == 0.0, t1 == 1.0
    s, w = gauss(order)
    u = (1.0 + s) / 2.0
    into, out = (first & sharp[before][edge])[:, None], (last & sharp[edge])[:, None]
    power = np.where(inward, GRADING, CONVEX)
    power = np.where(into, power[before][edge][:, None], np.where(out, power[edge][:, None], 1))
    far = np.where(out, 1.0 - u, u)
    place = np.where(out, 1.0 - far**power, far**power)
    rate = power * far ** (power - 1)
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


def _cut(
    edges: Edges, into: np.ndarray, out: np.ndarray, sharpest: Array, fineness: Fineness
) -> tuple[np.ndarray, Array, Array, bool]:
    """Edge, first and last parameter of every panel, in order, and whether all are short enough."""
    edge = np.arange(len(into))
    # An arc of half a turn, or an edge with a corner at both ends, starts as two panels or more.
    angle = 4.0 * np.abs(np.arctan(edges.bulge)).max(axis=0)
    count = np.where(np.isnan(angle), 4, np.maximum(np.ceil(angle / 1.6 - 1e-9), 1)).astype(int)
    count = np.maximum(count, np.where(into & out, 2, 1))
    panel = np.repeat(edge, count)
    rank = np.arange(len(panel)) - np.repeat(np.cumsum(count) - count, count)
    t0, t1 = rank / count[panel], (rank + 1) / count[panel]
    panels = _Panels(panel, t0, t1)
    if np.any(sharpest < -CORNER):
        panels = panels.split(_at_corners(edges, panels, sharpest))
    straight = np.all(edges.bulge == 0.0, axis=0)
    for _ in range(ROUNDS):
        # Rounds of neighbours cost little; after them, few of what lies across are needed.
        split = _beside(edges, panels, straight, fineness)
        if not np.any(split):
            split = _across(edges, panels, straight, fineness)
        if not np.any(split):
            return panels.edge, panels.t0, panels.t1, True
        if len(panels.edge) + np.count_nonzero(split) > MOST:
            break
        panels = panels.split(split)
    return panels.edge, panels.t0, panels.t1, False


def _at_corners(edges: Edges, panels: _Panels, sharpest: Array) -> Array:
    """Where to cut the panels that come from a sharp re-entrant corner or run into one; 0 where they stay whole.

    `sharpest` (edges,) [rad] is the least turn of all figures at the end of each edge.
    """
    shares = np.where(sharpest < -ACUTE, SPIT, np.where(sharpest < -CORNER, SHORE, 0.0))
    reach = shares * _root(edges)
    length = panels.lengths(edges).max(axis=0)
    comes = np.where(panels.t0 == 0.0, reach[edges.leading][panels.edge], 0.0) / length
    runs = np.where(panels.t1 == 1.0, reach[panels.edge], 0.0) / length
    at = np.where(comes > 0.0, comes, np.where(runs > 0.0, 1.0 - runs, 0.0))
    return np.where(np.maximum(comes, runs) < 0.6, at, 0.0)


def _root(edges: Edges) -> float:
    """Root of the area of the least figure [mm], as samples of its edges tell it."""
    every = np.arange(len(edges.loop))
    p = edges.at(every, np.tile(_SAMPLES, (len(every), 1)))[0]
    y, z = p[..., 0] - p[:, :1, :1, 0], p[..., 1] - p[:, :1, :1, 1]
    twice = (y[..., :-1] * z[..., 1:] - y[..., 1:] * z[..., :-1]).sum(axis=(1, 2))
    return float(np.sqrt(np.abs(twice) / 2.0).min())


@dataclass(frozen=True)
class _Panels:
    """Panels in order: the edge of each (n,), its first and last parameter (n,)."""

    edge: np.ndarray
    t0: Array
    t1: Array

    def split(self, share: Array) -> _Panels:
        """Each cut at a share of it; whole where that is 0."""
        middle = self.t0 + (self.t1 - self.t0) * np.where(share > 0.0, share, 0.5)
        keep = np.repeat(np.arange(len(share)), np.where(share > 0.0, 2, 1))
        second = np.append(False, keep[1:] == keep[:-1])
        first = np.append(second[1:], False)
        return _Panels(
            self.edge[keep],
            np.where(second, middle[keep], self.t0[keep]),
            np.where(first, middle[keep], self.t1[keep]),
        )

    def sampled(self, edges: Edges) -> Array:
        """Samples (figures, n, samples, 2) along them [mm]."""
        return edges.at(self.edge, self.t0[:, None] + (self.t1 - self.t0)[:, None] * _SAMPLES)[0]

    def lengths(self, edges: Edges) -> Array:
        """Their lengths (figures, n) [mm]."""
        if edges.curves:
            return _run(self.sampled(edges))
        chord = edges.end - edges.start
        a = 2.0 * np.arctan(edges.bulge)
        arc = np.where(a == 0.0, 1.0, a / np.where(a == 0.0, 1.0, np.sin(a)))
        whole = np.hypot(chord[..., 0], chord[..., 1]) * arc
        return np.asarray(whole[:, self.edge] * (self.t1 - self.t0))


def _run(p: Array) -> Array:
    """Length of each chain of samples."""
    step = np.diff(p, axis=-2)
    return np.asarray(np.hypot(step[..., 0], step[..., 1]).sum(-1))


def _beside(edges: Edges, panels: _Panels, straight: np.ndarray, fineness: Fineness) -> Array:
    """Where to cut panels too long for a neighbour round a joint, as a share of each; 0 where they may stay whole."""
    length = panels.lengths(edges)
    before = _before(edges.loop[panels.edge])
    ratio = length / np.maximum(length[:, before], 1e-300)
    # A straight edge goes on straight: there is no joint.
    joint = (panels.edge[before] != panels.edge) | ~straight[panels.edge]
    most = fineness.growth * ENOUGH
    into = joint & np.any(ratio > most, axis=0)
    out = np.zeros(len(into), bool)
    out[before] = joint & np.any(ratio < 1.0 / most, axis=0)
    small = np.all(length * SHORTEST <= length.sum(axis=-1, keepdims=True), axis=0)
    share = np.where(into, np.where(out, 0.5, 0.35), np.where(out, 0.65, 0.0))
    return np.where(small, 0.0, share)


def _across(edges: Edges, panels: _Panels, straight: np.ndarray, fineness: Fineness) -> Array:
    """Where to cut panels too long for what lies across from them, as a share of each; 0 where they may stay whole."""
    n = len(panels.edge)
    # A straight edge does not see itself, and a joint is dealt with by the grading.
    far = (panels.edge[:, None] != panels.edge) | ~straight[panels.edge]
    before, row = _before(edges.loop[panels.edge]), np.arange(n)
    far[row, row] = far[row, before] = far[before, row] = False
    batch = max(1, _AT_ONCE // (n * len(_SAMPLES)) ** 2)
    worst, share = np.zeros(n), np.full(n, 0.5)
    for first in range(0, edges.figures, batch):
        some = (
            edges
            if batch >= edges.figures
            else edges.take(np.arange(edges.figures)[first:][:batch])
        )
        excess, at = _excess(panels.sampled(some), far, fineness.reach)
        share = np.where(excess > worst, at, share)
        worst = np.maximum(worst, excess)
    cut = worst > ENOUGH
    if edges.curves:
        bent = _unresolved(edges, panels)
        share, cut = np.where(cut, share, 0.5), cut | bent
    return np.where(cut, share, 0.0)


def _excess(p: Array, far: np.ndarray, reach: float) -> tuple[Array, Array]:
    """Length of each panel over what it may be, in the worst figure; and where best to cut it.

    `p` (figures, panels, samples, 2) are samples of the panels; `far` (panels, panels) says which see each other
    across the figure; `reach` is the longest panel for a given distance.
    """
    row = np.arange(p.shape[1])
    length = _run(p)
    least = _least(p)  # (figures, source panel, its sample, target panel)
    closest = np.where(far, least.min(axis=2), np.inf)
    target = closest.min(axis=0).argmin(axis=1)
    distance = np.sqrt(closest[:, row, target])
    excess = length / np.maximum(distance * reach, 1e-300)
    excess = np.where(length * SHORTEST > length.sum(axis=-1, keepdims=True), excess, 0.0)
    figure = excess.argmax(axis=0)
    where = _SAMPLES[least[figure, row, :, target].argmin(axis=-1)]
    share = np.where(where < 0.3, 0.35, np.where(where > 0.7, 0.65, 0.5))
    return excess[figure, row], share


def _least(p: Array) -> Array:
    """Square of the least distance from each sample of each panel to each panel's samples, as short numbers tell it."""
    figures, n, m, _ = p.shape
    y, z = np.moveaxis((p - p[:, :1, :1]).astype(np.float32), -1, 0)
    from_y, from_z = (v.reshape(figures, n * m, 1) for v in (y, z))
    least = np.full((figures, n * m, n), np.inf, np.float32)
    # Sample after sample of the targets: what is in hand stays small.
    for k in range(m):
        square = from_y - y[:, None, :, k]
        other = from_z - z[:, None, :, k]
        square *= square
        other *= other
        square += other
        np.minimum(least, square, out=least)
    return least.reshape(figures, n, m, n)


def _unresolved(edges: Edges, panels: _Panels) -> np.ndarray:
    """Panels on which a polynomial through the nodes does not follow the curve."""
    s, _ = gauss(FINE.order)
    check = np.array([-0.97, -0.5, 0.03, 0.45, 0.96])
    span = (panels.t1 - panels.t0)[:, None]
    at, between = (
        edges.at(panels.edge, panels.t0[:, None] + span * (1.0 + x) / 2.0)[1][0] for x in (s, check)
    )
    guess = np.einsum("km,pmc->pkc", on_panel(tuple(check)), at)
    return np.asarray(np.abs(guess - between).max(axis=(1, 2)) > 1e-7 * np.abs(at).max(axis=(1, 2)))


@lru_cache(maxsize=256)
def on_panel(s: tuple[float, ...], order: int = FINE.order) -> Array:
    """Matrix [-] from a panel's values at its nodes to those at the coordinates s."""
    return np.asarray(np.polynomial.legendre.legvander(np.array(s), order - 1) @ _to_series(order))


@lru_cache
def _to_series(order: int) -> Array:
    """Matrix [-] from a panel's values at its nodes to the coefficients of Legendre's polynomials."""
    return np.asarray(np.linalg.inv(np.polynomial.legendre.legvander(gauss(order)[0], order - 1)))


@lru_cache
def slope_and_sum(order: int = FINE.order) -> tuple[Array, Array]:
    """Matrices from a panel's nodal values to their derivative, and to their integral from s = -1."""
    nodes, _ = gauss(order)
    leg = np.polynomial.legendre
    inverse = _to_series(order)
    unit = np.eye(order)
    slope = np.stack([leg.legval(nodes, leg.legder(c)) for c in unit], axis=-1)
    total = np.stack([leg.legval(nodes, leg.legint(c, lbnd=-1)) for c in unit], axis=-1)
    return slope @ inverse, total @ inverse
