"""How an arm on a torsion bar is held by the bar and loaded at its end: what its proof needs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from parts.core.loads import Action
from parts.core.supports import Applied, Flat, Held, Rectangle, Support
from parts.families.torsion_arm.flats_bore import FlatsBore
from parts.families.torsion_arm.hub import Hub
from parts.features.bar_bore.clamp_bore import ClampBore
from parts.features.bar_bore.spline_bore import TEETH

Z = (0.0, 0.0, 1.0)
FLATS = (
    "the bar presses half of each flat, the harder the farther from its middle, and carries the torque alone; weak "
    "springs on the hub's faces hold the rest, as the bearing beside it does"
)
APART = 0.5
"""From the corners' reliefs and the lead-in to the springs on the hub's faces [mm]: circles that touch part no face."""
WEAK = 50.0
"""Depth of the springs that hold a hub with flats, in diameters of its bore [-]: they let its corners open."""


def arm_held(
    hub: Hub, turns: float, loads: tuple[Applied, ...], spans: Sequence[str], *, slender: bool
) -> Held:
    """An arm under one load case.

    Args:
        hub: its hub.
        turns: moment of the loads about the bar [N*mm].
        loads: what acts at its end.
        spans: names of the spans from hub to end.
        slender: whether the arm is so thin that the first buckling factor is asked for.

    Returns:
        How it is held and loaded.
    """
    one, bore = Held("part", (), loads, tuple(spans), slender=slender), hub.bore
    if isinstance(bore, FlatsBore):
        return _on_flats(hub, bore, turns, one)
    half = float(hub.width) / 2.0
    if isinstance(bore, ClampBore):
        (wall,) = bore.plain(2.0 * half)
        return replace(one, supports=(Support("bar", (wall,), wall.diameter / 2.0),))
    wall, cutter = bore.plain(2.0 * half)
    held = (Support("bar", (wall,), wall.diameter / 2.0),)
    return replace(one, supports=held, bored=(cutter,), notes=(TEETH,))


def _on_flats(hub: Hub, bore: FlatsBore, turns: float, one: Held) -> Held:
    """An arm whose bar presses the flats of its hub."""
    half, d = float(hub.width) / 2.0, float(bore.bore)
    inner = _widest(bore) / 2.0 + APART
    outer = (inner + float(hub.diameter) / 2.0) / 2.0
    faces = tuple(Flat((0.0, 0.0, z), Z, outer, inner) for z in (-half, half))
    flat, side = d * np.tan(np.pi / bore.sides), 1.0 if turns > 0.0 else -1.0
    pressed = []
    for k in range(bore.sides):
        turn = float(bore.clocking) + 2.0 * np.pi * k / bore.sides
        out, along = _way(turn), _way(turn + np.pi / 2.0)
        centre = d / 2.0 * out + side * flat / 4.0 * along
        pressed.append(Rectangle(centre, -out, Z, 2.0 * half, flat / 2.0))
    bar = Action(np.zeros(3), np.zeros(3), np.array([0.0, 0.0, -turns]))
    return replace(
        one,
        supports=(Support("bearing beside the hub", faces, WEAK * d),),
        path=(),  # the corners that the bar opens give as much again as the arm bends
        applied=(*one.applied, Applied("bar", tuple(pressed), (bar,), "flats")),
        notes=(FLATS,),
    )


def _way(turn: float) -> np.ndarray:
    return np.array([np.cos(turn), np.sin(turn), 0.0])


def _widest(bore: FlatsBore) -> float:
    """Largest diameter of a bore with flats, lead-in and all [mm]: past it nothing narrow is left."""
    return float(np.maximum(bore.largest, bore.bore + 2.0 * bore.lead_in))
