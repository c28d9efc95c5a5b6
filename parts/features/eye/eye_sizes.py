"""A single eye by its dimensions: what it takes, its pin, and what follows from them alone."""

from __future__ import annotations

from typing import Annotated, Any, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.group import Group
from parts.features.arm.round_end import RoundEnd
from parts.features.pins.bought_pin import BoughtPin
from parts.features.press.fit import RING_CLASS, FitPair, HoleClass
from parts.features.press.pressed import Pressed
from parts.inputs.designations import MaterialName, SphericalName
from parts.inputs.quantities import NonNegativeForce, NonNegativeLength, PositiveLength
from parts.standards.fits.iso286 import Limits, class_limits
from parts.standards.materials.materials import Material
from parts.standards.materials.materials import material as steel
from parts.strength.pinned.ball_friction import race_friction

RING_STEEL = "4130 Q&T 150 ksi"
"""Stands in for the ring's bearing steel, which is stronger; its modulus is the same."""


class PlainBore(Group):
    """The pin runs in the eye itself."""

    type: Literal["plain"] = Field("plain", description="The pin runs in the eye itself.")
    gap: NonNegativeLength = Field(
        0.05, description="Bore less pin diameter; 0 for a bore reamed to the pin."
    )
    fit: HoleClass = Field(
        "H7",
        description="ISO 286 class of the bore, on the pin's diameter and the gap; H7 by common practice, no source.",
    )

    def bore(self, pin: Any) -> Any:
        return pin + self.gap


class BushBore(Group):
    """The pin runs in a bush pressed into the eye."""

    type: Literal["bushed"] = Field("bushed", description="The pin runs in a bush pressed in.")
    outside: PositiveLength = Field(description="Outside diameter of the bush: the bore.")
    material: MaterialName = Field(description="Material of the bush.")
    fit: FitPair = Field("H7/p6", description="Fit of the bush in the eye.")
    retention: NonNegativeForce = Field(
        0.0,
        description="Force along the pin that a collar or shoulder of the bush bears; 0 for a press alone.",
    )

    def bore(self, pin: Any) -> Any:
        return self.outside


class SphericalBore(Group):
    """A spherical plain bearing sits in the eye."""

    type: Literal["spherical"] = Field("spherical", description="A seat for a spherical bearing.")
    bearing: SphericalName = Field(description="Spherical bearing by its designation.")
    fit: HoleClass = Field("M7", description="ISO 286 class of the seat in the eye.")
    retention: NonNegativeForce = Field(
        0.0,
        description="Force along the pin that staking, a shoulder or a ring holds the bearing in its seat with, by "
        "its maker or by test; 0 for a press alone.",
    )

    def bore(self, pin: Any) -> Any:
        return self.bearing.outside


EyeBore = Annotated[PlainBore | BushBore | SphericalBore, Field(discriminator="type")]


class EyePin(BoughtPin):
    """The pin or bolt through the eye, and what carries it."""

    support: Literal["both sides", "one side"] = Field(
        "both sides", description="What carries the pin: a fork on both sides, or one side alone."
    )
    ear: PositiveLength = Field(
        description="Thickness of what carries the pin, on each side of the eye."
    )
    gap: NonNegativeLength = Field(
        0.2, description="Side clearance between the eye, ball or bush and each ear."
    )


class EyeSizes(Group, RoundEnd):
    """A single eye."""

    type: Literal["eye"] = Field("eye", description="A single round eye.")
    diameter: PositiveLength = Field(description="Outside diameter of the eye.")
    width: PositiveLength = Field(description="Width of the eye along the pin.")
    bore: EyeBore = Field(description="What the eye takes: the pin, a bush or a bearing.")
    pin: EyePin = Field(description="The pin through the eye.")

    @property
    def bore_diameter(self) -> Any:
        """Diameter of the hole in the eye [mm]."""
        return self.bore.bore(self.pin.diameter)

    @model_validator(mode="after")
    def _has_a_fit_of_the_standard(self) -> EyeSizes:
        self.bore_limits()
        return self

    def bore_limits(self) -> Limits:
        """Limits of the bore.

        Raises:
            ValueError: the standard has no such fit at this diameter.
        """
        return class_limits(self.bore.fit.split("/")[0], float(self.bore_diameter))

    @property
    def presses(self) -> Any:
        """Diameter of what presses on the eye: pin, bush or bearing [mm]."""
        return self.pin.diameter if isinstance(self.bore, PlainBore) else self.bore_diameter

    @property
    def bears(self) -> Any:
        """Width over which it presses [mm]: a bearing's ring may be narrower than the eye."""
        if isinstance(self.bore, SphericalBore):
            return np.minimum(self.width, self.bore.bearing.ring_width)
        return self.width

    @property
    def tongue(self) -> Any:
        """Thickness on the pin between its supports [mm]."""
        return self.bore.bearing.ball_width if isinstance(self.bore, SphericalBore) else self.width

    @property
    def _loose(self) -> bool:
        """Whether the pin has play in the eye."""
        return isinstance(self.bore, PlainBore) and bool(np.any(np.asarray(self.bore.gap) > 0.0))

    @property
    def rubbing(self) -> tuple[Any, float]:
        """Diameter [mm] on which the joint turns under load, and the friction there [-]."""
        if isinstance(self.bore, SphericalBore):
            return self.bore.bearing.ball_diameter, race_friction("steel on steel")
        bushed = isinstance(self.bore, BushBore)
        return self.pin.diameter, race_friction("steel on bronze" if bushed else "steel on steel")

    @property
    def wall(self) -> Any:
        """Metal beside the bore [mm]."""
        return (self.diameter - self.bore_diameter) / 2.0

    @property
    def stack(self) -> Any:
        """What the pin goes through [mm]."""
        sides = 2.0 if self.pin.support == "both sides" else 1.0
        return self.tongue + sides * (self.pin.ear + self.pin.gap)

    @property
    def last_plane(self) -> Any:
        """From the head's side to the last shear plane [mm], the head on an ear where there are two."""
        if self.pin.support == "one side":
            return self.tongue + self.pin.gap
        return self.stack - self.pin.ear

    def pressed(self, material: Material) -> Pressed | None:
        """The bush or the bearing's ring in the eye; None for a plain bore."""
        bore = self.bore
        if isinstance(bore, BushBore):
            return Pressed(
                "eye bush", bore.outside, self.pin.diameter, self.wall, self.width, material, bore.material,
                bore.fit,
            )  # fmt: skip
        if isinstance(bore, SphericalBore):
            of = bore.bearing
            return Pressed(
                "eye bearing's ring", of.outside, of.ball_diameter, self.wall, of.ring_width, material,
                steel(RING_STEEL), f"{bore.fit}/{RING_CLASS}",
            )  # fmt: skip
        return None
