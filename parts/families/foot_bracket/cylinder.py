"""The holes of a master cylinder and of its reservoir."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import reduce
from operator import add
from typing import TYPE_CHECKING, Annotated, Any

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.clearances import Clearance
from parts.core.feature import Modes
from parts.core.loads import LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule, at_least
from parts.core.ways import Kind
from parts.features.mounts.bolted_hole import BoltedHole
from parts.features.mounts.holes import PlainHole, TappedHole
from parts.features.mounts.shouldered import bolt_kind, of_one
from parts.features.mounts.stud import Threaded
from parts.features.plate.fixture import Boss, Fixture, over_plate
from parts.features.plate.on_plate import OnPlate
from parts.features.plate.plate_feature import AtPoint
from parts.features.plate.roots import plate_kind
from parts.features.plate.section.rims import Rim
from parts.inputs.quantities import Angle, NonNegativeLength, Point2, PositiveLength
from parts.strength.bolted import group
from parts.strength.method import work
from parts.strength.pinned import lug

if TYPE_CHECKING:
    from parts.core.drawing import Marks
    from parts.core.supports import Applied


class MasterCylinder(Threaded, AtPoint):
    """Two holes for the foot of a master cylinder on the outer face."""

    at: Point2 = Field(description="Middle between its two holes.")
    pitch: PositiveLength = Field(description="Distance between the two holes.")
    angle: Angle = Field(0.0, description="Direction from hole to hole, from x toward y.")
    hole: Annotated[PlainHole | TappedHole, Field(discriminator="type")] = Field(
        default_factory=PlainHole, description="Clearance holes, or tapped through."
    )
    boss: Boss | None = Field(None, description="A boss about each hole.")
    foot_width: PositiveLength = Field(
        description="Width of the cylinder's foot across its two holes."
    )
    axis_height: NonNegativeLength = Field(
        description="Height of the push rod's axis over the face that the cylinder stands on."
    )

    def places(self) -> list[tuple[Any, Any]]:
        """Where the two holes are."""
        half = self.pitch / 2.0
        dx, dy = half * np.cos(self.angle), half * np.sin(self.angle)
        return [(self.at[0] + sign * dx, self.at[1] + sign * dy) for sign in (-1.0, 1.0)]

    def holes(self) -> list[BoltedHole]:
        """Its two holes."""
        return [
            BoltedHole.model_construct(
                bolt=self.bolt,
                thread=self.thread,
                bolt_class=self.bolt_class,
                at=place,
                hole=self.hole,
                boss=self.boss,
            )
            for place in self.places()
        ]

    def _each(self, site: OnPlate) -> list[tuple[BoltedHole, OnPlate]]:
        return [
            (hole, replace(site, name=f"{site.name} {k}")) for k, hole in enumerate(self.holes(), 1)
        ]

    def standing_on(self) -> tuple[Any, Any]:
        """Least width of the foot that presses on the plate; it has no root [mm]."""
        return self.foot_width, None

    def base(self) -> Any:
        return over_plate(self.boss)

    def load_height(self, thickness: Any) -> Any:
        return thickness + self.base() + self.axis_height

    def fixtures(self, site: OnPlate) -> Sequence[Fixture]:
        return [hole.fixture(there) for hole, there in self._each(site)]

    def marks(self, site: OnPlate) -> Marks:
        return reduce(add, (hole.marks(there) for hole, there in self._each(site)))

    def clearances(self, site: OnPlate) -> Sequence[Clearance]:
        return [one for hole, there in self._each(site) for one in hole.clearances(there)]

    def bought(self, site: OnPlate) -> Sequence[Bought]:
        return [one for hole, there in self._each(site) for one in hole.bought(there)]

    def standing(self, site: OnPlate) -> Iterator[Check]:
        yield from self.holes()[0].tightened(site.name, site.metal, site.thickness)

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        yield from self.holes()[0].rules(site)
        yield at_least(
            "cylinder.foot", f"{site.field}.foot_width", self.foot_width, 1.5 * self.thread.major,
            "the bolt's head is wider than the foot that it holds", "check the width of the foot",
        )  # fmt: skip

    def kinds(self, site: OnPlate) -> Sequence[Kind]:
        name, tapped = site.name, isinstance(self.hole, TappedHole)
        kinds = ["hole of a bolt", "seat in a plate"] + (["tapped hole"] if tapped else [])
        bolt = bolt_kind(name, head=not tapped)
        return [bolt, *(Kind(kind, name) for kind in kinds), plate_kind(name, boss=False)]

    def modes(self, site: OnPlate, case: LoadCase) -> Iterator[Check]:
        """The two bolts under what the cylinder does to the middle of its face.

        A moment about the line of the bolts rocks the foot on its edge; both bolts resist it at half its width.
        """
        name, metal, thickness, required = (
            site.name,
            site.metal,
            site.thickness,
            site.required(case),
        )
        force, moment = site.felt(case)
        along = np.array([np.cos(self.angle), np.sin(self.angle), 0.0])
        rocking = (moment * along).sum(-1)
        rest = moment - rocking[..., None] * along
        xy = np.stack(
            [np.stack(np.broadcast_arrays(*place), axis=-1) for place in self.places()], axis=-2
        )
        middle = np.stack(np.broadcast_arrays(*self.at, 0.0), axis=-1)
        shares = group.bolt_reactions(xy, force, rest, middle)
        arm = np.full((1,), 1.0) * np.asarray(self.foot_width, float)[..., None] / 2.0
        rocked = of_one(work(group.tension_about_edge, h=arm, M=np.abs(rocking))) / 2.0
        shear = np.hypot(shares[..., 0], shares[..., 1]).max(-1)
        pull = np.maximum(shares[..., 2].max(-1), 0.0) + rocked
        hole, there = self._each(site)[0]
        yield from self.bolt_modes(name, pull, shear, case.name, required, "the worse of two")
        loss = hole.settled(metal, thickness)
        yield self.seated_mode(name, pull, case.name, required, loss)
        yield from hole.bearing_modes(name, metal, thickness, shear, case.name, required)
        yield check(
            f"{name} hole, tear-out", "tear-out", load_case=case.name, demand=shear,
            capacity=work(
                lug.tear_out_load, R=site.pad(hole.fixture(there)), D_h=hole.diameter, t=thickness,
                F_s=metal.shear_ultimate,
            ),
            unit="N", required=required.on_ultimate,
        )  # fmt: skip
        if isinstance(self.hole, TappedHole):
            deep = hole.gripped(thickness)
            yield from self.strip_modes(name, metal, deep, pull, case.name, required)
        yield from self.tired_modes(name, pull, case, site, loss=loss)

    def rims(self, site: OnPlate, modes: Modes) -> Sequence[Rim]:
        of = f"{site.name} hole, bearing, yield"
        return [hole.rim(there, modes, of) for hole, there in self._each(site)]

    def applied(self, site: OnPlate, case: LoadCase) -> Sequence[Applied]:
        """What it does to the face about each of its holes."""
        from parts.core.supports import Flat

        face, square = site.sign * float(site.thickness + self.base()), (0.0, 0.0, 1.0)
        rings = []
        for hole in self.holes():
            r = float(hole.diameter) / 2.0
            rings.append(Flat(np.array([*map(float, hole.at), face]), square, 2.0 * r, r))
        return site.pressed(rings, case)


class Reservoir(BoltedHole):
    """A tapped or plain hole for the bracket of the fluid reservoir."""

    hole: Annotated[PlainHole | TappedHole, Field(discriminator="type")] = Field(
        default_factory=TappedHole, description="Clearance hole, or tapped through."
    )
