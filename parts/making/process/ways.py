"""From where a tool reaches each face and hole, and the fewest clampings that reach all of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from parts.core.drawing import Hole
from parts.making.mill.surfaces import OFF, Sight
from parts.making.process.faces import Face, Solid

SAME = 1.0 - 1e-6
FILLET = 0.1
"""Least share of its normal along the spindle for a hollow that a corner radius makes [-]."""
DEEPEST = 64.0
"""How deep the side of a cutter goes [mm]: an end mill of 16 mm at four diameters; common practice, no source."""

STANDS, STEADY = 8.0, 15.0
"""About what a usual drill stands out of its chuck: so many diameters, and so much more [mm]; common practice,
no source."""


@dataclass(frozen=True)
class Reach:
    """What can be reached from where: rows are faces and then holes, columns are `ways`."""

    ways: tuple[np.ndarray, ...]
    table: np.ndarray
    open: np.ndarray
    """The same before the ways that spoil a corner were left out."""

    def chosen(self, first: Sequence[int] = ()) -> list[int]:
        """The way that each row is made from, -1 where none reaches it; the fewest ways, the fullest first.

        Args:
            first: ways that are used in any case.
        """
        found = [-1] * len(self.table)
        left = self.table.any(axis=1)
        used: list[int] = []
        for way in first:
            used.append(way)
            _take(found, left, self.table[:, way], way)
        while left.any():
            way = int(np.argmax(self.table[left].sum(axis=0)))
            _take(found, left, self.table[:, way], way)
        return found


def _take(found: list[int], left: Any, reached: Any, way: int) -> None:
    for row in np.flatnonzero(left & reached):
        found[row] = way
    left &= ~reached


def reach(
    solid: Solid,
    rest: Sequence[Face],
    holes: Sequence[Hole],
    *,
    slender: float,
    not_along: np.ndarray | None = None,
) -> Reach:
    """See from where each face and each hole can be made on a mill with three axes.

    Args:
        solid: the piece.
        rest: the faces to be milled.
        holes: the holes to be drilled.
        slender: how deep an end mill cuts, in diameters.
        not_along: an axis along which no face is milled, as that of a turned piece; holes may be drilled along it.
    """
    sight = Seen(solid)
    ways = tuple(_ways([one.normal for one in rest if one.flat], holes))
    barred = [not_along is not None and abs(float(way @ not_along)) > SAME for way in ways]
    rows = [
        [not no and sight.makes(one, way) for way, no in zip(ways, barred, strict=True)]
        for one in rest
    ]
    rows = [sight.whole(one, ways, row) for one, row in zip(rest, rows, strict=True)]
    open_ = [list(row) for row in rows]
    _spare_corners(solid, rest, ways, rows)
    _spare_long_corners(solid, rest, ways, rows, slender)
    drilled = [
        _near(solid, hole, ways, [sight.drills(hole, way) for way in ways]) for hole in holes
    ]
    shape = len(rows) + len(drilled), len(ways)
    table, before = (np.array([*each, *drilled], bool).reshape(shape) for each in (rows, open_))
    return Reach(ways, table, before)


def _near(solid: Solid, hole: Hole, ways: Sequence[np.ndarray], row: list[bool]) -> list[bool]:
    """The ways of a hole from which a drill need not stand out far, as through one leg into another; where there is
    none, the row."""
    place, axis = np.asarray(hole.place, float), np.asarray(hole.axis, float)
    ends = place, place + axis * float(hole.through if hole.depth is None else hole.depth)
    most = STANDS * float(hole.diameter) + STEADY
    near = [
        seen and float((solid.points @ way).max()) - min(float(end @ way) for end in ends) <= most
        for way, seen in zip(ways, row, strict=True)
    ]
    return near if any(near) else row


def _spare_corners(
    solid: Solid, rest: Sequence[Face], ways: Sequence[np.ndarray], rows: list[list[bool]]
) -> None:
    """Leave out, where another way is left, those from which two walls would meet in a sharp inside corner upright:
    lying over, one is the floor and the other the wall."""
    row_of = {one.index: k for k, one in enumerate(rest)}
    for (i, j), sense in solid.meetings.items():
        if sense >= 0.0 or i not in row_of or j not in row_of:
            continue
        a, b = solid.faces[i], solid.faces[j]
        for w, way in enumerate(ways):
            if (
                a.flat
                and b.flat
                and max(abs(float(a.normal @ way)), abs(float(b.normal @ way))) < 1e-6
            ):
                for k in (row_of[i], row_of[j]):
                    if sum(rows[k]) > 1:
                        rows[k][w] = False


def _spare_long_corners(
    solid: Solid,
    rest: Sequence[Face],
    ways: Sequence[np.ndarray],
    rows: list[list[bool]],
    slender: float,
) -> None:
    """Leave out, where another way is left, those from which a hollow is too deep for the cutter that fits it."""
    for k, one in enumerate(rest):
        if one.kind != "CYLINDER" or not one.hollow:
            continue
        for w, way in enumerate(ways):
            deep = float((solid.points @ way).max()) - one.span(way)[0]
            upright = abs(float(one.axis @ way)) > SAME
            if upright and deep > slender * 2.0 * one.radius and sum(rows[k]) > 1:
                rows[k][w] = False


def _ways(flats: Sequence[np.ndarray], holes: Sequence[Hole]) -> list[np.ndarray]:
    """Directions to come from, each once: the part's own axes first, then those of holes and flats."""
    found: list[np.ndarray] = []
    own = [sign * row for row in np.eye(3) for sign in (1.0, -1.0)]
    for way in [*own, *(-np.asarray(h.axis, float) for h in holes), *flats]:
        if all(float(way @ one) < SAME for one in found):
            found.append(way)
    return found


