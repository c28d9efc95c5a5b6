"""A shank with a male thread behind an undercut, on a neck or not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check
from parts.core.fatigue_places import Detail, Spot, demand_of, fatigue_factor, thread_spot
from parts.core.feature import Modes
from parts.core.freebody import Acting, reacting
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.features.bolts.hardware import male_class, thread_rules
from parts.features.section.notches import SHARP, turned_fillet
from parts.features.thread import threaded, turned
from parts.features.thread.body import (
    ROOM,
    Body,
    OnBody,
    Shank,
    flats_rules,
    mating,
    placed,
    root_steps,
    rooted,
    thread_facts,
)
from parts.features.thread.roots import WIDE_BACK
from parts.features.thread.turned import Step
from parts.inputs.designations import MaterialName, ThreadName
from parts.inputs.quantities import PositiveLength

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Callout, Dimension, Marks
    from parts.core.loadpath import Span
    from parts.core.supports import Support

X, Y, Z = np.eye(3)
NO_NUT = "none is stated, and none is counted on: not against a twist, and not against load that comes and goes"


class Neck(Group):
    """A round stretch between the body and the thread, with flats for a wrench."""

    diameter: PositiveLength = Field(description="Diameter of the neck.")
    length: PositiveLength = Field(description="Length of the neck.")
    flats: PositiveLength | None = Field(
        None, description="Distance across its wrench flats; none where left out."
    )


class MaleThread(Shank):
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
    mate: MaterialName | None = Field(
        None, description="Material of the tapped part; that of this part where left out."
    )
    mate_thread: ThreadName | None = Field(
        None,
        description="Thread of the tapped part by its designation, to see that both go together.",
    )

    @property
    def shoulder(self) -> Any:
        """From the back of the body to the shoulder of the thread [mm]."""
        return 0.0 if self.neck is None else self.neck.length

    def marks(self, site: OnBody) -> Marks:
        """Thread, neck, undercut and point, in the axes of the ears."""
        from parts.core.drawing import Callout, CentreLine, Diameter, Linear, Marks, ThreadLines
        from parts.features.thread.body_marks import flats_sizes, root_marks, turned_marks

        body = site.body
        thread, start = self.thread, float(self.shoulder)
        end, major = start + float(self.length), float(thread.major)
        sizes: list[Dimension] = [
            Diameter(
                "thread",
                (-end + float(thread.pitch) * 2, 0, 0),
                X,
                major,
                text=thread.called("external"),
                view="front",
            ),
            Linear(
                "length of the thread",
                (-end, 0, 0),
                (-start, major / 2, 0),
                X,
                end - start,
                view="front",
            ),
        ]
        if self.neck is not None:
            wide = float(self.neck.diameter)
            place = (-start, 0.0, 0.0)
            sizes += [
                Diameter("neck", place, X, wide, view="top"),
                Linear(
                    "length of the neck",
                    (-start, wide / 2, 0),
                    (0, wide / 2, 0),
                    X,
                    start,
                    view="front",
                ),
                *root_marks(body, wide),
                *flats_sizes(self.neck.flats, float(body.root_fillet), start),
            ]
        full = start
        if self.undercut:
            relief = thread.relief("external")
            full = start + float(relief.total_width)
            narrow, round_ = float(relief.diameter), float(relief.radius)
            sizes.append(self._undercut(start, full, narrow, round_))
        point = float(thread.pitch)
        thin = major - 1.6 * point
        tip = Callout(
            "thread point",
            (-end, -thin / 2, 0),
            "point {0} long to {1}",
            (
                Linear("length of the point", (-end, 0, 0), (-end + point, 0, 0), X, point),
                Diameter("tip of the thread", (-end, 0, 0), X, thin),
            ),
            view="front",
        )
        lines = ThreadLines((-full, 0, 0), (-end, 0, 0), major, float(thread.minor_external))
        flatted = self.neck is not None and self.neck.flats is not None
        marks = Marks((*sizes, tip), (), (lines,), (CentreLine((0, 0, 0), (-end, 0, 0)),))
        return turned_marks(marks, body, "Wrench flats" if flatted else "")

    def _undercut(self, start: float, full: float, narrow: float, radius: float) -> Callout:
        """The groove behind a shoulder at `start` that runs out to the full thread at `full` [mm]."""
        from parts.core.drawing import Callout, Diameter, Linear, Radius

        corner = (-start - radius, -(narrow / 2 + radius), 0.0)
        half = (float(self.thread.major) - narrow) / 4.0
        return Callout(
            "undercut",
            (-full + half, -narrow / 2 - half, 0.0),
            "undercut {0} × {1} wide\n{2} at the shoulder, 45° run-out",
            (
                Diameter("undercut", (-start - radius, 0, 0), X, narrow),
                Linear("width of the undercut", (-full, 0, 0), (-start, 0, 0), X, full - start),
                Radius("fillet of the undercut", corner, Z, (X + Y) / np.sqrt(2.0), radius),
            ),
            view="front",
        )

    def run_out(self) -> Any:
        """Length behind the shoulder that has no full thread [mm]."""
        return (
            self.thread.relief("external").total_width if self.undercut else 2.5 * self.thread.pitch
        )

    def rules(self, site: OnBody) -> Iterator[Rule]:
        """Rules of the shank; `field` is its dotted path."""
        field, body = site.field, site.body
        yield at_least(
            "shank.length", f"{field}.length", self.length,
            self.run_out() + self.engagement + self.thread.pitch,
            "the thread that must engage does not fit between undercut and tip", "lengthen the shank",
        )  # fmt: skip
        yield at_most(
            "shank.long", f"{field}.length", self.length, 15.0 * self.thread.major,
            "a thread this long is a studding; it looks like the wrong unit", "check the unit of this value",
        )  # fmt: skip
        yield threaded.engagement_rule(f"{field}.engagement", self.engagement, self.thread)
        if self.mate_thread is None:
            yield male_class(f"{field}.thread", self.thread)
        else:
            yield from thread_rules(f"{field}.mate_thread", self.thread, self.mate_thread)
        if self.neck is None:
            yield at_most(
                "shank.shoulder", f"{field}.thread", self.thread.major + 1.0,
                np.minimum(body.width, body.height) - 2.0 * body.edge_break - ROOM,
                "the back of the body leaves the jam nut no shoulder",
                "widen the body, or choose a smaller thread",
            )  # fmt: skip
            return
        yield from body.holds(f"{field}.neck.diameter", self.neck.diameter)
        yield at_least(
            "shank.neck", f"{field}.neck.diameter", self.neck.diameter,
            self.thread.major + 1.0 + 2.0 * body.edge_break,
            "the jam nut would have no shoulder",
            "make the neck at least 1 mm larger than the thread and its edge break",
        )  # fmt: skip
        yield at_least(
            "shank.neck_length", f"{field}.neck.length", self.neck.length,
            body.root_fillet + body.edge_break + 0.5,
            "the root fillet is longer than the neck", "lengthen the neck, or lessen the root fillet",
        )  # fmt: skip
        if self.neck.flats is not None:
            free = self.neck.length - body.root_fillet - body.edge_break
            yield from flats_rules(f"{field}.neck", self.neck.flats, self.neck.diameter, free)
            yield at_least(
                "shank.flats", f"{field}.neck.flats", self.neck.flats, self.thread.major + 0.5,
                "the flats would cut into the thread's shoulder", "widen the flats, or choose a smaller thread",
            )  # fmt: skip

    def steps(self, root_fillet: Any, edge_break: Any = 0.0) -> list[Step]:
        """Every turned step, from the back of the body to the tip."""
        here = self.shoulder
        steps = [] if self.neck is None else _neck_steps(self.neck, root_fillet, edge_break)
        major, end = self.thread.major, here + self.length
        if self.undercut:
            relief = self.thread.relief("external")
            d, r = relief.diameter, relief.radius
            full = here + relief.total_width
            slope = full - (major - d) / 2.0
            wide = WIDE_BACK * d if self.neck is None else self.neck.diameter
            root = turned_fillet(wide, d, r)
            steps += [
                Step("undercut fillet", here, here + r, d + 2.0 * r, d, fillet=True, notch=root),
                Step("undercut", here + r, slope, d, notch=root),
                Step("undercut run-out", slope, full, d, major),
            ]
            here = full
        point = self.thread.pitch
        steps.append(Step("thread", here, end - point, major))
        steps.append(Step("thread point", end - point, end, major, major - 1.6 * point))
        return steps

    def spans(self, site: OnBody) -> Sequence[Span]:
        """The load path through what lies before the engaged thread."""
        body, metal = site.body, site.metal
        before = [step for step in self._all(body) if step.name[:6] != "thread"]
        if self.undercut:
            relief = self.thread.relief("external")
            root = body.root(relief.radius, relief.diameter, self.shoulder)
            before = [
                step._replace(notch=root) if step.name in ("undercut fillet", "undercut") else step
                for step in before
            ]
        if self.neck is not None:
            before = rooted(before, body)
        return turned.spans(
            before, metal, site.actions, place=body.behind, axes=np.eye(3), turn=body.clocking,
            reversing=site.reversing,
        )  # fmt: skip

    def backs(self, body: Body) -> Any:
        """How far from the middle the shank backs the floor of the throat [mm]."""
        if self.neck is not None:
            return self.neck.diameter / 2.0 + body.root_fillet
        relief = self.thread.relief("external")
        return relief.diameter / 2.0 + relief.radius if self.undercut else self.thread.major / 2.0

    def kinds(self, site: OnBody) -> list[Kind]:
        """What can fail of it."""
        return [Kind("male thread", "shank", {"jam nut": NO_NUT})]

    def modes(self, site: OnBody, case: LoadCase) -> Iterator[Check]:
        """Tension, tension with bending, strip of the thread by pull and moment, and a twist that unscrews it."""
        body, metal, actions, required = (
            site.body,
            site.metal,
            site.actions(case),
            site.required(case),
        )
        force, moment = body.carried(actions, self.shoulder + self.run_out())
        yield from threaded.tension_modes(
            "shank", self.thread, metal, force[..., 0], case.name, required
        )
        yield from threaded.combined_modes(
            "shank", self.thread, metal, force, moment, case.name, required
        )
        yield from threaded.strip_modes(
            "shank", self.thread, metal, self.mate or metal, self.engagement,
            threaded.pull_of(self.thread, force, moment), case.name, required,
        )  # fmt: skip
        yield from threaded.twist_modes("shank", self.thread, force, moment, case.name, required)

    def holding(self, site: OnBody, case: LoadCase) -> Sequence[Acting]:
        """What holds the clevis: the thread at its first full turn."""
        body, actions = site.body, site.pins(case)
        at = self.shoulder + self.run_out()
        return [reacting("shank thread", body.behind(at), body.carried(actions, at))]

    def details(self, site: OnBody, modes: Modes) -> Sequence[Detail]:
        """The first turn of the thread, and its shoulder where no neck or undercut stands before it."""
        body, metal, reversing = site.body, site.metal, site.reversing
        stress = demand_of(modes, "shank thread, pull with bending, ultimate")
        rubs = partial(threaded.bent_by, self.thread, reversing)
        found: list[Detail] = [thread_spot("shank thread", self.thread, metal, stress, rubs)]
        if self.neck is None and not self.undercut:
            sharp = fatigue_factor(metal, body.root(0.0, self.thread.minor_external))
            note = "the thread runs up to a sharp shoulder: no factor is known for it"
            name = "shoulder of the shank thread"
            found.append(
                Spot(name, metal, stress, self.thread.major, sharp, note=note, reversed=rubs)
            )
        return found

    def supports(self, site: OnBody) -> Sequence[Support]:
        """Its engaged thread."""
        from parts.core.supports import Support

        start = self.shoulder + self.run_out()
        wall = site.body.wall(self.thread.major, start, start + self.engagement)
        return (Support("thread", (wall,), float(self.thread.major)),)

    def touching(self, site: OnBody) -> Mapping[str, str]:
        """What it screws into."""
        return mating(self.mate)

    def facts(self, site: OnBody) -> Mapping[str, tuple[Any, str]]:
        """Engagement in diameters, and the change of length for each turn."""
        return thread_facts(self.thread, self.engagement)

    def join(self, fork: cq.Workplane, body: Body) -> cq.Workplane:
        """The fork with its shank."""
        return fork.union(placed(turned.solid(self._all(body)), body))

    def _all(self, body: Body) -> list[Step]:
        return self.steps(body.root_fillet, body.edge_break)


def _neck_steps(neck: Neck, root_fillet: Any, edge_break: Any) -> list[Step]:
    steps = root_steps("root fillet", root_fillet, neck.diameter)
    face, d, flats = neck.length - edge_break, neck.diameter, neck.flats
    notch = turned.SMOOTH if flats is None else SHARP
    steps.append(Step("neck", root_fillet if steps else 0.0, face, d, flats=flats, notch=notch))
    if np.any(np.asarray(edge_break) > 0.0):
        steps.append(Step("neck edge", face, neck.length, d, d - 2.0 * edge_break, flats=flats))
    return steps
