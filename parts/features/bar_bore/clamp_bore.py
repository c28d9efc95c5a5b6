"""A split hub that pinches a plain bar: slit, relief, ears and pinch bolts.

The slit leaves the bore opposite the arm, turned by `clocking`. One ear is drilled to clear the bolts and
spot-faced for their heads; the other is tapped.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.check import Check, check
from parts.core.clearances import Clearance, of_class, of_limits
from parts.core.fatigue_places import Detail, Spot
from parts.core.feature import Answers, Modes
from parts.core.loads import LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.features.bar_bore.in_hub import InHub
from parts.features.bar_bore.split_clamp import BAR_CLASS, SPOT_DEPTH, SplitClamp
from parts.features.bolts.hardware import usual_surface
from parts.features.bolts.tired import tired_bolt
from parts.features.pins.bought_pin import shank_of
from parts.features.press.fit import bolt_in_hole, limit_facts
from parts.strength.bolted import joint, pinch, split_clamp, stripping, tightening
from parts.strength.fatigue.notch import hole_in_plate
from parts.strength.method import work
from parts.strength.shafts import torsion_bar

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Marks
    from parts.core.supports import Round

MOUTH = 0.3
"""Edge break of the bore [mm]; common practice, no source."""
BESIDE = "a bearing stands beside the hub: it bears what pulls the bar across and what rocks it"
"""Why a clamp of an arm is not checked for opening."""
UNFELT = f"the bar's torque turns both ears alike and pulls at no bolt; {BESIDE}"
"""Why a pinch bolt of an arm is not checked in fatigue: a torque is antisymmetric about the slit, a pull is not."""
CREEP_SHARE = 0.76
"""Least share of its tensile strength at which a metal creeps under a head [-]: VDI 2230-1:2003, Table A9, 7075-T6,
410 of 540 MPa."""


class ClampBore(SplitClamp, Answers[InHub]):
    """A split clamp on a plain round bar."""

    @property
    def seen_from_below(self) -> bool:
        """Whether the holes of its bolts face the bottom view."""
        return abs(float(self.clocking)) < 1e-9

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
            "clamp.wall", site.wide, self.hinge(diameter)[0], np.maximum(0.15 * self.bar_diameter, 3.0),
            "the wall opposite the slit is under 0.15 of the bar (common practice, no source)",
            "make the hub larger, or the relief smaller",
        )  # fmt: skip
        yield at_least(
            "clamp.width", site.long, width, 0.8 * self.bar_diameter,
            "the clamp grips the bar over less than 0.8 of its diameter (common practice, no source)",
            "make the hub wider",
        )  # fmt: skip
        yield at_least(
            "clamp.pitch", site.long, self.pitch(width), self.head + 1.0,
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
        yield from self._room_rules(site)

    def _room_rules(self, site: InHub) -> Iterator[Rule]:
        """Rules that keep ears and heads clear of the arm, or of the plate."""
        if site.free is None:
            yield at_most(
                "clamp.clocking", f"{site.field}.clocking", np.abs(self.clocking), np.radians(60.0),
                "the ears would run into the arm", "turn the slit by no more than 60 degrees", unit="deg",
            )  # fmt: skip
            return
        radius = site.diameter / 2.0
        root = np.sqrt(np.maximum(np.square(radius) - np.square(self.face_at), 0.0))
        yield at_least(
            "clamp.outline", f"{site.field.rpartition('.')[0]}.at", site.free,
            np.arcsin(np.minimum(self.face_at / radius, 1.0)) + np.radians(1.0),
            "the ears stand in the plate, where they cannot be slit from its edge",
            "turn the slit away from the plate's other points, or move them away", unit="deg",
        )  # fmt: skip
        yield at_least(
            "clamp.spotface", f"{site.field}.offset", self.offset - self.head / 2.0, root + 0.5,
            "the spot faces of the pinch bolts' heads run into the plate beside the ears", "move the bolts out",
        )  # fmt: skip

    def kinds(self, site: InHub) -> list[Kind]:
        """What can fail of it."""
        stays = {} if site.free is not None else {"opens": BESIDE, "bolt in fatigue": UNFELT}
        return [Kind("clamp on a bar", "", stays)]

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
        note = "least preload of the bolts, less what settles and what bends the loosest hub round its bar"
        if site.free is None:
            grip = work(pinch.pinch_force, F=least, a=a, e=self.offset)
            held = work(pinch.clamp_torque, N=grip, D=self.bar_diameter, mu=self.friction)
            yield on(
                "clamp, slip", "slip", demand=site.torque(case), unit="N*mm", required=required.on_yield,
                capacity=held, note=note,
            )  # fmt: skip
        else:
            across, along, rock = site.borne(case)
            lifts = work(pinch.lifting_force, V=across, M=rock, w=site.width)
            yield on(
                "clamp, slips or opens", "slip", unit="N", required=required.on_yield, capacity=least,
                demand=work(
                    pinch.grip_needed, T=site.torque(case), A=along, D=self.bar_diameter, mu=self.friction, L=lifts,
                ),
                note=note + "; a plate behind the bore is no hinge: the bolts press no harder than they pull",
            )  # fmt: skip
            grip, pull = least.value / self.count, lifts.value / self.count
            yield from tired_bolt("pinch", self.bolt.thread, grip, pull, case, site)
        yield on(
            "pinch bolt, preload", "bolt tension", demand=most, capacity=self.proof_load, unit="N",
            required=1.0,
            note="greatest preload against proof load: no further factor is usual",
        )  # fmt: skip
        of = self.bolt.thread
        area = work(
            stripping.internal_strip_area, p=of.pitch, L_e=self.engaged, d_min=of.external().major_min,
            D2_max=of.internal().pitch_max,
        )  # fmt: skip
        yield on(
            "clamp ear, thread strip", "thread strip", demand=most, unit="N", required=required.on_ultimate,
            capacity=work(stripping.strip_capacity, A=area, tau=material.shear_ultimate),
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
            "clamp hinge, tension", "hinge tension", capacity=material.yield_strength, unit="MPa",
            required=required.on_yield, demand=pull.value + site.wall_stress(case, self.largest).value,
            note=f"{pull.formula}; with the bending of the walls beside the bore, as the torque runs through them",
        )  # fmt: skip

        face = self.face_at
        root = np.sqrt(np.maximum(np.square(site.diameter / 2.0) - np.square(face), 0.0))
        # An ear shorter than half its thickness counts as that long.
        lever = np.maximum(self.offset - root, self.ear / 2.0)
        bent = work(
            split_clamp.ear_bending_stress,
            n=float(self.count),
            F=most,
            e=lever,
            w=site.width
            - np.where(self.offset - root < self.hole / 2.0, self.count * self.hole, 0.0),
            t=self.ear,
        )
        yield on(
            "clamp ear, bending", "bending", demand=bent, capacity=material.yield_strength, unit="MPa",
            required=required.on_yield,
            note="greatest preload, where the ear's face meets the hub, less bolt holes that cross it",
        )  # fmt: skip
        yield on(
            "under the pinch bolt's head", "head pressure", unit="MPa", required=1.0,
            demand=work(split_clamp.head_pressure, F=most, d_w=self.face, d_h=self.hole),
            capacity=CREEP_SHARE * material.ultimate_strength,
            note="greatest preload; above it the metal creeps and the preload goes: no further factor is usual "
            "(VDI 2230-1, Table A9)",
        )  # fmt: skip

    def details(self, site: InHub, modes: Modes) -> Sequence[Detail]:
        """The walls beside the bore, under what is left of the preload when the torque comes and goes.

        The preload stays: by Goodman's line it leaves the torque 1 - σ/S_ut of the strength.
        """
        metal, a = site.metal, self.hinge(site.diameter)
        pull = self.count * joint.greatest_preload(self.mean_preload, self.scatter)
        stays = pinch.hinge_tension(F=pull, e=self.offset, a=a[1], h=a[0], L=site.width)
        left = np.maximum(1.0 - stays / metal.ultimate_strength, 1e-3)

        def stress(case: LoadCase) -> Any:
            return site.wall_stress(case, self.largest).value / left

        note = "edge of a bore: three, felt in full; raised for the preload that stays"
        return [
            Spot(
                "clamp's walls beside the bore", metal, stress, a[0], hole_in_plate(0.0), note=note
            )
        ]

    def cautions(self, site: InHub) -> list[str]:
        torque = tightening.torque_by_nut_factor(
            self.mean_preload, self.bolt.thread.major, self.nut_factor
        )
        return [
            f"Tighten the pinch bolts in turn to {float(torque) / 1000.0:.0f} N*m (oiled threads), the bar and "
            "its bore clean and dry; paint a line across bar and hub, and look at it for slip.",
        ]

    def facts(self, site: InHub) -> dict[str, tuple[Any, str]]:
        torque = tightening.torque_by_nut_factor(
            self.mean_preload, self.bolt.thread.major, self.nut_factor
        )
        return {
            "mean preload of a pinch bolt": (self.mean_preload, "N"),
            "tightening torque of the pinch bolts": (torque / 1000.0, "N*m"),
            "clocking of the slit": (np.degrees(self.clocking), "deg"),
            **limit_facts("bore for the bar", self.bore_limits()),
        }

    def clearances(self, site: InHub) -> Sequence[Clearance]:
        """The bar in the hub before it is pinched, and the pinch bolts in their ear."""
        bar = of_class("bar", BAR_CLASS, self.bar_diameter)
        room = of_limits("bore of the hub", self.bore_limits())
        return [
            Clearance(
                "bar in the clamp",
                f"{site.field}.clearance",
                (room,),
                (bar,),
                "give the bar clearance",
            ),
            bolt_in_hole(
                "pinch bolts in the ear", f"{site.field}.bolt", self.hole, shank_of(self.bolt)
            ),
        ]

    def bought(self, site: InHub) -> Sequence[Bought]:
        return [Bought(self.bolt.designation, self.count, "clamp")]

    def touching(self, site: InHub) -> dict[str, str]:
        return {f"bolt {self.bolt.designation}": usual_surface(self.bolt)}

    def marks(self, site: InHub) -> Marks:
        from parts.features.bar_bore.clamp_marks import clamp_marks

        return clamp_marks(self, site)

    def plain(self, width: float) -> tuple[Round, ...]:
        """The wall of its bore in a hub of that width, about its middle."""
        from parts.core.supports import Round

        half = width / 2.0
        return (Round(np.zeros(3), (0.0, 0.0, 1.0), float(self.bore), -half, half),)

    def ears(self, width: float, diameter: float, c: float) -> cq.Workplane:
        """The block that the two ears are cut from, inside the hub at its inner end."""
        from parts.shapes.workplane import Workplane

        inner, outer = 0.3 * diameter / 2.0, float(self.reach)
        tall = 2.0 * float(self.ear) + float(self.slit)
        block = (
            Workplane("XY")
            .box(outer - inner, tall, width)
            .translate((-(outer + inner) / 2.0, 0.0, 0.0))
        )
        if c > 0.0:
            block = block.edges().chamfer(c)
        return self._turned(block)

    def cut_from(self, body: cq.Workplane, width: float) -> cq.Workplane:
        """Cut bore, slit, relief and bolt holes; the hub lies from -width/2 to width/2."""
        return body.cut(self.tool(width, MOUTH))

    def tool(self, width: float, c: float) -> cq.Workplane:
        """What is cut away, about the middle of a hub of that width; the bore's mouths are broken by `c`."""
        from parts.shapes.profile import broken_hole, cylinder
        from parts.shapes.workplane import Workplane

        w, over = float(width), 1.0
        tool = broken_hole(float(self.bore), -w / 2.0, w / 2.0, c)
        reach, gap = float(self.reach) + over, float(self.slit)
        low = -reach
        if self.relief > 0.0:
            at = float(self.relief_at)
            tool = tool.union(
                cylinder(float(self.relief), -w / 2.0 - over, w / 2.0 + over, "z", (at, 0.0, 0.0))
            )
        slit = Workplane("XY").box(reach, gap, w + 2.0 * over).translate((low / 2.0, 0.0, 0.0))
        tool = tool.union(slit)
        for i in range(self.count):
            tool = tool.union(self._bolt_tool(w, i))
        return self._turned(tool)

    def _bolt_tool(self, width: float, index: int) -> cq.Workplane:
        from parts.shapes.profile import cone, cylinder

        z = (index - (self.count - 1) / 2.0) * float(self.pitch(width))
        at = (-float(self.offset), 0.0, z)
        face, of = float(self.face_at), self.bolt.thread
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
