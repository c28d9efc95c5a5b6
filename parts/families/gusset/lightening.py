"""Lightening holes in a plate: placed or as large as fits, plain or with a rim flared out of the sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Annotated, Any, Literal, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.core.rules import Rule, at_least, at_most
from parts.families.gusset.form import Form
from parts.features.section.outlines import figure
from parts.inputs.quantities import Angle, Point2, PositiveLength
from parts.standards.materials.materials import Material
from parts.standards.stock.bends import least_bend_radius
from parts.strength.section.outline import Outline, circle

if TYPE_CHECKING:
    import cadquery as cq

LEAST_OPENING = 6.0
LEAST_WEB = 2.0
"""Least web beside a hole, in thicknesses [-]; common practice, no source."""
LEAST_FLARE, MOST_FLARE = np.radians(20.0), np.radians(80.0)
STEEPEST = 0.02


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


class NoHoles(Group):
    """A plate without lightening holes."""

    type: Literal["none"] = Field("none", description="No lightening holes.")

    def holes(self, form: Form, thickness: Any) -> Sequence[Hole]:
        """None."""
        return ()

    @property
    def rim(self) -> PlainRim:
        """Rims there are none; a plain one stands for them."""
        return PlainRim(type="plain")

    def rules(self, field: str, form: Form, thickness: Any, metal: Material) -> Iterator[Rule]:
        """No rules."""
        return iter(())


class _Holes(Group):
    web: PositiveLength = Field(
        description="Least flat plate left beside a hole, to every edge and to the next hole."
    )
    rim: Rim = Field(default_factory=PlainRim, description="Rim of the holes.")

    def holes(self, form: Form, thickness: Any) -> Sequence[Hole]:
        """The holes of the plate."""
        raise NotImplementedError

    def _hole(self, centre: Any, opening: Any, thickness: Any) -> Hole:
        outer = opening + 2.0 * self.rim.spread(thickness)
        blank = opening
        if isinstance(self.rim, FlaredRim):
            blank = outer - 2.0 * self.rim.developed(thickness)
        return Hole(np.asarray(centre, float), opening, outer, blank)

    def rules(self, field: str, form: Form, thickness: Any, metal: Material) -> Iterator[Rule]:
        """Webs, openings, and whether the sheet bears the flare."""
        yield at_least(
            "holes.web_thin", f"{field}.web", self.web, LEAST_WEB * np.asarray(thickness),
            "a web this narrow tears (twice the thickness: common practice, no source)", "widen the web",
        )  # fmt: skip
        found = self.holes(form, thickness)
        for i, hole in enumerate(found):
            yield at_least(
                "holes.small", field, hole.opening, LEAST_OPENING,
                f"hole {i + 1} is too small to lighten anything", "lessen the webs or the number of holes",
            )  # fmt: skip
            yield at_least(
                "holes.edge", field, form.clearance(hole.centre) - hole.outer / 2.0, self.web - 1e-6,
                f"hole {i + 1} comes too near an edge of the plate", "move the hole, or make it smaller",
            )  # fmt: skip
            for j, other in enumerate(found[:i]):
                apart = np.linalg.norm(hole.centre - other.centre, axis=-1)
                yield at_least(
                    "holes.between", field, apart - (hole.outer + other.outer) / 2.0, self.web - 1e-6,
                    f"holes {j + 1} and {i + 1} come too near each other", "move them apart",
                )  # fmt: skip
        if isinstance(self.rim, FlaredRim):
            yield from self._flare_rules(f"{field}.rim", found, thickness, metal)

    def _flare_rules(
        self, field: str, found: Sequence[Hole], thickness: Any, metal: Material
    ) -> Iterator[Rule]:
        rim = self.rim
        assert isinstance(rim, FlaredRim)
        yield at_least(
            "flare.bend", f"{field}.bend_radius", rim.bend_radius, least_bend_radius(metal, thickness),
            f"{metal.name} of this thickness cracks in so tight a cold bend, or has no bend radius in the "
            f"table",
            "use a larger bend radius, thinner or softer sheet, or leave the holes plain",
        )  # fmt: skip
        yield at_least(
            "flare.flat", f"{field}.angle", rim.angle, LEAST_FLARE,
            "a cone this flat stiffens nothing", "make the cone steeper", "deg",
        )  # fmt: skip
        yield at_most(
            "flare.steep", f"{field}.angle", rim.angle, MOST_FLARE,
            "a rim this steep does not come off its die", "make the cone flatter", "deg",
        )  # fmt: skip
        yield at_least(
            "flare.height", f"{field}.height", rim.straight(), STEEPEST * np.asarray(thickness),
            "the bend alone is higher than the rim, so that no cone is left",
            "make the rim higher, or the bend radius smaller",
        )  # fmt: skip
        yield at_most(
            "flare.high", f"{field}.height", rim.height, 8.0 * np.asarray(thickness),
            "no rim this high is pressed in one go; it looks like the wrong unit",
            "check the unit of this value",
        )  # fmt: skip
        for i, hole in enumerate(found):
            yield at_least(
                "flare.blank", field, hole.blank, 3.0,
                f"the blank would have next to no hole where hole {i + 1} is flared",
                "make the hole larger, or the rim lower",
            )  # fmt: skip
            yield at_most(
                "flare.stretch", field, rim.stretch(hole.opening, thickness), metal.elongation,
                f"the edge of hole {i + 1} is stretched beyond the elongation of {metal.name} and splits",
                "make the hole larger, the rim lower or the cone flatter", "",
            )  # fmt: skip


class LargestHoles(_Holes):
    """Holes as large as the webs allow."""

    type: Literal["largest"] = Field("largest", description="Holes as large as the webs allow.")
    count: int = Field(
        1, ge=1, le=3,
        description="How many: in a corner plate one in the middle, two alike in the toes, or one with a "
        "smaller one "
        "in each toe; across, all alike in a row.",
    )  # fmt: skip

    def holes(self, form: Form, thickness: Any) -> Sequence[Hole]:
        spread = self.rim.spread(thickness)
        return [
            self._hole(centre, 2.0 * (radius - spread), thickness)
            for centre, radius in form.largest(self.count, self.web)
        ]


class PlacedHole(Group):
    """One hole where the builder wants it."""

    at: Point2 = Field(
        description="Centre: in a corner plate along tube A and away from it, from the inner corner; across, "
        "along "
        "the plate from tube A's centre line, and along z."
    )
    diameter: PositiveLength = Field(description="Diameter of the finished opening.")


class PlacedHoles(_Holes):
    """Holes at stated places."""

    type: Literal["placed"] = Field("placed", description="Holes at stated places.")
    places: list[PlacedHole] = Field(
        min_length=1, max_length=8, description="The holes, one by one."
    )

    def holes(self, form: Form, thickness: Any) -> Sequence[Hole]:
        return [
            self._hole(np.stack(np.broadcast_arrays(*one.at), axis=-1), one.diameter, thickness)
            for one in self.places
        ]


Holes = Annotated[NoHoles | LargestHoles | PlacedHoles, Field(discriminator="type")]


def ring(rim: FlaredRim, hole: Hole, thickness: float) -> cq.Workplane:
    """The flared rim of a hole as a solid in the plate's axes, its outer wall at the edge of the flat plate."""
    import cadquery as cq

    from parts.shapes.profile import wire

    plane = cq.Plane((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0))
    (loop,) = rim.meridian(float(hole.outer), thickness).loops
    solid = cq.Solid.revolve(wire(loop, plane), [], 360.0, cq.Vector(0, 0, 0), cq.Vector(0, 0, 1))
    made = cq.Workplane(obj=solid)
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
