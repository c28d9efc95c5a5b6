"""Adjustable link: a tube with threaded bungs, or a solid bar, on rod ends or clevises that screw in."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

from pydantic import Field, model_validator

from parts.families.links.adjustment import Mouth
from parts.families.links.bar_body import BarBody
from parts.families.links.clevis_end import ClevisEnd
from parts.families.links.link import LinkPart
from parts.families.links.rod_end import RodEndEnd
from parts.families.links.tube_body import TubeBody

if TYPE_CHECKING:
    from parts.core.feature import Feature
    from parts.families.links.sites import BetweenEnds

    _bodies: tuple[type[Feature[BetweenEnds]], ...] = (TubeBody, BarBody)

Body = Annotated[TubeBody | BarBody, Field(discriminator="type")]
End = Annotated[RodEndEnd | ClevisEnd, Field(discriminator="type")]


class AdjustableLink(LinkPart):
    """An adjustable link."""

    summary: ClassVar[str] = (
        "a tube with threaded bungs, or a bar, on rod ends or clevises; its length is set"
    )
    axes: ClassVar[str] = (
        "origin midway between the pins; x along the link, end a at -x and end b at +x; z along the pins; "
        "y square to both, the way that the witness holes face"
    )
    load_points: ClassVar[Mapping[str, str]] = {"end a": "", "end b": "", "middle": ""}
    not_covered: ClassVar[tuple[str, ...]] = (
        "fatigue of pins",
        "wear of balls and races",
        "impact beyond the stated load cases",
        "what the ends are pinned to",
    )
    example: ClassVar[Mapping[str, Any]] = {
        "family": "adjustable link",
        "name": "link",
        "title": "subframe strut",
        "material": "4130 normalized",
        "form": "tube",
        "pin_to_pin": {"minimum": "314 mm", "nominal": "320 mm", "maximum": "328 mm"},
        "engagement": "13 mm",
        "end_a": {"type": "rod end", "rod_end": "3/8-24 male RH", "steel": "4130 Q&T 125 ksi"},
        "end_b": {"type": "rod end", "rod_end": "3/8-24 male LH", "steel": "4130 Q&T 125 ksi"},
        "body": {
            "type": "tube",
            "tube": "7/8 in x 0.065 in",
            "bung": {
                "shoulder": "26 mm",
                "spigot": "14 mm",
                "wrench": {"type": "flats", "across_flats": "19 mm"},
            },
        },
        "loads": [
            {"name": "pull", "forces": [{"at": "end b", "force": ["4 kN", 0, 0]}]},
            {"name": "push", "forces": [{"at": "end b", "force": ["-4 kN", 0, 0]}]},
        ],
    }

    family: Literal["adjustable link"] = Field(
        "adjustable link", description="A tube or bar on two ends that screw in."
    )
    end_a: End = Field(description="The end at -x: a rod end or a clevis.")
    end_b: End = Field(description="The end at +x: a rod end or a clevis.")
    body: Body = Field(description="What lies between the ends: a tube with bungs, or a solid bar.")

    @model_validator(mode="after")
    def _can_be_welded_where_it_is(self) -> AdjustableLink:
        if isinstance(self.body, TubeBody):
            for metal in (self.metal, *(self.body.bung_metal(i, self.metal) for i in (0, 1))):
                self.body.welded(metal)
        return self

    def mouth(self, i: int, least: Any) -> Mouth:
        return self.body.mouth(i, self.ends[i], least, self.edge_break)
