"""The shoulder of a bung where a wrench holds it: plain, with two flats, or a hexagon."""

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
        made = nearest_wrench(flats)
        yield at_most(
            "bung.wrench", path, np.abs(flats - made), WRENCH_SLACK, "no wrench is made for these flats",
            f"make them {float(np.ravel(made)[0]):.4g} mm across",
        )  # fmt: skip
        yield at_least(
            "bung.grip", f"{field}.length", self.length, LEAST_FLATS,
            "a wrench needs flats 8 mm long (common practice, no source)", "lengthen the flats",
        )  # fmt: skip


class FlattedShoulder(GrippedShoulder):
    """Two wrench flats on the shoulder, at the outer face."""

    type: Literal["flats"] = Field("flats", description="Two wrench flats at the outer face.")
    across_flats: PositiveLength = Field(description="Distance across the flats.")
    length: PositiveLength = Field(10.0, description="Length of the flats.")

    def rules(self, field: str, thread: Thread, round_: Any) -> Iterator[Rule]:
        yield from super().rules(field, thread, round_)
        yield at_most(
            "bung.flats_wide", f"{field}.across_flats", self.across_flats, 0.95 * round_,
            "flats this far apart cut too little for a wrench to hold", "lessen the distance across flats",
        )  # fmt: skip


class HexShoulder(GrippedShoulder):
    """A hexagon at the outer face, before the round shoulder."""

    type: Literal["hex"] = Field("hex", description="A hexagon at the outer face.")
    across_flats: PositiveLength = Field(description="Width across flats of the hexagon.")
    length: PositiveLength = Field(10.0, description="Length of the hexagon.")


Wrench = Annotated[PlainShoulder | FlattedShoulder | HexShoulder, Field(discriminator="type")]
