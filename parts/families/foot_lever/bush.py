"""The hub of a foot lever on a plain bush.

Axes of the feature: the pivot lies on z, the middle of the hub is the origin; the bracket stands on the side of -z.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.clearances import Clearance, of_class
from parts.core.feature import Answers
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.foot_lever.on_pivot import OnPivot
from parts.features.press.fit import FINE, FitPair
from parts.features.press.pressed import Pressed
from parts.inputs.designations import MaterialName
from parts.inputs.quantities import PositiveLength
from parts.standards.fits.iso286 import class_limits
from parts.strength.bolted.split_clamp import head_pressure
from parts.strength.method import work
from parts.strength.pinned import lug

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Marks
    from parts.core.supports import Round


Z = np.eye(3)[2]
RUNS_IN = "H8"
"""Bore of a bush as it is reamed when it is pressed in, on a journal f7: a running fit; common practice, no source."""
JOURNAL = "f7"
FACED = (
    "the hub's own faces bear on the washers, and no force along the pivot goes through the bush"
)
WORN = "slow, and felt as play long before it breaks; grease it, and look at it at each service"


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

    def wall(self, diameter: Any) -> Any:
        """Wall of a hub of that diameter beside its bore [mm]."""
        return (diameter - self.outside) / 2.0

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
