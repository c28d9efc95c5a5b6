"""Torsion-bar arm: a hub on the bar, an arm, and and an eye, a clevis or a rod end at its tip."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

import numpy as np
from pydantic import Field

from parts.core.assembled import Assembled, Placed
from parts.core.check import Check
from parts.core.fatigue_places import Detail
from parts.core.feature import Actions
from parts.core.freebody import Acting, reacting
from parts.core.loadpath import Span, placed
from parts.core.loads import Action, LoadCase, point_actions, resultant
from parts.core.part import Bought, Piece
from parts.core.rules import Rule, at_most
from parts.core.ways import Kind
from parts.families.torsion_arm.hub import Hub
from parts.families.torsion_arm.tapped_end import TappedEnd
from parts.families.torsion_arm.torsion_bar import TorsionBar
from parts.features.arm.arm import Arm
from parts.features.arm.blade import Blade, blade_rules
from parts.features.arm.clevis_end import ClevisEnd
from parts.features.arm.joining import joining_rules
from parts.features.arm.leg import Leg, OnHub
from parts.features.arm.tip import AtTip
from parts.features.bar_bore.clamp_bore import ClampBore
from parts.features.bar_bore.in_hub import InHub
from parts.features.bolts.hardware import galvanic_cautions
from parts.features.eye.eye import Eye
from parts.features.press.pressed import coating_facts
from parts.standards.materials.materials import Material
from parts.strength.method import work
from parts.strength.pinned.ball_friction import friction_moment

if TYPE_CHECKING:
    from parts.core.drawing import Drawn
    from parts.core.feature import Feature
    from parts.core.supports import Held

    _: tuple[type[Feature[AtTip]], ...] = (Eye, ClevisEnd, TappedEnd)

End = Annotated[Eye | ClevisEnd | TappedEnd, Field(discriminator="type")]
AXES = np.eye(3)
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
        "fretting of spline, clamp and pin",
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

    @cached_property
    def _leg(self) -> Leg:
        return Leg(self.blade)

    @cached_property
    def _on_hub(self) -> OnHub:
        return OnHub(
            "arm", self.metal, "arm", self.edge_break, actions=self._actions, required=self.factors,
            tip=self._end(), rubbing=self._rubbing,
        )  # fmt: skip

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
            required=self.factors, loads=self.loads, room=room,
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
        yield from joining_rules(self.blade, self.hub.width, self.end)
        yield from self._clamp_rules()

    def _clamp_rules(self) -> Iterator[Rule]:
        """The ears of a clamp stay clear of the arm."""
        if not isinstance(self.hub.bore, ClampBore):
            return
        blade, radius = self.blade, self.hub.diameter / 2.0
        flare = np.maximum(blade.root().rim[1], blade.straight(0.0) / np.sqrt(1.0 + blade.slope**2))
        yield at_most(
            "clamp.turned", "hub.bore.clocking", np.abs(self.hub.bore.clocking),
            np.pi / 2.0 - np.arcsin(np.minimum(flare / radius, 1.0)),
            "the ears of the clamp would run into the arm", "turn the slit less", unit="deg",
        )  # fmt: skip

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
        return [*self._leg.spans(self._on_hub), *self._end_spans()]

    def _end_spans(self) -> Sequence[Span]:
        place = self._end()

        def shifted(actions: Actions) -> Actions:
            return lambda case: [
                replace(one, at=np.asarray(one.at) - place) for one in actions(case)
            ]

        site = replace(self._at_tip, actions=shifted(self._rubbed))
        return [
            replace(placed(span, place, AXES), reversing=self._rubbing)
            for span in self.end.spans(site)
        ]

    def torque(self, case: LoadCase) -> Any:
        """Torque of a load case about the bar [N*mm]."""
        return resultant(self._actions(case), np.zeros(3))[1][..., 2]

    def features(self) -> Sequence[Placed]:
        return (Placed(self.hub, self._in_hub), Placed(self.end, self._at_tip))

    def kinds(self) -> Sequence[Kind]:
        return [
            *self._leg.kinds(self._on_hub),
            *super().kinds(),
            Kind("torsion bar", "bar", {"bent": HELD}),
        ]

    def modes(self, case: LoadCase) -> Iterator[Check]:
        yield from self._leg.modes(self._on_hub, case)
        yield from super().modes(case)
        ends = self.hub.bore.shaft_shear(self._in_hub, case)
        yield from self.bar.modes(case.name, self.torque(case), ends)
        if case.name == self.loads[0].name:
            yield from self.bar.travel_modes(self.arm.length)

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.core.supports import turned
        from parts.families.torsion_arm.supports import arm_held

        spans = [span.name for span in self._leg.spans(self._on_hub)]
        loads = self.end.applied(self._at_tip, case)
        turns = float(resultant(self._actions(case), np.zeros(3))[1][..., 2])
        return [
            arm_held(
                self.hub, turns, turned(loads, AXES, self._end()), spans, slender=self._leg.slender
            )
        ]

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
            *self._leg.details(self._on_hub, self.checks_under),
            *self.hub.details(self._in_hub, self.checks_under),
            *self.bar.details(self.hub.bore.type, self.checks_under),
            *self.end.details(self._at_tip, self.checks_under),
        ]

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        return {
            **self.bar.facts(self.arm.length, self._leg.rate(self._on_hub)),
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
        from parts.features.arm import blade_solid

        c = float(self.edge_break)
        place = self._end()
        body = self.hub.solid(c).union(blade_solid.solid(self.blade, float(self.inner), c))
        body = body.union(self.end.solid(c).translate((float(place[0]), 0.0, float(place[2]))))
        body = self.end.cut_from(body, c, place)
        return [Piece("part", self.metal, self.hub.bore.cut_from(body, float(self.hub.width)))]
