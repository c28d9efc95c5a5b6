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
from parts.core.group import Group
from parts.core.loads import Action, LoadCase, Required, point_actions, resultant
from parts.core.part import Bought, Part, Piece
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.features.bolts.pattern import tightened_as
from parts.features.bolts.torque import PROOF_SHARE, SCATTER, tightening_facts
from parts.features.pins.bought_pin import shank_of
from parts.features.press.fit import DRILLED_CLASS, ShaftClass, bolt_in_hole
from parts.features.section.notches import turned_fillet
from parts.features.thread import turned
from parts.features.thread.turned import Step
from parts.inputs.designations import BearingName, BoltName, MaterialName
from parts.inputs.quantities import PositiveForce, PositiveLength
from parts.standards.fits.iso286 import Limits, class_limits
from parts.strength.bolted import joint, split_clamp
from parts.strength.columns import column, wrinkling
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
AXES: Any = np.eye(3)
X, Y, Z = AXES


class Neighbour(Group):
    """What bears on an end of the spacer: a head, a washer, a lug, or the inner ring of a bearing."""

    outside: PositiveLength = Field(
        description="Outside diameter of what bears; of an inner ring, by its drawing."
    )
    material: MaterialName | None = Field(
        None, description="What it is made of; left out, no softer than the spacer."
    )
    bearing: BearingName | None = Field(
        None, description="The bearing whose inner ring it is; none where left out."
    )

    def rules(self, field: str, wide: Any) -> Iterator[Rule]:
        """Rules of an inner ring against a spacer of a width there [mm]."""
        if self.bearing is not None:
            for where, value in (("outside", self.outside), ("bearing", wide)):
                yield at_most("spacer.ring", f"{field}.{where}", value, self.bearing.pitch_diameter,
                    "past the middle of the balls the spacer rubs on the seal, and no inner ring reaches there",
                    "take the ring from its drawing, or lessen the spacer's diameter")  # fmt: skip


