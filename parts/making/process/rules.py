"""What the tools at hand ask of a piece: its holes, their seats and points, and what cutters go into."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from parts.core.drawing import Hole
from parts.core.rules import Rule, at_least
from parts.making.process.bored import NEAR, Bored
from parts.making.process.faces import Solid
from parts.making.process.holes import POINT, SKIN, is_flat, tool_rules
from parts.making.process.milled import Feature, cutter_rules
from parts.making.process.tools import Drawer
from parts.making.process.ways import Seen


def rules_of(
    solid: Solid,
    bored: Sequence[Bored],
    features: Iterable[Feature],
    drawer: Drawer,
    beyond_thread: float,
) -> Iterator[Rule]:
    """Every rule that the tools at hand set for a piece.

    Args:
        solid: the piece.
        bored: its holes.
        features: what is milled of it.
        drawer: the tools at hand.
        beyond_thread: what a tap needs beyond a blind thread, in pitches.
    """
    seen = Seen(solid)
    for one in bored:
        yield from tool_rules(one.hole, drawer, beyond_thread)
        yield from _point_rules(solid, one)
        yield from _seat_rules(seen, one.hole)
    for feature in features:
        yield from cutter_rules(feature, drawer)


def _point_rules(solid: Solid, one: Bored) -> Iterator[Rule]:
    """A drill's point that ends in metal stays in metal."""
    hole = one.hole
    if hole.depth is None or is_flat(hole) or hole.one_wall:
        return
    place, axis = np.asarray(hole.place, float), np.asarray(hole.axis, float)
    bottom = place + axis * (float(hole.depth) + NEAR)
    if not solid.holds(bottom):
        return
    tip = float(hole.depth) + POINT * float(hole.diameter)
    steps = np.arange(tip, tip + SKIN + 0.25, 0.25)
    left = next((float(d) - tip for d in steps if not solid.holds(place + axis * d)), SKIN)
    yield at_least(
        "process.point", f"hole {hole.name}", left if solid.holds(place + axis * tip) else 0.0, SKIN,
        "the point of the drill comes out behind the hole", "drill less deep, or leave more metal behind it",
    )  # fmt: skip


def _seat_rules(seen: Seen, hole: Hole) -> Iterator[Rule]:
    """A counterbore's or spotface's cutter comes down beside what stands about it."""
    seat = hole.counterbore
    if seat is None and is_flat(hole):
        seat = (float(hole.diameter), float(hole.depth or 0.0))
    if seat is None:
        return
    wide, down = seat
    axis = np.asarray(hole.axis, float)
    place = np.asarray(hole.place, float) + down * axis
    free = seen.free_above(place, -axis, 0.499 * float(wide), 16)
    yield at_least(
        "process.seat", f"hole {hole.name}", float(free), 1.0,
        f"the cutter of {wide:g} mm for its seat strikes what stands beside it",
        "make the seat smaller, or move the hole", unit="",
    )  # fmt: skip
