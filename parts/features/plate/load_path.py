"""The load path through a plate: lines from its mounts to its loads, cut straight across and aslant.

The sections along a line give its spans. What sections do not show is looked at here too: webs beside windows bent as
the legs of a frame, and the plate folding out of its plane.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any, NamedTuple

import numpy as np

from parts.core.check import Check, check
from parts.core.loadpath import Span
from parts.core.loads import Action, ByCase, LoadCase, PointLoad, Required, resultant
from parts.features.mounts.mount import SEAT
from parts.features.mounts.mount_set import MountSet
from parts.features.plate.fixture import Fixture
from parts.features.plate.section.columns import Line
from parts.features.plate.section.cut import PlateCut
from parts.features.plate.section.layers import Layer
from parts.features.plate.section.rims import Rim
from parts.features.plate.section.webs import Web, WebFrame
from parts.standards.materials.materials import Material
from parts.strength.columns.column import borne_before, grown_moment, johnson_euler_load
from parts.strength.method import plain, work

NEAR = 1e-6
"""Distance from a load to the mounts below which it has no direction to them [mm]."""
LEAST_REACH = 2.0
"""Radius over which a load enters the plate at the least [mm]."""
ASLANT = tuple(np.radians(angle) for angle in (-40.0, -20.0, 20.0, 40.0))
"""Angles [rad] to the line from the mounts to a load at which the plate is cut as well."""
ESTIMATED = 1.1
"""Factor on a stress that is found by the columns of its section [-]: the tests hold it no farther below the exact."""
WEBS = "webs between windows, bent one by one"
"""What the check of the webs as a frame is called."""
Acting = Callable[[LoadCase], Sequence[tuple[Any, Action]]]


class Along(NamedTuple):
    """A line through the plate, and the plate as it is cut across it."""

    cut: PlateCut
    line: Line


@dataclass(frozen=True)
class LoadPath:
    """A plate of `layers` between its mounts and its loaded points.

    `points` are its load points by name [mm], `loaded` the names of those that a load case loads; `acting` gives the
    loads and the mounts' answers under a load case, each with its place on the plate; `rims` are the holes that carry
    load themselves, `cases` those of the part, which are looked at together, `webs` what lies between its windows as
    bars of a frame. One plate at a time: no arrays.
    """

    layers: Sequence[Layer]
    fixtures: Sequence[Fixture]
    mounted: MountSet
    points: Mapping[str, Any]
    loaded: tuple[str, ...]
    sign: float
    thickness: Any
    metal: Material
    acting: Acting
    rims: Sequence[Rim] = ()
    cases: Sequence[LoadCase] = ()
    webs: Sequence[Web] = ()

    def beyond(self, case: LoadCase, normal: np.ndarray, level: Any) -> list[Action]:
        """What acts on the plate beyond cuts at a level, or at levels (n,), summed up at nil: the loads there, and the
        mounts' answers.

        Each acts all over the ring or boss through which it enters: of one that the cut passes through, the share
        that lies beyond.
        """
        places, radii, force, moment = self._entering(case)
        past = 0.5 + (places @ normal - np.asarray(level)[..., None]) / (2.0 * radii)
        share = np.minimum(np.maximum(past, 0.0), 1.0)
        return [Action(np.zeros(3), share @ force, share @ moment)]

    @cached_property
    def _entering(self) -> ByCase[tuple[np.ndarray, ...]]:
        """What acts under a load case: where it enters the plate, over which radius, its force and its moment about
        nil, each with a row for each."""
        return ByCase(self._entered)

    def _entered(self, case: LoadCase) -> tuple[np.ndarray, ...]:
        acting = [(place, *resultant([one], np.zeros(3))) for place, one in self.acting(case)]
        places, force, moment = (np.array(each, float) for each in zip(*acting, strict=True))
        return places, np.array(self._radii(case)), force, moment

    def _radii(self, case: LoadCase) -> list[float]:
        """Radius over which each of what acts under a load case enters the plate [mm], in the order of `acting`."""
        by_name = {one.name: one for one in self.fixtures}
        loads = [_reach(by_name.get(load.at)) for load in case.forces]
        return loads + [SEAT * float(mount.thread.major) for mount in self.mounted.mounts]

    def spans(self) -> Iterator[Span]:
        """The sections straight across the line to each load."""
        for name, (cut, line) in self._straight.items():
            yield from cut.spans(f"plate toward the {name}", line, self.metal, self.rims, self._own)

    @cached_property
    def _own(self) -> ByCase[np.ndarray]:
        """What each of the loaded holes adds at its rim under a load case [MPa]."""
        return ByCase(lambda case: np.array([float(one.own(case)) for one in self.rims]))

    @cached_property
    def _straight(self) -> Mapping[str, Along]:
        """The plate cut straight across the line from the mounts to each load."""
        every = self.points.items()
        return {name: self._toward(at[:2])[0] for name, at in every if name in self.loaded}

    @cached_property
    def _lines(self) -> Mapping[str, Sequence[Along]]:
        """The plate cut straight across and aslant, by the name of the load that the lines run to."""
        return {
            name: [straight, *self._toward(self.points[name][:2], ASLANT)]
            for name, straight in self._straight.items()
        }

    def _toward(self, place: np.ndarray, slants: Sequence[float] = (0.0,)) -> list[Along]:
        """The plate cut at some angles to the line from the mounts to a load [rad]."""
        mounts = self.mounted.places
        centre = mounts.mean(axis=0)
        away = place - centre
        straight = np.arctan2(away[1], away[0]) if np.hypot(*away) > NEAR else 0.0
        blocks = [
            (one.place, float(one.block.radius)) for one in self.fixtures if one.block is not None
        ]
        case = LoadCase.model_construct(name="", forces=[PointLoad(at=at) for at in self.points])
        reaches = np.array(self._radii(case))
        places = np.array([*(other[:2] for other in self.points.values()), *mounts])
        found = []
        for slant in slants:
            normal = np.array([np.cos(straight + slant), np.sin(straight + slant)])
            cut = PlateCut(self.layers, normal, centre, self.sign, blocks)
            levels = (places - centre) @ normal
            first, last = (end(levels[-len(mounts) :]) for end in (min, max))
            line = cut.line(
                float(first), max(float(away @ normal), float(last)),
                partial(self._acting_beyond, normal, float(centre @ normal)),
                [*(levels - reaches), *(levels + reaches)],
            )  # fmt: skip
            found.append(Along(cut, line))
        return found

    def _acting_beyond(
        self, normal: np.ndarray, base: float, s: Any
    ) -> Callable[[LoadCase], Sequence[Action]]:
        return partial(self.beyond, normal=normal, level=base + s)

    def modes(self, case: LoadCase, required: Required) -> Iterator[Check]:
        """Webs beside windows as a frame, and the plate folding out of its plane."""
        loaded, metal = {load.at for load in case.forces}, self.metal
        among = self.cases if any(one is case for one in self.cases) else (case,)
        for name in [name for name in self._lines if name in loaded]:
            lines = [one for one in self._lines[name] if one.line.stretches]
            if not lines:
                continue
            bent, pressed = (
                ESTIMATED * max(each)
                for each in zip(*(one.line.worst(case, among) for one in lines), strict=True)
            )
            folds = work(
                johnson_euler_load, E=metal.E, A=1.0, I_min=np.square(self.thickness) / 12.0,
                L=self._unstayed(self.points[name][:2]), F_cy=metal.yield_strength,
            )  # fmt: skip
            share = np.divide(pressed, plain(folds))
            for kind, strength, factor in required.both(
                metal.yield_strength, metal.ultimate_strength
            ):
                n = borne_before(share, 1.0, factor)
                yield check(
                    f"plate toward the {name}, cuts on a slant with webs as a frame, {kind}", "bending",
                    load_case=case.name, capacity=strength, unit="MPa", required=factor,
                    demand=work(grown_moment, M_0=bent, u_cr=share, n=n),
                    note="cuts up to 40 degrees aslant; the webs beside each opening bear shear and torque as legs of "
                    "a frame; by columns of the section, a tenth added for what they leave out; bent on by what "
                    "presses it as the factor times the load bends it",
                )  # fmt: skip
            yield check(
                f"plate toward the {name}, buckling", "buckling", load_case=case.name, unit="MPa",
                demand=pressed, capacity=folds, required=required.on_ultimate,
                note="a strip of the plate as a column, pressed all along by what its worst edge feels: twice as long "
                "as from the load to the nearest mount, or from point to point of the plate where that is more",
            )  # fmt: skip

        yield from self._web_modes(case, required)

    def _web_modes(self, case: LoadCase, required: Required) -> Iterator[Check]:
        if not any(one.windowed for one in self.webs):
            return
        middle = np.array([0.0, 0.0, self.sign * float(self.thickness) / 2.0])
        acting = [
            (place, Action(one.at - middle, one.force, one.moment))
            for place, one in self.acting(case)
        ]
        stress = self._frame.stress(acting)
        for kind, strength, factor in required.both(
            self.metal.yield_strength, self.metal.ultimate_strength
        ):
            yield check(
                f"{WEBS}, {kind}", "bending", load_case=case.name, demand=stress, capacity=strength, unit="MPa",
                required=factor, note="bars of a frame in space from point to point of the plate, each as wide as its "
                "metal, where windows lie straight beside them",
            )  # fmt: skip

    @cached_property
    def _frame(self) -> WebFrame:
        places = np.array([one.place for one in self.fixtures], float)
        return WebFrame(self.webs, places, float(self.thickness))

    @property
    def along_webs(self) -> np.ndarray:
        """Places in the middle of the webs beside windows, and where they run into their pads [mm], shape (n, 3)."""
        flat = self._frame.along
        return np.column_stack([flat, np.zeros(len(flat))])

    def _unstayed(self, place: np.ndarray) -> float:
        """Length of the pinned column that stands for the plate about a load [mm]."""
        nearest = np.hypot(*(self.mounted.places - place).T).min()
        places = np.array([one.place for one in self.fixtures])
        across = np.hypot(*(places[:, None] - places).transpose(2, 0, 1)).max()
        return float(max(2.0 * nearest, across))


def _reach(fixture: Fixture | None) -> float:
    """Radius over which a load enters the plate where it stands [mm]."""
    if fixture is None:
        return LEAST_REACH
    return max(float(fixture.foot(fixture.outer)), float(fixture.edge), LEAST_REACH)
