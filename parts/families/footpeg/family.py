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
from parts.core.rules import Rule, at_least, at_most
from parts.core.usual_loads import G_0
from parts.core.ways import Kind
from parts.families.footpeg.bolted import BoltedShank
from parts.families.footpeg.examples import BASE, EXAMPLES
from parts.families.footpeg.grip import Cap, Flats, Knurl, Lip, Teeth, grip_rows
from parts.families.footpeg.tongue import Tongue
from parts.features.section.notches import SHARP, turned_fillet
from parts.features.thread import turned
from parts.features.thread.body import Body, OnBody, flats_rules
from parts.features.thread.male_thread import MaleThread
from parts.features.thread.threaded import DRILL_POINT
from parts.features.thread.turned import Step
from parts.inputs.quantities import NonNegativeLength, PositiveLength
from parts.strength.method import work
from parts.strength.section import bar

if TYPE_CHECKING:
    from parts.core.drawing import Drawn
    from parts.core.loadpath import Notch, Span
    from parts.core.supports import Held

X, Y, Z = np.eye(3)
WALL = 2.5
"""Least wall of a hollow peg [mm]; common practice, no source."""


class Footpeg(Assembled):
    """A footpeg on a bracket."""

    summary: ClassVar[str] = (
        "a turned bar, solid or hollow, on a bracket's boss by thread or bolt, or folding in its fork"
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
    shank: Annotated[MaleThread | BoltedShank | Tongue, Field(discriminator="type")] = Field(
        description="How it is fast: a thread that screws in, a bolt through it, or a tongue that folds in a fork."
    )

    @model_validator(mode="after")
    def _has_one_grip_and_an_end_to_close(self) -> Footpeg:
        if self.knurl is not None and self.teeth is not None:
            raise ValueError("a peg has a knurl or teeth; delete one of them")
        if self.cap is not None and not np.any(np.greater(self.bore, 0.0)):
            raise ValueError("a solid peg needs no cap; delete it, or state `bore`")
        return self

    @property
    def _grip(self) -> tuple[str, Any]:
        """What the grip is called, and how deep its grooves are [mm]; no name without one."""
        if self.teeth is not None:
            return "teeth", self.teeth.depth
        return ("", 0.0) if self.knurl is None else ("knurl", self.knurl.depth)

    def stock_thickness(self) -> Any:
        return self.wide

    @property
    def wide(self) -> Any:
        return self.diameter if self.lip is None else self.lip.diameter

    @property
    def _foot(self) -> Any:
        return 0.7 * self.length if self.foot is None else self.foot

    @property
    def _solid_to(self) -> Any:
        """Where the hole ends, at the tip of its drill's point; flat under the head of a bolt [mm]."""
        point = 0.0 if isinstance(self.shank, BoltedShank) else DRILL_POINT
        return self.length - self.bored - self.bore / 2.0 * point

    @property
    def _core(self) -> Any:
        """Width of what stands on the shoulder [mm]."""
        return self.shank.root if isinstance(self.shank, Tongue) else self.shank.thread.major

    @property
    def through(self) -> Any:
        """Diameter of the hole for a bolt from the hollow to the shoulder; 0 for none [mm]."""
        return self.shank.through if isinstance(self.shank, BoltedShank) else 0.0

    def points(self) -> Mapping[str, Any]:
        return {
            name: np.asarray(x, float)[..., None] * X
            for name, x in (("foot", self._foot), ("end", self.length))
        }

    def rules(self) -> Iterator[Rule]:
        D, L, major = self.diameter, self.length, self._core
        rows = [
            (at_least, "short", "length", L, 1.5 * D, "no foot stands on so short a peg; it looks "
             "like the wrong unit", "lengthen it"),
            (at_most, "long", "length", L, 8.0 * D, "so slender a peg looks like the wrong unit", "check it"),
            (at_most, "foot", "foot", self._foot, L, "the foot would bear beyond the end", "bring it in"),
            (at_most, "break", "edge_break", self.edge_break, D / 10.0, "the chamfers eat the ends", "lessen it"),
        ]  # fmt: skip
        hollow = bool(np.any(np.greater(self.bore, 0.0)))
        least: Any = np.maximum(1.5 * major, 12.0)
        if isinstance(self.shank, Tongue):
            least = 0.5 * np.asarray(D)
        if isinstance(self.shank, BoltedShank):
            least = 0.0 * np.asarray(major)
            yield from self.shank.hollow_rules(self.bore, self._solid_to)
        if hollow:
            rows += [
                (at_most, "wall", "bore", self.bore, D - 2.0 * WALL, "too thin a wall is left (2.5 mm: common "
                 "practice, no source)", "lessen the bore"),
                (at_least, "root", "bored", self._solid_to, least,
                 "the hole comes too near the thread's shoulder (1.5 threads: common practice, no source)",
                 "drill less deep"),
                (at_least, "shallow", "bored", self.bored, 1.0, "the hole has no depth", "state how deep it is"),
            ]  # fmt: skip
        rows += grip_rows(self)
        for kind, code, field, value, limit, why, how in rows:
            yield kind(f"footpeg.{code}", field, value, limit, why, how)
        if self.flats is not None:
            yield from flats_rules(
                "flats", self.flats.across, D, self.flats.length - self.edge_break
            )
            yield at_least("footpeg.flats", "flats.across", self.flats.across, major + 2.0,
                "the flats cut into the shoulder that stands on the bracket", "widen them")  # fmt: skip
            yield at_most("footpeg.flats_long", "flats.length", self.flats.length, self._solid_to,
                "the flats run on over the hole", "shorten the flats, or drill less deep")  # fmt: skip
        yield from self.shank.rules(self._behind)

    @cached_property
    def _behind(self) -> OnBody:
        """The shoulder, on which the shank stands."""
        D, zero = self.diameter, 0.0 * np.asarray(self.diameter, float)
        body = Body(D, D, zero, self._solid_to, self.edge_break, zero, 0.0, zero, forked=False)
        return OnBody(
            field="shank", metal=self.metal, edge_break=self.edge_break, body=body, pins=self._acting,
            actions=self._acting, required=self.factors, loads=self.loads,
        )  # fmt: skip

    def features(self) -> Sequence[Placed]:
        return (Placed(self.shank, self._behind),)

    def kinds(self) -> Sequence[Kind]:
        return [*super().kinds(), *([Kind("knurled bar")] if self._grip[0] else [])]

    def _acting(self, case: LoadCase, only: Sequence[str] | None = None) -> Any:
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
        c, D, L = self.edge_break, self.diameter, self.length
        grip, hollow_grip = self._grooved(0.0), self._grooved(self.bore)
        bolted = isinstance(self.shank, BoltedShank)
        hole = L - self.bored
        through = self.through
        found = [Step("shoulder edge", 0.0 * L, c, D - 2.0 * c, D, bore=through, notch=SHARP)]
        here = c
        if self.flats is not None:
            across, end = self.flats.across, self.flats.length
            found[0] = found[0]._replace(flats=across)
            found.append(Step("flats", here, end, D, flats=across, bore=through, notch=SHARP))
            here = end
        rim = L if self.lip is None else L - self.lip.width - self.lip.fillet
        solid_to = np.minimum(self._solid_to, rim)
        found.append(
            Step(
                "bar",
                here,
                solid_to,
                D,
                bore=through,
                notch=SHARP if bolted and not self._grip[0] else grip,
            )
        )
        if np.any(np.greater(self.bore, 0.0)):
            found.append(
                Step(
                    "hollow bar",
                    solid_to,
                    np.minimum(L - c, rim),
                    D,
                    bore=self.bore,
                    notch=hollow_grip,
                )
            )
        if self.lip is not None:
            r, wide = self.lip.fillet, self.lip.diameter
            bored = np.where(hole < L - self.lip.width - r, self.bore, 0.0)
            found += [
                Step("rim fillet", rim, rim + r, D, D + 2.0 * r, bore=bored, fillet=True,
                    notch=turned_fillet(wide, D, r)),
                Step("rim", rim + r, L - c, wide, bore=bored),
            ]  # fmt: skip
        last = found[-1].diameter
        found.append(Step("end edge", L - c, L, last, last - 2.0 * c, bore=self.bore))
        return found

    def _grooved(self, bore: Any) -> Notch:
        """The grooves of the grip in a bar that is as thick as it was: three times the stress on their bottom."""
        said, deep = self._grip
        if not said:
            return turned.SMOOTH
        whole, left = (
            (wide**4 - np.power(bore, 4)) / wide
            for wide in (self.diameter, self.diameter - 2.0 * deep)
        )
        return SHARP._replace(K_t=SHARP.K_t * whole / left)

    def spans(self) -> Sequence[Span]:
        """The shank, the peg as far as the foot under all loads, and beyond it under those at the end alone."""
        inner = [s._replace(high=np.minimum(s.high, self._foot)) for s in self.steps]
        outer = [
            s._replace(low=np.maximum(s.low, self._foot), name=f"{s.name} beyond the foot")
            for s in self.steps
        ]
        beyond = partial(self._acting, only=["end"])

        def place(x: Any) -> Any:
            return np.asarray(x, float)[..., None] * X

        def along(steps: Sequence[Step], actions: Any) -> list[Span]:
            whole = [s for s in steps if "edge" not in s.name and np.all(np.greater(s.high, s.low))]
            return turned.spans(whole, self.metal, actions, place=place, axes=np.eye(3))

        return [*super().spans(), *along(inner, self._acting), *along(outer, beyond)]

    def modes(self, case: LoadCase) -> Iterator[Check]:
        yield from super().modes(case)
        if isinstance(self.shank, Tongue):
            factor = self.factors(case).on_yield
            loads = point_actions(case, self.points())
            yield self.shank.stays_down(loads, self._weight_moment(), case, factor)
        said, deep = self._grip
        if not said:
            return
        start = self.edge_break if self.flats is None else self.flats.length
        force, moment = resultant(self._acting(case), np.asarray(start, float)[..., None] * X)
        bent = np.hypot(moment[..., 1], moment[..., 2])
        hollow = bool(np.any(np.greater(self.bore, 0.0)))
        D, d = self.diameter - 2.0 * deep, self.bore if hollow else 0.0
        area = np.pi / 4.0 * (np.square(D) - np.square(d))
        modulus = np.pi / 32.0 * (D**4 - np.power(d, 4)) / D
        stress = work(bar.round_tube_stress, A=area, W=modulus, N=force[..., 0],
            V=np.hypot(force[..., 1], force[..., 2]), M=bent, T=moment[..., 0])  # fmt: skip
        for kind, strength, factor in self.factors(case).both(
            self.metal.yield_strength, self.metal.ultimate_strength
        ):
            yield check(f"under the {said}, {kind}", "bending", load_case=case.name, demand=stress, capacity=strength,
                unit="MPa", required=factor, note=f"where the {said} begins, on the bottom of its grooves; hollow all "
                "along if hollow at all")  # fmt: skip

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.core.supports import Applied, Held, NotProved, Round

        if isinstance(self.shank, Tongue) and self.shank.gives_way(case):
            raise NotProved("the peg folds up under this load and bears none of it")
        D, L, at = float(self.diameter), float(self.length), float(self._foot)
        half = min(8.0, L - at, at / 4.0)
        loads = []
        for name, low, high in (
            ("foot", at - half, at + half),
            ("end", L - 3.0 * half, L - 2.0 * half),
        ):
            acting = point_actions(case, self.points(), [name])
            if acting:
                loads.append(Applied(name, (Round(np.zeros(3), X, D, low, high),), acting))
        if isinstance(self.shank, Tongue):
            c = float(self.edge_break if self.flats is None else self.flats.length)
            leg = Round(np.zeros(3), X, D, c, c + 0.2 * D)
            loads += self.shank.sprung(self._acting(case), leg)
        return [Held("part", tuple(self.shank.supports(self._behind)), tuple(loads))]

    def _weight_moment(self) -> Any:
        """Moment of its own weight about the pin that it folds on, [N*mm]."""
        assert isinstance(self.shank, Tongue)
        bar = np.square(self.wide) * self.length * (self.shank.reach + self.length / 2.0)
        hole = np.square(self.bore) * self.bored
        lever = self.shank.reach + self.length - self.bored / 2.0
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
        return {**super().facts(), **folds, "shoulder to where the foot bears": (self._foot, "mm")}

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

        return [peg_drawn(self, self.shank.marks(self._behind))]

    def build(self) -> Sequence[Piece]:
        from parts.shapes.profile import broken_hole, cone, cylinder

        made = turned.solid([s for s in self.steps if np.all(np.greater(s.high, s.low))])
        if self.bore > 0.0:
            d, L, low = float(self.bore), float(self.length), float(self.length - self.bored)
            floor = float(self._solid_to)
            made = made.cut(cylinder(d, low, L + 1.0, "x"))
            made = made.cut(
                broken_hole(float(self.through), 0.0, floor, float(self.edge_break), "x")
                if isinstance(self.shank, BoltedShank)
                else cone(0.0, d, floor, low, "x")
            )
        return [Piece("part", self.metal, self.shank.join(made, self._behind.body))]
