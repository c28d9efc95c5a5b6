"""The hub of a foot lever: two ball bearings, or a plain bush, on the pivot of a bracket.

Axes of the feature: the pivot lies on z, the middle of the hub is the origin; the bracket stands on the side of -z.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.clearances import Clearance, of_class, of_limits
from parts.core.fatigue_places import Detail, Spot, demand_of
from parts.core.feature import Answers, Modes, Site
from parts.core.group import Group
from parts.core.loads import LoadCase, resultant
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.features.arm.round_end import disc
from parts.features.bearing_seat.strength import bearing_modes, ring_in
from parts.features.bolts.hardware import seat_rules, seated
from parts.features.press.fit import FINE, RING_CLASS, FitPair, HoleClass
from parts.features.press.pressed import Pressed
from parts.features.section.notches import SHARP
from parts.inputs.designations import BearingName, MaterialName, ThrustName
from parts.inputs.quantities import PositiveLength
from parts.standards.fits.iso286 import class_limits
from parts.strength.bearings import axial
from parts.strength.bolted.split_clamp import head_pressure
from parts.strength.method import work
from parts.strength.pinned import lug
from parts.strength.pinned import pin as pins
from parts.strength.section import bar as bars

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Dimension, Marks
    from parts.core.feature import Feature
    from parts.core.supports import Round

Z = np.eye(3)[2]
LEAST_LAND = 2.0
"""Least length of the land that the outer rings seat on [mm]; common practice, no source."""
RUNS_IN = "H8"
"""Bore of a bush as it is reamed when it is pressed in, on a journal f7: a running fit; common practice, no source."""
JOURNAL = "f7"
KEPT = "the land between the rings carries them along, and bolt or circlip of the bracket's stub keeps the rings"
FACED = (
    "the hub's own faces bear on the washers, and no force along the pivot goes through the bush"
)
WORN = "slow, and felt as play long before it breaks; grease it, and look at it at each service"


@dataclass(frozen=True)
class OnPivot(Site):
    """The hub of a lever; what acts on it is all that acts on the lever.

    Attributes:
        diameter: outside of the hub [mm].
        torque: the greatest moment about the pivot that one of its arms brings in, under a load case [N*mm].
    """

    diameter: Any = np.nan
    torque: Any = None

    def felt(self, case: LoadCase) -> tuple[Any, Any]:
        """Force [N] and moment [N*mm] on the pivot, about the middle of the hub."""
        return resultant(self.actions(case), np.zeros(3))


class OnBearings(Group, Answers[OnPivot]):
    """Two sealed ball bearings, pressed in from both faces on a land between them."""

    type: Literal["bearings"] = Field(
        "bearings", description="Two ball bearings, pressed in from both faces."
    )
    bearing: BearingName = Field(description="The two bearings by their designation, as 6202-2RS.")
    spacer: PositiveLength = Field(
        description="Length of the land between the outer rings, and of the spacer between the inner ones."
    )
    thrust: ThrustName | None = Field(
        None,
        description="Needle thrust bearing between hub and bracket, as AXK 2035; none where left out.",
    )
    fit: HoleClass = Field(
        "N7",
        description="ISO 286 class of the seats; N7 where the press alone keeps the ring from creeping: one step "
        "tighter than in steel, for light alloy; common practice, no source.",
    )

    @model_validator(mode="after")
    def _has_a_fit_of_the_standard(self) -> OnBearings:
        class_limits(self.fit, self.bearing.outside)
        return self

    @property
    def width(self) -> Any:
        """Width of the hub: its faces are flush with the rings [mm]."""
        return 2.0 * self.bearing.width + self.spacer

    @property
    def largest(self) -> float:
        """Largest diameter that is cut from the hub [mm]."""
        return float(self.bearing.outside)

    @property
    def land(self) -> float:
        """Bore of the land [mm]."""
        return float(self.bearing.abutment().housing_max)

    @property
    def spread(self) -> Any:
        """Distance of the bearings' middles [mm]."""
        return self.bearing.width + self.spacer

    def _ring(self, site: OnPivot) -> Pressed:
        wall = (site.diameter - self.bearing.outside) / 2.0
        return ring_in("hub bearing", self.bearing, 1, wall, site.metal, self.fit)

    def rules(self, site: OnPivot) -> Iterator[Rule]:
        field = site.field
        yield at_least(
            "lever.land", f"{field}.spacer", self.spacer, LEAST_LAND,
            "no land is left for the outer rings to seat on", "lengthen the spacers of bracket and lever",
        )  # fmt: skip
        yield from seat_rules(
            f"{field}.bearing", self.bearing, site.diameter, depth=self.bearing.width, shoulder=self.land
        )  # fmt: skip
        if self.thrust is not None:
            yield at_least(
                "lever.washer", f"{field.rpartition('.')[0]}.diameter", site.diameter, self.thrust.outside,
                f"the washer of {self.thrust.designation} overhangs the hub that runs on it", "make the hub larger",
            )  # fmt: skip

    def kinds(self, site: OnPivot) -> Sequence[Kind]:
        return [
            Kind("rolling bearing", "hub"),
            Kind("bearing seat", "hub", left_out={"ring driven out": KEPT}),
        ]

    def modes(self, site: OnPivot, case: LoadCase) -> Iterator[Check]:
        metal, required = site.metal, site.required(case)
        force, moment = site.felt(case)
        yield from bearing_modes(
            "hub", self.bearing, 2, self.spread, force, moment, case.name, required
        )
        V, M = np.hypot(force[..., 0], force[..., 1]), np.hypot(moment[..., 0], moment[..., 1])
        worst = V / 2.0 + M / self.spread
        yield check(
            "hub seat, bearing, yield", "bearing", load_case=case.name, unit="MPa", required=required.on_yield,
            demand=work(lug.bearing_stress, P=worst, D_p=self.bearing.outside, t=self.bearing.width),
            capacity=metal.bearing_yield_ed15, note="the seat that bears more: P = V/2 + M/spread",
        )  # fmt: skip
        yield check(
            "hub lip between the bearings, sheared off", "shear", load_case=case.name, unit="N",
            demand=np.abs(force[..., 2]), required=required.on_ultimate,
            capacity=work(
                axial.land_shear_load, d_g=self.bearing.outside, n=self.spacer, tau=metal.shear_ultimate
            ),
            note="no thrust bearing is counted",
        )  # fmt: skip

    def standing(self, site: OnPivot) -> Iterator[Check]:
        """The hub about a ring at the tightest of its fit."""
        return self._ring(site).modes()

    def clearances(self, site: OnPivot) -> Sequence[Clearance]:
        seat = of_limits("seat", class_limits(self.fit, self.bearing.outside))
        ring = of_class("outer ring", RING_CLASS, self.bearing.outside)
        return [
            Clearance(
                "hub: bearing in its seat", f"{site.field}.fit", (seat,), (ring,), "choose another fit", goes="either"
            )
        ]  # fmt: skip

    def facts(self, site: OnPivot) -> Mapping[str, tuple[Any, str]]:
        return {"hub: middles of the bearings apart": (self.spread, "mm")}

    def touching(self, site: OnPivot) -> Mapping[str, str]:
        return seated(self.bearing, None)

    def bought(self, site: OnPivot) -> Sequence[Bought]:
        return [Bought(self.bearing.designation, 2, "hub", self.bearing.source)]

    def cautions(self, site: OnPivot) -> Sequence[str]:
        return ["Press both rings home against the land, by the outer ring alone, with the spacer between the inner "
                "ones before the second goes in."]  # fmt: skip

    def cut(self, body: cq.Workplane, edge_break: float) -> cq.Workplane:
        """The seats and the land cut out of a body."""
        from parts.shapes.profile import broken_hole, cylinder

        half, deep = float(self.width) / 2.0, float(self.bearing.width)
        D = float(self.bearing.outside)
        body = body.cut(cylinder(self.land, -half, half))
        room = broken_hole(D, -half, half, edge_break)
        return body.cut(room.cut(cylinder(D + 10.0, -half + deep, half - deep)))

    def marks(self, site: OnPivot) -> Marks:
        from parts.core.drawing import Diameter, Hole, Linear, Marks

        half, deep, D = float(self.width) / 2.0, float(self.bearing.width), float(self.largest)
        of = class_limits(self.fit, D)
        words = f"{FINE}\nseat for {self.bearing.designation},\nboth sides"
        fit, limits = of.tolerance_class, of.sizes
        seat = Hole(
            "bearing seat", (0, 0, half), -Z, D, depth=deep, callout=words, fit=fit, limits=limits
        )
        r = self.land / 2.0
        sizes: list[Dimension] = [
            Diameter("bearing seat below", (0, 0, -half + deep / 2.0), Z, D, view="top",
                fit=fit, limits=limits),
            Diameter("land", (0, 0, 0), Z, 2.0 * r, view="top"),
            Linear("land between the seats", (r, 0, -half + deep), (r, 0, half - deep), Z, float(self.spacer),
                view="top"),
        ]  # fmt: skip
        return Marks(tuple(sizes), (seat,))

    def walls(self) -> Sequence[tuple[Round, float]]:
        """The walls of the seats, each with how far its middle stands over that of the hub [mm]."""
        from parts.core.supports import Round

        half, deep = float(self.width) / 2.0, float(self.bearing.width)
        ends = ((-half, -half + deep), (half - deep, half))
        return [
            (Round(np.zeros(3), Z, self.largest, low, high), (low + high) / 2.0)
            for low, high in ends
        ]


