"""A block at the end of an arm, tapped for a rod end.

Axes of the feature: origin at the load point, the middle of the ball; the arm comes from -x, the bar's direction is z.
It has a flat back, `set_back` behind its load point, which the arm runs into.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.fatigue_places import Detail, demand_of, thread_spot
from parts.core.feature import Answers, Modes
from parts.core.group import Group
from parts.core.loads import LoadCase, Required, resultant
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.features.arm.tip import AtTip
from parts.features.bolts.hardware import SURFACES, male_class
from parts.features.fork.ball import often_modes
from parts.features.section.notches import same, tapped_relief
from parts.features.section.outlines import chamfered
from parts.features.thread import threaded
from parts.inputs.designations import MaterialName, RodEndName
from parts.inputs.quantities import PositiveLength
from parts.standards.fasteners.jam_nuts import jam_nut
from parts.standards.rod_ends.rod_ends import RATING_NOTE
from parts.strength.bolted import thread as threads
from parts.strength.bolted.threads_loaded import moment_as_pull
from parts.strength.columns.link import moments_together
from parts.strength.method import Worked, work
from parts.strength.pinned import rod_end as rodend
from parts.strength.pinned.ball_friction import friction_moment, race_friction, shank_amplitude
from parts.strength.pinned.rated_ball import rated_use
from parts.strength.section import bar as bars
from parts.strength.section.figures import circle

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Marks
    from parts.core.loadpath import Span
    from parts.core.supports import Applied

X, Y, Z = np.eye(3)
LEAD = 1.0
"""Turns at the tip of a rod end's shank that do not bear in full [-]; common practice, no source."""
UNUSED = {
    "nut or shank overtightened": "its bite is counted for nothing: it is tightened as its maker says",
    "lets go under pull": "nothing counts on it: thread and shank are checked as if it were loose",
    "unscrewed by torque": "a ball hands on no torque but its friction, across the shank",
}
"""Why the jam nut is not checked."""
FLOOR = 2.0
"""Solid metal between the tip of a tapped hole and the back of its block [mm]."""


