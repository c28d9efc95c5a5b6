"""Load cases on a swing arm: how far the wheel goes under them, and what holds the arm there, in space.

The swing arm turns about its pivot. Link and bar hold it by the torque that the bar has at that travel: the wheel
goes to where this balances the loads. At full bump and at full droop the stops take what the bar does not. The pivot's
bearings bear what is left: every force, and the moments square to their axis.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

import numpy as np

from parts.core.freebody import Acting, Balance, balance
from parts.vehicle.loads.statics import FRAME, Held
from parts.vehicle.rear_end.linkage import UP
from parts.vehicle.rear_end.rear import SWING_ARM, WHEEL, Rear
from parts.vehicle.rear_end.suspension import Response, free_bodies

NEAR = 1e-9
"""Travel over the stroke at which the wheel counts as settled [-]."""
STEPS = 100
SLOPE = 0.01
"""Travel over the stroke by which slopes are taken [-]."""
SLIGHT = 1e-7
"""Moment about the pivot, over that of the bar, that no stop is asked for [-]."""
Points = Mapping[str, np.ndarray]


class StopError(ValueError):
    """The wheel is driven onto a stop, and the build does not say where that is."""


class Load(NamedTuple):
    """A force [N] and a moment [N*mm] on the swing arm at a hardpoint, and what it comes from."""

    point: str
    force: np.ndarray
    moment: np.ndarray
    by: str


class Swung(NamedTuple):
    """A case on the swing arm: where the wheel goes [mm], all places there, what acts on each body, and balances.

    `stop` is what a stop bears [N].
    """

    travel: float
    points: dict[str, np.ndarray]
    held: tuple[Held, ...]
    balances: tuple[Balance, ...]
    note: str
    stop: float = 0.0


Loads = Callable[[Points], Sequence[Load]]
NONE = np.zeros(3)


def settled(rear: Rear, loads: Loads, points: Points, riding: Sequence[str] = ()) -> Swung:
    """A case with the wheel where its loads balance the bar, or on a stop.

    Args:
        rear: the rear end.
        loads: on the swing arm, from the places of the hardpoints.
        points: places of all hardpoints as drawn [mm].
        riding: hardpoints that move with the swing arm beside those of the rear end.

    Returns:
        Everything at that position.

    Raises:
        StopError: a stop is needed and not stated.
    """
    return standing(rear, rear.at(_travel(rear, loads, points, riding)), loads, points, riding)


def settled_at_worst(
    rear: Rear, loads: Loads, points: Points, riding: Sequence[str] = ()
) -> tuple[Swung, ...]:
    """A case as `settled` gives it, with link and hardpoints where the link is pulled or pushed hardest.

    Where a stop bears more with the link set otherwise, that comes with it.

    Args:
        rear: the rear end.
        loads, points, riding: as for `settled`.

    Returns:
        One, or that of the link and that of the stop.

    Raises:
        StopError: as `settled`.
    """
    travel = _travel(rear, loads, points, riding)
    off = "points to the worse side" if any(rear.within.values()) else ""
    found = [(rear, travel, points, "")]
    signs = _worse_sides(rear, travel, loads, points, riding)
    for other, said in rear.set_otherwise(signs):
        there = {**points, **other.drawn}
        goes = _travel(other, loads, there, riding)
        found.append((other, goes, there, "; ".join(filter(None, (said, off)))))

    def stands(other: Rear, goes: float, there: Points, said: str) -> Swung:
        one = standing(other, other.at(goes), loads, there, riding)
        return one._replace(note="; ".join(filter(None, (said, one.note))))

    worst = max(found, key=lambda one: _pulled(one[0], one[1]))
    of_link = stands(*worst)
    stopped = [
        stands(*one)
        for one in found
        if one is not worst and one[1] in (0.0, float(rear.entry.travel))
    ]
    of_stop = max([of_link, *stopped], key=lambda one: one.stop)
    return (of_link,) if of_stop is of_link else (of_link, of_stop)


def _worse_sides(
    rear: Rear, travel: float, loads: Loads, points: Points, riding: Sequence[str]
) -> np.ndarray:
    """To which side each coordinate of the hardpoints pulls or pushes the link more, +1 or -1.

    By its slopes where the wheel is at rest: what the loads ask of the link and what the bar gives it meet at another
    travel. On a stop the bar alone counts.
    """
    stroke = float(rear.entry.travel)

    def asked(one: Rear, travel: float) -> float:
        now = one.at(travel)
        there = places(one, now, {**points, **one.drawn}, riding)
        alone = Load(one.entry.pick_up, -np.asarray(now.motion.link), NONE, "link")
        return -_turn(one, loads(there), there) / _turn(one, [alone], there)

    def given(one: Rear, travel: float) -> float:
        return float(one.at(travel).link_force)

    own = given(rear, travel)
    bar = np.array([given(one, travel) - own for one in rear.each_off])
    gain = bar
    if len(bar) and 0.0 < travel < stroke:
        step = SLOPE * stroke * (1.0 if travel < 0.5 * stroke else -1.0)
        here = asked(rear, travel)
        load = np.array([asked(one, travel) - here for one in rear.each_off])
        rises = (given(rear, travel + step) - own) / step
        grows = (asked(rear, travel + step) - here) / step
        gain = (load * rises - bar * grows) / (rises - grows)
    return np.where(gain * np.sign(own) > 0.0, 1.0, -1.0)


def _pulled(rear: Rear, travel: float) -> float:
    return abs(float(rear.at(travel).link_force))


def _travel(rear: Rear, loads: Loads, points: Points, riding: Sequence[str]) -> float:
    """Travel [mm] at which the loads balance the bar, or that of the stop that they drive the wheel onto."""
    stroke = float(rear.entry.travel)

    def over(travel: float) -> float:
        """By how much the loads lift the wheel more than the bar holds it down [N]."""
        now = rear.at(travel)
        there = places(rear, now, points, riding)
        lever = float(rear.end.linkage.swing_arm.swept(now.motion.axle)[2])
        return _turn(rear, loads(there), there) / lever - float(now.wheel_force)

    low, high = over(0.0), over(stroke)
    return 0.0 if low <= 0.0 else stroke if high >= 0.0 else _root(over, stroke, low, high)


def _root(over: Callable[[float], float], stroke: float, low: float, high: float) -> float:
    """Where a falling function is nil [mm]: by the chord, an end that stays halved."""
    a, b, side = 0.0, stroke, 0
    for _ in range(STEPS):
        at = (a * high - b * low) / (high - low)
        now = over(at)
        if abs(now) <= NEAR * abs(low - high) or b - a <= NEAR * stroke:
            break
        if now > 0.0:
            a, low = at, now
            high *= 0.5 if side == 1 else 1.0
            side = 1
        else:
            b, high = at, now
            low *= 0.5 if side == -1 else 1.0
            side = -1
    return at


def standing(
    rear: Rear,
    now: Response,
    loads: Loads,
    points: Points,
    riding: Sequence[str] = (),
    by_ground: bool = False,
) -> Swung:
    """A case with the wheel at a given travel; a stop, or the ground under the wheel, takes what the bar does not.

    Args:
        rear: the rear end.
        now: what it does at that travel.
        loads: as for `settled`.
        points: places of all hardpoints as drawn [mm].
        riding: as for `settled`.
        by_ground: True where the ground holds the wheel there, as against the damper.

    Returns:
        Everything at that position.

    Raises:
        StopError: a stop is needed and not stated.
    """
    travel = float(now.motion.travel)
    there = places(rear, now, points, riding)
    given = list(loads(there))
    link = _link(rear, now)
    left = _turn(rear, [*given, link], there)
    note, stop = "", 0.0
    if abs(left) > SLIGHT * max(abs(float(now.torque)), 1.0):
        one = _ground(rear, left, there) if by_ground else _stop(rear, left, there, travel)
        given.append(one)
        if not by_ground:
            stop = float(np.linalg.norm(one.force))
            note = f"{stop:.0f} N go through the {one.by}"
    return Swung(travel, there, *_all(rear, now, [*given, link], there), note, stop)


def places(
    rear: Rear, now: Response, points: Points, riding: Sequence[str]
) -> dict[str, np.ndarray]:
    """Places of all hardpoints with the wheel at a position [mm]."""
    arm = rear.end.linkage.swing_arm
    moved = {
        name: arm.turned(points[name], now.motion.swing) for name in (*riding, *stop_on_arm(rear))
    }
    return {**points, **moved, **rear.moved(now)}


def stop_on_arm(rear: Rear) -> tuple[str, ...]:
    """The hardpoint of the stops on the swing arm; none where neither stops nor damper are stated."""
    one = rear.entry.stops or rear.entry.damper
    return () if one is None else (one.on_swing_arm,)


def _turn(rear: Rear, loads: Sequence[Load], there: Points) -> float:
    """Moment of loads about the pivot's axis [N*mm]."""
    line = rear.end.linkage.swing_arm
    at = np.asarray(line.point, float)
    moment = sum((np.cross(there[one.point] - at, one.force) + one.moment for one in loads), NONE)
    return float(moment @ line.unit)


