"""A single eye at the end of an arm: plain, bushed or for a spherical bearing, and the pin through it.

Axes of the feature: the pin lies on z, the arm comes from -x; the origin is the middle of the eye.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Annotated, Any, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.fatigue_places import Detail, Spot, demand_of
from parts.core.feature import Answers, Modes
from parts.core.group import Group
from parts.core.loads import LoadCase, Required, resultant
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.torsion_arm.sites import AtTip
from parts.features.bolts.hardware import SURFACES, seat_rules
from parts.features.pins.bought_pin import BoughtPin
from parts.features.pins.lug import wall_bearing_modes
from parts.features.pins.lug_standards import PinnedPlate, manual_modes, standard_modes
from parts.features.press.fit import RING_CLASS, FitPair, HoleClass, limit_facts
from parts.features.press.pressed import Pressed
from parts.features.section.notches import beside_pin, same
from parts.features.section.outlines import beside_bore
from parts.inputs.designations import MaterialName, SphericalName
from parts.inputs.quantities import NonNegativeForce, NonNegativeLength, PositiveLength
from parts.standards.fits.iso286 import Limits, class_limits
from parts.standards.materials.materials import Material
from parts.standards.materials.materials import material as steel
from parts.strength.method import work
from parts.strength.pinned import lug, rod_end
from parts.strength.pinned import pin as pins
from parts.strength.pinned.ball_friction import race_friction

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.loadpath import Span
    from parts.core.supports import Applied

RING_STEEL = "4130 Q&T 150 ksi"
"""Stands in for the ring's bearing steel, which is stronger; its modulus is the same."""
KEPT = "what acts along the pin leans on the ear beside the eye; what keeps the pin in stands in its nut or ring"
"""Why nothing is checked along the pin."""
BESIDE = 0.98
"""The section beside the bore is followed to this share of the bore's radius [-]."""
LEAST_WALL = 0.25
"""Least metal beside the bore, in bores [-]; common practice, no source."""


class PlainBore(Group):
    """The pin runs in the eye itself."""

    type: Literal["plain"] = Field("plain", description="The pin runs in the eye itself.")
    gap: NonNegativeLength = Field(
        0.05, description="Bore less pin diameter; 0 for a bore reamed to the pin."
    )
    fit: HoleClass = Field(
        "H7",
        description="ISO 286 class of the bore, on the pin's diameter and the gap; H7 by common practice, no source.",
    )

    def bore(self, pin: Any) -> Any:
        return pin + self.gap


class BushBore(Group):
    """The pin runs in a bush pressed into the eye."""

    type: Literal["bushed"] = Field("bushed", description="The pin runs in a bush pressed in.")
    outside: PositiveLength = Field(description="Outside diameter of the bush: the bore.")
    material: MaterialName = Field(description="Material of the bush.")
    fit: FitPair = Field("H7/p6", description="Fit of the bush in the eye.")
    retention: NonNegativeForce = Field(
        0.0,
        description="Force along the pin that a collar or shoulder of the bush bears; 0 for a press alone.",
    )

    def bore(self, pin: Any) -> Any:
        return self.outside


class SphericalBore(Group):
    """A spherical plain bearing sits in the eye."""

    type: Literal["spherical"] = Field("spherical", description="A seat for a spherical bearing.")
    bearing: SphericalName = Field(description="Spherical bearing by its designation.")
    fit: HoleClass = Field("M7", description="ISO 286 class of the seat in the eye.")
    retention: NonNegativeForce = Field(
        0.0,
        description="Force along the pin that staking, a shoulder or a ring holds the bearing in its seat with, by "
        "its maker or by test; 0 for a press alone.",
    )

    def bore(self, pin: Any) -> Any:
        return self.bearing.outside


EyeBore = Annotated[PlainBore | BushBore | SphericalBore, Field(discriminator="type")]


class EyePin(BoughtPin):
    """The pin or bolt through the eye, and what carries it."""

    support: Literal["both sides", "one side"] = Field(
        "both sides", description="What carries the pin: a fork on both sides, or one side alone."
    )
    ear: PositiveLength = Field(
        description="Thickness of what carries the pin, on each side of the eye."
    )
    gap: NonNegativeLength = Field(
        0.2, description="Side clearance between the eye, ball or bush and each ear."
    )


