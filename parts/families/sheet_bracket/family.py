"""Sheet bracket: a base that is bolted down and legs that run from its sides, flat or bent, cut from one sheet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property, partial
from typing import TYPE_CHECKING, Any, ClassVar, Literal, Self

import numpy as np
from pydantic import Field, model_validator

from parts.core.assembled import Placed
from parts.core.check import Check
from parts.core.clearances import Clearance, of_class
from parts.core.fatigue_places import Detail, demand_of, thread_spot
from parts.core.freebody import Acting, reacting
from parts.core.loadpath import Notch, Span
from parts.core.loads import Action, LoadCase
from parts.core.part import Bought, Piece
from parts.core.rules import Rule
from parts.core.ways import Kind
from parts.families.sheet_bracket import strength
from parts.families.sheet_bracket.leg import OUT, Standing
from parts.families.sheet_bracket.rivet_nuts import RivetNutHole
from parts.families.sheet_bracket.rules import bracket_rules
from parts.families.sheet_bracket.shaking import (
    Shaking,
    frequency,
    frequency_checks,
    grown,
    with_shaking,
)
from parts.families.sheet_bracket.shape import BracketShape
from parts.features.bolts.bolted_plate import ON_SLIP_ALONE
from parts.features.bolts.grip import thread_left
from parts.features.bolts.hardware import usual_surface
from parts.features.bolts.torque import tightening_facts
from parts.features.pins.bought_pin import SHANK_CLASS
from parts.features.pins.pin import ClearanceHole
from parts.features.pins.tab_hole import InTab, TabHole
from parts.features.press.fit import bolt_in_hole
from parts.features.section.notches import beside_pin, flat_fillet, pin_rim, same
from parts.features.section.outlines import beside_bore, chamfered
from parts.inputs.document import dotted
from parts.strength.method import plain
from parts.strength.section.outline import Outline

if TYPE_CHECKING:
    from parts.core.blank import Blank
    from parts.core.drawing import Drawn
    from parts.core.supports import Held

_PLAIN = Notch(1.0, np.inf)
NOT_COUNTED = {
    "joint opens": "bolts, base and fatigue are checked as if it were open: preload is counted on against slip alone",
    "head sinks in": "no preload is counted on but against slip, and settling is taken off it",
    **ON_SLIP_ALONE,
}
MAY_MEET = "it may meet an order: the loads grow by the resonance, and it bears them"
BASE = {"at": [[0, "-15 mm"], [0, "15 mm"]], "bolts": {"bolt": "M6x20 8.8"}, "onto": "4 mm"}
BOLT = {"bolt": "M6 8.8", "hole": {"type": "clearance", "gap": "0.4 mm"}}
UP = [{"flat": "6 mm", "angle": "90 deg", "radius": "7.5 mm"}]
SHAKEN = {"acceleration": [3, 3, 5], "engine": {"top_speed": 8500, "order": 1}}
EXAMPLE = {
    "family": "sheet bracket", "name": "HC-130", "title": "reservoir bracket", "material": "S235JR", "form": "sheet",
    "thickness": "3 mm", "base": BASE,
    "legs": [{"side": "front", "bends": UP, "reach": "32 mm", "pin": BOLT, "beside": "4 mm",
              "carries": {"mass": "0.15 kg", "centre": ["36 mm", 0, "22 mm"]}}],
    "shaking": SHAKEN,
}  # fmt: skip
CHANNEL = [
    {"side": side, "bends": UP, "reach": "36 mm", "pin": BOLT, "beside": "3 mm", "pitch": "24 mm",
     "carries": {"mass": "0.5 kg", "centre": [x, 0, "26 mm"]}}
    for side, x in (("front", "28 mm"), ("back", "-28 mm"))
]  # fmt: skip
SQUARE = [["-20 mm", "-20 mm"], ["20 mm", "-20 mm"], ["20 mm", "20 mm"], ["-20 mm", "20 mm"]]
TAPPED = {
    "diameter": "5 mm",
    "material": "4130 Q&T 125 ksi",
    "hole": {"type": "tapped", "thread": "M5"},
}
EXAMPLES = (
    EXAMPLE,
    EXAMPLE | {"title": "exhaust hanger", "material": "304 annealed", "thickness": "5 mm",
        "base": BASE | {"bolts": {"bolt": "M8x25 8.8"}},
        "legs": [{"side": "front", "reach": "30 mm", "pin": BOLT, "beside": "6 mm", "corner": "12 mm",
                  "beyond": "14 mm", "carries": {"mass": "0.55 kg", "centre": ["48 mm", 0, "10 mm"]}}],
        "loads": [{"name": "silencer knocked", "forces": [{"at": "front", "force": ["300 N", "100 N", 0]}]}]},
    EXAMPLE | {"title": "battery channel", "thickness": "5 mm",
        "base": BASE | {"at": SQUARE, "width": "66 mm", "margin": "16 mm", "bolts": {"bolt": "M6x25 8.8"}},
        "legs": CHANNEL},
    EXAMPLE | {"title": "stay of a lamp", "material": "5083 H111", "thickness": "4 mm",
        "base": BASE | {"length": "40 mm", "width": "60 mm"}, "k_factor": 0.4, "springback": 0.97,
        "legs": [{"side": "front", "width": "34 mm", "offset": "4 mm", "reach": "50 mm", "pin": BOLT, "beside": "2 mm",
                  "bends": [{"flat": "8 mm", "angle": "30 deg", "radius": "6 mm"},
                            {"flat": "14 mm", "angle": "-30 deg", "radius": "6 mm"}],
                  "carries": {"mass": "0.05 kg", "centre": ["68 mm", "4 mm", "18 mm"]}}]},
    EXAMPLE | {"title": "coil bracket on a tank's wall",
        "base": BASE | {"onto": None, "into": {"sheet": "1.5 mm", "material": "S235JR"}, "margin": "13 mm"},
        "legs": [{"side": "front", "bends": UP, "reach": "32 mm", "pin": BOLT, "beside": "4 mm",
                  "carries": {"mass": "0.2 kg", "centre": ["34 mm", 0, "22 mm"]}}]},
    EXAMPLE | {"title": "regulator bracket with rivet nuts",
        "legs": [{"side": "front", "bends": UP, "reach": "33 mm", "beyond": "15 mm", "pitch": "24 mm", "beside": "4 mm",
                  "pin": {"bolt": "M6 8.8", "hole": {"type": "rivet nut"}},
                  "carries": {"mass": "0.15 kg", "centre": ["36 mm", 0, "22 mm"]}}]},
    EXAMPLE | {"title": "box", "base": BASE | {"at": SQUARE, "length": "80 mm", "width": "80 mm"},
        "shaking": {"acceleration": [2, 2, 2], "engine": {"top_speed": 8500}, "through_resonance": True},
        "legs": [{"side": side, "width": "50 mm", "bends": UP, "reach": "36 mm", "pin": TAPPED, "pitch": "26 mm",
                  "carries": {"mass": "0.1 kg", "centre": [0, 0, "20 mm"]}}
                 for side in ("front", "left", "back", "right")],
        "loads": [{"name": "pulled", "forces": [{"at": "left", "force": [0, "60 N", "40 N"]}]}]},
)  # fmt: skip


class SheetBracket(BracketShape):
    """A bracket of one sheet."""

    summary: ClassVar[str] = (
        "a flat or bent tab, angle, channel or box of one sheet, bolted down, that carries what shakes with it"
    )
    axes: ClassVar[str] = (
        "z out of the face that is bolted down, which is z = 0; x to the front and y to the left in it; origin where "
        "the base's holes are measured from"
    )
    load_points: ClassVar[Mapping[str, str]] = {
        f"{side}{what}": f"a leg to the {side}{by}"
        for side in ("front", "back", "left", "right")
        for what, by in (("", ""), (" mass", " that carries a mass"), (" itself", ""))
    }
    not_covered: ClassVar[tuple[str, ...]] = (
        "what it is bolted to, and what hangs on it", "residual stress of bending",
        "masses that rock on soft mounts",
    )  # fmt: skip
    example: ClassVar[Mapping[str, Any]] = EXAMPLE
    examples: ClassVar[Sequence[Mapping[str, Any]]] = EXAMPLES

    family: Literal["sheet bracket"] = Field("sheet bracket", description="A bracket of one sheet.")
    shaking: Shaking | None = Field(
        None,
        description="How its foot is shaken; its loads follow from the masses, its own among them.",
    )

    @model_validator(mode="after")
    def _shaken(self) -> SheetBracket:
        self.__dict__["loads"] = with_shaking(self, self.loads, self.shaking)
        return self

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> Self:
        """A copy with some values replaced; the loads of shaking follow."""
        copy = super().model_copy(update=update, deep=deep)
        copy.__dict__["loads"] = with_shaking(copy, copy.loads, copy.shaking)
        return copy

    def rules(self) -> Iterator[Rule]:
        yield from bracket_rules(self)

    @cached_property
    def _in_holes(self) -> Sequence[tuple[Standing, InTab]]:
        """The legs' holes where they lie."""
        found = []
        for name, one in self.stands.items():
            leg, k = one.leg, list(self.stands).index(name)
            for i, off in enumerate(leg.offsets, 1):
                room = np.minimum(leg.end, one.wide / 2.0 - np.abs(off))
                label = f"tab to the {name}" + (f", hole {i}" if leg.pitch is not None else "")
                found.append((one, InTab(
                    field=dotted(("legs", k, "pin")), metal=self.metal, name=label, thickness=self.thickness,
                    at=one.way(leg.reach, off), axes=one.frame(leg.reach), width=2.0 * room,
                    reach=leg.reach - one.strip.last, end=leg.end, behind=one.wide,
                    spread=self.spread(one, one.strip.last) / len(leg.offsets), **leg.in_hole,
                    required=self.factors, actions=partial(self._at_hole, one=one, off=off),
                )))  # fmt: skip
        return found

    def _at_hole(self, case: LoadCase, one: Standing, off: Any) -> Sequence[Action]:
        return (strength.hole_force(self, one, case, off),)

    def features(self) -> Sequence[Placed]:
        return [Placed(TabHole(one.leg.pin), site) for one, site in self._in_holes]

    def spans(self) -> Sequence[Span]:
        return [span for one in self.stands.values() for span in self._leg_spans(one)]

    def _leg_spans(self, one: Standing) -> Iterator[Span]:
        leg, w, t = one.leg, one.wide, self.thickness
        r, off = leg.drilled / 2.0, 0.0 if leg.pitch is None else leg.pitch / 2.0

        def beside(u: Any) -> Outline:
            strip = beside_bore(w / 2.0 - off, t, leg.drilled, 0.0, 0.98 * r * u).moved(off, 0.0)
            if leg.pitch is None:
                return strip + strip.mirrored()
            inner = chamfered(
                2.0 * off - 2.0 * np.sqrt(np.maximum(r**2 - (0.98 * r * u) ** 2, 0.0)), t, 0.0
            )
            return strip + inner + strip.mirrored()

        def whole(u: Any) -> Outline:
            return chamfered(w + 0.0 * np.asarray(u, float), t, 0.0)

        def base(u: Any) -> Outline:
            return chamfered(side + 0.0 * np.asarray(u, float), t, 0.0)

        room, side = np.minimum(leg.end, w / 2.0 - off), self.side(one)
        loose = isinstance(leg.pin.hole, ClearanceHole)
        bored = same(beside_pin(leg.drilled, 2.0 * room, room, loose=loose))
        acting = partial(_acting, self, one)
        rim = pin_rim(acting, one.frame(leg.reach)[2], leg.drilled, t, 2.0 * room, loose=loose)
        tip, name = leg.reach - 1.02 * r, one.name
        rows: list[tuple[str, Any, Any, Any, Any]] = [
            (f"{name}, beside the hole", leg.reach, leg.reach - 0.98 * r, beside, bored),
            (f"{name}, last flat", one.strip.last, tip, whole, None),
        ]
        bends = one.strip.bends()
        if not bends:
            rows[1] = (rows[1][0], 0.0 if one.full else self.relieved, tip, whole, None)
        for i, (low, high) in enumerate(bends, 1):
            start = bends[i - 2][1] if i > 1 else (0.0 if one.full else self.relieved)
            rows.append((f"{name}, flat {i}", start, low, whole, None))
            rows.append((f"{name}, end of bend {i}", high, high, whole, None))
        row, hole = self.row(one), self.base.hole / 2.0
        until = 0.0 if one.full else self.base.corner
        smooth = same(flat_fillet(side, w, self.relieved)) if not one.full else None
        for what, a, b, outline, notch in rows:
            at = (
                smooth
                if what.endswith("flat 1") or (not bends and what.endswith("last flat"))
                else None
            )
            yield Span(what, one.way(a), one.way(b), one.frame(b), outline, acting, self.metal, "part", 5,
                       notch or at or same(_PLAIN), rim=rim if notch is bored else None)  # fmt: skip
        low, high = row - 1.02 * hole, np.minimum(until, row - 1.05 * hole)
        yield Span(
            f"base toward {name}", self._on_base(one, high), self._on_base(one, low),
            one.axes, base, acting, self.metal, "part", 5, same(_PLAIN),
        )  # fmt: skip

    def _on_base(self, one: Standing, off: Any) -> Any:
        """A place in the middle of the base's side, that far from its edge [mm]."""
        low, high = self.base.bounds()[1 if OUT[one.name][0] else 0]
        x, y = OUT[one.name]
        return one.space(one.edge - off, (low + high) / 2.0 * (x - y), self.thickness / 2.0)

    def modes(self, case: LoadCase) -> Iterator[Check]:
        yield from super().modes(case)
        for one in self.stands.values():
            yield from strength.leg_modes(self, one, case)
        yield from strength.base_modes(self, case)

    def standing(self) -> Iterator[Check]:
        yield from super().standing()
        if self.shaking is not None:
            yield from frequency_checks(self, self.shaking)

    def details(self) -> Sequence[Detail]:
        bolts, stress = self.base.bolts, demand_of(self.checks_under, "base bolt, tension, yield")
        found = [*super().details(), *strength.fatigue_spots(self, self.checks_under)]
        if bolts.of_thread is not None:
            found.append(thread_spot("base bolt", bolts.of_thread, bolts.metal, stress))
        return found

    def kinds(self) -> Sequence[Kind]:
        found = [*super().kinds()]
        for name, one in self.stands.items():
            count = len(one.leg.bends) + 1
            found += [Kind("bend in a flat", strength.bend_name(one, i)) for i in range(1, count)]
            found += [
                Kind("wide leg", f"root of {name}"),
                Kind("sheet under a head", f"holes of {name}"),
            ]
            found.append(Kind("sheet by a mass", f"holes of {name}"))
            if isinstance(one.leg.pin.hole, RivetNutHole):
                found.append(Kind("rivet nut", f"rivet nut of {name}"))
            if one.leg.pitch is None:
                found.append(Kind("single bolt", name))
            if self.shaking is not None and self.shaking.engine is not None:
                out = {"resonance": MAY_MEET} if self.shaking.through_resonance else {}
                found.append(Kind("shaken mass", f"frequency of {name}", left_out=out))
        alone = self.plate.alone
        found.append(Kind("single bolt", "base") if alone else Kind("bolt group", "base bolts"))
        if self.base.into is not None:
            found.append(Kind("rivet nut", "rivet nut"))
        return [
            *found, Kind("bolt in a joint", "base bolt", NOT_COUNTED), Kind("hole of a bolt", "base hole"),
            Kind("clamped plate", "base"), Kind("sheet under a head", "holes of the base"),
            Kind("bolted sheet", "base"),
        ]  # fmt: skip

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        force, moment = strength.base_load(self, case)
        each, found = self.plate.reactions(force, moment), []
        for i, at in enumerate(np.moveaxis(self.base.places(), -2, 0)):
            found.append(reacting(f"bolt {i + 1}", _foot(at), (each[..., i, :], np.zeros(3))))
        if self.plate.alone:
            turned = np.asarray(moment) * np.array([0.0, 0.0, 1.0])
            found.append(
                reacting("friction under the base", _foot(self.middle), (np.zeros(3), turned))
            )
        pressed, place = self.plate.pressed(moment)
        if np.any(pressed > 0.0):
            push = np.stack(np.broadcast_arrays(0.0, 0.0, -pressed), axis=-1)
            found.append(
                reacting("edge of the base", _foot(place + self.middle), (push, np.zeros(3)))
            )
        return found

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.families.sheet_bracket.supports import bracket_held

        return bracket_held(self, case)

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        from parts.families.sheet_bracket.blank import blank_facts

        found = {**super().facts(), **blank_facts(self)}
        if self.shaking is not None:
            for name, one in self.stands.items():
                found[f"natural frequency of {name}, at least"] = (
                    plain(frequency(self, one)),
                    "Hz",
                )
                found[f"shaking that {name} feels, over that of its foot"] = (
                    grown(self, self.shaking, one),
                    "-",
                )
        if (of := self.base.bolts.of_thread) is not None:
            found |= tightening_facts("a base bolt", of, self.base.tightened)
        return found

    def bought(self) -> Sequence[Bought]:
        return [*super().bought(), *self.base.bought(self.thickness)]

    def touching(self) -> Mapping[str, str]:
        of = self.base.bolts.bolt
        own = {} if of is None else {f"bolt {self.base.bolts.name}": usual_surface(of)}
        return {**super().touching(), **own}

    def clearances(self) -> Sequence[Clearance]:
        bolt = of_class("bolt", SHANK_CLASS, self.base.bolts.diameter)
        own = bolt_in_hole("base bolts in their holes", "base.gap", self.base.hole, bolt)
        found = [*super().clearances(), own]
        stack = None if self.base.onto is None else self.thickness + self.base.onto
        known = stack is not None and np.ndim(stack) == 0
        if known and (joint := self.base.joint(self.thickness)) is not None:
            found += thread_left("base", "base.bolts.bolt", joint, stack)
        return found

    def cautions(self) -> Sequence[str]:
        found = [
            *super().cautions(),
            "Bend across the grain of the sheet where there is a choice, and smooth the cut edges at the bends first.",
        ]
        nutted = any(isinstance(leg.pin.hole, RivetNutHole) for leg in self.legs)
        if self.base.into is not None or nutted:
            found.append(
                "Drill for the rivet nuts in one go with what their bolts hold, and grease the bolts: one that seizes "
                "spins its nut."
            )
        if self.k_factor is None and any(leg.bends for leg in self.legs):
            found.append(
                "Bend a strip of this sheet first: tools shift the K-factor; state your own as `k_factor`."
            )
        return found

    def drawn(self) -> Sequence[Drawn]:
        from parts.families.sheet_bracket.drawing import bracket_drawn

        return [bracket_drawn(self)]

    def blanks(self) -> Sequence[Blank]:
        from parts.families.sheet_bracket.blank import bracket_blank

        return [bracket_blank(self)]

    def build(self) -> Sequence[Piece]:
        from parts.families.sheet_bracket.solid import bracket_solid

        return [Piece("part", self.metal, bracket_solid(self))]


def _acting(part: SheetBracket, one: Standing, case: LoadCase) -> Sequence[Action]:
    return strength.leg_actions(part, one, case)


def _foot(at: Any) -> Any:
    at = np.asarray(at, float)
    return np.concatenate([at, 0.0 * at[..., :1]], axis=-1)
