"""Cuts across a plate with what stands on it and what is bored into it.

The plate is built of prisms along z: a figure in the plane of the plate between two heights, added or cut away
in order. A plane across the plate meets each in rectangles; their union, traced, is the section. Along the
direction in which the plane moves, the places where the tracing changes (the ends of windows, holes and bosses)
are known beforehand: between two of them the section keeps its topology, and one tracing serves every station.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.loadpath import Notch, Span, smooth
from parts.features.plate.section.columns import Line, Stretch
from parts.features.plate.section.crossing import Crossed, crossings, grazing, runs, turning
from parts.features.plate.section.layers import Layer, Prism, figures, meetings
from parts.features.plate.section.rims import Holes, Own, Rim, crossed_holes, nothing
from parts.features.plate.section.tracing import (
    SAME,
    Level,
    Marks,
    Stack,
    Vertex,
    corner_break,
    first_of,
    in_order,
    joined,
    number,
    parted,
    simple,
    through,
    traced,
)
from parts.strength.fatigue.notch import hole_in_plate
from parts.strength.section.outline import Array, Loop, Outline

if TYPE_CHECKING:
    from parts.core.loads import Action, LoadCase
    from parts.standards.materials.materials import Material

CLEAR = 0.05
"""How far a span keeps from the places where the section changes its topology [mm]: nearer, a plane that grazes
a spotface or a bore cuts a slot so narrow that the shear beside it is a figure of the outline, not of the part."""
SHORTEST = 0.3
"""Stretches shorter than this [mm] are left out: the section is that of its neighbours."""
SMALL = 6.0
"""Stretches shorter than this [mm] are cut at five stations, longer ones at nine."""
ARCS = np.array([0.0, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 6.5, 7.0, 7.5, 8.0]) * np.pi / 8.0
"""Ends of the arcs that stand for a curved edge of a section, as angles of a cosine [rad]: halved at both ends, where a
root fillet must run into its boss without a corner, at which no shear would be taken."""
SHARES = (1.0 - np.cos(np.sort([*ARCS, *(ARCS[1:] + ARCS[:-1]) / 2.0]))) / 2.0
"""Where along it, in shares of its run, their ends and middles lie."""


class PlateCut:
    """A plate and its layers, cut across a direction in its plane.

    `normal` (2,) is the direction in which the plane moves; `origin` (2,) [mm] a place from which s along it
    and v across it are measured. `mirror` is -1 where the finished part is mirrored in the plane z = 0. Discs
    `left_out`, centre and radius, hold what is no layer: the load path has no sections through them.
    """

    def __init__(
        self,
        layers: Sequence[Layer],
        normal: Array,
        origin: Array,
        mirror: float = 1.0,
        left_out: Sequence[tuple[tuple[float, float], float]] = (),
    ) -> None:
        self.layers = tuple(layers)
        self.normal = np.asarray(normal, float) / np.hypot(*normal)
        self.origin = np.asarray(origin, float)
        self.mirror = mirror
        self.left_out = tuple(left_out)
        self.frame = np.array([self.normal, [-self.normal[1], self.normal[0]]])
        self._paths = [
            [runs(self._shifted(loop), self.frame) for loop in figures(layer)]
            for layer in self.layers
        ]
        self._reaches = [
            [
                (min(min(p.s) for p in path), max(max(p.s) for p in path)) if path else (0.0, 0.0)
                for path in paths
            ]
            for paths in self._paths
        ]
        self._centres = [
            None
            if isinstance(layer, Prism)
            else self.frame @ (np.asarray(layer.centre) - self.origin)
            for layer in self.layers
        ]

    def _shifted(self, loop: Loop) -> Loop:
        return Loop(loop.points - self.origin, loop.bulge)

    @cached_property
    def changes(self) -> list[float]:
        """Every s at which the section may change its topology, in order [mm]."""
        found = [s for paths in self._paths for path in paths for s in turning(path)]
        found += [float((p - self.origin) @ self.normal) for p in meetings(self.layers)]
        return sorted(found)

    @cached_property
    def _skipped(self) -> list[tuple[float, float]]:
        """Stretches of s without a section: those left out, and those where an edge is only grazed.

        A plane grazes where it meets a broken edge but not its figure, or an edge that lies almost in it. The
        section there lies between those before and behind.
        """
        middles = [
            (float((np.asarray(c) - self.origin) @ self.normal), r) for c, r in self.left_out
        ]
        found = [(s - r, s + r) for s, r in middles]
        for layer, paths in zip(self.layers, self._paths, strict=True):
            if isinstance(layer, Prism) and layer.edge > 0.0:
                found += grazing(paths[0], layer.edge, 1.0 if layer.solid else -1.0)
        return found

    @cached_property
    def _stops(self) -> Array:
        """Every s at which a stretch may end, in order [mm]."""
        return np.sort([*self.changes, *np.ravel(self._skipped)])

    def stretches(self, start: float, end: float) -> list[tuple[float, float]]:
        """Stretches of s between start and end along which the section keeps its topology."""
        between = self._stops[(start < self._stops) & (self._stops < end)]
        stops = np.array([start, *between, end])
        low, high = np.reshape(self._skipped, (-1, 2)).T
        a, b = stops[:-1], stops[1:]
        middle = ((a + b) / 2.0)[:, None]
        kept = (b - a > SHORTEST) & ~np.any((low < middle) & (middle < high), axis=-1)
        return list(zip((a[kept] + CLEAR).tolist(), (b[kept] - CLEAR).tolist(), strict=True))

    def outline(self, middle: float, s: Any) -> Outline:
        """Sections at stations s [mm] of the stretch that holds `middle`.

        Returns:
            Outlines with y across the normal from the origin, and z that of the part.
        """
        s = np.asarray(s, float)
        # The middle is crossed along with the stations; what has no crossing there has none at any.
        every = self._crossed(np.append(s, middle), middle)
        met = [any(c.v.shape[-1] for c in loops) for loops in every]
        here = [[c.at(-1) for c in loops] if m else [] for loops, m in zip(every, met, strict=True)]
        crossed = [
            [c.at(slice(-1)).reshaped(s.shape) for c in loops] if m else []
            for loops, m in zip(every, met, strict=True)
        ]
        marks = in_order(here, crossed)
        stacks = self._stacks(middle, here, [(a + b) / 2.0 for a, b in pairwise(marks.here)])
        chains = traced(marks.here, stacks, lambda v, level: self._z(level, middle, v))
        return Outline(tuple(self._placed(simple(chain), marks, s) for chain in chains))

    def _crossed(self, s: Array, middle: float) -> list[list[Crossed]]:
        low, high = float(s.min()), float(s.max())
        none = np.zeros((*s.shape, 0))
        found = []
        for layer, paths, reaches in zip(self.layers, self._paths, self._reaches, strict=True):
            inward = (
                (layer.edge if layer.solid else -layer.edge) if isinstance(layer, Prism) else 0.0
            )
            found.append(
                [
                    crossings(path, s, middle, inward)
                    if first <= high and last >= low
                    else Crossed(none, none, none)
                    for path, (first, last) in zip(paths, reaches, strict=True)
                ]
            )
        return found

    @staticmethod
    def _rho(level: Level, s: Any, v: Any) -> Any:
        if level.flare is None:
            return np.zeros(())
        return np.hypot(s - level.centre[0], v - level.centre[1])

    def _z(self, level: Level, s: float, v: float) -> float:
        return level.at(0.0 if level.flare is None else float(self._rho(level, s, v)))

    def _stacks(
        self, s: float, here: Sequence[Sequence[Crossed]], columns: Sequence[float]
    ) -> list[Stack]:
        """Heights of metal in the columns at v."""
        met = [
            (layer, [c.v.tolist() for c in crossed], centre)
            for layer, crossed, centre in zip(self.layers, here, self._centres, strict=True)
            if crossed
        ]
        return [self._stack(s, met, v) for v in columns]

    def _stack(
        self, s: float, met: Sequence[tuple[Layer, Sequence[Sequence[float]], Any]], v: float
    ) -> Stack:
        stack: Stack = []
        for layer, crossed, centre in met:
            inside = [bisect_left(places, v) % 2 == 1 for places in crossed]
            if isinstance(layer, Prism):
                if inside[0]:
                    ends = Level(layer.low), Level(layer.high)
                    stack = joined(stack, *ends) if layer.solid else parted(stack, *ends)
            elif inside[0] and not inside[1]:
                top, face = Level(None, layer, centre), Level(layer.face)
                ends = (face, top) if layer.up else (top, face)
                stack = joined(stack, *ends, lambda lv: self._z(lv, s, v))
        return stack

    def _placed(self, chain: Sequence[Vertex], marks: Marks, s: Array) -> Loop:
        """A traced loop at every station."""
        loop = self._straight(chain, marks) if _flat(chain) else self._curved(chain, marks, s)
        loop = Loop(loop.points * np.array([1.0, self.mirror]), loop.bulge * self.mirror)
        return loop if self.mirror > 0.0 else loop.reversed()

    def _straight(self, chain: Sequence[Vertex], marks: Marks) -> Loop:
        """A loop whose vertices all lie on flat levels, every corner at once."""
        at = [vertex.mark for vertex in chain]
        v = marks.v[..., at]
        here = np.stack(
            [v, np.broadcast_to([number(one.level) for one in chain], v.shape)], axis=-1
        )
        edge = np.array([self._break_at(vertex, marks) for vertex in chain])
        broken = edge > 0.0
        place = np.cumsum(1 + broken) - 1 - broken
        points = np.empty((*v.shape[:-1], len(chain) + int(broken.sum()), 2))
        bulge = np.zeros(points.shape[:-1])
        points[..., place, :] = here
        if broken.any():
            back, there = np.roll(here, 1, axis=-2), np.roll(here, -1, axis=-2)
            breadth, depth = marks.breadth[..., at], marks.middle[..., at]
            start, middle, end = corner_break(
                here[..., broken, :], back[..., broken, :], there[..., broken, :],
                edge[broken], breadth[..., broken], depth[..., broken],
            )  # fmt: skip
            points[..., place[broken], :], points[..., place[broken] + 1, :] = start, end
            bulge[..., place[broken]] = through(start, middle, end)
        return Loop(points, bulge)

    def _curved(self, chain: Sequence[Vertex], marks: Marks, s: Array) -> Loop:
        """A loop with flares among its levels, vertex by vertex."""
        points: list[Array] = []
        bulges: list[Array] = []
        for k, vertex in enumerate(chain):
            before, after = chain[k - 1], chain[(k + 1) % len(chain)]
            here, there = (
                self._point(one.level, s, marks.v[..., one.mark]) for one in (vertex, after)
            )
            if vertex.curved:
                v = marks.v[..., vertex.mark, None]
                run = self._point(
                    vertex.level, s[..., None], v + SHARES * (marks.v[..., after.mark, None] - v)
                )
                first, middle, last = run[..., 0:-1:2, :], run[..., 1::2, :], run[..., 2::2, :]
                points += list(np.moveaxis(first, -2, 0))
                bulges += list(np.moveaxis(through(first, middle, last), -1, 0))
                continue
            edge = self._break_at(vertex, marks)
            if edge > 0.0 and not before.curved:
                back = self._point(before.level, s, marks.v[..., before.mark])
                breadth, depth = marks.breadth[..., vertex.mark], marks.middle[..., vertex.mark]
                start, middle, end = corner_break(here, back, there, edge, breadth, depth)
                points += [start, end]
                bulges.append(through(start, middle, end))
            else:
                points.append(here)
            bulges += [np.zeros(np.shape(here)[:-1])] * (len(points) - len(bulges))
        shape = np.broadcast_shapes(*(np.shape(p) for p in points))
        stacked = np.stack([np.broadcast_to(p, shape) for p in points], axis=-2)
        bulge = np.stack([np.broadcast_to(b, shape[:-1]) for b in bulges], axis=-1)
        return Loop(stacked, bulge)

    def _break_at(self, vertex: Vertex, marks: Marks) -> float:
        """Height of the chamfer at a corner of the section [mm]; 0 for none."""
        layer = self.layers[marks.layers[vertex.mark]]
        if isinstance(layer, Prism) and layer.edge > 0.0 and vertex.level.flare is None:
            z = number(vertex.level)
            for broken, end in zip(layer.broken, (layer.low, layer.high), strict=True):
                if broken and abs(z - first_of(end)) < SAME:
                    return layer.edge
        return 0.0

    def _point(self, level: Level, s: Array, v: Array) -> Array:
        z = level.value if level.flare is None else level.flare.height(self._rho(level, s, v))
        point = np.empty((*np.broadcast_shapes(np.shape(v), np.shape(z)), 2))
        point[..., 0], point[..., 1] = v, z
        return point

    def line(
        self,
        start: float,
        end: float,
        actions: Callable[[Any], Callable[[LoadCase], Sequence[Action]]],
        also: Sequence[float] = (),
    ) -> Line:
        """All sections from s = start to s = end.

        Args:
            start: where it begins [mm].
            end: where it ends [mm].
            actions: gives, for places s, what acts beyond them.
            also: further places s [mm] between which what acts changes evenly.

        Returns:
            Stretches of one topology along which what acts changes evenly.
        """
        stops = sorted({start, end, *(s for s in also if start < s < end)})
        stretches = [
            Stretch(a, b, 5 if b - a < SMALL else 9)
            for low, high in pairwise(stops)
            for a, b in self.stretches(low, high)
        ]
        prisms = [
            (layer, paths[0])
            for layer, paths in zip(self.layers, self._paths, strict=True)
            if isinstance(layer, Prism)
        ]
        return Line(prisms, self.origin, self.frame, self.mirror, stretches, actions)

    def spans(
        self,
        name: str,
        line: Line,
        material: Material,
        rims: Sequence[Rim] = (),
        own: Own = nothing,
    ) -> list[Span]:
        """The load path along a line, one span a stretch; `own` is what each of the `rims` adds under a load case."""
        holes = crossed_holes(rims, self.origin, self.frame)
        return [
            Span(
                name, self._place(one.start), self._place(one.end), self._axes(),
                _Stretch(self, one.start, one.end), line.actions(one.start), material, "part", one.stations,
                partial(_notch, line, k, holes), partial(line.von_mises, k), ending=line.actions(one.end),
                rim=partial(holes.added, own, one) if rims else None,
            )
            for k, one in enumerate(line.stretches)
        ]  # fmt: skip

    def _place(self, s: float) -> Array:
        x, y = self.origin + s * self.normal
        return np.array([x, y, 0.0])

    def _axes(self) -> Array:
        x, y = self.normal
        return np.array([[x, y, 0.0], [-y, x, 0.0], [0.0, 0.0, 1.0]])


@dataclass(frozen=True)
class _Stretch:
    """Outlines of one stretch by the share t of its length."""

    cut: PlateCut
    start: float
    end: float

    def __call__(self, t: Any) -> Outline:
        s = self.start + np.asarray(t, float) * (self.end - self.start)
        return self.cut.outline((self.start + self.end) / 2.0, s)


def _notch(line: Line, k: int, holes: Holes, t: Array) -> Notch:
    """What raises the stress: the edge of a hole or slot, felt in full, where the section is parted by bores or
    windows; nothing where it is whole."""
    if not line.parted[k]:
        return smooth(t)
    there = holes.crossed(line.stretches[k], np.ravel(t))
    K = np.max(holes.factor[:, None] * there, axis=0, initial=float(hole_in_plate(0.0)))
    return Notch(K.reshape(np.shape(t)), np.inf)


def _flat(chain: Sequence[Vertex]) -> bool:
    return all(
        not one.curved and one.level.flare is None and isinstance(one.level.value, float)
        for one in chain
    )
