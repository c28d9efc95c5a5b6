"""A footpeg that a bolt from its hollow end clamps against a bracket's boss by its shoulder.

Axes of the feature: the shoulder stands at the origin, x runs out along the peg.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check
from parts.core.feature import Answers
from parts.core.freebody import Acting, reacting
from parts.core.loads import LoadCase, resultant
from parts.core.part import Bought
from parts.core.rules import Rule, at_least
from parts.core.ways import Kind
from parts.features.bolts.lengths import of_size
from parts.features.bolts.slip import settled_loss
from parts.features.mounts.shouldered import bolt_kind, clamped_tension, of_one
from parts.features.mounts.stud import Threaded
from parts.features.thread.body import OnBody
from parts.inputs.quantities import PositiveLength

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Marks
    from parts.core.loadpath import Span
    from parts.core.supports import Support
    from parts.features.thread.body import Body

X = np.eye(3)[0]
AROUND_HEAD = 1.5
"""How much wider the hollow is than a bolt's head, for its key or socket [mm]; common practice, no source."""
LOOSE = 0.5
"""How much smaller than the hollow a washer is [mm]; common practice, no source."""
BEARING = 0.95
"""Bearing face of a head over its diameter [-]; common practice, no source."""
WEB = 0.8
"""Least metal under the head, in diameters of the bolt [-]; common practice, no source."""


class BoltedShank(Threaded, Answers[OnBody]):
    """A bolt from the hollow end of the peg, whose head clamps the shoulder on the boss."""

    type: Literal["bolted"] = Field(
        "bolted",
        description="A bolt from the hollow end of the peg clamps its shoulder on the boss.",
    )
    engagement: PositiveLength = Field(description="Length of thread in the bracket.")
    washer: PositiveLength | None = Field(
        None, description="Outside diameter of a hard washer under the head; none where left out."
    )

    @property
    def through(self) -> float:
        """Diameter of the hole for the bolt [mm]."""
        return float(self.thread.clearance_hole().diameter)

    @property
    def head(self) -> float:
        """Diameter of the bolt's head over all [mm]."""
        of = of_size(self.bolt) if self.bolt else None
        if of is not None and of.head_diameter is not None:
            return float(of.head_diameter)
        return 1.8 * float(self.thread.major)

    @property
    def bears(self) -> Any:
        """Outside diameter of what presses on the metal under the head [mm]."""
        return BEARING * self.head if self.washer is None else self.washer

    def hollow_rules(self, bore: Any, web: Any) -> Iterator[Rule]:
        """What the hollow leaves: room for the head, and metal under it [mm]."""
        room = np.maximum(self.head + AROUND_HEAD, self.bears + LOOSE)
        yield at_least(
            "footpeg.head", "bore", bore, room, "head or washer of the bolt does not go into the hollow",
            "widen the bore, or take a smaller bolt",
        )  # fmt: skip
        yield at_least(
            "footpeg.web", "bored", web, WEB * self.thread.major,
            "too little metal is left under the head (0.8 diameters: common practice, no source)", "bore less deep",
        )  # fmt: skip

    def rules(self, site: OnBody) -> Iterator[Rule]:
        yield at_least(
            "footpeg.engaged", f"{site.field}.engagement", self.engagement, self.thread.major,
            "the bolt holds less than one diameter of thread", "take a longer bolt",
        )  # fmt: skip

    def kinds(self, site: OnBody) -> Sequence[Kind]:
        return [bolt_kind("peg", head=True), Kind("clamped shoulder", "peg")]

    def spans(self, site: OnBody) -> Sequence[Span]:
        return ()

    def modes(self, site: OnBody, case: LoadCase) -> Iterator[Check]:
        required, shoulder = site.required(case), site.body.width
        force, moment = resultant(site.pins(case), np.zeros(3))
        # As a piece on a face: z out of it.
        there = (1, 2, 0)
        pull = of_one(clamped_tension(force[..., there], moment[..., there], shoulder))
        shear = np.hypot(force[..., 1], force[..., 2])
        note = "the shoulder pivots on its rim"
        yield from self.bolt_modes("peg", pull, shear, case.name, required, note)
        loss = settled_loss(
            site.metal, self.thread.major, self.thread.stress_area, site.body.floor, heads=1
        )
        yield self.seated_mode("peg", pull, case.name, required, loss)
        c = 2.0 * np.asarray(site.edge_break, float)
        ring, bend = (shoulder - c, self.through + c), np.hypot(moment[..., 1], moment[..., 2])
        yield from self.shut_modes("peg", force[..., 0], bend, ring, case, loss)
        yield self.turned_mode("peg", force[..., 0], moment[..., 0], ring, case, required, loss)
        yield from self.tired_modes("peg", pull, case, site, loss=loss)

    def standing(self, site: OnBody) -> Iterator[Check]:
        """The metal under the head and under the shoulder at the greatest preload."""
        c = 2.0 * np.asarray(site.edge_break, float)
        yield self.pressed_mode("peg", "head", site.metal, self.bears, self.through)
        yield self.pressed_mode(
            "peg", "shoulder", site.metal, site.body.width - c, self.through + c
        )

    def holding(self, site: OnBody, case: LoadCase) -> Sequence[Acting]:
        return [reacting("bolt and boss", np.zeros(3), resultant(site.pins(case), np.zeros(3)))]

    def supports(self, site: OnBody) -> Sequence[Support]:
        """Its shoulder on the boss, clamped."""
        from parts.core.supports import Flat, Support

        c, D = float(site.edge_break), float(site.body.width)
        return (
            Support(
                "shoulder", (Flat(np.zeros(3), X, D / 2.0 - c, self.through / 2.0 + c),), D / 2.0
            ),
        )

    def bought(self, site: OnBody) -> Sequence[Bought]:
        web = float(site.body.floor)
        return (
            Bought(
                f"{self.named} bolt, {web + float(self.engagement):.3g} mm under its head", 1, "peg"
            ),
        )

    def marks(self, site: OnBody) -> Marks:
        from parts.core.drawing import Marks

        return Marks()

    def join(self, made: cq.Workplane, body: Body) -> cq.Workplane:
        """The peg as it is: nothing stands before its shoulder."""
        return made
