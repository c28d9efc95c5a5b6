"""What a shop would ask about before it mills: deep drills, walls, and metal between holes, each with its place.

Every function takes plain records and gives rules, met or not; the field of a rule is the place.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

import numpy as np

from parts.core.drawing import Hole
from parts.core.rules import Rule, at_least, at_most
from parts.core.shop import Milling
from parts.making.mill.surfaces import Gap

LIGATURE = 0.5
"""Metal between two holes in diameters of the smaller one; common practice, no source."""

OPENS = 0.5
"""A hole up to this share of a bore's diameter may open into it [-]; common practice, no source."""


def place_words(place: Sequence[float] | np.ndarray) -> str:
    """A place as a report names it [mm]."""
    return ", ".join(f"{float(v) + 0.0:.1f}" for v in place)


def gap_rules(gaps: Sequence[Gap], milling: Milling) -> Iterator[Rule]:
    """Walls and floors against what stands up to a cutter."""
    for one in gaps:
        if one.metal:
            yield at_least(
                "mill.wall", f"wall or floor at {place_words(one.place)}", one.width, milling.least_wall,
                "a wall this thin bends away from the cutter",
                "thicken it, or leave it for last with light cuts",
            )  # fmt: skip


def hole_rules(holes: Sequence[Hole], milling: Milling) -> Iterator[Rule]:
    """Drills against their depth, and holes against each other."""
    for hole in holes:
        at = f"hole {hole.name} at {place_words(hole.place)}"
        deep = float(hole.through if hole.depth is None else hole.depth)
        yield at_most(
            "mill.drill", at, deep / float(hole.diameter), milling.drill_depth,
            "a twist drill wanders and packs at this depth",
            "drill from both sides, bore it, or use a gun drill",
            "diameters",
        )  # fmt: skip
    yield from _ligatures(holes)


def _ligatures(holes: Sequence[Hole]) -> Iterator[Rule]:
    for one, other in combinations(holes, 2):
        a, b = np.asarray(one.axis, float), np.asarray(other.axis, float)
        away = np.asarray(other.place, float) - np.asarray(one.place, float)
        off = float(np.linalg.norm(away - (away @ a) * a))
        small, large = sorted((float(one.diameter), float(other.diameter)))
        # A small hole that opens into a bore, as a hinge relief does, is drilled in full metal before it.
        opens = off < (small + large) / 2.0 and small <= OPENS * large
        if abs(float(a @ b)) < 1.0 - 1e-9 or off < 1e-6 or opens:
            continue
        yield at_least(
            "mill.between", f"between holes {one.name} and {other.name} at {place_words(one.place)}",
            off - (small + large) / 2.0, LIGATURE * small,
            "the drill breaks out toward the hole beside it (half a diameter: common practice, no source)",
            "move the holes apart",
        )  # fmt: skip
