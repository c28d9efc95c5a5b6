"""Lightening holes in a plate: placed or as large as fits, plain or with a rim flared out of the sheet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Annotated, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.feature import Answers
from parts.core.group import Group
from parts.core.rules import Rule, at_least, at_most
from parts.families.gusset.form import Form
from parts.families.gusset.rim import LEAST_FLARE, MOST_FLARE, FlaredRim, Hole, PlainRim, Rim
from parts.families.gusset.sites import OnPlate
from parts.inputs.quantities import Point2, PositiveLength
from parts.standards.materials.materials import Material
from parts.standards.stock.bends import least_bend_radius

if TYPE_CHECKING:
    from parts.core.drawing import Callout, Dimension, Marks

Z = np.eye(3)[2]
LEAST_OPENING = 6.0
LEAST_WEB = 2.0
"""Least web beside a hole, in thicknesses [-]; common practice, no source."""
STEEPEST = 0.02


class NoHoles(Group, Answers[OnPlate]):
    """A plate without lightening holes."""

    type: Literal["none"] = Field("none", description="No lightening holes.")

    def holes(self, form: Form, thickness: Any) -> Sequence[Hole]:
        """None."""
        return ()

    @property
    def rim(self) -> PlainRim:
        """Rims there are none; a plain one stands for them."""
        return PlainRim(type="plain")


class _Holes(Group, Answers[OnPlate]):
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

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        """Webs, openings, and whether the sheet bears the flare."""
        field, form, thickness = site.field, site.form, site.thickness
        yield at_least(
            "holes.web_thin", f"{field}.web", self.web, LEAST_WEB * np.asarray(thickness),
            "a web this narrow tears (twice the thickness: common practice, no source)", "widen the web",
        )  # fmt: skip
        found = site.holes
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
            yield from self._flare_rules(f"{field}.rim", found, thickness, site.metal)

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

    def facts(self, site: OnPlate) -> Mapping[str, tuple[Any, str]]:
        """Places and sizes of the holes, and what is cut in the blank where rims are flared."""
        found: dict[str, tuple[Any, str]] = {}
        for i, hole in enumerate(site.holes, 1):
            found[f"hole {i}, centre x on the blank"] = (hole.centre[..., 0], "mm")
            found[f"hole {i}, centre y on the blank"] = (hole.centre[..., 1], "mm")
            found[f"hole {i}, finished opening"] = (hole.opening, "mm")
            if isinstance(self.rim, FlaredRim):
                found[f"hole {i}, cut in the blank"] = (hole.blank, "mm")
                found[f"hole {i}, flat beyond"] = (hole.outer, "mm")
        return found

    def cautions(self, site: OnPlate) -> Sequence[str]:
        """How holes are dressed before they are flared."""
        if not isinstance(self.rim, FlaredRim):
            return ()
        return (
            "Smooth the edges of the blank's holes before flaring: a burr there starts a split.",
        )

    def marks(self, site: OnPlate) -> Marks:
        """Place and size of each hole, drilled or flared."""
        from parts.core.drawing import Hole as Drilled
        from parts.core.drawing import Marks, Worded
        from parts.families.gusset.places import place_sizes

        half = float(site.thickness) / 2.0
        sizes: list[Dimension] = []
        drilled, flares = [], []
        for i, hole in enumerate(site.holes, 1):
            sizes += place_sizes(site.form, f"hole {i}", hole.centre)
            if isinstance(self.rim, FlaredRim):
                sizes.append(self._flared(f"hole {i}", hole, self.rim, half))
                wide = float(hole.blank) + 2.0 * float(self.rim.bend_radius + 2.0 * half)
                middle = (*np.asarray(hole.centre, float), 0.0)
                flares.append(Worded(f"flare {i}", middle, Z, float(hole.opening), wide))
                continue
            centre = np.array([*np.asarray(hole.centre, float), half])
            size = float(hole.opening)
            drilled.append(
                Drilled(
                    f"hole {i}", centre, -Z, size, through=2.0 * half, callout="lightening hole"
                )
            )
        return Marks(tuple(sizes), tuple(drilled), worded=tuple(flares))

    def _flared(self, name: str, hole: Hole, rim: FlaredRim, half: float) -> Callout:
        from parts.core.drawing import Callout, Diameter

        up = 1.0 if rim.toward == "front" else -1.0
        centre = np.array([*np.asarray(hole.centre, float), up * (half + float(rim.height))])
        size = float(hole.opening)
        turn = np.radians(200.0 if name.endswith("1") else 20.0)
        at = centre + size / 2.0 * np.array([np.cos(turn), np.sin(turn), 0.0])
        words = (
            f"{name}: flared to the {rim.toward}, opening {{0}}\n"
            f"rim {float(rim.height):.2f} mm high at {np.degrees(float(rim.angle)):.0f}°, "
            f"bend radius {float(rim.bend_radius):.2f} mm\n"
            f"cut Ø{float(hole.blank):.2f} mm in the flat"
        )
        return Callout(
            f"flare of {name}",
            at,
            words,
            (Diameter(f"opening of {name}", centre, Z, size),),
            view="front",
        )


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
