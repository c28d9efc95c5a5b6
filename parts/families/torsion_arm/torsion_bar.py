"""The torsion bar that an arm drives: its rate, its twist and its shear stress over the arm's travel."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any, Literal, Self

import numpy as np
from pydantic import AfterValidator, Field, model_validator

from parts.core.check import Check, check
from parts.core.fatigue_places import Detail, Spot, demand_of
from parts.core.feature import Modes
from parts.core.group import Group
from parts.core.rules import Rule, at_least, at_most
from parts.inputs.designations import MaterialName
from parts.inputs.quantities import (
    Angle,
    NonNegativeForce,
    NonNegativeLength,
    PositiveLength,
)
from parts.standards.designation import UnknownDesignation
from parts.standards.materials.materials import Material, material
from parts.strength.method import work
from parts.strength.shafts import torsion_bar

SPRING_GROUPS = {
    "spring steel": "hardened and tempered carbon and low-alloy steel",
    "low-alloy steel": "hardened and tempered carbon and low-alloy steel",
    "titanium": "nonferrous alloy",
}
AUSTENITIC = ("304", "304L", "316", "316L")
STEEPEST = np.radians(75.0)
"""Farthest that the arm may stand from square to its load [rad]; beyond, its rate runs away."""
END_IN_HUB = "bar end in the hub, shear"
MISES = float(np.sqrt(3.0))
END_NOTCH: Mapping[str, tuple[float, str]] = {
    "spline": (
        2.8,
        "involute teeth: Peterson's Stress Concentration Factors, Chart 5.4, from memory; the application factor of "
        "the shock is counted, for load cases by statics hold none",
    )
}
EDGED_END = (3.0, "edges and fretting: three, common practice, no source")
"""Fatigue factor of the bar's end in a hub by the kind of its bore, and where it is from."""
OWN_FACTOR = "the allowable is meant to be reached: it holds its own factor; static service"


class AngleTravel(Group):
    """Travel stated by the arm's angle."""

    type: Literal["angle"] = Field("angle", description="Travel stated by the arm's angle.")
    up: Angle = Field(description="From the static position to full bump.")
    down: Angle = Field(description="From the static position to full droop.")

    def turns(self, length: Any, static: Any) -> tuple[Any, Any]:
        """Turn of the arm [rad] up to bump and down to droop."""
        return self.up, self.down


class HeightTravel(Group):
    """Travel stated by the height of the arm's end."""

    type: Literal["height"] = Field(
        "height", description="Travel stated at the arm's end, along the load."
    )
    up: NonNegativeLength = Field(description="From the static position to full bump.")
    down: NonNegativeLength = Field(description="From the static position to full droop.")

    def turns(self, length: Any, static: Any) -> tuple[Any, Any]:
        """Turn of the arm [rad] up to bump and down to droop."""
        top = np.clip(np.sin(static) + self.up / length, -1.0, 1.0)
        bottom = np.clip(np.sin(static) - self.down / length, -1.0, 1.0)
        return np.arcsin(top) - static, static - np.arcsin(bottom)


Travel = Annotated[AngleTravel | HeightTravel, Field(discriminator="type")]


def _springs(value: Material) -> Material:
    if not _group(value):
        raise ValueError(
            f"no shear allowable of springs is published here for {value.name}; use a spring steel such as "
            "51CrV4 spring +QT, a hardened low-alloy steel, or titanium"
        )
    return value


SpringMaterial = Annotated[MaterialName, AfterValidator(_springs)]
"""A material that a shear allowable of springs is published for, by name and condition."""


