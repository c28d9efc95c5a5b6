"""Foot-control bracket: one plate that collects mounts, footpeg, pedal pivot, cylinder, spring and stop."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any, ClassVar, Literal

from pydantic import Field

from parts.families.foot_bracket.cylinder import MasterCylinder, Reservoir
from parts.families.foot_bracket.peg import Peg
from parts.families.foot_bracket.pivot import Pivot
from parts.families.foot_bracket.posts import Post
from parts.features.mounts.mount import Mount
from parts.features.plate.collecting_plate import CollectingPlate
from parts.features.plate.plate_feature import Lever, PlateFeature

if TYPE_CHECKING:
    from parts.families.foot_bracket.peg import ForkedPeg, TappedPeg
    from parts.families.foot_bracket.pivot import SeatPivot, TappedPivot
    from parts.families.foot_bracket.posts import TurnedPost
    from parts.families.foot_bracket.pressed_pin import PressedPin
    from parts.families.foot_bracket.screw_post import ScrewPost
    from parts.families.foot_bracket.stub import StubPivot

    _features: tuple[type[PlateFeature], ...] = (Mount, Reservoir)
    _levers: tuple[type[Lever], ...] = (
        TappedPeg, ForkedPeg, StubPivot, SeatPivot, TappedPivot, TurnedPost, PressedPin, ScrewPost,
        MasterCylinder,
    )  # fmt: skip

LEVERS = "peg", "pedal", "shift", "spring", "stop"
"""What is loaded at a point of its own name, besides the master cylinder."""


class FootControlBracket(CollectingPlate):
    """A foot-control bracket."""

    summary: ClassVar[str] = (
        "one plate with mounts, footpeg, pedal and lever pivots, cylinder, spring and stop"
    )
    axes: ClassVar[str] = (
        "x forward, y up, z to the right of the vehicle; the plate's inner face lies in z = 0. On the right-hand "
        "bracket z points outward, to the foot; the left-hand one is its mirror image, below z = 0"
    )
    load_points: ClassVar[Mapping[str, str]] = {
        **{name: f"`{name}`" for name in ("peg", "pedal", "shift", "spring", "stop")},
        "master cylinder": "`master_cylinder`",
    }
    not_covered: ClassVar[tuple[str, ...]] = (
        "fatigue of pressed pins; that of the plate counts the edges of holes in parted sections, and their own load",
        "the exact peak beside windows, bores and bosses: shown as three times the nominal stress",
        "cuts more than 40 degrees aslant to the line from a load to the mounts, and bent ones",
        "the frame or engine case and its threads",
        "pedal, lever, footpeg and their own hardware",
        "axial load of a needle thrust bearing",
        "a fall onto the peg, where no load case states one",
    )

    example: ClassVar[Mapping[str, Any]] = {
        "family": "foot-control bracket",
        "name": "HC-100",
        "title": "Foot bracket",
        "material": "7075-T6",
        "form": "plate",
        "edge_break": "0.5 mm",
        "hand": "right",
        "plate": {"thickness": "16 mm", "web": "12 mm", "wall": "6 mm"},
        "mounts": [
            {"at": ["0 mm", "0 mm"], "thread": "M8", "bolt_class": "10.9"},
            {"at": ["75 mm", "10 mm"], "thread": "M8", "bolt_class": "10.9"},
            {"at": ["20 mm", "85 mm"], "thread": "M8", "bolt_class": "10.9"},
        ],
        "peg": {
            "type": "tapped",
            "at": ["-35 mm", "48 mm"],
            "thread": "M12",
            "bolt_class": "10.9",
            "shoulder": "30 mm",
            "height": "80 mm",
            "boss": {"diameter": "36 mm", "outer": "8 mm", "fillet": "3 mm"},
        },
        "loads": [
            {"name": "standing on one peg", "forces": [{"at": "peg", "force": {"y": "-1700 N"}}]}
        ],
    }

    family: Literal["foot-control bracket"] = Field(
        "foot-control bracket", description="One plate that collects a foot control."
    )
    hand: Literal["right", "left"] = Field(
        "right", description="Side of the vehicle; the left-hand one is the mirror image."
    )
    peg: Peg = Field(description="The footpeg's boss.")
    pedal: Pivot | None = Field(None, description="Pivot of the brake pedal.")
    shift: Pivot | None = Field(None, description="Pivot of the shift lever.")
    master_cylinder: MasterCylinder | None = Field(
        None, description="Holes of the master cylinder."
    )
    reservoir: Reservoir | None = Field(None, description="Hole of the fluid reservoir.")
    spring: Post | None = Field(None, description="Pin of the return spring.")
    stop: Post | None = Field(None, description="Stop of the pedal.")

    @property
    def chief(self) -> str:
        return "peg"

    @property
    def bolted_on(self) -> tuple[str, ...]:
        return ("master cylinder",)

    @property
    def handed(self) -> bool:
        return True

    @property
    def sign(self) -> float:
        """+1 on the right-hand bracket, -1 on the left-hand one: the sense of z toward the foot."""
        return 1.0 if self.hand == "right" else -1.0

    @cached_property
    def levers(self) -> Mapping[str, Lever]:
        """What is loaded at a load point of its own, by the name of the point."""
        named: dict[str, Lever | None] = {name: getattr(self, name) for name in LEVERS}
        named["master cylinder"] = self.master_cylinder
        return {name: one for name, one in named.items() if one is not None}

    @property
    def unloaded(self) -> Mapping[str, PlateFeature]:
        return {} if self.reservoir is None else {"reservoir": self.reservoir}

    def cautions(self) -> Sequence[str]:
        return (
            *super().cautions(),
            "a bracket that has been in a fall is scrap: cracks start in its corners unseen",
        )
