"""The free edge of a plate between two rounded toes: straight, waisted or curved, with a tab on it or not.

The plate lies in its own x and y [mm]; an edge runs with the metal on its left, from the round of one toe
to that of the next. Every number may be an array.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Annotated, Any, Literal, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.inputs.quantities import PositiveLength

Corner = tuple[Any, Any]
"""A place (..., 2) [mm] and the bulge [-] of the arc that leaves it."""
NEAR = 1e-6
"""How near a line counts as touching [mm]."""


class StraightEdge(Group):
    """A straight free edge."""

    type: Literal["straight"] = Field("straight", description="A straight free edge.")

    @property
    def dip(self) -> Any:
        """How far the middle of the edge stands inside the straight line [mm]; None where it is one."""
        return None


class WaistedEdge(Group):
    """A free edge hollowed in one arc, which leads the load softly into the toes."""

    type: Literal["waisted"] = Field("waisted", description="A free edge hollowed in one arc.")
    depth: PositiveLength = Field(
        description="How far the middle of the arc stands inside the straight line."
    )

    @property
    def dip(self) -> Any:
        return self.depth


class CurvedEdge(Group):
    """A free edge that bows outward in one arc."""

    type: Literal["curved"] = Field("curved", description="A free edge bowed outward in one arc.")
    rise: PositiveLength = Field(
        description="How far the middle of the arc stands outside the straight line."
    )

    @property
    def dip(self) -> Any:
        return -self.rise


EdgeShape = Annotated[StraightEdge | WaistedEdge | CurvedEdge, Field(discriminator="type")]


_QUARTER_TURN = np.array([-1.0, 1.0])


def turned(angle: Any) -> Any:
    """Unit vector (..., 2) at an angle [rad] from x."""
    return np.stack([np.cos(angle), np.sin(angle)], axis=-1)


def left_of(direction: Any) -> Any:
    """The direction (..., 2) a quarter turn to the left."""
    return np.asarray(direction, float)[..., ::-1] * _QUARTER_TURN


def dot(a: Any, b: Any) -> Any:
    """Scalar product over the last axis."""
    return np.sum(np.asarray(a) * np.asarray(b), axis=-1)


def times(scalar: Any, vector: Any) -> Any:
    """A vector (..., 2) times a number that may be an array."""
    return np.asarray(scalar, float)[..., None] * np.asarray(vector, float)


def arc_bulge(centre: Any, start: Any, end: Any, turn: Literal[1, -1] = 1) -> Any:
    """Bulge of the arc about `centre` from `start` to `end`, counter-clockwise for a turn of 1."""
    a, b = np.asarray(start) - centre, np.asarray(end) - centre
    angle = np.arctan2(dot(left_of(a), b), dot(a, b)) * turn
    return turn * np.tan(np.mod(angle, 2.0 * np.pi) / 4.0)


class Stub(NamedTuple):
    """A tab that stands on a free edge: `x` along the edge's chord, its half width, the height of its
    hole and end radius above the chord, and the fillet at its root [mm]."""

    x: Any
    half: Any
    top: Any
    fillet: Any


@dataclass(frozen=True)
class FreeEdge:
    """The edge from the toe about `first` to the toe about `last`, both of radius `toe` [mm].

    `dip` is None for a straight edge, else how far its middle stands inside the straight line. Its
    own coordinates: x along the line from `first` to `last`, y outward from that line.
    """

    first: Any
    last: Any
    toe: Any
    dip: Any = None
    stub: Stub | None = None

    @cached_property
    def chord(self) -> Any:
        """Distance of the two toes' centres [mm]."""
        return np.linalg.norm(np.subtract(self.last, self.first), axis=-1)

    @cached_property
    def ahead(self) -> Any:
        """Direction of the chord."""
        return np.subtract(self.last, self.first) / self.chord[..., None]

    @cached_property
    def outward(self) -> Any:
        """Direction away from the metal."""
        return -left_of(self.ahead)

    @cached_property
    def radius(self) -> Any:
        """Radius of the arc [mm], negative where it bows outward; tangent to both toes."""
        w, r, d = self.dip, self.toe, self.chord
        return (np.square(d) / 4.0 + np.square(w) - 2.0 * r * w) / (2.0 * w)

    @cached_property
    def centre_height(self) -> Any:
        """Height of the arc's centre over the chord [mm]."""
        return self.toe - self.dip + self.radius

    def place(self, x: Any, y: Any) -> Any:
        """From the edge's own coordinates to the plate's."""
        return np.asarray(self.first, float) + times(x, self.ahead) + times(y, self.outward)

    def own(self, point: Any) -> tuple[Any, Any]:
        """From the plate's coordinates to the edge's own."""
        away = np.subtract(point, self.first)
        return dot(away, self.ahead), dot(away, self.outward)

    def height(self, x: Any) -> Any:
        """Height of the edge over the chord at x [mm], the tab left out."""
        if self.dip is None:
            return self.toe + 0.0 * np.asarray(x, float)
        run = np.asarray(x, float) - self.chord / 2.0
        fall = np.sqrt(np.maximum(np.square(self.radius) - np.square(run), 0.0))
        return self.centre_height - np.sign(self.radius) * fall

    @cached_property
    def ends(self) -> tuple[Any, Any]:
        """Where the edge leaves the first toe and meets the last, in its own x and y [mm]."""
        if self.dip is None:
            return (0.0 * self.chord, self.toe + 0.0 * self.chord), (
                self.chord,
                self.toe + 0.0 * self.chord,
            )
        share = self.toe / (self.radius + self.toe)
        x, y = share * self.chord / 2.0, share * self.centre_height
        return (x, y), (self.chord - x, y)

    @property
    def tangents(self) -> tuple[Any, Any]:
        """The same two places in the plate's coordinates."""
        first, last = self.ends
        return self.place(*first), self.place(*last)

    @property
    def length(self) -> Any:
        """Length of the edge between the toes [mm], the tab left out."""
        (x0, _), (x1, _) = self.ends
        if self.dip is None:
            return x1 - x0
        radius = np.abs(self.radius)
        return 2.0 * radius * np.arcsin(np.clip((x1 - x0) / (2.0 * radius), 0.0, 1.0))

    def reach(self, point: Any, direction: Any) -> Any:
        """Distance from a place in the metal to the edge along a direction [mm]; 0 where that misses it."""
        (px, py), ahead = self.own(point), self.ahead
        ex, ey = dot(direction, ahead), dot(direction, self.outward)
        with np.errstate(divide="ignore", invalid="ignore"):
            if self.dip is None:
                return np.where(ey > 0.0, (self.toe - py) / np.where(ey > 0.0, ey, 1.0), 0.0)
            qx, qy = px - self.chord / 2.0, py - self.centre_height
            along = qx * ex + qy * ey
            root = np.sqrt(np.square(along) - (qx**2 + qy**2 - np.square(self.radius)))
            return np.nan_to_num(-along - np.sign(self.radius) * root, nan=0.0)

    def distance(self, point: Any) -> Any:
        """Least distance from a place in the metal to the edge [mm], the tab left out."""
        x, y = self.own(point)
        if self.dip is None:
            return self.toe - y
        away = np.hypot(x - self.chord / 2.0, y - self.centre_height)
        return np.sign(self.radius) * away - self.radius

    def lean(self, point: Any, direction: Any) -> Any:
        """Cosine of the angle between a direction and the normal of the edge at a place on it [-]."""
        if self.dip is None:
            return np.abs(dot(direction, self.outward))
        x, y = self.own(point)
        normal = np.stack([x - self.chord / 2.0, y - self.centre_height], axis=-1)
        own = np.stack([dot(direction, self.ahead), dot(direction, self.outward)], axis=-1)
        return np.abs(dot(normal, own)) / np.linalg.norm(normal, axis=-1)

    @property
    def roots(self) -> tuple[Corner, Corner]:
        """Where the root fillets of the tab touch the edge, in its own x and y [mm]."""
        assert self.stub is not None
        wide = self.stub.half + self.stub.fillet
        return self._fillet(self.stub.x - wide)[1], self._fillet(self.stub.x + wide)[1]

    def meets_stub(self, start: Any, direction: Any) -> Any:
        """True where a line meets the tab or its root fillets, even if it has left the plate before."""
        if self.stub is None:
            return np.asarray(False)
        x, half = self.stub.x, self.stub.half
        across = left_of(direction)

        def off(x: Any, y: Any) -> Any:
            return dot(np.subtract(self.place(x, y), start), across)

        roots = [off(*touch) for touch in self.roots]
        end = off(x, self.stub.top)
        sides = np.stack(np.broadcast_arrays(*roots, end - half, end + half))
        return (sides.min(axis=0) < NEAR) & (sides.max(axis=0) > -NEAR)

    def corners(self) -> list[Corner]:
        """The edge from the first toe to the last, that last place left out."""
        first, last = self.ends
        if self.stub is None:
            return [self._run(first, last)]
        x, half, top, f = self.stub.x, self.stub.half, self.stub.top, self.stub.fillet
        rows: list[Corner] = []
        before, after = self._fillet(x - half - f), self._fillet(x + half + f)
        rows.append(self._run(first, before[1]))
        (cx, cy), edge = before
        rows.append((self.place(*edge), self._turn((cx, cy), edge, (cx + f, cy))))
        rows.append((self.place(cx + f, cy), 0.0))
        rows.append((self.place(x - half, top), 1.0))
        rows.append((self.place(x + half, top), 0.0))
        (cx, cy), edge = after
        rows.append((self.place(cx - f, cy), self._turn((cx, cy), (cx - f, cy), edge)))
        rows.append(self._run(edge, last))
        return rows

    def fillet_centre(self, x: Any) -> Any:
        """Height over the chord of the centre of a tab's root fillet at x [mm]."""
        return self._fillet(x)[0][1]

    def _turn(self, centre: Corner, start: Corner, end: Corner) -> Any:
        return arc_bulge(self.place(*centre), self.place(*start), self.place(*end), -1)

    def _run(self, start: Corner, end: Corner) -> Corner:
        if self.dip is None:
            return self.place(*start), 0.0
        across = np.hypot(np.subtract(end[0], start[0]), np.subtract(end[1], start[1]))
        half = np.arcsin(np.clip(across / (2.0 * self.radius), -1.0, 1.0))
        return self.place(*start), -np.tan(half / 2.0)

    def _fillet(self, x: Any) -> tuple[Corner, Corner]:
        """Centre of a fillet at x, tangent to the edge, and where it touches the edge."""
        assert self.stub is not None
        f = self.stub.fillet
        if self.dip is None:
            return (x, self.toe + f), (x, self.toe + 0.0 * x)
        run, inner = x - self.chord / 2.0, self.radius - f
        fall = np.sqrt(np.maximum(np.square(inner) - np.square(run), 0.0))
        y = self.centre_height - np.sign(self.radius) * fall
        share = self.radius / inner
        touch = (
            self.chord / 2.0 + run * share,
            self.centre_height + (y - self.centre_height) * share,
        )
        return (x, y), touch


def toe_corner(centre: Any, start: Any, end: Any) -> Corner:
    """The round of a toe from `start` to `end` about its centre."""
    return start, arc_bulge(centre, start, end)


def toe_turn(centre: Any, start: Any, end: Any) -> Any:
    """How far the round of a toe turns [rad]."""
    return 4.0 * np.arctan(arc_bulge(centre, start, end))


def loop_corners(rows: Sequence[Corner]) -> tuple[list[tuple[Any, Any]], list[Any]]:
    """Corners and bulges as `outlines.figure` takes them."""
    return [(p[..., 0], p[..., 1]) for p, _ in rows], [bulge for _, bulge in rows]
