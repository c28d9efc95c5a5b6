"""Coped tube: a straight tube, round or rectangular, between two points of a frame, its ends cut to its neighbours."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property, partial
from typing import TYPE_CHECKING, Any, ClassVar, Literal

import numpy as np
from pydantic import Field

from parts.core.assembled import Placed
from parts.core.check import Check, check
from parts.core.freebody import Acting, reacting
from parts.core.loadpath import Notch, Span, smooth
from parts.core.loads import Action, ByCase, LoadCase, point_actions, resultant
from parts.core.part import Piece
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.coped_tube.neighbour import AtSaddle, Bears
from parts.families.coped_tube.on_box import OntoBox
from parts.families.coped_tube.saddle import Onto, weldable
from parts.families.coped_tube.shape import TubeShape, X, on_axis
from parts.features.section.notches import same
from parts.features.weld.softened import REACH, welded
from parts.standards.materials.materials import Material
from parts.strength.columns import column, link
from parts.strength.method import Worked, plain, work
from parts.strength.vectors import cross

if TYPE_CHECKING:
    from parts.core.drawing import Drawn
    from parts.core.supports import Held, Patch
    from parts.core.weldment import Weldment

SLENDEREST = 200.0
"""Slenderness that AISC 360-16, E2, advises not to pass under a push [-]."""
AT_END = 1.3
"""Peak over the tube's own stress where a stiff neighbour holds its coped end [-]: what Efthymiou's formula for the
tube leaves of a rigid one; `tube_joint` counts the neighbour's wall beside."""

BASE = {
    "family": "coped tube", "name": "HC-114", "title": "seat stay", "material": "4130 normalized", "form": "tube",
    "tube": "1 in x 0.065 in", "length": "320 mm",
    "a": {"type": "coped", "tube": "1-1/4 in x 0.083 in", "angle": "60 deg", "leg": "3 mm"},
    "b": {"type": "coped", "tube": "1-1/4 in x 0.083 in", "angle": "75 deg", "turn": "180 deg"},
    "loads": [{"name": "landing", "forces": [{"at": "b", "force": ["-4 kN", "60 N", 0]}]}],
}  # fmt: skip


THIN = 0.05
"""Wall over diameter below which `round_bar_hole` gives no number [-]: its bores reach to 0.9 of the diameter."""