class Eye(Group, Answers[AtTip]):
    """A single eye."""

    type: Literal["eye"] = Field("eye", description="A single round eye.")
    diameter: PositiveLength = Field(description="Outside diameter of the eye.")
    width: PositiveLength = Field(description="Width of the eye along the pin.")
    bore: EyeBore = Field(description="What the eye takes: the pin, a bush or a bearing.")
    pin: EyePin = Field(description="The pin through the eye.")

    @property
    def set_back(self) -> float:
        """Load point to where the arm's centre line ends [mm]: none, for a round end."""
        return 0.0

    @property
    def rim(self) -> Any:
        """Radius of the round end [mm]."""
        return self.diameter / 2.0

    @property
    def height(self) -> Any:
        """Height along the bar, z [mm]."""
        return self.width

    @property
    def bore_diameter(self) -> Any:
        """Diameter of the hole in the eye [mm]."""
        return self.bore.bore(self.pin.diameter)

    @model_validator(mode="after")
    def _has_a_fit_of_the_standard(self) -> Eye:
        self.bore_limits()
        return self

    def bore_limits(self) -> Limits:
        """Limits of the bore.

        Raises:
            ValueError: the standard has no such fit at this diameter.
        """
        return class_limits(self.bore.fit.split("/")[0], float(self.bore_diameter))

    def facts(self, site: AtTip) -> Mapping[str, tuple[Any, str]]:
        """Limits of the bore [mm], and the press of a bush or a bearing."""
        pressed = self.pressed(site.metal)
        found = limit_facts("bore of the eye", self.bore_limits())
        return {**found, **({} if pressed is None else pressed.facts())}

    @property
    def presses(self) -> Any:
        """Diameter of what presses on the eye: pin, bush or bearing [mm]."""
        return self.pin.diameter if isinstance(self.bore, PlainBore) else self.bore_diameter

    @property
    def bears(self) -> Any:
        """Width over which it presses [mm]: a bearing's ring may be narrower than the eye."""
        if isinstance(self.bore, SphericalBore):
            return np.minimum(self.width, self.bore.bearing.ring_width)
        return self.width

    @property
    def tongue(self) -> Any:
        """Thickness on the pin between its supports [mm]."""
        return self.bore.bearing.ball_width if isinstance(self.bore, SphericalBore) else self.width

    @property
    def _loose(self) -> bool:
        """Whether the pin has play in the eye."""
        return isinstance(self.bore, PlainBore) and bool(np.any(np.asarray(self.bore.gap) > 0.0))

    @property
    def rubbing(self) -> tuple[Any, float]:
        """Diameter [mm] on which the joint turns under load, and the friction there [-]."""
        if isinstance(self.bore, SphericalBore):
            return self.bore.bearing.ball_diameter, race_friction("steel on steel")
        bushed = isinstance(self.bore, BushBore)
        return self.pin.diameter, race_friction("steel on bronze" if bushed else "steel on steel")

    @property
    def wall(self) -> Any:
        """Metal beside the bore [mm]."""
        return (self.diameter - self.bore_diameter) / 2.0

    def rules(self, site: AtTip) -> Iterator[Rule]:
        """Rules of the eye."""
        field, edge_break = site.field, site.edge_break
        bore = self.bore_diameter
        yield at_least(
            "eye.pin", f"{field}.pin.diameter", self.pin.diameter, 3.0,
            "a load-bearing pin this thin is not meant; it looks like the wrong unit",
            "check the unit of this value",
        )  # fmt: skip
        yield at_most(
            "eye.large", f"{field}.diameter", self.diameter, 200.0,
            "no eye of a one-off vehicle is this large; it looks like the wrong unit",
            "check the unit of this value",
        )  # fmt: skip
        yield at_least(
            "eye.wall", f"{field}.diameter", self.wall, np.maximum(LEAST_WALL * self.presses, 2.0),
            "too little metal stands around the bore (a quarter of it: common practice, no source)",
            "make the eye larger, or choose a smaller pin, bush or bearing",
        )  # fmt: skip
        yield at_least(
            "eye.width", f"{field}.width", self.width, 0.2 * bore,
            "an eye this narrow wallows on its pin (a fifth of the bore: common practice, no source)",
            "make the eye wider",
        )  # fmt: skip
        yield at_most(
            "eye.break", "edge_break", edge_break, np.minimum(self.width, self.wall) / 4.0,
            "the chamfers would eat the faces of the eye", "lessen the edge break",
        )  # fmt: skip
        yield from self._bore_rules(field)
        yield from self.pin.length_rules(f"{field}.pin", self.stack, self.last_plane)

    def _bore_rules(self, field: str) -> Iterator[Rule]:
        bore, pin = self.bore, self.pin.diameter
        if isinstance(bore, PlainBore):
            yield at_most(
                "eye.gap", f"{field}.bore.gap", bore.gap, 0.1 * pin, "a pin this loose hammers its bore",
                "lessen the gap, or ream the bore",
            )  # fmt: skip
        elif isinstance(bore, BushBore):
            yield at_least(
                "eye.bush", f"{field}.bore.outside", bore.outside, pin + 2.0,
                "the bush would have less than 1 mm of wall", "choose a bush with a larger outside diameter",
            )  # fmt: skip
        else:
            yield at_least(
                "eye.ring", f"{field}.width", self.width, bore.bearing.ring_width,
                "the bearing's ring stands out of the eye", "make the eye as wide as the ring",
            )  # fmt: skip
            yield at_most(
                "eye.ball", f"{field}.width", self.width, bore.bearing.ball_width,
                "the eye is wider than the ball, so it rubs on what carries the pin", "make the eye narrower",
            )  # fmt: skip
            yield at_most(
                "eye.bearing", f"{field}.pin.diameter", pin, bore.bearing.bore,
                "the pin does not go through the bearing",
                "choose a bearing with a larger bore, or a thinner pin",
            )  # fmt: skip
            yield at_least(
                "eye.loose", f"{field}.pin.diameter", pin, bore.bearing.bore - 0.1,
                "the pin rattles in the bearing", "choose a pin as thick as the bearing's bore, or sleeve it",
            )  # fmt: skip
            yield from seat_rules(f"{field}.bore.bearing", bore.bearing, self.diameter)

    @property
    def stack(self) -> Any:
        """What the pin goes through [mm]."""
        sides = 2.0 if self.pin.support == "both sides" else 1.0
        return self.tongue + sides * (self.pin.ear + self.pin.gap)

    @property
    def last_plane(self) -> Any:
        """From the head's side to the last shear plane [mm], the head on an ear where there are two."""
        if self.pin.support == "one side":
            return self.tongue + self.pin.gap
        return self.stack - self.pin.ear

    def bought(self, site: AtTip) -> Sequence[Bought]:
        """Pin, and bush or bearing."""
        pin, bore = self.pin, self.bore
        found = [*pin.bought(self.stack, self.last_plane, "eye")]
        if isinstance(bore, SphericalBore):
            found.append(Bought(bore.bearing.designation, 1, "eye", bore.bearing.source))
        elif isinstance(bore, BushBore):
            size = f"{pin.diameter:g} x {bore.outside:g} x {self.width:g} mm"
            found.append(Bought(f"bush {size}, {bore.material.name}", 1, f"eye, {bore.fit}"))
        return found

    def pressed(self, material: Material) -> Pressed | None:
        """The bush or the bearing's ring in the eye; None for a plain bore."""
        bore = self.bore
        if isinstance(bore, BushBore):
            return Pressed(
                "eye bush", bore.outside, self.pin.diameter, self.wall, self.width, material, bore.material,
                bore.fit,
            )  # fmt: skip
        if isinstance(bore, SphericalBore):
            of = bore.bearing
            return Pressed(
                "eye bearing's ring", of.outside, of.ball_diameter, self.wall, of.ring_width, material,
                steel(RING_STEEL), f"{bore.fit}/{RING_CLASS}",
            )  # fmt: skip
        return None

    def standing(self, site: AtTip) -> Iterator[Check]:
        """The press of a bush or a bearing."""
        pressed = self.pressed(site.metal)
        return iter(()) if pressed is None else pressed.modes()

    def applied(self, site: AtTip, case: LoadCase) -> Sequence[Applied]:
        """What the pin does to the bore."""
        from parts.core.supports import Applied, Round

        half = float(self.width) / 2.0
        bore = Round(np.zeros(3), (0.0, 0.0, 1.0), float(self.bore_diameter), -half, half)
        return (Applied("pin", (bore,), tuple(site.actions(case)), "bearing"),)

    def details(self, site: AtTip, modes: Modes) -> Sequence[Detail]:
        """The pin, bent to and fro."""
        stress = demand_of(modes, "eye pin, bending, yield")
        pin = self.pin
        return [Spot("eye pin", pin.material, stress, pin.diameter, note="fretting not counted")]

    def touching(self, site: AtTip) -> dict[str, str]:
        """The surface of what touches the eye, by name."""
        bore, pin = self.bore, self.pin
        if isinstance(bore, SphericalBore):
            return {f"bearing {bore.bearing.designation}": SURFACES["bearing"]}
        made = bore.material if isinstance(bore, BushBore) else pin.material
        return {
            f"{'bush' if isinstance(bore, BushBore) else 'pin'}, {made.name}": made.galvanic_family
        }

    def spans(self, site: AtTip) -> Sequence[Span]:
        """The two strips beside the bore, from the middle of the eye toward the arm."""
        from parts.core.loadpath import Span

        bore, c, r = self.bore_diameter, site.edge_break, self.diameter / 2.0
        run = np.minimum(BESIDE * bore / 2.0, site.room)
        back = np.stack(np.broadcast_arrays(-np.asarray(run, float), 0.0, 0.0), axis=-1)

        def beside(s: Any) -> Any:
            off = run * np.asarray(s, float)
            strip = beside_bore(np.sqrt(r**2 - off**2), self.width, bore, c, off)
            return strip + strip.mirrored()

        return [
            Span(
                "eye beside the bore",
                np.zeros(3),
                back,
                np.eye(3),
                beside,
                site.actions,
                site.metal,
                stations=9,
                notch=same(beside_pin(bore, self.diameter, r, loose=self._loose)),
            )
        ]

    def kinds(self) -> list[Kind]:
        """What can fail of it and of its pin."""
        found = [Kind("pin in a lug", "eye"), Kind("pin", "eye pin", {"walked out": KEPT})]
        pressed = {"bushed": "eye bush", "spherical": "eye bearing"}.get(self.bore.type)
        kept = self.bore.type == "bushed" and self.pin.support == "both sides"
        left_out = {"pushed out": "the ears on both sides keep the bush in"} if kept else {}
        return found if pressed is None else [*found, Kind("pressed-in ring", pressed, left_out)]

    def modes(self, site: AtTip, case: LoadCase) -> Iterator[Check]:
        """Lug and pin."""
        material, required = site.metal, site.required(case)
        force, _ = resultant(site.actions(case), np.zeros(3))
        across = np.hypot(force[..., 0], force[..., 1])
        yield from self._lug_modes(material, case.name, force, across, required)
        yield from self._bearing_modes(material, case.name, across, required)
        yield from self._pin_modes(case.name, across, required)
        yield from self._seat_modes(site, case, np.abs(force[..., 2]))

    def _lug_modes(
        self, material: Material, case: str, force: Any, across: Any, required: Required
    ) -> Iterator[Check]:
        bore, t, r = self.bore_diameter, self.width, self.diameter / 2.0
        on = partial(check, load_case=case)
        pull = np.abs(force[..., 0])
        net = work(lug.net_section_stress, P=pull, w=self.diameter, D_h=bore, t=t)
        for kind, strength, factor in required.both(
            material.yield_strength, material.ultimate_strength
        ):
            yield on(
                f"eye net section, {kind}", "net tension", demand=net, capacity=strength, unit="MPa",
                required=factor,
                note="the part of the load along the arm",
            )  # fmt: skip
        yield on(
            "eye shear-out", "shear-out", demand=across, unit="N", required=required.on_ultimate,
            capacity=work(lug.tear_out_load, R=r, D_h=bore, t=t, F_s=material.shear_ultimate),
            note="whichever way the load points",
        )  # fmt: skip
        F_y = material.yield_strength
        along = work(
            lug.axial_load, w=self.diameter, D_h=bore, R=r, t=t, r=r, F_tu=F_y, F_ty=F_y,
            F_su=F_y / np.sqrt(3.0),
        )  # fmt: skip
        side = work(lug.transverse_load, h=self.wall, D_h=bore, t=t, F_ty=F_y)
        yield on(
            "eye, slanting load, yield", "lug", capacity=1.0, unit="-", required=required.on_yield,
            demand=work(lug.oblique_use, P_a=force[..., 0], P_au=along, P_t=force[..., 1], P_tu=side),
            note="a push is taken like a pull of its size",
        )  # fmt: skip
        one = PinnedPlate(
            self.diameter, bore, self.presses, t, r, r, self.wall, radius=r,
            braced=self.pin.support == "both sides", turning=isinstance(self.bore, PlainBore),
            note="whichever way the load points",
        )  # fmt: skip
        yield from standard_modes(one, "eye", material, case, across, across, required)
        yield from manual_modes(one, "eye", material, case, force, pull, required)

    def _bearing_modes(
        self, material: Material, case: str, across: Any, required: Required
    ) -> Iterator[Check]:
        near = self.diameter / 2.0 / self.presses
        pressure = work(lug.bearing_stress, P=across, D_p=self.presses, t=self.bears)
        yield from wall_bearing_modes("eye", "eye", material, near, pressure, case, required)
        if isinstance(self.bore, SphericalBore):
            of = self.bore.bearing
            C_0 = work(
                rod_end.race_capacity,
                E=of.ball_diameter,
                T=of.ring_width,
                p=steel(RING_STEEL).yield_strength,
            )
            yield check(
                "eye bearing, static load", "bearing", load_case=case, demand=across, capacity=C_0, unit="N",
                required=required.on_yield,
                note="generic: the ball on the projected width of its ring, at the yield of a 150 ksi steel; a "
                "maker's static rating may be higher or lower",
            )  # fmt: skip
        if isinstance(self.bore, BushBore):
            yield check(
                "eye bush bearing, ultimate", "bearing", load_case=case, demand=across, unit="N",
                capacity=work(
                    lug.bush_load, D_p=self.pin.diameter, t=self.width, F_cy=self.bore.material.yield_strength
                ),
                required=required.on_ultimate, note="tensile yield for the compressive",
            )  # fmt: skip

    def _seat_modes(self, site: AtTip, case: LoadCase, along: Any) -> Iterator[Check]:
        """What keeps a bearing or a bush in its seat along the pin: a stated force, or the press at its loosest."""
        pressed = self.pressed(site.metal)
        if pressed is None or isinstance(self.bore, PlainBore):
            return
        if isinstance(self.bore, BushBore) and self.pin.support == "both sides":
            return  # the ears on both sides keep it in
        stated, required = self.bore.retention, site.required(case)
        name = "eye bearing" if isinstance(self.bore, SphericalBore) else "eye"
        if not np.any(stated):
            yield pressed.along(name, case.name, along, required)
            return
        yield check(
            f"{name} {pressed.name.split()[-1]}, pushed out along its bore", "push-out", load_case=case.name,
            demand=along, capacity=stated, unit="N", required=required.on_yield, note="the stated `retention`",
        )  # fmt: skip

    def _pin_modes(self, case: str, across: Any, required: Required) -> Iterator[Check]:
        pin = self.pin
        d, made = pin.diameter, pin.material
        if pin.support == "both sides":
            shear = work(pins.double_shear, F=across, D=d)
            arm = work(pins.double_shear_arm, t1=pin.ear, t2=self.tongue, g=pin.gap)
            moment = work(pins.double_shear_moment, P=across, b=arm)
        else:
            shear = work(pins.single_shear, F=across, D=d)
            moment = work(pins.single_shear_moment, P=across, t1=pin.ear, t2=self.tongue, g=pin.gap)
        yield check(
            "eye pin, shear", "shear", load_case=case, demand=shear, capacity=made.shear_ultimate, unit="MPa",
            required=required.on_ultimate,
        )  # fmt: skip
        single = np.where(pin.support == "both sides", across / 2.0, across)
        yield check(
            "eye pin, shear with bending", "shear and bending", load_case=case, capacity=1.0, unit="-",
            demand=work(
                pins.shear_and_bending, V=single, V_u=work(pins.shear_load, D=d, F_s=made.shear_ultimate, n=1.0),
                M=moment, M_u=work(pins.bending_moment_capacity, D=d, F=made.ultimate_strength, k=1.0),
            ),
            required=required.on_ultimate,
        )  # fmt: skip
        bending = work(pins.bending_stress, M=moment, D=d)
        for kind, strength, factor in required.both(made.yield_strength, made.ultimate_strength):
            yield check(
                f"eye pin, bending, {kind}", "bending", load_case=case, demand=bending, capacity=strength,
                unit="MPa",
                required=factor,
            )  # fmt: skip

    def solid(self, edge_break: float) -> cq.Workplane:
        """The round boss of the eye, its outside edges broken, not yet bored."""
        from parts.shapes.profile import cylinder

        half = float(self.width) / 2.0
        body = cylinder(float(self.diameter), -half, half)
        return body.faces("|Z").edges().chamfer(edge_break) if edge_break > 0.0 else body

    def cut_from(self, body: cq.Workplane, edge_break: float, place: Any) -> cq.Workplane:
        """Cut the bore with its edge breaks; `place` is the eye's middle in the part's axes."""
        from parts.shapes.profile import broken_hole

        x, y, z = (float(v) for v in place)
        half = float(self.width) / 2.0
        bore = float(self.bore_diameter)
        return body.cut(broken_hole(bore, z - half, z + half, edge_break, "z", (x, y, 0.0)))
