"""Torsion-bar arm: a hub on the bar, an arm, and and an eye, a clevis or a rod end at its tip."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

import numpy as np
from pydantic import Field

from parts.core.assembled import Assembled, Placed
from parts.core.check import Check, check
from parts.core.fatigue_places import Detail
from parts.core.feature import Actions
from parts.core.freebody import Acting, reacting
from parts.core.loadpath import Notch, Span
from parts.core.loads import Action, LoadCase, point_actions, resultant
from parts.core.part import Bought, Piece
from parts.core.rules import Rule
from parts.core.ways import Kind
from parts.families.torsion_arm.arm import Arm
from parts.families.torsion_arm.blade import Blade, blade_rules
from parts.families.torsion_arm.clevis_end import ClevisEnd
from parts.families.torsion_arm.eye import Eye
from parts.families.torsion_arm.hub import Hub
from parts.families.torsion_arm.joining import joining_rules, step_at_hub
from parts.families.torsion_arm.sites import AtTip, InHub
from parts.families.torsion_arm.slender import AtRoot, pocket_modes, slender, toppling_modes
from parts.families.torsion_arm.tapped_end import TappedEnd
from parts.families.torsion_arm.torsion_bar import TorsionBar
from parts.features.bolts.hardware import galvanic_cautions
from parts.features.press.pressed import coating_facts
from parts.standards.materials.materials import Material
from parts.strength.method import work
from parts.strength.pinned.ball_friction import friction_moment
from parts.strength.section import bar as bars
from parts.strength.section.properties import properties

if TYPE_CHECKING:
    from parts.core.drawing import Drawn
    from parts.core.feature import Feature
    from parts.core.supports import Held

    _: tuple[type[Feature[AtTip]], ...] = (Eye, ClevisEnd, TappedEnd)

End = Annotated[Eye | ClevisEnd | TappedEnd, Field(discriminator="type")]
AXES = np.eye(3)
RATE_STATIONS = 101
HELD = "the hub runs in a bearing beside it, which the file's loads lean on"
"""Why the bar is not checked in bending."""
LEAST_COVER = 0.98
"""Share of the torque at full bump that a load case must reach to count as full bump [-]."""


class TorsionArm(Assembled):
    """An arm on a torsion bar."""

    summary: ClassVar[str] = "an arm on the splined, flatted or plain end of a torsion bar"
    axes: ClassVar[str] = (
        "origin in the middle of the hub; z along the bar; x from the bar toward the arm's end; y in the plane "
        "of travel, so that +y at the end turns the bar about +z"
    )
    load_points: ClassVar[Mapping[str, str]] = {"end": ""}
    not_covered: ClassVar[tuple[str, ...]] = (
        "fatigue of a clamp's hinge; fretting of spline, clamp and pin",
        "wear of pin, bush, bearing and spline",
        "bending of the bar and its bearings: the hub must be held by a bearing beside it",
        "impact beyond the stated load cases, as on a bottomed stop",
    )
    example: ClassVar[Mapping[str, Any]] = {
        "family": "torsion-bar arm",
        "name": "HC-103",
        "title": "Rear torsion-bar arm",
        "material": "4340 Q&T 160 ksi",
        "form": "bar",
        "hub": {
            "diameter": "48 mm",
            "width": "36 mm",
            "bore": {"type": "spline", "spline": "48 teeth 1 in", "clocking": "0 deg"},
        },
        "arm": {
            "length": "180 mm",
            "width": "40 mm",
            "end_width": "28 mm",
            "thickness": "20 mm",
            "root_fillet": "10 mm",
        },
        "end": {
            "type": "eye",
            "diameter": "36 mm",
            "width": "20 mm",
            "bore": {"type": "plain", "gap": "0.05 mm"},
            "pin": {"diameter": "12 mm", "material": "4340 Q&T 150 ksi", "ear": "8 mm"},
        },
        "bar": {
            "diameter": "21 mm",
            "active_length": "700 mm",
            "material": "51CrV4 spring +QT",
            "travel": {"type": "height", "up": "50 mm", "down": "30 mm"},
            "static_load": "1500 N",
        },
        "loads": [
            {"name": "full bump", "forces": [{"at": "end", "force": ["0 N", "5 kN", "0 N"]}]},
        ],
    }

    family: Literal["torsion-bar arm"] = Field(
        "torsion-bar arm", description="An arm on a torsion bar."
    )
    hub: Hub = Field(description="The hub and how it takes the bar.")
    arm: Arm = Field(description="The arm between hub and end.")
    end: End = Field(description="What the load comes in by: an eye, a clevis or a tapped block.")
    bar: TorsionBar = Field(description="The torsion bar that the arm drives.")

    @property
    def blade(self) -> Blade:
        return Blade(
            self.arm, self.hub.diameter / 2.0, self.arm.length - self.end.set_back, self.end.rim
        )

    @property
    def inner(self) -> Any:
        """Radius within the hub to which the arm is built in [mm]: half-way through its wall."""
        return (self.hub.diameter + self.hub.bore.largest) / 4.0

    @cached_property
    def _in_hub(self) -> InHub:
        return self._hub_of(self.metal)

    def _hub_of(self, metal: Material) -> InHub:
        return InHub(
            "hub", metal, edge_break=self.edge_break, actions=self._actions, required=self.factors,
            width=self.hub.width, diameter=self.hub.diameter, arm=self.arm.width, hollow=self.bar.bore,
        )  # fmt: skip

    @cached_property
    def _at_tip(self) -> AtTip:
        return self._tip_of(self.metal)

    def _tip_of(self, metal: Material) -> AtTip:
        blade, place = self.blade, self._end()
        room = (
            blade.reach - blade.tip().rim[0]
            if isinstance(self.end, Eye)
            else blade.thickness(blade.reach) / 2.0
        )

        def at_the_end(case: LoadCase) -> Sequence[Action]:
            return [replace(one, at=np.asarray(one.at) - place) for one in self._actions(case)]

        return AtTip(
            "end", metal, edge_break=self.edge_break, at=place, actions=at_the_end,
            required=self.factors, room=room,
        )  # fmt: skip

    def _end(self) -> np.ndarray:
        return np.stack(np.broadcast_arrays(self.arm.length, 0.0, self.arm.crank), axis=-1)

    def points(self) -> Mapping[str, Any]:
        return {"end": self._end()}

    def stock_thickness(self) -> Any:
        low = np.minimum(-self.hub.width / 2.0, self.arm.crank - self.end.height / 2.0)
        high = np.maximum(self.hub.width / 2.0, self.arm.crank + self.end.height / 2.0)
        return high - low

    def rules(self) -> Iterator[Rule]:
        c = self.edge_break
        yield from self.hub.rules(self._hub_of(self.material))
        yield from self.end.rules(self._tip_of(self.material))
        yield from blade_rules(self.blade, "arm", c)
        yield from self.bar.rules("bar", self.arm.length, self.hub.bore.shaft)
        yield from joining_rules(self.hub, self.blade, self.end)

    def _actions(self, case: LoadCase) -> Sequence[Action]:
        return point_actions(case, self.points())

    def _rubbing(self, case: LoadCase) -> Sequence[Action]:
        """What the joint at the end puts on the arm by its friction as it turns, the way that the load bends it."""
        end = self._end()
        force, _ = resultant(self._actions(case), end)
        d, mu = self.end.rubbing
        size = work(friction_moment, F=np.linalg.norm(force, axis=-1), d=d, mu=mu).value
        turn = size * np.where(force[..., 1] < 0.0, -1.0, 1.0)
        return [Action(end, np.zeros(3), turn[..., None] * AXES[2])]

    def _rubbed(self, case: LoadCase) -> Sequence[Action]:
        """The loads with that friction."""
        return [*self._actions(case), *self._rubbing(case)]

    def spans(self) -> Sequence[Span]:
        return [*self._blade_spans(), *self._end_spans()]

    def _blade_spans(self) -> list[Span]:
        blade, c = self.blade, self.edge_break
        if self.arm.pocket is None:
            return [self._span("arm", blade.start, blade.end, blade.outline, 61)]
        low, high = blade.pocket_span()
        clear = 1.05 * c
        return [
            self._span("arm at the hub", blade.start, low - clear, blade.outline, 15),
            self._span("arm at the pockets", low, high, blade.pocketed_outline, 61),
            self._span("arm at the end", high + clear, blade.end, blade.outline, 15),
        ]

    def _span(self, name: str, low: Any, high: Any, outline: Any, stations: int) -> Span:
        blade = self.blade

        def at(x: Any) -> np.ndarray:
            return np.stack(np.broadcast_arrays(x, 0.0 * x, blade.middle(x)), axis=-1)

        def section(s: Any) -> Any:
            return outline(low + np.asarray(s, float) * (high - low), self.edge_break)

        def notch(s: Any) -> Notch:
            return blade.notch(low + np.asarray(s, float) * (high - low))

        return Span(
            name, at(low), at(high), AXES, section, self._rubbed, self.metal, stations=stations,
            notch=notch, reversing=self._rubbing,
        )  # fmt: skip

    def _end_spans(self) -> Sequence[Span]:
        place = self._end()

        def shifted(actions: Actions) -> Actions:
            return lambda case: [
                replace(one, at=np.asarray(one.at) - place) for one in actions(case)
            ]

        site = replace(self._at_tip, actions=shifted(self._rubbed))
        return [
            replace(self._moved(span), reversing=self._rubbing) for span in self.end.spans(site)
        ]

    def _moved(self, span: Span) -> Span:
        """A span of the end, put into the axes of the part."""
        place = self._end()

        def here(case: LoadCase) -> Sequence[Action]:
            return [replace(one, at=np.asarray(one.at) + place) for one in span.actions(case)]

        ends = {"start": np.asarray(span.start) + place, "end": np.asarray(span.end) + place}
        return replace(span, **ends, actions=here)

    def torque(self, case: LoadCase) -> Any:
        """Torque of a load case about the bar [N*mm]."""
        return resultant(self._actions(case), np.zeros(3))[1][..., 2]

    def features(self) -> Sequence[Placed]:
        return (Placed(self.hub, self._in_hub), Placed(self.end, self._at_tip))

    def kinds(self) -> Sequence[Kind]:
        return [
            Kind("arm"),
            *([] if self.arm.pocket is None else [Kind("pocketed arm")]),
            *super().kinds(),
            Kind("torsion bar", "bar", {"bent": HELD}),
        ]

    def modes(self, case: LoadCase) -> Iterator[Check]:
        yield from self._arm_modes(case)
        yield from self._slender_modes(case)
        yield from super().modes(case)
        ends = self.hub.bore.shaft_shear(self._in_hub, case)
        yield from self.bar.modes(case.name, self.torque(case), ends)
        if case.name == self.loads[0].name:
            yield from self.bar.travel_modes(self.arm.length)

    def _arm_modes(self, case: LoadCase) -> Iterator[Check]:
        """Bending of the arm in the plane of travel where it leaves the hub, and its twist by a crank."""
        blade, required = self.blade, self.factors(case)
        place = np.stack(np.broadcast_arrays(blade.start, 0.0, blade.middle(blade.start)), axis=-1)
        _, moment = resultant(self._actions(case), place)
        section = properties(blade.outline(np.asarray(blade.start, float), self.edge_break))
        stress = work(bars.bending_stress, M=np.abs(moment[..., 2]), W=section.Wel_z_right)
        for kind, strength, factor in required.both(
            self.metal.yield_strength, self.metal.ultimate_strength
        ):
            yield check(
                f"arm bending at the hub, {kind}", "bending", load_case=case.name, demand=stress,
                capacity=strength,
                unit="MPa", required=factor,
                note="in the plane of travel alone; the critical section has everything",
            )  # fmt: skip

    def _slender_modes(self, case: LoadCase) -> Iterator[Check]:
        """What buckles of the arm, as a cantilever from the hub's rim to its load point."""
        blade = self.blade
        root = np.stack(np.broadcast_arrays(blade.start, 0.0, blade.middle(blade.start)), axis=-1)
        force, moment = resultant(self._actions(case), root)
        end_moment = resultant(self._actions(case), self._end())[1][..., 2]
        at = AtRoot(force, moment, end_moment, self.arm.length - blade.start)
        given = blade, self.metal, self.edge_break, at, case.name, self.factors(case)
        yield from toppling_modes(*given)
        if self.arm.pocket is not None:
            yield from pocket_modes(*given)

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.core.supports import turned
        from parts.families.torsion_arm.supports import arm_held

        spans = [span.name for span in self._blade_spans()]
        loads = self.end.applied(self._at_tip, case)
        thin = bool(slender(self.arm))
        turns = float(resultant(self._actions(case), np.zeros(3))[1][..., 2])
        return [arm_held(self.hub, turns, turned(loads, AXES, self._end()), spans, slender=thin)]

    def arm_rate(self) -> Any:
        """Rate of the arm's own bending at its end, in the plane of travel [N/mm]; shear left out."""
        flexibility: Any = 0.0
        share = np.linspace(0.0, 1.0, RATE_STATIONS)
        for span in self._blade_spans():
            # One axis for the stations, in front of those of variants.
            t = share.reshape(-1, *[1] * np.ndim(span.place(np.asarray(0.0))[..., 0]))
            x = span.place(t)[..., 0]
            inertia = np.asarray(properties(span.outline(t)).Izz)
            bent = (self.arm.length - x) ** 2 / (self.metal.E * inertia)
            flexibility = flexibility + np.trapezoid(bent, x, axis=0)
        return 1.0 / flexibility

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        force, moment = resultant(self._actions(case), np.zeros(3))
        about_bar, zero = np.array([0.0, 0.0, 1.0]), np.zeros(3)
        twist = np.asarray(self.torque(case))[..., None] * about_bar
        return [
            reacting("torsion bar", zero, (zero, twist)),
            reacting("bearing beside the hub", zero, (force, moment * (1.0 - about_bar))),
        ]

    def details(self) -> Sequence[Detail]:
        return [
            step_at_hub(self.blade, self.metal, self.edge_break, self._rubbed),
            *self.hub.details(self._in_hub, self.checks_under),
            *self.bar.details(self.hub.bore.type, self.checks_under),
            *self.end.details(self._at_tip, self.checks_under),
        ]

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        return {
            **self.bar.facts(self.arm.length, self.arm_rate()),
            **super().facts(),
            **coating_facts(self.finish, self.metal),
        }

    def bought(self) -> Sequence[Bought]:
        return [Bought(f"torsion bar, {self.bar.material.name}", 1, "hub"), *super().bought()]

    def cautions(self) -> Sequence[str]:
        notes = [
            *super().cautions(),
            "Never let go of a loaded bar: take its load off with a jack before the arm is drawn.",
            *self._uncovered_bump(),
            *galvanic_cautions(self.metal, self.touching()),
        ]
        if self.bar.preset:
            notes.append(
                "A preset bar is loaded in one sense for life: mark its sense and ends, and never change sides."
            )
        return notes

    def touching(self) -> Mapping[str, str]:
        made = self.bar.material
        return {f"torsion bar, {made.name}": made.galvanic_family, **super().touching()}

    def _uncovered_bump(self) -> list[str]:
        """A caution where no load case is as large as what the bar itself asks of the arm at full bump."""
        most = max((float(np.max(np.abs(self.torque(one)))) for one in self.loads), default=0.0)
        need = float(np.max(self.bar.torque_at_bump(self.arm.length)))
        if most >= LEAST_COVER * need:
            return []
        return [
            f"At full bump the bar asks {need / 1000.0:.0f} N*m of the arm, the largest load case "
            f"{most / 1000.0:.0f}: the arm is not checked at full bump until a load case reaches it."
        ]

    def drawn(self) -> Sequence[Drawn]:
        from parts.families.torsion_arm.drawing import arm_drawn

        return [arm_drawn(self.hub, self._in_hub, self.blade, self.end, self._at_tip)]

    def build(self) -> Sequence[Piece]:
        from parts.families.torsion_arm import blade_solid

        c = float(self.edge_break)
        place = self._end()
        body = self.hub.solid(c).union(blade_solid.solid(self.blade, float(self.inner), c))
        body = body.union(self.end.solid(c).translate((float(place[0]), 0.0, float(place[2]))))
        body = self.end.cut_from(body, c, place)
        return [Piece("part", self.metal, self.hub.bore.cut_from(body, float(self.hub.width)))]
