"""The tube that a frame tab stands on, and the bend of a tab."""

from __future__ import annotations

from typing import Any, Literal

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.inputs.designations import BoxName, TubeName
from parts.inputs.quantities import Angle, PositiveLength


class RoundTube(Group):
    """A round tube."""

    type: Literal["round"] = Field("round", description="A round tube.")
    tube: TubeName = Field(description="The tube by outside diameter and wall.")

    @property
    def depth(self) -> Any:
        """From the axis to the wall under the tab [mm]."""
        return self.tube.width_mm / 2.0

    @property
    def wall(self) -> tuple[Any, Any, bool]:
        """Outside width of the wall, its thickness [mm], and whether it is flat."""
        return self.tube.width_mm, self.tube.wall_mm, False

    def rise(self, off: Any) -> Any:
        """From the axis to the wall, off the middle of the tube [mm]."""
        return np.sqrt(np.maximum(np.square(self.depth) - np.square(off), 0.0))


class BoxTube(RoundTube):
    """A square or rectangular tube."""

    type: Literal["rectangular"] = Field("rectangular", description="A square or rectangular tube.")  # type: ignore[assignment]
    tube: BoxName = Field(
        description="The tube by its two sides and its wall, the face under the tab first."
    )

    @property
    def depth(self) -> Any:
        return self.tube.height_mm / 2.0

    @property
    def wall(self) -> tuple[Any, Any, bool]:
        return self.tube.width_mm, self.tube.wall_mm, True

    def rise(self, off: Any) -> Any:
        return self.depth + 0.0 * np.asarray(off, float)


class Bend(Group):
    """A bend across the tab, toward its z."""

    at: PositiveLength = Field(description="Wall of the tube to where the bend begins.")
    angle: Angle = Field(description="Angle that the sheet is bent by.")
    radius: PositiveLength = Field(description="Inside radius of the bend.")
