"""Clevis: two ears with a throat, on a shank that screws, plugs, bolts or welds to what it serves."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.assembled import Assembled, Placed
from parts.core.check import Check
from parts.core.loadpath import Span
from parts.core.loads import Action, LoadCase, point_actions, resultant
from parts.core.part import Piece
from parts.core.refusing import BrokenRules
from parts.core.rules import Rule, at_most, none_or_at_least
from parts.core.ways import Kind
from parts.families.clevis.foot import Foot
from parts.families.clevis.leaning import Leaning
from parts.families.clevis.pad import Pad
from parts.families.clevis.spigot import Spigot
from parts.features.bolts.hardware import galvanic_cautions, matching
from parts.features.fork.ball import UNKNOWN, friction_actions
from parts.features.fork.fork import Ears, InFork
from parts.features.fork.rules import FINEST
from parts.features.fork.stability import slender
from parts.features.fork.throat import RodEndThroat
from parts.features.press.pressed import coating_facts
from parts.features.section.outlines import chamfered
from parts.features.thread.body import Body, OnBody
from parts.features.thread.female_thread import FemaleThread
from parts.features.thread.male_thread import MaleThread
from parts.features.weld.softened import within_reach
from parts.inputs.document import dotted
from parts.inputs.quantities import Angle, NonNegativeLength, NonNegativeRatio
from parts.standards.materials.materials import Material
from parts.strength.section.outline import Outline

if TYPE_CHECKING:
    from parts.core.drawing import Drawn
    from parts.core.feature import Feature
    from parts.core.supports import Held
    from parts.core.weldment import Weldment

    _: tuple[type[Feature[OnBody]], ...] = (MaleThread, FemaleThread, Spigot, Pad, Foot)

Shank = Annotated[MaleThread | FemaleThread | Spigot | Pad | Foot, Field(discriminator="type")]


class Clevis(Assembled):
    """A clevis."""

    summary: ClassVar[str] = "two ears and a pin on a threaded, plugged, bolted or welded shank"
    axes: ClassVar[str] = (
        "origin in the middle of the pin; x along the shank, from the shank toward the pin (a pull on "
        "the pin is "
        "+x); z along the pin; y across the ears"
    )
    load_points: ClassVar[Mapping[str, str]] = {"pin": ""}
    not_covered: ClassVar[tuple[str, ...]] = (
        "fretting of pin, bush and bore",
        "wear of pin, bush and bore",
        "impact beyond the stated load cases",
        "bending of the throat's floor over a pad or a foot, which back it from side to side",
        "fatigue of a tube's wall under a foot; its static strength is checked",
        "column buckling of what the clevis ends",
        "the jam nut of a male thread: its bite, and what it adds to the thread",
    )
    example: ClassVar[Mapping[str, Any]] = {
        "family": "clevis",
        "name": "HC-100",
        "title": "Strut clevis",
        "material": "4130 normalized",
        "edge_break": "0.5 mm",
        "root_fillet": "1.5 mm",
        "ears": {
            "thickness": "6 mm",
            "width": "22 mm",
            "nose": "round",
            "depth": "22 mm",
            "corner": "2 mm",
            "floor_thickness": "8 mm",
            "throat": {"type": "rod end", "rod_end": "3/8-24 male", "spacer": "1 mm"},
            "pin": {
                "diameter": "3/8 in",
                "material": "4130 Q&T 125 ksi",
                "hole": {"type": "reamed", "fit": "H7"},
            },
        },
        "shank": {
            "type": "male thread",
            "thread": "7/16-20 UNF",
            "length": "28 mm",
            "engagement": "16 mm",
            "neck": {"diameter": "17 mm", "length": "11 mm", "flats": "14 mm"},
        },
        "loads": [
            {"name": "pull", "forces": [{"at": "pin", "force": {"x": "5 kN"}}]},
            {"name": "push with side load", "forces": [{"at": "pin", "force": ["-3 kN", "150 N", "0 N"]}]},
        ],
    }  # fmt: skip

    family: Literal["clevis"] = Field("clevis", description="Two ears and a pin on a shank.")
    ears: Ears = Field(description="The ears, their throat and their pin.")
    shank: Shank = Field(description="How the body is fixed to what it serves.")
    clocking: Angle = Field(
        0.0, description="Turn of the shank about x against the ears, from y toward z."
    )
    root_fillet: NonNegativeLength = Field(
        2.0, description="Fillet where shank or pad leaves the body; 0 leaves it sharp."
    )
    friction: NonNegativeRatio = Field(
        UNKNOWN,
        description="Greatest friction of the ball in its race, or of the pin in its blade, as the joint swings.",
    )

    def points(self) -> Mapping[str, Any]:
        return {"pin": np.zeros(3)}

    def stock_thickness(self) -> Any:
        return np.maximum(self.ears.width, self.ears.height)

    @property
    def body(self) -> Body:
        """The back of the body, on which the shank stands."""
        ears = self.ears
        fillet = self.root_fillet if self.shank.filleted else 0.0
        return Body(
            ears.width, ears.height, ears.back, ears.floor_thickness, self.edge_break, fillet, self.clocking,
            2.0 * ears.middle,
        )  # fmt: skip

    @property
    def softened(self) -> bool:
        fillet = isinstance(self.shank, Pad) and bool(self.root_fillet > 0.0)
        return fillet or bool(self.edge_break > 0.0)

    @model_validator(mode="after")
    def _can_be_welded_where_it_is(self) -> Clevis:
        if isinstance(self.shank, Spigot | Foot):
            self.shank.soft(self.metal)
            for metal, thickness in self.shank.welds():
                metal.beside_weld(self.shank.filler, thickness)
        return self

    @model_validator(mode="after")
    def _takes_no_moment_that_its_joint_leaves_free(self) -> Clevis:
        ball = isinstance(self.ears.throat, RodEndThroat)
        why = (
            "a ball turns freely every way, so a rod end hands on no moment"
            if ball
            else "a blade turns freely about its pin, so it hands on no moment about z"
        )
        wrong = [
            matching(
                "clevis.free", dotted(("loads", i, "forces", k, "moment")), False, why,
                "leave it out; what turns the part must come as a force, or another part carries it",
            )
            for i, case in enumerate(self.loads)
            for k, load in enumerate(case.stated()["forces"])
            if any(load.moment if ball else load.moment[2:])
        ]  # fmt: skip
        if wrong:
            raise BrokenRules(wrong)
        return self

    def rules(self) -> Iterator[Rule]:
        yield from self.ears.rules(InFork("ears", self.material, edge_break=self.edge_break))
        yield none_or_at_least(
            "clevis.fine_fillet", "root_fillet", self.root_fillet, FINEST, "no shop makes a fillet this fine",
            "enlarge the root fillet, or state 0 for a sharp root",
        )  # fmt: skip
        yield at_most(
            "clevis.fillet", "root_fillet", self.root_fillet, np.minimum(10.0, self.ears.floor_thickness - 1.0),
            "the root fillet is larger than the metal behind the throat", "lessen the root fillet",
        )  # fmt: skip
        yield from self.shank.rules(self._under_shank)

    @cached_property
    def _under_shank(self) -> OnBody:
        """Where the shank stands."""
        return OnBody(
            field="shank", metal=self.metal, edge_break=self.edge_break, body=self.body, pins=self._pins,
            actions=self._on_shank, reversing=self._rubbing, required=self.factors,
        )  # fmt: skip

    @cached_property
    def _leaning(self) -> Leaning:
        """Body and shank as a column."""
        shank = self.shank
        metal = shank.soft(self.metal) if isinstance(shank, Spigot | Foot) else self.metal
        alone = replace(self._under_shank, actions=self._acting)
        stretches = [self._block(self.metal, self._acting), *self.shank.spans(alone)]
        return Leaning(stretches, metal.yield_strength)

    def _on_shank(self, case: LoadCase) -> Sequence[Action]:
        """What acts on body and shank: with what a push adds as it leans them over."""
        actions = self._acting(case)
        return (*actions, self._leaning.more(actions, self.factors(case).on_ultimate))

    @cached_property
    def _under_ears(self) -> InFork:
        """Where the ears stand."""
        ears = self.ears
        return InFork(
            field="ears", metal=self._metal_at(ears.pin.bore / 2.0), edge_break=self.edge_break,
            root=self._metal_at(ears.depth), floor=self._metal_at(self.body.back), backed=self.shank.backs(self.body),
            open_back=not self.shank.backs_ears, actions=self._acting, required=self.factors,
            loads=self.loads,
        )  # fmt: skip

    def _metal_at(self, behind_pin: Any) -> Material:
        """The metal at a distance behind the pin: softened where a weld is near."""
        if not isinstance(self.shank, Spigot | Foot):
            return self.metal
        weld = self.shank.weld_at(self.body)
        return within_reach(self.metal, self.shank.soft(self.metal), weld - behind_pin)

    def _acting(self, case: LoadCase) -> Sequence[Action]:
        """What acts at the pin: the loads, and the friction of what swings under them."""
        return (*self._pins(case), *self._rubbing(case))

    def _pins(self, case: LoadCase) -> Sequence[Action]:
        return point_actions(case, self.points())

    def _rubbing(self, case: LoadCase) -> Sequence[Action]:
        return friction_actions(self.ears, self.friction, self._pins(case))

    def features(self) -> Sequence[Placed]:
        return (Placed(self.ears, self._under_ears), Placed(self.shank, self._under_shank))

    def spans(self) -> Sequence[Span]:
        return [*super().spans(), self._block(self._metal_at(self.body.back), self._on_shank)]

    def kinds(self) -> Sequence[Kind]:
        return [*super().kinds(), Kind("slender shank", "shank")]

    def modes(self, case: LoadCase) -> Iterator[Check]:
        yield from super().modes(case)
        push = np.maximum(-resultant(self._acting(case), np.zeros(3))[0][..., 0], 0.0)
        yield self._leaning.check(push, case.name, self.factors(case))

    def _block(self, metal: Material, actions: Any) -> Span:
        """The body between the floor of the throat and what it stands on."""
        body, c = self.body, self.edge_break
        start, end = self.ears.depth + c, self.shank.body_end(body)

        def outline(t: Any) -> Outline:
            return chamfered(body.width + 0.0 * np.asarray(t), body.height, c)

        def at(x: Any) -> Any:
            return np.stack(np.broadcast_arrays(-np.asarray(x, float), 0.0, 0.0), axis=-1)

        return Span(
            "body", at(start), at(end), np.eye(3), outline, actions, metal, "part", 5,
            self.shank.body_notch(body, start), reversing=self._rubbing,
        )  # fmt: skip

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.core.supports import Held

        loads = tuple(self.ears.applied(self._under_ears, case))
        supports = tuple(self.shank.supports(self._under_shank))
        return [Held("part", supports, loads, slender=bool(slender(self.ears)))]

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        return {**super().facts(), **coating_facts(self.finish, self.metal)}

    def cautions(self) -> Sequence[str]:
        return [*super().cautions(), *galvanic_cautions(self.metal, self.touching())]

    def drawn(self) -> Sequence[Drawn]:
        from parts.features.fork.sheet import fork_drawn

        return [fork_drawn(self.ears, self._under_ears, self.shank, self._under_shank)]

    def weldment(self) -> Weldment | None:
        if not isinstance(self.shank, Spigot | Foot):
            return None
        from parts.families.clevis.weldment import foot_weldment, spigot_weldment

        if isinstance(self.shank, Spigot):
            return spigot_weldment(self.shank, self._under_shank)
        return foot_weldment(self.shank, self._under_shank)

    def build(self) -> Sequence[Piece]:
        body, shank = self.body, self.shank
        back = shank.fork_back(body)
        fork = self.ears.solid(float(self.edge_break), back, open_back=shank.open_back)
        return [Piece("part", self.metal, shank.join(fork, body))]
