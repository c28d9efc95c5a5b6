"""How the linkage moves through the travel: the bar's turn for each millimetre of the wheel, and its slope.

With d the way from the arm's end A to the pick-up P and primes for changes with the swing arm's turn φ,
the link keeps its length where d·(P' - A' θ') = 0, so that θ' = d·P'/d·A'; once more by φ,
θ'' = (|P' - A' θ'|² + d·(P'' - A'' θ'²)) / d·A'. With the height z of the axle, the motion ratio of the
bar is i = θ'/z' and its slope along the travel di/dz = (θ'' - i z'')/z'².
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from parts.strength.vectors import cross
from parts.vehicle.rear_end.linkage import Line, Linkage, LinkageError, dot, length, unit

LEAST_LEVERAGE = 0.05
"""Lever of the link over the radius of its joint below which a position counts as singular [-]: the link
within 3 degrees of dead centre. Common practice, no source, wants ten times as much."""
FARTHEST = np.radians(150.0)
"""Turn of the arm that no torsion bar is wound to [rad]; common practice, no source. Angles wrap at half a turn."""
PATH = np.linspace(0.0, 1.0, 41)
"""Where the way from the drawn position to a wanted one is looked at [-]."""


@dataclass(frozen=True)
class Motion:
    """A linkage at some positions of the wheel. Places have shape (..., 3), all else the shape of travel.

    Attributes:
        linkage: as drawn.
        travel: of the wheel, from full droop [mm].
        link_length: between ball centres [mm].
        swing: turn of the swing arm from where it was drawn, right-handed about its axis [rad].
        arm_turn: turn of the arm from where it was drawn, right-handed about the bar [rad].
        wind: +1 where bump turns the arm right-handed about the bar's direction, else -1 [-].
        axle, pick_up, arm_end: places [mm].
        link: direction from the arm's end to the pick-up [-].
        ratio: motion ratio, turn of the bar for each millimetre of bump [rad/mm], positive.
        lever: of the link about the bar [mm].
        leverage: that lever over the length of the arm [-]; 1 is square, 0 dead centre.
        turn_per_length: wind-up of the bar for each millimetre of longer link, wheel held [rad/mm].
    """

    linkage: Linkage
    travel: Any
    link_length: Any
    swing: Any
    arm_turn: Any
    wind: Any
    axle: Any
    pick_up: Any
    arm_end: Any
    link: Any
    ratio: Any
    lever: Any
    leverage: Any
    turn_per_length: Any

    @property
    def bar_turn(self) -> Any:
        """Turn of the arm from where it was drawn, positive the way bump winds the bar up [rad]."""
        return self.wind * self.arm_turn

    @cached_property
    def ratio_slope(self) -> Any:
        """Change of the motion ratio along the travel [rad/mm^2]."""
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            return self.wind * _slope(self.linkage, self.axle, self.pick_up, self.arm_end)

    @property
    def pick_up_swing(self) -> Any:
        """Tilt that the ball joint on the swing arm must allow [rad]."""
        return self._swings[0]

    @property
    def arm_swing(self) -> Any:
        """Tilt that the ball joint on the arm must allow [rad]."""
        return self._swings[1]

    @cached_property
    def _swings(self) -> tuple[Any, Any]:
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            return _joint_swing(self.linkage, self.swing, self.arm_turn, self.link)


def motion(linkage: Linkage, travel: Any, link_length: Any = None) -> Motion:
    """The linkage at positions of the wheel, reached from the drawn one without passing dead centre.

    Args:
        linkage: as drawn.
        travel: of the wheel from full droop [mm], number or array.
        link_length: between ball centres [mm]; as drawn where left out.

    Returns:
        positions, motion ratio and joint angles.

    Raises:
        LinkageError: travel beyond the stroke, the swing arm or the link does not reach, or the linkage
            would pass a dead centre on the way.
    """
    travel = np.asarray(travel, float)
    set_length = linkage.drawn_length if link_length is None else np.asarray(link_length, float)
    if not np.all((travel >= -1e-9) & (travel <= np.asarray(linkage.travel) + 1e-9)):
        raise LinkageError(
            f"the wheel is asked to {_worst(travel, linkage.travel):.4g} mm; its travel runs from 0 "
            f"(full droop) to {np.max(linkage.travel):.4g} mm"
        )
    if not np.all(set_length > 0.0):
        raise LinkageError(
            f"the link is {np.min(set_length):.4g} mm long; it must be more than nothing"
        )
    _refuse_on_the_way(linkage, travel, set_length)
    return moved(linkage, travel, set_length)


def moved(linkage: Linkage, travel: Any, link_length: Any) -> Motion:
    """As `motion`, unchecked: not a number where the linkage does not reach."""
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        return _moved(linkage, np.asarray(travel, float), np.asarray(link_length, float))


def _moved(linkage: Linkage, travel: Any, link_length: Any) -> Motion:
    swing = linkage.swing(travel)
    axle = linkage.swing_arm.turned(linkage.axle, swing)
    pick_up = linkage.swing_arm.turned(linkage.pick_up, swing)
    turn = linkage.arm_turn(pick_up, link_length)
    arm_end = linkage.torsion_bar.turned(linkage.arm_end, turn)
    first, rise, on_bar = _ratio(linkage, axle, pick_up, arm_end)
    wind = linkage.wind
    lever = np.abs(on_bar) / link_length
    return Motion(
        linkage=linkage,
        travel=travel,
        link_length=link_length,
        swing=swing,
        arm_turn=turn,
        wind=wind,
        axle=axle,
        pick_up=pick_up,
        arm_end=arm_end,
        link=unit(pick_up - arm_end),
        ratio=wind * (first / rise),
        lever=lever,
        leverage=lever / linkage.arm_length,
        turn_per_length=-wind * link_length / on_bar,
    )


def _ratio(linkage: Linkage, axle: Any, pick_up: Any, arm_end: Any) -> tuple[Any, Any, Any]:
    """θ' [-], z' [mm/rad] and d·A' [mm^2], all right-handed about the bar."""
    way = np.asarray(pick_up, float) - np.asarray(arm_end, float)
    on_bar = dot(way, linkage.torsion_bar.swept(arm_end))
    first = dot(way, linkage.swing_arm.swept(pick_up)) / on_bar
    return first, linkage.swing_arm.swept(axle)[..., 2], on_bar


