"""The linkage of a torsion-bar rear end: swing arm, link, and arm on the bar, solved in space.

Axes as in ISO 8855: x forward, y to the left, z up. Places are arrays of shape (..., 3) in mm, directions
have no unit, angles are radians. All is drawn in one position of the wheel; `travel` counts upwards from
full droop, so a wheel drawn hanging is drawn at travel 0.

The swing arm turns about the line through its pivot, the arm about the line of the bar, and the link joins
the two at a fixed length. With r the arm drawn from the bar's line to its end, u the bar's direction and w
the way from the foot of the arm to the pick-up, the arm's turn θ obeys

    a cos θ + b sin θ = c,   a = 2 r·w,   b = 2 (u × r)·w,   c = r² + w² - L²

with two answers, atan2(b, a) ± acos(c / √(a² + b²)). The one that holds when drawn holds on, for the two
only meet where arm and link stand in line; such a position is refused.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from parts.strength.vectors import cross

LATERAL = (0.0, 1.0, 0.0)
UP = (0.0, 0.0, 1.0)

COINCIDENT = 1e-6
"""Two places nearer to each other than this are one [mm]."""


class LinkageError(ValueError):
    """A linkage that cannot be put together, or not moved as far as asked."""


@dataclass(frozen=True)
class Line:
    """A line in space.

    Attributes:
        point: any place on it [mm], shape (..., 3).
        direction: along it [-], any length but zero, shape (..., 3).
    """

    point: Any
    direction: Any = LATERAL

    @cached_property
    def unit(self) -> np.ndarray:
        """Direction of length one [-]."""
        return unit(self.direction)

    def foot(self, place: Any) -> np.ndarray:
        """The point of the line nearest to a place [mm]."""
        point = np.asarray(self.point, float)
        along = dot(np.asarray(place, float) - point, self.unit)
        return np.asarray(point + along[..., None] * self.unit)

    def radius(self, place: Any) -> np.ndarray:
        """Distance of a place from the line [mm]."""
        return length(np.asarray(place, float) - self.foot(place))

    def swept(self, place: Any) -> np.ndarray:
        """Movement of a place for each radian of turn about the line [mm/rad]."""
        return cross(self.unit, np.asarray(place, float) - np.asarray(self.point, float))

    def turned(self, place: Any, angle: Any) -> np.ndarray:
        """A place after a turn [rad] about the line, right-handed about its direction [mm]."""
        foot = self.foot(place)
        return np.asarray(foot + self._turned(np.asarray(place, float) - foot, angle))

    def turned_direction(self, direction: Any, angle: Any) -> np.ndarray:
        """A direction after a turn [rad] about the line [-]."""
        way = np.asarray(direction, float)
        along = dot(way, self.unit)[..., None] * self.unit
        return np.asarray(along + self._turned(way - along, angle))

    def _turned(self, out: np.ndarray, angle: Any) -> np.ndarray:
        """What stands square to the line, after a turn [rad]."""
        turn = np.asarray(angle, float)[..., None]
        return np.asarray(out * np.cos(turn) + cross(self.unit, out) * np.sin(turn))


def dot(one: Any, other: Any) -> np.ndarray:
    """Scalar product over the last axis, which has three entries."""
    product = np.asarray(one, float) * np.asarray(other, float)
    return np.asarray(product[..., 0] + product[..., 1] + product[..., 2])


def length(vector: Any) -> np.ndarray:
    """Length over the last axis, in the unit of the vector."""
    return np.asarray(np.sqrt(dot(vector, vector)))


def unit(vector: Any) -> np.ndarray:
    """A vector divided by its length [-]; not a number for one of no length."""
    vector = np.asarray(vector, float)
    with np.errstate(invalid="ignore", divide="ignore"):
        return np.asarray(vector / length(vector)[..., None])


def turn_of(a: Any, b: Any, c: Any, branch: Any) -> np.ndarray:
    """The turn θ with a cos θ + b sin θ = c, the one of the two that lies on a branch.

    Args:
        a, b, c: terms of the equation, in one unit.
        branch: sign of b cos θ - a sin θ, which changes nowhere on a branch; it is that of b where θ is nil.

    Returns:
        [rad] the turn, between -π and π; not a number where there is none.
    """
    a, b, c = (np.asarray(v, float) for v in (a, b, c))
    with np.errstate(invalid="ignore"):
        aside = np.sqrt(a**2 + b**2 - c**2)
    turn = np.arctan2(b, a) - np.sign(branch) * np.arctan2(aside, c)
    return np.asarray(turn - 2.0 * np.pi * np.rint(turn / (2.0 * np.pi)))


@dataclass(frozen=True)
class Linkage:
    """Where everything is, in the position that was drawn. Places [mm], directions [-], shape (..., 3).

    Attributes:
        pivot: any place on the swing arm's axis.
        axle: centre of the wheel.
        pick_up: centre of the link's joint on the swing arm.
        arm_end: centre of the link's joint on the arm.
        bar: any place on the bar's centre line.
        travel: of the wheel, upwards, from full droop to full bump [mm].
        drawn_at: travel at which all this was drawn or measured [mm].
        pivot_axis: direction of the swing arm's axis.
        bar_axis: direction of the bar.
        pick_up_pin, arm_pin: directions of the bolts through the two ball joints.

    Raises:
        LinkageError: places coincide that must not, an axis has no direction, or travel makes no sense.
    """

    pivot: Any
    axle: Any
    pick_up: Any
    arm_end: Any
    bar: Any
    travel: Any
    drawn_at: Any = 0.0
    pivot_axis: Any = LATERAL
    bar_axis: Any = LATERAL
    pick_up_pin: Any = LATERAL
    arm_pin: Any = LATERAL

    def __post_init__(self) -> None:
        for name in ("pivot", "axle", "pick_up", "arm_end", "bar"):
            place = np.asarray(getattr(self, name), float)
            if place.shape[-1:] != (3,) or not np.all(np.isfinite(place)):
                raise LinkageError(f"{_say(name)} needs three finite numbers x, y, z in mm")
        for name in ("pivot_axis", "bar_axis", "pick_up_pin", "arm_pin"):
            way = np.asarray(getattr(self, name), float)
            if way.shape[-1:] != (3,) or not np.all(length(way) > 0.0):
                raise LinkageError(f"{_say(name)} has no direction; crosswise would be 0, 1, 0")
        self._stand_apart()
        if not np.all(np.asarray(self.travel) > 0.0):
            raise LinkageError(
                f"travel is {np.min(self.travel):g} mm; it must be more than nothing"
            )
        if not np.all(
            (np.asarray(self.drawn_at) >= 0) & (self.drawn_at <= np.asarray(self.travel))
        ):
            raise LinkageError(
                f"drawn at {_extremes(self.drawn_at)} of travel, which runs from 0 (full droop) to "
                f"{_extremes(self.travel)}"
            )

    def _stand_apart(self) -> None:
        apart = (
            ("the axle and the swing arm's axis", self.swing_arm.radius(self.axle)),
            ("the link's pick-up and the swing arm's axis", self.swing_arm.radius(self.pick_up)),
            ("the arm's end and the bar's axis", self.torsion_bar.radius(self.arm_end)),
            ("the two ends of the link", self.drawn_length),
        )
        for names, distance in apart:
            if not np.all(distance > COINCIDENT):
                raise LinkageError(
                    f"{names} coincide (they stand {np.min(distance):.3g} mm apart); move one of them"
                )

    @cached_property
    def swing_arm(self) -> Line:
        """The line that the swing arm turns about."""
        return Line(self.pivot, self.pivot_axis)

    @cached_property
    def torsion_bar(self) -> Line:
        """The centre line of the bar."""
        return Line(self.bar, self.bar_axis)

    @cached_property
    def drawn_length(self) -> np.ndarray:
        """Length of the link as drawn, between ball centres [mm]."""
        return length(np.asarray(self.pick_up, float) - np.asarray(self.arm_end, float))

    @cached_property
    def arm_length(self) -> np.ndarray:
        """Length of the arm, square to the bar, centre to centre [mm]."""
        return self.torsion_bar.radius(self.arm_end)

    @cached_property
    def wind(self) -> np.ndarray:
        """+1 where bump turns the arm right-handed about the bar's direction, else -1 [-]."""
        way = np.asarray(self.pick_up, float) - np.asarray(self.arm_end, float)
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            turn = dot(way, self.swing_arm.swept(self.pick_up))
            turn = turn / dot(way, self.torsion_bar.swept(self.arm_end))
            return np.asarray(np.sign(turn / self.swing_arm.swept(self.axle)[..., 2]))

    def swing(self, travel: Any) -> np.ndarray:
        """Turn of the swing arm from where it was drawn [rad]; not a number beyond its reach.

        Args:
            travel: of the wheel from full droop [mm].
        """
        out = np.asarray(self.axle, float) - self.swing_arm.foot(self.axle)
        a, b = out[..., 2], self.swing_arm.swept(self.axle)[..., 2]
        return turn_of(a, b, a + np.asarray(travel, float) - self.drawn_at, b)

    def arm_turn(self, pick_up: Any, link_length: Any) -> np.ndarray:
        """Turn of the arm from where it was drawn [rad]; not a number where the link cannot reach.

        Args:
            pick_up: place of the link's joint on the swing arm [mm].
            link_length: between ball centres [mm].
        """
        foot = self.torsion_bar.foot(self.arm_end)
        out, way = np.asarray(self.arm_end, float) - foot, np.asarray(pick_up, float) - foot
        drawn = np.asarray(self.pick_up, float) - foot
        tangent = self.torsion_bar.swept(self.arm_end)
        a, b = 2.0 * dot(out, way), 2.0 * dot(tangent, way)
        c = dot(out, out) + dot(way, way) - np.square(link_length)
        return turn_of(a, b, c, dot(tangent, drawn))


def _say(name: str) -> str:
    return "the " + name.replace("_", " ")


def _extremes(value: Any) -> str:
    low, high = float(np.min(value)), float(np.max(value))
    return f"{low:.4g} mm" if low == high else f"{low:.4g} to {high:.4g} mm"
