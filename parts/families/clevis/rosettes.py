"""Rosette welds: plugs through holes in the wall of a tube."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.core.rules import Rule, at_least, at_most
from parts.inputs.quantities import PositiveLength
from parts.standards.stock.stock import Stock


class Rosettes(Group):
    """Plug welds through holes in the wall of the tube, beside the weld at its end."""

    count: int = Field(2, ge=1, le=8, description="Number of rosette welds round the tube.")
    diameter: PositiveLength = Field(description="Hole in the tube for each rosette.")
    from_end: PositiveLength = Field(description="From the tube's end to the middle of the holes.")

    def rules(self, field: str, tube: Stock, tip: Any) -> Iterator[Rule]:
        """Rules of the holes in a tube whose spigot is cylindrical as far as `tip` from the tube's end [mm]."""
        yield at_least(
            "rosette.small", f"{field}.diameter", self.diameter, tube.wall_mm + 8.0,
            "the hole is too small to be filled (AISC 360-16, J2.3b: wall plus 5/16 in)", "drill larger holes",
        )  # fmt: skip
        yield at_least(
            "rosette.pitch", f"{field}.diameter", np.pi * tube.width_mm / self.count,
            2.0 * self.diameter,
            "the holes take too much of the tube's wall (common practice, no source)",
            "drill fewer or smaller holes",
        )  # fmt: skip
        yield at_least(
            "rosette.end", f"{field}.from_end", self.from_end, 1.5 * self.diameter,
            "the hole runs into the weld at the end (common practice, no source)", "move the holes in",
        )  # fmt: skip
        yield at_most(
            "rosette.tip", f"{field}.from_end", self.from_end,
            tip - self.diameter / 2.0 - 2.0,
            "the rosette would miss the spigot", "move the holes toward the tube's end, or lengthen the spigot",
        )  # fmt: skip