def _slope(linkage: Linkage, axle: Any, pick_up: Any, arm_end: Any) -> Any:
    """Slope of the motion ratio [rad/mm^2], right-handed about the bar."""
    first, z1, on_bar = _ratio(linkage, axle, pick_up, arm_end)
    p1, p2 = _changes(linkage.swing_arm, pick_up)
    a1, a2 = _changes(linkage.torsion_bar, arm_end)
    z2 = _changes(linkage.swing_arm, axle)[1][..., 2]
    way = np.asarray(pick_up, float) - np.asarray(arm_end, float)
    slip = p1 - a1 * first[..., None]
    second = (dot(slip, slip) + dot(way, p2 - a2 * np.square(first)[..., None])) / on_bar
    return (second - first / z1 * z2) / np.square(z1)


def _changes(line: Line, place: Any) -> tuple[np.ndarray, np.ndarray]:
    """First and second change of a place with the turn about a line [mm/rad, mm/rad^2]."""
    first = line.swept(place)
    return first, cross(line.unit, first)


def _joint_swing(linkage: Linkage, swing: Any, turn: Any, link: Any) -> tuple[Any, Any]:
    """Tilt of both ball joints [rad]: the link against its pins, and half of what the pins turn about it.

    The eyes lie square on their pins as drawn, with the jam nuts then locked; what one pin turns about the
    link against the other is shared by both joints.
    """
    upper = unit(linkage.swing_arm.turned_direction(linkage.pick_up_pin, swing))
    lower = unit(linkage.torsion_bar.turned_direction(linkage.arm_pin, turn))
    drawn = unit(np.asarray(linkage.pick_up, float) - np.asarray(linkage.arm_end, float))
    roll = _roll(upper, lower, link)
    roll = roll - _roll(unit(linkage.pick_up_pin), unit(linkage.arm_pin), drawn)
    half = np.abs(np.arctan2(np.sin(roll), np.cos(roll))) / 2.0
    first, second = (_tilt(pin, link, half) for pin in (upper, lower))
    return first, second


def _tilt(pin: Any, link: Any, roll: Any) -> Any:
    """Tilt of a ball joint [rad]: cos τ = |p × l| cos ρ, by its sine too, for a cosine tells no small angle."""
    square = length(cross(pin, link))
    aside = np.hypot(dot(pin, link), square * np.sin(roll))
    return np.arctan2(aside, square * np.cos(roll))


def _roll(first: Any, second: Any, link: Any) -> Any:
    """Angle from one pin to the other about the link [rad]."""
    across = dot(first, second) - dot(first, link) * dot(second, link)
    return np.arctan2(dot(link, cross(first, second)), across)


def _refuse_on_the_way(linkage: Linkage, travel: Any, link_length: Any) -> None:
    """Look at the way from the drawn position to the wanted ones, and refuse what cannot be passed."""
    lead = np.ndim(travel + link_length + linkage.drawn_length)
    share = PATH.reshape(-1, *[1] * lead)
    from_length = linkage.drawn_length
    way = moved(
        linkage,
        linkage.drawn_at + share * (travel - linkage.drawn_at),
        from_length + share * (link_length - from_length),
    )
    pull = np.abs(dot(way.link, linkage.swing_arm.swept(way.pick_up)))
    pull = pull / linkage.swing_arm.radius(linkage.pick_up)
    lift = np.abs(linkage.swing_arm.swept(way.axle)[..., 2])
    lift = lift / linkage.swing_arm.radius(linkage.axle)
    for bad, why in (
        (~np.isfinite(way.swing), "the swing arm is too short to reach that height"),
        (lift < LEAST_LEVERAGE, "the axle stands straight above or below the swing arm's axis"),
        (
            ~np.isfinite(way.arm_turn),
            "the link cannot reach from the swing arm to the arm; change its length or the arm's",
        ),
        (
            np.abs(way.arm_turn) > FARTHEST,
            "the arm would turn farther than a torsion bar winds; lengthen the arm or move the pick-up",
        ),
        (
            way.leverage < LEAST_LEVERAGE,
            "link and arm stand in line (lock-over); turn the arm on its spline or change the link",
        ),
        (
            (pull < LEAST_LEVERAGE) | (way.ratio < 0.0),
            "the link points at the swing arm's axis (dead centre), so that the bar does not feel the "
            "wheel; move the pick-up",
        ),
    ):
        if np.any(bad):
            bad, travels, lengths = np.broadcast_arrays(bad, way.travel, way.link_length)
            at, long = travels[bad][0], lengths[bad][0]
            raise LinkageError(f"at {at:.1f} mm of travel with a link of {long:.2f} mm {why}")


def _worst(travel: Any, stroke: Any) -> float:
    """The travel [mm] that lies farthest outside the stroke."""
    beyond = np.maximum(-travel, travel - np.asarray(stroke, float))
    return float(np.broadcast_to(travel, beyond.shape).flat[int(np.argmax(beyond))])
