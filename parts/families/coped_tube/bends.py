"""Bends of a tube: how each is stated, what is asked of it, and the table that a bender is set by."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.core.rules import Rule, at_least, at_most
from parts.families.coped_tube.axis import Turn
from parts.inputs.document import dotted
from parts.inputs.quantities import Angle, PositiveLength
from parts.standards.materials.materials import Material

TIGHTEST = {"aluminium": 3.0, "titanium": 3.0, "magnesium": 4.0}
"""Least radius of a cold bend over the diameter [-], 2 of steel; common practice, no source."""
MANDREL = 3.0
"""Radius over the diameter below which a thin tube is bent on a mandrel [-]; common practice, no source."""


class Bend(Group):
    """One bend of a tube."""

    after: PositiveLength = Field(
        description="Straight length before it: from the point of end a, or from where the bend before it ends."
    )
    angle: Angle = Field(description="Angle by which it turns the tube.")
    radius: PositiveLength = Field(description="Radius of its centre line.")
    turn: Angle = Field(
        0.0,
        description="How far its plane is turned from that of the bend before, right-handed as seen along the tube; "
        "of the first from y toward z of the part.",
    )


def turns(bends: Sequence[Bend]) -> list[Turn]:
    """The bends, each with where round the tube it turns to."""
    to: Any = 0.0
    found = []
    for one in bends:
        to = to + one.turn
        found.append(Turn(one.after, one.angle, to, one.radius))
    return found


def least_radius(metal: Material, outside: Any) -> Any:
    """The least radius that a metal is bent to cold [mm]."""
    return TIGHTEST.get(metal.family, 2.0) * np.asarray(outside, float)


def bend_rules(bends: Sequence[Bend], metal: Material, outside: Any) -> Iterator[Rule]:
    """What is asked of bends of a tube of that diameter [mm]."""
    for k, one in enumerate(bends):
        field = dotted(("bends", k))
        yield at_least("bend.radius", f"{field}.radius", one.radius, least_radius(metal, outside),
            f"so tight a bend buckles or splits {metal.name} (common practice, no source)",
            "take a larger radius")  # fmt: skip
        yield at_least("bend.angle", f"{field}.angle", one.angle, np.radians(1.0), "a bend turns the tube",
            "give its angle, or leave the bend out", "deg")  # fmt: skip
        yield at_most("bend.round", f"{field}.angle", one.angle, np.radians(180.0),
            "a bender turns no further in one go (common practice, no source)", "make two of it", "deg")  # fmt: skip
        if k:
            yield at_least("bend.clamp", f"{field}.after", one.after, outside,
                "the clamp finds no straight to hold (one diameter: common practice, no source)",
                "leave more between the bends, or make them one")  # fmt: skip


class Row(NamedTuple):
    """A line of the bend table: lengths in mm, angles in degrees."""

    straight: float
    start: float
    turned: float
    angle: float
    machine: float
    radius: float
    arc: float


def bend_table(bends: Sequence[Bend], short: float, springback: float | None) -> list[Row]:
    """The bends as a bender is set.

    Args:
        bends: the bends.
        short: what the end of the blank lies off the point of end a [mm].
        springback: the shop's own: angle that stays over angle on the machine; None where it said none.

    Returns:
        Of each: the straight before it, its start from the end of the blank, how far the tube is turned from the bend
        before, its angle, that on the machine, its radius and the length of its arc.
    """
    found: list[Row] = []
    at = -short
    for one in bends:
        angle, start = float(one.angle), at + float(one.after)
        arc = float(one.radius) * angle
        straight = float(one.after) - (short if not found else 0.0)
        turned, degrees = float(np.degrees(one.turn)), float(np.degrees(angle))
        machine = degrees / (1.0 if springback is None else springback)
        found.append(Row(straight, start, turned, degrees, machine, float(one.radius), arc))
        at = start + arc
    return found


def bend_lines(rows: Sequence[Row], last: float, springback: float | None) -> tuple[str, ...]:
    """The table in words, line by line; `last` is the straight behind the last bend [mm]."""
    found = []
    for k, row in enumerate(rows, 1):
        set_to = "" if springback is None else f", machine to {row.machine:.1f}°"
        rolled = f"turn the tube {row.turned:.1f}°, " if k > 1 or row.turned else ""
        found.append(
            f"Bend {k}: {rolled}begin {row.start:.1f} from the end of the blank (straight {row.straight:.1f}), "
            f"{row.angle:.1f}°{set_to}, radius {row.radius:.1f}, arc {row.arc:.1f}."
        )
    return (*found, f"Straight behind the last bend: {last:.1f}.")
