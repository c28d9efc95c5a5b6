"""A single eye at the end of an arm: plain, bushed or for a spherical bearing, and the pin through it.

Axes of the feature: the pin lies on z, the arm comes from -x; the origin is the middle of the eye.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, ClassVar

import numpy as np

from parts.core.check import Check
from parts.core.clearances import Clearance, Goes, of_class, of_limits, within
from parts.core.fatigue_places import Detail, Spot, demand_of
from parts.core.feature import Answers, Modes
from parts.core.loads import LoadCase, resultant
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.features.arm.round_end import disc, outside_marks, strips_beside
from parts.features.arm.tip import AtTip
from parts.features.bolts.hardware import SURFACES, seat_rules
from parts.features.eye.eye_sizes import BushBore, EyeSizes, PlainBore, SphericalBore
from parts.features.eye.eye_strength import bearing_modes, lug_modes, pin_modes, seat_modes
from parts.features.press.fit import FINE, RING_BORE, RING_CLASS, limit_facts
from parts.features.section.notches import beside_pin, pin_rim

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Marks
    from parts.core.loadpath import Span
    from parts.core.supports import Applied

X, Y, Z = np.eye(3)
KEPT = "what acts along the pin leans on the ear beside the eye; what keeps the pin in stands in its nut or ring"
"""Why nothing is checked along the pin."""
LEAST_WALL = 0.25
"""Least metal beside the bore, in bores [-]; common practice, no source."""


class Eye(EyeSizes, Answers[AtTip]):
    """A single eye."""

    seen_from_its_end: ClassVar[bool] = False

    def facts(self, site: AtTip) -> Mapping[str, tuple[Any, str]]:
        """Limits of the bore [mm], and the press of a bush or a bearing."""
        pressed = self.pressed(site.metal)
        found = limit_facts("bore of the eye", self.bore_limits())
        return {**found, **({} if pressed is None else pressed.facts())}

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

    def clearances(self, site: AtTip) -> Sequence[Clearance]:
        """What is pressed into the eye, and the pin in its bore."""
        bore, pin, seat = self.bore, self.pin.sized(), of_limits("the eye", self.bore_limits())
        field, how = f"{site.field}.bore", "choose another fit"
        found: list[Clearance] = []
        if isinstance(bore, PlainBore):
            runs = seat
        elif isinstance(bore, BushBore):
            bush = of_class("bush", bore.fit.split("/")[1], bore.outside)
            found.append(
                Clearance("bush in the eye", f"{field}.fit", (seat,), (bush,), how, goes="pressed")
            )
            runs = of_class("bush, reamed when it is pressed in", "H7", self.pin.diameter)
        else:
            of = bore.bearing
            ring = of_class("ring", RING_CLASS, of.outside)
            found.append(
                Clearance(
                    "bearing in the eye", f"{field}.fit", (seat,), (ring,), how, goes="either"
                )
            )
            runs = within("bore of the bearing", of.bore, RING_BORE, 0.0, "its maker")
        goes: Goes = "free" if isinstance(bore, PlainBore | BushBore) else "either"
        found.append(
            Clearance(
                "pin in the eye",
                f"{site.field}.pin",
                (runs,),
                (pin,),
                "choose a looser fit",
                goes=goes,
            )
        )
        found += self.pin.thread_left("eye", f"{site.field}.pin", self.stack, self.last_plane)
        return found

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
        notch = beside_pin(self.bore_diameter, self.diameter, self.rim, loose=self._loose)
        bore, loose = self.bore_diameter, self._loose
        rim = pin_rim(site.actions, Z, bore, self.width, self.diameter, loose=loose)
        strips = "eye beside the bore", site, self.diameter, self.width, bore, notch, rim
        return [strips_beside(*strips)]

    def kinds(self, site: AtTip) -> list[Kind]:
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
        yield from lug_modes(self, material, case.name, force, across, required)
        yield from bearing_modes(self, material, case.name, across, required)
        yield from pin_modes(self, case.name, across, required)
        yield from seat_modes(self, site, case, np.abs(force[..., 2]))

    def marks(self, site: AtTip) -> Marks:
        """Its bore with limits, and its outside."""
        from parts.core.drawing import Hole, Marks

        half, bore = float(self.width) / 2.0, float(self.bore_diameter)
        of, words = self.bore_limits(), FINE
        if isinstance(self.bore, BushBore):
            words = f"{FINE}\nfor bush, {self.bore.fit}"
        elif isinstance(self.bore, SphericalBore):
            words = f"{FINE}\nseat for {self.bore.bearing.designation}"
        hole = Hole(
            "bore of the eye", (0, 0, half), -Z, bore, through=2 * half, fit=of.tolerance_class, limits=of.sizes,
            callout=words,
        )  # fmt: skip
        sizes = outside_marks("eye", float(self.diameter), 2 * half)
        return Marks(sizes, (hole,))

    def solid(self, edge_break: float) -> cq.Workplane:
        """The round boss of the eye, its outside edges broken, not yet bored."""
        return disc(float(self.diameter), float(self.width), edge_break)

    def cut_from(self, body: cq.Workplane, edge_break: float, place: Any) -> cq.Workplane:
        """Cut the bore with its edge breaks; `place` is the eye's middle in the part's axes."""
        from parts.shapes.profile import broken_hole

        x, y, z = (float(v) for v in place)
        half = float(self.width) / 2.0
        bore = float(self.bore_diameter)
        return body.cut(broken_hole(bore, z - half, z + half, edge_break, "z", (x, y, 0.0)))
