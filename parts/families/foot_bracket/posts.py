"""What a spring hooks on or a pedal stops at: turned from the plate, pressed in or screwed in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Annotated, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check
from parts.core.fatigue_places import Spot
from parts.core.feature import Modes
from parts.core.loads import LoadCase
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.foot_bracket.pressed_pin import PressedPin
from parts.families.foot_bracket.screw_post import ScrewPost
from parts.features.pins.post import bar_modes
from parts.features.plate.fixture import Fixture, Turn, fillet_rule, pad_radius
from parts.features.plate.on_plate import OnPlate
from parts.features.plate.plate_feature import AtHeight
from parts.features.plate.roots import root_spot
from parts.inputs.quantities import NonNegativeLength, PositiveLength

if TYPE_CHECKING:
    from parts.core.supports import Applied

SLENDER = 4.0
"""Height in diameters beyond which a post is a whip; common practice, no source."""


class TurnedPost(AtHeight):
    """A round post left standing on the plate."""

    type: Literal["turned"] = Field(
        "turned", description="A round post left standing on the plate."
    )
    diameter: PositiveLength = Field(description="Diameter of the post.")
    fillet: NonNegativeLength = Field(1.5, description="Root fillet; 0 leaves it sharp.")
    beyond: NonNegativeLength = Field(
        3.0, description="How far it stands past where the load acts."
    )

    def fixture(self, site: OnPlate) -> Fixture:
        top = self.load_height(site.thickness) + self.beyond
        foot = self.diameter / 2.0 + self.fillet
        pad = pad_radius(
            hole=0.0, wall=site.plate.wall, foot=foot, seat=0.0, edge_break=site.edge_break
        )
        post = Turn(site.thickness, top, self.diameter, self.fillet)
        return Fixture(site.name, site.field, self.at, pad, 0.0, outer=(post,))

    def applied(self, site: OnPlate, case: LoadCase) -> Sequence[Applied]:
        fixture = self.fixture(site)
        return site.pressed(site.round_patch(fixture, fixture.outer[0], self.fillet), case)

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        field, edge_break = site.field, site.edge_break
        tall = self.height + self.beyond
        yield fillet_rule(f"{field}.fillet", self.fillet)
        yield at_most(
            "post.slender", f"{field}.height", tall, SLENDER * self.diameter,
            "a post this slender whips and breaks (four diameters: common practice, no source)",
            "shorten it or make it thicker",
        )  # fmt: skip
        yield at_least(
            "post.low", f"{field}.height", tall, self.fillet + 2.0 * edge_break + 0.1,
            "the root fillet and the edge break take more than the height",
            "raise the post, or lessen its fillet",
        )  # fmt: skip
        yield at_least(
            "post.thin", f"{field}.diameter", self.diameter, np.maximum(4.0 * edge_break, 4.0),
            "no such thin post is turned from a plate", "make it thicker, or press in a steel pin",
        )  # fmt: skip

    def kinds(self, site: OnPlate) -> Sequence[Kind]:
        name = site.name
        return [Kind("post", name), Kind("boss on a plate", name)]

    def modes(self, site: OnPlate, case: LoadCase) -> Iterator[Check]:
        name, metal = site.name, site.metal
        force, moment = site.felt(case)
        required = site.required(case)
        yield from bar_modes(name, metal, self.diameter, force, moment, case.name, required)

    def standing_on(self) -> tuple[Any, Any]:
        """Diameter of what stands on the plate, and its root fillet [mm]."""
        return self.diameter, self.fillet

    def details(self, site: OnPlate, modes: Modes) -> Sequence[Spot]:
        name, metal = site.name, site.metal
        of = f"{name}, bending at the root"
        return (root_spot(f"{name}, root", metal, modes, of, self.diameter, self.fillet),)


Post = Annotated[TurnedPost | PressedPin | ScrewPost, Field(discriminator="type")]
"""What a spring hooks on or a pedal stops at."""
