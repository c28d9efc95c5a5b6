"""A bought rod end on a link: how far it reaches, how deep it screws in, how it swings, and what it bears."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.fatigue_places import Detail, demand_of, thread_spot
from parts.core.feature import Answers, Modes
from parts.core.group import Group
from parts.core.loads import LoadCase, Required
from parts.core.part import Bought, Piece
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.links.jam_nut import JamNutLock, nut_of
from parts.families.links.link_column import Rubbing
from parts.families.links.sites import AtEnd
from parts.families.links.statics import EndForce, Joint
from parts.features.bolts.hardware import (
    LOOSE_PIN,
    SPIGOT_WALL,
    SURFACES,
    male_class,
    swing,
    swing_rule,
)
from parts.features.fork.ball import often_modes
from parts.inputs.designations import MaterialName, RodEndName
from parts.inputs.quantities import (
    Angle,
    NonNegativeLength,
    NonNegativeRatio,
    PositiveForce,
    PositiveLength,
)
from parts.standards.fasteners.jam_nuts import JamNut
from parts.standards.materials.materials import Material, material
from parts.standards.rod_ends.rod_ends import RATING_NOTE
from parts.standards.threads.threads import Thread
from parts.strength.method import Worked, work
from parts.strength.pinned import ball_friction, rated_ball
from parts.strength.pinned import rod_end as rodend

if TYPE_CHECKING:
    from parts.core.drawing import Drawn

RUBBING = ball_friction.race_friction("steel on bronze")
"""Friction of a ball or pin where none is stated [-]: the greatest printed for any pair."""
BENT = "at the longest, bent where it enters the body, as if its jam nut were loose; friction of the pins counted"


class RodEndEnd(Group, Answers[AtEnd]):
    """A male rod end, bought in, with its jam nut, and what it works in."""

    type: Literal["rod end"] = Field("rod end", description="A bought rod end with its jam nut.")
    rod_end: RodEndName = Field(description="The rod end by its designation, male, with its hand.")
    shank: PositiveLength | None = Field(
        None, description="Pin to the end of the shank as measured, where it is not the table's."
    )
    thread_length: PositiveLength | None = Field(
        None, description="Full thread on the shank as measured, where it is not the table's."
    )
    steel: MaterialName = Field(
        "1018 cold drawn",
        validate_default=True,
        description="Material of the rod end's body, for what its maker's rating does not cover.",
    )
    rating: PositiveForce | None = Field(
        None, description="The maker's static radial rating; a generic one is worked out without."
    )
    jam_nut: JamNutLock = Field(default_factory=JamNutLock, description="The jam nut.")
    friction: NonNegativeRatio = Field(
        RUBBING,
        description="Greatest friction of the ball in its race; 0.15 for a liner of PTFE fabric.",
    )
    spacer: NonNegativeLength = Field(
        0.0, description="Length of the spacer on each side of the ball; 0 for none."
    )
    spacers: Literal["plain", "high misalignment"] = Field(
        "plain",
        description="Plain spacers on a bolt that fills the ball, or stepped ones for a thinner bolt.",
    )
    bolt: PositiveLength | None = Field(
        None, description="Diameter of the bolt through the ball; the ball's bore where left out."
    )
    swing_needed: Angle = Field(0.0, description="Swing to one side that the joint must have.")

    @property
    def thread(self) -> Thread:
        """The thread of the shank, and so of the body."""
        return self.rod_end.thread

    @cached_property
    def nut(self) -> JamNut:
        return nut_of(self.thread)

    @property
    def reach(self) -> Any:
        """Pin to the tip of the shank [mm]."""
        return self.rod_end.length if self.shank is None else self.shank

    @property
    def full_thread(self) -> Any:
        """Full thread, counted from the tip [mm]."""
        return self.rod_end.thread_length if self.thread_length is None else self.thread_length

    @property
    def gap(self) -> Any:
        """Room between the ears of its clevis [mm]."""
        return self.rod_end.ball_width + 2.0 * self.spacer

    @property
    def bolt_diameter(self) -> Any:
        """Diameter of the bolt through the ball [mm]."""
        return self.rod_end.bore if self.bolt is None else self.bolt

    def swing(self) -> Any:
        """Swing to one side before the head meets an ear or the race a shoulder [rad]."""
        return swing(self.rod_end, self.gap)

    def rules(self, site: AtEnd) -> Iterator[Rule]:
        """Rules of the end by itself."""
        r, field = self.rod_end, site.field
        yield at_least(
            "end.male", f"{field}.rod_end", 1.0 if r.gender == "male" else 0.0, 1.0,
            "a female rod end does not screw into the body", "choose a male rod end", "",
        )  # fmt: skip
        yield at_least(
            "end.head", f"{field}.thread_length", self.reach, self.full_thread + r.head_diameter / 2.0,
            "so much thread would run into the eye of the rod end", "measure thread and shank again",
        )  # fmt: skip
        yield swing_rule(f"{field}.swing_needed", r, self.gap, self.swing_needed)
        yield male_class(f"{field}.rod_end", r.thread)
        bolt = np.asarray(self.bolt_diameter, float)
        if self.spacers == "plain":
            yield at_most(
                "end.bolt", f"{field}.bolt", bolt, r.bore + 0.01, "the bolt does not enter the ball",
                "choose a thinner bolt or a larger rod end",
            )  # fmt: skip
            yield at_least(
                "end.loose", f"{field}.bolt", bolt, r.bore - LOOSE_PIN,
                "the bolt rattles in the ball (common practice, no source)",
                "choose a bolt that fills the ball, or high misalignment spacers that sleeve it",
            )  # fmt: skip
            return
        yield at_most(
            "end.spigot", f"{field}.bolt", bolt, r.bore - 2.0 * SPIGOT_WALL,
            "the spigot of the spacer would have less than 1 mm of wall",
            "state a thinner bolt, or choose a larger rod end",
        )  # fmt: skip
        yield at_least(
            "end.collar", f"{field}.spacer", self.spacer, 1.0,
            "a high misalignment spacer needs a collar outside the ball", "give it a length of 1 mm or more",
        )  # fmt: skip

    @property
    def joint(self) -> Joint:
        """What it turns in."""
        return "ball"

    @property
    def rubbing(self) -> Rubbing:
        """The ball in its race."""
        return Rubbing(self.rod_end.ball_diameter, self.friction)

    def made_of(self, link: Material) -> Material:
        """The steel of its body."""
        return material(self.steel.name)

    def details(self, site: AtEnd, modes: Modes) -> Sequence[Detail]:
        """The thread of its shank."""
        name = f"{site.name} shank"

        def rubbed(case: LoadCase) -> Worked:
            return work(
                ball_friction.shank_amplitude, M=site.load(case).rubs, d3=self.thread.minor_external
            )

        return [thread_spot(name, self.thread, site.male, demand_of(modes, name), rubbed)]

    def facts(self, site: AtEnd) -> dict[str, tuple[Any, str]]:
        """Swing left and the jam nut's torque."""
        name = site.name
        left = np.degrees(np.asarray(self.swing(), float) - self.swing_needed)
        torque = self.jam_nut.tightening(self.thread, site.male.yield_strength)
        return {
            f"swing to one side at {name}": (np.degrees(self.swing()), "deg"),
            f"swing left over what is needed at {name}": (left, "deg"),
            f"jam nut torque at {name}": (torque / 1000.0, "N*m"),
        }

    def touching(self, site: AtEnd) -> Mapping[str, str]:
        """Rod end and jam nut."""
        return {"rod end": SURFACES["rod end"], "jam nut": SURFACES["rod end"]}

    def pieces(self, site: AtEnd) -> list[Piece]:
        """Nothing: it is bought."""
        return []

    def drawn(self, site: AtEnd) -> list[Drawn]:
        """Nothing: it is bought."""
        return []

    def bought(self, site: AtEnd) -> list[Bought]:
        """The rod end, its jam nut, and its spacers."""
        r, fits = self.rod_end, site.name
        measured = ""
        if self.shank is not None or self.thread_length is not None:
            reach, full = float(self.reach), float(self.full_thread)
            measured = f", shank {reach:g} mm from the pin, {full:g} mm of it threaded"
        found = [
            Bought(f"rod end {r.designation}{measured}", 1, fits, r.source),
            Bought(f"jam nut {self.thread.designation}", 1, fits, self.nut.source),
        ]
        if np.any(np.asarray(self.spacer) > 0.0):
            face, long, bolt = (
                float(x) for x in (r.face_diameter, self.spacer, self.bolt_diameter)
            )
            size = f"{face:.4g} mm over its shoulder, {long:.4g} mm long, for a {bolt:.4g} mm bolt"
            kind = "spacer" if self.spacers == "plain" else "high misalignment spacer"
            found.append(Bought(f"{kind} {size}", 2, f"{fits}, one on each side of the ball"))
        return found

    def kinds(self, site: AtEnd) -> list[Kind]:
        """What can fail of it."""
        return [Kind("rod end", site.name), self.jam_nut.kind(site)]

    def modes(self, site: AtEnd, case: LoadCase) -> Iterator[Check]:
        """Head, race, shank and jam nut."""
        load, required = site.load(case), site.required(case)
        yield from self._head(site, load.force, case, required)
        yield check(
            f"{site.name} shank", "bent shank", load_case=case.name, unit="MPa", required=required.on_yield,
            demand=work(
                rodend.shank_stress, N=load.force.pull, V=0.0, L=0.0, d3=self.thread.minor_external, M=load.bent
            ),
            capacity=site.male.yield_strength, note=BENT,
        )  # fmt: skip
        yield from self.jam_nut.modes(site, case)

    def _head(
        self, site: AtEnd, force: EndForce, case: LoadCase, required: Required
    ) -> Iterator[Check]:
        name = site.name
        r, sigma = self.rod_end, material(self.steel.name).yield_strength
        on: dict[str, Any] = {"load_case": case.name, "unit": "N", "required": required.on_yield}
        size = {"D": r.head_diameter, "T": r.head_width, "K": r.ball_diameter}
        flat, ball = work(rodend.head_area_flat, **size), work(rodend.head_area_round, **size)
        area = flat if np.all(flat.value <= ball.value) else ball
        head = work(rodend.head_capacity, A=area, sigma=sigma)
        race = work(rodend.race_capacity, E=r.ball_diameter, T=r.head_width, p=sigma)
        least = np.minimum(head.value, race.value)
        if self.rating is not None:
            yield check(
                f"{name} head, maker's rating", "rod end head", demand=force.radial, capacity=self.rating, **on
            )  # fmt: skip
            least = self.rating
        else:
            yield check(
                f"{name} head", "rod end head", demand=force.radial, capacity=head, note=RATING_NOTE, **on
            )  # fmt: skip
            yield check(
                f"{name} race", "rod end race", demand=force.radial, capacity=race, note=RATING_NOTE, **on
            )  # fmt: skip
        rating = np.minimum(least, r.static_radial())
        yield from often_modes(f"{name} head", case, site.loads, force.radial, rating)
        on["unit"] = "-"
        yield check(
            f"{name} ball across and along its pin", "rod end ball", capacity=1.0, **on,
            demand=work(rated_ball.rated_use, F_r=force.radial, F_a=force.along_pin, C_0=least),
        )  # fmt: skip
