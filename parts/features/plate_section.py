"""Cuts across a plate with what stands on it and what is bored into it.

The plate is built of prisms along z: a figure in the plane of the plate between two heights, added or cut away
in order. A plane across the plate meets each in rectangles; their union, traced, is the section. Along the
direction in which the plane moves, the places where the tracing changes (the ends of windows, holes and bosses)
are known beforehand: between two of them the section keeps its topology, and one tracing serves every station.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.strength.outline import Array, Loop, Outline, Segment, circle

if TYPE_CHECKING:
    from parts.loadpath import Span
    from parts.loads import Action, LoadCase
    from parts.standards.materials import Material

CLEAR = 1e-6
"""How far a span keeps from the places where the section changes its topology [mm]."""
SAME = 1e-9
"""Lengths [mm] below this are one."""
SHORTEST = 0.05
"""Stretches shorter than this [mm] are left out: the section is that of its neighbours."""
ARCS = 8
"""Arcs that stand for a curved edge of a section; even."""


@dataclass(frozen=True)
class Prism:
    """A figure between two heights [mm]: metal where `solid`, else cut away.

    The heights may be arrays over variants; the figure is one, counter-clockwise. Its edges at the ends named in
    `broken`, low and high, are chamfered by `edge` [mm].
    """

    loop: Loop
    low: Any
    high: Any
    solid: bool = True
    edge: float = 0.0
    broken: tuple[bool, bool] = (False, False)


@dataclass(frozen=True)
class Flare:
    """A hollow root fillet of a round boss: metal between the face at `face` and a quarter round.

    It stands on +z of the face where `up`, and leaves the boss of `radius` by `fillet` [mm].
    """

    centre: tuple[float, float]
    radius: float
    fillet: float
    face: Any
    up: bool

    @property
    def foot(self) -> float:
        """Radius at which the fillet runs out into the face [mm]."""
        return self.radius + self.fillet

    def height(self, rho: Any) -> Any:
        """Height of the fillet at a distance from the axis [mm]."""
        out = np.clip(self.foot - np.asarray(rho), 0.0, self.fillet)
        rise = self.fillet - np.sqrt(np.maximum(self.fillet**2 - out**2, 0.0))
        return self.face + (rise if self.up else -rise)


Layer = Prism | Flare


@dataclass(frozen=True)
class _Piece:
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

    def _half_chord(self, radius: float, s: Array) -> Array:
        assert self.centre is not None
        return np.asarray(np.sqrt(np.maximum(radius**2 - (s - self.centre[0]) ** 2, 0.0)))


def _pieces(loop: Loop, frame: Array) -> list[_Piece]:
    found: list[_Piece] = []
    for curve in Loop(loop.points @ frame.T, loop.bulge).curves():
        found += _arc_pieces(curve) if curve.bulge else _line_piece(curve)
    return found


def _line_piece(line: Segment) -> list[_Piece]:
    (s0, v0), (s1, v1) = line.start, line.end
    return [_Piece((s0, s1), (v0, v1), None, 0.0, 0.0, 0.0)] if s0 != s1 else []


def _arc_pieces(arc: Segment) -> list[_Piece]:
    start, end, bulge = np.asarray(arc.start), np.asarray(arc.end), arc.bulge
    along = end - start
    centre = (start + end) / 2.0 + np.array([-along[1], along[0]]) * (1.0 - bulge**2) / (4.0 * bulge)
    radius = float(np.hypot(*(start - centre)))
    first = float(np.arctan2(*(start - centre)[::-1]))
    turn = 4.0 * float(np.arctan(bulge))
    # s has its extremes where the angle is a multiple of π.
    low, high = sorted((first, first + turn))
    stops = [k * np.pi for k in range(int(np.ceil(low / np.pi - 1e-12)), int(np.floor(high / np.pi + 1e-12)) + 1)]
    angles = sorted({first, first + turn, *(a for a in stops if low + 1e-12 < a < high - 1e-12)}, reverse=turn < 0.0)
    found = []
    for a, b in zip(angles[:-1], angles[1:], strict=True):
        s = tuple(float(centre[0] + radius * np.cos(w)) for w in (a, b))
        v = tuple(float(centre[1] + radius * np.sin(w)) for w in (a, b))
        if s[0] != s[1]:
            side = 1.0 if np.sin((a + b) / 2.0) > 0.0 else -1.0
            found.append(_Piece(s, v, (float(centre[0]), float(centre[1])), radius, side, np.sign(turn)))
    return found


def _turning(pieces: Sequence[_Piece]) -> list[float]:
    """Where a loop turns back in s."""
    before = [pieces[-1], *pieces[:-1]]
    return [
        p.s[0] for b, p in zip(before, pieces, strict=True) if (b.s[1] - b.s[0]) * (p.s[1] - p.s[0]) < 0.0
    ]


@dataclass(frozen=True)
class _Crossed:
    """Where the stations cross a loop: `v`, and the `breadth` of the chamfer there (..., crossings) [mm]."""

    v: Array
    breadth: Array


def _crossings(pieces: Sequence[_Piece], s: Array, middle: float, inward: float) -> _Crossed:
    """Every crossing at the stations s, in order of v; their number is that at `middle`."""
    count = sum(min(p.s) < middle <= max(p.s) for p in pieces)
    v = np.full((*s.shape, len(pieces)), np.inf)
    breadth = np.zeros(v.shape)
    for k, p in enumerate(pieces):
        meets = (min(p.s) < s) & (s <= max(p.s))
        v[..., k] = np.where(meets, p.across(s), np.inf)
        breadth[..., k] = p.breadth(s, inward) if inward else 0.0
    order = np.argsort(v, axis=-1)[..., :count]
    return _Crossed(np.take_along_axis(v, order, -1), np.take_along_axis(breadth, order, -1))


@dataclass(frozen=True)
class _Level:
    """One end of a height interval: flat at `value`, or the top of a flare about `centre` (s, v)."""

    value: Any
    flare: Flare | None = None
    centre: Any = None

    def at(self, rho: float) -> float:
        value = self.value if self.flare is None else self.flare.height(rho)
        return float(np.ravel(value)[0])


_Stack = list[tuple[_Level, _Level]]


class PlateCut:
    """A plate and its layers, cut across a direction in its plane.

    `normal` (2,) is the direction in which the plane moves; `origin` (2,) [mm] a place from which s along it
    and v across it are measured. `mirror` is -1 where the finished part is mirrored in the plane z = 0.
    """

    def __init__(
        self, layers: Sequence[Layer], normal: Array, origin: Array, mirror: float = 1.0
    ) -> None:
        self.layers = tuple(layers)
        self.normal = np.asarray(normal, float) / np.hypot(*normal)
        self.origin = np.asarray(origin, float)
        self.mirror = mirror
        self.frame = np.array([self.normal, [-self.normal[1], self.normal[0]]])
        self._loops = [_figures(layer) for layer in self.layers]
        self._paths = [[_pieces(self._shifted(loop), self.frame) for loop in loops] for loops in self._loops]
        self._centres = [
            None if isinstance(layer, Prism) else self.frame @ (np.asarray(layer.centre) - self.origin)
            for layer in self.layers
        ]

    def _shifted(self, loop: Loop) -> Loop:
        return Loop(loop.points - self.origin, loop.bulge)

    def changes(self) -> list[float]:
        """Every s at which the section may change its topology, in order [mm]."""
        found = [s for paths in self._paths for path in paths for s in _turning(path)]
        rounds = [(c, r) for c, r in map(_round, self.layers) if c is not None]
        for (a, r), (b, q) in combinations(rounds, 2):
            found += [float((p - self.origin) @ self.normal) for p in _meeting(a, r, b, q)]
        return sorted(found)

    def _grazed(self) -> list[tuple[float, float]]:
        """Stretches of s in which the plane grazes the broken edge of a hole or boss, and nothing more.

        The section there lies between those before and behind; its curved chamfer is left out of the load path.
        """
        found = []
        for layer in self.layers:
            if isinstance(layer, Prism) and layer.edge > 0.0:
                centre, r = _round(layer)
                if centre is not None:
                    s = float((centre - self.origin) @ self.normal)
                    near, far = (r - layer.edge, r) if layer.solid else (r, r + layer.edge)
                    found += [(s - far, s - near), (s + near, s + far)]
        return found

    def stretches(self, start: float, end: float) -> list[tuple[float, float]]:
        """Stretches of s between start and end along which the section keeps its topology."""
        grazed = self._grazed()
        ends = [s for pair in grazed for s in pair]
        stops = sorted([start, *(s for s in [*self.changes(), *ends] if start < s < end), end])
        return [
            (a + CLEAR, b - CLEAR)
            for a, b in zip(stops[:-1], stops[1:], strict=True)
            if b - a > SHORTEST and not any(low < (a + b) / 2.0 < high for low, high in grazed)
        ]

    def outline(self, middle: float, s: Any) -> Outline:
        """Sections at stations s [mm] of the stretch that holds `middle`.

        Returns:
            Outlines with y across the normal from the origin, and z that of the part.
        """
        s = np.asarray(s, float)
        crossed, here = self._crossed(s, middle), self._crossed(np.asarray(middle), middle)
        marks = _marks(here, crossed)
        stacks = [
            self._stack(middle, here, (a + b) / 2.0) for a, b in zip(marks.here[:-1], marks.here[1:], strict=True)
        ]
        chains = _traced(marks.here, stacks, lambda v, level: self._z(level, middle, v))
        return Outline(tuple(self._placed(_simple(chain), marks, s) for chain in chains))

    def _crossed(self, s: Array, middle: float) -> list[list[_Crossed]]:
        found = []
        for layer, paths in zip(self.layers, self._paths, strict=True):
            inward = (layer.edge if layer.solid else -layer.edge) if isinstance(layer, Prism) else 0.0
            found.append([_crossings(path, s, middle, inward) for path in paths])
        return found

    @staticmethod
    def _rho(level: _Level, s: Any, v: Any) -> Any:
        if level.flare is None:
            return np.zeros(())
        return np.hypot(s - level.centre[0], v - level.centre[1])

    def _z(self, level: _Level, s: float, v: float) -> float:
        return level.at(float(self._rho(level, s, v)))

    def _stack(self, s: float, here: Sequence[Sequence[_Crossed]], v: float) -> _Stack:
        """Heights of metal in the column at v."""
        stack: _Stack = []
        for layer, crossings, centre in zip(self.layers, here, self._centres, strict=True):
            inside = [bool(np.sum(c.v < v) % 2) for c in crossings]
            if isinstance(layer, Prism):
                if inside[0]:
                    ends = _Level(layer.low), _Level(layer.high)
                    stack = _joined(stack, *ends) if layer.solid else _parted(stack, *ends)
            elif inside[0] and not inside[1]:
                top, face = _Level(None, layer, centre), _Level(layer.face)
                ends = (face, top) if layer.up else (top, face)
                stack = _joined(stack, *ends, lambda lv: self._z(lv, s, v))
        return stack

    def _placed(self, chain: Sequence[_Vertex], marks: _Marks, s: Array) -> Loop:
        """A traced loop at every station."""
        points: list[Array] = []
        bulges: list[Array] = []
        for k, vertex in enumerate(chain):
            before, after = chain[k - 1], chain[(k + 1) % len(chain)]
            here, there = (self._point(one.level, s, marks.v[..., one.mark]) for one in (vertex, after))
            if vertex.curved:
                share = (1.0 - np.cos(np.linspace(0.0, np.pi, 2 * ARCS + 1))) / 2.0
                v = marks.v[..., vertex.mark]
                run = [self._point(vertex.level, s, v + f * (marks.v[..., after.mark] - v)) for f in share]
                points += run[0:-1:2]
                bulges += [_through(*run[j : j + 3]) for j in range(0, 2 * ARCS, 2)]
                continue
            edge, breadth = self._break_at(vertex, marks)
            if edge > 0.0 and not before.curved:
                back = self._point(before.level, s, marks.v[..., before.mark])
                points += [_toward(here, back, edge, breadth), _toward(here, there, edge, breadth)]
            else:
                points.append(here)
            bulges += [np.zeros(np.shape(here)[:-1])] * (len(points) - len(bulges))
        shape = np.broadcast_shapes(*(np.shape(p) for p in points))
        stacked = np.stack([np.broadcast_to(p, shape) for p in points], axis=-2)
        bulge = np.stack([np.broadcast_to(b, shape[:-1]) for b in bulges], axis=-1)
        loop = Loop(stacked * np.array([1.0, self.mirror]), bulge * self.mirror)
        return loop if self.mirror > 0.0 else loop.reversed()

    def _break_at(self, vertex: _Vertex, marks: _Marks) -> tuple[float, Array]:
        """Chamfer at a corner of the section: its height, and its breadth at every station [mm]."""
        layer = self.layers[marks.layers[vertex.mark]]
        if isinstance(layer, Prism) and layer.edge > 0.0 and vertex.level.flare is None:
            z = _number(vertex.level)
            for broken, end in zip(layer.broken, (layer.low, layer.high), strict=True):
                if broken and abs(z - float(np.ravel(end)[0])) < SAME:
                    return layer.edge, marks.breadth[..., vertex.mark]
        return 0.0, np.zeros(())

    def _point(self, level: _Level, s: Array, v: Array) -> Array:
        z = level.value if level.flare is None else level.flare.height(self._rho(level, s, v))
        return np.stack(np.broadcast_arrays(v, np.asarray(z, float)), axis=-1)

    def spans(
        self,
        name: str,
        start: float,
        end: float,
        actions: Callable[[float], Callable[[LoadCase], Sequence[Action]]],
        material: Material,
        also: Sequence[float] = (),
    ) -> list[Span]:
        """The load path from s = start to s = end.

        Args:
            name: of the spans.
            start: where it begins [mm].
            end: where it ends [mm].
            actions: gives, for a place s, what acts beyond it.
            material: of the plate.
            also: further places s at which what acts changes [mm].

        Returns:
            One span for each stretch of one topology and one set of actions.
        """
        from parts.loadpath import Span

        stops = sorted({start, end, *(s for s in also if start < s < end)})
        found = []
        for low, high in zip(stops[:-1], stops[1:], strict=True):
            for a, b in self.stretches(low, high):
                found.append(
                    Span(
                        name, self._place(a), self._place(b), self._axes(), _Stretch(self, a, b),
                        actions((a + b) / 2.0), material, "part", 5 if b - a < 6.0 else 9,
                    )
                )  # fmt: skip
        return found

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


def _figures(layer: Layer) -> list[Loop]:
    if isinstance(layer, Prism):
        return [layer.loop]
    return [circle(2.0 * r, layer.centre).loops[0] for r in (layer.foot, layer.radius)]


def _round(layer: Layer) -> tuple[Array | None, float]:
    """Centre and largest radius of a round layer; None for another."""
    if isinstance(layer, Flare):
        return np.asarray(layer.centre), layer.foot
    points, bulge = layer.loop.points, layer.loop.bulge
    if len(points) == 2 and np.all(bulge == 1.0):
        return points.mean(axis=0), float(np.hypot(*(points[1] - points[0])) / 2.0)
    return None, 0.0


def _meeting(a: Array, r: float, b: Array, q: float) -> list[Array]:
    """Where two circles meet."""
    length = float(np.hypot(*(b - a)))
    if not abs(r - q) < length < r + q:
        return []
    along = (b - a) / length
    u = (length**2 + r**2 - q**2) / (2.0 * length)
    off = np.sqrt(max(r**2 - u**2, 0.0)) * np.array([-along[1], along[0]])
    return [a + u * along + off, a + u * along - off]


@dataclass(frozen=True)
class _Vertex:
    """A corner of a traced loop: which mark, at which level, and whether a curved edge follows."""

    mark: int
    level: _Level
    curved: bool


@dataclass(frozen=True)
class _Marks:
    """The crossings across a section in order: at its middle station, and at every station (..., marks)."""

    here: list[float]
    v: Array
    breadth: Array
    layers: list[int]


def _marks(here: Sequence[Sequence[_Crossed]], crossed: Sequence[Sequence[_Crossed]]) -> _Marks:
    """Put the crossings of all layers in order; of two that coincide one is kept."""
    flat = np.concatenate([c.v for loops in here for c in loops])
    owners = [k for k, loops in enumerate(here) for c in loops for _ in c.v]
    v, breadth = (
        np.concatenate([getattr(c, name) for loops in crossed for c in loops], axis=-1) for name in ("v", "breadth")
    )
    kept: list[int] = []
    for k in np.argsort(flat, kind="stable"):
        if not kept or flat[k] - flat[kept[-1]] > SAME:
            kept.append(int(k))
    return _Marks([float(flat[k]) for k in kept], v[..., kept], breadth[..., kept], [owners[k] for k in kept])


def _toward(here: Array, there: Array, edge: float, breadth: Array) -> Array:
    """The point where the chamfer at a corner begins, on the way to the next corner."""
    way = there - here
    size = np.hypot(way[..., 0], way[..., 1])
    upright = np.abs(way[..., 0]) < np.abs(way[..., 1]) * 1e-6
    reach = np.minimum(np.where(upright, edge, breadth), 0.45 * size)
    return np.asarray(here + way * (reach / np.where(size > 0.0, size, 1.0))[..., None])


def _simple(chain: Sequence[_Vertex]) -> list[_Vertex]:
    """The loop without the corners that lie on a straight run."""

    def straight(a: _Vertex, b: _Vertex, c: _Vertex) -> bool:
        if a.curved or b.curved:
            return False
        level = a.level.flare is None and b.level.flare is None and c.level.flare is None
        flat = level and _number(a.level) == _number(b.level) == _number(c.level)
        return flat or a.mark == b.mark == c.mark

    return [b for a, b, c in zip([chain[-1], *chain[:-1]], chain, [*chain[1:], chain[0]], strict=True) if not straight(a, b, c)]


def _number(level: _Level) -> float:
    return level.at(0.0)


def _joined(stack: _Stack, low: _Level, high: _Level, z: Callable[[_Level], float] = _number) -> _Stack:
    """The stack with metal added from low to high; what touches becomes one."""
    kept = []
    for a, b in stack:
        if z(b) < z(low) - 1e-9 or z(a) > z(high) + 1e-9:
            kept.append((a, b))
        else:
            low, high = (a if z(a) <= z(low) else low), (b if z(b) >= z(high) else high)
    return sorted([*kept, (low, high)], key=lambda pair: z(pair[0]))


def _parted(stack: _Stack, low: _Level, high: _Level) -> _Stack:
    """The stack with all between low and high cut away."""
    kept: _Stack = []
    for a, b in stack:
        if _number(a) < _number(low) - 1e-9:
            kept.append((a, low if _number(low) < _number(b) else b))
        if _number(b) > _number(high) + 1e-9:
            kept.append((high if _number(high) > _number(a) else a, b))
    return [(a, b) for a, b in kept if _number(b) - _number(a) > 1e-9]


_Edge = tuple[tuple[int, _Level], tuple[int, _Level], bool]


def _traced(
    marks: Sequence[float], stacks: Sequence[_Stack], z: Callable[[float, _Level], float]
) -> list[list[_Vertex]]:
    """Walk round the metal of the columns, metal on the left."""
    edges: list[_Edge] = []
    for k, stack in enumerate(stacks):
        for low, high in stack:
            edges.append(((k, low), (k + 1, low), low.flare is not None))
            edges.append(((k + 1, high), (k, high), high.flare is not None))
    for k in range(len(marks)):
        left = stacks[k - 1] if k > 0 else []
        right = stacks[k] if k < len(stacks) else []
        edges += _walls(k, left, right, lambda level, v=marks[k]: z(v, level))
    return _chained(edges, lambda vertex: (vertex[0], round(z(marks[vertex[0]], vertex[1]), 6)))


def _walls(k: int, left: _Stack, right: _Stack, z: Callable[[_Level], float]) -> list[_Edge]:
    """Upright edges at a mark: up where metal lies on the left only, down where on the right only."""
    levels: list[_Level] = []
    for level in sorted((end for pair in (*left, *right) for end in pair), key=z):
        if not levels or z(level) - z(levels[-1]) > 1e-6:
            levels.append(level)
    edges: list[_Edge] = []
    for low, high in zip(levels[:-1], levels[1:], strict=True):
        middle = (z(low) + z(high)) / 2.0
        on_left, on_right = (any(z(a) < middle < z(b) for a, b in side) for side in (left, right))
        if on_left and not on_right:
            edges.append(((k, low), (k, high), False))
        if on_right and not on_left:
            edges.append(((k, high), (k, low), False))
    return edges


def _chained(
    edges: Sequence[_Edge], key: Callable[[tuple[int, _Level]], Any]
) -> list[list[_Vertex]]:
    """Edges joined end to start into closed loops."""
    by_start: dict[Any, list[_Edge]] = {}
    for edge in edges:
        by_start.setdefault(key(edge[0]), []).append(edge)
    loops = []
    while by_start:
        first = next(iter(by_start))
        chain, at = [], first
        while not chain or at != first:
            edge = by_start[at].pop()
            if not by_start[at]:
                del by_start[at]
            chain.append(_Vertex(*edge[0], edge[2]))
            at = key(edge[1])
        loops.append(chain)
    return loops


def _through(a: Array, b: Array, c: Array) -> Array:
    """Bulge of the arc through three points."""
    u, v = b - a, c - b
    cross = u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0]
    return np.asarray(np.tan(np.arctan2(cross, (u * v).sum(-1)) / 2.0))
