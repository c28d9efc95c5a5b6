"""Spacer: a turned sleeve or top-hat bush that a bolt clamps, between plain faces or inner rings of bearings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property, partial
from typing import TYPE_CHECKING, Any, ClassVar, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.clearances import Clearance
from parts.core.freebody import Acting, reacting
from parts.core.loads import Action, LoadCase, point_actions, resultant
from parts.core.part import Bought, Part, Piece
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.spacer.clamped import Sleeve, clamped_modes
from parts.families.spacer.ends import End, Flange, Neighbour
from parts.features.bolts.pattern import tightened_as
from parts.features.bolts.torque import PROOF_SHARE, SCATTER, tightening_facts
from parts.features.pins.bought_pin import shank_of
from parts.features.press.fit import ShaftClass, bolt_in_hole
from parts.features.section.notches import turned_fillet
from parts.features.thread import turned
from parts.features.thread.turned import Step
from parts.inputs.designations import BoltName
from parts.inputs.quantities import PositiveForce, PositiveLength
from parts.standards.fits.iso286 import Limits, class_limits
from parts.strength.bolted import joint
from parts.strength.method import work
from parts.strength.plates import plate
from parts.strength.section import bar

if TYPE_CHECKING:
    from parts.core.drawing import Drawn
    from parts.core.loadpath import Span
    from parts.core.supports import Held

FRICTION = 0.12
"""Between clean machined faces that may be oily [-]; common practice, no source."""
RUNNING = "f7"
"""Class of a sleeve that something turns on, in H8: the close running fit of the preferred fits of ISO 286-1; from
memory."""
LONG, THIN = 5.0, 10.0
"""Length over diameter, and diameter over twice the wall, past which a proof looks for buckling [-]."""
X = np.eye(3)[0]
BASE = {
    "family": "spacer", "name": "HC-112", "title": "pivot sleeve", "material": "4130 normalized",
    "diameter": "20 mm", "bore": "8.2 mm", "length": "24 mm", "bolt": "M8x60 8.8", "head": {"outside": "15 mm"},
    "base": {"outside": "30 mm", "material": "6061-T6"},
    "loads": [{"name": "lever pushed", "forces": [{"at": "head", "force": ["-400 N", "400 N", 0]}]}],
}  # fmt: skip
RING = {"bearing": "6202-2RS", "outside": "20 mm"}


class Spacer(Part):
    """A turned spacer that a bolt clamps."""

    summary: ClassVar[str] = (
        "a turned spacer, sleeve or top-hat bush that a bolt clamps, as between inner rings"
    )
    axes: ClassVar[str] = (
        "x along the axis from base to head, where the brim of a top hat is; origin at the base"
    )
    load_points: ClassVar[Mapping[str, str]] = {"head": "", "brim": "`flange`"}
    not_covered: ClassVar[tuple[str, ...]] = (
        "the bolt itself, and what the spacer presses on beyond its face",
        "wear and fretting of faces that slip",
    )
    example: ClassVar[Mapping[str, Any]] = BASE
    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        BASE,
        BASE | {
            "title": "top-hat bush", "material": "17-4PH H1025", "diameter": "16 mm", "length": "14 mm",
            "kept_free": "10.2 mm", "flange": {"diameter": "26 mm", "thickness": "3.5 mm"}, "preload": "9 kN",
            "loads": [{"name": "plate lifts", "forces": [{"at": "brim", "force": ["800 N", 0, "200 N"]}]}],
        },
        BASE | {
            "title": "wheel spacer", "material": "6061-T6", "diameter": "22 mm", "bore": "15.1 mm", "length": "40 mm",
            "tolerance": "0.02 mm", "bolt": "M14x100 8.8", "preload": "6 kN", "edge_break": 0, "head": RING,
            "base": RING, "loads": [{"name": "hub pushed", "forces": [{"at": "head", "force": ["-3 kN", 0, 0]}]}],
        },
    )  # fmt: skip

    family: Literal["spacer"] = Field("spacer", description="A turned spacer that a bolt clamps.")
    diameter: PositiveLength = Field(description="Outside diameter of the sleeve.")
    bore: PositiveLength = Field(description="Bore, through all.")
    length: PositiveLength = Field(description="Length over all.")
    tolerance: PositiveLength = Field(
        0.05, description="How far the length may be off, either way."
    )
    kept_free: PositiveLength | None = Field(
        None, description="Thickest that what turns on the sleeve may be."
    )
    fit: ShaftClass | None = Field(
        None,
        description="ISO 286 class of the outside diameter; f7 where something turns on the sleeve, else the general "
        "tolerance, where left out.",
    )
    flange: Flange | None = Field(None, description="Brim of a top-hat bush; none where left out.")
    bolt: BoltName = Field(description="The bolt that clamps it.")
    preload: PositiveForce | None = Field(
        None, description="Mean preload; 0.75 of the proof load where left out."
    )
    head: Neighbour = Field(description="What bears on the end at the head.")
    base: Neighbour = Field(description="What bears on the end at the base.")

    def stock_thickness(self) -> Any:
        return self._wide

    @model_validator(mode="after")
    def _has_a_fit_of_the_standard(self) -> Spacer:
        self.outside()
        return self

    def outside(self) -> Limits | None:
        """Limits of its outside diameter; None where the general tolerance holds.

        Raises:
            ValueError: the standard has no such class at this diameter.
        """
        wanted = self.fit or (None if self.kept_free is None else RUNNING)
        return None if wanted is None else class_limits(wanted, float(self.diameter))

    @property
    def _wide(self) -> Any:
        return self.diameter if self.flange is None else self.flange.diameter

    @property
    def _brim(self) -> Any:
        return 0.0 if self.flange is None else self.flange.thickness

    def points(self) -> Mapping[str, Any]:
        places = {"head": self.length} | (
            {} if self.flange is None else {"brim": self.length - self._brim}
        )
        return {name: np.asarray(x, float)[..., None] * X for name, x in places.items()}

    @cached_property
    def _clamp(self) -> Any:
        """Mean preload of the bolt [N]."""
        if self.preload is not None:
            return self.preload
        of = self.bolt.thread
        return PROOF_SHARE * tightened_as(self.bolt.strength, of) * of.stress_area

    @cached_property
    def _most(self) -> Any:
        return joint.greatest_preload(self._clamp, SCATTER)

    @property
    def _shortening(self) -> Any:
        """What the sleeve gives under the greatest preload [mm]."""
        return self._most * self.length / (self.metal.E * self._sleeve.area)

    @property
    def _ends(self) -> tuple[End, End]:
        """What bears at its head and at its base."""
        least, c = self.bore, 2.0 * self.edge_break
        return self.head.end("head", self._wide, least, c), self.base.end(
            "base", self.diameter, least, c
        )

    @property
    def _sleeve(self) -> Sleeve:
        return Sleeve(self.metal, self.diameter, self.bore, self.length, self._ends)

    def rules(self) -> Iterator[Rule]:
        thick, unit = (self.diameter - self.bore) / 2.0, "it looks like the wrong unit"
        rows = (
            (at_least, "wall", "diameter", thick, 0.8, "a wall this thin is not turned", "enlarge the diameter"),
            (at_least, "bolt", "bore", self.bore, self.bolt.shank, "the bolt does not go in", "enlarge the bore"),
            (at_most, "loose", "bore", self.bore, 1.25 * self.bolt.shank + 1.0, "it stands off the bolt", "lessen it"),
            (at_most, "long", "length", self.length, 15.0 * self.diameter, "no spacer is so slim; " + unit, "mend it"),
            (at_least, "fine", "tolerance", self.tolerance, 0.01, "no lathe holds this length", "allow more"),
            (at_most, "coarse", "tolerance", self.tolerance, np.minimum(0.2, self.length / 20.0),
             "a length this uncertain clamps nothing for sure (common practice, no source)", "hold it closer"),
            (at_most, "break", "edge_break", self.edge_break, thick / 4.0, "the chamfers eat the faces", "lessen it"),
        )  # fmt: skip
        for kind, code, field, value, limit, why, how in rows:
            yield kind(f"spacer.{code}", field, value, limit, why, how)
        for end, one, wide in zip(
            self._ends, (self.head, self.base), (self._wide, self.diameter), strict=True
        ):
            yield at_least("spacer.face", f"{end.name}.outside", end.outer - end.inner, 0.5,
                "next to nothing of the spacer's face bears there", "let it bear on a wider ring")  # fmt: skip
            yield from one.rules(end.name, wide)
        if self.flange is not None:
            yield at_least("spacer.brim", "flange.diameter", self._wide, self.diameter + 2.0 * self.flange.fillet + 1.0,
                "the brim does not reach past its fillet", "widen the brim")  # fmt: skip
            yield at_most("spacer.brim_thick", "flange.thickness", self._brim, self.length / 2.0, "no sleeve is left",
                "lessen the brim")  # fmt: skip
        if self.kept_free is not None:
            least = self.length - self.tolerance - self._brim - self._shortening
            yield at_least("spacer.free", "length", least, self.kept_free,
                "the shortest spacer under the greatest preload clamps what it should leave free",
                "lengthen it")  # fmt: skip

    @cached_property
    def _steps(self) -> list[Step]:
        sleeve = Step("sleeve", 0.0, self.length, self.diameter, bore=self.bore)
        if self.flange is None:
            return [sleeve]
        r, under = self.flange.fillet, self.length - self._brim
        end = self.diameter + 2.0 * r
        return [
            sleeve._replace(high=under - r, notch=turned_fillet(self._wide, self.diameter, r)),
            Step("fillet", under - r, under, self.diameter, end, bore=self.bore, fillet=True),
            Step("brim", under, self.length, self._wide, bore=self.bore),
        ]

    def _pressed(self, case: LoadCase) -> Sequence[Action]:
        """The loads and the greatest preload, as they press on the sleeve."""
        bolt = Action(self.points()["head"], -np.asarray(self._most)[..., None] * X)
        return [*point_actions(case, self.points()), bolt]

    def spans(self) -> Sequence[Span]:
        c, sleeve = self.edge_break, self._steps[0]
        kept = sleeve._replace(low=c, high=np.minimum(sleeve.high, self.length - c))

        def place(x: Any) -> Any:
            return np.asarray(x, float)[..., None] * X

        return turned.spans([kept], self.metal, self._pressed, place=place, axes=np.eye(3))

    def standing(self) -> Iterator[Check]:
        yield from clamped_modes(self._sleeve, self._most, "", self.required)

    def kinds(self) -> Sequence[Kind]:
        sleeve = Kind("clamped sleeve")
        return [sleeve] if self.flange is None else [sleeve, Kind("brim of a sleeve", "brim")]

    def modes(self, case: LoadCase) -> Iterator[Check]:
        required, on, m = self.factors(case), partial(check, load_case=case.name), self.metal
        acting = point_actions(case, self.points())
        force, moment = resultant(acting, np.zeros(3))
        _, at_head = resultant(acting, self.points()["head"])
        pull = force[..., 0]
        bent, rocked = (np.hypot(one[..., 1], one[..., 2]) for one in (moment, at_head))
        # A twist slides the faces round, at the mean radius of the narrower.
        round_ = np.minimum(*((end.outer + end.inner) / 4.0 for end in self._ends))
        side = np.hypot(force[..., 1], force[..., 2]) + np.abs(moment[..., 0]) / round_
        pushed = self._most + np.maximum(-pull, 0.0)
        yield from clamped_modes(self._sleeve, pushed, case.name, required, (rocked, bent))
        least = work(joint.least_preload, F=self._clamp, scatter=SCATTER)
        left = work(joint.clamp_force, F_i=least, C=0.0,
            P=required.on_yield * np.maximum(pull, 0.0))  # fmt: skip
        yield on("faces slip", "slip", demand=side, unit="N", required=required.on_yield,
            capacity=work(joint.slip_load, F=left, mu=FRICTION),
            note="least preload less the required factor times the pull, a twist at the mean radius of a face; past it "
            "the bolt bends")  # fmt: skip
        for end, rock in zip(self._ends, (rocked, bent), strict=True):
            yield on(f"{end.name} lifts", "opening", demand=rock, unit="N*mm", required=required.on_yield,
                capacity=left.value * end.kern, note="on the kern (D² + d²)/(8 D): statics")  # fmt: skip
        if self.flange is None:
            return
        lift = np.abs(
            resultant(point_actions(case, self.points(), ["brim"]), np.zeros(3))[0][..., 0]
        )
        root, arm = np.pi * np.asarray(self.diameter, float), (self._wide - self.diameter) / 2.0
        for kind, stress, factor in required.both(m.yield_strength, m.ultimate_strength):
            yield on(f"brim bends, {kind}", "bending", unit="MPa", required=factor, capacity=stress,
                demand=work(plate.flat_bending_stress, M=lift * arm, b=root, t=self._brim),
                note="pushed at its rim, as a strip as wide as the sleeve is round")  # fmt: skip
        yield on("brim shears off", "shear", unit="MPa", required=required.on_ultimate, capacity=m.shear_ultimate,
            demand=work(bar.direct_stress, F=lift, A=root * self._brim))  # fmt: skip

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        origin = np.zeros(3)
        return [reacting("base", origin, resultant(point_actions(case, self.points()), origin))]

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.core.supports import Applied, Flat, Held, Support

        top, foot = self._ends
        head = Flat(self.points()["head"], X, float(top.outer) / 2.0, float(top.inner) / 2.0)
        base = Flat(np.zeros(3), -X, float(foot.outer) / 2.0, float(foot.inner) / 2.0)
        loads = (Applied("head", (head,), tuple(self._pressed(case))),)
        support = Support("base", (base,), 0.5 * float(self.diameter))
        wall = self.diameter - self.bore
        thin = self.length > LONG * self.diameter or self.diameter > THIN * wall
        return [Held("part", (support,), loads, slender=bool(thin))]

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        return {
            "length, least": (self.length - self.tolerance, "mm"),
            "length, most": (self.length + self.tolerance, "mm"),
            "preload, greatest": (self._most, "N"),
            "shortening under it": (self._shortening, "mm"),
        } | tightening_facts("the bolt", self.bolt.thread, self._clamp / PROOF_SHARE, 1.0)

    def bought(self) -> Sequence[Bought]:
        rings = [one.bearing for one in (self.head, self.base) if one.bearing is not None]
        bolt = Bought(self.bolt.designation, 1, "the spacer")
        return [bolt, *(Bought(one.designation, 1, "its end") for one in rings)]

    def clearances(self) -> Sequence[Clearance]:
        return [bolt_in_hole("bolt in the bore", "bore", self.bore, shank_of(self.bolt), "close")]

    def cautions(self) -> Sequence[str]:
        return ["Face both ends in one setting, or on a mandrel: they must be parallel."]

    def drawn(self) -> Sequence[Drawn]:
        from parts.families.spacer.sheet import spacer_drawn

        L, D, bore = float(self.length), float(self.diameter), float(self.bore)
        off, chamfer = float(self.tolerance), float(self.edge_break)
        return [spacer_drawn(L, D, bore, off, chamfer, self.outside(), self.flange)]

    def build(self) -> Sequence[Piece]:
        from parts.shapes.profile import cylinder

        bore = cylinder(float(self.bore), -1.0, float(self.length) + 1.0, "x")
        made = turned.solid(self._steps).cut(bore)
        if self.edge_break > 0.0:
            made = made.faces("<X or >X").edges().chamfer(float(self.edge_break))
        return [Piece("part", self.metal, made)]