class TappedEnd(Group, Answers[AtTip]):
    """A block tapped along the arm for the shank of a male rod end; its ball's middle is the load point."""

    seen_from_its_end: ClassVar[bool] = True

    type: Literal["tapped"] = Field("tapped", description="A block tapped for a male rod end.")
    rod_end: RodEndName = Field(description="Male rod end by its designation.")
    rod_end_material: MaterialName = Field(
        description="Material of the rod end's shank, which the load across it bends."
    )
    width: PositiveLength = Field(description="Width of the block in the plane of travel.")
    height: PositiveLength = Field(description="Height of the block along the bar.")
    length: PositiveLength = Field(description="Length of the block along the arm.")
    stand_off: PositiveLength = Field(
        description="Middle of the ball to the face of the block, jam nut included."
    )
    depth: PositiveLength = Field(description="Length of full thread in the block.")
    relief: bool = Field(True, description="Cut a relief groove behind the thread.")
    beyond_thread: threaded.BeyondThread = threaded.BEYOND

    @property
    def set_back(self) -> Any:
        """Load point to the flat back [mm]."""
        return self.stand_off + self.length

    @property
    def ahead(self) -> Any:
        """Load point back to the face that the arm is measured to [mm]."""
        return self.stand_off

    @property
    def rim(self) -> float:
        """Radius of a round end [mm]: none here."""
        return 0.0

    @property
    def rubbing(self) -> tuple[Any, float]:
        """Diameter [mm] on which the joint turns under load, and the friction there [-]."""
        return self.rod_end.ball_diameter, race_friction("steel on steel")

    def _rubbed(self, site: AtTip, case: LoadCase) -> Worked:
        """Moment with which the ball under load resists its swing [N*mm]."""
        force, _ = resultant(site.actions(case), np.zeros(3))
        d, mu = self.rubbing
        return work(friction_moment, F=np.linalg.norm(force, axis=-1), d=d, mu=mu)

    @property
    def thread(self) -> Any:
        return self.rod_end.thread

    @property
    def engaged(self) -> Any:
        """Full thread of the rod end in the block at the least [mm]: less the turn at its tip that is chamfered away,
        and the sink at the mouth of the hole."""
        mouth = (self.thread.major - self.thread.minor_internal) / 2.0
        tip = self.rod_end.length - self.stand_off - LEAD * self.thread.pitch
        return np.minimum(tip, self.depth) - mouth

    @property
    def bent_length(self) -> Any:
        """Middle of the ball to the jam nut, over which the shank bends [mm]."""
        return self.stand_off - jam_nut(self.thread.designation).height

    @property
    def bore_depth(self) -> Any:
        """Depth of the hole to the tip of the drill's point [mm]."""
        return threaded.blind_depth(
            self.thread, self.depth, relief=self.relief, beyond=self.beyond_thread
        )

    @property
    def groove(self) -> Any:
        """Largest diameter within the block [mm]."""
        return self.thread.relief("internal").diameter if self.relief else self.thread.major

    def rules(self, site: AtTip) -> Iterator[Rule]:
        """Rules of the end."""
        field, edge_break = site.field, site.edge_break
        yield at_least(
            "tapped.gender", f"{field}.rod_end", float(self.rod_end.gender == "male"), 1.0,
            "a female rod end does not screw into a tapped block", "name the male rod end of this size",
            unit="",
        )  # fmt: skip
        yield male_class(f"{field}.rod_end", self.thread)
        for name, size in (("width", self.width), ("height", self.height)):
            yield at_least(
                f"tapped.{name}", f"{field}.{name}", size,
                np.maximum(self.groove + 3.0, 1.4 * self.thread.major) + 2.0 * edge_break,
                "the block would burst beside its thread (1.4 diameters: common practice, no source)",
                "make the block larger",
            )  # fmt: skip
            yield at_most(
                f"tapped.{name}_large", f"{field}.{name}", size, 150.0,
                "no block of a one-off vehicle is this large; it looks like the wrong unit",
                "check the unit of this value",
            )  # fmt: skip
        yield at_least(
            "tapped.length", f"{field}.length", self.length, self.bore_depth + FLOOR,
            "the tapped hole would run into the arm", "lengthen the block, or shorten the thread",
        )  # fmt: skip
        yield at_least(
            "tapped.stand_off", f"{field}.stand_off", self.bent_length, self.rod_end.head_diameter / 2.0,
            "the rod end's eye would stand on the jam nut", "let the ball stand farther off",
        )  # fmt: skip
        yield threaded.engagement_rule(f"{field}.stand_off", self.engaged, self.thread)

    def spans(self, site: AtTip) -> Sequence[Span]:
        """The block behind its thread: with the relief or the drilled length as bore."""
        from parts.core.loadpath import Span

        behind = threaded.blind_depth(
            self.thread, 0.0, relief=self.relief, beyond=self.beyond_thread
        )
        long = behind - self.thread.minor_internal / 2.0 * threaded.DRILL_POINT
        bore = self.groove if self.relief else self.thread.minor_internal
        face = self.stand_off + self.depth

        def at(back: Any) -> Any:
            return np.stack(np.broadcast_arrays(-np.asarray(back, float), 0.0, 0.0), axis=-1)

        def outline(s: Any) -> Any:
            wide = self.width + 0.0 * np.asarray(s, float)
            return chamfered(wide, self.height, site.edge_break).minus(circle(bore + 0.0 * wide))

        return [
            Span(
                "block behind the thread", at(face + 0.02 * long), at(face + 0.98 * long), np.eye(3), outline,
                site.actions, site.metal, stations=5,
                notch=same(tapped_relief(self.thread, np.minimum(self.width, self.height), relief=self.relief)),
            )
        ]  # fmt: skip

    def bought(self, site: AtTip) -> Sequence[Bought]:
        """The rod end and its jam nut."""
        return [
            Bought(self.rod_end.designation, 1, "end", self.rod_end.source),
            Bought(f"jam nut {self.thread.designation}", 1, "end"),
        ]

    def details(self, site: AtTip, modes: Modes) -> Sequence[Detail]:
        """The thread of the rod end."""
        stress = demand_of(modes, "rod end shank, yield")

        def rubbed(case: LoadCase) -> Worked:
            root = work(threads.root_diameter, d=self.thread.major, p=self.thread.pitch)
            return work(shank_amplitude, M=self._rubbed(site, case), d3=root)

        made = self.rod_end_material
        return [thread_spot("rod end shank", self.thread, made, stress, both_ways=rubbed)]

    def applied(self, site: AtTip, case: LoadCase) -> Sequence[Applied]:
        """What the rod end's shank does to the thread."""
        from parts.core.supports import Applied, Round

        mouth, d = float(self.stand_off), float(self.thread.minor_internal)
        deep = float(np.minimum(self.engaged, self.depth))
        wall = Round(np.zeros(3), (-1.0, 0.0, 0.0), d, mouth, mouth + deep)
        return (Applied("rod end", (wall,), tuple(site.actions(case))),)

    def touching(self, site: AtTip) -> dict[str, str]:
        """The surface of what touches the end, by name."""
        return {f"rod end {self.rod_end.designation}": SURFACES["rod end"]}

    def kinds(self, site: AtTip) -> list[Kind]:
        """What can fail of it, and of the rod end that screws in."""
        return [
            Kind("rod end", "rod end"),
            Kind("jam nut", "rod end", UNUSED),
            Kind("threaded wall", "rod end"),
        ]

    def modes(self, site: AtTip, case: LoadCase) -> Iterator[Check]:
        """Stripping of the thread, and the rod end's shank bent by what acts across it."""
        material, required = site.metal, site.required(case)
        force, _ = resultant(site.actions(case), np.zeros(3))
        along, across = np.abs(force[..., 0]), np.hypot(force[..., 1], force[..., 2])
        rubbed = self._rubbed(site, case)
        # At the mouth of the hole: the jam nut takes some of the moment, and is not counted.
        bent = work(moments_together, M_1=across * self.stand_off, M_2=rubbed)
        pull = work(moment_as_pull, N=along, M=bent, d2=self.thread.pitch_diameter)
        yield from threaded.strip_modes(
            "rod end", self.thread, self.rod_end_material, material, self.engaged, pull.value, case.name,
            required, around=np.minimum(self.width, self.height),
        )  # fmt: skip
        root = work(threads.root_diameter, d=self.thread.major, p=self.thread.pitch)
        stress = work(rodend.shank_stress, N=along, V=across, L=self.stand_off, d3=root, M=rubbed)
        made = self.rod_end_material
        on = partial(check, load_case=case.name, demand=stress, unit="MPa")
        note = "bent where it enters the block, as if its jam nut were loose, by the ball's friction too"
        for kind, strength, factor in required.both(made.yield_strength, made.ultimate_strength):
            yield on(
                f"rod end shank, {kind}", "bending", capacity=strength, required=factor, note=note
            )
        yield from self._head_modes(case, site.loads, force, root, required)
        yield from self._mouth_modes(site, case, force, bent)

    def _head_modes(
        self,
        case: LoadCase,
        loads: Sequence[LoadCase],
        force: Any,
        root: Worked,
        required: Required,
    ) -> Iterator[Check]:
        """Head, race and shank of the rod end, generic; the maker's rating governs where it is lower."""
        r, sigma = self.rod_end, self.rod_end_material.yield_strength
        radial = np.hypot(force[..., 0], force[..., 1])
        on = partial(check, load_case=case.name, unit="N", note=RATING_NOTE)
        size = {"D": r.head_diameter, "T": r.head_width, "K": r.ball_diameter}
        flat, ball = work(rodend.head_area_flat, **size), work(rodend.head_area_round, **size)
        head = work(
            rodend.head_capacity, A=flat if np.all(flat.value <= ball.value) else ball, sigma=sigma
        )
        race = work(rodend.race_capacity, E=r.ball_diameter, T=r.head_width, p=sigma)
        least = required.on_yield
        yield on("rod end head", "rod end head", demand=radial, capacity=head, required=least)
        yield on("rod end race", "rod end race", demand=radial, capacity=race, required=least)
        yield on(
            "rod end shank, pulled", "rod end shank", demand=np.abs(force[..., 0]), required=least,
            capacity=work(rodend.shank_capacity, d3=root, sigma=sigma),
        )  # fmt: skip
        yield check(
            "rod end, across and along its pin", "rod end rating", load_case=case.name, unit="-", capacity=1.0,
            demand=work(rated_use, F_r=radial, F_a=force[..., 2], C_0=np.minimum(head.value, race.value)),
            required=least, note="a tenth of the generic rating along the pin",
        )  # fmt: skip
        rating = np.minimum(head.value, race.value)
        yield from often_modes("rod end head", case, loads, radial, rating)

    def _mouth_modes(
        self, site: AtTip, case: LoadCase, force: Any, bent: Worked
    ) -> Iterator[Check]:
        """The block's wall beside the thread at its mouth, bored to the major diameter."""
        wide, thin = np.maximum(self.width, self.height), np.minimum(self.width, self.height)
        d, c = self.thread.major, 2.0 * np.asarray(site.edge_break)
        wide, thin = wide - c, thin - c
        area = wide * thin - np.pi / 4.0 * d**2
        modulus = (wide * np.power(thin, 3.0) / 12.0 - np.pi / 64.0 * d**4) / (thin / 2.0)
        stress = work(
            bars.round_tube_stress, A=area, W=modulus, N=np.abs(force[..., 0]),
            V=np.hypot(force[..., 1], force[..., 2]), M=bent, T=0.0,
        )  # fmt: skip
        metal = site.metal
        for kind, strength, factor in site.required(case).both(
            metal.yield_strength, metal.ultimate_strength
        ):
            yield check(
                f"rod end, block beside the thread, {kind}", "combined stress", load_case=case.name, unit="MPa",
                demand=stress, capacity=strength, required=factor,
                note="at the mouth of the hole, bent about its weaker axis",
            )  # fmt: skip

    def marks(self, site: AtTip) -> Marks:
        """Its block, and the tapped hole with its relief."""
        from parts.core.drawing import CentreLine, Linear, Marks
        from parts.features.thread.tapped_marks import tapped_marks

        off, long = float(self.stand_off), float(self.length)
        wide, high = float(self.width) / 2.0, float(self.height) / 2.0
        hole, lines, full, relief = tapped_marks(
            "tapped end", self.thread, -off, -1.0, float(self.depth), relief=self.relief, beyond=self.beyond_thread,
            sink=2.0 * float(site.edge_break), view="right",
        )  # fmt: skip
        side, under = (-off, wide, 0), (-off, 0, high)
        sizes = (
            Linear("length of the block", (-off - long, wide, 0), side, X, long, view="front"),
            Linear("width of the block", (-off, -wide, 0), side, Y, 2 * wide, view="right"),
            Linear("height of the block", (-off, 0, -high), under, Z, 2 * high, view="top"),
            *relief,
            *full,
        )
        note = f"The rod end's middle stands {off:.2f} mm off the face; lock its jam nut."
        middle = CentreLine((-off - long, 0, 0), (-off, 0, 0))
        return Marks(sizes, (hole,), (lines,), (middle,), (note,))

    def solid(self, edge_break: float) -> cq.Workplane:
        """The block, not yet tapped."""
        from parts.shapes.workplane import Workplane

        long, off = float(self.length), float(self.stand_off)
        body = Workplane("XY").box(long, float(self.width), float(self.height))
        if edge_break > 0.0:
            body = body.edges().chamfer(edge_break)
        return body.translate((-off - long / 2.0, 0.0, 0.0))

    def cut_from(self, body: cq.Workplane, edge_break: float, place: Any) -> cq.Workplane:
        """Cut the tapped hole; `place` is the load point in the part's axes."""
        tool = threaded.tapped_hole(
            self.thread,
            float(self.depth),
            relief=self.relief,
            beyond=self.beyond_thread,
            through=False,
            edge_break=edge_break,
        )
        x, y, z = (float(v) for v in place)
        return body.cut(tool.translate((x - float(self.stand_off), y, z)))
