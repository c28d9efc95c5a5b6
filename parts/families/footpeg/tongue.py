"""A footpeg that folds: its tongue turns on a pin in the bracket's fork, and its heel bears on the floor.

Axes of the feature: the shoulder stands at the origin, x runs out along the peg, z is up; the pin lies along y.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Annotated, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.clearances import Clearance
from parts.core.fatigue_places import Detail
from parts.core.feature import Answers, Modes
from parts.core.freebody import Acting
from parts.core.group import Group
from parts.core.loadpath import Span
from parts.core.loads import Action, LoadCase, resultant
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.footpeg.tilted import tilted_modes
from parts.families.footpeg.tongue_shape import CORNER, IN_EYE, tongue_joined, tongue_marks
from parts.features.arm.round_end import BESIDE
from parts.features.arm.tip import AtTip
from parts.features.eye.eye import Eye
from parts.features.eye.eye_sizes import BushBore, PlainBore
from parts.features.section.notches import SHARP, beside_pin, same
from parts.features.section.outlines import beside_bore, chamfered
from parts.features.spring.wire import Sprung
from parts.features.spring.wound import WoundSpring
from parts.features.thread.body import OnBody
from parts.inputs.quantities import Angle, PositiveLength
from parts.strength.method import work
from parts.strength.pinned import lug

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Marks
    from parts.core.supports import Applied, Round, Support
    from parts.features.thread.body import Body

X, Y, Z = np.eye(3)
HEEL = 0.8
"""Lever of the heel about the pin, over the radius of the tongue's end [-]; common practice, no source."""
HEEL_BEARS = 0.4
"""How much of that radius the heel bears on [-]: what lies beyond its lever on both sides."""
SHAKEN = 2.0
"""Weights of itself by which a bump lifts a peg that its spring holds down [-]; common practice, no source."""
FREELY = 2.0
"""How much more than spring and weight a load that folds it brings [-]; common practice, no source."""
LEAST_FOLD = 45.0
"""How far a peg that folds folds at the least [deg]; common practice, no source."""


class TongueEye(Eye):
    """The round end of a tongue; no ball in it, on which the peg would turn every way."""

    bore: Annotated[PlainBore | BushBore, Field(discriminator="type")] = Field(
        description="What the eye takes: the pin, or a bush."
    )


