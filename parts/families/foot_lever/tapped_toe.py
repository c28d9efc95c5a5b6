"""A toe tapped for the bolt of a peg."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check
from parts.core.feature import Answers
from parts.core.loads import LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule, at_least
from parts.core.ways import Kind
from parts.families.foot_lever.toe_boss import BEYOND, Toe
from parts.features.arm.tip import AtTip
from parts.features.bolts.slip import screwed_loss
from parts.features.mounts.shouldered import bolt_kind, clamped_tension, of_one
from parts.features.mounts.stud import Threaded
from parts.features.pins.post import hole_modes
from parts.features.section.notches import TAPPED
from parts.inputs.quantities import PositiveLength

if TYPE_CHECKING:
    from parts.core.drawing import Marks
    from parts.core.loadpath import Notch


X, Y, Z = np.eye(3)


class TappedToe(Threaded, Toe, Answers[AtTip]):
    """A boss tapped for the bolt of a peg, which sits on the face by its shoulder."""

    type: Literal["tapped"] = Field("tapped", description="A boss tapped for the bolt of a peg.")
    diameter: PositiveLength = Field(description="Outside diameter of the boss.")
    width: PositiveLength = Field(description="Width of the boss along the pivot.")
    shoulder: PositiveLength = Field(
        description="Diameter of the shoulder or sleeve that sits on the face."
    )
    height_of_foot: PositiveLength = Field(
        description="From the face of the boss to where the foot bears."
    )
    side: Literal["away", "inward"] = Field(
        "away",
        description="The face that the peg stands on: away from the bracket, or toward it.",
    )

    @property
    def hole(self) -> Any:
        return self.thread.major

    @property
    def drilled(self) -> Any:
        return self.thread.minor_internal

    @property
    def notch(self) -> Notch:
        return TAPPED

    def rules(self, site: AtTip) -> Iterator[Rule]:
        yield from self.boss_rules(site)
        yield self.engagement_rule(f"{site.field}.width", self.width, site.metal)
        yield at_least(
            "stud.shoulder", f"{site.field}.shoulder", self.shoulder, 1.4 * self.thread.major,
            "the shoulder has no face beside the thread to clamp on", "make the shoulder larger",
        )  # fmt: skip
        yield at_least(
            "stud.seat", f"{site.field}.diameter", self.diameter - 2.0 * np.asarray(site.edge_break, float),
            self.shoulder, "the shoulder overhangs its boss", "make the boss larger",
        )  # fmt: skip

    def kinds(self, site: AtTip) -> Sequence[Kind]:
        return [
            bolt_kind("toe", head=True),
            Kind("tapped hole", "toe"),
            Kind("screwed post", "toe"),
            Kind("clamped shoulder", "toe"),
        ]

    def modes(self, site: AtTip, case: LoadCase) -> Iterator[Check]:
        metal, required, deep = site.metal, site.required(case), self.width
        force, moment = self.at_face(site, case)
        pull = of_one(clamped_tension(force, moment, self.shoulder))
        shear = np.hypot(force[..., 0], force[..., 1])
        note = "the shoulder pivots on its rim"
        yield from self.bolt_modes("toe", pull, shear, case.name, required, note)
        loss = screwed_loss(metal, self.thread)
        yield self.seated_mode("toe", pull, case.name, required, loss)
        yield from self.strip_modes("toe", metal, deep, pull, case.name, required)
        yield from self.pull_out_modes("toe", metal, deep, force, moment, case.name, required)
        yield from hole_modes(
            "toe", metal, self.thread.pitch_diameter, deep, force, moment, case.name, required
        )
        mouth = self.thread.major + 2.0 * np.asarray(site.edge_break, float)
        bend = np.hypot(moment[..., 0], moment[..., 1])
        ring = self.shoulder, mouth
        yield from self.shut_modes("toe", force[..., 2], bend, ring, case, loss)
        yield self.turned_mode("toe", force[..., 2], moment[..., 2], ring, case, required, loss)
        yield from self.tired_modes("toe", pull, case, site, loss=loss)

    def standing(self, site: AtTip) -> Iterator[Check]:
        """The thread in the boss and the face under the shoulder at the greatest preload."""
        yield from self.tightened_modes("toe", site.metal, self.width)
        mouth = self.thread.major + 2.0 * np.asarray(site.edge_break, float)
        yield self.pressed_mode("toe", "shoulder", site.metal, self.shoulder, mouth)

    def bought(self, site: AtTip) -> Sequence[Bought]:
        stands = float(np.max(self.height_of_foot)) * (1.0 + BEYOND)
        return (
            Bought(
                f"{self.named} bolt with a peg of {stands:.3g} mm on a shoulder of {self.shoulder:g} mm", 1, "toe"
            ),
        )  # fmt: skip

    def marks(self, site: AtTip) -> Marks:
        from parts.core.drawing import Hole, Marks, ThreadLines

        half, of = float(self.width) / 2.0, self.thread
        minor, major = float(of.minor_internal), float(of.major)
        hole = Hole(
            "toe", (0, 0, half), -Z, minor, through=2 * half, thread=of,
            countersink=major + 2.0 * float(site.edge_break),
        )  # fmt: skip
        lines = ThreadLines((0, 0, -half), (0, 0, half), major, minor, internal=True)
        return self.outside() + Marks((), (hole,), (lines,))
