"""The outline of a section from its columns: heights of metal between marks, walked round.

A mark is a place across the section where something begins or ends; between two marks the metal stands
between the same levels. The walk is found at one station and serves all that have the same marks in the same
order.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from itertools import pairwise
from operator import itemgetter
from typing import Any, NamedTuple

import numpy as np

from parts.features.plate.section.crossing import Crossed
from parts.features.plate.section.layers import Flare
from parts.strength.section.outline import Array

SAME = 1e-9
"""Lengths [mm] below this are one."""


def first_of(value: Any) -> float:
    """A number, or the first of an array of them."""
    return value if isinstance(value, float) else float(np.ravel(value)[0])


class Level(NamedTuple):
    """One end of a height interval: flat at `value`, or the top of a flare about `centre` (s, v)."""

    value: Any
    flare: Flare | None = None
    centre: Any = None

    def at(self, rho: float) -> float:
        return first_of(self.value if self.flare is None else self.flare.height(rho))


Stack = list[tuple[Level, Level]]


class Vertex(NamedTuple):
    """A corner of a traced loop: which mark, at which level, and whether a curved edge follows."""

    mark: int
    level: Level
    curved: bool


class Marks(NamedTuple):
    """The crossings across a section in order: at its middle station, and at every station (..., marks)."""

    here: list[float]
    v: Array
    breadth: Array
    middle: Array
    layers: list[int]


def in_order(here: Sequence[Sequence[Crossed]], crossed: Sequence[Sequence[Crossed]]) -> Marks:
    """Put the crossings of all layers in order; of two that coincide one is kept."""
    flat = np.concatenate([c.v for loops in here for c in loops])
    owners = [k for k, loops in enumerate(here) for c in loops for _ in c.v]
    values = [
        np.concatenate([getattr(c, name) for loops in crossed for c in loops], axis=-1)
        for name in ("v", "breadth", "middle")
    ]
    kept: list[int] = []
    for k in np.argsort(flat, kind="stable"):
        if not kept or flat[k] - flat[kept[-1]] > SAME:
            kept.append(int(k))
    v, breadth, middle = (one[..., kept] for one in values)
    return Marks([float(flat[k]) for k in kept], v, breadth, middle, [owners[k] for k in kept])


def corner_break(
    here: Array, back: Array, there: Array, edge: Any, breadth: Array, middle: Array
) -> tuple[Array, Array, Array]:
    """Start, middle and end of the chamfer at a corner, walked from `back` to `there`."""

    def way(to: Array) -> tuple[Array, Array]:
        run = to - here
        size = np.hypot(run[..., 0], run[..., 1])
        upright = np.abs(run[..., 0]) < np.abs(run[..., 1]) * 1e-6
        reach = np.minimum(np.where(upright, edge, breadth), 0.45 * size)
        half = np.minimum(np.where(upright, middle, reach / 2.0), reach)
        unit = run / np.where(size > 0.0, size, 1.0)[..., None]
        return here + unit * reach[..., None], unit * half[..., None]

    (start, into), (end, out) = way(back), way(there)
    return start, np.asarray(here + into + out), end


def simple(chain: Sequence[Vertex]) -> list[Vertex]:
    """The loop without the corners that lie on a straight run."""

    def straight(a: Vertex, b: Vertex, c: Vertex) -> bool:
        if a.curved or b.curved:
            return False
        level = a.level.flare is None and b.level.flare is None and c.level.flare is None
        flat = level and number(a.level) == number(b.level) == number(c.level)
        return flat or a.mark == b.mark == c.mark

    return [
        b
        for a, b, c in zip([chain[-1], *chain[:-1]], chain, [*chain[1:], chain[0]], strict=True)
        if not straight(a, b, c)
    ]


def number(level: Level) -> float:
    return level.at(0.0)


def joined(stack: Stack, low: Level, high: Level, z: Callable[[Level], float] = number) -> Stack:
    """The stack with metal added from low to high; what touches becomes one."""
    kept = []
    for a, b in stack:
        if z(b) < z(low) - 1e-9 or z(a) > z(high) + 1e-9:
            kept.append((a, b))
        else:
            low, high = (a if z(a) <= z(low) else low), (b if z(b) >= z(high) else high)
    return sorted([*kept, (low, high)], key=lambda pair: z(pair[0]))


def parted(stack: Stack, low: Level, high: Level) -> Stack:
    """The stack with all between low and high cut away."""
    kept: Stack = []
    for a, b in stack:
        if number(a) < number(low) - 1e-9:
            kept.append((a, low if number(low) < number(b) else b))
        if number(b) > number(high) + 1e-9:
            kept.append((high if number(high) > number(a) else a, b))
    return [(a, b) for a, b in kept if number(b) - number(a) > 1e-9]


_Edge = tuple[tuple[int, Level], tuple[int, Level], bool]


def traced(
    marks: Sequence[float], stacks: Sequence[Stack], z: Callable[[float, Level], float]
) -> list[list[Vertex]]:
    """Walk round the metal of the columns, metal on the left."""
    edges: list[_Edge] = []
    for k, stack in enumerate(stacks):
        for low, high in stack:
            edges.append(((k, low), (k + 1, low), low.flare is not None))
            edges.append(((k + 1, high), (k, high), high.flare is not None))
    for k in range(len(marks)):
        left = stacks[k - 1] if k > 0 else []
        right = stacks[k] if k < len(stacks) else []
        edges += _walls(k, left, right, partial(z, marks[k]))
    return _chained(edges, lambda vertex: (vertex[0], round(z(marks[vertex[0]], vertex[1]), 6)))


def _walls(k: int, left: Stack, right: Stack, z: Callable[[Level], float]) -> list[_Edge]:
    """Upright edges at a mark: up where metal lies on the left only, down where on the right only."""
    sides = [[(z(a), z(b)) for a, b in side] for side in (left, right)]
    heights = [height for side in sides for pair in side for height in pair]
    ends = [end for pair in (*left, *right) for end in pair]
    levels: list[tuple[float, Level]] = []
    for height, level in sorted(zip(heights, ends, strict=True), key=itemgetter(0)):
        if not levels or height - levels[-1][0] > 1e-6:
            levels.append((height, level))
    edges: list[_Edge] = []
    for (bottom, low), (top, high) in pairwise(levels):
        middle = (bottom + top) / 2.0
        on_left, on_right = (any(a < middle < b for a, b in side) for side in sides)
        if on_left and not on_right:
            edges.append(((k, low), (k, high), False))
        if on_right and not on_left:
            edges.append(((k, high), (k, low), False))
    return edges


def _chained(edges: Sequence[_Edge], key: Callable[[tuple[int, Level]], Any]) -> list[list[Vertex]]:
    """Edges joined end to start into closed loops."""
    by_start: dict[Any, list[_Edge]] = {}
    for edge in edges:
        by_start.setdefault(key(edge[0]), []).append(edge)
    loops = []
    while by_start:
        first = next(iter(by_start))
        chain: list[Any] = []
        at = first
        while not chain or at != first:
            edge = by_start[at].pop()
            if not by_start[at]:
                del by_start[at]
            chain.append(Vertex(*edge[0], edge[2]))
            at = key(edge[1])
        loops.append(chain)
    return loops


def through(a: Array, b: Array, c: Array) -> Array:
    """Bulge of the arc through three points."""
    u, v = b - a, c - b
    cross = u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0]
    return np.asarray(np.tan(np.arctan2(cross, (u * v).sum(-1)) / 2.0))