class Tongue(Group, Answers[OnBody]):
    """A tongue that folds in the fork of the bracket."""

    type: Literal["folding"] = Field(
        "folding", description="A tongue that turns on a pin in the fork of the bracket."
    )
    eye: TongueEye = Field(
        description="Its round end and the pin; its diameter is the height of the tongue, its width the thickness."
    )
    reach: PositiveLength = Field(description="From the pin's axis out to the shoulder of the peg.")
    over: PositiveLength = Field(
        description="From the plate of the bracket to the pin's axis: `depth` and `floor_thickness` of its ears."
    )
    fold: Angle = Field(np.pi / 4.0, description="How far up it is to fold.")
    spring: WoundSpring | None = Field(
        None, description="A torsion spring on the pin that holds it down; none where left out."
    )
    folds_under: list[str] = Field(
        default_factory=list,
        max_length=8,
        description="Load cases, by name, that are to fold it up, as a fall: it gives way there and bears nothing "
        "but its spring; what it stands on is to bear them.",
    )

    @property
    def root(self) -> Any:
        """Width of what stands on the shoulder [mm]."""
        return np.hypot(self.eye.diameter, self.eye.width)

    @property
    def heel(self) -> Any:
        """Lever of the heel about the pin [mm]."""
        return HEEL * self.eye.rim

    @property
    def pin_at(self) -> np.ndarray:
        """The middle of the pin [mm]."""
        return np.asarray(-self.reach, float)[..., None] * X

    def gives_way(self, case: LoadCase) -> bool:
        """Whether the peg is to fold up under a load case."""
        return case.name in self.folds_under

    def folds_to(self, wide: Any) -> Any:
        """How far the peg folds before its side meets the plate [rad], for a bar of that diameter, up to upright.

        Its corner at the shoulder comes nearest: reach cos φ - D/2 sin φ = -over.
        """
        r, half = self.reach, wide / 2.0
        long = np.hypot(r, half)
        meets = np.arccos(np.clip(-self.over / long, -1.0, 1.0)) - np.arctan2(half, r)
        return np.minimum(meets, np.pi / 2.0)

    def strikes(self, wide: Any, length: Any) -> np.ndarray:
        """What may strike the ground once a peg of that diameter and length [mm] has folded, (2, 3): the outer edge of
        its end, and the nose of the fork about its pin, a third of a right angle below the level."""
        a, low = self.folds_to(wide), np.radians(30.0)
        c, s = np.cos(a), np.sin(a)
        far, half = self.reach + length, wide / 2.0
        end = [far * c + half * s, 0.0, far * s - half * c]
        nose = [self.eye.rim * np.cos(low), 0.0, -self.eye.rim * np.sin(low)]
        found: np.ndarray = self.pin_at + np.array([end, nose], float)
        return found

    def comes_out(self, site: OnBody) -> Iterator[Rule]:
        """The tongue comes out of the bar of the peg."""
        yield at_most(
            "footpeg.tongue", f"{site.field}.eye.diameter", self.root, site.body.width,
            "the tongue does not come out of the bar of the peg", "make it lower or thinner, or the peg thicker",
        )  # fmt: skip

    def rules(self, site: OnBody) -> Iterator[Rule]:
        field, D = site.field, site.body.width
        yield from self.eye.rules(self._in_eye(site))
        yield from self.comes_out(site)
        yield at_least(
            "footpeg.ears", f"{field}.reach", self.reach, self.eye.rim + 2.0,
            "the shoulder runs into the ears of the fork as it folds, whose noses stand as far out as the tongue's end",
            "lengthen it",
        )  # fmt: skip
        yield at_least(
            "footpeg.fold", f"{field}.fold", self.fold, np.radians(LEAST_FOLD),
            "a peg that folds so little digs in all the same (45 degrees: common practice, no source)", "fold it more",
            unit="deg",
        )  # fmt: skip
        yield at_most(
            "footpeg.folds", f"{field}.over", self.fold, self.folds_to(D),
            "the side of the peg meets the plate before it is folded so far",
            "raise the pin over the plate, or bring the shoulder nearer to it, or take a thinner peg", unit="deg",
        )  # fmt: skip
        if self.spring is not None:
            yield from self.spring.rules(self._at_spring(site))
            yield at_least(
                "footpeg.beyond", f"{field}.eye.pin.beyond", self.eye.pin.beyond, self.spring.room,
                "the spring on the pin takes more of it, so that the bolt that is bought would be too short",
                "state what the spring takes, here and at the pin of the bracket's fork, which is the same",
            )  # fmt: skip
            yield at_least(
                "footpeg.sleeve", f"{field}.spring.about", self.spring.about, self.eye.pin.diameter,
                "what the spring sits on is thinner than the pin in it", "widen it, and the spring about it",
            )  # fmt: skip

    def _at_spring(self, site: OnBody) -> Sprung:
        return Sprung(
            f"{site.field}.spring", site.metal, "folding spring", rest=0.0, full=self.folds_to(site.body.width)
        )  # fmt: skip

    def _in_eye(self, site: OnBody) -> AtTip:
        """The eye, on which its pin acts."""

        def by_pin(case: LoadCase) -> Sequence[Action]:
            pin, *_ = self._held(site.pins(case))
            return [Action(np.zeros(3), pin.force @ IN_EYE.T, pin.moment @ IN_EYE.T)]

        return AtTip(
            f"{site.field}.eye", site.metal, edge_break=site.edge_break, at=self.pin_at, turn=IN_EYE.T,
            actions=by_pin, required=site.required, room=self.eye.rim,
        )  # fmt: skip

    def _held(self, loads: Sequence[Action]) -> tuple[Acting, Acting, Acting]:
        """What pin, heel and spring do to the tongue.

        The heel holds what turns the peg down, the spring's moment with it. Nothing but the spring holds a peg that is
        lifted: the last of the three is what a load beyond it would need.
        """
        force, moment = resultant(loads, self.pin_at)
        turn = moment[..., 1]
        down = np.maximum(turn + self._sprung, 0.0)
        push = down / self.heel
        heel = self.pin_at + np.stack(
            np.broadcast_arrays(-self.eye.rim, 0.0, -self.heel + 0.0 * push), axis=-1
        )
        along = push[..., None] * X
        pin = Acting(self.pin_at, -(force + along), -moment * (1.0 - Y), by="pin")
        kept = Acting(
            self.pin_at, 0.0 * along, (down - turn)[..., None] * Y, by="spring that holds it down"
        )
        return pin, Acting(heel, along, by="heel on the floor of the fork"), kept

    @property
    def _sprung(self) -> Any:
        """Moment that the spring holds the peg down with [N*mm]."""
        return 0.0 if self.spring is None else self.spring.moment(0.0)

    def lifting(self, loads: Sequence[Action]) -> Any:
        """Moment about the pin that lifts the peg [N*mm]."""
        return np.maximum(-resultant(loads, self.pin_at)[1][..., 1], 0.0)

    def kinds(self, site: OnBody) -> Sequence[Kind]:
        own = [Kind("heel of a peg", "heel"), Kind("tilted tongue", "eye")]
        found = [*self.eye.kinds(self._in_eye(site)), *own]
        return found if self.spring is None else [*found, *self._spring_kinds(site)]

    def _spring_kinds(self, site: OnBody) -> Sequence[Kind]:
        assert self.spring is not None
        return [*self.spring.kinds(self._at_spring(site)), Kind("sprung peg", "folding spring")]

    def spans(self, site: OnBody) -> Sequence[Span]:
        """The tongue from its pin to the shoulder, under all that acts on the peg, its spring too."""
        h, t, c = self.eye.diameter, self.eye.width, site.edge_break
        bore, back = self.eye.bore_diameter, self.pin_at
        run = BESIDE * bore / 2.0

        def beside(s: Any) -> Any:
            off = run * np.asarray(s, float)
            # The strip lies along y; here the tongue stands upright.
            strip = beside_bore(h / 2.0 + 0.0 * off, t, bore, 0.0, off, sunk=c)
            return strip + strip.mirrored()

        def whole(s: Any) -> Any:
            return chamfered(h + 0.0 * np.asarray(s, float), t, 0.0)

        axes = np.stack([X, Z, -Y])
        notch = beside_pin(bore, h, h / 2.0, loose=True)
        near = back + np.asarray(run, float)[..., None] * X
        turn = [Action(back, 0.0 * back, np.asarray(self._sprung)[..., None] * Y)]
        given = axes, lambda case: [*site.pins(case), *turn], site.metal
        return [
            Span("tongue beside its pin", back, near, given[0], beside, *given[1:], stations=9, notch=same(notch)),
            Span("tongue", near, np.zeros(3), given[0], whole, *given[1:], stations=15, notch=same(SHARP)),
        ]  # fmt: skip

    def modes(self, site: OnBody, case: LoadCase) -> Iterator[Check]:
        """The pin and its eye, and the heel on the floor."""
        yield from self.eye.modes(self._in_eye(site), case)
        pin, heel, _ = self._held(site.pins(case))
        yield from tilted_modes(self.eye, pin, site.metal, site.required(case), case.name)
        required = site.required(case)
        yield check(
            "heel, crushed on the floor, yield", "bearing", load_case=case.name, unit="MPa",
            demand=work(
                lug.bearing_stress, P=np.linalg.norm(heel.force, axis=-1), D_p=HEEL_BEARS * self.eye.rim,
                t=np.maximum(self.eye.width - 2.0 * CORNER, 1.0),
            ),
            capacity=site.metal.yield_strength, required=required.on_yield,
            note="the moment about the pin, the spring's with it, over the heel's lever",
        )  # fmt: skip

    def standing(self, site: OnBody) -> Iterator[Check]:
        yield from self.eye.standing(self._in_eye(site))
        if self.spring is not None:
            yield from self.spring.standing(self._at_spring(site))

    def stays_down(
        self, loads: Sequence[Action], weight: Any, case: LoadCase, factor: Any
    ) -> Check:
        """A load that lifts the peg folds it up: spring and weight alone are against it, or are to be overcome.

        Args:
            loads: what acts on the peg.
            weight: moment of the peg's own weight about its pin [N*mm].
            case: the load case.
            factor: the factor asked for [-].
        """
        if self.gives_way(case):
            return check(
                "peg, folds up before it bears the load", "return", load_case=case.name, unit="N*mm", required=FREELY,
                demand=self._sprung + weight, capacity=self.lifting(loads),
                note="spring and weight alone hold it down; twice that for friction and dirt (common practice, no "
                "source)",
            )  # fmt: skip
        return check(
            "peg on its heel, folded up by the load", "return", load_case=case.name, unit="N*mm", required=factor,
            demand=self.lifting(loads), capacity=self._sprung + weight,
            note="the floor of the fork holds it down, nothing holds it up: name a load that is to fold it in "
            "`folds_under`",
        )  # fmt: skip

    def holds_down(self, weight: Any) -> Iterator[Check]:
        """The spring against bumps.

        Args:
            weight: moment of the peg's own weight about its pin [N*mm].
        """
        if self.spring is not None:
            yield check(
                "folding spring, holds the peg down", "return", load_case="", unit="N*mm", required=1.0,
                demand=(SHAKEN - 1.0) * weight, capacity=self.spring.moment(0.0),
                note="a bump lifts it with twice its weight, which its own weight answers once (common practice, "
                "no source)",
            )  # fmt: skip

    def details(self, site: OnBody, modes: Modes) -> Sequence[Detail]:
        return self.eye.details(self._in_eye(site), modes)

    def clearances(self, site: OnBody) -> Sequence[Clearance]:
        return self.eye.clearances(self._in_eye(site))

    def holding(self, site: OnBody, case: LoadCase) -> Sequence[Acting]:
        return self._held(site.pins(case))

    def supports(self, site: OnBody) -> Sequence[Support]:
        """The bore on its pin, and the lower half of the heel on the floor."""
        from parts.core.supports import Rectangle, Round, Support

        half, r, bore = (
            float(v) for v in (self.eye.width / 2.0, self.eye.rim, self.eye.bore_diameter)
        )
        at = np.asarray(self.pin_at, float)
        heel = at + np.array([-r, 0.0, -float(self.heel)])
        floor = Rectangle(heel, -X, Y, 1.8 * half, 2.0 * (r - float(self.heel)) * 0.9)
        return (
            Support("pin", (Round(at, Y, bore, -half, half),), bore),
            Support("heel", (floor,), 2.0 * r),
        )

    def sprung(self, loads: Sequence[Action], leg: Round) -> Sequence[Applied]:
        """The spring's moment, for finite elements, where its leg lies on the peg; as `unlifted` refuses."""
        from parts.core.supports import Applied

        self.unlifted(loads)
        if self.spring is None:
            return ()
        turn = Action(self.pin_at, np.zeros(3), self._sprung * Y)
        return (Applied("leg of the spring", (leg,), (turn,)),)

    def unlifted(self, loads: Sequence[Action]) -> None:
        """Refuse loads that lift the peg, for finite elements, by `NotProved`."""
        from parts.core.supports import NotProved

        if np.any(self.lifting(loads) > self._sprung):
            raise NotProved("a load lifts the peg, which folds: leave that load case out")

    def facts(self, site: OnBody) -> Mapping[str, tuple[Any, str]]:
        found = {
            **self.eye.facts(self._in_eye(site)),
            "folds up to": (np.degrees(self.folds_to(site.body.width)), "deg"),
            "heel: floor of the fork behind the pin": (self.eye.rim, "mm"),
        }
        return (
            found if self.spring is None else {**found, **self.spring.facts(self._at_spring(site))}
        )

    def breakaway(self, length: Any, weight: Any) -> Mapping[str, tuple[Any, str]]:
        """Force upward on the end that folds the peg [N]; `length` from shoulder to end [mm]."""
        return {
            "folds under, upward on its end": ((self._sprung + weight) / (self.reach + length), "N")
        }

    def bought(self, site: OnBody) -> Sequence[Bought]:
        found = [*self.eye.bought(self._in_eye(site))]
        return (
            found if self.spring is None else [*found, *self.spring.bought(self._at_spring(site))]
        )

    def touching(self, site: OnBody) -> Mapping[str, str]:
        found = dict(self.eye.touching(self._in_eye(site)))
        return (
            found
            if self.spring is None
            else found | dict(self.spring.touching(self._at_spring(site)))
        )

    def cautions(self, site: OnBody) -> Sequence[str]:
        said = [
            "Fit the heel to the floor of the fork with the peg level: its broken edges clear the corner radii of the "
            "throat; file the lower half of its end until it bears."
        ]
        if self.spring is None:
            return said
        long = float(np.max(self.spring.room))
        beside = (
            f"The folding spring sits on the pin outside one ear, on a sleeve {float(np.max(self.spring.about)):g} mm "
            f"outside: it takes {long:.3g} mm of the pin before its nut, and hooks over the ear and under the peg."
        )
        return [*said, beside, *self.spring.cautions(self._at_spring(site))]

    def marks(self, site: OnBody) -> Marks:
        return tongue_marks(self.eye, self.pin_at, self._in_eye(site))

    def join(self, made: cq.Workplane, body: Body) -> cq.Workplane:
        """The tongue before the shoulder, round above the pin and square below it, bored."""
        return tongue_joined(made, body, self.eye, float(self.reach))
