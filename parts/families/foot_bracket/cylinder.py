"""The holes of a master cylinder and of its reservoir."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.loads import Required
from parts.core.rules import Rule, at_least
from parts.core.ways import Kind
from parts.families.foot_bracket.fixture import Boss
from parts.families.foot_bracket.local import plate_kind
from parts.families.foot_bracket.mounts import Mount, PlainHole, TappedHole
from parts.families.foot_bracket.stud import Threaded, of_one
from parts.inputs.quantities import Angle, NonNegativeLength, Point2, PositiveLength
from parts.standards.materials.materials import Material
from parts.strength.bolted import group
from parts.strength.method import work
from parts.strength.pinned import lug


class MasterCylinder(Threaded):
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

    def mounts(self) -> list[Mount]:
        """Its two bolts as mounts."""
        return [
            Mount.model_construct(
                bolt=self.bolt,
                thread=self.thread,
                bolt_class=self.bolt_class,
                at=place,
                hole=self.hole,
                boss=self.boss,
            )
            for place in self.places()
        ]

    def standing_on(self) -> tuple[Any, Any]:
        """Least width of the foot that presses on the plate; it has no root [mm]."""
        return self.foot_width, None

    def face(self, thickness: Any) -> Any:
        """Height of the face that the cylinder stands on [mm]."""
        return thickness + (0.0 if self.boss is None else self.boss.outer)

    def standing(self, name: str, metal: Material, thickness: Any) -> Iterator[Check]:
        """The metal under a nut or head, or the thread in the plate, at the greatest preload."""
        yield from self.mounts()[0].standing(name, metal, thickness)

    def foot_rules(self, field: str) -> Iterator[Rule]:
        """Rules of the cylinder's foot."""
        yield at_least(
            "cylinder.foot", f"{field}.foot_width", self.foot_width, 1.5 * self.thread.major,
            "the bolt's head is wider than the foot that it holds", "check the width of the foot",
        )  # fmt: skip

    def kinds(self, name: str) -> list[Kind]:
        """What can fail of its holes and of the plate under its foot."""
        return [*self.mounts()[0].kinds(name), plate_kind(name, boss=False)]

    def modes(
        self, name: str, metal: Material, thickness: Any, force: Any, moment: Any, pad: Any, case: str,
        required: Required,
    ) -> Iterator[Check]:  # fmt: skip
        """The two bolts under what the cylinder does to the face: `force` and `moment` at its middle.

        A moment about the line of the bolts rocks the foot on its edge; both bolts resist it at half its width.
        """
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
        bolt = self.mounts()[0]
        yield from self.bolt_modes(name, pull, shear, case, required, "the worse of two")
        yield self.seated_mode(name, pull, case, required)
        yield from bolt.bearing_modes(name, metal, thickness, shear, case, required)
        yield check(
            f"{name} hole, tear-out", "tear-out", load_case=case, demand=shear,
            capacity=work(lug.tear_out_load, R=pad, D_h=bolt.diameter, t=thickness, F_s=metal.shear_ultimate),
            unit="N", required=required.on_ultimate,
        )  # fmt: skip
        if isinstance(self.hole, TappedHole):
            yield from self.strip_modes(name, metal, bolt.gripped(thickness), pull, case, required)


class Reservoir(Threaded):
    """A tapped or plain hole for the bracket of the fluid reservoir."""

    at: Point2 = Field(description="Where the hole is.")
    hole: Annotated[PlainHole | TappedHole, Field(discriminator="type")] = Field(
        default_factory=TappedHole, description="Clearance hole, or tapped through."
    )
    boss: Boss | None = Field(None, description="A boss about the hole.")

    def mount(self) -> Mount:
        """The hole as a mount."""
        return Mount.model_construct(
            bolt=self.bolt,
            thread=self.thread,
            bolt_class=self.bolt_class,
            at=self.at,
            hole=self.hole,
            boss=self.boss,
        )
