"""How the builder cuts flat blanks: by water or by laser, from which sheet."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from parts.core.group import Group
from parts.inputs.quantities import NonNegativeLength, Point2, PositiveLength

Process = Literal["waterjet", "laser"]


class Cutting(Group):
    """How a flat blank is cut."""

    process: Process = Field("waterjet", description="What cuts the blank.")
    sheet: Point2 = Field((1000.0, 500.0), description="Length and width of the sheet.")
    copies: int = Field(1, ge=1, le=500, description="How many of the part are cut.")
    spacing: PositiveLength = Field(
        5.0, description="Left between the blanks, and to the edge of the sheet."
    )
    pilot_under: NonNegativeLength = Field(
        1.0, description="How much smaller a hole is cut that is drilled, reamed or tapped after."
    )