def _link(rear: Rear, now: Response) -> Load:
    pull = float(now.link_force) * np.asarray(now.motion.link)
    return Load(rear.entry.pick_up, -pull, NONE, "link")


def _ground(rear: Rear, left: float, there: Points) -> Load:
    axle = rear.entry.axle
    lever = float(rear.end.linkage.swing_arm.swept(there[axle])[2])
    return Load(axle, -left / lever * np.asarray(UP), NONE, WHEEL)


def _stop(rear: Rear, left: float, there: Points, travel: float) -> Load:
    """The bump stop or the stop at full droop, along the line between its two hardpoints."""
    low = travel < 0.5 * float(rear.entry.travel)
    said = "stop at full droop" if low else "bump stop"
    one = rear.entry.stops or rear.entry.damper
    if one is None:
        raise StopError(
            f"the loads drive the wheel onto its {said}, and the build does not say where that acts; state "
            "`stops: {on_frame: ..., on_swing_arm: ...}` under `rear_end:`"
        )
    at = there[one.on_swing_arm]
    way = at - there[one.on_frame]
    along = way / np.linalg.norm(way)
    line = rear.end.linkage.swing_arm
    lever = float(np.cross(at - np.asarray(line.point, float), along) @ line.unit)
    return Load(one.on_swing_arm, -left / lever * along, NONE, said)


