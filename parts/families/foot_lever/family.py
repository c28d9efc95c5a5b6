"""Foot lever: a brake pedal or a shift lever, with its hub, its arm to the toe and its arm to the rod."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property, partial
from typing import TYPE_CHECKING, Any, ClassVar, Literal

import numpy as np
from pydantic import Field

from parts.core.assembled import Placed
from parts.core.feature import Actions
from parts.core.freebody import Acting, reacting
from parts.core.loadpath import Span, placed
from parts.core.loads import Action, ByCase, LoadCase, point_actions, resultant
from parts.core.part import Piece
from parts.core.rules import Rule, at_least, at_most
from parts.families.foot_lever.brought_back import BroughtBack
from parts.families.foot_lever.examples import CENTRED, PEDAL, RETURNED, SHIFT, WELDED
from parts.families.foot_lever.heated import metal_of, metal_of_hub
from parts.families.foot_lever.hub import LeverHub
from parts.families.foot_lever.limbs import Knee, Limb, RodArm, chain
from parts.families.foot_lever.on_pivot import OnPivot
from parts.families.foot_lever.toe import AnyToe
from parts.families.foot_lever.welded_toe import WeldedToe
from parts.features.arm.arm import Arm
from parts.features.arm.blade import blade_rules
from parts.features.arm.joining import Fields, joining_rules
from parts.features.arm.leg import OnHub
from parts.features.arm.tip import AtTip
from parts.features.bolts.hardware import galvanic_cautions
from parts.features.press.pressed import coating_facts
from parts.standards.materials.materials import Material
from parts.strength.method import work
from parts.strength.pinned.ball_friction import friction_moment

if TYPE_CHECKING:
    from parts.core.drawing import Drawn
    from parts.core.supports import Held
    from parts.core.weldment import Weldment

Z = np.eye(3)[2]


class FootLever(BroughtBack):
    """A lever that a foot presses or lifts."""

    summary: ClassVar[str] = (
        "a brake pedal or a shift lever: hub on bearings or a bush, arm, toe, and arm to the rod"
    )
    axes: ClassVar[str] = (
        "origin in the middle of the hub; z along the pivot, away from the bracket; x along the arm as it leaves "
        "the hub; y in the plane of travel"
    )
    load_points: ClassVar[Mapping[str, str]] = {"pivot": "", "toe": "", "rod": ""}
    not_covered: ClassVar[tuple[str, ...]] = (
        "the pivot that it turns on, which the bracket checks",
        "wear of bush, bearings and pins",
        "the peg of a tapped toe beyond its bolt",
    )
    example: ClassVar[Mapping[str, Any]] = PEDAL
    examples: ClassVar[Sequence[Mapping[str, Any]]] = (PEDAL, SHIFT, RETURNED, CENTRED, WELDED)

    family: Literal["foot lever"] = Field(
        "foot lever", description="A lever that a foot presses or lifts."
    )
    hub: LeverHub = Field(description="The hub, and what it turns on.")
    arm: Arm = Field(description="The arm from the hub to its first knee, or to the toe.")
    knees: list[Knee] = Field(
        default_factory=list,
        max_length=3,
        description="Where the arm turns in the plane of travel; none of a straight arm.",
    )
    toe: AnyToe = Field(
        description="What the foot presses: a boss, tapped for a peg or with one in it."
    )
    rod: RodArm = Field(description="The arm that moves the rod.")

    @cached_property
    def limbs(self) -> tuple[Limb, ...]:
        """The legs from hub to toe, and the rod's arm last."""
        hub = self.hub.diameter, self.hub.width, self.hub.wall
        return chain(hub, self.arm, self.knees, self.toe, self.rod)

    @property
    def _to_toe(self) -> Limb:
        return self.limbs[-2]

    @property
    def _to_rod(self) -> Limb:
        return self.limbs[-1]

    def points(self) -> Mapping[str, Any]:
        foot = np.asarray(self.toe.foot, float)[..., None] * Z
        toe, rod = self._to_toe.end_at + foot, self._to_rod.end_at
        return {"pivot": np.zeros(3), "toe": toe, "rod": rod}

    def stock_thickness(self) -> Any:
        half = self.hub.width / 2.0
        highs, lows = [half], [-half]
        for limb in self._all_limbs:
            z, tall = limb.end_at[..., 2], limb.end.height / 2.0
            highs.append(z + tall)
            lows.append(z - tall)
        return np.maximum.reduce(np.broadcast_arrays(*highs)) - np.minimum.reduce(
            np.broadcast_arrays(*lows)
        )

    def rules(self) -> Iterator[Rule]:
        c = self.edge_break
        yield from self.hub.rules(replace(self._on_pivot, metal=self.material))
        yield from self.return_rules()
        for limb in self._all_limbs:
            blade = limb.leg.blade
            yield from blade_rules(blade, limb.field, c)
            fields = Fields(limb.hub, limb.field, limb.end_field, limb.hub_name)
            yield from joining_rules(blade, limb.wide, limb.end, fields)
            if isinstance(limb.end, Knee):
                yield from self._knee_rules(limb.end, limb.end_field)
            else:
                yield from limb.end.rules(replace(self._at_tip(limb), metal=self.material))
        yield at_least(
            "lever.apart", "rod.angle", np.abs(_wrapped(self.rod.angle)), self._apart,
            "the rod's arm runs into the arm", "turn it farther", unit="deg",
        )  # fmt: skip
        yield at_least(
            "lever.pull", "rod.along", np.abs(self._lever_of_rod), 0.5 * self.rod.arm.length,
            "the rod points nearly at the pivot, so that its force runs away (half of its arm: common practice, no "
            "source)", "turn the rod nearer to square",
        )  # fmt: skip
        yield at_least(
            "lever.ratio", "rod.arm.length", self.ratio, 1.0, "the rod's arm is longer than that of the foot, which "
            "would push harder than the rod", "shorten the rod's arm, or lengthen the arm", unit="",
        )  # fmt: skip
        yield at_most(
            "lever.ratio_most", "rod.arm.length", self.ratio, 12.0,
            "so much lever leaves the rod no travel (12: common practice, no source)", "lengthen the rod's arm",
            unit="",
        )  # fmt: skip

    def _knee_rules(self, knee: Knee, field: str) -> Iterator[Rule]:
        yield at_most(
            "knee.turn", f"{field}.turn", np.abs(knee.turn), np.radians(100.0),
            "an arm that turns so far runs back into itself", "turn it less", unit="deg",
        )  # fmt: skip
        yield at_most(
            "knee.break", "edge_break", self.edge_break, np.minimum(knee.width, knee.diameter) / 6.0,
            "the chamfers eat the faces of the knee", "lessen the edge break",
        )  # fmt: skip

    @property
    def _apart(self) -> Any:
        """Least angle between the two arms at the hub's rim, so that their fillets do not meet [rad]."""
        flares = [self.limbs[0].leg.blade, self._to_rod.leg.blade]
        return sum(np.arctan2(one.root().rim[1], one.root().rim[0]) for one in flares)

    @property
    def _way_of_rod(self) -> np.ndarray:
        """Direction of the rod from its pin, a unit vector (..., 3)."""
        a = np.asarray(self.rod.direction, float)
        return np.stack([np.cos(a), np.sin(a), 0.0 * a], axis=-1)

    @property
    def _lever_of_rod(self) -> Any:
        """Moment about the pivot of a pull of 1 N on the rod [mm]."""
        at, way = self._to_rod.end_at, self._way_of_rod
        return at[..., 0] * way[..., 1] - at[..., 1] * way[..., 0]

    @property
    def ratio(self) -> Any:
        """Distance of the foot from the pivot over that of the rod [-]."""
        foot = self.points()["toe"]
        return np.hypot(foot[..., 0], foot[..., 1]) / np.abs(self._lever_of_rod)

    @cached_property
    def _answer(self) -> ByCase[Action]:
        """What the rod answers along itself, so that nothing turns the lever."""
        return ByCase(self._answered)

    def _answered(self, case: LoadCase) -> Action:
        turns = resultant(self._given(case), np.zeros(3))[1][..., 2]
        size = -np.where(self._on_stop(turns), 0.0, turns) / self._lever_of_rod
        return Action(self._to_rod.end_at, np.asarray(size)[..., None] * self._way_of_rod)

    def _given(self, case: LoadCase) -> Sequence[Action]:
        """What acts at its ends: a load at its pivot is what holds it."""
        return point_actions(case, self.points(), ["toe", "rod"])

    def _all(self, case: LoadCase) -> Sequence[Action]:
        return [
            *self._given(case),
            self._answer(case),
            *self._from_stop(case),
            *self._at_rest(case),
        ]

    def _at_rest(self, case: LoadCase) -> Sequence[Action]:
        """What the spring does where the load turns the lever onto its stop, which bears it too.

        What presses the lever is counted as if its spring were broken: it would relieve the rod.
        """
        turns = resultant(self._given(case), np.zeros(3))[1][..., 2]
        if self.returned is None or self.stop is None:
            return ()
        one, there = self._sprung_at(0.0), self._on_stop(turns)[..., None]
        return [Action(one.at, np.where(there, one.force, 0.0), np.where(there, one.moment, 0.0))]

    def _from_stop(self, case: LoadCase) -> Sequence[Action]:
        """What the stop answers where the load turns the lever onto it; the rod gives none then."""
        turns = resultant(self._given(case), np.zeros(3))[1][..., 2]
        return self._stop_action(self._stopped(turns))

    def _beyond(self, case: LoadCase, rod: bool) -> Sequence[Action]:
        """What acts on the arm to the toe, or on that to the rod.

        A stop on the arm relieves what lies between it and the hub: nothing is counted of it there, which bends the arm
        no less anywhere.
        """
        ends = self._at_end(case, rod)
        return [*ends, *self._from_stop(case)] if rod and self._stop_on_rod_arm else ends

    def _at_end(self, case: LoadCase, rod: bool) -> Sequence[Action]:
        """What acts at the toe, or at the pin of the rod."""
        given = point_actions(case, self.points(), ["rod" if rod else "toe"])
        return [*given, self._answer(case)] if rod else given

    def _torque(self, case: LoadCase) -> Any:
        """The greatest moment about the pivot that one arm brings in [N*mm]."""
        found = [
            resultant(self._beyond(case, rod), np.zeros(3))[1][..., 2] for rod in (False, True)
        ]
        return np.maximum(*map(np.abs, found))

    @property
    def _on_pivot(self) -> OnPivot:
        return OnPivot(
            "hub", metal_of_hub(self.hub.diameter, self.metal, self.toe, self._to_toe.end_at), "hub", self.edge_break,
            actions=self._all, required=self.factors,
            diameter=self.hub.diameter, torque=self._torque,
            narrowest=np.minimum(self.arm.width, self.rod.arm.width), beside=self._beside_the_rest,
        )  # fmt: skip

    def _at_tip(self, limb: Limb, more: Sequence[Action] = ()) -> AtTip:
        blade = limb.leg.blade
        round_end = limb.end.rim is not None and bool(np.any(np.greater(limb.end.rim, 0.0)))
        room = blade.reach - blade.tip().rim[0] if round_end else blade.thickness(blade.reach) / 2.0
        beyond = self._acting_on(limb, self._at_end)
        return AtTip(
            limb.end_field, self._metal_of(limb), edge_break=self.edge_break, at=limb.end_at, turn=limb.turn,
            actions=limb.at_tip(lambda case: [*beyond(case), *more]), required=self.factors, loads=self.loads,
            room=room,
        )  # fmt: skip

    def _acting_on(self, limb: Limb, of_arm: Callable[..., Sequence[Action]]) -> Actions:
        """What acts on a limb, or at its end: of a lug its own pull alone, whatever the foot does."""
        if any(limb is one for one in self.lugs):
            return partial(self._hooked, limb)
        return partial(of_arm, rod=limb is self._to_rod)

    def _metal_of(self, limb: Limb) -> Material:
        return metal_of(limb, self.metal, self.toe, self._to_toe.end_at)

    def _rubbing(self, limb: Limb, case: LoadCase) -> Sequence[Action]:
        """What the pin of the rod puts on its arm by its friction, in the axes of the arm."""
        if limb is not self._to_rod:
            return ()
        force, _ = resultant(self._at_end(case, rod=True), limb.end_at)
        d, mu = self.rod.end.rubbing
        size = work(friction_moment, F=np.linalg.norm(force, axis=-1), d=d, mu=mu).value
        return [Action(limb.tip, np.zeros(3), np.asarray(size)[..., None] * Z)]

    def _on_hub(self, limb: Limb) -> OnHub:
        beyond = self._acting_on(limb, self._beyond)
        legs = self.limbs[:-1]
        here = next((i for i, one in enumerate(legs) if one is limb), len(legs))
        on = [one.leg.blade for one in legs[here + 1 :]]
        far = ((self._to_toe.end_at - limb.at)[..., None, :] @ limb.turn)[..., 0, :]
        return OnHub(
            limb.field, self._metal_of(limb), limb.name, self.edge_break, at=limb.at, turn=limb.turn,
            actions=limb.own(beyond), required=self.factors, tip=limb.tip, rubbing=partial(self._rubbing, limb),
            beyond=on, far=far,
        )  # fmt: skip

    def features(self) -> Sequence[Placed]:
        legs = [Placed(limb.leg, self._on_hub(limb)) for limb in self._all_limbs]
        ends = [
            Placed(limb.end, self._at_tip(limb))
            for limb in self._all_limbs
            if not isinstance(limb.end, Knee)
        ]
        return (Placed(self.hub, self._on_pivot), *legs, *ends, *self.sprung())

    def spans(self) -> Sequence[Span]:
        return [
            placed(span, one.site.at, one.site.turn)
            for one in self.features()
            for span in one.feature.spans(one.site)
        ]

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        answer, zero = self._answer(case), np.zeros(3)
        springs = [
            Acting(one.at, one.force, one.moment, by="return spring") for one in self._at_rest(case)
        ]
        every = [*point_actions(case, self.points()), answer]
        stops = [Acting(one.at, one.force, by="stop") for one in self._from_stop(case)] + springs
        pivot = reacting("pivot of the bracket", zero, resultant([*every, *stops], zero))
        return [Acting(answer.at, answer.force, by="rod"), *stops, pivot]

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.families.foot_lever.supports import lever_held

        spring, relief = self._spring_as_it_is(case)
        loads = [
            (
                limb,
                limb.end.applied(self._at_tip(limb, relief if limb is self._to_rod else ()), case),
            )
            for limb in self.limbs
            if not isinstance(limb.end, Knee)
        ]
        loads += [*self.stop_applied(case), *self.spring_applied(spring)]
        slender = any(limb.leg.slender for limb in self._all_limbs)
        rest = self._at_rest(case)
        there = (
            [*rest]
            if any(np.any(one.force) or np.any(one.moment) for one in rest)
            else [*spring, *relief]
        )
        felt = resultant(
            [*self._given(case), self._answer(case), *self._from_stop(case), *there], np.zeros(3)
        )
        twist = sum((one.moment for one in spring), np.zeros(3))
        return [lever_held(self.hub, felt, loads, twist, slender=slender)]

    def _spring_as_it_is(self, case: LoadCase) -> tuple[Sequence[Action], Sequence[Action]]:
        """The spring on its stop or at full travel, and what the rod answers to it there, for finite elements."""
        if self.returned is None:
            return (), ()
        turns = resultant(self._given(case), np.zeros(3))[1][..., 2]
        if self._on_stop(turns):
            return (self._sprung_at(0.0),), ()
        one = self._sprung_at(self.turned[1])
        size = -resultant([one], np.zeros(3))[1][..., 2] / self._lever_of_rod
        return (one,), (Action(self._to_rod.end_at, size * self._way_of_rod),)

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        return {
            "lever ratio, foot to rod": (self.ratio, ""),
            "rate of the arm at the toe, in its plane": (self._rate(), "N/mm"),
            **super().facts(),
            **self.return_facts(),
            **coating_facts(self.finish, self.metal),
        }

    def _rate(self) -> Any:
        """Rate at the toe of the legs one after the other, as cantilevers on each other's ends [N/mm]."""
        foot, flexible = self._to_toe.end_at, 0.0
        for limb in self.limbs[:-1]:
            # Each leg turns what lies beyond it: the moment at its tip counts by the distance to the toe.
            beyond = np.linalg.norm(foot - limb.end_at, axis=-1)
            long = limb.leg.blade.arm.length - limb.leg.blade.start
            share = (1.0 + beyond / long) ** 2
            flexible = flexible + share / limb.leg.rate(self._on_hub(limb))
        return 1.0 / flexible

    def cautions(self) -> Sequence[str]:
        return [
            *super().cautions(),
            "Set the rod so that the lever returns to its stop with free travel at the toe: a pedal that rides on its "
            "rod drags the brake.",
            *galvanic_cautions(self.metal, self.touching()),
        ]

    def drawn(self) -> Sequence[Drawn]:
        from parts.families.foot_lever.drawing import lever_drawn

        limbs = [(limb, self._at_tip(limb)) for limb in self._all_limbs]
        return [lever_drawn(self.hub, self._on_pivot, limbs)]

    def weldment(self) -> Weldment | None:
        if not isinstance(self.toe, WeldedToe):
            return None
        return self.toe.weldment(self._at_tip(self._to_toe))

    def build(self) -> Sequence[Piece]:
        from parts.families.foot_lever.solid import lever_solid

        return [
            Piece(
                "part", self.metal, lever_solid(self.hub, self._all_limbs, float(self.edge_break))
            )
        ]


def _wrapped(angle: Any) -> Any:
    """An angle between minus and plus half a turn [rad]."""
    return np.arctan2(np.sin(angle), np.cos(angle))
