"""A plate that stands across both tubes like a brace, its ends notched as saddles for the tubes.

A flat plate cuts a tube in an ellipse. The notch is that ellipse, moved back by half the plate's thickness
times the cotangent of the slant, so that an edge cut square to the plate clears the tube at both faces.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.families.gusset.form import Cut, Frame, Setting
from parts.families.gusset.free_edge import (
    Corner,
    FreeEdge,
    Stub,
    loop_corners,
    times,
    toe_corner,
    turned,
)
from parts.features.section.outlines import figure
from parts.features.weld.plate_edge import Joint, Seat
from parts.inputs.quantities import Angle, PositiveLength
from parts.strength.section.outline import Outline
from parts.strength.vectors import cross
from parts.strength.welded.line import polyline

STATIONS = (0.02, 0.15, 0.3, 0.4, 0.5, 0.6, 0.7, 0.85, 0.98)
"""Cuts across the plate, as shares of its length between the notches."""
ARCS = 32
"""Arcs that stand for the ellipse of a notch: nowhere farther from it than a thousandth of a millimetre."""
BUILT_IN = 0.65
"""Effective over free length of a strut welded at both ends: AISC 360-16, Table C-A-7.1, recommended [-]."""
OVER = 5.0
"""How far the tool of a notch reaches past the end of the plate [mm]."""


class BridgeSizes(Group):
    """Sizes of the plate."""

    type: Literal["across"] = Field(
        "across",
        description="Square to the plane of the tubes' axes, a brace from tube to tube with saddle-notched "
        "ends.",
    )
    at_a: PositiveLength = Field(
        description="Along tube A's centre line from the joint to the middle of the plate's thickness."
    )
    at_b: PositiveLength = Field(
        description="Along tube B's centre line from the joint to the middle of the plate's thickness."
    )
    width_a: PositiveLength = Field(description="Width of the plate at tube A, horns and all.")
    width_b: PositiveLength = Field(description="Width of the plate at tube B, horns and all.")
    wrap: Angle = Field(
        float(np.radians(150.0)),
        description="How far each saddle reaches round its tube; 180 deg is half way.",
    )


class End(NamedTuple):
    """One end of the plate: the tube's radius with the gap [mm], the angle between plate and tube [rad], the
    set-back for the thickness [mm], and half the angle of the wrap [rad]."""

    radius: Any
    slant: Any
    set_back: Any
    half_wrap: Any

    @property
    def half_notch(self) -> Any:
        """Half the width of the notch [mm]."""
        return self.radius * np.sin(self.half_wrap)

    def depth(self, angle: Any) -> Any:
        """From the tube's axis to the edge of the plate, along the plate, at an angle round the tube [mm]."""
        return self.radius / np.sin(self.slant) * np.cos(angle) + self.set_back


