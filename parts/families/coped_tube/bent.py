"""Bent tube: a round tube with bends in any planes between two points of a frame, its ends cut to its neighbours."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property, partial
from typing import TYPE_CHECKING, Any, ClassVar, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.fatigue_places import BUTT, STEELS, Detail, Spot, Weld
from parts.core.loadpath import Notch, Span, smooth
from parts.core.loads import Action, ByCase, LoadCase, point_actions, resultant
from parts.core.part import Piece
from parts.core.ways import Kind
from parts.families.coped_tube.axis import Piece as Stretch
from parts.families.coped_tube.axis import borne
from parts.families.coped_tube.bent_shape import BentShape
from parts.families.coped_tube.family import AT_END
from parts.families.coped_tube.neighbour import Bears
from parts.families.coped_tube.saddle import Onto
from parts.features.section.notches import same
from parts.features.weld.softened import REACH
from parts.standards.materials.materials import Material
from parts.strength.columns import column, wrinkling
from parts.strength.method import Number, Worked, plain, work
from parts.strength.section import bent_tube

if TYPE_CHECKING:
    from parts.core.drawing import Drawn
    from parts.core.supports import Held

ENDS = np.linspace(0.0, 1.0, 2)
ROUND = np.linspace(0.0, 1.0, 13)
"""Where pieces are looked at: moments run evenly along a straight, and in a bend this misses less than a hundredth."""
HELD = ((0.0, 0.0), (0.0, 1.0), (1.0, 0.0), (1.0, 1.0))
"""How fast both ends are taken, in turn: 1 where an end turns freely but about the line between the two."""

Method = Callable[..., Number]

HOOP = {
    "family": "bent tube", "name": "HC-132", "title": "seat hoop", "material": "4130 normalized", "form": "tube",
    "tube": "7/8 in x 0.065 in", "length": "328 mm", "springback": 0.97,
    "a": {"type": "coped", "tube": "1-1/8 in x 0.083 in"}, "b": {"type": "coped", "tube": "1-1/8 in x 0.083 in"},
    "bends": [{"after": "80 mm", "angle": "90 deg", "radius": "46 mm"},
        {"after": "24 mm", "angle": "90 deg", "radius": "46 mm"}],
    "loads": [{"name": "seat pressed", "forces": [{"at": "middle", "force": ["60 N", 0, "-220 N"]}],
        "spectrum": [{"cycles": 2000}], "ratio": 0}],
}  # fmt: skip


class BentTube(BentShape):
    """A round tube with bends, whose ends are cut to the tubes that it meets."""

    summary: ClassVar[str] = (
        "a round tube with bends between two points of a frame, its ends coped or sawn to its neighbours"
    )
    axes: ClassVar[str] = (
        "origin at the point of end a; x along the tube there, y the way that the first bend turns, less its `turn`"
    )
    not_covered: ClassVar[tuple[str, ...]] = (
        "the other tubes beyond the wall under the ends", "the wall under what hangs on its middle",
        "distortion and residual stress of welding", "own weight and vibration of the tube",
        "wrinkles of a bend that is badly made",
    )  # fmt: skip
    example: ClassVar[Mapping[str, Any]] = HOOP
    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        HOOP,
        HOOP | {
            "title": "exhaust stay", "tube": "20 x 2 mm", "length": "300 mm",
            "springback": None, "b": {"type": "square"},
            "a": {"type": "on a box", "tube": "40 x 40 x 4 mm", "angle": "75 deg", "leg": "3 mm"},
            "bends": [{"after": "90 mm", "angle": "60 deg", "radius": "60 mm"},
                {"after": "40 mm", "angle": "45 deg", "radius": "50 mm", "turn": "90 deg"}],
            "loads": [{"name": "silencer shaken", "forces": [{"at": "b", "force": [0, "9 N", "-12 N"]}],
                "spectrum": [{"cycles": 20000}], "ratio": -1}],
        },
        HOOP | {"title": "grab loop", "b": {"type": "on a box", "tube": "45 x 45 x 4 mm", "leg": "3 mm"}},
    )  # fmt: skip

    family: Literal["bent tube"] = Field(  # type: ignore[assignment]
        "bent tube", description="A round tube with bends, coped to its neighbours."
    )

    @cached_property
    def _answers(self) -> ByCase[Sequence[Action]]:
        """What end b answers to a load at the middle, by each way that the ends are held."""

        def answers(case: LoadCase) -> Sequence[Action]:
            there = point_actions(case, self.points(), ["middle"])
            if not there or not self.fast_at_both:
                return [Action(self.node(1)[0], np.zeros(3), np.zeros(3))]
            return [self.line.answers(there, how) for how in HELD]

        return ByCase(answers)

    @cached_property
    def _answered(self) -> ByCase[Action]:
        return ByCase(lambda case: self._answers(case)[0])

    def _acting(self, case: LoadCase, before: bool) -> Iterator[list[Action]]:
        """What acts beyond a place before or behind the middle, by each way that the ends are held."""
        names = ["b", "middle"] if before else ["b"]
        for answer in self._answers(case):
            yield [*point_actions(case, self.points(), names), answer]

    def _held_ways(self, case: LoadCase, before: bool, way: int) -> Sequence[Action]:
        found = list(self._acting(case, before))
        return found[min(way, len(found) - 1)]

    @property
    def _ways(self) -> int:
        loaded = any(one.at == "middle" for case in self.loads for one in case.forces)
        return len(HELD) if loaded and self.fast_at_both else 1

    def spans(self) -> Sequence[Span]:
        low, high = self.full
        found = []
        for piece in self.line.pieces:
            if piece.segment.radius is not None:
                continue
            start, end = np.maximum(piece.low, low), np.minimum(piece.high, high)
            if not np.any(np.greater(end, start + 1e-9)):
                continue
            at_end = piece.segment in (self.line.segments[0], self.line.segments[-1])
            k = self.line.segments.index(piece.segment) // 2 + 1
            half = (
                ""
                if piece.high - piece.low == piece.segment.high - piece.segment.low
                else (" before the middle" if piece.before else " behind the middle")
            )
            for way in range(self._ways):
                words = f", ends held another way, {way}" if way else ""
                found.append(
                    Span(
                        f"straight {k}{half}{words}", self.line.place(start), self.line.place(end), piece.segment.frame,
                        self.ring, partial(self._held_ways, before=piece.before, way=way),
                        self._soft if at_end else self.metal, "part", 3,
                        same(Notch(AT_END, np.inf)) if at_end else smooth,
                    )
                )  # fmt: skip
        return found + list(self._beside_vent())

    def _beyond(self, case: LoadCase, half: float) -> Sequence[Action]:
        return self._held_ways(case, before=half < 0.5, way=0)

    def _bears(self, case: LoadCase, one: Onto, way: float) -> Bears:
        """What an end bears, the greatest of both places and of all ways that the ends are held."""
        node, frame = self.node(0 if way > 0.0 else 1)
        axes, grown = one.frame(way), self._growth(case)
        whole = self.full[0] if way > 0.0 else self.full[1] - self.length
        at = [node, node + np.asarray(whole)[..., None] * frame[..., 0, :]]
        cos, sin = np.cos(one.angle), np.sin(one.angle)
        found = []
        for actions in self._acting(case, before=way > 0.0):
            for place in at:
                force, moment = (
                    (axes @ (frame @ np.asarray(v)[..., None]))[..., 0]
                    for v in resultant(actions, place)
                )
                found.append((force[..., 0], np.hypot(force[..., 1], force[..., 2]),
                    force[..., 0] * sin - force[..., 1] * cos, moment[..., 2], moment[..., 1],
                    moment[..., 0]))  # fmt: skip
        N, V, square, rocked, across, T = (
            np.maximum.reduce(np.broadcast_arrays(*map(np.abs, rows)))
            for rows in zip(*found, strict=True)
        )
        return Bears(N, V, square, rocked * grown, across * grown, T)

    def _inside(self, case: LoadCase, piece: Stretch) -> Iterator[tuple[Any, Any, Any]]:
        """Force along it, whole force [N] and whole moment [N*mm] all along a piece, by each way that ends are held."""
        place, x = piece.segment.at(piece.lengths(ENDS if piece.segment.radius is None else ROUND))
        there = np.asarray(np.greater(piece.high, piece.low), float)[..., None]
        for actions in self._acting(case, piece.before):
            pulled, whole, moment = borne(actions, place, x)
            yield pulled * there, whole * there, moment * there

    def _push(self, case: LoadCase) -> Any:
        """The largest force anywhere in it, taken as a push [N]: in a bent tube no place is without."""
        found = [
            whole.max(axis=-1)
            for piece in self.line.pieces
            for _, whole, _ in self._inside(case, piece)
        ]
        return np.maximum.reduce(np.broadcast_arrays(*found))

    @cached_property
    def _euler(self) -> Worked:
        return work(column.euler_load, E=self.metal.E, I_min=self.section.I2, L=self._long)

    @property
    def _long(self) -> Any:
        """Effective length as a column [mm]: drawn out straight, bends as soft as they are."""
        return self._effective * self.length * np.sqrt(self.line.softness)

    def _worst(
        self,
        case: LoadCase,
        pieces: Sequence[Stretch],
        n: float,
        stress: Callable[[Any, Any], Worked],
    ) -> Worked:
        """A stress of the largest force along pieces and their largest moment, grown by the push, with the bow."""
        push = self._push(case)
        times = column.borne_before(push, plain(self._euler), n)
        grown = work(column.couples_moment, M_0=1.0, P=push, P_E=self._euler, n=times).value
        bow = work(
            column.bow_moment, P=push, a=self.out_of_straight, P_E=self._euler, n=times
        ).value
        inside = [one for piece in pieces for one in self._inside(case, piece)]
        N, M = (
            np.maximum.reduce(np.broadcast_arrays(*[np.abs(one[k]).max(axis=-1) for one in inside]))
            for k in (0, 2)
        )
        return stress(N, M * grown + bow)

    def _straight_stress(self, N: Any, M: Any) -> Worked:
        return work(bent_tube.indexed_stress, N=N, M=M, A=self.section.area, W=self.hollow.modulus)

    def _bend_stress(self, N: Any, M: Any, radius: Any, index: Method) -> Worked:
        """Stress of a bend, thinned all round as on its outside and oval [MPa]."""
        D, thin = self.hollow.wide, self.index(bent_tube.outer_wall, radius)
        W = work(bent_tube.flattened_modulus, D=D, t=thin, o=self.ovality)
        area = np.pi * (D - thin.value) * thin.value
        return work(bent_tube.indexed_stress, N=N, M=M, A=area, W=W, B=self.index(index, radius))

    def _each_bend(self) -> Iterator[tuple[str, Any, Material, list[Stretch]]]:
        """The bends: name, radius, metal, and pieces."""
        low, high = self.full
        for k, one in enumerate(self.line.segments[1::2], 1):
            near = np.any(one.low - low < REACH) or (
                isinstance(self.b, Onto) and np.any(high - one.high < REACH)
            )
            yield (
                f"bend {k}", one.radius, self._soft if near else self.metal,
                [piece for piece in self.line.pieces if piece.segment is one],
            )  # fmt: skip

    def modes(self, case: LoadCase) -> Iterator[Check]:
        for one in self.features():
            yield from one.feature.modes(one.site, case)
        required, m, s = self.factors(case), self.metal, self.section
        on, push = partial(check, load_case=case.name), self._push(case)
        held = "ends fast, and turning, each in turn" if self._ways > 1 else "by statics"
        ends = "hinged at both ends" if self.fast_at_both else "free at end b"
        yield on("tube, buckling", "column buckling", demand=push, unit="N", required=required.on_ultimate,
            capacity=work(column.johnson_euler_load, E=m.E, A=s.area, I_min=s.I2, F_cy=m.yield_strength, L=self._long),
            note=f"all that acts taken as a push along it, drawn out straight and {ends}; bends as soft as they are",
        )  # fmt: skip
        straight = [piece for piece in self.line.pieces if piece.segment.radius is None]
        yield on("straights, pushed and bent", "column bending", unit="MPa", capacity=self._soft.yield_strength,
            demand=self._worst(case, straight, required.on_yield, self._straight_stress), required=required.on_yield,
            note=f"with its bow, grown by the push; {held}; softened everywhere")  # fmt: skip
        worst = []
        for name, radius, metal, pieces in self._each_bend():
            bent = partial(self._bend_stress, radius=radius, index=bent_tube.collapse_index)
            for kind, strength, factor in required.both(
                metal.yield_strength, metal.ultimate_strength
            ):
                yield on(f"{name}, flattened, {kind}", "bend", unit="MPa", capacity=strength, required=factor,
                    demand=self._worst(case, pieces, factor, bent),
                    note=f"thinned as on its outside, and oval; {held}")  # fmt: skip
            worst.append(self._worst(case, pieces, required.on_ultimate, bent).value)
        folds = np.minimum.reduce(
            np.broadcast_arrays(*[self._folds(r) for _, r, _, _ in self._each_bend()])
        )
        worst.append(self._worst(case, straight, required.on_ultimate, self._straight_stress).value)
        yield on("tube wall wrinkling", "local buckling", unit="MPa", required=required.on_ultimate,
            demand=np.maximum.reduce(np.broadcast_arrays(*worst)), capacity=folds,
            note="the flattened side of a bend, thinned")  # fmt: skip

    def _folds(self, radius: Any) -> Any:
        """Stress at which the wall of a bend wrinkles: its flattened side is rounder by three half ovalities [MPa]."""
        m, thin = self._soft, self.index(bent_tube.outer_wall, radius).value
        r = (self.hollow.wide - thin) / 2.0 * (1.0 + 1.5 * self.ovality)
        return work(
            wrinkling.wall_buckling_stress, E=m.E, r=r, t=thin, F_cy=m.yield_strength, nu=m.poisson
        ).value

    def details(self) -> Sequence[Detail]:
        found: list[Detail] = list(super().details())
        for name, radius, metal, pieces in self._each_bend():

            def at(case: LoadCase, index: Any, radius: Any = radius, pieces: Any = pieces) -> Any:
                return self._worst(
                    case, pieces, 1.0, partial(self._bend_stress, radius=radius, index=index)
                )

            found.append(
                Spot(
                    f"{name}, flattened",
                    metal,
                    partial(at, index=bent_tube.peak_index),
                    self.hollow.wide,
                )
            )
            if metal.family in STEELS:
                found.append(
                    Weld(
                        f"{name}, as a butt weld",
                        metal,
                        partial(at, index=bent_tube.weld_index),
                        BUTT,
                    )
                )
        return found

    def kinds(self) -> Sequence[Kind]:
        return [*(one for one in super().kinds() if one.name != "column"), Kind("column"),
                *(Kind("tube bend", name) for name, *_ in self._each_bend())]  # fmt: skip

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.core.supports import Along, Applied, Held, NotProved, Support

        _, wall = (float(v) for v in self.size)
        if any(one.at == "middle" for one in case.forces):
            raise NotProved("what acts on the middle of a bent tube has no face to press on")
        foot, far = (Along(self.edge(i, wall / 2.0), 2.0 * wall) for i in (0, 1))
        beyond = (*point_actions(case, self.points(), ["b"]), self._answered(case))
        return [
            Held(
                "part",
                (Support("weld at end a", (foot,), wall),),
                (Applied("end b", (far,), beyond),),
            )
        ]

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        found = dict(super().facts())
        for name, radius, *_ in self._each_bend():
            found |= {
                f"{name}, wall left on its outside": (
                    self.index(bent_tube.outer_wall, radius).value,
                    "mm",
                ),
                f"{name}, stretch of its outside": (100.0 * self.hollow.half / radius, "%"),
            }
        return found

    def cautions(self) -> Sequence[str]:
        from parts.families.coped_tube.bends import MANDREL

        found = [*super().cautions(),
            "Bend first and cope after: a bend moves the ends. The bend table counts the centre line as not stretched; "
            "bend a trial piece and correct by what it shows."]  # fmt: skip
        tight = min(float(np.min(one.radius)) for one in self.bends) / float(
            np.max(self.hollow.wide)
        )
        if tight < MANDREL:
            found.append(
                "Its tightest bend asks for a mandrel, or sand rammed tight (common practice, no source)."
            )
        stretched, sure = 0.5 / tight, self.metal.elongation
        if stretched > sure:
            found.append(f"A bend stretches its outside by {stretched:.0%} where {self.metal.name} is sure of "
                f"{sure:.0%}: bend a trial piece, look for cracks and orange peel.")  # fmt: skip
        return found

    def drawn(self) -> Sequence[Drawn]:
        from parts.families.coped_tube.bent_drawing import bent_drawn

        return [bent_drawn(self)]

    def build(self) -> Sequence[Piece]:
        from parts.families.coped_tube.bent_solid import bent_solid

        return [Piece("part", self.metal, bent_solid(self))]
