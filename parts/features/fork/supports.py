"""How a fork is held by its shank and loaded by its pin: what the proof of a clevis needs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.core.loads import Action, resultant
from parts.core.supports import Applied, Flat, Patch, Round, Support
from parts.features.pins.pin import TappedHole

PIN = np.array([0.0, 0.0, 1.0])
FAR = 1e3
"""Beyond every part [mm]."""


def pin_loads(ears: Any, actions: Sequence[Action]) -> tuple[Applied, ...]:
    """What a pin does to both ears: half each, more by a couple, and a push along it on one ear alone.

    Args:
        ears: the group of the ears.
        actions: what acts on the pin, in the axes of the ears.

    Returns:
        One load an ear, bearing on its bore.
    """
    force, moment = resultant(actions, np.zeros(3))
    middle = float(ears.middle)
    couple = np.array([moment[1], -moment[0], 0.0]) / (2.0 * middle)
    found = []
    for side, sign in (("upper", 1.0), ("lower", -1.0)):
        share = force * [0.5, 0.5, 0.0] + sign * couple
        leans = sign * force[2] > 0.0
        share = share + np.array([0.0, 0.0, force[2] if leans else 0.0])
        at = np.array([0.0, 0.0, sign * middle])
        action = Action(at, share, moment * np.array([0.0, 0.0, 0.5]))
        found.append(Applied(f"{side} ear", (ear_bore(ears, sign),), (action,), "bearing"))
    return tuple(found)


def ear_bore(ears: Any, sign: float) -> Round:
    """The bore of one ear."""
    pin = ears.pin
    gap, half = float(ears.throat.width) / 2.0, float(ears.height) / 2.0
    tapped = isinstance(pin.hole, TappedHole) and sign < 0.0
    d = float(pin.hole.thread.minor_internal if tapped else pin.bore)
    low, high = (gap, half) if sign > 0.0 else (-half, -gap)
    return Round(np.zeros(3), PIN, d, low, high)


def shank_support(shank: Any, body: Any) -> tuple[Support, ...]:
    """Where the shank of a clevis is held.

    Args:
        shank: the group of the shank.
        body: the back of the body.

    Returns:
        One support, or one a bolt.
    """
    return _HELD[shank.type](shank, body)


def _behind(body: Any, diameter: Any, low: Any, high: Any) -> Round:
    """A round wall about the shank, between two distances behind the back of the body."""
    at = np.array([-float(body.back), 0.0, 0.0])
    return Round(at, (-1.0, 0.0, 0.0), float(diameter), float(low), float(high))


def _male(shank: Any, body: Any) -> tuple[Support, ...]:
    start = shank.shoulder + shank.run_out()
    wall = _behind(body, shank.thread.major, start, start + shank.engagement)
    return (Support("thread", (wall,), float(shank.thread.major)),)


def _female(shank: Any, body: Any) -> tuple[Support, ...]:
    start = shank.length - shank.depth
    wall = _behind(body, shank.thread.minor_internal, start, start + shank.engagement)
    return (Support("thread", (wall,), float(shank.thread.major)),)


def _spigot(shank: Any, body: Any) -> tuple[Support, ...]:
    start = shank.shoulder
    wall = _behind(body, shank.diameter, start, start + shank.length)
    return (Support("tube", (wall,), float(shank.tube.wall_mm)),)


def _pad(shank: Any, body: Any) -> tuple[Support, ...]:
    c, s = np.cos(float(body.clocking)), np.sin(float(body.clocking))
    d = float(shank.hole)
    washer = float(np.minimum(2.0 * shank.bolts.diameter, 2.0 * shank._edge()))
    found = []
    for i, (y, z) in enumerate(np.asarray(shank.places(), float)):
        at = np.array([-float(body.back + shank.thickness), y * c - z * s, y * s + z * c])
        ring: Patch = Flat(at, (-1.0, 0.0, 0.0), washer / 2.0, d / 2.0)
        found.append(Support(f"bolt {i + 1}", (ring,), float(shank.bolts.diameter)))
    return tuple(found)


def _foot(shank: Any, body: Any) -> tuple[Support, ...]:
    at = np.array([-float(shank.distance), 0.0, 0.0])
    along = np.asarray(shank.axes(body), float)[2]
    cope = Round(at, along, float(shank.tube.width_mm), -FAR, FAR)
    return (Support("weld", (cope,), float(shank.tube.wall_mm)),)


_HELD = {
    "male thread": _male,
    "female thread": _female,
    "spigot": _spigot,
    "pad": _pad,
    "foot": _foot,
}
