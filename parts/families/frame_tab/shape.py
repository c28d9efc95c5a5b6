"""A frame tab by its dimensions: where its holes lie, and how it runs from the tube round a bend."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.assembled import Assembled
from parts.families.frame_tab.tube import Bend, BoxTube, RoundTube
from parts.features.pins.pin import Pin, TappedHole
from parts.features.sheet.strip import Strip, Turn
from parts.features.weld.plate_edge import PlateWeld
from parts.inputs.designations import MaterialName, PlateThickness
from parts.inputs.quantities import NonNegativeLength, PositiveLength

Y = np.eye(3)[1]


class TabShape(Assembled):
    """The dimensions of a frame tab."""

    on: Annotated[RoundTube | BoxTube, Field(discriminator="type")] = Field(
        description="The tube that it stands on."
    )
    tube_material: MaterialName | None = Field(
        None, description="Material of the tube; the tab's where left out."
    )
    stands: Literal["along", "across"] = Field(
        "along", description="Whether its width lies along the tube or across it."
    )
    thickness: PlateThickness = Field(
        description="Thickness of the tab, or the plate that it is cut from."
    )
    width: PositiveLength = Field(description="Width of the tab.")
    corner: NonNegativeLength | None = Field(
        None, description="Radius of its outer corners; half its width where left out."
    )
    reach: PositiveLength = Field(
        description="Wall of the tube to the holes, along the middle of the tab round a bend."
    )
    beyond: PositiveLength | None = Field(
        None, description="Holes to the end of the tab; half its width where left out."
    )
    pitch: PositiveLength | None = Field(
        None, description="Between two holes; one hole in the middle where left out."
    )
    bend: Bend | None = Field(None, description="A bend across the tab; straight where left out.")
    beside: PositiveLength | None = Field(
        None, description="Thickness of what the pin holds beside the tab; astride where left out."
    )
    pin: Pin = Field(description="The pin or bolt in each hole, and the hole.")
    weld: PlateWeld = Field(description="The fillets along both faces.")

    def stock_thickness(self) -> Any:
        return self.thickness

    @property
    def end(self) -> Any:
        return self.width / 2.0 if self.beyond is None else self.beyond

    @property
    def rounded(self) -> Any:
        return np.minimum(self.width / 2.0, self.end) if self.corner is None else self.corner

    @property
    def bore(self) -> Any:
        """Diameter of the hole as it is drilled or bored [mm]."""
        hole = self.pin.hole
        return hole.thread.minor_internal if isinstance(hole, TappedHole) else self.pin.bore

    @property
    def _offsets(self) -> tuple[Any, ...]:
        return (0.0,) if self.pitch is None else (self.pitch / 2.0, -self.pitch / 2.0)

    @property
    def holes(self) -> tuple[str, ...]:
        return ("hole",) if self.pitch is None else ("hole 1", "hole 2")

    def way(self, s: Any) -> tuple[Any, Any]:
        """The middle of the tab at a length from the tube's wall, and its direction there, each (..., 3)."""
        place, angle = self.strip.way(s)
        x, z = self.on.depth + place[..., 0], place[..., 1]
        return self._space(x, z), self._space(np.cos(angle), np.sin(angle))

    @property
    def strip(self) -> Strip:
        """How it runs from the wall of the tube round its bend."""
        bend = self.bend
        turns = () if bend is None else (Turn(bend.at, bend.angle, bend.radius),)
        return Strip(turns, self.thickness)

    @staticmethod
    def _space(x: Any, z: Any) -> Any:
        return np.stack(np.broadcast_arrays(*(np.asarray(v, float) for v in (x, 0.0, z))), axis=-1)

    @property
    def flat_from(self) -> Any:
        """Where the flat with the holes begins [mm]."""
        return self.strip.last

    def points(self) -> Mapping[str, Any]:
        centre, _ = self.way(self.reach)
        return {
            n: centre + np.asarray(y, float)[..., None] * Y
            for n, y in zip(self.holes, self._offsets, strict=True)
        }

    def frame(self, s: Any) -> Any:
        """Axes of the sections at a length: along the tab, along its width, across its thickness."""
        along = self.way(s)[1]
        return np.stack(np.broadcast_arrays(along, Y, np.cross(along, Y)), axis=-2)
