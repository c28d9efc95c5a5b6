"""What a sheet leaves open: faces of the solid that its dimensions do not determine, and dimensions too many.

Every dimension joins two levels along its direction; what hangs on the datum by such joints is known. A flat square
to a known direction needs its level; one aslant needs two places, or a place and its direction; a cylinder needs its
axis and its radius; a face that runs smoothly into one that is known has one freedom less. What a draughtsman leaves
unsaid is taken as he means it: square unless stated, and alike on both sides of a centre line.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Any

import numpy as np

from parts.core.drawing import Angle, Callout, Diameter, Drawn, Linear, Radius
from parts.making.bench.levels import NEAR, Levels, Open, place_of, rounded
from parts.making.bench.reach import ARC, doubled, unreachable
from parts.making.bench.stated import edge_broken, sizes_on, stated_as_a_whole
from parts.making.bench.surface import Shell, Surface, shell_of

POINT = np.radians(118.0)
"""Angle of a drill's point: what a depth of full diameter leaves at the bottom; common practice, no source."""


def left_open(drawn: Drawn, solid: Any, edge_break: float = 0.0) -> list[Open]:
    """Find what a sheet does not determine, once.

    Args:
        drawn: what the part says of the sheet.
        solid: the piece as it is drawn, a CadQuery shape.
        edge_break: what the general note takes off its edges [mm], should they be drawn broken.

    Returns:
        The faces that are not determined, the dimensions whose ends nothing touches, and those said twice.
    """
    shell = shell_of(solid)
    sizes = list(sizes_on(drawn))
    survey = _Survey(drawn, shell, sizes, edge_break)
    survey.solve()
    found = [
        Open(f"the {one.called}", place_of(one.middle), survey.missing(i))
        for i, one in enumerate(shell.surfaces)
        if i not in survey.known
    ]
    return [*found, *unreachable(sizes, shell, survey.halved), *doubled(sizes)]


def _one_axis(place: np.ndarray, axis: np.ndarray, one: Surface) -> bool:
    """True where a line is the axis of a face."""
    return bool(np.linalg.norm(np.cross(axis, one.axis)) < NEAR and one.off(place) < NEAR)


