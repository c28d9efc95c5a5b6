"""The plane figure that a cut through a part leaves: loops of lines, arcs or other smooth curves.

Axes: x is the normal of the figure; y and z lie in it, right-handed. Points are (y, z) in mm, and
the material lies to the left of every loop as it is walked: outer loops counter-clockwise, holes
clockwise.

An `Outline` broadcasts: with leading dimensions in its points it is many figures of one topology,
such as the stations along a part or the variants of a design. A `Boundary` is one figure whose
edges may be any curve. Pieces joined with `+` must neither overlap nor share an edge: they stay
separate pieces.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

__all__ = [
    "Array",
    "Boundary",
    "Curve",
    "Loop",
    "Outline",
    "Segment",
    "Segments",
]

QUARTER = float(np.tan(np.pi / 8))
"""Bulge [-] of a quarter circle."""


class Curve(Protocol):
    """An edge run from t = 0 to t = 1, smooth in between."""

    @property
    def breaks(self) -> Array:
        """Parameters t (n,), 0 and 1 among them, between which one formula holds."""
        ...

    def at(self, t: Array, /) -> tuple[Array, Array]:
        """Points (..., 2) [mm] and their derivatives by t (..., 2) [mm] at parameters t (...)."""
        ...


def arc_at(start: Array, end: Array, bulge: Array, t: Array) -> tuple[Array, Array]:
    """Points and derivatives along lines and arcs; t runs evenly with the arc length.

    Args:
        start [mm]: first points (..., 2).
        end [mm]: last points (..., 2).
        bulge [-]: tan(included angle/4) (...).
        t [-]: parameters (m,) or (..., m), 0 to 1.

    Returns:
        [mm] points and derivatives (..., m, 2).
    """
    chord = (end - start) @ _AS_COMPLEX
    first = (start @ _AS_COMPLEX)[..., None]
    chord = chord[..., None]
    if not np.any(bulge):
        points = first + chord * np.broadcast_to(t, np.shape(bulge) + np.shape(t)[-1:])
        return _as_pairs(points), _as_pairs(np.broadcast_to(chord, points.shape))
    a = 2.0 * np.arctan(bulge)[..., None]
    straight = a == 0.0
    sine = np.sin(np.where(straight, 1.0, a))
    # The point lies along the chord by sin(a t)/sin(a), turned by a (t - 1); its slope turns by a (2 t - 1).
    angle = a * t
    along = np.sin(angle)
    turn = (np.cos(angle) + 1j * along) * np.exp(-1j * a)
    swing = turn * turn * np.exp(1j * a)
    along = np.where(straight, t, along / sine)
    speed = np.where(straight, 1.0, a / sine)
    return _as_pairs(first + chord * along * turn), _as_pairs(chord * speed * swing)


_AS_COMPLEX = np.array([1.0, 1j])
STRAIGHT = 1e-12
"""Bulges below this are the rounding of a straight line [-]."""


def _as_pairs(z: NDArray[np.complex128]) -> Array:
    """Complex numbers (...) as pairs (..., 2)."""
    return np.ascontiguousarray(z).view(float).reshape(*z.shape, 2)


@dataclass(frozen=True)
class Segment:
    """A line or an arc as a `Curve`: `start`, `end` (2,) [mm], `bulge` = tan(angle/4) [-]."""

    start: Array
    end: Array
    bulge: float = 0.0

    @property
    def breaks(self) -> Array:
        """From end to end."""
        return np.array([0.0, 1.0])

    def at(self, t: Array, /) -> tuple[Array, Array]:
        """Points and derivatives [mm] at t."""
        t = np.asarray(t, float)
        points, slopes = arc_at(
            np.asarray(self.start, float),
            np.asarray(self.end, float),
            np.asarray(self.bulge, float),
            t.ravel(),
        )
        return points.reshape(*t.shape, 2), slopes.reshape(*t.shape, 2)


@dataclass(frozen=True, eq=False)
class Loop:
    """A closed loop of lines and arcs; segment i runs from point i to i+1, the last to point 0.

    `points` (..., n, 2) [mm]; `bulge` (..., n) [-] is tan(included angle/4): 0 straight, positive
    counter-clockwise. The leading dimensions of the two need only broadcast against each other.
    """

    points: Array
    bulge: Array

    def __post_init__(self) -> None:
        points, bulge = np.asarray(self.points, float), np.asarray(self.bulge, float)
        if points.ndim < 2 or points.shape[-1] != 2 or points.shape[-2] < 2:
            raise ValueError(
                f"loop points have shape {points.shape}; expected (..., n, 2) with n >= 2"
            )
        if bulge.ndim < 1 or bulge.shape[-1] != points.shape[-2]:
            raise ValueError(
                f"loop has {points.shape[-2]} points and bulge of shape {bulge.shape}; "
                f"expected one bulge per point, (..., {points.shape[-2]})"
            )
        object.__setattr__(self, "points", points)
        object.__setattr__(self, "bulge", bulge)

    def __eq__(self, other: object) -> bool:
        """Whether it has the same points and bulges to the last digit."""
        return isinstance(other, Loop) and self._content == other._content

    def __hash__(self) -> int:
        return hash(self._content)

    @property
    def _content(self) -> tuple[object, ...]:
        points, bulge = self.points, self.bulge
        return points.shape, bulge.shape, points.tobytes(), bulge.tobytes()

    @property
    def shape(self) -> tuple[int, ...]:
        """Leading dimensions."""
        return np.broadcast_shapes(self.points.shape[:-2], self.bulge.shape[:-1])

    @property
    def ends(self) -> Array:
        """Last point of every segment (..., n, 2) [mm]."""
        return np.concatenate([self.points[..., 1:, :], self.points[..., :1, :]], axis=-2)

    def reversed(self) -> Loop:
        """The same loop walked the other way."""
        return Loop(self.points[..., ::-1, :], -np.roll(self.bulge[..., ::-1], -1, axis=-1))

    def curves(self) -> tuple[Segment, ...]:
        """The segments of a loop without leading dimensions, those of no length left out."""
        pairs = zip(self.points, self.ends, self.bulge, strict=True)
        return tuple(Segment(p, q, float(b)) for p, q, b in pairs if np.any(p != q))


@dataclass(frozen=True)
class Segments:
    """Lines and arcs of all loops of a figure, loop after loop.

    `start`, `end` (..., n, 2) [mm] and `bulge` (..., n) [-] as in `Loop`; `loop` (n,) the number of its loop.
    """

    start: Array
    end: Array
    bulge: Array
    loop: NDArray[np.intp]


@dataclass(frozen=True)
class Outline:
    """One or more pieces of material, holes and all, in loops of lines and arcs."""

    loops: tuple[Loop, ...]

    @property
    def shape(self) -> tuple[int, ...]:
        """Leading dimensions: () for one figure."""
        return np.broadcast_shapes(*(loop.shape for loop in self.loops))

    @cached_property
    def segments(self) -> Segments:
        """All segments at once: most of what is asked of a figure does not mind the loops."""
        loops = self.loops
        if len(loops) == 1:
            (one,) = loops
            return Segments(one.points, one.ends, one.bulge, np.zeros(one.bulge.shape[-1], int))
        points = _side_by_side([one.points for one in loops], 2)
        ends = _side_by_side([one.ends for one in loops], 2)
        bulge = _side_by_side([one.bulge for one in loops], 1)
        count = [one.bulge.shape[-1] for one in loops]
        return Segments(points, ends, bulge, np.repeat(np.arange(len(loops)), count))

    def __add__(self, other: Outline) -> Outline:
        """Both figures together. They must not overlap or share an edge."""
        return Outline(self.loops + other.loops)

    def minus(self, hole: Outline) -> Outline:
        """This figure with `hole`, which lies wholly inside it, taken out."""
        return Outline(self.loops + tuple(loop.reversed() for loop in hole.loops))

    def moved(self, dy: ArrayLike, dz: ArrayLike) -> Outline:
        """Shifted by dy, dz [mm]."""
        shift = np.stack(np.broadcast_arrays(np.asarray(dy, float), np.asarray(dz, float)), axis=-1)
        return Outline(tuple(Loop(p.points + shift[..., None, :], p.bulge) for p in self.loops))

    def rotated(self, angle: ArrayLike) -> Outline:
        """Turned about the origin by `angle` [rad], counter-clockwise (y towards z)."""
        c, s = np.cos(angle)[..., None], np.sin(angle)[..., None]

        def turned(points: Array) -> Array:
            y, z = points[..., 0], points[..., 1]
            return np.stack([c * y - s * z, s * y + c * z], axis=-1)

        return Outline(tuple(Loop(turned(p.points), p.bulge) for p in self.loops))

    def mirrored(self) -> Outline:
        """Mirrored in the z axis: y becomes -y."""
        flip = np.array([-1.0, 1.0])
        return Outline(
            tuple(Loop(p.points * flip, -p.bulge).reversed() for p in self.loops),
        )

    def box(self) -> tuple[Array, Array]:
        """Lower and upper corner [mm] of the box around the figure, arcs included, each (..., 2)."""

        axes = np.array([(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)])
        reach = farthest(self, axes.reshape(4, *(1,) * len(self.shape), 2))[0]
        return -np.stack(reach[2:], axis=-1), np.stack(reach[:2], axis=-1)

    def pick(self, index: Any) -> Outline:
        """The figures at an index into the leading dimensions, as of a numpy array."""
        shape = self.shape

        def taken(array: Array, kept: int) -> Array:
            return np.asarray(np.broadcast_to(array, shape + array.shape[-kept:])[index])

        return Outline(tuple(Loop(taken(p.points, 2), taken(p.bulge, 1)) for p in self.loops))

    def without_short_edges(self, length: float) -> Outline:
        """One figure with each straight edge below `length` [mm] run out to the corner it breaks.

        Only where both neighbours are straight and meet beyond the edge, not much farther than it is long.
        """
        return Outline(tuple(_without_short_edges(loop, length) for loop in self.loops))

    def boundary(self) -> Boundary:
        """The same figure as a `Boundary`.

        Raises:
            ValueError: where the outline holds more than one figure.
        """
        if self.shape != ():
            raise ValueError(
                f"a boundary is one figure; pick one of these of shape {self.shape} first"
            )
        return Boundary(tuple(loop.curves() for loop in self.loops))


def _side_by_side(arrays: Sequence[Array], kept: int) -> Array:
    """Arrays joined along the first of their last `kept` dimensions, those before broadcast."""
    leading = [array.shape[:-kept] for array in arrays]
    if len(set(leading)) > 1:
        shape = np.broadcast_shapes(*leading)
        arrays = [np.broadcast_to(array, shape + array.shape[-kept:]) for array in arrays]
    return np.concatenate(arrays, axis=-kept)


def _without_short_edges(loop: Loop, length: float) -> Loop:
    points, bulge = loop.points, loop.bulge
    edges = loop.ends - points
    before, after = np.roll(edges, 1, axis=0), np.roll(edges, -1, axis=0)
    straight = (bulge == 0.0) & (np.roll(bulge, 1) == 0.0) & (np.roll(bulge, -1) == 0.0)
    size = np.hypot(edges[:, 0], edges[:, 1])
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    span = np.hypot(*before.T) * np.hypot(*after.T)
    meet = np.abs(cross) > 0.2 * span
    # From the start of the edge on along the edge before it, to where the edge after it comes from.
    reach = (edges[:, 0] * after[:, 1] - edges[:, 1] * after[:, 0]) / np.where(meet, cross, 1.0)
    ahead = reach * np.hypot(*before.T)
    broken = straight & meet & (size < length) & (size > 0.0) & (ahead > 0.0) & (ahead < 2.0 * size)
    broken &= ~np.roll(broken, 1)
    corners = points + reach[:, None] * before
    kept = ~np.roll(broken, 1)  # the end of a broken edge goes; its start moves to the corner
    if kept.sum() < 3:
        return loop
    return Loop(np.where(broken[:, None], corners, points)[kept], bulge[kept])


@dataclass(frozen=True)
class Boundary:
    """One figure in loops of any smooth curves, end to end; material to the left of each."""

    loops: Sequence[Sequence[Curve]]

    def outline(self, pieces: int = 64) -> Outline:
        """Arcs through `pieces` stretches of every curve: exact for lines and arcs, else close.

        The gap between a smooth curve and its arcs falls with the third power of `pieces`, the
        error in area with the fourth.
        """
        t = np.linspace(0.0, 1.0, 2 * pieces + 1)
        loops = []
        for curves in self.loops:
            points, bulges = [], []
            for curve in curves:
                p = curve.at(t)[0]
                points.append(p[0:-1:2])
                bulges.append(_bulge_through(p[0:-1:2], p[1::2], p[2::2]))
            loops.append(Loop(np.concatenate(points), np.concatenate(bulges)))
        return Outline(tuple(loops))


def _bulge_through(start: Array, middle: Array, end: Array) -> Array:
    """Bulge of arcs through three points: between the half chords lies half the included angle."""
    u, v = middle - start, end - middle
    cross = u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0]
    dot = u[..., 0] * v[..., 0] + u[..., 1] * v[..., 1]
    bulge = np.tan(np.arctan2(cross, dot) / 2.0)
    return np.asarray(np.where(np.abs(bulge) < STRAIGHT, 0.0, bulge))


def farthest(outline: Outline, direction: ArrayLike) -> tuple[Any, Any]:
    """How far the outline reaches in a direction, arcs included, and where.

    Args:
        outline [mm]: the figure or figures.
        direction [-]: (..., 2) any vector; of length 0 it gives 0 at the first point.

    Returns:
        [mm] the largest y*d_y + z*d_z, times the length of `direction`, and its point (..., 2).
    """
    u = np.asarray(direction, float)
    s = outline.segments
    values = [s.start[..., 0] * u[..., None, 0] + s.start[..., 1] * u[..., None, 1]]
    places = [s.start]
    if np.any(s.bulge):
        value, place = _arc_reach(s, u)
        values.append(value)
        places.append(place)
    shape = np.broadcast_shapes(outline.shape, u.shape[:-1])
    value = np.concatenate([np.broadcast_to(v, shape + v.shape[-1:]) for v in values], axis=-1)
    place = np.concatenate([np.broadcast_to(q, shape + q.shape[-2:]) for q in places], axis=-2)
    best = np.argmax(value, axis=-1)[..., None]
    return (
        np.take_along_axis(value, best, axis=-1)[..., 0][()],
        np.take_along_axis(place, best[..., None], axis=-2)[..., 0, :],
    )


def _arc_reach(s: Segments, u: Array) -> tuple[Array, Array]:
    """Reach and place of each segment's arc; -inf where its farthest point is one of its ends."""
    p, q = s.start, s.end
    chord, a = q - p, 2.0 * np.arctan(s.bulge)
    half = np.hypot(chord[..., 0], chord[..., 1]) / 2.0
    arc = (a != 0.0) & (half > 0.0)
    sine = np.where(a == 0.0, 1.0, np.sin(a))
    safe = np.where(half == 0.0, 1.0, 2.0 * half)
    normal = np.stack([chord[..., 1], -chord[..., 0]], axis=-1) / safe[..., None]
    centre = (p + q) / 2.0 - normal * (half * np.cos(a) / sine)[..., None]
    radius = np.where(arc, half / np.abs(sine), 0.0)
    size = np.hypot(u[..., 0], u[..., 1])[..., None]
    unit = u[..., None, :] / np.where(size == 0.0, 1.0, size)[..., None]
    facing = np.sign(a) * (unit * normal).sum(-1)
    place = centre + radius[..., None] * unit
    value = (place * u[..., None, :]).sum(-1)
    return np.where(arc & (facing >= np.cos(a)), value, -np.inf), place
