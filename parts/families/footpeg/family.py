"""Footpeg: a turned bar on a bracket's boss by a thread or a bolt, or folding in its fork by a tongue."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property, partial
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.assembled import Assembled, Placed
from parts.core.check import Check, check
from parts.core.freebody import Acting, reacting
from parts.core.loads import Action, LoadCase, point_actions, resultant
from parts.core.part import Bought, Piece
from parts.core.rules import Rule
from parts.core.usual_loads import G_0
from parts.core.ways import Kind
from parts.families.footpeg.bolted import BoltedShank
from parts.families.footpeg.examples import BASE, EXAMPLES
from parts.families.footpeg.grip import Cap, Flats, Knurl, Lip, Teeth
from parts.families.footpeg.plate_tongue import InTube, PlateTongue
from parts.families.footpeg.rules import peg_rules
from parts.families.footpeg.steps import peg_steps
from parts.families.footpeg.tongue import Tongue
from parts.features.thread import turned
from parts.features.thread.body import Body, OnBody
from parts.features.thread.male_thread import MaleThread
from parts.features.thread.threaded import DRILL_POINT
from parts.features.thread.turned import Step
from parts.inputs.quantities import NonNegativeLength, PositiveLength
from parts.standards.materials.materials import Material, material
from parts.standards.stock.stock import Stock, stock
from parts.strength.method import work
from parts.strength.section import bar

if TYPE_CHECKING:
    from parts.core.blank import Blank
    from parts.core.drawing import Drawn
    from parts.core.loadpath import Span
    from parts.core.supports import Held
    from parts.core.weldment import Weldment

X, Y, Z = np.eye(3)


class Footpeg(Assembled):
    """A footpeg on a bracket."""

    summary: ClassVar[str] = (
        "a turned bar on a bracket's boss by thread or bolt, or folding in its fork; a tube on a plate that folds"
    )
    axes: ClassVar[str] = (
        "origin at the shoulder that stands on the bracket; x out along the peg; z up, as it is ridden"
    )
    load_points: ClassVar[Mapping[str, str]] = {"foot": "", "end": ""}
    not_covered: ClassVar[tuple[str, ...]] = (
        "the boss or fork that it stands on, which the bracket checks",
        "a fall onto the end, where no load case states one",
        "what else strikes a peg that has folded",
    )
    example: ClassVar[Mapping[str, Any]] = BASE
    examples: ClassVar[Sequence[Mapping[str, Any]]] = EXAMPLES

    family: Literal["footpeg"] = Field("footpeg", description="A footpeg on a bracket.")
    diameter: PositiveLength = Field(description="Diameter of the peg.")
    length: PositiveLength = Field(description="From the shoulder to the outer end.")
    foot: PositiveLength | None = Field(
        None,
        description="From the shoulder to where the foot bears; seven tenths of the length where left out.",
    )
    bore: NonNegativeLength = Field(
        0.0, description="Hole from the outer end that makes it hollow; 0 for none."
    )
    bored: NonNegativeLength = Field(
        0.0, description="How deep that hole is, to its full diameter."
    )
    flats: Flats | None = Field(None, description="Wrench flats; none where left out.")
    lip: Lip | None = Field(None, description="A rim at the outer end; none where left out.")
    knurl: Knurl | None = Field(None, description="A knurl as a grip; smooth where left out.")
    teeth: Teeth | None = Field(None, description="Teeth as a grip, in place of a knurl.")
    cap: Cap | None = Field(
        None, description="A plug in the hollow end; open, or solid, where left out."
    )
    shank: Annotated[
        MaleThread | BoltedShank | Tongue | PlateTongue, Field(discriminator="type")
    ] = Field(
        description="How it is fast: a thread that screws in, a bolt through it, or a tongue that folds in a fork, of "
        "one piece with it or a plate welded into it."
    )

    @model_validator(mode="after")
    def _has_one_grip_and_an_end_to_close(self) -> Footpeg:
        if self.knurl is not None and self.teeth is not None:
            raise ValueError("a peg has a knurl or teeth; delete one of them")
        if self.cap is not None and not np.any(np.greater(self.bore, 0.0)):
            raise ValueError("a solid peg needs no cap; delete it, or state `bore`")
        if isinstance(self.shank, PlateTongue):
            # Whether both metals are listed as plate and tube, and may be welded.
            self.shank.soft(self.behind.metal, self.in_tube)
        return self

    @property
    def grip(self) -> tuple[str, Any]:
        """What the grip is called, and how deep its grooves are [mm]; no name without one."""
        if self.teeth is not None:
            return "teeth", self.teeth.depth
        return ("", 0.0) if self.knurl is None else ("knurl", self.knurl.depth)

    @property
    def plate(self) -> PlateTongue | None:
        """The plate of a fabricated peg."""
        return self.shank if isinstance(self.shank, PlateTongue) else None

    @property
    def hollow_to(self) -> Any:
        """How deep the hole is from the outer end: all along a tube [mm]."""
        return self.bored if self.plate is None else self.length

    @property
    def bar_metal(self) -> Material:
        """What bar or tube is made of; a tube as its welds leave it."""
        return self.metal if self.plate is None else self.plate.soft(self.metal, self.in_tube)

    def stock_thickness(self) -> Any:
        return self.wide if self.plate is None else (self.diameter - self.bore) / 2.0

    @property
    def wide(self) -> Any:
        return self.diameter if self.lip is None else self.lip.diameter

    @property
    def foot_at(self) -> Any:
        return 0.7 * self.length if self.foot is None else self.foot

    @property
    def solid_to(self) -> Any:
        """Where the hole ends, at the tip of its drill's point; flat under the head of a bolt [mm]."""
        if self.plate is not None:
            return 0.0 * np.asarray(self.length, float)
        point = 0.0 if isinstance(self.shank, BoltedShank) else DRILL_POINT
        return self.length - self.bored - self.bore / 2.0 * point

    @property
    def core(self) -> Any:
        """Width of what stands on the shoulder [mm]."""
        return self.shank.root if isinstance(self.shank, Tongue) else self.shank.thread.major

    @property
    def through(self) -> Any:
        """Diameter of the hole for a bolt from the hollow to the shoulder; 0 for none [mm]."""
        return self.shank.through if isinstance(self.shank, BoltedShank) else 0.0

    def points(self) -> Mapping[str, Any]:
        return {
            name: np.asarray(x, float)[..., None] * X
            for name, x in (("foot", self.foot_at), ("end", self.length))
        }

    def rules(self) -> Iterator[Rule]:
        yield from peg_rules(self)
        yield from self.shank.rules(self.behind)

    @cached_property
    def behind(self) -> OnBody:
        """The shoulder, on which the shank stands."""
        D, zero = self.diameter, 0.0 * np.asarray(self.diameter, float)
        body = Body(D, D, zero, self.solid_to, self.edge_break, zero, 0.0, zero, forked=False)
        given: dict[str, Any] = {
            "field": "shank", "edge_break": self.edge_break, "body": body, "pins": self.acting, "actions": self.acting,
            "required": self.factors, "loads": self.loads,
        }  # fmt: skip
        if self.plate is None:
            return OnBody(metal=self.metal, **given)
        t = float(np.max(self.plate.eye.width))
        of = material(self.material.name, thickness_mm=t, form="plate")
        return InTube(metal=of, bore=self.bore, tube=self.metal, **given)

    @property
    def in_tube(self) -> InTube:
        assert isinstance(self.behind, InTube)
        return self.behind

    def features(self) -> Sequence[Placed]:
        return (Placed(self.shank, self.behind),)

    def kinds(self) -> Sequence[Kind]:
        return [*super().kinds(), *([Kind("knurled bar")] if self.grip[0] else [])]

    def acting(self, case: LoadCase, only: Sequence[str] | None = None) -> Any:
        """What it bears: nothing of a load that folds it up."""
        if isinstance(self.shank, Tongue) and self.shank.gives_way(case):
            return [Action(np.zeros(3), np.zeros(3))]
        return point_actions(case, self.points(), only)

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        if not (isinstance(self.shank, Tongue) and self.shank.gives_way(case)):
            return super().holding(case)
        all_of_it = resultant(point_actions(case, self.points()), np.zeros(3))
        return [reacting("what strikes after the peg has folded", np.zeros(3), all_of_it)]

    @cached_property
    def steps(self) -> list[Step]:
        """Every turned step from the shoulder to the outer end."""
        return peg_steps(self)

    def spans(self) -> Sequence[Span]:
        """The shank, the peg as far as the foot under all loads, and beyond it under those at the end alone."""
        low = 0.0 if self.plate is None else self.plate.slotted_to
        piece = "part" if self.plate is None else "tube"
        inner = [
            s._replace(low=np.maximum(s.low, low), high=np.minimum(s.high, self.foot_at))
            for s in self.steps
        ]
        outer = [
            s._replace(low=np.maximum(s.low, self.foot_at), name=f"{s.name} beyond the foot")
            for s in self.steps
        ]
        beyond = partial(self.acting, only=["end"])

        def place(x: Any) -> Any:
            return np.asarray(x, float)[..., None] * X

        def along(steps: Sequence[Step], actions: Any) -> list[Span]:
            whole = [s for s in steps if "edge" not in s.name and np.all(np.greater(s.high, s.low))]
            of = self.bar_metal
            return turned.spans(whole, of, actions, place=place, axes=np.eye(3), piece=piece)

        return [*super().spans(), *along(inner, self.acting), *along(outer, beyond)]

    def modes(self, case: LoadCase) -> Iterator[Check]:
        yield from super().modes(case)
        if isinstance(self.shank, Tongue):
            factor = self.factors(case).on_yield
            loads = point_actions(case, self.points())
            yield self.shank.stays_down(loads, self._weight_moment(), case, factor)
        said, deep = self.grip
        if not said:
            return
        start = self.edge_break if self.flats is None else self.flats.length
        of = self.bar_metal
        force, moment = resultant(self.acting(case), np.asarray(start, float)[..., None] * X)
        bent = np.hypot(moment[..., 1], moment[..., 2])
        hollow = bool(np.any(np.greater(self.bore, 0.0)))
        D, d = self.diameter - 2.0 * deep, self.bore if hollow else 0.0
        area = np.pi / 4.0 * (np.square(D) - np.square(d))
        modulus = np.pi / 32.0 * (D**4 - np.power(d, 4)) / D
        stress = work(bar.round_tube_stress, A=area, W=modulus, N=force[..., 0],
            V=np.hypot(force[..., 1], force[..., 2]), M=bent, T=moment[..., 0])  # fmt: skip
        for kind, strength, factor in self.factors(case).both(
            of.yield_strength, of.ultimate_strength
        ):
            yield check(f"under the {said}, {kind}", "bending", load_case=case.name, demand=stress, capacity=strength,
                unit="MPa", required=factor, note=f"where the {said} begins, on the bottom of its grooves; hollow all "
                "along if hollow at all")  # fmt: skip

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.families.footpeg.supports import peg_held

        return peg_held(self, case)

    def _weight_moment(self) -> Any:
        """Moment of its own weight about the pin that it folds on, [N*mm]."""
        assert isinstance(self.shank, Tongue)
        bar = np.square(self.wide) * self.length * (self.shank.reach + self.length / 2.0)
        hole = np.square(self.bore) * self.hollow_to
        lever = self.shank.reach + self.length - self.hollow_to / 2.0
        return self.metal.density * G_0 * np.pi / 4.0 * (bar - hole * lever)

    def standing(self) -> Iterator[Check]:
        yield from super().standing()
        if isinstance(self.shank, Tongue):
            yield from self.shank.holds_down(self._weight_moment())

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        folds = (
            self.shank.breakaway(self.length, self._weight_moment())
            if isinstance(self.shank, Tongue)
            else {}
        )
        return {
            **super().facts(),
            **folds,
            "shoulder to where the foot bears": (self.foot_at, "mm"),
        }

    def bought(self) -> Sequence[Bought]:
        if self.cap is None:
            return super().bought()
        wide, long = float(np.max(self.bore)), float(np.max(self.cap.length))
        plug = Bought(
            f"end plug, plastic, for a hole of {wide:g} mm, {long:g} mm long", 1, "end of the peg"
        )
        return [*super().bought(), plug]

    def cautions(self) -> Sequence[str]:
        return [
            *super().cautions(),
            "Lock the thread, with a compound or a bolt from behind: a peg that turns out drops the foot."
            if isinstance(self.shank, MaleThread)
            else "Look at the pin and what keeps it before every ride: without it the peg drops the foot."
            if isinstance(self.shank, Tongue)
            else "Tighten the peg's bolt with thread locker, and look at it before every ride: the foot rocks it.",
            "Round the outer end where rules ask it; a peg that does not fold digs in when the machine leans or falls.",
        ]

    def drawn(self) -> Sequence[Drawn]:
        from parts.families.footpeg.drawing import peg_drawn

        if self.plate is None:
            return [peg_drawn(self, self.shank.marks(self.behind))]
        from parts.families.footpeg.fabricated import plate_drawn, slot_marks

        tube = peg_drawn(self, slot_marks(self.plate, float(self.diameter)))
        return [tube, plate_drawn(self.plate, self.plate._in_eye(self.behind))]

    def blanks(self) -> Sequence[Blank]:
        if self.plate is None:
            return ()
        from parts.families.footpeg.fabricated import plate_blank

        return [plate_blank(self.plate)]

    def weldment(self) -> Weldment | None:
        if self.plate is None:
            return None
        from parts.families.footpeg.fabricated import peg_weldment

        return peg_weldment(
            self.plate, float(self.diameter), float(self.length), self.material.name
        )

    def cut_from(self, piece: str) -> Stock | None:
        if piece != "tube":
            return None
        wall = float(self.diameter - self.bore) / 2.0
        return stock(f"{float(self.diameter):.6g} x {wall:.6g} mm", shape="round tube")

    def build(self) -> Sequence[Piece]:
        from parts.shapes.profile import broken_hole, cone, cylinder

        made = turned.solid([s for s in self.steps if np.all(np.greater(s.high, s.low))])
        if self.plate is not None:
            from parts.families.footpeg.fabricated import plate_solid, slotted

            tube = made.cut(cylinder(float(self.bore), -1.0, float(self.length) + 1.0, "x"))
            plate = plate_solid(self.plate, float(self.edge_break))
            return [
                Piece("tube", self.metal, slotted(tube, self.plate, float(self.diameter))),
                Piece("plate", self.in_tube.metal, plate),
            ]
        if self.bore > 0.0:
            d, L, low = float(self.bore), float(self.length), float(self.length - self.bored)
            floor = float(self.solid_to)
            made = made.cut(cylinder(d, low, L + 1.0, "x"))
            made = made.cut(
                broken_hole(float(self.through), 0.0, floor, float(self.edge_break), "x")
                if isinstance(self.shank, BoltedShank)
                else cone(0.0, d, floor, low, "x")
            )
        return [Piece("part", self.metal, self.shank.join(made, self.behind.body))]
