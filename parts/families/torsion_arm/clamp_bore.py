"""A split hub that pinches a plain bar: slit, relief, ears and pinch bolts.

The slit leaves the bore opposite the arm, turned by `clocking`. One ear is drilled to clear the bolts and
spot-faced for their heads; the other is tapped.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.feature import Answers
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.torsion_arm.sites import InHub
from parts.features.bolts.hardware import usual_surface
from parts.features.press.fit import HoleClass, limit_facts
from parts.inputs.designations import BoltName
from parts.inputs.quantities import Angle, NonNegativeLength, PositiveLength
from parts.standards.fits.iso286 import Limits, class_limits
from parts.strength.bolted import clamp, joint, pinch, split_clamp, stiffness
from parts.strength.bolted import thread as strip
from parts.strength.method import Worked, work
from parts.strength.shafts import torsion_bar

if TYPE_CHECKING:
    import cadquery as cq

MOUTH = 0.3
"""Edge break of the bore [mm]; common practice, no source."""
SPOT_DEPTH = 0.5
"""Depth of a spot face [mm]; common practice, no source."""
HEAD_ROOM = 1.0
"""Spot face over the bolt's head, on diameter [mm]; common practice, no source."""
EDGE = 1.5
"""Bolt centre to the end of the ear, in diameters of the bolt; common practice, no source."""
BAR_CLASS = "h6"
"""Tolerance of a ground bar, for the loosest fit; common practice, no source."""
ROUGH = 25.0
"""Roughness height Rz of the faces under head and bar [um]: milled and reamed; common practice, no source."""
BOLT_E = 205e3
"""Young's modulus of a bolt [MPa]."""
UNFELT = "the bar's torque runs through friction all round: the bolts feel none of it while the clamp holds"
"""Why a pinch bolt is not checked in fatigue."""
CREEP_SHARE = 0.76
"""Least share of its tensile strength at which a metal creeps under a head [-]: VDI 2230-1:2003, Table A9, 7075-T6,
410 of 540 MPa."""
WASHER_FACE = 0.95
"""Washer face under a hexagon head, in widths across its flats; common practice, no source."""
PROOF_OF_ULTIMATE = 0.7
"""Proof strength of a bolt without a published one, as a share of its ultimate; common practice, no source."""


