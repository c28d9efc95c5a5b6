"""What the tools at hand ask of a piece: its holes, their seats and points, and what cutters go into."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from parts.core.drawing import Hole
from parts.core.rules import Rule, at_least
from parts.making.process.bored import NEAR, Bored
from parts.making.process.holes import POINT, SKIN, is_flat, tool_rules
from parts.making.process.milled import cutter_rules
from parts.making.process.ways import Seen

if TYPE_CHECKING:
    from parts.making.process.plan import Plan


def rules_of(plan: Plan) -> Iterator[Rule]:
    """Every rule that the tools at hand set for a piece.

    Args:
        plan: how it is made.
    """
    seen = Seen(plan.solid)
    for one in plan.bored:
        yield from tool_rules(one.hole, plan.drawer, plan.part.milling.beyond_thread)
        yield from _point_rules(plan, one)
        yield from _seat_rules(seen, one.hole)
    for each in plan.clamped:
        for feature in each.features:
            yield from cutter_rules(feature, plan.drawer)


def _point_rules(plan: Plan, one: Bored) -> Iterator[Rule]:
    """A drill's point that ends in metal stays in metal."""
    hole = one.hole
    if hole.depth is None or is_flat(hole) or hole.one_wall:
        return
    place, axis = np.asarray(hole.place, float), np.asarray(hole.axis, float)
    bottom = place + axis * (float(hole.depth) + NEAR)
    if not plan.solid.holds(bottom):
        return
    tip = float(hole.depth) + POINT * float(hole.diameter)
    steps = np.arange(tip, tip + SKIN + 0.25, 0.25)
    left = next((float(d) - tip for d in steps if not plan.solid.holds(place + axis * d)), SKIN)
    yield at_least(
        "process.point", f"hole {hole.name}", left if plan.solid.holds(place + axis * tip) else 0.0, SKIN,
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
