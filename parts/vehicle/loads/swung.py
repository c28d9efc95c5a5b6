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
from parts.strength.vectors import cross
from parts.vehicle.file.rear_entries import DamperEntry, StopsEntry
from parts.vehicle.loads.statics import FRAME, Held
from parts.vehicle.rear_end.linkage import UP, dot, unit
from parts.vehicle.rear_end.motion import Motion, motion, moved
from parts.vehicle.rear_end.rear import SWING_ARM, WHEEL, Rear
from parts.vehicle.rear_end.suspension import Response, held_up

NEAR = 1e-9
"""Travel over the stroke at which the wheel counts as settled [-]."""
STEPS = 100
SLIGHT = 1e-7
"""Moment about the pivot, over that of the bar, that no stop is asked for [-]."""
Points = Mapping[str, np.ndarray]


class StopError(ValueError):
    """The wheel is driven onto a stop, and the build does not say where that is."""


class Load(NamedTuple):
    """A force [N] and a moment [N*mm], (..., 3), on the swing arm at a hardpoint, and what it comes from."""

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
    travel = float(travels(rear, length_of(rear), loads, points, riding)[0])
    return standing(rear, rear.at(travel), loads, points, riding)


def length_of(rear: Rear) -> np.ndarray:
    """Length of its link [mm], (1,)."""
    return np.array([float(rear.end.linkage.drawn_length) if rear.length is None else rear.length])


def travels(
    rear: Rear, lengths: np.ndarray, loads: Loads, points: Points, riding: Sequence[str]
) -> np.ndarray:
    """Travel [mm] at which the loads balance the bar, for each length of the link [mm], shape (n,). Where no travel
    does, that of the stop onto which the loads drive the wheel."""
    stroke, linkage = float(rear.entry.travel), rear.end.linkage

    def over(now: Motion) -> np.ndarray:
        """By how much the loads lift the wheel more than the bar holds it down [N]."""
        there = places(rear, now, points, riding)
        lever = linkage.swing_arm.swept(now.axle)[..., 2]
        return np.asarray(turning(rear, loads(there), there) / lever - held_up(rear.end, now))

    low, high = over(motion(linkage, np.array([[0.0], [stroke]]), lengths))
    return _roots(lambda travel: over(moved(linkage, travel, lengths)), stroke, low, high)


def _roots(
    over: Callable[[np.ndarray], np.ndarray], stroke: float, low: np.ndarray, high: np.ndarray
) -> np.ndarray:
    """Where falling functions are nil [mm], (n,): by the chord, an end that stays halved; else the end at which they
    are nearer to it."""
    a, b, side = np.zeros(len(low)), np.full(len(low), stroke), np.zeros(len(low))
    at = np.where(low <= 0.0, a, b)
    done = (low <= 0.0) | (high >= 0.0)
    for _ in range(STEPS):
        if np.all(done):
            break
        at = np.where(done, at, (a * high - b * low) / np.where(done, 1.0, high - low))
        now = over(at)
        done = done | (np.abs(now) <= NEAR * np.abs(low - high)) | (b - a <= NEAR * stroke)
        up = now > 0.0
        half = np.where(side == np.where(up, 1.0, -1.0), 0.5, 1.0)
        a, low, high = (
            np.where(up, at, a),
            np.where(up, now, half * low),
            np.where(up, half * high, now),
        )
        b, side = np.where(up, b, at), np.where(up, 1.0, -1.0)
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
    there = places(rear, now.motion, points, riding)
    given = list(loads(there))
    link = link_on_arm(rear, now)
    left = float(turning(rear, [*given, link], there))
    note, stop = "", 0.0
    if abs(left) > SLIGHT * max(abs(float(now.torque)), 1.0):
        one = _ground(rear, left, there) if by_ground else _stop(rear, left, there, travel)
        given.append(one)
        if not by_ground:
            stop = float(np.linalg.norm(one.force))
            note = f"{stop:.0f} N go through the {one.by}"
    return Swung(travel, there, *_all(rear, now, [*given, link], there), note, stop)


def places(rear: Rear, now: Motion, points: Points, riding: Sequence[str]) -> dict[str, np.ndarray]:
    """Places of all hardpoints with the wheel at positions [mm]; of those that stay where they are, one."""
    own = {name: at for name, at in rear.moved(now).items() if name in rear.drawn}
    named = [name for name in dict.fromkeys((*riding, *stop_on_arm(rear))) if name not in own]
    arm = rear.end.linkage.swing_arm
    turned = {name: arm.turned(points[name], now.swing) for name in named}
    return {**points, **turned, **own}


