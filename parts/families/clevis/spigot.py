"""A spigot that plugs a tube: shoulder against its end, on a slimmer stub or not, welded round it, and rosettes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.clearances import Clearance
from parts.core.fatigue_places import BUTT, ROOT, Detail, Weld, demand_of
from parts.core.feature import Modes
from parts.core.freebody import Acting, reacting
from parts.core.loads import Action, LoadCase, Required
from parts.core.rules import Rule, at_least, at_most, none_or_at_least
from parts.core.ways import Kind
from parts.families.clevis.rosettes import Rosettes
from parts.families.clevis.stub import Stub
from parts.features.press.fit import SPIGOT_CLASS, plug_in_tube, plug_note
from parts.features.thread import turned
from parts.features.thread.body import MOVES, Body, OnBody, Shank, placed, root_steps, rooted
from parts.features.thread.turned import Step
from parts.features.weld.softened import REACH, SHEAR_SHARE, weaker, welded
from parts.inputs.designations import MaterialName, TubeName
from parts.inputs.quantities import NonNegativeLength, PositiveLength
from parts.standards.fits.iso286 import class_limits
from parts.standards.materials.materials import Material
from parts.strength.method import Worked, plain, work
from parts.strength.welded import weld

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Dimension, Marks
    from parts.core.loadpath import Span
    from parts.core.supports import Support

X, Y, Z = np.eye(3)


class Spigot(Shank):
    """A spigot that plugs a tube.

    The spigot is modelled solid; the rosette holes are in the tube, and are not modelled.
    """

    welded: ClassVar[bool] = True

    type: Literal["spigot"] = Field("spigot", description="A spigot that plugs a tube.")
    tube: TubeName = Field(description="The tube by outside diameter and wall.")
    tube_material: MaterialName = Field(
        description="Material of the tube, for the strength beside the weld."
    )
    filler: str = Field(
        "", max_length=20, description="Filler metal; the weakest of the usual ones where left out."
    )
    length: PositiveLength = Field(description="How far the spigot enters the tube.")
    clearance: NonNegativeLength = Field(
        0.1, description="Clearance of the spigot in the tube, on diameter."
    )
    shoulder: PositiveLength = Field(
        description="Length of the shoulder, as large as the tube, between body or stub and tube."
    )
    stub: Stub | None = Field(
        None,
        description="A round slimmer than the tube between body and shoulder, for slim ears; none where left out.",
    )
    weld_prep: PositiveLength = Field(
        description="Leg of the chamfer on the shoulder for the weld."
    )
    lead_in: NonNegativeLength = Field(
        1.0, description="Leg of the chamfer at the spigot's tip that leads it into the tube."
    )
    rosettes: Rosettes | None = Field(
        None, description="Rosette welds through the tube's wall; none where left out."
    )

    @property
    def diameter(self) -> Any:
        """Diameter of the spigot [mm]."""
        return self.tube.bore_mm - self.clearance

    @property
    def before(self) -> Any:
        """From the back of the body to the shoulder [mm]."""
        return 0.0 if self.stub is None else self.stub.length

    @property
    def at_tube(self) -> Any:
        """From the back of the body to the end of the tube [mm]."""
        return self.before + self.shoulder

    @property
    def at_back(self) -> Any:
        """Diameter of what stands on the back of the body [mm]."""
        return self.tube.width_mm if self.stub is None else self.stub.diameter

    def marks(self, site: OnBody) -> Marks:
        """Shoulder, spigot, weld prep and rosettes, in the axes of the ears."""
        from parts.core.drawing import Callout, CentreLine, Diameter, Linear, Marks
        from parts.features.thread.body_marks import root_marks, turned_marks

        body = site.body
        start, wide, plug = float(self.at_tube), float(self.tube.width_mm), float(self.diameter)
        before = float(self.before)
        end, prep, lead = start + float(self.length), float(self.weld_prep), float(self.lead_in)
        free = class_limits(SPIGOT_CLASS, plug)
        sizes: list[Dimension] = [
            Diameter("shoulder", (-(start - prep), 0, 0), X, wide, view="front"),
            Diameter(
                "spigot",
                (-(end - lead), 0, 0),
                X,
                plug,
                callout=f"plug for {self.tube.name}",
                view="top",
                fit=free.tolerance_class,
                limits=free.sizes,
            ),
            Linear(
                "length of the shoulder",
                (-start, plug / 2, 0),
                (-before, wide / 2, 0),
                X,
                start - before,
                view="front",
            ),
            Linear(
                "length of the spigot",
                (-end, 0, 0),
                (-start, plug / 2, 0),
                X,
                end - start,
                view="front",
            ),
            Callout(
                "weld prep",
                (-(start - prep / 2), -(wide - prep) / 2, 0),
                f"weld prep {prep:.2f} mm × 45°",
                view="front",
            ),
            *root_marks(body, float(self.at_back)),
            *([] if self.stub is None else self.stub.marks(wide)),
        ]
        if lead > 0.0:
            at = (-(end - lead / 2), -(plug - lead) / 2, 0)
            long = Linear("lead-in", (-end, 0, 0), (-end + lead, 0, 0), X, lead)
            sizes.append(Callout("lead-in", at, "{0} × 45°", (long,), view="front"))
        notes = [
            f"Weld to {self.tube.name} tube all round; dress nothing off the weld.",
            plug_note(f"{self.tube.name} ", wide, float(self.tube.wall_mm), plug),
        ]
        if self.rosettes is not None:
            r = self.rosettes
            notes.append(
                f"{r.count} rosette welds of {float(r.diameter):.2f} mm in the tube, "
                f"{float(r.from_end):.2f} mm from its end, evenly round."
            )
        middle = (CentreLine((0, 0, 0), (-end, 0, 0)),)
        return turned_marks(Marks(tuple(sizes), (), (), middle, tuple(notes)), body)

    def clearances(self, site: OnBody) -> Sequence[Clearance]:
        """The spigot in its tube."""
        bore, plug = self.tube.bore_mm, self.diameter
        return [plug_in_tube("spigot in its tube", f"{site.field}.clearance", bore, plug)]

    def rules(self, site: OnBody) -> Iterator[Rule]:
        """Rules of the spigot; `field` is its dotted path."""
        field, body = site.field, site.body
        outside, wall = self.tube.width_mm, self.tube.wall_mm
        if self.stub is None:
            slimmer = ", or give the spigot a slimmer `stub`"
            yield from body.holds(f"{field}.tube", outside, slimmer)
        else:
            yield from body.holds(f"{field}.stub.diameter", self.stub.diameter)
            yield from self.stub.rules(f"{field}.stub", outside, body.root_fillet)
        yield at_least(
            "spigot.length", f"{field}.length", self.length, self.tube.bore_mm,
            "a spigot shorter than its diameter rocks in the tube (common practice, no source)",
            "lengthen the spigot",
        )  # fmt: skip
        yield at_most(
            "spigot.long", f"{field}.length", self.length, 10.0 * self.tube.bore_mm,
            "a spigot this long is a bar; it looks like the wrong unit", "check the unit of this value",
        )  # fmt: skip
        yield at_most(
            "spigot.loose", f"{field}.clearance", self.clearance, 0.3,
            "a spigot this loose sits crooked in the tube and the weld (common practice, no source)",
            "lessen the clearance",
        )  # fmt: skip
        yield at_least(
            "spigot.small", f"{field}.tube", self.diameter, 5.0, "the tube leaves hardly any bore for a spigot",
            "choose a larger tube or a thinner wall",
        )  # fmt: skip
        yield at_least(
            "spigot.shoulder", f"{field}.shoulder", self.shoulder,
            (body.root_fillet if self.stub is None else body.edge_break) + self.weld_prep + 1.0,
            "the root fillet, or the broken rim, and the weld preparation meet on the shoulder",
            "lengthen the shoulder",
        )  # fmt: skip
        yield at_least(
            "spigot.prep", f"{field}.weld_prep", self.weld_prep, 0.7 * wall,
            "the weld would not reach through the wall of the tube (common practice, no source)",
            "chamfer the shoulder by the wall of the tube",
        )  # fmt: skip
        yield at_most(
            "spigot.deep_prep", f"{field}.weld_prep", self.weld_prep, wall,
            "the chamfer would reach into the spigot",
            "chamfer the shoulder by no more than the wall of the tube",
        )  # fmt: skip
        yield at_most(
            "spigot.lead_in", f"{field}.lead_in", self.lead_in, np.minimum(self.diameter / 4.0,
            self.length / 2.0),
            "the lead-in would take the tip away", "lessen it",
        )  # fmt: skip
        yield none_or_at_least(
            "spigot.fine_lead_in", f"{field}.lead_in", self.lead_in, 0.05, "no shop makes a chamfer this fine",
            "enlarge the lead-in, or state 0 for none",
        )  # fmt: skip
        if self.rosettes is not None:
            yield from self.rosettes.rules(
                f"{field}.rosettes", self.tube, self.length - self.lead_in
            )

    def steps(self, root_fillet: Any, edge_break: Any = 0.0) -> list[Step]:
        """Every turned step, from the back of the body to the tip."""
        outside, here = self.tube.width_mm, self.at_tube
        if self.stub is None:
            steps = root_steps("root fillet", root_fillet, outside)
        else:
            steps = self.stub.steps(outside, root_fillet, edge_break)
        tip = here + self.length
        return [
            *steps,
            Step("shoulder", steps[-1].high if steps else 0.0, here - self.weld_prep, outside),
            Step("weld prep", here - self.weld_prep, here, outside, outside - 2.0 * self.weld_prep),
            Step("spigot", here, tip - self.lead_in, self.diameter),
            Step("lead-in", tip - self.lead_in, tip, self.diameter, self.diameter - 2.0 * self.lead_in),
        ]  # fmt: skip

    def spans(self, site: OnBody) -> Sequence[Span]:
        """The load path as far as the weld, in metal softened by it."""
        body, metal = site.body, site.metal
        every = self.steps(body.root_fillet, body.edge_break)
        before = every[: [step.name for step in every].index("weld prep")]
        return turned.spans(
            rooted(before, body), self.soft(metal), site.actions, place=body.behind, axes=np.eye(3),
            turn=body.clocking, reversing=site.reversing,
        )  # fmt: skip

    def soft(self, metal: Material) -> Material:
        """The metal of the clevis beside the weld."""
        return welded(metal, self.filler, self.tube.wall_mm)

    def weld_at(self, body: Body) -> Any:
        """From the pin to the weld [mm]."""
        return body.back + self.at_tube - self.weld_prep

    def backs(self, body: Body) -> Any:
        """How far from the middle the shoulder, or the stub, backs the floor of the throat [mm]."""
        return self.at_back / 2.0 + body.root_fillet

    @property
    def throat(self) -> Any:
        """Throat of the weld at the tube's end [mm]: the chamfer, no more than the wall."""
        return np.minimum(self.weld_prep, self.tube.wall_mm)

    def _weld_stress(self, body: Body, actions: Sequence[Action]) -> Worked:
        force, moment = body.carried(actions, self.at_tube)
        return work(
            weld.tube_butt_stress, D=self.tube.width_mm, t=self.throat, N=np.abs(force[..., 0]),
            V=np.hypot(force[..., 1], force[..., 2]), M=np.hypot(moment[..., 1], moment[..., 2]),
            T=np.abs(moment[..., 0]),
        )  # fmt: skip

    def kinds(self, site: OnBody) -> list[Kind]:
        """What can fail of it."""
        found = [Kind("tube weld", "spigot")]
        return found if self.rosettes is None else [*found, Kind("plug weld", "spigot rosette")]

    def modes(self, site: OnBody, case: LoadCase) -> Iterator[Check]:
        """The weld at the tube's end with all of the load; the rosettes with their share of pull and twist."""
        body, metal, actions, required = (
            site.body,
            site.metal,
            site.actions(case),
            site.required(case),
        )
        force, moment = body.carried(actions, self.at_tube)
        pull, twist = np.abs(force[..., 0]), np.abs(moment[..., 0])
        thickness = self.tube.wall_mm
        zone = weaker(
            metal.beside_weld(self.filler, thickness),
            self.tube_material.beside_weld(self.filler, thickness),
        )
        throat, outside = self.throat, self.tube.width_mm
        stress = self._weld_stress(body, actions)
        on = partial(check, load_case=case.name)
        for kind, strength, factor in required.both(zone.yield_strength, zone.ultimate_strength):
            yield on(
                f"spigot weld, {kind}", "weld", demand=stress, capacity=strength, unit="MPa", required=factor,
                note=f"all of the load on the weld at the tube's end; strength of {zone.source}",
            )  # fmt: skip
        yield from self._tube_modes(body, case, actions, required)
        if self.rosettes is None:
            return
        count, hole = self.rosettes.count, self.rosettes.diameter
        plugs, butt = (
            count * np.pi / 4.0 * np.square(hole),
            np.pi * throat * (outside - throat),
        )
        share = plugs / (plugs + butt)
        each = np.hypot(pull, 2.0 * twist / self.tube.bore_mm) * share / count
        yield on(
            "spigot rosette, shear", "weld", demand=each, unit="N", required=required.on_ultimate,
            capacity=work(weld.plug_capacity, D=hole, t=thickness, tau=SHEAR_SHARE * zone.ultimate_strength),
            note="pull and twist shared with the weld at the end by weld area: common practice, no source",
        )  # fmt: skip

    def _tube_modes(
        self, body: Body, case: LoadCase, actions: Any, required: Required
    ) -> Iterator[Check]:
        """The tube where the spigot ends in it, or as far as a weld softens it, with all of the moment there."""
        far = self.length
        if self.rosettes is not None:
            far = np.maximum(far, self.rosettes.from_end + self.rosettes.diameter / 2.0 + REACH)
        force, moment = body.carried(actions, self.at_tube + np.maximum(far, REACH))
        zone = self.tube_material.beside_weld(self.filler, self.tube.wall_mm)
        stress = work(
            weld.tube_butt_stress, D=self.tube.width_mm, t=self.tube.wall_mm, N=np.abs(force[..., 0]),
            V=np.hypot(force[..., 1], force[..., 2]), M=np.hypot(moment[..., 1], moment[..., 2]),
            T=np.abs(moment[..., 0]),
        )  # fmt: skip
        for kind, strength, factor in required.both(zone.yield_strength, zone.ultimate_strength):
            yield check(
                f"tube beside the spigot, {kind}", "tube wall", load_case=case.name, demand=stress,
                capacity=strength, unit="MPa", required=factor,
                note=f"the bare tube at the spigot's tip, or as far as a weld's heat counts; strength of {zone.source}",
            )  # fmt: skip

    def holding(self, site: OnBody, case: LoadCase) -> Sequence[Acting]:
        """What holds the clevis: the weld at the end of the tube."""
        body, actions = site.body, site.pins(case)
        at = self.at_tube
        return [reacting("weld to the tube", body.behind(at), body.carried(actions, at))]

    def details(self, site: OnBody, modes: Modes) -> Sequence[Detail]:
        """The weld at the end of the tube: its toe, and its root where the chamfer is not as deep as the wall."""
        body, metal, reversing = site.body, site.metal, site.reversing
        stress = demand_of(modes, "spigot weld, yield")

        def rubs(case: LoadCase) -> Any:
            return plain(self._weld_stress(body, reversing(case)))

        found = [Weld("spigot weld", metal, stress, BUTT, rubs)]
        if np.any(np.less(self.weld_prep, self.tube.wall_mm)):
            found.append(Weld("spigot weld, root", metal, stress, ROOT, rubs))
        return found

    def supports(self, site: OnBody) -> Sequence[Support]:
        """The tube round it."""
        from parts.core.supports import Support

        wall = site.body.wall(self.diameter, self.at_tube, self.at_tube + self.length)
        return (Support("tube", (wall,), float(self.tube.wall_mm)),)

    def cautions(self, site: OnBody) -> Sequence[str]:
        """What the heat of its weld does."""
        return (MOVES,)

    def facts(self, site: OnBody) -> Mapping[str, tuple[Any, str]]:
        """Diameter of the spigot."""
        return {"spigot diameter": (self.diameter, "mm")}

    def welds(self) -> Sequence[tuple[Material, float | None]]:
        """Metals welded besides the clevis's own, each with the thickness that its strength is for [mm]."""
        return ((self.tube_material, self.tube.wall_mm),)

    def join(self, fork: cq.Workplane, body: Body) -> cq.Workplane:
        """The fork with its spigot."""
        return fork.union(
            placed(turned.solid(self.steps(float(body.root_fillet), float(body.edge_break))), body)
        )