class OnBush(Group, Answers[OnPivot]):
    """A plain bush pressed into the hub, on a shoulder bolt or a pin, between two washers."""

    type: Literal["bush"] = Field("bush", description="A plain bush pressed into the hub.")
    journal: PositiveLength = Field(description="Diameter of the shoulder or pin that it turns on.")
    outside: PositiveLength = Field(description="Outside diameter of the bush.")
    material: MaterialName = Field(description="Material of the bush.")
    fit: FitPair = Field("H7/p6", description="Fit of the bush in the hub.")
    length: PositiveLength = Field(description="Width of the hub and length of the bush.")
    washer: PositiveLength = Field(
        description="Outside diameter of the thrust washers beside the hub."
    )

    @property
    def width(self) -> Any:
        """Width of the hub [mm]."""
        return self.length

    @property
    def largest(self) -> Any:
        """Largest diameter that is cut from the hub [mm]."""
        return self.outside

    @model_validator(mode="after")
    def _has_a_fit_of_the_standard(self) -> OnBush:
        class_limits(self.fit.split("/")[0], float(self.outside))
        return self

    def _ring(self, site: OnPivot) -> Pressed:
        return Pressed(
            "hub bush", self.outside, self.journal, (site.diameter - self.outside) / 2.0, self.length, site.metal,
            self.material, self.fit,
        )  # fmt: skip

    def rules(self, site: OnPivot) -> Iterator[Rule]:
        field = site.field
        yield at_least(
            "lever.bush", f"{field}.outside", self.outside, self.journal + 2.0,
            "the bush would have less than 1 mm of wall", "choose a bush with a larger outside diameter",
        )  # fmt: skip
        yield at_least(
            "lever.short", f"{field}.length", self.length, self.journal,
            "a hub shorter than its journal is thick wobbles (one diameter: common practice, no source)",
            "widen the hub",
        )  # fmt: skip
        yield at_least(
            "lever.wall", f"{field}.outside", (site.diameter - self.outside) / 2.0, np.maximum(0.1 * self.outside, 3.0),
            "too little metal stands around the bush (a tenth of it and 3 mm: common practice, no source)",
            "make the hub larger",
        )  # fmt: skip
        yield at_least(
            "lever.washer", f"{field}.washer", self.washer, self.outside + 2.0,
            "the washers bear on the bush alone", "take larger washers",
        )  # fmt: skip
        yield at_most(
            "lever.washer_wide", f"{field}.washer", self.washer, site.diameter, "the washers overhang the hub",
            "take smaller washers, or make the hub larger",
        )  # fmt: skip

    def kinds(self, site: OnPivot) -> Sequence[Kind]:
        return [Kind("pressed-in ring", "hub bush", left_out={"pushed out": FACED}),
                Kind("hub on a bush", "hub bush", left_out={"worn": WORN})]  # fmt: skip

    def modes(self, site: OnPivot, case: LoadCase) -> Iterator[Check]:
        required, metal = site.required(case), site.metal
        force, moment = site.felt(case)
        V, M = np.hypot(force[..., 0], force[..., 1]), np.hypot(moment[..., 0], moment[..., 1])
        edge = V + 6.0 * M / self.length
        on = {"load_case": case.name, "unit": "MPa"}
        yield check(
            "hub bush, pressure at its edge, yield", "bearing", required=required.on_yield,
            demand=work(lug.bearing_stress, P=edge, D_p=self.journal, t=self.length),
            capacity=self.material.yield_strength, note="P = V + 6 M/L: the pressure at the end of the bush", **on,
        )  # fmt: skip
        yield check(
            "hub bush, its seat crushed, yield", "bearing", required=required.on_yield,
            demand=work(lug.bearing_stress, P=edge, D_p=self.outside, t=self.length),
            capacity=metal.bearing_yield_ed15, **on,
        )  # fmt: skip
        yield check(
            "hub bush, faces on their washers, yield", "bearing", required=required.on_yield,
            demand=work(head_pressure, F=np.abs(force[..., 2]), d_w=self.washer, d_h=self.outside),
            capacity=metal.yield_strength, note="the ring of the hub outside the bush", **on,
        )  # fmt: skip

    def standing(self, site: OnPivot) -> Iterator[Check]:
        """The press of the bush."""
        return self._ring(site).modes()

    def facts(self, site: OnPivot) -> Mapping[str, tuple[Any, str]]:
        return self._ring(site).facts()

    def clearances(self, site: OnPivot) -> Sequence[Clearance]:
        hole, shaft = self.fit.split("/")
        return [
            Clearance("hub: bush in its bore", f"{site.field}.fit", (of_class("hub", hole, self.outside),),
                (of_class("bush", shaft, self.outside),), "choose another fit", goes="pressed"),
            Clearance("hub: journal in its bush", f"{site.field}.journal",
                (of_class("bush, reamed when it is pressed in", RUNS_IN, self.journal),),
                (of_class("journal", JOURNAL, self.journal),), "ream the bush larger"),
        ]  # fmt: skip

    def touching(self, site: OnPivot) -> Mapping[str, str]:
        return {f"bush, {self.material.name}": self.material.galvanic_family}

    def bought(self, site: OnPivot) -> Sequence[Bought]:
        size = f"{self.journal:g} x {self.outside:g} x {self.length:g} mm"
        return [Bought(f"bush {size}, {self.material.name}", 1, f"hub, {self.fit}"),
                Bought(f"thrust washer, {self.journal:g} x {self.washer:g} mm", 2, "hub")]  # fmt: skip

    def cautions(self, site: OnPivot) -> Sequence[str]:
        return [
            f"Ream the bush to {RUNS_IN} when it is pressed in, and drill a grease hole or fit a nipple."
        ]

    def cut(self, body: cq.Workplane, edge_break: float) -> cq.Workplane:
        """The bore cut out of a body."""
        from parts.shapes.profile import broken_hole

        half = float(self.length) / 2.0
        return body.cut(broken_hole(float(self.outside), -half, half, edge_break))

    def marks(self, site: OnPivot) -> Marks:
        from parts.core.drawing import Hole, Marks

        half, D = float(self.length) / 2.0, float(self.outside)
        of = class_limits(self.fit.split("/")[0], D)
        hole = Hole(
            "bore of the hub", (0, 0, half), -Z, D, through=2 * half, fit=of.tolerance_class, limits=of.sizes,
            callout=f"{FINE}\nfor bush, {self.fit}",
        )  # fmt: skip
        return Marks((), (hole,))

    def walls(self) -> Sequence[tuple[Round, float]]:
        """The wall of the bore in two halves, each with how far its middle stands over that of the hub [mm]."""
        from parts.core.supports import Round

        half = float(self.length) / 2.0
        ends = ((-half, 0.0), (0.0, half))
        return [
            (Round(np.zeros(3), Z, float(self.outside), low, high), (low + high) / 2.0)
            for low, high in ends
        ]