class CopedTube(TubeShape):
    """A straight tube whose ends are cut to the tubes that it meets."""

    summary: ClassVar[str] = (
        "a straight round or rectangular tube between two points of a frame, its ends coped or sawn to its neighbours"
    )
    axes: ClassVar[str] = (
        "origin at the point of end a, where the centre lines meet or pass; x along the tube to end b"
    )
    load_points: ClassVar[Mapping[str, str]] = {"b": "", "middle": ""}
    not_covered: ClassVar[tuple[str, ...]] = (
        "the other tubes beyond the wall under the ends", "the wall under what hangs on its middle",
        "distortion and residual stress of welding", "own weight and vibration of the tube",
    )  # fmt: skip
    example: ClassVar[Mapping[str, Any]] = BASE
    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        BASE,
        BASE | {
            "title": "cross tube", "length": "240 mm", "vent": {"at": "48 mm"},
            "b": {"type": "coped", "tube": "1-1/4 in x 0.083 in"},
            "a": {"type": "coped", "tube": "1-1/4 in x 0.083 in", "offset": "2 mm",
                "beside": [{"tube": "1 in x 0.065 in", "angle": "45 deg", "turn": "90 deg"}]},
            "loads": [{"name": "boot", "forces": [{"at": "middle", "force": [0, "200 N", "-300 N"]}],
                "spectrum": [{"cycles": 2000}], "ratio": 0}],
        },
        BASE | {
            "title": "strut on a box", "length": "260 mm",
            "a": {"type": "on a box", "tube": "40 x 40 x 3 mm", "angle": "60 deg", "leg": "3 mm"},
            "b": {"type": "on a box", "tube": "50 x 40 x 3 mm", "offset": "2 mm"},
            "loads": [{"name": "strut pushed", "forces": [{"at": "b", "force": ["-2 kN", "20 N", 0]}],
                "spectrum": [{"cycles": 2000}], "ratio": 0}],
        },
        BASE | {
            "title": "leg of rectangular tube", "length": "260 mm", "tube": "40 x 25 x 2 mm", "vent": {"at": "80 mm"},
            "a": {"type": "on a box", "tube": "50 x 50 x 3 mm", "angle": "70 deg"},
            "b": {"type": "coped", "tube": "60 x 3 mm", "turn": "90 deg"},
            "loads": [{"name": "wheel aside", "forces": [{"at": "b", "force": ["-1.5 kN", "20 N", "40 N"]}],
                "spectrum": [{"cycles": 2000}], "ratio": 0}],
        },
        BASE | {
            "title": "outrigger", "length": "120 mm", "b": {"type": "square"},
            "a": {"type": "coped", "tube": "1-1/2 in x 0.095 in", "angle": "100 deg", "leg": "3 mm"},
            "loads": [{"name": "guard hit", "forces": [{"at": "b", "force": [0, 0, "300 N"]}]}],
        },
    )  # fmt: skip

    family: Literal["coped tube"] = Field(
        "coped tube", description="A tube coped to its neighbours."
    )

    def rules(self) -> Iterator[Rule]:
        hollow = self.hollow
        yield (known := weldable("material", self.metal))
        if not known.ok:
            return
        for one in self.features():
            yield from one.feature.rules(one.site)
        low, high = self.full
        slender = (
            self._effective * self.length / np.sqrt(self.section.I2 / np.asarray(self.section.area))
        )
        welded_b = float(not self.fast_at_both or isinstance(self.b, Onto))
        rows = (
            (at_least, "short", "length", high - low, hollow.largest, "no whole tube is left between the cuts "
             "(one diameter: common practice, no source)", "lengthen it", "mm"),
            (at_most, "slender", "length", slender, SLENDEREST, "so slender a tube is no strut (AISC 360-16, E2); "
             "it looks like the wrong unit", "choose a larger tube, or check its units", ""),
            (at_most, "thin", "tube", hollow.slack, 50.0 if hollow.round else 35.0, "no standard covers the weld of so "
             "thin a wall (EN 1993-1-8, 7.1.2 and Table 7.8)", "choose a thicker wall", ""),
            (at_least, "held", "held_by", welded_b, 1.0, "end b is not welded and holds nothing",
             "say `held_by: end a`, or cope end b", ""),
            (at_most, "bow", "bow", self.out_of_straight, self.length / 100.0, "so crooked a tube is straightened "
             "first", "check it", "mm"),
        )  # fmt: skip
        for kind, code, field, value, limit, why, how, unit in rows:
            yield kind(f"coped_tube.{code}", field, value, limit, why, how, unit)
        if self.vent is not None:
            yield from self.vent.rules(hollow, low, self.length / 2.0)

    @property
    def _effective(self) -> float:
        """Effective length over the length: hinged at both ends, or free at b."""
        return column.PINNED if self.fast_at_both else column.CANTILEVER

    @cached_property
    def _soft(self) -> Material:
        thin = float(np.max(self.size[1]))
        fillers = {one.filler for one in (self.a, self.b) if isinstance(one, Onto)}
        return min((welded(self.metal, one, thin) for one in fillers), key=_yields)

    @cached_property
    def _answered(self) -> ByCase[Action]:
        """What end b answers to a load at the middle: by statics of a beam on two hinges; nothing along the tube."""

        def answer(case: LoadCase) -> Action:
            points = self.points()
            moment = resultant(point_actions(case, points, ["middle"]), np.zeros(3))[1]
            force = cross(X, moment) / np.asarray(self.length, float)[..., None]
            return Action(points["b"], force if self.fast_at_both else 0.0 * force)

        return ByCase(answer)

    def _beyond(self, case: LoadCase, half: float) -> Sequence[Action]:
        """What acts on the b side of a section before (half 0) or behind (half 1) the middle."""
        names = ["b"] if half else ["b", "middle"]
        return [*point_actions(case, self.points(), names), self._answered(case)]

    def spans(self) -> Sequence[Span]:
        low, high = self.full
        middle = self.length / 2.0
        soft_a = np.minimum(low + REACH, middle)
        soft_b = np.maximum(high - REACH, middle) if isinstance(self.b, Onto) else high
        ends, plain = same(Notch(AT_END, np.inf)), smooth
        rows = (
            ("tube near end a", low, soft_a, self._soft, 0.0, ends),
            ("tube", soft_a, middle, self.metal, 0.0, plain),
            ("tube behind the middle", middle, soft_b, self.metal, 1.0, plain),
            ("tube near end b", soft_b, high, self._soft, 1.0, ends),
        )
        return [
            Span(
                name, on_axis(start), on_axis(end), np.eye(3), self.ring, partial(self._beyond, half=half), metal,
                "part", 3, notch,
            )
            for name, start, end, metal, half, notch in rows
            if np.any(np.greater(end, start))
        ] + list(self._beside_vent())  # fmt: skip

    def _beside_vent(self) -> Iterator[Span]:
        """Where the vent leaves less of the tube, whose metal counts as softened there."""
        if self.vent is None:
            return
        low, high, section, notch = self.hollow.beside_vent(self.vent.diameter, self.vent.at)
        yield Span(
            "vent hole", on_axis(low), on_axis(high), np.eye(3), section, partial(self._beyond, half=0.0), self._soft,
            "part", 9, same(notch),
        )  # fmt: skip

    def features(self) -> Sequence[Placed]:
        ends = (("end a", self.a, 1.0), ("end b", self.b, -1.0))
        return [
            Placed(one, self._site(name, one, way))
            for name, one, way in ends
            if isinstance(one, Onto)
        ]

    def _site(self, name: str, one: Onto, way: float) -> AtSaddle:
        return AtSaddle(
            field=name[-1], metal=self.metal, name=name, required=self.factors, tube=self.hollow, soft=self._soft,
            bears=partial(self._bears, one=one, way=way),
        )  # fmt: skip

    def _bears(self, case: LoadCase, one: Onto, way: float) -> Bears:
        """What an end bears, the greater of its point and where the tube begins to be whole.

        Ends that hold the tube against a load at its middle bear besides what they would as fixed ones.
        """
        axes = one.frame(way)
        at = (0.0 * self.length, self.full[0]) if way > 0.0 else (self.length, self.full[1])
        actions, grown = self._beyond(case, 0.0 if way > 0.0 else 1.0), self._growth(case)
        found = []
        for x in at:
            force, moment = (
                (axes @ np.asarray(v)[..., None])[..., 0] for v in resultant(actions, on_axis(x))
            )
            cos, sin = np.cos(one.angle), np.sin(one.angle)
            found.append((force[..., 0], np.hypot(force[..., 1], force[..., 2]),
                force[..., 0] * sin - force[..., 1] * cos, moment[..., 2], moment[..., 1], moment[..., 0]))  # fmt: skip
        N, V, square, along, across, T = (
            np.maximum(np.abs(p), np.abs(q)) for p, q in zip(*found, strict=True)
        )
        fixed = self._fixed(case)
        return Bears(N, V, square, (along + fixed) * grown, (across + fixed) * grown, T)

    def _fixed(self, case: LoadCase) -> Any:
        """Moment at fixed ends under what acts at the middle: F L/8, and half of a couple [N*mm]."""
        if not self.fast_at_both:
            return 0.0
        middle = self.points()["middle"]
        force, moment = resultant(point_actions(case, self.points(), ["middle"]), middle)
        aside = np.hypot(force[..., 1], force[..., 2]) * self.length / 8.0
        return aside + np.hypot(moment[..., 1], moment[..., 2]) / 2.0

    def _push(self, case: LoadCase) -> Any:
        """Largest compression along the tube [N]."""
        pulls = [resultant(self._beyond(case, half), np.zeros(3))[0][..., 0] for half in (0.0, 1.0)]
        return np.maximum(0.0, -np.minimum(*pulls))

    @cached_property
    def _euler(self) -> Worked:
        long = self._effective * self.length
        return work(column.euler_load, E=self.metal.E, I_min=self.section.I2, L=long)

    def _growth(self, case: LoadCase) -> Any:
        """By how much a push makes any bending grow, as large as the tube is to bear it [-]."""
        push = self._push(case)
        n = column.borne_before(push, plain(self._euler), self.factors(case).on_ultimate)
        return work(column.couples_moment, M_0=1.0, P=push, P_E=self._euler, n=n).value

    def modes(self, case: LoadCase) -> Iterator[Check]:
        yield from super().modes(case)
        required, m, s = self.factors(case), self.metal, self.section
        on = partial(check, load_case=case.name)
        push = self._push(case)
        ends = "hinged at both ends" if self.fast_at_both else "free at end b"
        if np.any(push > 0.0):
            yield on("tube, buckling", "column buckling", demand=push, unit="N", required=required.on_ultimate,
                capacity=work(column.johnson_euler_load, E=m.E, A=s.area, I_min=s.I2, F_cy=m.yield_strength,
                    L=self._effective * self.length), note=f"taken as {ends}")  # fmt: skip
        metal = self._soft if not self.fast_at_both else m
        yield on("tube, pushed and bent", "column bending", capacity=metal.yield_strength, unit="MPa",
            demand=self._bent(case, push, required.on_yield), required=required.on_yield,
            note=f"with its bow, {ends}, bent as far as the push times the required factor bends it; ends are checked "
            "beside their welds")  # fmt: skip
        yield on("tube wall wrinkling", "local buckling", unit="MPa", required=required.on_ultimate,
            demand=self._bent(case, push, required.on_ultimate),
            capacity=self.hollow.folds(metal))  # fmt: skip

    def _bent(self, case: LoadCase, push: Any, n: float) -> Worked:
        """Largest compressive stress away from the ends, or all along where it is free at b [MPa], grown by the push as
        `n` times the load grows it."""
        s, times = self.section, column.borne_before(push, plain(self._euler), n)
        middle = on_axis(self.length / 2.0 if self.fast_at_both else 0.0 * self.length)
        M = self.hollow.bent(resultant(self._beyond(case, 0.0), middle)[1])
        grown = work(column.couples_moment, M_0=M, P=push, P_E=self._euler, n=times)
        bow = work(column.bow_moment, P=push, a=self.out_of_straight, P_E=self._euler, n=times)
        return work(link.pushed_and_bent_stress, P=push, A=s.area, M_1=grown, M_2=bow,
            W=self.hollow.modulus)  # fmt: skip

    def kinds(self) -> Sequence[Kind]:
        pushed = any(np.any(self._push(case) > 0.0) for case in self.loads)
        stays = {} if pushed else {"buckles": "no load case pushes it"}
        return [*super().kinds(), Kind("column", left_out=stays), Kind("thin tube")]

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        zero, answer = np.zeros(3), self._answered(case)
        held = [reacting("weld at end a", zero, resultant(self._beyond(case, 0.0), zero))]
        if self.fast_at_both:
            held.append(
                reacting("weld at end b", answer.at, (-answer.force, -np.asarray(answer.moment)))
            )
        return held

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.core.supports import Along, Applied, Held, Support

        outside, wall = (float(v) for v in self.size)
        low, high = (float(v) for v in self.full)
        foot = Support("weld at end a", (Along(self.edge(0, wall / 2.0), 2.0 * wall),), wall)
        # The flats of a rectangular tube would leave its corners to bear nothing.
        far: tuple[Patch, ...] = (Along(self.edge(1, wall / 2.0), 2.0 * wall),)
        if self.hollow.round:
            far = self._outside(high - outside / 4.0, high)
        beyond = [*point_actions(case, self.points(), ["b"]), self._answered(case)]
        loads = [Applied("end b", far, tuple(beyond))]
        middle = point_actions(case, self.points(), ["middle"])
        if middle:
            at = (low + high) / 2.0
            loads.append(
                Applied("middle", self._outside(at - outside / 4.0, at + outside / 4.0), middle)
            )
        return [Held("part", (foot,), tuple(loads))]

    def _outside(self, low: float, high: float) -> tuple[Patch, ...]:
        """The outside of the tube between two places along it [mm]: of a rectangular one its four flats."""
        from parts.core.supports import Rectangle, Round

        one = self.hollow
        if one.round:
            return (Round(np.zeros(3), X, float(one.wide), low, high),)
        sides = (
            (np.array([0.0, 1.0, 0.0]), one.wide, one.deep),
            (np.array([0.0, 0.0, 1.0]), one.deep, one.wide),
        )
        return tuple(
            Rectangle(X * (low + high) / 2.0 + way * float(off) / 2.0 * n, way * n, X, high - low, float(wide))
            for n, off, wide in sides
            for way in (1.0, -1.0)
        )  # fmt: skip

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        low, high = self.full
        found: dict[str, tuple[Any, str]] = {
            "cut length": (self.cut_long, "mm"),
            "whole all round": (high - low, "mm"),
        }
        for name, one in (("end a", self.a), ("end b", self.b)):
            if isinstance(one, OntoBox):
                off = np.abs(np.degrees(one.angle) - 90.0)
                found[f"{name}, saw off square"] = (off, "deg")
            elif isinstance(one, Onto):
                found |= {
                    f"{name}, hole saw": (one.tube.width_mm, "mm"),
                    f"{name}, tilt of the saw from square": (np.abs(np.degrees(one.angle) - 90.0), "deg"),
                    f"{name}, saw beside the centre line": (np.abs(one.offset), "mm"),
                }  # fmt: skip
        return {**super().facts(), **found}

    def cautions(self) -> Sequence[str]:
        found = ["Scribe a reference line along the tube before either end is cut: both copes are turned from it.",
                 "Fit both ends without force before tacking; tack four places, then weld in quarters."]  # fmt: skip
        if isinstance(self.b, Onto) and self.vent is None:
            found.append(
                "Drill a vent into the tube that an end stands on: a closed tube blows the last weld out."
            )
        thin = self.hollow.round and bool(np.any(self.hollow.wall < THIN * self.hollow.wide))
        if self.vent is not None and thin and any(case.spectrum for case in self.loads):
            found.append(
                "No fatigue factor is published for a vent in a wall so thin: under cycles it never passes. Vent "
                "through the tube that an end stands on, or take a wall of a twentieth of the diameter."
            )
        return found

    def drawn(self) -> Sequence[Drawn]:
        from parts.families.coped_tube.drawing import tube_drawn

        return [tube_drawn(self)]

    def weldment(self) -> Weldment | None:
        from parts.families.coped_tube.weldment import tube_weldment

        return tube_weldment(self, self.metal.name)

    def build(self) -> Sequence[Piece]:
        from parts.families.coped_tube.solid import tube_solid

        return [Piece("part", self.metal, tube_solid(self))]


def _yields(metal: Material) -> float:
    return float(np.min(metal.yield_strength))
