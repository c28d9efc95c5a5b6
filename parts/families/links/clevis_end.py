"""A made clevis on the end of a link: ears, pin and a male thread with its jam nut.

Axes of the feature are those of `parts.features.fork.fork`: the pin at the origin, the ears toward +x.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check
from parts.core.clearances import Clearance
from parts.core.fatigue_places import (
    Detail,
    Spot,
    Stress,
    demand_of,
    fatigue_factor,
    thread_spot,
)
from parts.core.feature import Answers, Modes
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.part import Bought, Piece
from parts.core.rules import Rule, at_most
from parts.core.ways import Kind
from parts.families.links.jam_nut import JamNutLock, nut_of
from parts.families.links.link_column import Rubbing
from parts.families.links.rod_end import BENT, RUBBING
from parts.families.links.sites import AtEnd
from parts.families.links.statics import Joint
from parts.features.bolts.hardware import SURFACES
from parts.features.fork.fork import Ears, InFork
from parts.features.fork.throat import RodEndThroat
from parts.features.section.outlines import chamfered
from parts.features.thread import threaded
from parts.features.thread.body import Body, OnBody
from parts.features.thread.male_thread import MaleThread, Neck
from parts.inputs.designations import MaterialName, ThreadName
from parts.inputs.quantities import NonNegativeLength, NonNegativeRatio, PositiveLength
from parts.standards.fasteners.jam_nuts import JamNut
from parts.standards.materials.materials import Material, material
from parts.strength.method import Worked, plain, work
from parts.strength.pinned import ball_friction
from parts.strength.section.outline import Outline

if TYPE_CHECKING:
    from parts.core.drawing import Drawn
    from parts.core.loadpath import Span
    from parts.core.supports import Applied, Support

HALF_TURN = np.diag([-1.0, -1.0, 1.0])
"""From the axes of a clevis at end a to those of the link."""


class ClevisEnd(Group, Answers[AtEnd]):
    """A made clevis with a male thread."""

    type: Literal["clevis"] = Field(
        "clevis", description="A made clevis with a male thread and a jam nut."
    )
    ears: Ears = Field(description="The ears, their throat and their pin.")
    shank_thread: ThreadName = Field(description="Thread of the shank, with its hand.")
    thread_length: PositiveLength = Field(
        description="From the shoulder to the tip of the thread, undercut included."
    )
    undercut: bool = Field(True, description="Cut a relief groove at the shoulder.")
    neck: Neck | None = Field(
        None, description="Round neck with wrench flats between body and thread."
    )
    material: MaterialName | None = Field(
        None, description="Material of the clevis, as bar; that of the tube or bar where left out."
    )
    root_fillet: NonNegativeLength = Field(
        1.0, description="Fillet where a neck leaves the body; 0 leaves it sharp."
    )
    jam_nut: JamNutLock = Field(default_factory=JamNutLock, description="The jam nut.")
    friction: NonNegativeRatio = Field(
        RUBBING,
        description="Greatest friction of the pin in its blade, or of the ball in its race.",
    )

    @property
    def thread(self) -> Any:
        return self.shank_thread

    @cached_property
    def nut(self) -> JamNut:
        return nut_of(self.shank_thread)

    @cached_property
    def shank(self) -> MaleThread:
        """The male thread behind the ears; what it must engage is the link's to say."""
        return MaleThread.model_construct(
            type="male thread", thread=self.shank_thread, length=self.thread_length,
            engagement=self.shank_thread.major, undercut=self.undercut, neck=self.neck, mate=None,
        )  # fmt: skip

    @property
    def reach(self) -> Any:
        """Pin to the tip of the shank [mm]."""
        return self.ears.back + self.shank.shoulder + self.thread_length

    @property
    def full_thread(self) -> Any:
        """Full thread, counted from the tip [mm]."""
        return self.thread_length - self.shank.run_out()

    def made_of(self, link: Material) -> Material:
        """What it is made of, as bar of its size."""
        name = link.name if self.material is None else self.material.name
        size = np.maximum(self.ears.width, self.ears.height)
        return material(name, thickness_mm=float(np.max(size)), form="bar")

    def body(self, edge_break: Any) -> Body:
        """The back of the ears, on which the shank stands."""
        e = self.ears
        return Body(
            e.width, e.height, e.back, e.floor_thickness, edge_break, self.root_fillet, 0.0, 2.0 * e.middle
        )  # fmt: skip

    @property
    def joint(self) -> Joint:
        """What it turns in: its pin, or the ball of the rod end in its throat."""
        return "ball" if isinstance(self.ears.throat, RodEndThroat) else "pin"

    @property
    def rubbing(self) -> Rubbing:
        """Its pin in what sits in the throat, or the ball there in its race."""
        throat = self.ears.throat
        if isinstance(throat, RodEndThroat):
            return Rubbing(throat.rod_end.ball_diameter, self.friction)
        return Rubbing(self.ears.pin.diameter, self.friction)

    def rules(self, site: AtEnd) -> Iterator[Rule]:
        """Rules of the clevis."""
        self.made_of(site.metal)  # refused here, as an input, where it is not made in that size
        field = site.field
        yield from self.ears.rules(self._in_fork(site))
        yield at_most(
            "clevis.fillet", f"{field}.root_fillet", self.root_fillet,
            np.minimum(10.0, self.ears.floor_thickness - 1.0),
            "the root fillet is larger than the metal behind the throat", "lessen the root fillet",
        )  # fmt: skip
        path = {
            f"{field}.shank.length": f"{field}.thread_length",
            f"{field}.shank.thread": f"{field}.shank_thread",
        }
        for rule in self.shank.rules(self._on_body(site)):
            own = path.get(rule.field, rule.field.replace(f"{field}.shank.", f"{field}."))
            yield replace(rule, field=own)

    def _in_fork(self, site: AtEnd) -> InFork:
        """Where its ears stand; what acts there is what its pin does."""
        return InFork(
            field=f"{site.field}.ears", metal=site.male, name=site.name, edge_break=site.edge_break, actions=site.pins,
            required=site.required, loads=site.loads, piece=site.piece,
            backed=self.shank.backs(self.body(site.edge_break)), open_back=not self.shank.backs_ears,
        )  # fmt: skip

    def _on_body(self, site: AtEnd) -> OnBody:
        """Where its shank stands."""
        return OnBody(
            field=f"{site.field}.shank", metal=site.male, edge_break=site.edge_break, actions=site.actions,
            body=self.body(site.edge_break), pins=site.pins, piece=site.piece,
        )  # fmt: skip

    def spans(self, site: AtEnd) -> Sequence[Span]:
        """The load path from the pin to the thread."""
        found = [
            *self.ears.spans(replace(self._in_fork(site), actions=site.actions)),
            self._block(site),
            *self.shank.spans(self._on_body(site)),
        ]
        return [replace(one, name=f"{site.name}, {one.name}", piece=site.piece) for one in found]

    def _block(self, site: AtEnd) -> Span:
        from parts.core.loadpath import Span, smooth

        ears, c = self.ears, site.edge_break

        def outline(t: Any) -> Outline:
            return chamfered(ears.width + 0.0 * np.asarray(t), ears.height, c)

        def at(x: Any) -> Any:
            return np.stack(np.broadcast_arrays(-np.asarray(x, float), 0.0, 0.0), axis=-1)

        return Span(
            "body", at(ears.depth + c), at(ears.back - c), np.eye(3), outline, site.actions, site.male, stations=5,
            notch=smooth,
        )  # fmt: skip

    def kinds(self, site: AtEnd) -> list[Kind]:
        """What can fail of it."""
        name = site.name
        thread = Kind(
            "male thread", name, left_out={"screwed loose": "no load case twists the link, or a ball lets it turn"}
        )  # fmt: skip
        return [*self.ears.kinds(self._in_fork(site)), thread, self.jam_nut.kind(site)]

    def modes(self, site: AtEnd, case: LoadCase) -> Iterator[Check]:
        """Ears, pin, the bent thread and the jam nut."""
        required, metal, name = site.required(case), site.male, f"{site.name} shank"
        load = site.load(case)
        yield from self.ears.modes(self._in_fork(site), case)
        yield from threaded.tension_modes(
            name, self.thread, metal, load.force.pull, case.name, required
        )
        force = np.stack(np.broadcast_arrays(load.force.pull, 0.0, 0.0), axis=-1)
        bent = np.stack(np.broadcast_arrays(load.twist, plain(load.bent), 0.0), axis=-1)
        for one in threaded.combined_modes(
            name, self.thread, metal, force, bent, case.name, required
        ):
            yield replace(one, note=f"{one.note}; {BENT}")
        yield from self.jam_nut.modes(site, case)

    def standing(self, site: AtEnd) -> Iterator[Check]:
        """A bush pressed into its ears."""
        return self.ears.standing(self._in_fork(site))

    def details(self, site: AtEnd, modes: Modes) -> Sequence[Detail]:
        """The thread of its shank."""
        name = f"{site.name} shank thread, pull with bending, ultimate"
        round_bar = np.sqrt(4.0 / np.pi * self.thread.stress_area)

        def rubbed(case: LoadCase) -> Worked:
            return work(ball_friction.shank_amplitude, M=site.load(case).rubs, d3=round_bar)

        stress = demand_of(modes, name)
        found: list[Detail] = [
            thread_spot(f"{site.name} shank", self.thread, site.male, stress, rubbed)
        ]
        pin = self.ears.details(self._in_fork(site), modes)
        return [*found, self._root(site, modes, name, rubbed), *pin]

    def _root(self, site: AtEnd, modes: Modes, name: str, rubbed: Stress) -> Detail:
        """The root of its shank behind the floor of the throat: the undercut or the sharp shoulder of its thread, or
        the root of its neck; bent there as the thread is at the body, which lies farther off."""
        body, thread = self.body(site.edge_break), self.thread
        relief = thread.relief("external")
        if self.neck is not None:
            d, notch = self.neck.diameter, body.root(self.root_fillet, self.neck.diameter)
        elif self.undercut:
            d, notch = relief.diameter, body.root(relief.radius, relief.diameter)
        else:
            d, notch = thread.minor_external, body.root(0.0, thread.minor_external)
        # The thread's stresses are of its stress area.
        thinner = np.maximum(1.0, np.power(np.sqrt(4.0 / np.pi * thread.stress_area) / d, 3.0))
        return Spot(
            f"{site.name} ear, root of the shank behind the floor", site.male, demand_of(modes, name, thinner), d,
            fatigue_factor(site.male, notch), note="the ears bend the floor of the throat",
            reversed=lambda case: thinner * plain(rubbed(case)),
        )  # fmt: skip

    def supports(self, site: AtEnd) -> Sequence[Support]:
        """Its thread in the body of the link."""
        return self.shank.supports(self._on_body(site))

    def applied(self, site: AtEnd, case: LoadCase) -> Sequence[Applied]:
        """Its pin, with what bends the shank beside it."""
        return self.ears.applied(replace(self._in_fork(site), actions=site.actions), case)

    def pieces(self, site: AtEnd) -> list[Piece]:
        """Its solid, in place."""
        edge_break = float(site.edge_break)
        solid = self.shank.join(self.ears.solid(edge_break), self.body(edge_break))
        if site.i == 0:
            solid = solid.rotate((0, 0, 0), (0, 0, 1), 180.0)
        return [Piece(site.piece, site.male, solid.translate((float(site.at[..., 0]), 0, 0)))]

    def facts(self, site: AtEnd) -> dict[str, tuple[Any, str]]:
        """The throat, what rides in it, the jam nut's torque, and a bush's fit."""
        torque = self.jam_nut.tightening(self.thread, site.male.yield_strength)
        found: dict[str, tuple[Any, str]] = {
            f"throat at {site.name}": (self.ears.throat.width, "mm"),
            f"jam nut torque at {site.name}": (torque / 1000.0, "N*m"),
        }
        if isinstance(self.ears.throat, RodEndThroat):
            swing = np.degrees(self.ears.throat.swing())
            found[f"swing to one side at {site.name}"] = (swing, "deg")
        if pressed := self.ears.pressed(self._in_fork(site)):
            found |= {f"{site.name}: {what}": fact for what, fact in pressed.facts().items()}
        return found

    def touching(self, site: AtEnd) -> Mapping[str, str]:
        """Its jam nut."""
        return {"jam nut": SURFACES["rod end"]}

    def cautions(self, site: AtEnd) -> Sequence[str]:
        """What keeps its pin."""
        return self.ears.cautions(self._in_fork(site))

    def clearances(self, site: AtEnd) -> Sequence[Clearance]:
        """Its pin, and what sits in its throat."""
        return self.ears.clearances(self._in_fork(site))

    def bought(self, site: AtEnd) -> list[Bought]:
        """The jam nut, the pin, and what sits in the throat."""
        return [
            Bought(f"jam nut {self.thread.designation}", 1, site.name, self.nut.source),
            *self.ears.bought(self._in_fork(site)),
        ]

    def drawn(self, site: AtEnd) -> list[Drawn]:
        """Its sheet."""
        from parts.features.fork.sheet import fork_drawn

        sheet = fork_drawn(
            self.ears, self._in_fork(site), self.shank, self._on_body(site), origin=site.at, axes=site.turn,
            piece=site.piece, title=f"clevis, {self.thread.designation}",
        )  # fmt: skip
        return [sheet]
