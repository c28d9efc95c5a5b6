"""Bearing cup: a turned seat for bearings, welded into a plate or onto a tube's end and bored when it is cold."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any, ClassVar, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.clearances import Clearance
from parts.core.fatigue_places import Detail
from parts.core.freebody import Acting, reacting
from parts.core.loads import LoadCase, point_actions, resultant
from parts.core.part import Bought, Piece
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.bearing_cup.shape import CupShape
from parts.families.bearing_cup.stands import AtCup, OnTube, X, on_axis
from parts.features.bearing_seat.seat import LEAST_LIP
from parts.features.bearing_seat.strength import ring_in, turning_rules
from parts.features.bolts.hardware import circlip_rules, galvanic_cautions, seat_rules, seated
from parts.features.press.fit import limit_facts, plug_in_tube
from parts.features.press.pressed import Pressed
from parts.features.thread import turned
from parts.features.weld.softened import welded, within_reach
from parts.standards.materials.materials import Material
from parts.strength.bearings.seat_ring import seat_ring_stress
from parts.strength.method import work

if TYPE_CHECKING:
    from parts.core.drawing import Drawn
    from parts.core.loadpath import Span
    from parts.core.supports import Held
    from parts.core.weldment import Weldment

BASE = {
    "family": "bearing cup", "name": "HC-117", "title": "bearing cup in a plate", "material": "S355J2 hot rolled",
    "form": "bar", "diameter": "46 mm", "length": "24 mm",
    "seat": {"bearing": "6202-2RS"},
    "welded": {"type": "in a plate", "thickness": "5 mm", "material": "S355J2 hot rolled", "at": "12 mm",
        "held_within": "60 mm", "leg": "4 mm"},
    "loads": [{"name": "lever pulled", "forces": [{"at": "bearing", "force": ["300 N", "1.2 kN", 0]}]}],
}  # fmt: skip


class BearingCup(CupShape):
    """A bearing cup that is welded into a plate or onto the end of a tube."""

    summary: ClassVar[str] = (
        "a turned seat for bearings, welded into a plate or onto a tube's end and bored when it is cold"
    )
    axes: ClassVar[str] = (
        "origin in the middle of the mouth; x along the shaft, the way the bearing goes in"
    )
    load_points: ClassVar[Mapping[str, str]] = {"bearing": ""}
    not_covered: ClassVar[tuple[str, ...]] = (
        "tubes that are welded onto its side", "the shaft and what it carries",
        "distortion and residual stress of welding",
    )  # fmt: skip
    example: ClassVar[Mapping[str, Any]] = BASE
    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        BASE,
        BASE | {
            "title": "cup on a tube", "diameter": "52 mm", "length": "30 mm",
            "seat": {"bearing": "6004-2RS", "count": 1, "retention": "press", "lip": "37 mm"},
            "welded": {"type": "on a tube's end", "tube": "2 in x 0.095 in", "material": "4130 normalized",
                "spigot": "12 mm"},
            "loads": [{"name": "pivot", "forces": [{"at": "bearing", "force": [0, "1 kN", "-800 N"]}],
                "spectrum": [{"cycles": 20000}], "ratio": 0}],
        },
        BASE | {
            "title": "cup for two bearings", "material": "6061-T6", "diameter": "50 mm", "length": "36 mm",
            "seat": {"bearing": "6202-2RS", "count": 2},
            "welded": {"type": "in a plate", "thickness": "6 mm", "material": "6061-T6", "at": "20 mm",
                "held_within": "50 mm", "leg": "5 mm", "filler": "ER5356"},
            "loads": [{"name": "lever", "forces": [{"at": "bearing", "force": ["100 N", "300 N", 0],
                "moment": [0, 0, "2 N m"]}], "spectrum": [{"cycles": 10000}], "ratio": 0}],
        },
    )  # fmt: skip

    family: Literal["bearing cup"] = Field("bearing cup", description="A welded bearing cup.")

    @model_validator(mode="after")
    def _can_be_welded(self) -> BearingCup:
        for metal in (self.metal, self.welded.metal()):
            welded(metal, self.welded.filler, float(np.max(self.welded.thin)))
        return self

    def points(self) -> Mapping[str, Any]:
        return {"bearing": on_axis(self.middle)}

    @cached_property
    def soft(self) -> Material:
        """Its metal beside the weld."""
        return welded(self.metal, self.welded.filler, float(np.max(self.welded.thin)))

    @cached_property
    def _bored(self) -> Material:
        """What the seat is bored in: softened where the weld is near."""
        low, high = self.welded.welds(self.length)
        off = np.maximum(np.maximum(low - self.seat.depth, -high), 0.0)
        return within_reach(self.metal, self.soft, off)

    @cached_property
    def site(self) -> AtCup:
        bore = self.seat.lip_bore if isinstance(self.welded, OnTube) else self.seat.widest
        return AtCup(
            field="welded", metal=self.metal, edge_break=self.edge_break, required=self.factors,
            diameter=self.diameter, length=self.length, bore=bore,
            acting=lambda case: point_actions(case, self.points()),
        )  # fmt: skip

    def rules(self) -> Iterator[Rule]:
        seat, D, lip = self.seat, self.diameter, self.length - self.seat.depth
        yield at_least("seat.lip", "length", lip, LEAST_LIP,
            "bearings, circlip and its wall leave no lip behind them", "lengthen the cup")  # fmt: skip
        yield at_most("cup.long", "length", self.length, 4.0 * D, "no cup is this deep; it looks like the wrong unit",
            "check the unit of this value")  # fmt: skip
        yield at_most("cup.large", "diameter", D, 2.0 * seat.bearing.outside + 10.0,
            "no cup is this thick; it looks like the wrong unit", "check the unit of this value")  # fmt: skip
        yield from seat.press_rules("seat")
        around = D - (seat.widest - seat.bearing.outside)
        yield from seat_rules("seat.bearing", seat.bearing, around, count=seat.count, depth=seat.depth,
            shoulder=seat.lip_bore)  # fmt: skip
        if seat.clip is not None:
            rings = seat.count * seat.bearing.width
            yield from circlip_rules(
                "seat.bearing", seat.clip, seat.bearing.outside, rings, seat.depth
            )
        wall = (D - seat.widest) / 2.0
        yield at_most("cup.break", "edge_break", self.edge_break, np.minimum(wall, lip) / 3.0,
            "the chamfers eat the mouth of the cup", "lessen the edge break")  # fmt: skip
        yield at_least("cup.allowance", "allowance", self.allowance, 0.005 * seat.bearing.outside,
            "the weld shrinks the bore by more than is left to bore (half a per cent: common practice, no source)",
            "leave more")  # fmt: skip
        yield at_most("cup.allowance_large", "allowance", self.allowance, 3.0,
            "so much is not left to bore when it is welded", "leave less")  # fmt: skip
        yield from self.welded.rules(self.site)
        turned = [resultant(self.site.acting(case), np.zeros(3))[1][..., 0] for case in self.loads]
        yield from turning_rules(turned, "x")

    def spans(self) -> Sequence[Span]:
        steps = [one for one in self.path if np.any(np.greater(one.length, 0.0))]
        kept = [one._replace(high=np.maximum(one.high, one.low + 1e-3)) for one in steps]
        return turned.spans(
            kept, self.soft, self.site.acting, place=on_axis, axes=np.diag([-1.0, 1.0, -1.0])
        )

    def _press(self) -> Pressed:
        of, wall = self.seat, (self.diameter - self.seat.bearing.outside) / 2.0
        return ring_in("cup bearing", of.bearing, of.count, wall, self._bored, of.seat_class)

    def standing(self) -> Iterator[Check]:
        yield from self._press().modes()

    def kinds(self) -> Sequence[Kind]:
        found = [Kind(kind, "cup") for kind in ("rolling bearing", "bearing seat")]
        return [*found, Kind("wall of a cup", "cup wall"), *self.welded.kinds(self.site)]

    def modes(self, case: LoadCase) -> Iterator[Check]:
        required, of = self.factors(case), self.seat
        # As seen from the mouth: z out of it.
        force, moment = (
            np.stack([v[..., 1], v[..., 2], v[..., 0]], axis=-1) * np.array([1.0, -1.0, -1.0])
            for v in resultant(self.site.acting(case), np.zeros(3))
        )
        lip = self.length - of.depth
        yield from of.seat_modes(
            "cup", self._bored, self._press(), lip, force, moment, case.name, required
        )
        V, along = np.hypot(force[..., 0], force[..., 1]), of.count * of.bearing.width
        thick = (self.diameter - of.bearing.outside) / 2.0
        stress = work(seat_ring_stress, W=V, R=(self.diameter - thick) / 2.0, t=thick, b=along)
        metal = self._bored
        for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
            yield check(f"cup wall as a ring, {kind}", "bending", load_case=case.name, demand=stress, capacity=strength,
                unit="MPa", required=factor, note="as if neither plate, tube nor lip kept it round")  # fmt: skip
        yield from self.welded.modes(self.site, case)

    def details(self) -> Sequence[Detail]:
        return self.welded.details(self.site, self.checks_under)

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        low, high = self.welded.welds(self.length)
        at = on_axis((low + high) / 2.0)
        return [reacting("weld", at, resultant(self.site.acting(case), at))]

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.core.supports import Applied, Held, Round, Support

        of = self.seat
        low = float(self.top)
        seat = Round(
            np.zeros(3), X, float(of.bearing.outside), low, low + float(of.count * of.bearing.width)
        )
        held = Support("weld", (self.welded.wall(self.site),), 0.2 * float(self.diameter))
        return [
            Held(
                "part",
                (held,),
                (Applied("bearing", (seat,), tuple(self.site.acting(case)), "bearing"),),
            )
        ]

    def clearances(self) -> Sequence[Clearance]:
        found = list(self.seat.seat_clearances("cup", "seat"))
        if isinstance(self.welded, OnTube):
            bore = self.welded.size[0] - 2.0 * self.welded.size[1]
            found.append(
                plug_in_tube("spigot in the tube", "welded.clearance", bore, self.welded.plug)
            )
        return found

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        found = {
            "bore of the seat before welding": (self.seat.bearing.outside - self.allowance, "mm")
        }
        for what, of in self.seat.fitted().items():
            found |= limit_facts(what, of)
        return found | self._press().facts()

    def bought(self) -> Sequence[Bought]:
        return self.seat.seat_bought("cup")

    def touching(self) -> Mapping[str, str]:
        """The galvanic surface of what touches it, by name."""
        return seated(self.seat.bearing, self.seat.clip)

    def cautions(self) -> Sequence[str]:
        return [
            *galvanic_cautions(self.metal, self.touching()),
            *self.seat.seat_cautions(),
            "Bore the seat, and cut its groove, when the weld is cold: it shrinks the bore and pulls it out of round.",
            "Two cups on one shaft are bored in one setting, or line-bored: each alone comes out askew.",
        ]  # fmt: skip

    def drawn(self) -> Sequence[Drawn]:
        from parts.families.bearing_cup.drawing import cup_drawn

        return [cup_drawn(self)]

    def weldment(self) -> Weldment:
        from parts.families.bearing_cup.drawing import cup_weldment

        return cup_weldment(self, self.metal.name)

    def build(self) -> Sequence[Piece]:
        return [Piece("part", self.metal, self.solid())]
