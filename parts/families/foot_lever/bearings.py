"""The hub of a foot lever on two ball bearings.

Axes of the feature: the pivot lies on z, the middle of the hub is the origin; the bracket stands on the side of -z.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.clearances import Clearance, of_class, of_limits
from parts.core.feature import Answers
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule, at_least
from parts.core.ways import Kind
from parts.families.foot_lever.on_pivot import OnPivot
from parts.features.bearing_seat.strength import bearing_modes, ring_in
from parts.features.bolts.hardware import seat_rules, seated
from parts.features.press.fit import FINE, RING_CLASS, HoleClass
from parts.features.press.pressed import Pressed
from parts.inputs.designations import BearingName, ThrustName
from parts.inputs.quantities import PositiveLength
from parts.standards.fits.iso286 import class_limits
from parts.strength.bearings import axial
from parts.strength.method import work
from parts.strength.pinned import lug

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Dimension, Marks
    from parts.core.supports import Round


Z = np.eye(3)[2]
LEAST_LAND = 2.0
"""Least length of the land that the outer rings seat on [mm]; common practice, no source."""
PINCH = 0.02
"""How far land and spacer of two bearings may differ [mm]: well within the play along the axis of the normal class;
common practice, no source."""
KEPT = "the land between the rings carries them along, and bolt or circlip of the bracket's stub keeps the rings"


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

    def wall(self, diameter: Any) -> Any:
        """Wall of a hub of that diameter beside its bore, as it resists bending [mm]: seats and land together."""
        seat, land = (
            (np.asarray(diameter, float) - self.largest) / 2.0,
            (diameter - self.land) / 2.0,
        )
        cubes = 2.0 * self.bearing.width * seat**3 + self.spacer * land**3
        return np.cbrt(cubes / self.width)

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
            Kind(
                "bearing seat",
                "hub",
                left_out={"ring driven out": KEPT, "circlip turned out": KEPT},
            ),
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
                "ones before the second goes in.",
                f"Measure the land, and face the spacer to it within {PINCH:g} mm: one that differs more squeezes the "
                "balls when the bolt is tight."]  # fmt: skip

    def cut(self, body: cq.Workplane, edge_break: float) -> cq.Workplane:
        """The seats and the land cut out of a body."""
        from parts.shapes.profile import broken_hole, cylinder

        half, deep = float(self.width) / 2.0, float(self.bearing.width)
        D = float(self.bearing.outside)
        body = body.cut(cylinder(self.land, -half, half))
        room = broken_hole(D, -half, half, edge_break)
        return body.cut(room.cut(cylinder(D + 10.0, -half + deep, half - deep)))

    def marks(self, site: OnPivot) -> Marks:
        from parts.core.drawing import Callout, Diameter, Hole, Linear, Marks
        from parts.features.arm.square_bores import in_line

        half, deep, D = float(self.width) / 2.0, float(self.bearing.width), float(self.largest)
        of = class_limits(self.fit, D)
        fit, limits = of.tolerance_class, of.sizes
        words = f"{FINE}\nseat for {self.bearing.designation},\nboth sides"
        below = Diameter(
            "bearing seat below", (0, 0, -half + deep / 2.0), Z, D, fit=fit, limits=limits
        )
        seat = Hole(
            "bearing seat",
            (0, 0, half),
            -Z,
            D,
            depth=deep,
            callout=words,
            fit=fit,
            limits=limits,
            datum="B",
        )
        r = self.land / 2.0
        sizes: list[Dimension | Callout] = [
            in_line(Callout("bearing seat below", (D / 2.0, 0, -half + deep / 2.0), "{0}", (below,), view="top"), "B"),
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
