"""How the builder mills: which geometry leaves for the machine, and what tools stand ready."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from parts.core.group import Group
from parts.inputs.quantities import NonNegativeLength, PositiveLength


class Milling(Group):
    """How a part is milled."""

    geometry: Literal["nominal", "mid-tolerance"] = Field(
        "nominal",
        description="Bores with a fit at their nominal size, or in the middle of their limits.",
    )
    cutter: PositiveLength = Field(
        6.0, description="Smallest end mill at hand, for inside corners."
    )
    reach: float = Field(
        4.0,
        ge=1.0,
        le=20.0,
        description="How deep an end mill cuts, in diameters; common practice.",
    )
    drill_depth: float = Field(
        8.0,
        ge=1.0,
        le=60.0,
        description="How deep a twist drill goes, in diameters; common practice.",
    )
    least_wall: NonNegativeLength = Field(
        1.0, description="Thinnest wall or floor that stands up to the cutter."
    )
    allowance: NonNegativeLength = Field(
        1.5, description="Left on every side of the stock for squaring up."
    )
