"""What a wrench holds a link by: the flats of its body, or the shoulder of a bung, plain, flatted or hexagonal."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.core.rules import Rule, at_least, at_most
from parts.inputs.quantities import PositiveLength
from parts.standards.fasteners.wrenches import nearest_wrench
from parts.standards.threads.threads import Thread

LEAST_FLATS = 8.0
"""Length of wrench flats that a spanner can hold [mm]; common practice, no source."""
WRENCH_SLACK = 0.15
"""How far flats may be from a wrench's size [mm]; common practice, no source."""


def wrench_rule(code: str, field: str, flats: Any) -> Rule:
    """A wrench is made for flats so far apart [mm]."""
    made = nearest_wrench(flats)
    return at_most(
        code, field, np.abs(flats - made), WRENCH_SLACK, "no wrench is made for these flats",
        f"make them {float(np.ravel(made)[0]):.4g} mm across",
    )  # fmt: skip


def grip_rule(code: str, field: str, length: Any) -> Rule:
    """Flats are as long as a wrench needs [mm]."""
    return at_least(
        code, field, length, LEAST_FLATS,
        "a wrench needs flats 8 mm long (common practice, no source)", "lengthen the flats",
    )  # fmt: skip


def cut_rule(code: str, field: str, flats: Any, diameter: Any) -> Rule:
    """Flats cut enough off a round bar for a wrench to hold [mm]."""
    return at_most(
        code, field, flats, 0.95 * diameter,
        "flats this far apart cut too little for a wrench to hold", "lessen the distance across flats",
    )  # fmt: skip


class PlainShoulder(Group):
    """A round shoulder, to be held by the tube."""

    type: Literal["plain"] = Field("plain", description="A round shoulder without wrench flats.")


class GrippedShoulder(Group):
    """What the two shoulders with flats share."""

    across_flats: PositiveLength
    length: PositiveLength

    def rules(self, field: str, thread: Thread, round_: Any) -> Iterator[Rule]:
        """Rules of the flats.

        Args:
            field: dotted path of this group.
            thread: the thread in the bung.
            round_: diameter of the round shoulder [mm].

        Returns:
            The rules.
        """
        flats, path = self.across_flats, f"{field}.across_flats"
        yield at_least(
            "bung.flats", path, flats, 1.4 * thread.major,
            "the flats leave too little wall beside the thread (1.4 diameters)", "widen the flats",
        )  # fmt: skip
        yield wrench_rule("bung.wrench", path, flats)
        yield grip_rule("bung.grip", f"{field}.length", self.length)


class FlattedShoulder(GrippedShoulder):
    """Two wrench flats on the shoulder, at the outer face."""

    type: Literal["flats"] = Field("flats", description="Two wrench flats at the outer face.")
    across_flats: PositiveLength = Field(description="Distance across the flats.")
    length: PositiveLength = Field(10.0, description="Length of the flats.")

    def rules(self, field: str, thread: Thread, round_: Any) -> Iterator[Rule]:
        yield from super().rules(field, thread, round_)
        yield cut_rule("bung.flats_wide", f"{field}.across_flats", self.across_flats, round_)


class HexShoulder(GrippedShoulder):
    """A hexagon at the outer face, before the round shoulder."""

    type: Literal["hex"] = Field("hex", description="A hexagon at the outer face.")
    across_flats: PositiveLength = Field(description="Width across flats of the hexagon.")
    length: PositiveLength = Field(10.0, description="Length of the hexagon.")


Wrench = Annotated[PlainShoulder | FlattedShoulder | HexShoulder, Field(discriminator="type")]
