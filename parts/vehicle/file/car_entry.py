"""What a build file says of a car, for the loads at one of its corners."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from parts.core.group import Group
from parts.inputs.quantities import PositiveLength, PositiveMass, PositiveRatio


class CarEntry(Group):
    """A car by its basics, and the corner that the build makes."""

    mass: PositiveMass = Field(description="The car with its driver.")
    front_share: float = Field(
        gt=0.0, lt=1.0, description="Share of its weight on the front wheels at rest."
    )
    height: PositiveLength = Field(description="Its centre of mass above the ground.")
    wheelbase: PositiveLength = Field(description="Between the axles.")
    track: PositiveLength = Field(description="Between the wheels of this corner's axle.")
    end: Literal["front", "rear"] = Field("front", description="Which axle the corner is of.")
    side: Literal["left", "right"] = Field("left", description="Which side it is on.")
    contact: str = Field(description="Hardpoint where its tyre stands on the ground.")
    centre: str | None = Field(
        None,
        description="Hardpoint of the wheel's centre, where it is driven: its shaft takes the torque.",
    )
    front_drive: float | None = Field(
        None,
        ge=0.0,
        le=1.0,
        description="Share of the engine's drive on the front wheels: 0 for a car driven behind, 1 in front.",
    )
    differential: Literal["open", "locked"] = Field(
        "open",
        description="Of a driven axle: open gives both wheels as much, locked each by its load.",
    )
    roll_share: float | None = Field(
        None,
        ge=0.0,
        le=1.0,
        description="Share of what a turn shifts from side to side that this axle takes, by its stiffness in roll; "
        "that of the weight where left out.",
    )
    grip: PositiveRatio = Field(
        1.2,
        description="Force of a tyre along the ground over its load; 1.2 is common practice, no source.",
    )
