"""A lever that a spring brings back to a stop: travel, return spring, stop, brake-light tab, and the rider's reach."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np
from pydantic import Field, model_validator

from parts.core.assembled import Assembled, Placed
from parts.core.check import Check
from parts.core.loads import Action, LoadCase, point_actions, resultant
from parts.core.rules import Rule, at_least
from parts.core.usual_loads import G_0
from parts.core.ways import Kind
from parts.families.foot_lever.limbs import Limb, lug_limb
from parts.families.foot_lever.lugs import HookEnd, SwitchTab
from parts.families.foot_lever.returning import (
    LeverStop,
    Return,
    SpringToLug,
    Swing,
    Travel,
    reach_rules,
)
from parts.features.arm.arm import Arm
from parts.features.spring.wire import Sprung
from parts.features.spring.wound import WoundSpring
from parts.inputs.quantities import PositiveLength
from parts.standards.materials.materials import Material

if TYPE_CHECKING:
    from parts.core.supports import Applied
    from parts.families.foot_lever.hub import LeverHub

Z = np.eye(3)[2]
NOTHING = 1.0
"""A moment that turns no lever [N*mm]: what rounding leaves of foot and rod."""
FOOT = 350.0
"""Greatest force of the foot in tests of brakes of motorcycles [N]: UN Regulation 78, annex 3; from memory."""


class BroughtBack(Assembled):
    """What of a foot lever brings it back."""

    if TYPE_CHECKING:
        hub: LeverHub
        arm: Arm

        @property
        def limbs(self) -> tuple[Limb, ...]: ...
        @property
        def _lever_of_rod(self) -> Any: ...
        @property
        def ratio(self) -> Any: ...

    travel: Travel | None = Field(
        None, description="How far it moves; left out, no spring is worked out."
    )
    spring: SpringToLug | WoundSpring | None = Field(
        None,
        discriminator="type",
        description="What brings it back: an extension spring to a lug, or a torsion spring about the pivot.",
    )
    stop: LeverStop | None = Field(
        None, description="The post that it comes back to; none where left out."
    )
    switch: SwitchTab | None = Field(
        None, description="A tab for the switch of the brake light; none where left out."
    )
    reach: PositiveLength | None = Field(
        None,
        description="From the peg's middle ahead to the toe, along the foot; not held where left out.",
    )

    @model_validator(mode="after")
    def _has_its_travel(self) -> BroughtBack:
        if self.spring is not None and self.travel is None:
            raise ValueError(
                "a spring is worked out over the travel; state it, as in `travel: {rod: 12 mm, free: 5 mm}`"
            )
        return self

    @cached_property
    def lugs(self) -> tuple[Limb, ...]:
        """What stands on the hub besides."""
        hub, found = (self.hub.diameter, self.hub.width, self.hub.wall), []
        if isinstance(self.spring, SpringToLug):
            found.append(lug_limb(hub, "spring lug", "spring.lug", self.spring.lug))
        if self.switch is not None:
            found.append(lug_limb(hub, "switch tab", "switch", self.switch))
        return tuple(found)

    @property
    def _all_limbs(self) -> tuple[Limb, ...]:
        return (*self.limbs, *self.lugs)

    @property
    def swing(self) -> Swing | None:
        """The travel; None where it is not stated."""
        foot = self.points()["toe"]
        reach = np.hypot(foot[..., 0], foot[..., 1])
        if self.travel is None:
            return None
        return Swing(self.travel, np.abs(self._lever_of_rod), reach)

    @cached_property
    def returned(self) -> Return | None:
        """The spring over the travel; None without one."""
        swing = self.swing
        if swing is None or self.spring is None:
            return None
        return Return(self.spring, swing, self._weight_moment())

    def _weight_moment(self) -> Any:
        """Moment of its own weight about the pivot, each limb as far out as it may hang [N*mm]."""
        found: Any = 0.0
        for limb in self._all_limbs:
            arm, end = limb.leg.blade.arm, limb.end
            blade = arm.width * arm.thickness * arm.length
            across = np.where(
                np.greater(end.rim, 0.0), 4.0 * end.rim**2, 2.0 * end.width * end.set_back
            )
            reach = np.hypot(limb.end_at[..., 0], limb.end_at[..., 1])
            inner = np.hypot(limb.at[..., 0], limb.at[..., 1])
            found = found + blade * (reach + inner) / 2.0 + across * end.height * reach
        return self.metal.density * G_0 * found

    @property
    def _stop_limb(self) -> Limb:
        assert self.stop is not None
        return self.limbs[0] if self.stop.limb == "arm" else self.limbs[-1]

    @property
    def _stop_on_rod_arm(self) -> bool:
        return self.stop is not None and self.stop.limb == "rod arm"

    def _on_stop(self, turns: Any) -> Any:
        """Whether a moment about the pivot turns it onto its stop [N*mm]."""
        sense = 0.0 if self.stop is None else self.stop.sense
        return np.asarray(turns, float) * sense > NOTHING

    def _stopped(self, turns: Any) -> Any:
        """What the stop answers to a moment that turns the lever onto it, the spring's at rest with it [N*mm]."""
        sense = 0.0 if self.stop is None else self.stop.sense
        spring = 0.0 if self.returned is None else self.returned.moments[0]
        return np.where(self._on_stop(turns), turns + sense * spring, 0.0)

    def _sprung_at(self, turned: Any) -> Action:
        """What the spring does to the lever that has turned so far from its stop [rad]."""
        assert self.returned is not None
        if isinstance(self.spring, SpringToLug):
            (lug,) = (one for one in self.lugs if one.name == "spring lug")
            return Action(lug.end_at, self.returned.pull(turned))
        assert isinstance(self.spring, WoundSpring)
        sense = -1.0 if self.stop is None else self.stop.sense
        moment = sense * np.asarray(self.spring.moment(turned))
        return Action(np.zeros(3), np.zeros(3), moment[..., None] * Z)

    def _stop_action(self, turns: Any) -> Sequence[Action]:
        """The push of the stop on the flank of its arm, that answers such a moment."""
        if self.stop is None:
            return ()
        limb, stop = self._stop_limb, self.stop
        blade = limb.leg.blade
        x = stop.radius
        at = np.stack(
            np.broadcast_arrays(x, stop.sense * blade.half_width(x), blade.middle(x)), axis=-1
        )
        # The line of the push goes through x square to the arm, so that its lever is the radius.
        push = (
            -np.asarray(turns, float)[..., None]
            / np.asarray(x)[..., None]
            * np.array([0.0, 1.0, 0.0])
        )
        turn = limb.turn
        out = (turn @ at[..., None])[..., 0], (turn @ push[..., None])[..., 0]
        return [Action(*out)]

    def _push_of_stop(self, case: LoadCase) -> Any:
        """The most that the stop may bear under a load case: all that the foot turns, whatever the rod is said to
        answer [N]."""
        if self.stop is None:
            return 0.0
        foot = point_actions(case, self.points(), ["toe"])
        answers = self._stopped(resultant(foot, np.zeros(3))[1][..., 2])
        own = sum(np.linalg.norm(one.force, axis=-1) for one in self._from_stop(case))
        return np.maximum(np.abs(answers) / self.stop.radius, own)

    def _beside_the_rest(self, case: LoadCase) -> Any:
        """The most that spring and stop add to the pull on the hub, with what the rod answers to the spring [N]."""
        own = sum(np.linalg.norm(one.force, axis=-1) for one in self._from_stop(case))
        stop = self._push_of_stop(case) - own
        if self.returned is None:
            return stop
        most = np.maximum(*self.returned.moments)
        own = 0.0
        if isinstance(self.spring, SpringToLug):
            own = np.maximum(
                *(np.linalg.norm(self.returned.pull(end), axis=-1) for end in self.turned)
            )
        elif isinstance(self.spring, WoundSpring):
            own = most / self.spring.leg
        return stop + own + most / np.abs(self._lever_of_rod)

    @property
    def turned(self) -> tuple[Any, Any]:
        """How far it has turned when its spring is at rest and at full travel, as `Return` takes it [rad]."""
        assert self.returned is not None
        own = self.returned.sense if isinstance(self.spring, SpringToLug) else -1.0
        return 0.0, -own * self.returned.swing.angle

    def _hooked(self, limb: Limb, case: LoadCase) -> Sequence[Action]:
        """The pull of the spring on its lug, or of the switch on its tab, square to it, in the axes of the lever."""
        if limb.name == "switch tab":
            assert self.switch is not None
            return [
                Action(limb.end_at, np.asarray(self.switch.force)[..., None] * limb.turn[..., :, 1])
            ]
        assert self.returned is not None
        # Square to the lug and along it, each the most between rest and full travel.
        pulls = [
            (np.swapaxes(limb.turn, -1, -2) @ self.returned.pull(end)[..., None])[..., 0]
            for end in self.turned
        ]
        worst = np.where(np.abs(pulls[0]) >= np.abs(pulls[1]), *pulls)
        return [Action(limb.end_at, (limb.turn @ worst[..., None])[..., 0])]

    def sprung(self) -> Sequence[Placed]:
        """The spring where it works."""
        if self.returned is None:
            return ()
        rest, full = self.returned.ends
        site = Sprung(
            "spring", self.metal, "return spring", rest=rest, full=full, required=self.factors
        )
        return [Placed(self.returned.spring, site)]

    def return_rules(self) -> Iterator[Rule]:
        """Travel, spring, stop and reach, and what stands on the hub beside its arms."""
        if self.reach is not None:
            yield from reach_rules(self.reach)
        if self.swing is not None:
            yield from self.swing.rules()
        for placed in self.sprung():
            yield from placed.feature.rules(placed.site)
        if self.stop is not None:
            yield from self.stop.rules(self._stop_limb.leg.blade)
            if self.returned is not None and isinstance(self.spring, SpringToLug):
                yield at_least(
                    "lever.comes_back", "stop.side", self.returned.sense * self.stop.sense, 0.0,
                    "the spring pulls the lever away from its stop", "move the anchor, or the stop, to the other side",
                    unit="",
                )  # fmt: skip
        for limb in self.lugs:
            for other in self.limbs:
                if other.hub == "hub":
                    yield self._apart_rule(limb, other)
        for one, other in zip(self.lugs, self.lugs[1:], strict=False):
            yield self._apart_rule(one, other)

    def _apart_rule(self, limb: Limb, other: Limb) -> Rule:
        between = limb.angle - other.angle
        least = sum(
            np.arctan2(one.leg.blade.root().rim[1], one.leg.blade.root().rim[0])
            for one in (limb, other)
        )
        return at_least(
            "lever.lug_apart", f"{limb.field}.angle", np.abs(np.arctan2(np.sin(between), np.cos(between))), least,
            f"the {limb.name} runs into the {other.name}", "turn it farther", unit="deg",
        )  # fmt: skip

    def kinds(self) -> Sequence[Kind]:
        found = [*super().kinds()]
        if self.returned is not None:
            found.append(Kind("sprung lever", "return spring"))
        if self.stop is not None:
            found.append(Kind("stop on a flank", "stop"))
        return found

    def modes(self, case: LoadCase) -> Iterator[Check]:
        yield from super().modes(case)
        if self.stop is not None:
            push, blade = self._push_of_stop(case), self._stop_limb.leg.blade
            yield self.stop.modes(
                push, blade, self._metal_of(self._stop_limb), case, self.factors(case).on_yield
            )

    def _metal_of(self, limb: Limb) -> Material:
        """Metal of a limb, softened where a weld is near."""
        raise NotImplementedError

    def _from_stop(self, case: LoadCase) -> Sequence[Action]:
        raise NotImplementedError

    def stop_applied(self, case: LoadCase) -> list[tuple[Limb, Sequence[Applied]]]:
        """The push of the stop on the flank, in the axes of its limb's end, for finite elements."""
        from parts.core.supports import Applied, Flat

        pushed = [one for one in self._from_stop(case) if np.any(one.force)]
        if self.stop is None or not pushed:
            return []
        limb, stop, (push,) = self._stop_limb, self.stop, pushed
        blade = limb.leg.blade
        x, b = float(stop.radius), float(blade.slope)
        at = (
            np.array([x, stop.sense * float(blade.half_width(x)), float(blade.middle(x))])
            - limb.tip
        )
        normal = np.array([-b, stop.sense, 0.0]) / np.hypot(b, 1.0)
        r = 0.45 * min(float(stop.post), float(blade.thickness(x)))
        action = Action(at, limb.turn.T @ push.force)
        return [(limb, [Applied("stop", (Flat(at, normal, r),), (action,))])]

    def spring_applied(self, spring: Sequence[Action]) -> list[tuple[Limb, Sequence[Applied]]]:
        """The pull of the spring on its lug, in the axes of the lug's end, for finite elements."""
        return [
            (
                limb,
                limb.end.hooked([Action(np.zeros(3), limb.turn.T @ one.force) for one in spring]),
            )
            for limb in self.lugs
            if limb.name == "spring lug" and isinstance(limb.end, HookEnd)
        ]

    def standing(self) -> Iterator[Check]:
        yield from super().standing()
        if self.returned is not None:
            yield self.returned.brings_back()

    def return_facts(self) -> Mapping[str, tuple[Any, str]]:
        """Travel, spring and stop, and what the rod gets of a foot."""
        found: dict[str, tuple[Any, str]] = {
            f"rod's force under {FOOT:.0f} N of the foot (most that UN R78 tests brakes with)": (
                FOOT * self.ratio,
                "N",
            )
        }
        if self.swing is not None:
            found |= self.swing.facts()
        if self.returned is not None:
            found |= self.returned.facts()
        if self.stop is not None and np.any(np.greater(self.stop.eccentric, 0.0)):
            foot = self.points()["toe"]
            reach = np.hypot(foot[..., 0], foot[..., 1])
            found["toe set by the stop's sleeve, up and down"] = (
                self.stop.eccentric * reach / self.stop.radius,
                "mm",
            )
        return found