Pivot = Annotated[OnBearings | OnBush, Field(discriminator="type")]
if TYPE_CHECKING:
    _: tuple[type[Feature[OnPivot]], ...] = (OnBearings, OnBush)


class LeverHub(Group, Answers[OnPivot]):
    """The hub of a lever: its boss, and what it turns on."""

    diameter: PositiveLength = Field(description="Outside diameter of the hub.")
    pivot: Pivot = Field(
        description="What it turns on: two bearings on a stub, or a bush on a shoulder."
    )

    @property
    def width(self) -> Any:
        """Width of the hub along the pivot [mm]."""
        return self.pivot.width

    def rules(self, site: OnPivot) -> Iterator[Rule]:
        field = site.field
        yield at_most(
            "hub.large", f"{field}.diameter", self.diameter, 120.0,
            "no hub of a foot lever is this large; it looks like the wrong unit", "check the unit of this value",
        )  # fmt: skip
        yield from self.pivot.rules(self._within(site))
        room = np.minimum(self.width, (self.diameter - self.pivot.largest) / 2.0) / 6.0
        yield at_most(
            "hub.break", "edge_break", site.edge_break, room, "the chamfers would eat the faces of the hub",
            "lessen the edge break, or make the hub's wall thicker",
        )  # fmt: skip

    def _within(self, site: OnPivot) -> OnPivot:
        from dataclasses import replace

        return replace(site, field=f"{site.field}.pivot")

    def kinds(self, site: OnPivot) -> Sequence[Kind]:
        return [Kind("hub walls", "hub"), Kind("lever hub", "hub"), *self.pivot.kinds(site)]

    def modes(self, site: OnPivot, case: LoadCase) -> Iterator[Check]:
        """What its pivot asks, and the two walls beside the bore: bent in the plane of travel and across it, torn."""
        yield from self.pivot.modes(site, case)
        metal, D, d, b = site.metal, self.diameter, self.pivot.largest, self.width
        force, moment = site.felt(case)
        modulus = b * (np.power(D, 3.0) - np.power(d, 3.0)) / (6.0 * D)
        stress = work(bars.bending_stress, M=site.torque(case), W=modulus)
        side = np.hypot(moment[..., 0], moment[..., 1])
        aside = work(pins.bending_stress, M=side, D=D, d=d)
        pull = work(
            lug.net_section_stress, P=np.hypot(force[..., 0], force[..., 1]), w=D, D_h=d, t=b
        )
        for kind, strength, factor in site.required(case).both(
            metal.yield_strength, metal.ultimate_strength
        ):
            on = {"load_case": case.name, "capacity": strength, "unit": "MPa", "required": factor}
            yield check(
                f"hub walls beside the bore, {kind}", "bending", demand=stress,
                note="W = b (D³ - d³)/(6 D) of the two walls, under the moment of the arm that brings most", **on,
            )  # fmt: skip
            yield check(
                f"hub bent across its plane, {kind}", "bending", demand=aside,
                note="the hub as a tube, under the whole moment of what acts beside it", **on,
            )  # fmt: skip
            yield check(f"hub torn beside its bore, {kind}", "net tension", demand=pull, **on)

    def details(self, site: OnPivot, modes: Modes) -> Sequence[Detail]:
        stress = demand_of(modes, "hub walls beside the bore, yield")
        return [Spot("hub walls", site.metal, stress, self.diameter, SHARP.K_t,
                     note="edge of the bore: three, common practice, no source"),
                *self.pivot.details(site, modes)]  # fmt: skip

    def standing(self, site: OnPivot) -> Iterator[Check]:
        return self.pivot.standing(site)

    def clearances(self, site: OnPivot) -> Sequence[Clearance]:
        return self.pivot.clearances(self._within(site))

    def facts(self, site: OnPivot) -> Mapping[str, tuple[Any, str]]:
        return self.pivot.facts(site)

    def touching(self, site: OnPivot) -> Mapping[str, str]:
        return self.pivot.touching(site)

    def bought(self, site: OnPivot) -> Sequence[Bought]:
        return self.pivot.bought(site)

    def cautions(self, site: OnPivot) -> Sequence[str]:
        return self.pivot.cautions(site)

    def marks(self, site: OnPivot) -> Marks:
        """Its boss and its bore."""
        from parts.core.drawing import CentreLine, Diameter, Linear, Marks

        wide, half = float(self.diameter), float(self.width) / 2.0
        sizes = (
            Diameter("hub", (0, 0, half), Z, wide, view="front"),
            Linear("width of the hub", (-wide / 2, 0, -half), (-wide / 2, 0, half), Z, 2 * half, view="top"),
        )  # fmt: skip
        return Marks(sizes, centres=(CentreLine((0, 0, -half), (0, 0, half)),)) + self.pivot.marks(
            site
        )

    def solid(self, edge_break: float) -> cq.Workplane:
        """The boss, not yet bored."""
        return disc(float(self.diameter), float(self.width), edge_break)
