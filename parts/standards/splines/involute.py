"""The involute of a circle as splines and gears use it, and a spline's tooth space drawn from it.

All lengths mm, all angles rad. A tooth space of an internal spline lies symmetrically about the +x
axis, the axis of the bore at the origin; its half-angle shrinks as the radius grows.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

Point = tuple[float, float]
Arc = tuple[Point, Point, Point]


def involute(angle: float) -> float:
    """inv(angle) = tan(angle) - angle [rad]."""
    return math.tan(angle) - angle


def involute_angle(value: float) -> float:
    """The pressure angle [rad] whose involute is `value`; `value` is not negative.

    Newton's method in tan(angle), which converges from above for every value.
    """
    if value < 0.0:
        raise ValueError(f"no pressure angle has the involute {value:.6g}")
    slope = (3.0 * value) ** (1.0 / 3.0) + value
    for _ in range(60):
        if slope == 0.0:
            return 0.0
        step = (slope - math.atan(slope) - value) * (1.0 + slope * slope) / (slope * slope)
        slope -= step
        if abs(step) <= 1e-15 * slope:
            break
    return math.atan(slope)


def polar(radius: float, angle: float) -> Point:
    return radius * math.cos(angle), radius * math.sin(angle)


@dataclass(frozen=True)
class Flank:
    """One flank of a tooth space whose width narrows outward: an involute of `base_radius` [mm].

    `start` [rad] is the half-angle of the space at the base circle. A circle of radius r that
    touches the flank from inside the space has its centre on the same involute with `start` less
    by r/base_radius.
    """

    base_radius: float
    start: float

    def half_angle(self, radius: float) -> float:
        """Half-angle of the space [rad] at a radius [mm]; inside the base circle the flank is
        radial."""
        if radius <= self.base_radius:
            return self.start
        return self.start - involute(math.acos(self.base_radius / radius))

    def centre_angle(self, touching: float, radius: float) -> float:
        """Angle [rad] of the centre, at `radius`, of a circle of radius `touching` on the flank."""
        return self.half_angle(radius) - touching / self.base_radius

    def contact_radius(self, touching: float, radius: float) -> float:
        """Radius [mm] where a circle of radius `touching` centred at `radius` touches the flank."""
        along = math.sqrt(max(radius**2 - self.base_radius**2, 0.0)) + touching
        return math.hypot(self.base_radius, along)


class SpaceProfile(NamedTuple):
    """The outline of one internal tooth space about the +x axis, in mm, for drawing or for CAD.

    Attributes:
        flank: points on the flank at positive angles, from the minor circle to the root fillet.
        fillet: start, middle and end of the root fillet at positive angles; it starts where flank
            ends.
        root: start, middle and end of the arc on the major circle between the fillets; its ends
            coincide with its middle where one full fillet forms the root.
        fillet_radius: mm.
        minor_radius: mm; the bore.
        major_radius: mm; the root circle.
        touch_radius: mm; where flank passes into fillet.
    """

    flank: tuple[Point, ...]
    fillet: Arc
    root: Arc
    fillet_radius: float
    minor_radius: float
    major_radius: float
    touch_radius: float

    @property
    def full_fillet(self) -> bool:
        """True where the two root fillets are one arc."""
        return math.dist(self.root[0], self.root[2]) < 1e-9

    def outline(self, arc_points: int = 8) -> tuple[Point, ...]:
        """The open outline from minor circle over the root to minor circle, counter-clockwise.

        Each fillet and the root arc are stepped in `arc_points` intervals.
        """
        centre_angle = math.atan2(self.root[2][1], self.root[2][0])
        centre = polar(self.major_radius - self.fillet_radius, centre_angle)
        begin = math.atan2(self.fillet[0][1] - centre[1], self.fillet[0][0] - centre[0])
        sweep = [begin + (centre_angle - begin) * i / arc_points for i in range(1, arc_points + 1)]
        fillet = tuple(
            (
                centre[0] + self.fillet_radius * math.cos(a),
                centre[1] + self.fillet_radius * math.sin(a),
            )
            for a in sweep
        )
        upper = self.flank + (fillet if self.fillet_radius > 0.0 else ())
        lower = tuple((x, -y) for x, y in upper)
        steps = () if self.full_fillet else range(1, arc_points)
        root = tuple(
            polar(self.major_radius, centre_angle * (2.0 * i / arc_points - 1.0)) for i in steps
        )
        bottom = tuple(reversed(upper[:-1])) if self.full_fillet else tuple(reversed(upper))
        return lower + root + bottom


def fitting_fillet(flank: Flank, major_radius: float, form_radius: float, wanted: float) -> float:
    """The root fillet radius [mm] nearest to `wanted` from below that still fits the space.

    It fits while its two arcs do not cross on the centreline and it leaves the flank whole as far
    as `form_radius`. Zero where none fits.
    """

    def fits(radius: float) -> bool:
        at = major_radius - radius
        return (
            at > flank.base_radius
            and flank.centre_angle(radius, at) >= 0.0
            and flank.contact_radius(radius, at) >= form_radius
        )

    if fits(wanted):
        return wanted
    low, high = 0.0, wanted
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if fits(middle) else (low, middle)
    return low


def space_profile(
    flank: Flank, minor_radius: float, major_radius: float, fillet_radius: float, points: int
) -> SpaceProfile:
    """Draw one internal tooth space: `points` on the flank, then the fillet and the root arc."""
    if points < 2:
        raise ValueError(f"a flank needs at least 2 points, not {points}")
    at = major_radius - fillet_radius
    angle = max(flank.centre_angle(fillet_radius, at), 0.0)
    if angle < 1e-9:
        angle = 0.0
    touch = flank.contact_radius(fillet_radius, at)
    inner = max(minor_radius, flank.base_radius)
    # Even steps of roll keep the chord error even along the involute.
    rolls = [math.sqrt((r / flank.base_radius) ** 2 - 1.0) for r in (inner, touch)]
    radii = [
        flank.base_radius * math.hypot(1.0, rolls[0] + (rolls[1] - rolls[0]) * i / (points - 1))
        for i in range(points)
    ]
    run = [polar(r, flank.half_angle(r)) for r in radii]
    if minor_radius < inner:
        run.insert(0, polar(minor_radius, flank.half_angle(inner)))
    centre = polar(at, angle)
    begin = math.atan2(run[-1][1] - centre[1], run[-1][0] - centre[0])
    half = 0.5 * (begin + angle)
    end = polar(major_radius, angle)
    middle = (
        centre[0] + fillet_radius * math.cos(half),
        centre[1] + fillet_radius * math.sin(half),
    )
    return SpaceProfile(
        flank=tuple(run),
        fillet=(run[-1], middle, end),
        root=((end[0], -end[1]), (major_radius, 0.0), end),
        fillet_radius=fillet_radius,
        minor_radius=minor_radius,
        major_radius=major_radius,
        touch_radius=touch,
    )
