"""A case on the swing arm with the link set, and its hardpoints off by their tolerance, where its parts bear most."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np

from parts.vehicle.loads.swung import (
    NONE,
    Load,
    Loads,
    Points,
    Swung,
    length_of,
    line_of_stop,
    link_on_arm,
    places,
    standing,
    stops_of,
    travels,
    turning,
)
from parts.vehicle.rear_end.rear import Rear

SLOPE = 0.01
"""Travel over the stroke by which slopes are taken [-]."""
NOTHING: Mapping[str, Any] = {}


def settled_at_worst(
    rear: Rear,
    loads: Loads,
    points: Points,
    riding: Sequence[str] = (),
    within: Mapping[str, float] = NOTHING,
) -> tuple[Swung, ...]:
    """A case as `settled` gives it, with link and hardpoints where the link is pulled or pushed hardest.

    Where a stop bears more with link and hardpoints otherwise, that comes with it.

    Args:
        rear: the rear end.
        loads, points, riding: as for `settled`.
        within: tolerance of the hardpoints beside those of the rear end that loads and stops act at [mm].

    Returns:
        One, or that of the link and that of the stop.

    Raises:
        StopError: as `settled`.
    """
    stroke = float(rear.entry.travel)
    travel = float(travels(rear, length_of(rear), loads, points, riding)[0])
    signs = _for_link(rear, travel, loads, points, riding, within)
    found = [_Set(rear, travel, points, "")]
    found += _set_to(rear, signs, loads, points, riding, within)
    of_link = _stands(max(found, key=lambda one: _pulled(one.rear, one.travel)), loads, riding)
    stopped = [
        _stands(one, loads, riding)
        for end in sorted({0.0, stroke} & {one.travel for one in found})
        for one in _set_to(rear, _for_stop(rear, end, loads, points, riding, within), loads, points, riding, within)
        if one.travel == end
    ]  # fmt: skip
    of_stop = max([of_link, *stopped], key=lambda one: one.stop)
    return (of_link,) if of_stop is of_link else (of_link, of_stop)


class _Set(NamedTuple):
    """A rear end as it is set, where the wheel goes [mm], places as drawn then, and what is to be said of it."""

    rear: Rear
    travel: float
    points: Points
    said: str


def _set_to(
    rear: Rear, signs: np.ndarray, loads: Loads, points: Points, riding: Sequence[str], within: Mapping[str, float]
) -> list[_Set]:  # fmt: skip
    """The rear end with its link set to each of its lengths, each coordinate off by its tolerance to these sides: those
    of `each_off` first, then those of the other hardpoints."""
    own = len(signs) - 3 * len(within)
    aside = _set_off(points, within, signs[own:])
    others = [*rear.set_otherwise(signs[:own])]
    there = {**points, **others[0][0].drawn, **aside}
    lengths = np.concatenate([length_of(other) for other, _ in others])
    goes = map(float, travels(others[0][0], lengths, loads, there, riding))
    off = "points to the worse side" if len(signs) else ""
    return [
        _Set(other, at, there, "; ".join(filter(None, (said, off))))
        for (other, said), at in zip(others, goes, strict=True)
    ]


def _stands(one: _Set, loads: Loads, riding: Sequence[str]) -> Swung:
    found = standing(one.rear, one.rear.at(one.travel), loads, one.points, riding)
    return found._replace(note="; ".join(filter(None, (one.said, found.note))))


def _for_link(
    rear: Rear, travel: float, loads: Loads, points: Points, riding: Sequence[str], within: Mapping[str, float]
) -> np.ndarray:  # fmt: skip
    """To which side each coordinate of the hardpoints pulls or pushes the link more, +1 or -1.

    By its slopes where the wheel is at rest: what the loads ask of the link and what the bar gives it meet at another
    travel. On a stop the bar alone counts.
    """
    stroke, each = float(rear.entry.travel), rear.each_off

    def asked(one: Rear, travel: float, beside: Points = NOTHING) -> np.ndarray:
        motion = one.at(travel).motion
        there = places(one, motion, {**points, **one.drawn, **beside}, riding)
        alone = Load(one.entry.pick_up, -np.asarray(motion.link), NONE, "link")
        return np.asarray(-turning(one, loads(there), there) / turning(one, [alone], there))

    def given(one: Rear, travel: float) -> np.ndarray:
        return np.asarray(one.at(travel).link_force)

    own = given(rear, travel)
    others = np.zeros(3 * len(within))
    bar = np.concatenate([[] if each is None else given(each, travel) - own, others])
    gain = bar
    if 0.0 < travel < stroke and len(bar):
        step = SLOPE * stroke * (1.0 if travel < 0.5 * stroke else -1.0)
        here = asked(rear, travel)
        rises = (given(rear, travel + step) - own) / step
        grows = (asked(rear, travel + step) - here) / step
        by_own = [] if each is None else asked(each, travel) - here
        by_others = others + asked(rear, travel, _each_off(points, within)) - here
        gain = (np.concatenate([by_own, by_others]) * rises - bar * grows) / (rises - grows)
    return np.where(gain * np.sign(own) > 0.0, 1.0, -1.0)


def _for_stop(
    rear: Rear, travel: float, loads: Loads, points: Points, riding: Sequence[str], within: Mapping[str, float]
) -> np.ndarray:  # fmt: skip
    """To which side each coordinate lets the stop at this travel bear more, +1 or -1; as `_for_link`."""
    each, others = rear.each_off, np.zeros(3 * len(within))
    if stops_of(rear) is None:
        return np.ones(len(others) + (0 if each is None else len(each.at(travel).link_force)))

    def borne(one: Rear, beside: Points = NOTHING) -> np.ndarray:
        now = one.at(travel)
        there = places(one, now.motion, {**points, **one.drawn, **beside}, riding)
        turn = turning(one, [*loads(there), link_on_arm(one, now)], there)
        return np.asarray(np.abs(turn / line_of_stop(one, there)[1]))

    still = borne(rear)
    by_own = [] if each is None else borne(each) - still
    more = np.concatenate([by_own, others + borne(rear, _each_off(points, within)) - still])
    return np.where(more > 0.0, 1.0, -1.0)


def worst_for_stop(
    rear: Rear, travel: float, loads: Loads, points: Points, within: Mapping[str, float]
) -> dict[str, np.ndarray]:  # fmt: skip
    """Places of the hardpoints beside those of the rear end [mm], each coordinate off to the side where the stop at a
    travel [mm] bears more; arguments as for `settled_at_worst`."""
    signs = _for_stop(rear, travel, loads, points, (), within)
    return _set_off(points, within, signs[len(signs) - 3 * len(within) :])


def _set_off(
    points: Points, within: Mapping[str, float], signs: np.ndarray
) -> dict[str, np.ndarray]:
    """Places of hardpoints [mm], all coordinates off by their tolerance to these sides."""
    return {
        name: np.asarray(points[name], float) + size * signs[3 * i : 3 * i + 3]
        for i, (name, size) in enumerate(within.items())
    }


def _each_off(points: Points, within: Mapping[str, float]) -> dict[str, np.ndarray]:
    """Places of hardpoints [mm], one coordinate of one of them off by its tolerance in each row."""
    count = 3 * len(within)
    found = {name: np.tile(np.asarray(points[name], float), (count, 1)) for name in within}
    for i, (name, size) in enumerate(within.items()):
        found[name][3 * i : 3 * i + 3] += size * np.eye(3)
    return found


def _pulled(rear: Rear, travel: float) -> float:
    return abs(float(rear.at(travel).link_force))
