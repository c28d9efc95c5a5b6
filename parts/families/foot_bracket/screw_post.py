"""A shouldered screw in a tapped hole of a plate: a post, the bolt of a peg, or that on which a lever turns."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check
from parts.core.fatigue_places import Spot
from parts.core.feature import Modes
from parts.core.loads import LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.foot_bracket.post_strength import boss_modes, boss_root
from parts.features.bolts.slip import screwed_loss
from parts.features.mounts.shouldered import bolt_kind, clamped_tension, of_one
from parts.features.mounts.stud import Threaded
from parts.features.pins.post import hole_modes
from parts.features.plate.fixture import (
    LEAST_RING,
    Bore,
    Boss,
    Fixture,
    Turn,
    foot_of,
    over_plate,
    pad_radius,
    steps_of,
    under_plate,
)
from parts.features.plate.on_plate import OnPlate
from parts.features.plate.plate_feature import AtHeight
from parts.features.plate.roots import plate_kind
from parts.inputs.quantities import PositiveLength

if TYPE_CHECKING:
    from parts.core.drawing import Marks
    from parts.core.supports import Applied


class ScrewPost(AtHeight, Threaded):
    """A shouldered screw in a tapped hole."""

    type: Literal["screw"] = Field("screw", description="A shouldered screw in a tapped hole.")
    shoulder: PositiveLength = Field(
        description="Diameter of the shoulder or nut that sits on the face."
    )
    boss: Boss | None = Field(None, description="A boss about the hole.")

    def base(self) -> Any:
        return over_plate(self.boss)

    def engagement(self, thickness: Any) -> Any:
        """Length of thread [mm]."""
        return thickness + self.base() - under_plate(self.boss)

    def bought(self, site: OnPlate) -> Sequence[Bought]:
        """The screw, its length open: what it carries is not the plate's to know."""
        deep = float(np.max(self.engagement(site.thickness)))
        return (self.bought_open(site.name, f"into {deep:.4g} mm of thread"),)

    def fixture(self, site: OnPlate) -> Fixture:
        boss, t = self.boss, site.thickness
        seat = self.shoulder / 2.0 if boss is None else 0.0
        outer, inner = steps_of(boss, t)
        hole = Turn(under_plate(boss), t + self.base(), self.thread.minor_internal)
        pad = pad_radius(
            hole=self.thread.major, wall=site.plate.wall, foot=foot_of(boss), seat=seat,
            edge_break=site.edge_break,
        )  # fmt: skip
        return Fixture(
            site.name, site.field, self.at, pad, self.thread.major / 2.0, seat, outer, inner,
            (Bore((hole,)),),
        )  # fmt: skip

    def marks(self, site: OnPlate) -> Marks:
        from parts.features.plate.point_marks import of_point

        return of_point(self.fixture(site), site, {}, self.thread)

    def applied(self, site: OnPlate, case: LoadCase) -> Sequence[Applied]:
        """What acts on the ring under its shoulder."""
        from parts.core.supports import Flat

        fixture = self.fixture(site)
        top = fixture.outer[-1].high if fixture.outer else site.thickness
        hole = float(fixture.bores[0].steps[-1].diameter) / 2.0
        wide = float(fixture.outer[-1].diameter) / 2.0 if fixture.outer else 2.0 * hole
        outer = min(wide, max(1.8 * hole, hole + LEAST_RING))
        face = np.array([*fixture.place, site.sign * float(top)])
        return site.pressed(Flat(face, (0.0, 0.0, 1.0), outer, hole), case, self.shoulder / 2.0)

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        field, edge_break = site.field, site.edge_break
        deep = self.engagement(site.thickness)
        yield self.engagement_rule(f"{field}.thread", deep, site.metal)
        yield at_least(
            "stud.shoulder", f"{field}.shoulder", self.shoulder, 1.4 * self.thread.major,
            "the shoulder has no face beside the thread to clamp on", "make the shoulder larger",
        )  # fmt: skip
        yield at_least(
            "post.height", f"{field}.height", self.arm(), 1.0, "the load acts below the face that it stands on",
            "raise the point, or lower the boss",
        )  # fmt: skip
        if self.boss is not None:
            yield from self.boss.rules(
                f"{field}.boss", self.thread.major, site.plate.wall, edge_break
            )
            yield at_most(
                "stud.seat", f"{field}.shoulder", self.shoulder, self.boss.diameter - 2.0 * edge_break,
                "the shoulder overhangs its boss", "make the boss larger",
            )  # fmt: skip

    def kinds(self, site: OnPlate) -> Sequence[Kind]:
        name = site.name
        return [
            bolt_kind(name, head=True),
            Kind("tapped hole", name),
            Kind("screwed post", name),
            Kind("clamped shoulder", name),
            plate_kind(name, boss=self.boss is not None),
        ]

    def modes(self, site: OnPlate, case: LoadCase) -> Iterator[Check]:
        name, metal, thickness = site.name, site.metal, site.thickness
        force, moment = site.felt(case)
        required = site.required(case)
        pull = of_one(clamped_tension(force, moment, self.shoulder))
        shear = np.hypot(force[..., 0], force[..., 1])
        yield from self.bolt_modes(
            name, pull, shear, case.name, required, "the shoulder pivots on its rim"
        )
        deep = self.engagement(thickness)
        loss = screwed_loss(metal, self.thread)
        yield self.seated_mode(name, pull, case.name, required, loss)
        yield from self.strip_modes(name, metal, deep, pull, case.name, required)
        yield from self.pull_out_modes(name, metal, deep, force, moment, case.name, required)
        yield from hole_modes(
            name, metal, self.thread.pitch_diameter, deep, force, moment, case.name, required
        )
        if self.boss is not None:
            bore = self.thread.minor_internal
            yield from boss_modes(name, metal, self.boss, bore, force, moment, case.name, required)
        mouth = self.thread.major + 2.0 * site.edge_break
        bend = np.hypot(moment[..., 0], moment[..., 1])
        ring = self.shoulder, mouth
        yield from self.shut_modes(name, force[..., 2], bend, ring, case, loss)
        yield self.turned_mode(name, force[..., 2], moment[..., 2], ring, case, required, loss)
        yield from self.tired_modes(name, pull, case, site, loss=loss)

    def standing(self, site: OnPlate) -> Iterator[Check]:
        """The thread in the plate and the face under the shoulder at the greatest preload."""
        name, metal = site.name, site.metal
        yield from self.tightened_modes(name, metal, self.engagement(site.thickness))
        mouth = self.thread.major + 2.0 * site.edge_break
        yield self.pressed_mode(name, "shoulder", metal, self.shoulder, mouth)

    def standing_on(self) -> tuple[Any, Any]:
        """Diameter of what stands on the plate, and its root fillet; None where there is no root [mm]."""
        return (self.shoulder, None) if self.boss is None else self.boss.standing_on()

    def details(self, site: OnPlate, modes: Modes) -> Sequence[Spot]:
        name, metal = site.name, site.metal
        return () if self.boss is None else (boss_root(name, metal, modes, self.boss),)
