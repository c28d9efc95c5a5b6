"""The boss that a footpeg is bolted to."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from parts.features.fixture import Boss
from parts.features.posts import ScrewPost


class TappedPeg(ScrewPost):
    """A boss tapped for the bolt that clamps the peg's shoulder."""

    type: Literal["tapped"] = Field(  # type: ignore[assignment]
        "tapped", description="A boss tapped for the bolt that clamps the peg's shoulder."
    )
    boss: Boss = Field(description="The boss.")  # type: ignore[assignment]


Peg = TappedPeg