def stop_on_arm(rear: Rear) -> tuple[str, ...]:
    """The hardpoint of the stops on the swing arm; none where neither stops nor damper are stated."""
    one = stops_of(rear)
    return () if one is None else (one.on_swing_arm,)


def stops_of(rear: Rear) -> StopsEntry | DamperEntry | None:
    return rear.entry.stops or rear.entry.damper


def line_of_stop(rear: Rear, there: Points) -> tuple[np.ndarray, np.ndarray]:
    """The way along which a stop pushes the swing arm [-], and its lever about the pivot's axis [mm]."""
    one, line = stops_of(rear), rear.end.linkage.swing_arm
    assert one is not None
    at = there[one.on_swing_arm]
    along = unit(at - there[one.on_frame])
    return along, dot(cross(at - np.asarray(line.point, float), along), line.unit)


def turning(rear: Rear, loads: Sequence[Load], there: Points) -> np.ndarray:
    """Moment of loads about the pivot's axis [N*mm]."""
    line = rear.end.linkage.swing_arm
    at = np.asarray(line.point, float)
    moment = sum((cross(there[one.point] - at, one.force) + one.moment for one in loads), NONE)
    return dot(moment, line.unit)


def link_on_arm(rear: Rear, now: Response) -> Load:
    pull = np.asarray(now.link_force)[..., None] * np.asarray(now.motion.link)
    return Load(rear.entry.pick_up, -pull, NONE, "link")


def _ground(rear: Rear, left: float, there: Points) -> Load:
    axle = rear.entry.axle
    lever = float(rear.end.linkage.swing_arm.swept(there[axle])[2])
    return Load(axle, -left / lever * np.asarray(UP), NONE, WHEEL)


def _stop(rear: Rear, left: float, there: Points, travel: float) -> Load:
    """The bump stop or the stop at full droop, along the line between its two hardpoints."""
    low = travel < 0.5 * float(rear.entry.travel)
    said = "stop at full droop" if low else "bump stop"
    one = stops_of(rear)
    if one is None:
        raise StopError(
            f"the loads drive the wheel onto its {said}, and the build does not say where that acts; state "
            "`stops: {on_frame: ..., on_swing_arm: ...}` under `rear_end:`"
        )
    along, lever = line_of_stop(rear, there)
    return Load(one.on_swing_arm, -left / lever * along, NONE, said)


def _all(
    rear: Rear, now: Response, loads: Sequence[Load], there: Points
) -> tuple[tuple[Held, ...], tuple[Balance, ...]]:
    """What acts on every body, and the balances of swing arm, link, arm and bar."""
    entry, line = rear.entry, rear.end.linkage.swing_arm
    pivot = np.asarray(line.point, float)
    force = sum((one.force for one in loads), NONE)
    moment = sum((cross(there[one.point] - pivot, one.force) + one.moment for one in loads), NONE)
    square = moment - (moment @ line.unit) * line.unit
    bearing = Load(entry.pivot, -force, -square, "pivot bearings")
    on_arm = [*loads, bearing]
    acting = [Acting(there[one.point], one.force, one.moment, by=one.by) for one in on_arm]
    bodies, (_, *others) = rear.held(now)
    held = [Held(SWING_ARM, *one) for one in on_arm]
    held += [one for one in bodies if one.body not in (SWING_ARM, FRAME)]
    held.append(Held(FRAME, entry.pivot, force, square, SWING_ARM))
    for one in loads:
        stops = stops_of(rear)
        if stops is not None and one.by in ("bump stop", "stop at full droop"):
            held.append(Held(FRAME, stops.on_frame, -one.force, NONE, one.by))
    held += _on_frame_of_bar(rear, now, there)
    return tuple(held), (balance(SWING_ARM, acting), *others)


def _on_frame_of_bar(rear: Rear, now: Response, there: Points) -> list[Held]:
    """What the hub's bearings and the bar's anchor do to the frame: at the point that names the bar, and its torque at
    the anchor's own, where that has one."""
    entry = rear.entry
    pull = float(now.link_force) * np.asarray(now.motion.link)
    moment = cross(np.asarray(now.motion.arm_end) - there[entry.bar_line], pull)
    if entry.anchor is None:
        return [Held(FRAME, entry.bar_line, pull, moment, "arm and bar")]
    axis = np.asarray(rear.end.linkage.torsion_bar.unit, float)
    torque = (moment @ axis) * axis
    return [
        Held(FRAME, entry.bar_line, pull, moment - torque, "arm"),
        Held(FRAME, entry.anchor, NONE, torque, "bar"),
    ]