class TorsionBar(Group):
    """The bar and its working range."""

    diameter: PositiveLength = Field(description="Diameter of the bar over its active length.")
    bore: NonNegativeLength = Field(0.0, description="Bore of a hollow bar; 0 for a solid one.")
    active_length: PositiveLength = Field(
        description="Length that twists, between its ends' transitions."
    )
    material: SpringMaterial = Field(description="Spring steel of the bar, with its condition.")
    preset: bool = Field(
        False, description="Whether the bar is preset: twisted past yield once, in its own sense."
    )
    travel: Travel = Field(description="Travel of the arm, as angles or as heights of its end.")
    static_load: NonNegativeForce = Field(
        description="Load at the arm's end in the static position, along the travel."
    )
    static_angle: Angle = Field(
        0.0,
        description="Angle of the arm from square to its load in the static position, positive toward bump.",
    )

    @model_validator(mode="after")
    def _has_a_strength(self) -> Self:
        try:
            _ = self.metal
        except UnknownDesignation as unknown:
            known = f"; known is {', '.join(unknown.nearest)}" if unknown.nearest else ""
            raise ValueError(
                f"no strength of {self.material.name} is known for a bar of {self.diameter:g} mm{known}; take a "
                "thinner bar or another steel"
            ) from None
        return self

    @property
    def metal(self) -> Material:
        """The row of the material for the bar's thickest diameter."""
        return material(self.material.name, thickness_mm=float(np.max(self.diameter)), form="bar")

    @property
    def rate(self) -> Any:
        """Torque for each radian of twist [N*mm/rad]."""
        return torsion_bar.torsional_rate(
            self.diameter, self.active_length, self.metal.G, self.bore
        )

    def static_twist(self, length: Any) -> Any:
        """Twist of the bar in the static position [rad]."""
        return self.static_load * length * np.cos(self.static_angle) / self.rate

    def twists(self, length: Any) -> tuple[Any, Any]:
        """Twist of the bar at full bump and at full droop [rad]."""
        up, down = self.travel.turns(length, self.static_angle)
        still = self.static_twist(length)
        return still + up, still - down

    def rules(self, field: str, length: Any, shaft: Any) -> Iterator[Rule]:
        """Rules of the bar on an arm of a length, with an end of diameter `shaft` in the hub [mm]."""
        yield at_least(
            "bar.thin", f"{field}.diameter", self.diameter, 6.0,
            "a bar this thin carries no vehicle; it looks like the wrong unit", "check the unit of this value",
        )  # fmt: skip
        yield at_most(
            "bar.end", f"{field}.diameter", self.diameter, shaft,
            "the bar is thicker than its own end in the hub, which would break first",
            "make the bar thinner, or choose a larger spline, flat or clamp",
        )  # fmt: skip
        yield at_most(
            "bar.bore", f"{field}.bore", self.bore, 0.9 * self.diameter,
            "a tube this thin buckles under its torque (common practice, no source)", "lessen the bore",
        )  # fmt: skip
        yield at_least(
            "bar.short", f"{field}.active_length", self.active_length, 5.0 * self.diameter,
            "a bar this short is no spring; it looks like the wrong unit", "check the unit of this value",
        )  # fmt: skip
        yield at_most(
            "bar.long", f"{field}.active_length", self.active_length, 3000.0,
            "no bar of a one-off vehicle is this long; it looks like the wrong unit",
            "check the unit of this value",
        )  # fmt: skip
        if isinstance(self.travel, HeightTravel):
            sine = np.sin(self.static_angle)
            high = np.maximum(sine + self.travel.up / length, self.travel.down / length - sine)
            yield at_most(
                "bar.height", f"{field}.travel.up", high, np.sin(STEEPEST),
                "the arm is too short for this travel",
                "lengthen the arm, or lessen the travel", unit="",
            )  # fmt: skip
        else:
            yield at_least(
                "bar.turn", f"{field}.travel.up", np.minimum(self.travel.up, self.travel.down), 0.0,
                "travel is counted from the static position, up and down, each positive", "leave out the sign",
                unit="deg",
            )  # fmt: skip
            far = np.maximum(
                self.static_angle + self.travel.up, self.travel.down - self.static_angle
            )
            yield at_most(
                "bar.steep", f"{field}.travel.up", far, STEEPEST,
                "the arm would swing so far from square to its load that its rate runs away",
                "lessen the travel",
                unit="deg",
            )  # fmt: skip
        if self.preset:
            yield at_least(
                "bar.reversed", f"{field}.travel.down", self.twists(length)[1], 0.0,
                "a preset bar must never be twisted the other way, as it would be at full droop",
                "lessen the droop, or use a bar that is not preset", unit="deg",
            )  # fmt: skip

    def allowable(self) -> Any:
        """Largest shear stress in static service [MPa], worked."""
        made = self.metal
        return work(
            torsion_bar.allowable_shear,
            S_ut=made.ultimate_strength,
            c=shear_share(made, self.preset),
        )

    def modes(self, case: str, torque: Any, in_hub: Any) -> Iterator[Check]:
        """Shear of the bar under a torque about it.

        Args:
            case: name of the load case.
            torque: about the bar [N*mm].
            in_hub: shear stress of the bar's end in the hub, worked [MPa].

        Returns:
            Two checks.
        """
        yield check(
            END_IN_HUB, "bar shear", load_case=case, unit="MPa", capacity=self.allowable(),
            required=1.0, demand=in_hub, note=f"nominal, without the notch of teeth or corners; {OWN_FACTOR}",
        )  # fmt: skip
        yield check(
            "bar shear", "bar shear", load_case=case, unit="MPa", capacity=self.allowable(), required=1.0,
            demand=work(torsion_bar.shear_stress, T=np.abs(torque), d=self.diameter, d_i=self.bore), note=OWN_FACTOR,
        )  # fmt: skip

    def travel_modes(self, length: Any) -> Iterator[Check]:
        """Shear at both ends of the travel."""
        bump, droop = self.twists(length)
        size = {"d": self.diameter, "L": self.active_length, "G": self.metal.G}
        for name, theta in (("full bump", bump), ("full droop", droop)):
            yield check(
                f"bar shear at {name}", "bar shear", load_case=name, unit="MPa", capacity=self.allowable(),
                required=1.0, demand=work(torsion_bar.shear_stress_at_twist, theta=np.abs(theta), **size),
                note=OWN_FACTOR,
            )  # fmt: skip

    def details(self, bore: str, modes: Modes) -> Sequence[Detail]:
        """The bar, and its end in the hub.

        The end of a spline keeps the application factor of its shock: load cases by statics hold no shock of their
        own. Who has measured the spectrum states `shock: uniform`, as ISO 6336-6 sets that factor to one for a
        measured spectrum (from memory).

        Args:
            bore: kind of the hub's bore.
            modes: gives the part's checks under a load case.
        """
        own = demand_of(modes, "bar shear", MISES)
        end = demand_of(modes, END_IN_HUB, MISES)
        K_f, why = END_NOTCH.get(bore, EDGED_END)
        return [
            Spot("torsion bar", self.metal, own, self.diameter, note="√3 τ; preset not counted"),
            Spot("torsion bar's end in the hub", self.metal, end, self.diameter, K_f, note=why),
        ]

    def torque_at_bump(self, length: Any) -> Any:
        """Torque of the bar at full bump [N*mm]."""
        return self.rate * self.twists(length)[0]

    def facts(self, length: Any, arm_rate: Any) -> dict[str, tuple[Any, str]]:
        """Rate, twist, stress and energy; `arm_rate` is the rate of the arm's own bending at its end [N/mm]."""
        k, still = self.rate, self.static_twist(length)
        bump, droop = self.twists(length)
        stiff = {"d": self.diameter, "L": self.active_length, "G": self.metal.G}
        at_end = torsion_bar.arm_rate(k, still, length, self.static_angle)
        up, _ = self.travel.turns(length, self.static_angle)
        return {
            "bar rate": (k * np.pi / 180.0 / 1000.0, "N*m/deg"),
            "rate at the arm's end, static position": (at_end, "N/mm"),
            "rate of the arm's own bending": (arm_rate, "N/mm"),
            "rate at the arm's end with the arm's bending": (
                torsion_bar.rate_in_series(at_end, arm_rate),
                "N/mm",
            ),
            "twist, static position": (np.degrees(still), "deg"),
            "twist at full bump": (np.degrees(bump), "deg"),
            "twist at full droop": (np.degrees(droop), "deg"),
            "shear stress, static position": (
                torsion_bar.shear_stress_at_twist(theta=still, **stiff), "MPa",
            ),
            "shear stress at full bump": (torsion_bar.shear_stress_at_twist(theta=bump, **stiff), "MPa"),
            "torque at full bump": (k * bump / 1000.0, "N*m"),
            "force at the arm's end at full bump": (
                torsion_bar.arm_force(k, bump, length, self.static_angle + up), "N",
            ),
            "energy from static to full bump": (
                (torsion_bar.stored_energy(k, bump) - torsion_bar.stored_energy(k, still)) / 1000.0, "J",
            ),
        }  # fmt: skip


def shear_share(made: Material, preset: bool) -> float:
    """Share of its tensile strength [-] that the shear of a bar may reach in static service."""
    return torsion_bar.shear_share(_group(made), preset)


def _group(made: Material) -> str:
    """The group of spring materials that a material belongs to; empty where there is none."""
    if made.alloy in AUSTENITIC:
        return "austenitic stainless steel"
    return SPRING_GROUPS.get(made.family, "")
