"""The threaded shank of a clevis: a male thread behind an undercut, or a tapped boss.

A shank begins at the flat back of the body and runs toward -x; distances along it are measured from that
face. Each kind states its rules, its load path, its checks and its solid.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar, Literal, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.fatigue_places import Detail, Spot, demand_of, fatigue_factor, thread_spot
from parts.core.feature import Actions, Answers, Modes, Site, no_actions
from parts.core.freebody import Acting, reacting
from parts.core.group import Group
from parts.core.loadpath import smooth
from parts.core.loads import Action, LoadCase, resultant
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.features.bolts.hardware import female_class, male_class, thread_rules
from parts.features.section.notches import SHARP, tapped_relief, turned_fillet
from parts.features.thread import threaded, turned
from parts.features.thread.roots import WIDE_BACK, behind_floor
from parts.features.thread.turned import Step
from parts.inputs.designations import MaterialName, ThreadName
from parts.inputs.quantities import PositiveLength
from parts.standards.fasteners.wrenches import nearest_wrench
from parts.standards.materials.materials import Material
from parts.strength.method import work
from parts.strength.section import bar

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Marks
    from parts.core.loadpath import Notch, Span
    from parts.core.supports import Round, Support

FLATS_LEAST = 8.0
"""Length of wrench flats that a spanner can hold [mm]; common practice, no source."""
WRENCH_SLACK = 0.15
"""How far flats may be from a wrench's size [mm]; common practice, no source."""
NO_NUT = "none is stated, and none is counted on: not against a twist, and not against load that comes and goes"
MOVES = "Ream the pin hole after welding: the ears move with the heat."
ROOM = 0.2
"""How far round shapes keep from the edges of the back that they stand on [mm]."""


class Body(NamedTuple):
    """The back of the body that a shank stands on: `width` along y, `height` along z [mm].

    `back` is its distance behind the pin [mm], `floor` the metal before it, `clocking` the turn of the
    shank about x [rad]. `apart` is the distance between the middles of the ears; where it is left out they are taken
    to stand at the edges of the back.
    """

    width: Any
    height: Any
    back: Any
    floor: Any
    edge_break: Any
    root_fillet: Any
    clocking: Any
    apart: Any = None

    def root(self, fillet: Any, diameter: Any, before: Any = 0.0) -> Notch:
        """The notch of a round on the back, which feels the ears bend the floor; `before` is more metal [mm]."""
        apart = self.height if self.apart is None else self.apart
        return behind_floor(fillet, diameter, self.floor + before, apart, self.width)

    def behind(self, distance: Any) -> np.ndarray:
        """The place on the axis of the shank, a distance behind the back [mm]."""
        x = -(np.asarray(self.back, float) + np.asarray(distance, float))
        return np.stack([x, 0.0 * x, 0.0 * x], axis=-1)

    def wall(self, diameter: Any, low: Any, high: Any) -> Round:
        """A round wall about the shank, between two distances behind the back [mm]."""
        from parts.core.supports import Round

        at = np.array([-float(self.back), 0.0, 0.0])
        return Round(at, (-1.0, 0.0, 0.0), float(diameter), float(low), float(high))

    def carried(self, actions: Sequence[Action], distance: Any) -> tuple[np.ndarray, np.ndarray]:
        """Force [N] and moment [N*mm] of actions about the axis, a distance behind the back [mm]."""
        return resultant(actions, self.behind(distance))

    def holds(self, field: str, diameter: Any) -> Iterator[Rule]:
        """The back is large enough for a round shape with its root fillet, across the ears and over both of them."""
        edges = 2.0 * self.edge_break + ROOM
        yield at_most(
            "clevis.shoulder", field, diameter + 2.0 * self.root_fillet, self.width - edges,
            "with its root fillet it is larger than the ears are wide",
            "widen the ears, or lessen it or the root fillet",
        )  # fmt: skip
        yield at_most(
            "clevis.shoulder", field, diameter + 2.0 * self.root_fillet, self.height - edges,
            "with its root fillet it is larger than the body is thick, over both ears and the gap between them",
            "thicken the ears or widen the gap, or lessen it or the root fillet",
        )  # fmt: skip


def flats_rules(field: str, flats: Any, diameter: Any, length: Any) -> Iterator[Rule]:
    """Rules of a pair of wrench flats `length` long on a round of a diameter [mm]."""
    yield at_most(
        "flats.wide", f"{field}.flats", flats, 0.97 * diameter,
        "flats this far apart cut too little for a wrench to hold", "lessen the distance across flats",
    )  # fmt: skip
    yield at_least(
        "flats.deep", f"{field}.flats", flats, 0.6 * diameter,
        "flats this deep leave too little of the round (common practice, no source)",
        "widen the distance across flats",
    )  # fmt: skip
    yield at_least(
        "flats.short", f"{field}.length", length, FLATS_LEAST,
        "a wrench needs flats 8 mm long beyond the root fillet (common practice, no source)", "lengthen it",
    )  # fmt: skip
    made = nearest_wrench(flats)
    size = np.asarray(made).ravel()[0]
    yield at_most(
        "flats.wrench", f"{field}.flats", np.abs(flats - made), WRENCH_SLACK,
        "no wrench is made for these flats", f"make them {size:.4g} mm ({size / 25.4:.4f} in) across",
    )  # fmt: skip


