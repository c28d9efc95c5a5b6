"""The arm between a hub and its end: its dimensions, and the rules that they must meet."""

from __future__ import annotations

from pydantic import Field

from parts.core.group import Group
from parts.inputs.quantities import Length, NonNegativeLength, PositiveLength

LEAST_FLOOR = 2.0
"""Thinnest floor of a pocket that does not chatter or drum [mm]; common practice, no source."""
LEAST_FLANGE = 3.0
"""Thinnest flange beside a pocket [mm]; common practice, no source."""
DEEPEST_POCKET = 5.0
"""Depth of a pocket in radii of its corners that a cutter still reaches [-]; common practice, no source."""


class Pocket(Group):
    """Pockets milled from both faces, which leave the arm an I."""

    floor: PositiveLength = Field(description="Thickness of the floor left between the pockets.")
    flange: PositiveLength = Field(
        description="Width of the flange left along each side of the arm."
    )
    corner: PositiveLength = Field(6.0, description="Corner radius: that of the cutter.")
    hub_end: PositiveLength = Field(
        description="Solid length left between the hub and the pockets."
    )
    far_end: PositiveLength = Field(
        description="Solid length left between the pockets and the eye or block."
    )


class Arm(Group):
    """The arm between hub and end: its width lies in the plane of its travel, its thickness along the bar."""

    length: PositiveLength = Field(
        description="Centre of the bar to the centre of the end, square to the bar."
    )
    width: PositiveLength = Field(description="Width in the plane of travel, at the hub's rim.")
    end_width: PositiveLength | None = Field(
        None, description="Width at the end's rim or block; as at the hub where left out."
    )
    thickness: PositiveLength = Field(description="Thickness along the bar, at the hub's rim.")
    end_thickness: PositiveLength | None = Field(
        None, description="Thickness at the end's rim or block; as at the hub where left out."
    )
    crank: Length = Field(
        0.0, description="Sideways offset of the end from the middle of the hub, along the bar."
    )
    root_fillet: NonNegativeLength = Field(
        10.0, description="Fillet between the arm's sides and the hub; 0 leaves it sharp."
    )
    end_fillet: NonNegativeLength = Field(
        5.0, description="Fillet between the arm's sides and the eye or block; 0 leaves it sharp."
    )
    pocket: Pocket | None = Field(
        None, description="Pockets from both faces that leave an I; a plain arm where left out."
    )
