"""The shank of a clevis: how its body is fixed to what it serves.

A shank begins at the flat back of the body, `start` behind the pin, and runs toward -x. Distances along it
are measured from that face. Each kind states its rules, its load path, its checks and its solid.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field

from parts.features import threaded
from parts.features.turned import Step
from parts.group import Group
from parts.inputs.designations import ThreadName
from parts.inputs.quantities import PositiveLength
from parts.rules import Rule, at_least, at_most

if TYPE_CHECKING:
    import cadquery as cq

FLATS_LEAST = 8.0
"""Length of wrench flats that a spanner can hold [mm]; common practice, no source."""


class Neck(Group):
    """A round stretch between the body and the thread, with flats for a wrench."""

    diameter: PositiveLength = Field(description="Diameter of the neck.")
    length: PositiveLength = Field(description="Length of the neck.")
    flats: PositiveLength | None = Field(
        None, description="Distance across its wrench flats; none where left out."
    )

    def rules(self, field: str) -> Iterator[Rule]:
        """Rules of the neck."""
        if self.flats is not None:
            yield at_most(
                "neck.flats", f"{field}.flats", self.flats, 0.97 * self.diameter,
                "flats this far apart cut too little for a wrench to hold", "lessen the distance across flats",
            )  # fmt: skip
            yield at_least(
                "neck.wrench", f"{field}.length", self.length, FLATS_LEAST,
                "a wrench needs flats 8 mm long (common practice, no source)", "lengthen the neck",
            )  # fmt: skip


class MaleThread(Group):
    """A male thread with an undercut at the shoulder."""

    type: Literal["male thread"] = Field(
        "male thread", description="A male thread with an undercut at the shoulder."
    )
    thread: ThreadName = Field(description="Thread by its designation.")
    length: PositiveLength = Field(description="From the shoulder to the tip, undercut included.")
    engagement: PositiveLength = Field(
        description="Least length of full thread that is screwed in."
    )
    undercut: bool = Field(True, description="Cut a relief groove at the shoulder.")
    neck: Neck | None = Field(
        None, description="Round neck with wrench flats between body and thread."
    )

    def largest(self) -> Any:
        """Largest diameter where the shank meets the body [mm]."""
        return self.thread.major if self.neck is None else self.neck.diameter

    def run_out(self) -> Any:
        """Length behind the shoulder that has no full thread [mm]."""
        return (
            self.thread.relief("external").total_width if self.undercut else 2.5 * self.thread.pitch
        )

    def rules(self, field: str) -> Iterator[Rule]:
        """Rules of the shank; `field` is its dotted path."""
        chamfer = self.thread.pitch
        yield at_least(
            "shank.length", f"{field}.length", self.length, self.run_out() + self.engagement + chamfer,
            "the thread that must engage does not fit between undercut and tip", "lengthen the shank",
        )  # fmt: skip
        yield threaded.engagement_rule(f"{field}.engagement", self.engagement, self.thread)
        if self.neck is not None:
            yield from self.neck.rules(f"{field}.neck")
            yield at_least(
                "shank.neck", f"{field}.neck.diameter", self.neck.diameter, self.thread.major + 1.0,
                "the jam nut would have no shoulder", "make the neck at least 1 mm larger than the thread",
            )  # fmt: skip

    def steps(self) -> list[Step]:
        """Every turned step, from the back of the body to the tip."""
        steps, here = [], 0.0
        if self.neck is not None:
            steps.append(
                Step("neck", 0.0, self.neck.length, self.neck.diameter, flats=self.neck.flats)
            )
            here = self.neck.length
        major, end = self.thread.major, here + self.length
        if self.undercut:
            relief = self.thread.relief("external")
            d, r = relief.diameter, relief.radius
            slope = relief.total_width - (major - d) / 2.0
            steps += [
                Step("undercut fillet", here, here + r, d + 2.0 * r, d, fillet=True),
                Step("undercut", here + r, here + slope, d),
                Step("undercut run-out", here + slope, here + relief.total_width, d, major),
            ]
            here = here + relief.total_width
        point = self.thread.pitch
        steps.append(Step("thread", here, end - point, major))
        steps.append(Step("thread point", end - point, end, major, major - 1.6 * point))
        return steps

    def loaded_steps(self) -> list[Step]:
        """The steps that carry the whole load: those before the engaged thread."""
        return [step for step in self.steps() if not step.name.startswith("thread")]

    def bored(self, body: cq.Workplane) -> cq.Workplane:
        """The shank with its bores cut: none here."""
        return body


class FemaleThread(Group):
    """A tapped boss."""

    type: Literal["female thread"] = Field(
        "female thread", description="A tapped boss, with a relief behind the thread."
    )
    thread: ThreadName = Field(description="Thread by its designation.")
    depth: PositiveLength = Field(description="Length of full thread in the boss.")
    engagement: PositiveLength = Field(description="Least length of full thread that is engaged.")
    diameter: PositiveLength = Field(description="Outside diameter of the boss.")
    length: PositiveLength = Field(description="Length of the boss behind the body.")
    flats: PositiveLength | None = Field(
        None, description="Distance across its wrench flats; none where left out."
    )
    relief: bool = Field(True, description="Cut a relief groove behind the thread.")

    def largest(self) -> Any:
        return self.diameter

    @property
    def bore_depth(self) -> Any:
        """Depth to the tip of the drill's point [mm]."""
        return threaded.blind_depth(self.thread, self.depth, relief=self.relief)

    def rules(self, field: str) -> Iterator[Rule]:
        """Rules of the shank; `field` is its dotted path."""
        groove = self.thread.relief("internal").diameter if self.relief else self.thread.major
        narrow = self.diameter if self.flats is None else self.flats
        yield at_least(
            "boss.wall", f"{field}.diameter" if self.flats is None else f"{field}.flats", narrow,
            np.maximum(groove + 3.0, 1.4 * self.thread.major),
            "the boss would burst beside its thread (1.4 diameters: common practice, no source)",
            "make the boss larger",
        )  # fmt: skip
        yield threaded.engagement_rule(f"{field}.engagement", self.engagement, self.thread)
        yield at_least(
            "boss.depth", f"{field}.depth", self.depth, self.engagement,
            "more thread must engage than there is",
            "deepen the thread",
        )  # fmt: skip
        yield at_least(
            "boss.length", f"{field}.length", self.length, self.bore_depth + 1.0,
            "the tapped hole would run into the body and its throat",
            "lengthen the boss, or shorten the thread",
        )  # fmt: skip
        if self.flats is not None:
            yield from Neck(diameter=self.diameter, length=1.0, flats=None).rules(field)
            yield at_most(
                "boss.flats", f"{field}.flats", self.flats, 0.97 * self.diameter,
                "flats this far apart cut too little for a wrench to hold", "lessen the distance across flats",
            )  # fmt: skip

    def _bore_steps(self) -> list[tuple[str, Any, float]]:
        """Name, length and bore of each stretch of the boss, from the body to its mouth."""
        behind = self.bore_depth - self.depth
        groove = self.thread.relief("internal")
        tapped = self.thread.minor_internal
        if self.relief:
            return [
                ("thread relief", groove.total_width, groove.diameter),
                ("thread", self.depth, tapped),
            ]
        return [("behind the thread", behind, tapped), ("thread", self.depth, tapped)]

    def steps(self) -> list[Step]:
        return [Step("boss", 0.0, self.length, self.diameter, flats=self.flats)]

    def loaded_steps(self) -> list[Step]:
        """Solid boss, drill's point left out, then the relief: the thread hands the load over from there."""
        whole = self.steps()[0]
        (name, long, bore), (_, depth, _) = self._bore_steps()
        relief = self.length - depth - long
        solid_end = self.length - self.bore_depth
        return [
            Step("boss", whole.low, solid_end, whole.diameter, flats=whole.flats),
            Step(
                f"boss at the {name}",
                relief,
                relief + long,
                whole.diameter,
                flats=whole.flats,
                bore=bore,
            ),
        ]

    def bored(self, body: cq.Workplane) -> cq.Workplane:
        """Cut the tapped hole into a shank whose mouth is at x = -length."""
        tool = threaded.tapped_hole(
            self.thread, self.depth, relief=self.relief, through=False, edge_break=0.3
        )
        flipped = tool.rotate((0, 0, 0), (0, 0, 1), 180.0).translate((-self.length, 0, 0))
        return body.cut(flipped)