def root_steps(name: str, fillet: Any, diameter: Any) -> list[Step]:
    """The fillet between the back of the body and a round of a diameter [mm]; none where it is 0."""
    if not np.any(np.asarray(fillet) > 0.0):
        return []
    root = turned_fillet(WIDE_BACK * diameter, diameter, fillet)
    return [
        Step(name, 0.0 * fillet, fillet, diameter + 2.0 * fillet, diameter, fillet=True, notch=root)
    ]


def rooted(steps: Sequence[Step], body: Body) -> list[Step]:
    """The steps on the back of a body, the first with the notch of a root behind its floor: sharp without a fillet."""
    first, *others = steps
    if first.fillet:
        return [first._replace(notch=body.root(first.length, first.end_diameter)), *others]
    return [first._replace(notch=body.root(0.0, first.diameter)), *others]


class Neck(Group):
    """A round stretch between the body and the thread, with flats for a wrench."""

    diameter: PositiveLength = Field(description="Diameter of the neck.")
    length: PositiveLength = Field(description="Length of the neck.")
    flats: PositiveLength | None = Field(
        None, description="Distance across its wrench flats; none where left out."
    )


@dataclass(frozen=True, kw_only=True)
class OnBody(Site):
    """A shank on the back of a body.

    `pins` is what the pin does; with the friction of what swings there that is `actions`, and `reversing` the part that
    changes its sign with every swing.
    """

    body: Body
    pins: Actions = no_actions
    reversing: Actions = no_actions


class Shank(Group, Answers[OnBody]):
    """What a fork stands on, whatever its kind."""

    bored: ClassVar[bool] = False
    """Whether a drawing cuts it along its axis."""
    seen_from_its_end: ClassVar[bool] = False
    """Whether its end shows what no other view does."""
    backs_ears: ClassVar[bool] = True
    """Whether the back of the body has edges of its own, all round."""
    welded: ClassVar[bool] = False
    """Whether a weld beside it softens the body."""
    open_back: ClassVar[bool] = False
    """Whether the body runs on into it, so that its back has no edges to break."""
    filleted: ClassVar[bool] = True
    """Whether the root fillet of the part is its own."""

    def backs(self, body: Body) -> Any:
        """How far from the middle it backs the floor of the throat [mm]; from side to side where it says nothing."""
        return np.inf

    def body_end(self, body: Body) -> Any:
        """How far behind the pin the body keeps its section [mm]."""
        return body.back - body.edge_break

    def body_notch(self, body: Body, start: Any) -> Callable[[Any], Notch]:
        """What raises the stress in the body from a start behind the pin [mm] to its end."""
        return smooth

    def fork_back(self, body: Body) -> float | None:
        """How far behind the pin the uncut body must reach [mm]; to its back where None."""
        return None

    def join(self, fork: cq.Workplane, body: Body) -> cq.Workplane:
        """The fork with it."""
        raise NotImplementedError

    def kinds(self) -> Sequence[Kind]:
        """What can fail of it."""
        raise NotImplementedError


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
        None, description="Material of the tapped part; that of the clevis where left out."
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
        """What a drawing says of it, in the axes of the ears."""
        from parts.features.thread.shank_drawing import male_marks

        return male_marks(self, site.body)

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

    def kinds(self) -> list[Kind]:
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
        return _mating(self.mate)

    def facts(self, site: OnBody) -> Mapping[str, tuple[Any, str]]:
        """Engagement in diameters, and the change of length for each turn."""
        return _thread_facts(self.thread, self.engagement)

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
        return threaded.blind_depth(self.thread, self.depth, relief=self.relief)

    @property
    def groove(self) -> Any:
        """Largest diameter that the thread or its relief leaves in the boss [mm]."""
        return self.thread.relief("internal").diameter if self.relief else self.thread.major

    @property
    def narrow(self) -> Any:
        """The boss where it is thinnest: its diameter, or across its flats [mm]."""
        return self.diameter if self.flats is None else self.flats

    def marks(self, site: OnBody) -> Marks:
        """What a drawing says of it, in the axes of the ears."""
        from parts.features.thread.shank_drawing import female_marks

        return female_marks(self, site.body)

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
            end - threaded.behind_thread(self.thread, relief=self.relief),
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

    def kinds(self) -> list[Kind]:
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
        return _mating(self.mate)

    def facts(self, site: OnBody) -> Mapping[str, tuple[Any, str]]:
        """Engagement in diameters, and the change of length for each turn."""
        return _thread_facts(self.thread, self.engagement)

    def join(self, fork: cq.Workplane, body: Body) -> cq.Workplane:
        """The fork with its boss, tapped."""
        breaks = float(body.edge_break)
        boss = turned.solid(self.steps(float(body.root_fillet), breaks))
        tool = threaded.tapped_hole(
            self.thread, self.depth, relief=self.relief, through=False, edge_break=0.3
        )
        boss = boss.cut(tool.translate((self.length, 0, 0)))
        return fork.union(placed(boss, body))


def placed(shank: cq.Workplane, body: Body) -> cq.Workplane:
    """A shank made along +x, turned to stand behind the back of the body and clocked about x."""
    turned_back = shank.rotate((0, 0, 0), (0, 0, 1), 180.0)
    clocked = turned_back.rotate((0, 0, 0), (1, 0, 0), float(np.degrees(body.clocking)))
    return clocked.translate((-float(body.back), 0, 0))


def _thread_facts(thread: Any, engagement: Any) -> dict[str, tuple[Any, str]]:
    return {
        "thread engagement": (engagement / thread.major, "diameters"),
        "change of length per turn": (thread.pitch, "mm"),
    }


def _mating(made: Material | None) -> dict[str, str]:
    return {} if made is None else {f"mating thread, {made.name}": made.galvanic_family}
