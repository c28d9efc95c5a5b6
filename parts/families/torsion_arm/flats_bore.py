"""A hub's bore for a square or hexagon end of the bar, its corners relieved by drilled holes."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.clearances import Clearance, of_class, of_limits
from parts.core.fatigue_places import Detail, Spot
from parts.core.feature import Answers, Modes
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.features.bar_bore.in_hub import InHub
from parts.features.press.fit import HoleClass, limit_facts
from parts.inputs.quantities import Angle, NonNegativeLength, PositiveLength
from parts.standards.fits.iso286 import Limits, class_limits
from parts.strength.method import Worked, work
from parts.strength.section.figures import regular_polygon
from parts.strength.shafts import flats, polygon_hub

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Dimension, Marks


Z = np.eye(3)[2]
BAR_CLASS = "h11"
"""Tolerance of the flats milled on a bar, or of drawn hexagon bar: ISO 4759 and EN 10278 h11; from memory."""
THICKEST = polygon_hub.THICKEST
"""A ligament thicker than this share of the width across the flats counts as this thick [-]: the study ends there."""


class FlatsBore(Group, Answers[InHub]):
    """A square or hexagon bore."""

    seen_from_below: ClassVar[bool] = False

    type: Literal["square", "hex"] = Field(description="A square bore, or a hexagon one.")
    across_flats: PositiveLength = Field(description="Across the flats of the bar's end.")
    clearance: NonNegativeLength = Field(
        0.05, description="Clearance across the flats, both sides together, at the least."
    )
    fit: HoleClass = Field(
        "H9",
        description="ISO 286 class of the width across the flats, bar and clearance; H9 as broached or wire-cut: "
        "common practice, no source.",
    )
    corner_relief: PositiveLength = Field(
        3.0, description="Diameter of the hole drilled at each corner, so that corners stay round."
    )
    clocking: Angle = Field(0.0, description="Turn of the middle of a flat from the arm, about +z.")
    lead_in: NonNegativeLength = Field(
        0.8, description="Depth of the 45 degree chamfer at both mouths of the bore."
    )

    @model_validator(mode="after")
    def _has_a_fit_of_the_standard(self) -> FlatsBore:
        self.bore_limits()
        return self

    def bore_limits(self) -> Limits:
        """Limits of the width across the flats.

        Raises:
            ValueError: the standard has no such fit at this width.
        """
        return class_limits(self.fit, float(self.bore))

    @property
    def sides(self) -> int:
        return 4 if self.type == "square" else 6

    @property
    def bore(self) -> Any:
        """Across the flats of the bore [mm]."""
        return self.across_flats + self.clearance

    @property
    def largest(self) -> Any:
        """Diameter over the corner reliefs [mm]."""
        return self.bore / np.cos(np.pi / self.sides) + self.corner_relief

    @property
    def shaft(self) -> Any:
        """Diameter of the round bar that the flats are milled on, at least [mm]."""
        return self.across_flats

    @property
    def contact(self) -> Any:
        """Width of one flat in contact, less the reliefs [mm]."""
        return self.across_flats * np.tan(np.pi / self.sides) - self.corner_relief

    def engagement(self, width: Any) -> Any:
        """Length of full flats in a hub [mm]."""
        return width - 2.0 * self.lead_in

    def clearances(self, site: InHub) -> Sequence[Clearance]:
        """The bar's end in the hub."""
        bar = of_class("flats of the bar", BAR_CLASS, self.across_flats)
        room = of_limits("flats of the hub", self.bore_limits())
        return [
            Clearance(
                "bar in the hub",
                f"{site.field}.clearance",
                (room,),
                (bar,),
                "give the flats clearance",
                eased=lambda more: self.clearance + more,
            )
        ]

    def shaft_shear(self, site: InHub, case: LoadCase) -> Any:
        """Shear stress of the bar's end in the hub, worked [MPa]."""
        solid = work(
            flats.bar_shear_stress, T=site.torque(case), AF=self.across_flats, n=float(self.sides)
        )
        if not np.any(site.hollow):
            return solid
        # No closed form is at hand for a bored end. The bore takes 0.7 (d/AF)^4 of a square's torsion constant
        # and 0.85 of it of a hexagon's: the whole of it is on the safe side.
        return solid.value / (1.0 - np.power(site.hollow / self.across_flats, 4.0))

    def rules(self, site: InHub) -> Iterator[Rule]:
        """Rules of the bore."""
        field, width = site.field, site.width
        yield at_least(
            "flats.size", f"{field}.across_flats", self.across_flats, 8.0,
            "a bar this thin is no torsion bar; it looks like the wrong unit", "check the unit of this value",
        )  # fmt: skip
        wall = (site.diameter - self.largest) / 2.0
        yield at_least(
            "flats.wall", "hub.diameter", wall, np.maximum(0.15 * self.across_flats, 3.0),
            "the hub would burst at the corners of its bore (0.15 of the flats: common practice, no source)",
            "make the hub larger, or the bore smaller",
        )  # fmt: skip
        yield at_least(
            "flats.arm", "arm.width", site.arm, polygon_hub.NARROWEST * site.diameter,
            "an arm under half as wide as its hub bends the hub about the corners of its bore more than was studied",
            "make the arm wider, or the hub smaller",
        )  # fmt: skip
        yield at_least(
            "flats.engagement", "hub.width", self.engagement(width), 0.5 * self.across_flats,
            "the flats engage over less than half their width apart (common practice, no source)",
            "make the hub wider",
        )  # fmt: skip
        yield at_most(
            "flats.clearance", f"{field}.clearance", self.clearance, 0.01 * self.across_flats,
            "a bar this loose knocks in its hub", "lessen the clearance",
        )  # fmt: skip
        yield at_least(
            "flats.sharp", f"{field}.corner_relief", self.corner_relief, np.maximum(1.0,
            0.05 * self.across_flats),
            "a corner this sharp starts a crack (common practice, no source)", "drill a larger relief",
        )  # fmt: skip
        yield at_most(
            "flats.relief", f"{field}.corner_relief", self.corner_relief,
            0.4 * self.across_flats * np.tan(np.pi / self.sides),
            "the reliefs leave too little of the flats", "drill a smaller relief",
        )  # fmt: skip
        yield at_most(
            "flats.lead_in", f"{field}.lead_in", self.lead_in,
            (self.bore / np.cos(np.pi / self.sides) - self.bore) / 2.0,
            "the lead-in reaches beyond the corners of the bore", "lessen the lead-in",
        )  # fmt: skip

    def kinds(self, site: InHub) -> list[Kind]:
        """What can fail of it."""
        return [Kind("polygon in a hub", "bore")]

    def modes(self, site: InHub, case: LoadCase) -> Iterator[Check]:
        """Pressure on the flats, hoop stress of the hub, and its corners that the flats wedge open."""
        material, torque, required = site.metal, site.torque(case), site.required(case)
        long, n = self.engagement(site.width), self.sides
        on = partial(check, load_case=case.name, unit="MPa", required=required.on_yield)
        yield on(
            "bore flats, pressure", "flats pressure", capacity=material.bearing_yield,
            demand=work(flats.flats_pressure, T=torque, s=self.contact, L=long, n=float(n)),
            note="the bar's own flats bear the same: hold its material against it too",
        )  # fmt: skip
        wall = (site.diameter - self.largest) / 2.0
        yield on(
            "bore flats, hoop stress", "hoop tension", capacity=material.yield_strength,
            demand=work(flats.flats_hoop_stress, T=torque, s=self.contact, L=long, t_w=wall),
        )  # fmt: skip

        stress = self._at_corner(polygon_hub.corner_section_stress, site, case)
        for kind, strength, factor in required.both(
            material.yield_strength, material.ultimate_strength
        ):
            yield check(
                f"bore corners, wedged open, {kind}", "hub corner", load_case=case.name, unit="MPa",
                demand=stress, capacity=strength, required=factor,
                note="the ligament over a corner's relief, pulled and bent by the flats and by the arm",
            )  # fmt: skip

    def _at_corner(self, of: Callable[..., Any], site: InHub, case: LoadCase) -> Worked:
        """A stress at the ligament over a corner's relief [MPa]."""
        wall = np.minimum((site.diameter - self.largest) / 2.0, THICKEST * self.bore)
        long = self.engagement(site.width)
        hoop = work(flats.flats_hoop_stress, T=site.torque(case), s=self.contact, L=long, t_w=wall)
        return work(
            of, hoop=hoop, n=float(self.sides), AF=self.bore, t_w=wall, d_r=self.corner_relief,
            D=site.diameter, w=site.arm, phi=self.clocking,
        )  # fmt: skip

    def details(self, site: InHub, modes: Modes) -> Sequence[Detail]:
        """The reliefs at the corners, with the whole of their own peak."""

        def peak(case: LoadCase) -> Worked:
            return self._at_corner(polygon_hub.corner_peak_stress, site, case)

        wall = (site.diameter - self.largest) / 2.0
        return [
            Spot("corners of the hub's bore", site.metal, peak, wall, note="peak of the elements")
        ]

    def cautions(self, site: InHub) -> list[str]:
        return [
            "Mark one flat of the bar and of the hub before the arm comes off: a square or hexagon goes back "
            f"on in {self.sides} places."
        ]

    def facts(self, site: InHub) -> dict[str, tuple[Any, str]]:
        return {
            "clocking of a flat": (np.degrees(self.clocking), "deg"),
            **limit_facts("across the flats", self.bore_limits()),
        }

    def marks(self, site: InHub) -> Marks:
        """The width across its flats, the reliefs of its corners, and how it stands to the arm."""
        from parts.core.drawing import Callout, Diameter, Linear, Marks, Worded

        half = float(site.width) / 2.0
        across, turn, of = float(self.bore), float(self.clocking), self.bore_limits()
        way = np.array([np.cos(turn), np.sin(turn), 0.0])
        corner = np.pi / self.sides
        reach = across / 2 / np.cos(corner)
        at = reach * np.array([np.cos(turn + corner), np.sin(turn + corner), 0.0]) + Z * half
        relief = Diameter("corner relief", at, Z, float(self.corner_relief))
        rim = at + relief.value / 2 * np.array([np.cos(turn + corner), np.sin(turn + corner), 0.0])
        sizes: list[Dimension] = [
            Linear(
                "across the flats of the bore", Z * half - way * across / 2, Z * half + way * across / 2, way,
                across, callout=f"{self.type} bore", view="front", fit=of.tolerance_class, limits=of.sizes,
                sides=self.sides,
            ),
            Callout("corner reliefs", rim, f"{self.sides}× {{0}} at the corners", (relief,), view="front"),
        ]  # fmt: skip
        notes = []
        if self.lead_in > 0.0:
            notes.append(f"Lead-in {float(self.lead_in):g} mm × 45° at both mouths of the bore.")
        if turn:
            notes.append(
                f"The middle of a flat stands {np.degrees(turn):.2f}° from the arm's centre line."
            )
        wide = 2.0 * reach + float(relief.value) + 4.0 * float(self.lead_in)
        worded = Worded("bore", (0, 0, 0), Z, across, wide)
        return Marks(tuple(sizes), notes=tuple(notes), worded=(worded,))

    def cut_from(self, body: cq.Workplane, width: float) -> cq.Workplane:
        """Cut the bore, its reliefs and its lead-in; the hub lies from -width/2 to width/2."""
        from parts.shapes.profile import cone, cylinder, prism

        half, over, af = float(width) / 2.0, 1.0, float(self.bore)
        shape = regular_polygon(af, self.sides).rotated(float(self.clocking))
        tool = prism(shape, -half - over, half + over)
        for x, y in shape.loops[0].points:
            tool = tool.union(
                cylinder(
                    float(self.corner_relief),
                    -half - over,
                    half + over,
                    "z",
                    (float(x), float(y), 0.0),
                )
            )
        if self.lead_in > 0.0:
            wide, lead = af + 2.0 * (self.lead_in + over), float(self.lead_in)
            tool = tool.union(cone(wide, af, -half - over, -half + lead))
            tool = tool.union(cone(af, wide, half - lead, half + over))
        return body.cut(tool)