def _all(
    rear: Rear, now: Response, loads: Sequence[Load], there: Points
) -> tuple[tuple[Held, ...], tuple[Balance, ...]]:
    """What acts on every body, and the balances of swing arm, link, arm and bar."""
    entry, line = rear.entry, rear.end.linkage.swing_arm
    pivot = np.asarray(line.point, float)
    force = sum((one.force for one in loads), NONE)
    moment = sum(
        (np.cross(there[one.point] - pivot, one.force) + one.moment for one in loads), NONE
    )
    square = moment - (moment @ line.unit) * line.unit
    bearing = Load(entry.pivot, -force, -square, "pivot bearings")
    on_arm = [*loads, bearing]
    acting = [Acting(there[one.point], one.force, one.moment, by=one.by) for one in on_arm]
    others = free_bodies(rear.end, now)[1:]
    held = [Held(SWING_ARM, *one) for one in on_arm]
    held += [one for one in rear.held(now)[0] if one.body not in (SWING_ARM, FRAME)]
    held.append(Held(FRAME, entry.pivot, force, square, SWING_ARM))
    for one in loads:
        stops = entry.stops or entry.damper
        if stops is not None and one.by in ("bump stop", "stop at full droop"):
            held.append(Held(FRAME, stops.on_frame, -one.force, NONE, one.by))
    held.append(_on_frame_of_bar(rear, now, there))
    return tuple(held), (balance(SWING_ARM, acting), *others)


def _on_frame_of_bar(rear: Rear, now: Response, there: Points) -> Held:
    """What the hub's bearings and the bar's anchor do to the frame, at the point that names the bar."""
    pull = float(now.link_force) * np.asarray(now.motion.link)
    beside = np.asarray(now.motion.arm_end) - there[rear.entry.bar_line]
    return Held(FRAME, rear.entry.bar_line, pull, np.cross(beside, pull), "arm and bar")
