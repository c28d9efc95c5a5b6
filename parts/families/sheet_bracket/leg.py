"""A leg of a sheet bracket by its dimensions: its side of the base, its bends, its holes, its mass."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Annotated, Any, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.clearances import Clearance
from parts.core.group import Group
from parts.core.part import Bought
from parts.core.rules import Rule
from parts.families.sheet_bracket.rivet_nuts import RivetNutHole, SetNut
from parts.features.bolts.lengths import of_size
from parts.features.pins.bought_pin import row_of
from parts.features.pins.pin import BushedHole, ClearanceHole, Pin, ReamedHole, TappedHole
from parts.features.sheet.strip import Strip, Turn
from parts.inputs.quantities import (
    Angle,
    Length,
    NonNegativeLength,
    Point3,
    PositiveLength,
    PositiveMass,
    Size3,
)
from parts.standards.fasteners.rivet_nuts import rivet_nut
from parts.standards.materials.materials import Material

SideName = Literal["front", "back", "left", "right"]
OUT: dict[str, tuple[float, float]] = {
    "front": (1.0, 0.0), "back": (-1.0, 0.0), "left": (0.0, 1.0), "right": (0.0, -1.0),
}  # fmt: skip
"""The way out of the base on each side, in its x and y."""

ROUND = ("front", "left", "back", "right")
"""The sides of the base as its outline runs, counter-clockwise."""


class Bend(Group):
    """A bend across a leg."""

    flat: PositiveLength = Field(
        description="The flat before it: from the edge of the base, or from the bend before."
    )
    angle: Angle = Field(
        description="Angle that the sheet is bent by; upward, away from what the base stands on, is positive."
    )
    radius: PositiveLength = Field(description="Inside radius of the bend.")


WATER = 1e-6
"""Density of water [kg/mm^3]."""


class Mass(Group):
    """What a leg carries."""

    mass: PositiveMass = Field(description="Its mass, full.")
    centre: Point3 = Field(description="Its centre of mass in the part's axes.")
    size: Size3 | None = Field(
        None,
        description="How long it is along x, y and z, as a box; left out, that of a cube of water of its mass.",
    )

    @property
    def sides(self) -> Any:
        """Its length along x, y and z [mm], shape (..., 3)."""
        cube = np.cbrt(np.asarray(self.mass, float) / WATER)
        given = (cube, cube, cube) if self.size is None else self.size
        return np.stack(np.broadcast_arrays(*(np.asarray(one, float) for one in given)), axis=-1)


LegHole = Annotated[
    ClearanceHole | ReamedHole | BushedHole | TappedHole | RivetNutHole, Field(discriminator="type")
]


class LegPin(Pin):
    """The bolt or pin of a leg, which a rivet nut in the leg may hold."""

    hole: LegHole = Field(  # type: ignore[assignment]
        default_factory=ReamedHole, description="How the hole takes the pin."
    )

    @model_validator(mode="before")
    @classmethod
    def _has_a_thread_in_its_nut(cls, data: Any) -> Any:
        hole = data.get("hole") if isinstance(data, Mapping) else None
        if isinstance(hole, Mapping) and hole.get("type") == "rivet nut":
            of = row_of(of_size, data.get("bolt"))
            if of is None:
                raise ValueError(
                    "a rivet nut takes a bolt by its size: state it, as in `bolt: M6 8.8`"
                )
            rivet_nut(of.thread)
        return data

    def set_nut(self, sheet: Any, metal: Material, name: str) -> SetNut | None:
        """The rivet nut in its hole; None without."""
        if not isinstance(self.hole, RivetNutHole) or self.bolt is None:
            return None
        return SetNut(f"rivet nut of {name}", of_size(self.bolt).thread, sheet, metal)

    @property
    def bore(self) -> Any:
        one = self.set_nut(0.0, None, "")  # type: ignore[arg-type]
        return super().bore if one is None else one.nut.hole

    @property
    def bearing_diameter(self) -> Any:
        return self.bore if isinstance(self.hole, RivetNutHole) else super().bearing_diameter

    def clearances(self, joint: str, field: str, where: str) -> Iterator[Clearance]:
        if not isinstance(self.hole, RivetNutHole):
            yield from super().clearances(joint, field, where)

    def length_rules(self, field: str, stack: Any, last_plane: Any) -> Iterator[Rule]:
        if not isinstance(self.hole, RivetNutHole):
            yield from super().length_rules(field, stack, last_plane)

    def bought(self, stack: Any, last_plane: Any, fits: str) -> Sequence[Bought]:
        one = self.set_nut(0.0, None, "")  # type: ignore[arg-type]
        if one is None:
            return super().bought(stack, last_plane, fits)
        least = float(np.max(stack)) + one.below + one.thread.major
        words = f"bolt {self.bolt}, {least:.1f} mm long under the head or more"
        return [Bought(words, 1, fits), one.bought(1, fits)]


class Leg(Group):
    """A leg: a strip that runs from a side of the base, flat or bent, with a hole or two in its last flat."""

    side: SideName = Field(
        description="Side of the base: front is at +x, back at -x, left at +y, right at -y."
    )
    width: PositiveLength | None = Field(
        None, description="Width of the leg; that of its side where left out."
    )
    offset: Length = Field(
        0.0, description="Middle of the leg off the middle of its side, to the left seen outward."
    )
    bends: list[Bend] = Field(
        default_factory=list, max_length=2, description="Its bends in turn; flat where left out."
    )
    reach: PositiveLength = Field(
        description="Edge of the base to the holes, along the middle of the sheet round its bends."
    )
    beyond: PositiveLength | None = Field(
        None, description="Holes to the end of the leg; twice their diameter where left out."
    )
    pitch: PositiveLength | None = Field(
        None, description="Between two holes across the leg; one hole in its middle where left out."
    )
    corner: NonNegativeLength = Field(5.0, description="Radius of its outer corners.")
    pin: LegPin = Field(description="The bolt or pin in each hole, and the hole.")
    beside: PositiveLength | None = Field(
        None, description="Thickness of what the bolt holds beside the leg; astride where left out."
    )
    carries: Mass | None = Field(None, description="The mass that hangs on it, shaken with it.")

    @property
    def drilled(self) -> Any:
        """Diameter of its holes as they are drilled or bored [mm]."""
        hole = self.pin.hole
        return hole.thread.minor_internal if isinstance(hole, TappedHole) else self.pin.bore

    @model_validator(mode="after")
    def _holds_something_against_its_nut(self) -> Leg:
        if isinstance(self.pin.hole, RivetNutHole) and self.beside is None:
            raise ValueError("a rivet nut's bolt holds something against the leg: state `beside`")
        return self

    @property
    def in_hole(self) -> dict[str, Any]:
        """How its bolt stands in a hole: thin sheet takes bolts that are threaded to the head."""
        if self.pin.bolt is None:
            return {"beside": self.beside}
        area = of_size(self.pin.bolt).thread.stress_area
        return {"beside": self.beside, "plain_to": 0.0, "shank": np.sqrt(4.0 / np.pi * area)}

    @property
    def end(self) -> Any:
        """Holes to the end of the leg [mm]."""
        return 2.0 * self.drilled if self.beyond is None else self.beyond

    @property
    def offsets(self) -> tuple[Any, ...]:
        """Its holes off its middle [mm]."""
        return (0.0,) if self.pitch is None else (self.pitch / 2.0, -self.pitch / 2.0)

    def strip(self, thickness: Any) -> Strip:
        """The leg as a strip from the edge of the base."""
        return Strip([Turn(one.flat, one.angle, one.radius) for one in self.bends], thickness)


@dataclass(frozen=True)
class Standing:
    """A leg where it stands on its base.

    Attributes:
        leg: the leg.
        edge: from the origin to the side of the base [mm].
        across: middle of the leg along its side, from the origin, to the left seen outward [mm].
        wide: its width [mm].
        full: whether it is as wide as its side.
        thickness: of the sheet [mm].
    """

    leg: Leg
    edge: Any
    across: Any
    wide: Any
    full: bool
    thickness: Any

    @property
    def name(self) -> str:
        return self.leg.side

    @cached_property
    def strip(self) -> Strip:
        return self.leg.strip(self.thickness)

    @cached_property
    def axes(self) -> np.ndarray:
        """Out of the base, along its side and upward, as rows in the part's axes."""
        x, y = OUT[self.leg.side]
        return np.array([[x, y, 0.0], [-y, x, 0.0], [0.0, 0.0, 1.0]])

    def space(self, out: Any, along: Any, up: Any) -> np.ndarray:
        """Places in the part's axes, from how far they lie out of the origin, along the side and up [mm]."""
        local = np.stack(np.broadcast_arrays(*(np.asarray(v, float) for v in (out, along, up))), -1)
        return np.asarray(local @ self.axes)

    def way(self, s: Any, along: Any = 0.0) -> np.ndarray:
        """The middle of the sheet at a length from the edge of the base, off the middle of the leg [mm]."""
        place = self.strip.way(s)[0]
        up = self.thickness / 2.0 + place[..., 1]
        return self.space(self.edge + place[..., 0], self.across + np.asarray(along), up)

    def frame(self, s: Any) -> np.ndarray:
        """Axes of the sections at a length: along the leg, across it, and out of its upper face, as rows."""
        angle = np.asarray(self.strip.way(s)[1], float)
        zero = 0.0 * angle
        rows = [
            np.stack([np.cos(angle), zero, np.sin(angle)], axis=-1),
            np.stack([zero, zero + 1.0, zero], axis=-1),
            np.stack([-np.sin(angle), zero, np.cos(angle)], axis=-1),
        ]
        return np.asarray(np.stack(rows, axis=-2) @ self.axes)
