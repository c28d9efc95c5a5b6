"""A lightening hole in a plate and its rim: plain, or flared out of the sheet."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated, Any, Literal, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.features.section.outlines import figure
from parts.inputs.quantities import Angle, PositiveLength
from parts.strength.section.figures import circle
from parts.strength.section.outline import Outline

if TYPE_CHECKING:
    import cadquery as cq

LEAST_FLARE, MOST_FLARE = np.radians(20.0), np.radians(80.0)


class PlainRim(Group):
    """A hole cut straight through."""

    type: Literal["plain"] = Field("plain", description="A hole cut straight through.")

    def spread(self, thickness: Any) -> Any:
        """How much wider than the opening the hole is where the plate is still flat, each side [mm]."""
        return 0.0 * np.asarray(thickness, float)


class FlaredRim(Group):
    """A hole whose rim is pressed out of the sheet into a cone, with the thickness kept."""

    type: Literal["flared"] = Field(
        "flared", description="A rim pressed out of the sheet into a cone."
    )
    height: PositiveLength = Field(
        description="How far the rim stands above the face of the plate."
    )
    angle: Angle = Field(
        float(np.radians(45.0)),
        description="Angle of the cone against the plate: 45 deg for most dies.",
    )
    bend_radius: PositiveLength = Field(description="Inside radius where plate turns into cone.")
    toward: Literal["front", "back"] = Field(
        "front",
        description="Face on which the rim stands; a mirrored piece has it on the other one.",
    )

    @property
    def cone(self) -> Any:
        """The angle, or the nearest from which a cone can be drawn [rad]: what follows from it stays a number."""
        return np.clip(self.angle, LEAST_FLARE, np.pi / 2.0)

    def straight(self) -> Any:
        """Length of the straight part of the cone [mm]."""
        return (self.height - self.bend_radius * (1.0 - np.cos(self.cone))) / np.sin(self.cone)

    def spread(self, thickness: Any) -> Any:
        bend = (self.bend_radius + np.asarray(thickness, float)) * np.sin(self.cone)
        return bend + self.straight() * np.cos(self.cone)

    def developed(self, thickness: Any) -> Any:
        """Length of the rim's middle line from the flat plate to its edge [mm], as it lay in the blank."""
        return self.cone * (self.bend_radius + np.asarray(thickness, float) / 2.0) + self.straight()

    def stretch(self, opening: Any, thickness: Any) -> Any:
        """How much the edge of the blank's hole is stretched round [-], on the middle of the thickness."""
        edge = opening / 2.0 + thickness / 2.0 * np.sin(self.cone)
        blank = opening / 2.0 + self.spread(thickness) - self.developed(thickness)
        return np.where(blank > 0.0, edge / np.where(blank > 0.0, blank, 1.0) - 1.0, np.inf)[()]

    def meridian(self, outer: Any, thickness: Any) -> Outline:
        """Half a section through the hole's axis: the distance from the axis, and off the plate's middle
        toward the rim [mm]. It begins where the plate is flat, at half of `outer`."""
        r, h, a, b = outer / 2.0, thickness / 2.0, self.cone, self.bend_radius
        c, s, run = np.cos(a), np.sin(a), self.straight()
        big = b + thickness
        bottom, top = (r - big * s, h + b - big * c), (r - b * s, h + b - b * c)
        turn = np.tan(np.asarray(a) / 4.0)
        return figure(
            [
                (r, -h), (r, h), top, (top[0] - run * c, top[1] + run * s),
                (bottom[0] - run * c, bottom[1] + run * s), bottom,
            ],
            [0.0, -turn, 0.0, 0.0, 0.0, turn],
        )  # fmt: skip


Rim = Annotated[PlainRim | FlaredRim, Field(discriminator="type")]


class Hole(NamedTuple):
    """A lightening hole: its centre (..., 2) on the plate, its opening, the diameter beyond which the plate
    is flat, and the diameter to cut in the blank [mm]."""

    centre: Any
    opening: Any
    outer: Any
    blank: Any


def ring(rim: FlaredRim, hole: Hole, thickness: float) -> cq.Workplane:
    """The flared rim of a hole as a solid in the plate's axes, its outer wall at the edge of the flat plate."""
    import cadquery as cq

    from parts.shapes.profile import wire
    from parts.shapes.workplane import Workplane

    plane = cq.Plane((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0))
    (loop,) = rim.meridian(float(hole.outer), thickness).loops
    solid = cq.Solid.revolve(wire(loop, plane), [], 360.0, cq.Vector(0, 0, 0), cq.Vector(0, 0, 1))
    made = Workplane(obj=solid)
    if rim.toward == "back":
        made = made.mirror("XY")
    return made.translate((float(hole.centre[0]), float(hole.centre[1]), 0.0))


def blank_circles(holes: Sequence[Hole], *, finished: bool = False) -> Outline | None:
    """The holes as cut in the blank, or as far as the plate is flat where `finished`; None for none."""
    loops = [
        loop
        for hole in holes
        for loop in circle(
            hole.outer if finished else hole.blank, (hole.centre[..., 0], hole.centre[..., 1])
        ).loops
    ]
    return Outline(tuple(loops)) if loops else None