@dataclass(frozen=True)
class Seen:
    """A solid, to see whether a straight way out of a place is free."""

    solid: Solid

    @cached_property
    def sight(self) -> Sight:
        return Sight.of(self.solid.shape)

    def makes(self, face: Face, way: np.ndarray) -> bool:
        """Whether a cutter that comes from a direction makes a face with its end or its side."""
        if face.flat:
            lean = float(face.normal @ way)
            if not (lean > SAME or abs(lean) < 1e-6):
                return False
            side = lean < 0.5
        elif face.kind == "CYLINDER" and abs(float(face.axis @ way)) > SAME:
            side = True
        elif face.kind == "CYLINDER" and face.hollow and abs(float(face.axis @ way)) < 1e-6:
            # The fillet between a wall and a floor: a cutter with that radius at its corner.
            side = False
            if float(face.normal @ way) < FILLET:
                return False
        else:
            return False
        deep = float((self.solid.points @ way).max()) - face.span(way)[0]
        return (not side or deep <= DEEPEST) and self.sight.free(face.on + OFF * face.normal, way)

    def whole(self, face: Face, ways: Sequence[np.ndarray], row: list[bool]) -> list[bool]:
        """The ways of a face from which a cutter's side has all of it free, and not its middle alone; where there is
        none, the row."""
        starts = face.within + OFF * face.normal
        free = [
            seen
            and (float(face.normal @ way) > 0.5 or all(self.sight.free(one, way) for one in starts))
            for way, seen in zip(ways, row, strict=True)
        ]
        return free if any(free) else row

    def drills(self, hole: Hole, way: np.ndarray) -> bool:
        """Whether a drill that comes from a direction reaches a hole past all that stands in its way."""
        axis, place = np.asarray(hole.axis, float), np.asarray(hole.place, float)
        lean = float(axis @ way)
        if abs(lean) < SAME:
            return False
        if lean > 0.0:
            if hole.depth is not None or hole.counterbore is not None or hole.one_wall:
                return False
            place = place + axis * float(hole.through)
        return self.free_above(place, way, 0.45 * float(hole.diameter))

    def free_above(self, place: np.ndarray, way: np.ndarray, radius: float, count: int = 4) -> bool:
        """Whether a round tool of a radius [mm] comes down to a place along a direction and touches nothing."""
        aside = np.cross(way, np.eye(3)[int(np.argmin(np.abs(way)))])
        aside /= np.linalg.norm(aside)
        other = np.cross(way, aside)
        turns = np.linspace(0.0, 2.0 * np.pi, count, endpoint=False)
        rim = [np.zeros(3), *(np.cos(t) * aside + np.sin(t) * other for t in turns)]
        return all(self.sight.free(place + OFF * way + radius * edge, way) for edge in rim)
