"""Where a plane across a plate crosses the plane figures that the plate is made of.

A figure is seen along two axes: s, in which the plane moves, and v, across it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from parts.strength.section.outline import Array, Loop

Corner = tuple[float, float]

ASLANT = 0.07
"""Tangent of the angle below which an edge lies almost in the plane of the cut [-]."""


class Run(NamedTuple):
    """A part of a loop along which s only grows or only falls: a line or an arc on one side of its centre."""

    s: tuple[float, float]
    v: tuple[float, float]
    centre: tuple[float, float] | None
    radius: float
    side: float
    turn: float

    def across(self, s: Array) -> Array:
        """v at each s."""
        if self.centre is None:
            return self.v[0] + (s - self.s[0]) * (self.v[1] - self.v[0]) / (self.s[1] - self.s[0])
        return self.centre[1] + self.side * self._half_chord(self.radius, s)

    def breadth(self, s: Array, inward: float) -> Array:
        """Breadth along v of a chamfer that reaches `inward` into the figure, outward where negative."""
        if self.centre is None:
            slope = (self.v[1] - self.v[0]) / (self.s[1] - self.s[0])
            return np.full(np.shape(s), abs(inward) * np.hypot(1.0, slope))
        reached = self.radius - self.turn * inward
        return np.abs(self._half_chord(reached, s) - self._half_chord(self.radius, s))

    def middle(self, s: Array, inward: float) -> Array:
        """Depth of that chamfer at half of its breadth."""
        if self.centre is None:
            return np.full(np.shape(s), abs(inward) / 2.0)
        v = (
            self._half_chord(self.radius - self.turn * inward, s) + self._half_chord(self.radius, s)
        ) / 2.0
        away = np.abs(np.hypot(s - self.centre[0], v) - self.radius)
        return np.asarray(np.maximum(abs(inward) - away, 0.0))

    def _half_chord(self, radius: float, s: Array) -> Array:
        assert self.centre is not None
        return np.asarray(np.sqrt(np.maximum(radius**2 - (s - self.centre[0]) ** 2, 0.0)))


def runs(loop: Loop, frame: Array) -> list[Run]:
    """The runs of one loop along the two rows of the frame, s and v; what lies in the plane of a cut is none."""
    corners = [(s, v) for s, v in (loop.points @ frame.T).tolist()]
    found: list[Run] = []
    # Plain numbers: a figure has few corners, and arrays of two cost more than they save.
    for start, end, bulge in zip(
        corners, [*corners[1:], corners[0]], loop.bulge.tolist(), strict=True
    ):
        if start != end:
            found += _arc_pieces(start, end, bulge) if bulge else _line_piece(start, end)
    return found


def _line_piece(start: Corner, end: Corner) -> list[Run]:
    (s0, v0), (s1, v1) = start, end
    return [Run((s0, s1), (v0, v1), None, 0.0, 0.0, 0.0)] if s0 != s1 else []


def _arc_pieces(start: Corner, end: Corner, bulge: float) -> list[Run]:
    (s0, v0), (s1, v1) = start, end
    off = (1.0 - bulge**2) / (4.0 * bulge)
    at_s, at_v = (s0 + s1) / 2.0 - (v1 - v0) * off, (v0 + v1) / 2.0 + (s1 - s0) * off
    radius = math.hypot(s0 - at_s, v0 - at_v)
    first = math.atan2(v0 - at_v, s0 - at_s)
    turn = 4.0 * math.atan(bulge)
    # s has its extremes where the angle is a multiple of π.
    low, high = sorted((first, first + turn))
    stops = [
        k * math.pi
        for k in range(math.ceil(low / math.pi - 1e-12), math.floor(high / math.pi + 1e-12) + 1)
    ]
    angles = sorted(
        {first, first + turn, *(a for a in stops if low + 1e-12 < a < high - 1e-12)},
        reverse=turn < 0.0,
    )
    found = []
    for a, b in pairwise(angles):
        s = at_s + radius * math.cos(a), at_s + radius * math.cos(b)
        v = at_v + radius * math.sin(a), at_v + radius * math.sin(b)
        if s[0] != s[1]:
            side = 1.0 if math.sin((a + b) / 2.0) > 0.0 else -1.0
            found.append(Run(s, v, (at_s, at_v), radius, side, math.copysign(1.0, turn)))
    return found


def grazing(pieces: Sequence[Run], edge: float, metal: float) -> list[tuple[float, float]]:
    """Stretches of s along a loop's chamfer where it turns back, and along lines that almost lie in the plane.

    `metal` is +1 where the metal lies to the left of the loop, -1 where to its right.
    """
    found = []
    for before, after in zip([pieces[-1], *pieces[:-1]], pieces, strict=True):
        if (before.s[1] - before.s[0]) * (after.s[1] - after.s[0]) < 0.0:
            into = -metal * np.sign(sum(after.v) - sum(before.v)) * edge
            found.append((min(after.s[0], after.s[0] + into), max(after.s[0], after.s[0] + into)))
    for p in pieces:
        if p.centre is None and abs(p.s[1] - p.s[0]) < ASLANT * abs(p.v[1] - p.v[0]):
            into = -metal * np.sign(p.v[1] - p.v[0]) * edge
            found.append((min(p.s) + min(into, 0.0), max(p.s) + max(into, 0.0)))
    return found


def turning(pieces: Sequence[Run]) -> list[float]:
    """Where a loop turns back in s."""
    before = [pieces[-1], *pieces[:-1]]
    return [
        p.s[0]
        for b, p in zip(before, pieces, strict=True)
        if (b.s[1] - b.s[0]) * (p.s[1] - p.s[0]) < 0.0
    ]


class Crossed(NamedTuple):
    """Where the stations cross a loop, `v` (..., crossings), and the chamfer there: its `breadth`, and its
    depth at the `middle` of that [mm]."""

    v: Array
    breadth: Array
    middle: Array

    def at(self, stations: int | slice) -> Crossed:
        """The same at some of the stations of one axis."""
        return Crossed(self.v[stations], self.breadth[stations], self.middle[stations])

    def reshaped(self, shape: tuple[int, ...]) -> Crossed:
        """The same with the stations in another shape."""
        return Crossed(*(one.reshape(*shape, -1) if one.size else np.zeros((*shape, one.shape[-1]))
                         for one in (self.v, self.breadth, self.middle)))  # fmt: skip


def crossings(pieces: Sequence[Run], s: Array, middle: float, inward: float) -> Crossed:
    """Every crossing at the stations s, in order of v; their number is that at `middle`."""
    low, high = min(middle, float(np.min(s))), max(middle, float(np.max(s)))
    pieces = [p for p in pieces if min(p.s) <= high and max(p.s) >= low]
    count = sum(min(p.s) < middle <= max(p.s) for p in pieces)
    found = np.zeros((3, *s.shape, len(pieces)))
    for k, p in enumerate(pieces):
        meets = (min(p.s) < s) & (s <= max(p.s))
        found[0, ..., k] = np.where(meets, p.across(s), np.inf)
        if inward:
            found[1, ..., k], found[2, ..., k] = p.breadth(s, inward), p.middle(s, inward)
    order = np.argsort(found[0], axis=-1)[..., :count]
    return Crossed(*(np.take_along_axis(one, order, -1) for one in found))


def metal_across(
    outer: Loop, windows: Sequence[Loop], at: Array, way: Array, reach: float
) -> float:
    """Metal on a line across a figure, up to `reach` to either side of a place [mm].

    Args:
        outer: contour of the figure.
        windows: what is cut out of it.
        at: the place (2,) [mm].
        way: direction square to the line (2,), of length 1.
        reach: how far to either side [mm].

    Returns:
        The sum of the lengths that lie in metal.
    """
    frame = np.array([way, [-way[1], way[0]]])
    s, v = frame @ at
    ends = [
        np.clip([float(one.across(s)) - v for one in runs(loop, frame) if min(one.s) < s <= max(one.s)],
                -reach, reach)
        for loop in (outer, *windows)
    ]  # fmt: skip
    lengths = [float(np.sum(np.diff(np.sort(one))[::2])) for one in ends]
    return lengths[0] - sum(lengths[1:])
