"""A plate in the corner of two tubes by numbers: its outline, cuts, holes and welded edges."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Annotated, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.families.gusset.form import Cut, Frame, Setting
from parts.families.gusset.free_edge import (
    Corner,
    FreeEdge,
    Stub,
    dot,
    left_of,
    loop_corners,
    times,
    toe_corner,
    toe_turn,
    turned,
)
from parts.features.section.outlines import figure
from parts.features.weld.plate_edge import Joint, Seat
from parts.inputs.quantities import PositiveLength
from parts.strength.section.outline import Outline
from parts.strength.welded.line import line

FAN = (0.15, 0.25, 0.35, 0.42, 0.5, 0.58, 0.65, 0.75, 0.85)
"""Cuts through the inner corner, as shares of the angle between the tubes."""
HALVINGS = 60
AT_A_TIME = 256
"""Places that a root is looked for at in one go [-]."""
BUILT_IN = 0.5
"""Effective over free length of a strip held at both ends, as `plate.gusset_compression_load` says [-]."""


class RoundRelief(Group):
    """A round hollow about the inner corner."""

    type: Literal["round"] = Field("round", description="A round hollow about the inner corner.")
    size: PositiveLength = Field(10.0, description="Radius of the hollow.")


class ChamferRelief(Group):
    """The inner corner cut off straight."""

    type: Literal["chamfer"] = Field("chamfer", description="The inner corner cut off straight.")
    size: PositiveLength = Field(
        10.0, description="Length taken off each edge, measured along the tube."
    )


Relief = Annotated[RoundRelief | ChamferRelief, Field(discriminator="type")]


class CornerSizes(Group):
    """Sizes of the plate."""

    type: Literal["centre plane"] = Field(
        "centre plane",
        description="Parallel to the tubes' axes, with straight edges along both tubes.",
    )
    leg_a: PositiveLength = Field(
        description="Length along tube A from the inner corner, where the two edges would meet, to the toe."
    )
    leg_b: PositiveLength = Field(
        description="Length along tube B from the inner corner, where the two edges would meet, to the toe."
    )
    relief: Relief = Field(
        default_factory=RoundRelief,
        description="How the inner corner clears the weld between the tubes.",
    )


@dataclass(frozen=True)
class _Leg:
    """A leg in the free edge's own axes: where it begins at the inner corner (`x`, `y`) [mm], the directions along
    it and away from it into the metal, and its length [mm]."""

    x: Any
    y: Any
    along_x: Any
    along_y: Any
    in_x: Any
    in_y: Any
    length: Any


@dataclass(frozen=True)
class CornerForm:
    """The corner plate by numbers. Its own x runs along tube A from the inner corner, y away from tube A."""

    plate: CornerSizes
    setting: Setting
    offset: Any
    dip: Any
    stub: Stub | None = None

    @cached_property
    def stand_off(self) -> tuple[Any, Any]:
        """Distance of each edge from its tube's axis [mm]: the tube and the gap, where the plate is nearest."""
        s = self.setting
        inner = np.maximum(np.abs(self.offset) - s.thickness / 2.0, 0.0)
        radii = (s.radius_a + s.gap, s.radius_b + s.gap)
        a, b = (np.sqrt(np.maximum(np.square(r) - np.square(inner), 0.0)) for r in radii)
        return a, b

    @cached_property
    def frame(self) -> Frame:
        a, b = self.stand_off
        angle = self.setting.angle
        x = (b + a * np.cos(angle)) / np.sin(angle)
        origin = np.stack(np.broadcast_arrays(x, a, np.asarray(self.offset, float)), axis=-1)
        return Frame(origin, np.array([1.0, 0, 0]), np.array([0, 1.0, 0]), np.array([0, 0, 1.0]))

    @cached_property
    def along(self) -> tuple[Any, Any]:
        """Directions of the two tubes, away from the joint."""
        return np.array([1.0, 0.0]), turned(self.setting.angle)

    @cached_property
    def toes(self) -> tuple[Any, Any]:
        """Centres of the toes' rounds."""
        (a, b), r = self.along, self.setting.toe
        up = left_of(a)
        return (
            times(self.plate.leg_a - r, a) + times(r, up),
            times(self.plate.leg_b - r, b) - times(r, left_of(b)),
        )

    @cached_property
    def edge(self) -> FreeEdge:
        return FreeEdge(*self.toes, self.setting.toe, self.dip, self.stub)

    def free_edges(self) -> Sequence[FreeEdge]:
        return (self.edge,)

    @cached_property
    def welded(self) -> tuple[tuple[Any, Any], tuple[Any, Any]]:
        """Ends of the straight edges, from the relief to where the toe begins to round."""
        c, r = self.plate.relief.size, self.setting.toe
        legs = (self.plate.leg_a, self.plate.leg_b)
        a, b = ((times(c, e), times(leg - r, e)) for e, leg in zip(self.along, legs, strict=True))
        return a, b

    @property
    def turns(self) -> tuple[Any, Any]:
        """How far each toe turns [rad]."""
        (_, a), (_, b) = self.welded
        leave, meet = self.edge.tangents
        turns = toe_turn(self.toes[0], a, leave), toe_turn(self.toes[1], meet, b)
        # A toe turned the wrong way round comes out as nearly a full turn.
        first, last = (np.where(turn > 1.5 * np.pi, turn - 2.0 * np.pi, turn) for turn in turns)
        return first, last

    def outer(self) -> Outline:
        (a0, a1), (b0, b1) = self.welded
        leave, meet = self.edge.tangents
        hollow = -np.tan(np.asarray(self.setting.angle) / 4.0)
        rows: list[Corner] = [
            (a0, 0.0),
            toe_corner(self.toes[0], a1, leave),
            *self.edge.corners(),
            toe_corner(self.toes[1], meet, b1),
            (b1, 0.0),
            (b0, hollow if isinstance(self.plate.relief, RoundRelief) else 0.0),
        ]
        return figure(*loop_corners(rows))

    def body(self) -> Outline:
        return self.outer()

    def notches(self) -> Sequence[Outline]:
        return ()

    def cuts(self, holes: Sequence[Any]) -> Sequence[Cut]:
        fan = [(f"throat at {share:.0%} of the angle", share * self.setting.angle) for share in FAN]
        for i, hole in enumerate(holes):
            fan.append((f"throat through hole {i + 1}", np.arctan2(hole[..., 1], hole[..., 0])))
        return [self._cut(name, angle) for name, angle in fan]

    def _cut(self, name: str, angle: Any) -> Cut:
        low = self.plate.relief.size + 0.0 * np.asarray(angle, float)
        lean: Any = 1.0
        if isinstance(self.plate.relief, ChamferRelief):
            half = np.asarray(self.setting.angle) / 2.0
            lean = np.cos(angle - half)
            low = low * np.cos(half) / lean
        high, high_lean = self._high(angle)
        return Cut(name, np.zeros(2), turned(angle), low, high, lean, high_lean)

    def _high(self, angle: Any) -> tuple[Any, Any]:
        """From the inner corner to the outline at an angle [mm], and the cosine of the angle at which it is
        met: the free edge or the round of a toe."""
        here = turned(angle)
        leave, meet = (np.arctan2(p[..., 1], p[..., 0]) for p in self.edge.tangents)
        edge = self.edge.reach(np.zeros(2), here)
        found = []
        for centre in self.toes:
            reach = self._toe_reach(centre, here)
            found.append(
                (reach, np.sum((times(reach, here) - centre) * here, axis=-1) / self.setting.toe)
            )
        found.append((edge, self.edge.lean(times(edge, here), here)))
        (toe_a, lean_a), (toe_b, lean_b), (_, lean) = found
        return (
            np.where(angle < leave, toe_a, np.where(angle > meet, toe_b, edge)),
            np.where(angle < leave, lean_a, np.where(angle > meet, lean_b, lean)),
        )

    def _toe_reach(self, centre: Any, here: Any) -> Any:
        on, off = np.sum(centre * here, axis=-1), np.sum(left_of(centre) * here, axis=-1)
        return on + np.sqrt(np.maximum(np.square(self.setting.toe) - np.square(off), 0.0))

    def clearance(self, centre: Any) -> Any:
        b = self.along[1]
        off_a, off_b = centre[..., 1], -np.sum(centre * left_of(b), axis=-1)
        toe_a = self.plate.leg_a - centre[..., 0]
        toe_b = self.plate.leg_b - np.sum(centre * b, axis=-1)
        corner = np.linalg.norm(centre, axis=-1) - self.plate.relief.size
        free = self.edge.distance(centre)
        return np.minimum.reduce(np.broadcast_arrays(off_a, off_b, toe_a, toe_b, corner, free))

    def largest(self, count: int, web: Any) -> Sequence[tuple[Any, Any]]:
        """One touches both legs and the free edge, all less the web. Two are alike, each in a toe. Of three,
        the first is the one hole, and the others fill the toes beside it."""
        if count == 2:
            return self._two_alike(web)
        half = np.tan(np.asarray(self.setting.angle) / 2.0)
        legs = (self.plate.leg_a, self.plate.leg_b)
        u = _root(lambda u: self._room(0, u) - u * half, 0.0, legs[0])
        room = self._room(0, u)
        first, radius = self._at(0, u, room), room - web
        found = [(first, radius)]
        for side in range(count - 1):

            def beside(u: Any, side: int = side) -> Any:
                room = self._room(side, u)
                away = np.linalg.norm(self._at(side, u, room) - first, axis=-1)
                return radius + room - away

            u = _root(beside, np.sum(first * self.along[side], axis=-1), legs[side])
            room = self._room(side, u)
            found.append((self._at(side, u, room), room - web))
        return found

    def _two_alike(self, web: Any) -> Sequence[tuple[Any, Any]]:
        (ax, ay), (bx, by) = ((leg[..., 0], leg[..., 1]) for leg in self.along)

        def apart(room: Any) -> Any:
            a, b = (self._place_of(side, room) for side in (0, 1))
            # Tube A's inward side lies to the left of its leg, tube B's to the right of its own.
            x, y = a * ax - room * ay - b * bx - room * by, a * ay + room * ax - b * by + room * bx
            return np.hypot(x, y) - (2.0 * room - web)

        room = _root(apart, 0.0 * self.edge.chord, self.largest(1, 0.0)[0][1])
        return [(self._at(side, self._place_of(side, room), room), room - web) for side in (0, 1)]

    def _at(self, side: int, u: Any, v: Any) -> Any:
        along = self.along[side]
        inward = left_of(along) if side == 0 else -left_of(along)
        return times(u, along) + times(v, inward)

    @cached_property
    def _legs(self) -> tuple[_Leg, _Leg]:
        """Both legs as the free edge sees them; the holes are searched for by them."""
        edge = self.edge
        x, y = edge.own(np.zeros(2))
        lengths = (self.plate.leg_a, self.plate.leg_b)
        a, b = (
            _Leg(
                x, y, dot(ways[0], edge.ahead), dot(ways[0], edge.outward),
                dot(ways[1], edge.ahead), dot(ways[1], edge.outward), length,
            )
            for ways, length in zip(
                ((self.along[side], self._at(side, 0.0, 1.0)) for side in (0, 1)), lengths, strict=True
            )
        )  # fmt: skip
        return a, b

    @cached_property
    def _arc(self) -> tuple[Any, Any, Any]:
        """Centre of a bowed free edge in its own x and y, and its radius [mm]."""
        return self.edge.chord / 2.0, self.edge.centre_height, self.edge.radius

    def _room(self, side: int, u: Any) -> Any:
        """Radius of the circle that touches a leg at u and the free edge [mm]."""
        leg = self._legs[side]
        x, y = leg.x + u * leg.along_x, leg.y + u * leg.along_y
        if self.edge.dip is None:
            return (self.setting.toe - y) / (1.0 + leg.in_y)
        cx, cy, radius = self._arc
        qx, qy = cx - x, cy - y
        rise = qx * leg.in_x + qy * leg.in_y
        return (qx**2 + qy**2 - np.square(radius)) / (2.0 * (radius + rise))

    def _place_of(self, side: int, room: Any) -> Any:
        """Where along a leg the circle of a radius touches it and the free edge, on the toe's side [mm]."""
        leg = self._legs[side]
        if self.edge.dip is None:
            return (self.setting.toe - leg.y - room * (1.0 + leg.in_y)) / leg.along_y
        cx, cy, radius = self._arc
        qx, qy = cx - leg.x, cy - leg.y
        on, up = qx * leg.along_x + qy * leg.along_y, qx * leg.in_x + qy * leg.in_y
        toward = np.where(leg.length - self.setting.toe > on, 1.0, -1.0)
        return on + toward * np.sqrt(
            np.maximum(np.square(radius + room) - np.square(up - room), 0.0)
        )

    def joints(self, stop: Any) -> tuple[Joint, Joint]:
        half = np.asarray(self.setting.thickness) / 2.0
        found = []
        for (start, end), along, side in zip(self.welded, self.along, (1.0, -1.0), strict=True):
            run = times(stop, along)
            faces = [
                line(self.frame.place(start + run, z), self.frame.place(end - run, z))
                for z in (half, -half)
            ]
            path = faces[0] + faces[1]
            normal = self.frame.direction(side * left_of(along))
            length = np.linalg.norm(end - start, axis=-1) - 2.0 * stop
            seat = Seat(normal, self.frame.direction(along), length)
            found.append(Joint(path, normal[..., None, :], length, seat))
        return found[0], found[1]

    def crossings(self, shares: Sequence[float]) -> Sequence[Cut]:
        return ()

    def panel(self) -> tuple[Any, Any, Any] | None:
        a, b, phi = self.plate.leg_a, self.plate.leg_b, self.setting.angle
        free = np.sqrt(a**2 + b**2 - 2.0 * a * b * np.cos(phi))
        rise = 0.0 if self.dip is None else np.maximum(-self.dip, 0.0)
        return free, a * b * np.sin(phi) / free + rise, phi

    @property
    def leg_ratio(self) -> Any:
        a, b = self.plate.leg_a, self.plate.leg_b
        return np.maximum(a, b) / np.minimum(a, b)

    @property
    def built_in(self) -> float:
        return BUILT_IN

    def strut(self) -> Any:
        """Between the legs at mid-throat."""
        half = np.asarray(self.setting.angle) / 2.0
        throat = self._cut("", half)
        middle = (throat.low + throat.high) / 2.0
        return np.minimum(2.0 * middle * np.tan(half), self.edge.chord)

    def span_of_tab(self) -> Any:
        return self.edge.chord

    @property
    def across(self) -> bool:
        return False

    @property
    def measured_from(self) -> Any:
        return np.zeros(2)

    @property
    def origin_words(self) -> str:
        return "inner corner, where both edges meet"

    def seat(self) -> Any:
        """Abreast of tube B's toe."""
        origin = self.frame.origin[..., :2]
        tube = self.along[1]
        far = np.sum(origin * tube, axis=-1) + self.plate.leg_b
        flat = times(far, tube)
        return np.concatenate([flat, np.zeros_like(flat[..., :1])], axis=-1)


def _root(falling: Any, start: Any, end: Any) -> Any:
    """Where a falling function passes through 0 between two values; the nearer of them where it does not.

    As by halving; but what is left is cut into many pieces at a time, the fewer the more plates are asked for at once.
    """
    low, high = np.broadcast_arrays(np.asarray(start, float), np.asarray(end, float))
    shape = np.broadcast_shapes(low.shape, np.shape(falling(low)))
    pieces = max(2, AT_A_TIME // max(1, math.prod(shape)))
    cuts = np.arange(1, pieces).reshape(-1, *[1] * len(shape)) / pieces
    for _ in range(math.ceil(HALVINGS / math.log2(pieces))):
        run = high - low
        short = np.sum(falling(low + cuts * run) > 0.0, axis=0)
        low, high = low + short / pieces * run, low + (short + 1) / pieces * run
    return (low + high) / 2.0
