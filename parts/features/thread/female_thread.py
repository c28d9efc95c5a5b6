"""A tapped boss behind a body."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.fatigue_places import Detail, demand_of, thread_spot
from parts.core.feature import Modes
from parts.core.freebody import Acting, reacting
from parts.core.loads import LoadCase
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.features.bolts.hardware import female_class, thread_rules
from parts.features.section.notches import tapped_relief
from parts.features.thread import threaded, turned
from parts.features.thread.body import (
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
from parts.features.thread.turned import Step
from parts.inputs.designations import MaterialName, ThreadName
from parts.inputs.quantities import PositiveLength
from parts.strength.method import work
from parts.strength.section import bar

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Marks
    from parts.core.loadpath import Span
    from parts.core.supports import Support

X = np.eye(3)[0]


class FemaleThread(Shank):
    """A tapped boss."""

    bored: ClassVar[bool] = True
    seen_from_its_end: ClassVar[bool] = True

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
    beyond_thread: threaded.BeyondThread = threaded.BEYOND
    mate: MaterialName | None = Field(
        None, description="Material of the male thread; that of the clevis where left out."
    )
    mate_thread: ThreadName | None = Field(
        None,
        description="Thread of what screws in by its designation, to see that both go together.",
    )

    @property
    def bore_depth(self) -> Any:
        """Depth to the tip of the drill's point [mm]."""
        return threaded.blind_depth(
            self.thread, self.depth, relief=self.relief, beyond=self.beyond_thread
        )

    @property
    def groove(self) -> Any:
        """Largest diameter that the thread or its relief leaves in the boss [mm]."""
        return self.thread.relief("internal").diameter if self.relief else self.thread.major

    @property
    def narrow(self) -> Any:
        """The boss where it is thinnest: its diameter, or across its flats [mm]."""
        return self.diameter if self.flats is None else self.flats

    def marks(self, site: OnBody) -> Marks:
        """Boss, tapped hole with its relief, and flats, in the axes of the ears."""
        from parts.core.drawing import CentreLine, Diameter, Linear, Marks
        from parts.features.thread.body_marks import flats_sizes, root_marks, turned_marks
        from parts.features.thread.tapped_marks import tapped_marks

        body, length, wide = site.body, float(self.length), float(self.diameter)
        hole, lines, full, relief = tapped_marks(
            "tapped boss", self.thread, -length, 1.0, float(self.depth), relief=self.relief, beyond=self.beyond_thread,
            sink=0.6, relief_name="relief behind the thread",
        )  # fmt: skip
        start, end = (-length, wide / 2, 0), (0, wide / 2, 0)
        sizes = (
            Diameter("boss", (-length, 0, 0), X, wide, view="front"),
            Linear("length of the boss", start, end, X, length, view="front"),
            *root_marks(body, wide),
            *flats_sizes(self.flats, float(body.root_fillet), length),
            *full,
            *relief,
        )
        marks = Marks(sizes, (hole,), (lines,), (CentreLine((0, 0, 0), (-length, 0, 0)),))
        return turned_marks(marks, body, "" if self.flats is None else "Wrench flats")

    def rules(self, site: OnBody) -> Iterator[Rule]:
        """Rules of the shank; `field` is its dotted path."""
        field, body = site.field, site.body
        yield from body.holds(f"{field}.diameter", self.diameter)
        yield at_least(
            "boss.wall", f"{field}.diameter" if self.flats is None else f"{field}.flats", self.narrow,
            np.maximum(self.groove + 3.0, 1.4 * self.thread.major),
            "the boss would burst beside its thread (1.4 diameters: common practice, no source)",
            "make the boss larger",
        )  # fmt: skip
        yield threaded.engagement_rule(f"{field}.engagement", self.engagement, self.thread)
        if self.mate_thread is None:
            yield female_class(f"{field}.thread", self.thread)
        else:
            yield from thread_rules(f"{field}.mate_thread", self.mate_thread, self.thread)
        yield at_least(
            "boss.depth", f"{field}.depth", self.depth, self.engagement,
            "more thread must engage than there is",
            "deepen the thread",
        )  # fmt: skip
        yield at_most(
            "boss.long", f"{field}.length", self.length, 20.0 * self.thread.major,
            "a boss this long is a tube; it looks like the wrong unit", "check the unit of this value",
        )  # fmt: skip
        yield at_least(
            "boss.length", f"{field}.length", self.length,
            self.bore_depth + body.root_fillet + 1.0,
            "the tapped hole would run into the root fillet and the body",
            "lengthen the boss, or shorten the thread",
        )  # fmt: skip
        if self.flats is not None:
            free = self.length - body.root_fillet - body.edge_break
            yield from flats_rules(field, self.flats, self.diameter, free)

    def steps(self, root_fillet: Any, edge_break: Any = 0.0) -> list[Step]:
        """The outside of the boss: root fillet, boss, and the chamfer at its mouth."""
        steps = root_steps("root fillet", root_fillet, self.diameter)
        free, mouth = root_fillet if steps else 0.0, self.length - edge_break
        steps.append(Step("boss", free, mouth, self.diameter, flats=self.flats))
        if np.any(np.asarray(edge_break) > 0.0):
            narrow = self.diameter - 2.0 * edge_break
            steps.append(Step("mouth", mouth, self.length, self.diameter, narrow, flats=self.flats))
        return steps

    def loaded_steps(self, root_fillet: Any) -> list[Step]:
        """The boss as far as the thread, that takes the load over from there.

        The stretch with the drill's point in it is left out: the hollow stretch behind it is the weaker.
        """
        steps = root_steps("root fillet", root_fillet, self.diameter)
        bore = self.groove if self.relief else self.thread.minor_internal
        end = self.length - self.depth
        hollow = Step(
            "boss behind the thread",
            end
            - threaded.behind_thread(self.thread, relief=self.relief, beyond=self.beyond_thread),
            end,
            self.diameter,
            flats=self.flats,
            bore=bore,
            notch=tapped_relief(self.thread, self.narrow, relief=self.relief),
        )
        free, tip = root_fillet if steps else 0.0, self.length - self.bore_depth
        return [*steps, Step("boss", free, tip, self.diameter, flats=self.flats), hollow]

    def spans(self, site: OnBody) -> Sequence[Span]:
        """The load path through the boss as far as the thread."""
        body, metal = site.body, site.metal
        steps = rooted(self.loaded_steps(body.root_fillet), body)
        return turned.spans(
            steps, metal, site.actions, place=body.behind, axes=np.eye(3), turn=body.clocking,
            reversing=site.reversing,
        )  # fmt: skip

    def backs(self, body: Body) -> Any:
        """How far from the middle the boss backs the floor of the throat [mm]."""
        return self.diameter / 2.0 + body.root_fillet

    def kinds(self, site: OnBody) -> list[Kind]:
        """What can fail of it and of what screws in."""
        return [Kind("female thread", "shank"), Kind("mating bolt", "mating male thread")]

    def modes(self, site: OnBody, case: LoadCase) -> Iterator[Check]:
        """Tension of the boss across the roots of its thread; what screws in at the boss's mouth, pulled and bent;
        strip of both threads, and a twist that unscrews them."""
        body, metal, actions, required = (
            site.body,
            site.metal,
            site.actions(case),
            site.required(case),
        )
        force, _ = body.carried(actions, self.length - self.depth)
        at_mouth, bent = body.carried(actions, self.length)
        mate = self.mate or metal
        area = np.pi / 4.0 * (np.square(self.narrow) - np.square(self.groove))
        stress = work(bar.direct_stress, F=np.abs(force[..., 0]), A=area)
        for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
            yield check(
                f"shank boss, {kind}", "boss tension", load_case=case.name, demand=stress, capacity=strength,
                unit="MPa",
                required=factor, note="ring between the thread's root or relief and the flats",
            )  # fmt: skip
        yield from threaded.tension_modes(
            "mating male", self.thread, mate, force[..., 0], case.name, required
        )
        yield from threaded.combined_modes(
            "mating male", self.thread, mate, at_mouth, bent, case.name, required
        )
        yield from threaded.strip_modes(
            "shank", self.thread, mate, metal, self.engagement, threaded.pull_of(self.thread, at_mouth, bent),
            case.name, required, self.narrow,
        )  # fmt: skip
        yield from threaded.twist_modes("shank", self.thread, at_mouth, bent, case.name, required)

    def holding(self, site: OnBody, case: LoadCase) -> Sequence[Acting]:
        """What holds the clevis: the thread at its first full turn."""
        body, actions = site.body, site.pins(case)
        at = self.length - self.depth
        return [reacting("mating thread", body.behind(at), body.carried(actions, at))]

    def details(self, site: OnBody, modes: Modes) -> Sequence[Detail]:
        """The thread of what screws in."""
        made, reversing = self.mate or site.metal, site.reversing
        stress = demand_of(modes, "mating male thread, pull with bending, ultimate")
        rubs = partial(threaded.bent_by, self.thread, reversing)
        return [thread_spot("mating male thread", self.thread, made, stress, rubs)]

    def supports(self, site: OnBody) -> Sequence[Support]:
        """Its engaged thread."""
        from parts.core.supports import Support

        start = self.length - self.depth
        wall = site.body.wall(self.thread.minor_internal, start, start + self.engagement)
        return (Support("thread", (wall,), float(self.thread.major)),)

    def touching(self, site: OnBody) -> Mapping[str, str]:
        """What screws into it."""
        return mating(self.mate)

    def facts(self, site: OnBody) -> Mapping[str, tuple[Any, str]]:
        """Engagement in diameters, and the change of length for each turn."""
        return thread_facts(self.thread, self.engagement)

    def join(self, fork: cq.Workplane, body: Body) -> cq.Workplane:
        """The fork with its boss, tapped."""
        breaks = float(body.edge_break)
        boss = turned.solid(self.steps(float(body.root_fillet), breaks))
        tool = threaded.tapped_hole(
            self.thread,
            self.depth,
            relief=self.relief,
            beyond=self.beyond_thread,
            through=False,
            edge_break=0.3,
        )
        boss = boss.cut(tool.translate((self.length, 0, 0)))
        return fork.union(placed(boss, body))