class Flange(Group):
    """The brim of a top-hat bush, at its head."""

    diameter: PositiveLength = Field(description="Outside diameter of the brim.")
    thickness: PositiveLength = Field(description="Thickness of the brim.")
    fillet: PositiveLength = Field(0.4, description="Fillet between brim and sleeve.")


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

    @property
    def _area(self) -> Any:
        return np.pi / 4.0 * (np.square(self.diameter) - np.square(self.bore))

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
        return self._most * self.length / (self.metal.E * self._area)

    @property
    def _ends(self) -> tuple[tuple[str, Neighbour, Any, Any], ...]:
        """Each end: its name, its neighbour, and the ring that bears by its outside and its inside diameter [mm]."""
        found = []
        for name, one, wide in (
            ("head", self.head, self._wide),
            ("base", self.base, self.diameter),
        ):
            least = self.bore if one.bearing is None else np.maximum(self.bore, one.bearing.bore)
            chamfer = 2.0 * self.edge_break
            found.append((name, one, np.minimum(wide - chamfer, one.outside), least + chamfer))
        return tuple(found)

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
        for name, one, outer, inner in self._ends:
            yield at_least("spacer.face", f"{name}.outside", outer - inner, 0.5,
                "next to nothing of the spacer's face bears there", "let it bear on a wider ring")  # fmt: skip
            yield from one.rules(name, self._wide if name == "head" else self.diameter)
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
        yield from self._clamped(self._most, "", self.required)

    def _clamped(
        self, push: Any, case: str, required: Required, rocks: Sequence[Any] = (0.0, 0.0)
    ) -> Iterator[Check]:
        """A push on the sleeve, and the moments that press the rims of its head and of its base harder [N*mm]."""
        on, m = partial(check, load_case=case, required=required.on_yield), self.metal
        thick = self.diameter - self.bore
        for (name, one, outer, inner), rock in zip(self._ends, rocks, strict=True):
            soft = np.minimum(m.yield_strength, (one.material or m).yield_strength)
            rim = push + rock / _kern(outer, inner)
            yield on(f"bearing on the {name}", "bearing", unit="MPa", capacity=soft,
                note="the softer face yields, at its rim where a moment rocks it",
                demand=work(split_clamp.head_pressure, F=rim, d_w=outer, d_h=inner))  # fmt: skip
        yield on("sleeve as a column", "buckling", demand=push, unit="N", note="its faces taken as hinged",
            capacity=work(column.johnson_euler_load, E=m.E, A=self._area, F_cy=m.yield_strength, L=self.length,
                I_min=np.pi / 64.0 * (self.diameter**4 - self.bore**4)))  # fmt: skip
        yield on("wall of the sleeve", "buckling", demand=work(bar.direct_stress, F=push, A=self._area), unit="MPa",
            capacity=work(wrinkling.wall_buckling_stress, E=m.E, r=(self.diameter - thick / 2.0) / 2.0, t=thick / 2.0,
                F_cy=m.yield_strength, nu=m.poisson))  # fmt: skip

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
        round_ = np.minimum(*((outer + inner) / 4.0 for _, _, outer, inner in self._ends))
        side = np.hypot(force[..., 1], force[..., 2]) + np.abs(moment[..., 0]) / round_
        pushed = self._most + np.maximum(-pull, 0.0)
        yield from self._clamped(pushed, case.name, required, (rocked, bent))
        least = work(joint.least_preload, F=self._clamp, scatter=SCATTER)
        left = work(joint.clamp_force, F_i=least, C=0.0,
            P=required.on_yield * np.maximum(pull, 0.0))  # fmt: skip
        yield on("faces slip", "slip", demand=side, unit="N", required=required.on_yield,
            capacity=work(joint.slip_load, F=left, mu=FRICTION),
            note="least preload less the required factor times the pull, a twist at the mean radius of a face; past it "
            "the bolt bends")  # fmt: skip
        for (name, _, outer, inner), rock in zip(self._ends, (rocked, bent), strict=True):
            yield on(f"{name} lifts", "opening", demand=rock, unit="N*mm", required=required.on_yield,
                capacity=left.value * _kern(outer, inner), note="on the kern (D² + d²)/(8 D): statics")  # fmt: skip
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

        (_, _, top, hole), (_, _, outer, inner) = self._ends
        head = Flat(self.points()["head"], X, float(top) / 2.0, float(hole) / 2.0)
        base = Flat(np.zeros(3), -X, float(outer) / 2.0, float(inner) / 2.0)
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
        from parts.core import drawing as sheet

        L, D, tol, c = map(float, (self.length, self.diameter, self.tolerance, self.edge_break))
        of = self.outside()
        ends = (0, D / 2 - c, 0), (L, float(self._wide) / 2 - c, 0)
        sizes: list[Any] = [
            sheet.Linear("length", *ends, X, L, limits=(L - tol, L + tol), view="front"),
            sheet.Diameter("outside", (L / 3, 0, 0), X, D, view="front", fit=(of and of.tolerance_class) or "",
                limits=of and of.sizes),
            sheet.Callout("head", (L, D / 4, 0), "face", zones=(sheet.Zone("parallelism", tol, ("A",), round=False),),
                view="front"),
        ]  # fmt: skip
        if self.flange is not None:
            wide, thick, r = (float(v) for v in (self._wide, self._brim, self.flange.fillet))
            under, top, slant = (L - thick, wide / 2, 0), (L, wide / 2, 0), (X + Y) / np.sqrt(2.0)
            middle = (L - thick - r, -D / 2 - r, 0)
            sizes += [
                sheet.Diameter("brim", (L - thick / 2, 0, 0), X, wide, view="front"),
                sheet.Linear("brim, thickness", under, top, X, thick, view="front"),
                sheet.Radius("fillet", middle, Z, slant, r, view="front"),
            ]
        bore = sheet.Hole(
            "bore", (0, 0, 0), X, float(self.bore), through=L, fit=DRILLED_CLASS, view="left",
            limits=class_limits(DRILLED_CLASS, float(self.bore)).sizes,
            zones=(sheet.Zone("perpendicularity", tol, ("A",)),),
        )  # fmt: skip
        marks = sheet.Marks(
            tuple(sizes),
            (bore,),
            centres=(sheet.CentreLine((0, 0, 0), (L, 0, 0)),),
            notes=(f"Break edges {c:g} mm × 45°.",),
            datums=(sheet.DatumFeature("A", (0, -D / 2 + c, 0), (0, D / 2 - c, 0), -X, "front"),),
        )
        views = sheet.View("front"), sheet.View("left")
        return [sheet.Drawn(X, Y, views, marks, sheet.Datum((0, 0, 0), "face of the base"))]

    def build(self) -> Sequence[Piece]:
        from parts.shapes.profile import cylinder

        bore = cylinder(float(self.bore), -1.0, float(self.length) + 1.0, "x")
        made = turned.solid(self._steps).cut(bore)
        if self.edge_break > 0.0:
            made = made.faces("<X or >X").edges().chamfer(float(self.edge_break))
        return [Piece("part", self.metal, made)]


def _kern(outer: Any, inner: Any) -> Any:
    """How far off the middle of a ring a force may press before its far rim lifts [mm]; diameters [mm]."""
    return (np.square(outer) + np.square(inner)) / (8.0 * outer)
