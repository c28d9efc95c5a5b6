"""How an arm on a torsion bar is held by the bar and loaded at its end: what its proof needs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.core.loads import Action
from parts.core.supports import Applied, Held, Round, Support, turned
from parts.features.fork.supports import pin_loads

Z = (0.0, 0.0, 1.0)
TEETH = "the teeth of the hub are left out: its bore is plain at their largest diameter"
FLATS = (
    "the flats of the hub are left out: its bore is plain over the corners' reliefs. These elements do not see how the "
    "flats wedge the corners open: the check of the bore's corners stands on its own study of them"
)
CLEAR = 0.01
"""By how much a plain bore clears the teeth that it replaces [mm]."""


def arm_held(
    hub: Any, end: Any, place: np.ndarray, actions: Sequence[Action], spans: Sequence[str]
) -> Held:
    """An arm under one load case.

    Args:
        hub: the group of the hub.
        end: the group of the end.
        place: the load point [mm].
        actions: what acts there.
        spans: names of the spans from hub to end.

    Returns:
        How it is held and loaded.
    """
    half = float(hub.width) / 2.0
    plain = hub.bore.type == "clamp"
    d = float(hub.bore.bore) if plain else _widest(hub.bore) + CLEAR
    wall = Round(np.zeros(3), Z, d, -half, half)
    cutter = Round(np.zeros(3), Z, d, -half - 1.0, half + 1.0)
    return Held(
        "part",
        (Support("bar", (wall,), d / 2.0),),
        _END[end.type](end, np.asarray(place, float), actions),
        dict.fromkeys(spans, 1),
        bored=() if plain else (cutter,),
        notes=() if plain else (TEETH if hub.bore.type == "spline" else FLATS,),
    )


def _widest(bore: Any) -> float:
    """Largest diameter of a bore with teeth or flats, lead-in and all [mm]: past it nothing narrow is left."""
    inner = bore.spline.minor_internal if bore.type == "spline" else bore.bore
    return float(np.maximum(bore.largest, inner + 2.0 * bore.lead_in))


def _eye(end: Any, place: np.ndarray, actions: Sequence[Action]) -> tuple[Applied, ...]:
    half = float(end.width) / 2.0
    bore = Round(place, Z, float(end.bore_diameter), -half, half)
    return (Applied("pin", (bore,), tuple(actions), "bearing"),)


def _fork(end: Any, place: np.ndarray, actions: Sequence[Action]) -> tuple[Applied, ...]:
    own = [Action(np.asarray(one.at) - place, one.force, one.moment) for one in actions]
    return turned(pin_loads(end.ears, own), np.eye(3), place)


def _tapped(end: Any, place: np.ndarray, actions: Sequence[Action]) -> tuple[Applied, ...]:
    mouth, d = float(end.stand_off), float(end.thread.minor_internal)
    deep = float(np.minimum(end.engaged, end.depth))
    wall = Round(place, (-1.0, 0.0, 0.0), d, mouth, mouth + deep)
    return (Applied("rod end", (wall,), tuple(actions)),)


_END = {"eye": _eye, "clevis": _fork, "tapped": _tapped}
