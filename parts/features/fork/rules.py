"""Rules of a pair of ears: metal about the pin, throat, and edge breaks."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from parts.core.rules import Rule, at_least, at_most, none_or_at_least
from parts.features.fork.ears import EarPair
from parts.features.pins.pin import BushedHole, TappedHole
from parts.features.thread import threaded

LEAST_EDGE = 1.0
LEAST_WALL = 0.25
LEAST_CORNER = 0.4
FINEST = 0.05
"""Smallest chamfer or fillet that is made at all [mm]; common practice, no source."""
TAPPED_ENGAGEMENT = 0.8


def eye_rules(ears: EarPair, field: str) -> Iterator[Rule]:
    """Rules of the metal about the pin."""
    bore, hole = ears.pin.bore, ears.pin.hole
    yield at_least(
        "ears.edge", f"{field}.width" if ears.nose == "round" else f"{field}.edge", ears.end,
        LEAST_EDGE * bore,
        "the pin would tear out through the nose (edge distance of one bore: common practice, no source)",
        "move the end of the nose out, or choose a smaller pin",
    )  # fmt: skip
    yield at_least(
        "ears.wall", f"{field}.width", (ears.width - bore) / 2.0, np.maximum(LEAST_WALL * bore, 1.5),
        "too little metal stands beside the bore (a quarter of the bore: common practice, no source)",
        "make the ears wider, or choose a smaller pin or bush",
    )  # fmt: skip
    yield at_least(
        "ears.thin", f"{field}.thickness", ears.thickness, np.maximum(0.2 * bore, 1.5),
        "an ear this thin bends and its bore wallows (a fifth of the bore: common practice, no source)",
        "make the ears thicker",
    )  # fmt: skip
    if isinstance(hole, BushedHole):
        yield at_least(
            "ears.bush", f"{field}.thickness", ears.thickness, (hole.outside - ears.pin.diameter) / 2.0,
            "the ear is thinner than the wall of its bush", "make the ears thicker, or the bush thinner",
        )  # fmt: skip
    if isinstance(hole, TappedHole):
        yield threaded.engagement_rule(
            f"{field}.thickness", ears.thickness, hole.thread, TAPPED_ENGAGEMENT
        )


def throat_rules(ears: EarPair, field: str) -> Iterator[Rule]:
    """Rules of the throat, its corners and its floor."""
    hole, r = ears.pin.bore / 2.0, ears.radius
    yield at_most(
        "ears.large", f"{field}.depth", ears.depth, 400.0,
        "no clevis of a one-off vehicle is this long; it looks "
        "like the wrong unit", "check the unit of this value",
    )  # fmt: skip
    yield at_least(
        "ears.sharp", f"{field}.corner", r, LEAST_CORNER,
        "a root this sharp starts a crack, and no cutter leaves it (common practice, no source)",
        "give the corners of the throat a radius",
    )  # fmt: skip
    yield at_most(
        "ears.corner", f"{field}.corner", r, ears.throat.width / 2.0,
        "the two corner radii would meet", "lessen the radius, or ask for a full-radius floor",
    )  # fmt: skip
    yield at_least(
        "ears.depth", f"{field}.depth", ears.depth, ears.throat.reach + r + 0.5,
        "what sits in the throat would touch its floor or the corner radii",
        "deepen the throat, or lessen the corner radius",
    )  # fmt: skip
    yield at_least(
        "ears.root", f"{field}.depth", ears.depth, 1.1 * hole + r + 1.0,
        "the corner radius would run into the bore", "deepen the throat, or lessen the corner radius",
    )  # fmt: skip
    yield at_least(
        "ears.floor", f"{field}.floor_thickness", ears.floor_thickness, 0.8 * ears.thickness,
        "the floor is weaker than the ears that it carries (common practice, no source)",
        "make the floor at least 0.8 of an ear's thickness",
    )  # fmt: skip


def break_rules(ears: EarPair, field: str, edge_break: Any) -> Iterator[Rule]:
    """Rules of the chamfers on the ears' edges."""
    yield none_or_at_least(
        "ears.fine_break", field, edge_break, FINEST, "no shop makes a chamfer this fine",
        "enlarge the edge break, or state 0 for sharp edges",
    )  # fmt: skip
    room = np.minimum(ears.thickness, ears.floor_thickness) / 4.0
    room = np.minimum(room, (ears.width - ears.pin.bore) / 8.0)
    yield at_most(
        "ears.break", field, edge_break, room, "the chamfers would eat the faces of the ears",
        "lessen the edge break to a quarter of the ear's thickness and of the wall beside the bore",
    )  # fmt: skip
    yield from ears.corner_rules(field, edge_break)