class _Survey:
    """What is known so far of directions, levels and faces."""

    def __init__(self, drawn: Drawn, shell: Shell, sizes: Sequence[Any], edge_break: float) -> None:
        self.drawn, self.shell, self.sizes, self.edge_break = drawn, shell, sizes, edge_break
        self.faces = shell.surfaces
        self.known: set[int] = set()
        self.groups: list[Levels] = []
        self.ways: list[np.ndarray] = []
        right, up = np.asarray(drawn.right, float), np.asarray(drawn.up, float)
        self.sheet = [right, up, np.cross(right, up)]
        for way in self.sheet:
            self._know(way)
            self.group(way)
        for way in (np.asarray(one, float) for one in drawn.marks.ways):
            self._know(way)
            self.group(way)
        for one in sizes:
            if isinstance(one, Angle):
                for way in (one.first, one.second):
                    self._know(np.asarray(way, float))
            if isinstance(one, Linear) and not one.reference:
                self._join(one)
        for way in [np.asarray(face.axis, float) for face in self.faces if face.kind == "plane"]:
            self.group(way)
        self._ground()

    def group(self, way: Any) -> Levels:
        """The levels along a direction."""
        wanted = np.asarray(way, float)
        for one in self.groups:
            if np.linalg.norm(np.cross(one.way, wanted)) < NEAR:
                return one
        self.groups.append(Levels(wanted))
        return self.groups[-1]

    def _know(self, way: np.ndarray) -> bool:
        """Take a direction as stated, and what is square to it and to the sheet's axes."""
        if self._stated(way):
            return False
        self.ways.append(way)
        for axis in self.sheet:
            square = np.cross(axis, way)
            if np.linalg.norm(square) > 1.0 - 1e-6 and not self._stated(square):
                self.ways.append(square)
        return True

    def _stated(self, way: np.ndarray) -> bool:
        return any(np.linalg.norm(np.cross(way, one)) < NEAR for one in self.ways)

    def _join(self, one: Linear) -> None:
        group = self.group(one.along)
        group.joints.append((group.level(one.start), group.level(one.end)))

    def _centres(self) -> Iterator[tuple[np.ndarray, np.ndarray]]:
        """Lines about which things lie alike: a place and a direction."""
        for one in self.drawn.marks.centres:
            run = np.subtract(one.end, one.start)
            yield np.asarray(one.start, float), run / np.linalg.norm(run)
        for hole in self.drawn.marks.holes:
            yield np.asarray(hole.place, float), np.asarray(hole.axis, float)
        for size in self.sizes:
            if isinstance(size, Diameter):
                yield np.asarray(size.centre, float), np.asarray(size.axis, float)

    def _halves(self) -> Iterator[np.ndarray]:
        """Places to which a length leads and about which another is halved, as the middle of a slot."""
        lengths = [np.array([one.start, one.end]) for one in self.sizes if isinstance(one, Linear)]
        ends = np.reshape(lengths, (-1, 3))
        for middle in (one.mean(axis=0) for one in lengths):
            if np.any(np.linalg.norm(ends - middle, axis=1) < NEAR):
                yield middle

    def _ground(self) -> None:
        """Centres of every direction, and the level that the rest of it hangs on."""
        for place, axis in self._centres():
            for group in self.groups:
                if abs(float(axis @ group.way)) < NEAR:
                    group.centres.add(group.level(place))
        for group in self.groups:
            group.centres |= {group.level(place) for place in self._halves()}
        datum = None if self.drawn.datum is None else np.asarray(self.drawn.datum.place, float)
        place, axis = next(self._centres(), (np.zeros(3), np.zeros(3)))
        for group in self.groups:
            used = [level for joint in group.joints for level in joint]
            zero = None if datum is None else group.level(datum)
            if zero is not None:
                group.centres.add(zero)
            ends = {*used, *(rounded((a + b) / 2.0) for a, b in group.joints)}
            if zero is not None and (zero in ends or not used):
                group.known.add(zero)
            elif datum is None and np.any(axis) and abs(float(axis @ group.way)) < NEAR:
                group.known.add(group.level(place))
            elif any(np.linalg.norm(np.cross(group.way, axis)) < NEAR for axis in self.sheet):
                flats = [group.level(f.place) for f in self.faces if self._square(f, group)]
                start = used or flats
                if start:
                    group.known.add(max(sorted(set(start)), key=start.count))
            self._mirror(group)

    def _square(self, face: Surface, group: Levels) -> bool:
        return face.kind == "plane" and bool(np.linalg.norm(np.cross(face.axis, group.way)) < NEAR)

    def _mirror(self, group: Levels) -> None:
        """A length that comes more than once stands on the other side of a centre too."""
        levels = {group.level(f.place) for f in self.faces if self._square(f, group)}
        for one in self.sizes:
            if not isinstance(one, Linear) or one.count < 2:
                continue
            if np.linalg.norm(np.cross(np.asarray(one.along, float), group.way)) > NEAR:
                continue
            a, b = group.level(one.start), group.level(one.end)
            for centre in group.centres:
                c, d = rounded(2.0 * centre - a), rounded(2.0 * centre - b)
                if {c, d} <= levels:
                    group.joints.append((c, d))

    def solve(self) -> None:
        """Follow what is known until nothing more becomes so."""
        marks = self.drawn.marks
        stated = [i for i, f in enumerate(self.faces) if stated_as_a_whole(f, marks, self.sizes)]
        self.known.update(stated)
        for i in stated:
            self._seed(self.faces[i])
        while True:
            before = (len(self.known), sum(len(g.known) for g in self.groups), len(self.ways))
            for group in self.groups:
                group.spread()
            self._points()
            for i, one in enumerate(self.faces):
                if i not in self.known and self._free(one) <= 0:
                    self.known.add(i)
                    self._seed(one)
            if before == (len(self.known), sum(len(g.known) for g in self.groups), len(self.ways)):
                break
        # The general note says of an edge that it is broken, and nothing of where its faces lie.
        self.known |= {
            i for i, f in enumerate(self.faces) if edge_broken(f, marks, self.edge_break)
        }

    def _points(self) -> None:
        """A place that is known along two directions is known along all that lie between them."""
        for one in self.sizes:
            for place in (one.start, one.end) if isinstance(one, Linear) else ():
                ways = [g.way for g in self.groups if g.level(place) in g.known]
                flat = np.array(ways).reshape(-1, 3)
                rank = np.linalg.matrix_rank(flat, tol=0.02) if ways else 0
                for group in self.groups if rank > 1 else ():
                    level = group.level(place)
                    between = np.linalg.matrix_rank(np.vstack([flat, group.way]), tol=1e-3) == rank
                    if level not in group.known and between:
                        group.known.add(level)
                        group.centres.add(level)

    def _seed(self, one: Surface) -> None:
        """What a known face makes known: its level, or that of its axis and its sides, along every direction."""
        if one.kind == "plane":
            self._know(one.axis)
            group = self.group(one.axis)
            group.known.add(group.level(one.place))
        elif one.kind in ("cylinder", "cone"):
            for group in self.groups:
                if abs(float(one.axis @ group.way)) < NEAR:
                    axis = group.level(one.place)
                    group.known.add(axis)
                    if one.turn > ARC:
                        group.centres.add(axis)
                    if one.kind == "cylinder":
                        group.known |= {rounded(axis - one.radius), rounded(axis + one.radius)}

    def _twin(self, one: Surface) -> bool:
        """True of the other side of a sheet whose first side is known."""
        thick = self.drawn.sheet_metal
        if thick <= 0.0 or one.kind not in ("plane", "cylinder"):
            return False
        for other in (self.faces[i] for i in self.known):
            if other.kind != one.kind or np.linalg.norm(np.cross(other.axis, one.axis)) > NEAR:
                continue
            if one.kind == "plane":
                apart = abs(float((other.place - one.place) @ one.axis))
            else:
                apart = abs(other.radius - one.radius) if other.off(one.place) < NEAR else np.inf
            if abs(apart - thick) < NEAR:
                return True
        return False

    def _free(self, one: Surface) -> int:
        """How many freedoms of a face are left."""
        if self._twin(one):
            return 0
        tangent = len({self.faces[i].key for i in one.smooth if i in self.known})
        if one.kind == "plane":
            return self._free_flat(one, tangent)
        if one.kind == "cylinder":
            # A fillet that runs on round a corner, where it is no cylinder, is the one that is stated.
            round_ = any(self.faces[i].kind == "freeform" for i in one.smooth)
            located = self._located(one, tangent + (tangent > 0 and round_))
            return 3 - located - self._radius(one)
        if one.kind == "torus":
            return 3 - self._radius(one) - min(2, tangent)
        if one.kind == "sphere":
            return 2 - self._radius(one) - (tangent > 0 or self._coaxial(one))
        if one.kind == "cone":
            return 2 - self._on_cone(one) if self._coaxial(one) else 2
        fillet = any(i in self.known and self.faces[i].kind != "plane" for i in one.smooth)
        return 0 if tangent > 1 or fillet else 1

    def _free_flat(self, one: Surface, tangent: int) -> int:
        group = self.group(one.axis)
        stated = self._stated(one.axis)
        if stated and group.level(one.place) in group.known:
            return 0
        square = any(abs(float(one.axis @ axis)) < NEAR for axis in self.sheet)
        return (2 if square else 3) - int(stated) - tangent - len(self._places_on(one))

    def _places_on(self, one: Surface) -> list[np.ndarray]:
        """Dimensioned places on a flat aslant, each once."""
        found: list[np.ndarray] = []
        for size in self.sizes:
            if not isinstance(size, Linear):
                continue
            group = self.group(size.along)
            for end in (size.start, size.end):
                p = np.asarray(end, float)
                meets = abs(float(one.axis @ group.way)) > 0.02 and one.holds(p)
                new = all(np.linalg.norm(p - q) > 0.1 for q in found)
                if meets and new and group.level(p) in group.known:
                    found.append(p)
        return found

    def _located(self, one: Surface, tangent: int) -> int:
        """How many of the two places of a cylinder's axis are known."""
        if not self._stated(one.axis):
            return min(2, tangent)
        if self._coaxial(one):
            return 2
        ways = [
            group.way
            for group in self.groups
            if abs(float(one.axis @ group.way)) < NEAR
            and group.level(one.place) in group.known
            and self._stated(group.way)
        ]
        rank = int(np.linalg.matrix_rank(np.array(ways), tol=0.02)) if ways else 0
        return min(2, rank + tangent)

    def _coaxial(self, one: Surface) -> bool:
        turned = (self.faces[i] for i in self.known if self.faces[i].kind in ("cylinder", "cone"))
        if any(_one_axis(other.place, other.axis, one) for other in turned if other is not one):
            return True
        if not any(_one_axis(place, axis, one) for place, axis in self._centres()):
            return False
        ways = [
            g.way for g in self.groups
            if abs(float(one.axis @ g.way)) < NEAR and g.level(one.place) in g.known and self._stated(g.way)
        ]  # fmt: skip
        return bool(ways) and int(np.linalg.matrix_rank(np.array(ways), tol=0.02)) == 2

    def _radius(self, one: Surface) -> int:
        """1 where a size of the sheet states the radius of a face."""
        for size in self.sizes:
            if isinstance(size, Radius) and abs(float(size.value) - one.radius) < NEAR:
                return 1
            if not isinstance(size, Diameter) or one.kind == "torus":
                continue
            if abs(float(size.value) / 2.0 - one.radius) < NEAR and one.off(size.centre) < NEAR:
                return 1
        if one.kind != "cylinder":
            return 0
        # Two flats that an arc runs into on both sides, a known distance apart, say its radius: a slot, a nose.
        beside = [self.faces[i] for i in one.smooth if i in self.known]
        return int(
            any(
                np.linalg.norm(np.cross(a.axis, b.axis)) < NEAR
                for a, b in combinations(beside, 2)
                if a.kind == b.kind == "plane"
            )
        )

    def _on_cone(self, one: Surface) -> int:
        """What is said of a cone: words that touch it say all, a size at its end says one of two."""
        for mark in self.drawn.marks.dimensions:
            if isinstance(mark, Callout) and one.holds(mark.at, 0.05):
                return 2
        for hole in self.drawn.marks.holes:
            drilled = hole.depth is not None and abs(2.0 * abs(one.lean) - POINT) < NEAR
            if one.off(hole.place) < NEAR and (drilled or hole.countersink > hole.diameter):
                return 2
        said, levels = 0, self.group(one.axis)
        rings = {(round(one.off(corner), 4), levels.level(corner)) for corner in one.corners}
        for radius, level in rings:
            said += level in levels.known and self._ring(one, radius)
        return said

    def halved(self, way: Any, place: Any) -> bool:
        """True where a place lies in the middle of what lies alike on both sides, or on a centre line aslant."""
        group, spot = self.group(way), np.asarray(place, float)
        if group.level(place) in group.centres:
            return True
        return any(
            np.linalg.norm(np.cross(spot - start, axis)) < NEAR
            and NEAR < abs(float(axis @ group.way)) < 1.0 - NEAR
            for start, axis in self._centres()
        )

    def _ring(self, one: Surface, radius: float) -> bool:
        """True where the size of a circle about a face's axis is known."""
        if any(
            isinstance(size, Diameter)
            and abs(float(size.value) / 2.0 - radius) < NEAR
            and one.off(size.centre) < NEAR
            for size in self.sizes
        ):
            return True
        known = (self.faces[i] for i in self.known)
        return any(
            f.kind == "cylinder"
            and abs(f.radius - radius) < NEAR
            and _one_axis(f.place, f.axis, one)
            for f in known
        )

    def missing(self, i: int) -> str:
        """What would determine a face."""
        one = self.faces[i]
        if one.kind == "plane":
            group = self.group(one.axis)
            if self._stated(one.axis):
                level = group.level(one.place)
                return (
                    f"no dimension leads from the datum to its level ({level:.2f} along its normal)"
                )
            return "neither its angle nor two places of it are stated"
        if one.kind == "freeform":
            return "no words of the sheet touch it"
        tangent = sum(k in self.known for k in one.smooth)
        lacks = []
        if one.kind == "cylinder" and self._located(one, tangent) < 2:
            lacks.append("where its axis lies")
        if one.kind in ("cylinder", "torus", "sphere") and not self._radius(one):
            lacks.append("its radius")
        return f"the sheet does not state {' and '.join(lacks) or 'its ends and its angle'}"
