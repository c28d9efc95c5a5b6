"""How the builder wants the shop drawing: its sheet, projection, units and general tolerance."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from parts.core.group import Group

Sheet = Literal["A4", "A3", "A2", "letter", "tabloid"]


class Drawing(Group):
    """How the shop drawing is laid out."""

    sheet: Sheet | None = Field(
        None,
        description="Sheet; the smallest of A4, A3 and A2 that shows the part well where left out.",
    )
    projection: Literal["first angle", "third angle"] = Field(
        "third angle", description="Where the views stand about the front view."
    )
    units: Literal["mm", "in", "both"] = Field(
        "mm", description="Units of the dimensions; both writes inches in brackets behind mm."
    )
    tolerance: str = Field(
        "ISO 2768-mK",
        min_length=1,
        max_length=120,
        description="General tolerance: a class of ISO 2768, or your own statement.",
    )