@dataclass(frozen=True)
class BridgeForm:
    """The plate by numbers. Its own x runs from tube A's axis to tube B's, y along the part's z."""

    plate: BridgeSizes
    setting: Setting
    dip: Any
    stub: Stub | None = None

    @cached_property
    def _ends_of_line(self) -> tuple[Any, Any]:
        a, b = self.plate.at_a, times(self.plate.at_b, turned(self.setting.angle))
        return times(a, np.array([1.0, 0.0])), b

    @cached_property
    def span(self) -> Any:
        """From tube A's axis to tube B's along the plate [mm]."""
        a, b = self._ends_of_line
        return np.linalg.norm(b - a, axis=-1)

    @cached_property
    def frame(self) -> Frame:
        a, b = self._ends_of_line
        flat = (b - a) / self.span[..., None]
        nought = np.zeros_like(flat[..., :1])
        along = np.concatenate([flat, nought], axis=-1)
        origin = np.concatenate([np.broadcast_to(a, flat.shape), nought], axis=-1)
        up = np.array([0.0, 0.0, 1.0])
        return Frame(origin, along, up, cross(along, up))

    @cached_property
    def ends(self) -> tuple[End, End]:
        s, along = self.setting, self.frame.x
        found = []
        for radius, angle in ((s.radius_a, 0.0), (s.radius_b, s.angle)):
            tube = turned(angle)
            sine = np.abs(along[..., 0] * tube[..., 1] - along[..., 1] * tube[..., 0])
            cosine = np.abs(along[..., 0] * tube[..., 0] + along[..., 1] * tube[..., 1])
            set_back = s.thickness / 2.0 * cosine / sine
            found.append(
                End(radius + s.gap, np.arctan2(sine, cosine), set_back, self.plate.wrap / 2.0)
            )
        return found[0], found[1]

    @cached_property
    def tips(self) -> tuple[Any, Any]:
        """Where the horns end on the plate's x [mm]."""
        a, b = self.ends
        return a.depth(a.half_wrap), self.span - b.depth(b.half_wrap)

    @cached_property
    def clear(self) -> tuple[Any, Any]:
        """Where the bottoms of the notches lie on the plate's x [mm]."""
        a, b = self.ends
        return a.depth(0.0), self.span - b.depth(0.0)

    @cached_property
    def _edges(self) -> tuple[FreeEdge, FreeEdge]:
        (left, right), r = self.tips, self.setting.toe
        a, b = self.plate.width_a / 2.0 - r, self.plate.width_b / 2.0 - r

        def at(x: Any, y: Any) -> Any:
            return np.stack(
                np.broadcast_arrays(np.asarray(x, float), np.asarray(y, float)), axis=-1
            )

        upper = FreeEdge(at(right - r, b), at(left + r, a), r, self.dip, self.stub)
        lower = FreeEdge(at(left + r, -a), at(right - r, -b), r, self.dip)
        return upper, lower

    def free_edges(self) -> Sequence[FreeEdge]:
        return self._edges

    def _width(self, x: Any) -> tuple[Any, Any]:
        """Half the width of the plate at x [mm], and the cosine of the slant of its side there: the free edge,
        or the round of a toe that reaches past the bottom of its notch."""
        upper, r = self._edges[0], self.setting.toe
        up = np.array([0.0, 1.0])
        half = upper.reach(np.stack([np.asarray(x, float), np.zeros_like(x)], axis=-1), up)
        lean = upper.lean(np.stack(np.broadcast_arrays(x, half), axis=-1), up)
        for toe, touch, side in zip(
            (upper.last, upper.first), upper.tangents[::-1], (1.0, -1.0), strict=True
        ):
            rise = np.sqrt(np.maximum(np.square(r) - np.square(x - toe[..., 0]), 0.0))
            there = side * (touch[..., 0] - x) > 0.0
            half = np.where(there, toe[..., 1] + rise, half)
            lean = np.where(there, rise / r, lean)
        return half, lean

    @property
    def least_width(self) -> Any:
        """Least width of the plate between the notches [mm]."""
        left, right = self.clear
        widths = [self._width(left + share * (right - left))[0] for share in STATIONS]
        return 2.0 * np.minimum.reduce(widths)

    def _notch(self, end: int, share: Any = 1.0) -> tuple[list[Any], list[Any]]:
        """Points of a notch, or of a share of it about its middle, with the metal on the left, and the
        bulges of the arcs between them."""
        one, sign = self.ends[end], (1.0 if end == 0 else -1.0)
        datum = 0.0 if end == 0 else self.span
        widest = np.asarray(share * np.asarray(one.half_wrap))[..., None]
        angle = widest * np.linspace(1.0, -1.0, 2 * ARCS + 1) * sign
        lift = [np.asarray(v)[..., None] for v in (one.radius, one.slant, one.set_back)]
        wide = End(lift[0], lift[1], lift[2], angle)
        x = np.asarray(datum)[..., None] + sign * wide.depth(angle)
        points = np.stack(np.broadcast_arrays(x, lift[0] * np.sin(angle)), axis=-1)
        start, middle, stop = points[..., 0:-1:2, :], points[..., 1::2, :], points[..., 2::2, :]
        u, v = middle - start, stop - middle
        cross = u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0]
        bulges = np.tan(np.arctan2(cross, np.sum(u * v, axis=-1)) / 2.0)
        kept = points[..., ::2, :]
        return [kept[..., i, :] for i in range(ARCS + 1)], [bulges[..., i] for i in range(ARCS)]

    def outer(self) -> Outline:
        return self._contour([self._notch(1), self._notch(0)])

    def body(self) -> Outline:
        return self._contour([([], []), ([], [])])

    def _contour(self, notches: Sequence[tuple[list[Any], list[Any]]]) -> Outline:
        upper, lower = self._edges
        rows: list[Corner] = []
        for near, (points, bulges) in ((lower, notches[0]), (upper, notches[1])):
            back = near.first[..., 0] < near.last[..., 0]
            r = np.where(back, self.setting.toe, -np.asarray(self.setting.toe))
            reach = np.stack([r, np.zeros_like(r)], axis=-1)
            leave, meet = near.tangents
            rows.append(toe_corner(near.first, near.first - reach, leave))
            rows += near.corners()
            rows.append(toe_corner(near.last, meet, near.last + reach))
            rows.append((near.last + reach, 0.0))
            rows += list(zip(points, [*bulges, 0.0], strict=True)) if points else []
        return figure(*loop_corners(rows))

    def notches(self) -> Sequence[Outline]:
        found = []
        for end in (0, 1):
            points, bulges = self._notch(end)
            out = np.array([-OVER, 0.0]) if end == 0 else np.array([OVER, 0.0])
            # Walked with the plate's metal on the left; the tool lies on the right, hence backwards.
            rows = [
                *zip(points, [*bulges, 0.0], strict=True),
                (points[-1] + out, 0.0),
                (points[0] + out, 0.0),
            ]
            forward = figure(*loop_corners(rows))
            found.append(Outline(tuple(loop.reversed() for loop in forward.loops)))
        return found

    def cuts(self, holes: Sequence[Any]) -> Sequence[Cut]:
        rows = [(f"across at {share:.0%} of the length", self._at(share)) for share in STATIONS]
        rows += [(f"across hole {i + 1}", hole[..., 0]) for i, hole in enumerate(holes)]
        return [self._cut(name, x) for name, x in rows]

    def crossings(self, shares: Sequence[float]) -> Sequence[Cut]:
        return [self._cut("", self._at(share)) for share in shares]

    def _at(self, share: float) -> Any:
        left, right = self.clear
        return left + share * (right - left)

    def _cut(self, name: str, x: Any) -> Cut:
        half, lean = self._width(x)
        start = np.stack(np.broadcast_arrays(x, 0.0), axis=-1)
        return Cut(name, start, np.array([0.0, -1.0]), -half, half, lean, lean)

    def clearance(self, centre: Any) -> Any:
        found = [edge.distance(centre) for edge in self._edges]
        turns = np.linspace(-1.0, 1.0, 2 * ARCS + 1)
        for end, datum in zip(self.ends, (0.0, self.span), strict=True):
            angle = np.asarray(end.half_wrap)[..., None] * turns
            wide = End(
                np.asarray(end.radius)[..., None],
                np.asarray(end.slant)[..., None],
                np.asarray(end.set_back)[..., None],
                angle,
            )
            x = np.abs(centre[..., 0] - datum)[..., None] - wide.depth(angle)
            y = centre[..., 1][..., None] - wide.radius * np.sin(angle)
            found.append(np.hypot(x, y).min(axis=-1))
        return np.minimum.reduce(np.broadcast_arrays(*found))

    def largest(self, count: int, web: Any) -> Sequence[tuple[Any, Any]]:
        """Equal holes in a row on the middle line, as large as length and width allow."""
        left, right = self.clear
        length = right - left
        by_length = (length - (count + 1) * web) / (2.0 * count)
        steps = [(2 * i + 1) * by_length + (i + 1) * web for i in range(count)]
        centres = [np.stack([left + s, np.zeros_like(left + s)], axis=-1) for s in steps]
        sides = [edge.distance(c) - web for edge in self._edges for c in centres]
        radius = np.minimum.reduce([by_length, *sides])
        return [(centre, radius) for centre in centres]

    def joints(self, stop: Any) -> tuple[Joint, Joint]:
        found = []
        half = np.asarray(self.setting.thickness) / 2.0
        for end, angle, datum in ((0, 0.0, 0.0), (1, self.setting.angle, self.span)):
            full = np.stack(np.broadcast_arrays(*self._notch(end)[0]), axis=-2)
            length = np.linalg.norm(np.diff(full, axis=-2), axis=-1).sum(axis=-1)
            welded = 1.0 - 2.0 * np.asarray(stop) / length
            flat = np.stack(np.broadcast_arrays(*self._notch(end, welded)[0]), axis=-2)
            faces = [self.frame_all(flat, z) for z in (half, -half)]
            path = polyline(faces[0]) + polyline(faces[1])
            on_axis = times(datum, np.array([1.0, 0.0])) + 0.0 * flat[..., 0, :]
            axis = np.concatenate([turned(angle), np.zeros_like(turned(angle)[..., :1])], axis=-1)
            away = path.points - self.frame.place(on_axis)[..., None, :]
            tube, side = axis, 1.0 if end == 0 else -1.0
            axis = np.broadcast_to(axis[..., None, :], away.shape)
            away = away - np.sum(away * axis, axis=-1, keepdims=True) * axis
            away = away - np.sum(away * path.along, axis=-1, keepdims=True) * path.along
            normal = away / np.linalg.norm(away, axis=-1, keepdims=True)
            out = side * cross(np.array([0.0, 0.0, 1.0]), tube)
            outside = 2.0 * (self.setting.radius_a if end == 0 else self.setting.radius_b)
            wide = np.minimum(2.0 * self.ends[end].half_notch, outside)
            seat = Seat(out, tube, wide, across=True)
            found.append(Joint(path, normal, length - 2.0 * np.asarray(stop), seat))
        return found[0], found[1]

    def frame_all(self, flat: Any, z: Any) -> Any:
        """Places (..., n, 3) of the part from a row (..., n, 2) on the plate, `z` off its middle."""
        f = self.frame
        wide = Frame(*(np.asarray(v, float)[..., None, :] for v in (f.origin, f.x, f.y, f.normal)))
        return wide.place(flat, np.asarray(z)[..., None])

    def panel(self) -> tuple[Any, Any, Any] | None:
        return None

    @property
    def leg_ratio(self) -> Any:
        return 1.0

    @property
    def built_in(self) -> float:
        return BUILT_IN

    def strut(self) -> Any:
        left, right = self.clear
        return right - left

    def span_of_tab(self) -> Any:
        left, right = self.clear
        return right - left

    @property
    def across(self) -> bool:
        return True

    @property
    def measured_from(self) -> Any:
        return np.array([float(self.clear[0]), 0.0])

    @property
    def origin_words(self) -> str:
        return "axis of tube A"

    def seat(self) -> Any:
        """Where the plate crosses tube B's axis."""
        _, flat = self._ends_of_line
        return np.concatenate([flat, np.zeros_like(flat[..., :1])], axis=-1)