class ClampBore(Group, Answers[InHub]):
    """A split clamp on a plain round bar."""

    type: Literal["clamp"] = Field("clamp", description="A split clamp on a plain round bar.")
    bar_diameter: PositiveLength = Field(description="Diameter of the plain bar in the clamp.")
    clearance: NonNegativeLength = Field(
        0.02, description="Bore less bar diameter, at the least: a close sliding fit."
    )
    fit: HoleClass = Field(
        "H7",
        description="ISO 286 class of the bore, on the bar's diameter and the clearance; H7 by common practice, "
        "no source.",
    )
    slit: PositiveLength = Field(2.0, description="Width of the slit.")
    relief: NonNegativeLength = Field(
        0.0,
        description="Diameter of a stress-relief hole beside the bore, opposite the slit; 0 for none.",
    )
    bolt: BoltName = Field(description="Pinch bolt by its designation.")
    count: int = Field(
        2, ge=1, le=4, description="Number of pinch bolts, side by side along the bar."
    )
    offset: PositiveLength = Field(description="Centre of the bar to the centre of the bolts.")
    ear: PositiveLength = Field(description="Thickness of each ear, from the slit to its face.")
    preload: float = Field(
        0.7, gt=0.0, le=0.9, description="Mean preload of a bolt as a share of its proof load."
    )
    scatter: float = Field(
        0.25,
        ge=0.0,
        le=0.6,
        description="Scatter of the preload: 0.25 for a torque wrench on oiled threads, 0.35 dry.",
    )
    nut_factor: float = Field(
        0.18,
        gt=0.05,
        le=0.4,
        description="Nut factor K of the tightening torque; 0.18 for oiled threads.",
    )
    friction: float = Field(
        0.12, gt=0.0, le=0.3, description="Friction between bar and hub, both clean and dry."
    )
    clocking: Angle = Field(
        0.0, description="Turn of the slit about +z from the side opposite the arm."
    )

    @model_validator(mode="after")
    def _has_a_fit_of_the_standard(self) -> ClampBore:
        self.bore_limits()
        return self

    @property
    def bore(self) -> Any:
        return self.bar_diameter + self.clearance

    def bore_limits(self) -> Limits:
        """Limits of the bore for the bar.

        Raises:
            ValueError: the standard has no such fit at this diameter.
        """
        return class_limits(self.fit, float(self.bore))

    @property
    def largest(self) -> Any:
        """Diameter of the largest circle about the bar that the bore and its relief reach [mm]."""
        return self.bore + 1.5 * self.relief

    @property
    def shaft(self) -> Any:
        """Diameter of the bar's end that goes through the bore [mm]."""
        return self.bar_diameter

    @property
    def reach(self) -> Any:
        """Centre of the bar to the end of the ears [mm]."""
        return self.offset + EDGE * self.bolt.thread.major

    @property
    def relief_at(self) -> Any:
        """Centre of the bar to the centre of the relief hole [mm]."""
        return self.bore / 2.0 + self.relief / 4.0

    @property
    def proof_load(self) -> float:
        return self.bolt.proof_load or PROOF_OF_ULTIMATE * self.bolt.tensile_load

    @property
    def mean_preload(self) -> Any:
        """Mean preload of one bolt [N]."""
        return self.preload * self.proof_load

    @property
    def head(self) -> float:
        """Diameter that the bolt's head needs on its face [mm]: over the corners of a hexagon."""
        corners = self.bolt.wrench / np.cos(np.pi / 6.0) if self.bolt.head == "hex" else 0.0
        return float(max(self.bolt.head_diameter or 0.0, corners)) + HEAD_ROOM

    @property
    def face(self) -> float:
        """Diameter on which the head bears [mm]."""
        flats = WASHER_FACE * self.bolt.wrench
        return float(flats if self.bolt.head == "hex" else self.bolt.head_diameter or flats)

    @property
    def hole(self) -> float:
        """Clearance hole for the bolt [mm]."""
        return self.bolt.thread.clearance_hole().diameter

    @property
    def engaged(self) -> Any:
        """Thread of the bolt in the tapped ear [mm]."""
        return np.minimum(self.bolt.length - (self.ear - SPOT_DEPTH) - self.slit, self.ear)

    def hinge(self, diameter: Any) -> tuple[Any, Any]:
        """Thickness of the wall that acts as hinge, and the bar's centre to its middle [mm]."""
        wall = (diameter - self.largest) / 2.0
        return wall, self.largest / 2.0 + wall / 2.0

    @property
    def loosest(self) -> Any:
        """Largest clearance of bore and bar [mm]: the bar at the least of its tolerance."""
        wide = np.vectorize(lambda d: class_limits(self.fit, d).upper, otypes=[float])
        thin = np.vectorize(lambda d: class_limits(BAR_CLASS, d).lower, otypes=[float])
        return self.clearance + wide(self.bore)[()] - thin(self.bar_diameter)[()]

    def ring(self, site: InHub) -> dict[str, Any]:
        """Mean radius [mm] of the ring that the bolts bend, their lever, and how far it is free of the arm [rad]."""
        R = (site.diameter + self.bore) / 4.0
        held = np.arcsin(np.minimum(site.arm / 2.0 / R, 1.0))
        return {"R": R, "e": self.offset, "free": np.pi - held - np.abs(self.clocking)}

    def closing(self, site: InHub) -> Worked:
        """Pull of all bolts together that bends the loosest hub round its bar [N]."""
        wall = (site.diameter - self.bore) / 2.0
        EI = site.metal.E * site.width * np.power(wall, 3.0) / 12.0
        return work(split_clamp.closing_force, c=self.loosest, EI=EI, **self.ring(site))

    def settled(self, site: InHub) -> Worked:
        """Preload that one bolt loses as its faces settle [N]."""
        of, grip = self.bolt.thread, self.ear - SPOT_DEPTH
        area = work(
            strip.stress_area_unified if of.is_inch else strip.stress_area_iso,
            d=of.major,
            p=of.pitch,
        )
        long = grip + self.slit + of.major / 2.0
        k_b = work(
            stiffness.bolt_stiffness, A_d=area.value, l_d=0.0, A_t=area.value, l_t=long, E=BOLT_E
        )
        k_m = work(stiffness.member_stiffness, E=site.metal.E, d=of.major, L=grip)
        f_z = split_clamp.settling(ROUGH, shear=True, faces=1, heads=1)
        return work(joint.embedding_loss, f_z=f_z, k_b=k_b, k_m=k_m)

    def pitch(self, width: Any) -> Any:
        """Distance of neighbouring bolts along the bar [mm]."""
        return width / self.count

    def shaft_shear(self, site: InHub, case: LoadCase) -> Any:
        """Shear stress of the bar's end in the hub, worked [MPa]."""
        return work(
            torsion_bar.shear_stress, T=site.torque(case), d=self.bar_diameter, d_i=site.hollow
        )

    def rules(self, site: InHub) -> Iterator[Rule]:
        """Rules of the clamp."""
        field, width, diameter = site.field, site.width, site.diameter
        d = self.bolt.thread.major
        yield at_least(
            "clamp.bar", f"{field}.bar_diameter", self.bar_diameter, 8.0,
            "a bar this thin is no torsion bar; it looks like the wrong unit", "check the unit of this value",
        )  # fmt: skip
        yield at_least(
            "clamp.wall", "hub.diameter", self.hinge(diameter)[0], np.maximum(0.15 * self.bar_diameter, 3.0),
            "the wall opposite the slit is under 0.15 of the bar (common practice, no source)",
            "make the hub larger, or the relief smaller",
        )  # fmt: skip
        yield at_least(
            "clamp.width", "hub.width", width, 0.8 * self.bar_diameter,
            "the clamp grips the bar over less than 0.8 of its diameter (common practice, no source)",
            "make the hub wider",
        )  # fmt: skip
        yield at_least(
            "clamp.pitch", "hub.width", self.pitch(width), self.head + 1.0,
            "the heads of the pinch bolts touch each other or stand over the hub's face",
            "make the hub wider, or choose fewer or smaller bolts",
        )  # fmt: skip
        yield at_most(
            "clamp.clearance", f"{field}.clearance", self.clearance, 0.004 * self.bar_diameter,
            "the bolts would be spent on closing the hub (0.004 of the bar: common practice, no source)",
            "bore the hub closer to the bar",
        )  # fmt: skip
        yield at_least(
            "clamp.slit", f"{field}.slit", self.slit,
            np.maximum(1.0, 1.5 * split_clamp.slit_closure(self.loosest, **self.ring(site))),
            "the slit would close before the bar is gripped, or no saw makes it", "make the slit wider",
        )  # fmt: skip
        yield at_most(
            "clamp.slit_wide", f"{field}.slit", self.slit, 0.25 * self.bar_diameter,
            "a slit this wide takes the bar's seat away", "make the slit narrower",
        )  # fmt: skip
        yield at_least(
            "clamp.relief", f"{field}.relief", np.where(np.asarray(self.relief) > 0.0, self.relief, 2.0), 2.0,
            "a relief hole this small relieves nothing", "drill at least 2 mm, or leave the relief out",
        )  # fmt: skip
        yield at_most(
            "clamp.relief_large", f"{field}.relief", self.relief, 0.4 * self.bar_diameter,
            "a relief hole this large takes the bar's seat away", "drill a smaller one",
        )  # fmt: skip
        yield at_least(
            "clamp.offset", f"{field}.offset", self.offset,
            np.maximum(
                np.maximum(self.bore / 2.0 + self.hole / 2.0 + 1.0, diameter / 2.0 - self.head / 2.0),
                self.ring(site)["R"],
            ),
            "the bolts run into the bar or its hub, or have no lever to bend it", "move the bolts out",
        )  # fmt: skip
        yield at_least(
            "clamp.clear", f"{field}.offset", self.reach, diameter / 2.0 + 1.0,
            "the ears do not stand out of the hub", "move the bolts out, or make the hub smaller",
        )  # fmt: skip
        yield at_least(
            "clamp.ear", f"{field}.ear", self.ear, np.maximum(1.0 * d, 4.0),
            "the tapped ear holds less than one diameter of thread (common practice, no source)",
            "make the ears thicker",
        )  # fmt: skip
        yield at_most(
            "clamp.ear_thick", f"{field}.ear", self.ear + self.slit / 2.0, 0.85 * diameter / 2.0,
            "the ears are as thick as the hub", "make the ears thinner, or the hub larger",
        )  # fmt: skip
        yield at_least(
            "clamp.bolt", f"{field}.bolt", self.engaged, 0.9 * d,
            "the bolt does not reach 0.9 of a diameter into the tapped ear (common practice, no source)",
            "choose a longer bolt, or thinner ears",
        )  # fmt: skip
        yield at_most(
            "clamp.thread", f"{field}.bolt", self.bolt.grip, self.ear - SPOT_DEPTH + self.slit,
            "the bolt's plain shank would run into the tapped ear", "choose a shorter bolt, or thicker ears",
        )  # fmt: skip
        yield at_most(
            "clamp.clocking", f"{field}.clocking", np.abs(self.clocking), np.radians(60.0),
            "the ears would run into the arm", "turn the slit by no more than 60 degrees", unit="deg",
        )  # fmt: skip

    def kinds(self) -> list[Kind]:
        """What can fail of it."""
        return [Kind("clamp on a bar", "", {"bolt in fatigue": UNFELT})]

    def modes(self, site: InHub, case: LoadCase) -> Iterator[Check]:
        """Slip of the bar, the pinch bolts, their threads and the hinge."""
        material, required = site.metal, site.required(case)
        hinge, a = self.hinge(site.diameter)
        on = partial(check, load_case=case.name)
        # One wrench tightens all bolts, and errs on all of them alike.
        least = work(
            split_clamp.least_grip, F_i=self.mean_preload, n=float(self.count), scatter=self.scatter,
            loss=self.settled(site), F_c=self.closing(site),
        )  # fmt: skip
        most = work(joint.greatest_preload, F=self.mean_preload, scatter=self.scatter)
        grip = work(pinch.pinch_force, F=least, a=a, e=self.offset)
        yield on(
            "clamp, slip", "slip", demand=site.torque(case), unit="N*mm", required=required.on_yield,
            capacity=work(pinch.clamp_torque, N=grip, D=self.bar_diameter, mu=self.friction),
            note="least preload of the bolts, less what settles and what bends the loosest hub round its bar",
        )  # fmt: skip
        yield on(
            "pinch bolt, preload", "bolt tension", demand=most, capacity=self.proof_load, unit="N",
            required=1.0,
            note="greatest preload against proof load: no further factor is usual",
        )  # fmt: skip
        of = self.bolt.thread
        area = work(
            strip.internal_strip_area, p=of.pitch, L_e=self.engaged, d_min=of.external().major_min,
            D2_max=of.internal().pitch_max,
        )  # fmt: skip
        yield on(
            "clamp ear, thread strip", "thread strip", demand=most, unit="N", required=required.on_ultimate,
            capacity=work(strip.strip_capacity, A=area, tau=material.shear_ultimate),
        )  # fmt: skip
        pull = work(
            pinch.hinge_tension,
            F=self.count * most.value,
            e=self.offset,
            a=a,
            h=hinge,
            L=site.width,
        )
        yield on(
            "clamp hinge, tension", "hinge tension", demand=pull, capacity=material.yield_strength, unit="MPa",
            required=required.on_yield,
        )  # fmt: skip

        face = self.ear + self.slit / 2.0
        root = np.sqrt(np.maximum(np.square(site.diameter / 2.0) - np.square(face), 0.0))
        # An ear shorter than half its thickness counts as that long.
        lever = np.maximum(self.offset - root, self.ear / 2.0)
        bent = work(
            clamp.ear_bending_stress, n=float(self.count), F=most, e=lever, w=site.width, t=self.ear
        )
        yield on(
            "clamp ear, bending", "bending", demand=bent, capacity=material.yield_strength, unit="MPa",
            required=required.on_yield, note="greatest preload, where the ear's outer face meets the hub",
        )  # fmt: skip
        yield on(
            "under the pinch bolt's head", "head pressure", unit="MPa", required=1.0,
            demand=work(split_clamp.head_pressure, F=most, d_w=self.face, d_h=self.hole),
            capacity=CREEP_SHARE * material.ultimate_strength,
            note="greatest preload; above it the metal creeps and the preload goes: no further factor is usual "
            "(VDI 2230-1, Table A9)",
        )  # fmt: skip

    def cautions(self, site: InHub) -> list[str]:
        torque = joint.torque_by_nut_factor(
            self.mean_preload, self.bolt.thread.major, self.nut_factor
        )
        return [
            f"Tighten the pinch bolts in turn to {float(torque) / 1000.0:.0f} N*m (oiled threads), the bar and "
            "its bore clean and dry; paint a line across bar and hub, and look at it for slip.",
        ]

    def facts(self, site: InHub) -> dict[str, tuple[Any, str]]:
        torque = joint.torque_by_nut_factor(
            self.mean_preload, self.bolt.thread.major, self.nut_factor
        )
        return {
            "mean preload of a pinch bolt": (self.mean_preload, "N"),
            "tightening torque of the pinch bolts": (torque / 1000.0, "N*m"),
            "clocking of the slit": (np.degrees(self.clocking), "deg"),
            **limit_facts("bore for the bar", self.bore_limits()),
        }

    def bought(self, site: InHub) -> Sequence[Bought]:
        return [Bought(self.bolt.designation, self.count, "clamp")]

    def touching(self, site: InHub) -> dict[str, str]:
        return {f"bolt {self.bolt.designation}": usual_surface(self.bolt)}

    def ears(self, width: float, diameter: float, c: float) -> cq.Workplane:
        """The block that the two ears are cut from, inside the hub at its inner end."""
        import cadquery as cq

        inner, outer = 0.3 * diameter / 2.0, float(self.reach)
        tall = 2.0 * float(self.ear) + float(self.slit)
        block = (
            cq.Workplane("XY")
            .box(outer - inner, tall, width)
            .translate((-(outer + inner) / 2.0, 0.0, 0.0))
        )
        if c > 0.0:
            block = block.edges().chamfer(c)
        return self._turned(block)

    def cut_from(self, body: cq.Workplane, width: float) -> cq.Workplane:
        """Cut bore, slit, relief and bolt holes; the hub lies from -width/2 to width/2."""
        import cadquery as cq

        from parts.shapes.profile import broken_hole, cylinder

        w, over, c = float(width), 1.0, MOUTH
        tool = broken_hole(float(self.bore), -w / 2.0, w / 2.0, c)
        reach, gap = float(self.reach) + over, float(self.slit)
        low = -reach
        if self.relief > 0.0:
            at = float(self.relief_at)
            tool = tool.union(
                cylinder(float(self.relief), -w / 2.0 - over, w / 2.0 + over, "z", (at, 0.0, 0.0))
            )
        slit = cq.Workplane("XY").box(reach, gap, w + 2.0 * over).translate((low / 2.0, 0.0, 0.0))
        tool = tool.union(slit)
        for i in range(self.count):
            tool = tool.union(self._bolt_tool(w, i))
        return body.cut(self._turned(tool))

    def _bolt_tool(self, width: float, index: int) -> cq.Workplane:
        from parts.shapes.profile import cone, cylinder

        z = (index - (self.count - 1) / 2.0) * float(self.pitch(width))
        at = (-float(self.offset), 0.0, z)
        face, of = float(self.ear) + float(self.slit) / 2.0, self.bolt.thread
        tapped, sunk = of.minor_internal, (of.major - of.minor_internal) / 2.0
        tool = cylinder(float(self.hole), 0.0, face + 1.0, "y", at)
        tool = tool.union(cylinder(self.head, face - SPOT_DEPTH, face + 50.0, "y", at))
        tool = tool.union(cylinder(tapped, -face - 1.0, 0.0, "y", at))
        return tool.union(
            cone(tapped + 2.0 * (sunk + 1.0), tapped, -face - 1.0, -face + sunk, "y", at)
        )

    def _turned(self, body: cq.Workplane) -> cq.Workplane:
        # The kernel breaks on an angle that is next to nothing but not nothing.
        turn = round(float(np.degrees(self.clocking)), 9)
        return body.rotate((0, 0, 0), (0, 0, 1), turn) if turn else body
