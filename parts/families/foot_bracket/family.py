"""Foot-control bracket: one plate that collects mounts, footpeg, pedal pivot, cylinder, spring and stop."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property, partial
from typing import TYPE_CHECKING, Any, ClassVar, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check
from parts.core.clearances import Clearance
from parts.core.freebody import Acting, reacting
from parts.core.loadpath import Span
from parts.core.loads import Action, ByCase, LoadCase, point_actions, resultant
from parts.core.part import Bought, Part, Piece
from parts.core.rules import Rule
from parts.core.ways import Kind
from parts.families.foot_bracket import outline
from parts.families.foot_bracket.cylinder import MasterCylinder, Reservoir
from parts.families.foot_bracket.fixture import Fixture
from parts.families.foot_bracket.load_path import LoadPath
from parts.families.foot_bracket.local import Beside, least_room
from parts.families.foot_bracket.mount_set import MountSet, greatest
from parts.families.foot_bracket.mounts import Mount
from parts.families.foot_bracket.on_plate import OnPlate
from parts.families.foot_bracket.peg import ForkedPeg, Peg
from parts.families.foot_bracket.pivot import Pivot
from parts.families.foot_bracket.plate import Plate, room_rules
from parts.families.foot_bracket.posts import Post
from parts.families.foot_bracket.section.crossing import metal_across
from parts.families.foot_bracket.section.layers import Layer, Prism
from parts.families.foot_bracket.stub import BoltedOn, StubPivot
from parts.families.foot_bracket.stud import Threaded
from parts.features.bolts.group import centre_check
from parts.features.bolts.hardware import galvanic_cautions
from parts.features.bolts.torque import tightening_facts
from parts.features.press.fit import limit_facts
from parts.features.press.pressed import coating_facts
from parts.strength.section.properties import area_and_length

if TYPE_CHECKING:
    from parts.core.blank import Blank
    from parts.core.drawing import Drawn
    from parts.core.fatigue_places import Detail
    from parts.core.supports import Applied, Held, Patch


if TYPE_CHECKING:
    from parts.core.feature import Feature
    from parts.families.foot_bracket.peg import TappedPeg
    from parts.families.foot_bracket.pivot import SeatPivot, TappedPivot
    from parts.families.foot_bracket.posts import PressedPin, ScrewPost, TurnedPost

    _: tuple[type[Feature[OnPlate]], ...] = (
        TappedPeg, ForkedPeg, StubPivot, SeatPivot, TappedPivot, TurnedPost, PressedPin, ScrewPost
    )  # fmt: skip


class FootControlBracket(Part):
    """A foot-control bracket."""

    summary: ClassVar[str] = (
        "one plate with mounts, footpeg, pedal and lever pivots, cylinder, spring and stop"
    )
    axes: ClassVar[str] = (
        "x forward, y up, z to the right of the vehicle; the plate's inner face lies in z = 0. On the right-hand "
        "bracket z points outward, to the foot; the left-hand one is its mirror image, below z = 0"
    )
    load_points: ClassVar[Mapping[str, str]] = {
        **{name: f"`{name}`" for name in ("peg", "pedal", "shift", "spring", "stop")},
        "master cylinder": "`master_cylinder`",
    }
    not_covered: ClassVar[tuple[str, ...]] = (
        "fatigue of pressed pins; that of the plate counts the edge of a hole in parted sections",
        "the exact peak beside windows, bores and bosses: shown as three times the nominal stress",
        "cuts more than 40 degrees aslant to the line from a load to the mounts, and bent ones",
        "the frame or engine case and its threads",
        "pedal, lever, footpeg and their own hardware",
        "axial load of a needle thrust bearing",
        "a fall onto the peg, where no load case states one",
    )

    example: ClassVar[Mapping[str, Any]] = {
        "family": "foot-control bracket",
        "name": "HC-100",
        "title": "Foot bracket",
        "material": "7075-T6",
        "form": "plate",
        "edge_break": "0.5 mm",
        "hand": "right",
        "plate": {"thickness": "16 mm", "web": "12 mm", "wall": "6 mm"},
        "mounts": [
            {"at": ["0 mm", "0 mm"], "thread": "M8", "bolt_class": "10.9"},
            {"at": ["75 mm", "10 mm"], "thread": "M8", "bolt_class": "10.9"},
            {"at": ["20 mm", "85 mm"], "thread": "M8", "bolt_class": "10.9"},
        ],
        "peg": {
            "type": "tapped",
            "at": ["-35 mm", "48 mm"],
            "thread": "M12",
            "bolt_class": "10.9",
            "shoulder": "30 mm",
            "height": "80 mm",
            "boss": {"diameter": "36 mm", "outer": "8 mm", "fillet": "3 mm"},
        },
        "loads": [
            {"name": "standing on one peg", "forces": [{"at": "peg", "force": {"y": "-1700 N"}}]}
        ],
    }

    family: Literal["foot-control bracket"] = Field(
        "foot-control bracket", description="One plate that collects a foot control."
    )
    hand: Literal["right", "left"] = Field(
        "right", description="Side of the vehicle; the left-hand one is the mirror image."
    )
    plate: Plate = Field(description="The plate and what it keeps about holes and windows.")
    mounts: list[Mount] = Field(
        min_length=2, max_length=12, description="Bolts to the frame or the engine case."
    )
    peg: Peg = Field(description="The footpeg's boss.")
    pedal: Pivot | None = Field(None, description="Pivot of the brake pedal.")
    shift: Pivot | None = Field(None, description="Pivot of the shift lever.")
    master_cylinder: MasterCylinder | None = Field(
        None, description="Holes of the master cylinder."
    )
    reservoir: Reservoir | None = Field(None, description="Hole of the fluid reservoir.")
    spring: Post | None = Field(None, description="Pin of the return spring.")
    stop: Post | None = Field(None, description="Stop of the pedal.")

    # --- what it is made of -------------------------------------------------------------------------

    @property
    def sign(self) -> float:
        """+1 on the right-hand bracket, -1 on the left-hand one: the sense of z toward the foot."""
        return 1.0 if self.hand == "right" else -1.0

    def _levers(self) -> dict[str, Any]:
        """What is loaded at one named point and rooted on the plate, by the name of the point."""
        named = {name: getattr(self, name) for name in ("peg", "pedal", "shift", "spring", "stop")}
        return {name: one for name, one in named.items() if one is not None}

    @cached_property
    def _sites(self) -> Mapping[str, OnPlate]:
        """Where each of them stands, by name."""
        t, metal = self.plate.thickness, self.metal
        return {
            name: OnPlate(
                name, metal, name, self.edge_break, t, self._at(one.at, t + one.base()),
                actions=partial(self._acting_at, name), required=self.factors,
                plate=self.plate, sign=self.sign, felt=partial(self._at_root, name),
            )
            for name, one in self._levers().items()
        }  # fmt: skip

    def _acting_at(self, name: str, case: LoadCase) -> Sequence[Action]:
        return point_actions(case, self.points(), [name])

    def _at_root(self, name: str, case: LoadCase) -> tuple[Any, Any]:
        return self._on(case, name, self._sites[name].at)

    def _bolted(self) -> list[tuple[str, str, Mount]]:
        """Every bolted hole: name, field and mount; those to the frame first."""
        found = [(f"mount {k + 1}", f"mounts[{k}]", mount) for k, mount in enumerate(self.mounts)]
        if self.master_cylinder is not None:
            pair = self.master_cylinder.mounts()
            found += [
                (f"master cylinder {k + 1}", "master_cylinder", one) for k, one in enumerate(pair)
            ]
        if self.reservoir is not None:
            found.append(("reservoir", "reservoir", self.reservoir.mount()))
        return found

    def fixtures(self) -> Sequence[Fixture]:
        """Every point of the plate: the mounts, the other bolted holes, then what is loaded."""
        return self._fixtures

    @cached_property
    def _fixtures(self) -> Sequence[Fixture]:
        t, wall, c = self.plate.thickness, self.plate.wall, self.edge_break
        bolted = [mount.fixture(name, field, t, wall, c) for name, field, mount in self._bolted()]
        return bolted + [
            one.fixture(name, name, t, wall, c) for name, one in self._levers().items()
        ]

    def _pad(self, fixture: Fixture) -> Any:
        return np.maximum(fixture.pad, self.plate.web / 2.0 + 0.5)

    @cached_property
    def figure(self) -> outline.Figure:
        """Outline and windows; they follow from where the points are. One plate at a time: no arrays."""
        fixtures = self.fixtures()
        pads = outline.Pads(
            np.array([one.place for one in fixtures]),
            np.array([float(self._pad(one)) for one in fixtures]),
        )
        names = [one.name for one in fixtures]
        lines = [(names.index("peg"), k) for k in range(len(self.mounts))]
        return outline.figure(
            pads, self.plate.webs, lines if self.plate.windows == "clear of the load path" else ()
        )

    @cached_property
    def _layers(self) -> Sequence[Layer]:
        t, fixtures = self.plate.thickness, self.fixtures()
        low, high = self._lowest(), self._highest()
        c, both = float(self.edge_break), (True, True)
        layers: list[Layer] = [Prism(self.figure.outer, 0.0 * t, t, True, c, both)]
        layers += [Prism(window, 0.0 * t, t, False, c, both) for window in self.figure.windows]
        layers += [layer for one in fixtures for layer in one.layers(t, c)]
        layers += [cut for one in fixtures for cut in one.cuts(low, high, c)]
        return layers

    def _lowest(self) -> Any:
        return np.minimum.reduce(
            [0.0, *(step.low for one in self.fixtures() for step in one.inner)]
        )

    def _highest(self) -> Any:
        t, fixtures = self.plate.thickness, self.fixtures()
        blocks = [t + one.block.height for one in fixtures if one.block is not None]
        return np.maximum.reduce(
            [t, *(step.high for one in fixtures for step in one.outer), *blocks]
        )

    def stock_thickness(self) -> Any:
        return self._highest() - self._lowest()

    # --- loads --------------------------------------------------------------------------------------

    def _at(self, at: Any, z: Any) -> np.ndarray:
        """A place in the part's axes from a point of the plate and a height toward the foot."""
        return np.stack(
            np.broadcast_arrays(*(np.asarray(v, float) for v in (at[0], at[1], self.sign * z))),
            axis=-1,
        )

    def points(self) -> Mapping[str, Any]:
        return self._points

    @cached_property
    def _points(self) -> Mapping[str, Any]:
        t = self.plate.thickness
        found = {name: self._at(one.at, t + one.height) for name, one in self._levers().items()}
        cylinder = self.master_cylinder
        if cylinder is not None:
            found["master cylinder"] = self._at(
                cylinder.at, cylinder.face(t) + cylinder.axis_height
            )
        return found

    def _as_right(self, force: Any, moment: Any) -> tuple[Any, Any]:
        """Force and moment on the part as the right-hand bracket would feel them, and back again."""
        turn = np.array([1.0, 1.0, self.sign])
        return np.asarray(force) * turn, np.asarray(moment) * turn * self.sign

    @cached_property
    def _mounted(self) -> MountSet:
        pads = [self._pad(one) for one in self.fixtures()[: len(self.mounts)]]
        return MountSet(self.mounts, pads)

    @cached_property
    def reactions(self) -> ByCase[tuple[Any, Any, Any]]:
        """What the plate does to its mounts, as on the right-hand bracket; see `mountset.mount_reactions`."""
        return ByCase(self._reactions)

    @cached_property
    def _acting(self) -> ByCase[list[tuple[Any, Action]]]:
        return ByCase(self._all_acting)

    def _all_acting(self, case: LoadCase) -> list[tuple[Any, Action]]:
        """The loads and the mounts' answers, each with its place on the plate (2,)."""
        loads = point_actions(case, self.points())
        forces, moments, _ = self.reactions(case)
        found = [(one.at[:2], one) for one in loads]
        for k, mount in enumerate(self.mounts):
            answer = self._as_right(-forces[..., k, :], -moments[..., k, :])
            found.append(
                (
                    np.array(mount.at, float),
                    Action(self._at(mount.at, self._mounted.joint), *answer),
                )
            )
        return found

    def bolt_forces(self, case: LoadCase) -> tuple[Any, Any]:
        """What each bolt is checked for: force (..., n, 3) and the pull (..., n) of a rocking plate [N].

        The greatest of all loads at once and of each load point alone: loads that balance each other through the
        plate do so only where the frame gives more than the plate. A stiff frame takes each where it enters. And the
        greater of a stiff plate and of a soft one, in which each load goes to the mounts near it.
        """
        points = self.points()
        acting = [name for name in points if point_actions(case, points, [name])]
        found = [self.reactions(case)]
        if len(acting) > 1:
            found += [self._reactions(case, [name]) for name in acting]
            found += [self._through_a_soft_plate(case, [name]) for name in acting]
        if self._mounted.slotted:
            # With friction the slots hold as well, and the others get another share.
            found.append(self._reactions(case, by_friction=True))
        return greatest([*found, self._through_a_soft_plate(case, acting)])

    def _through_a_soft_plate(self, case: LoadCase, names: Sequence[str]) -> tuple[Any, Any, Any]:
        """What the plate does to its mounts where it gives more than they do: each load goes to those near it."""
        points = self.points()
        parts = [
            self._mounted.through_a_soft_plate(
                points[name][..., :2], *self._in_the_joint(case, [name])
            )
            for name in names
        ]
        return tuple(sum(each[1:], each[0]) for each in zip(*parts, strict=True))

    def _reactions(
        self, case: LoadCase, names: Sequence[str] | None = None, by_friction: bool = False
    ) -> tuple[Any, Any, Any]:
        return self._mounted.reactions(*self._in_the_joint(case, names), by_friction)

    def _in_the_joint(self, case: LoadCase, names: Sequence[str] | None = None) -> tuple[Any, Any]:
        """The loads of some points, of all where None, about the origin of the plate in the joint, as on the
        right-hand bracket."""
        about = self._at((0.0, 0.0), self._mounted.joint)
        return self._as_right(*resultant(point_actions(case, self.points(), names), about))

    @cached_property
    def path(self) -> LoadPath:
        """The plate cut from its mounts to what is loaded."""
        loaded = {load.at for case in self.loads for load in case.forces} or {"peg"}
        return LoadPath(
            self._layers, self.fixtures(), self._mounted, self.points(), tuple(sorted(loaded)), self.sign,
            self.plate.thickness, self.metal, self._acting,
        )  # fmt: skip

    def spans(self) -> Sequence[Span]:
        found = list(self.path.spans())
        for name in self.path.loaded:
            if name in self._sites:
                found += self._levers()[name].spans(self._sites[name])
        return found

    @property
    def _one_figure(self) -> bool:
        """False of many plates at once, whose figures differ."""
        plate = [self.plate.thickness, self.plate.web, self.plate.wall, self.stock_thickness()]
        flat = [v for one in self.fixtures() for v in (*one.at, one.pad, one.edge)]
        return not any(np.ndim(v) for v in (*plate, *flat))

    @property
    def _one_plate(self) -> bool:
        """False where figures, load points or forces differ."""
        forces = [
            v for case in self.loads for load in case.forces for v in (*load.force, *load.moment)
        ]
        return (
            self._one_figure
            and not any(np.ndim(v) for v in forces)
            and max(np.ndim(v) for v in self._points.values()) <= 1
        )

    # --- rules and checks ---------------------------------------------------------------------------

    def rules(self) -> Iterator[Rule]:
        plate, c = self.plate, self.edge_break
        yield from plate.rules(c)
        for _, field, mount in self._bolted():
            yield from mount.rules(field, plate.thickness, plate, self.metal, c)
        if self.master_cylinder is not None:
            yield from self.master_cylinder.foot_rules("master_cylinder")
        for name, one in self._levers().items():
            yield from one.rules(self._sites[name])
        yield from room_rules([(one, self._pad(one)) for one in self.fixtures()], plate.wall, c)

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        forces, moments, _ = self.reactions(case)
        found = []
        for k, mount in enumerate(self.mounts):
            carried = self._as_right(forces[..., k, :], moments[..., k, :])
            found.append(
                reacting(f"mount {k + 1}", self._at(mount.at, self._mounted.joint), carried)
            )
        return found

    def _group_modes(self, case: LoadCase) -> Iterator[Check]:
        group = self._mounted.group()
        if group is None:
            return
        middle = self._mounted.places.mean(axis=-2)
        about = self._at((middle[..., 0], middle[..., 1]), self._mounted.joint)
        force, moment = self._as_right(*resultant(point_actions(case, self.points()), about))
        yield from centre_check(
            group, force[..., :2], moment[..., 2], case.name, self.factors(case), "mounts"
        )

    def kinds(self) -> Sequence[Kind]:
        bolted = [(f"mount {k + 1}", one) for k, one in enumerate(self.mounts)]
        found = [Kind("window plate")]
        found += [Kind(kind, "mounts") for kind in ("bolt group", "clamped plate")]
        found += [Kind("slot", "mounts")] if self._mounted.slotted else []
        found += [kind for name, one in bolted for kind in one.kinds(name)]
        loaded = {load.at for case in self.loads for load in case.forces}
        standing = self._levers()
        if self.master_cylinder is not None:
            standing |= {"master cylinder": self.master_cylinder}
        for name, one in standing.items():
            idle = "" if name in loaded else "no load case loads it"
            found += [replace(kind, idle=idle) for kind in one.kinds(self._sites.get(name, name))]
        return found

    def modes(self, case: LoadCase) -> Iterator[Check]:
        found = list(self._modes(case))
        if self._one_plate:
            found += self.path.modes(case, self.factors(case))
        yield from found
        yield from self._tired_bolts(case, {one.name: one.demand for one in found})

    def _tired_bolts(self, case: LoadCase, demands: Mapping[str, Any]) -> Iterator[Check]:
        """Every bolt under its pull that comes and goes."""
        cycles = sum(block.cycles for one in self.loads for block in one.spectrum)
        metal, t = self.metal, self.plate.thickness
        bolts: list[tuple[str, Threaded, Any, Any]] = []
        for k, mount in enumerate(self.mounts):
            felt = mount.felt(metal, t, self._pad(self.fixtures()[k]))
            bolts.append((f"mount {k + 1}", mount, felt, mount.settled(metal, t)))
        others = {**self._levers(), "master cylinder": self.master_cylinder}
        for name, one in others.items():
            if isinstance(one, Threaded):
                bolts.append((name, one, 1.0, 0.0))
            elif isinstance(one, StubPivot) and isinstance(one.retention, BoltedOn):
                bolts.append((f"{name} retaining", one.retention, 1.0, 0.0))
        for name, bolt, felt, loss in bolts:
            pull = demands.get(f"{name} bolt, proof load")
            if pull is not None:
                yield from bolt.tired_modes(name, pull, case, cycles, felt, loss)

    def _modes(self, case: LoadCase) -> Iterator[Check]:
        yield from self._group_modes(case)
        required, metal, t = self.factors(case), self.metal, self.plate.thickness
        forces, rocked = self.bolt_forces(case)
        load = self._in_the_joint(case)
        yield from self._mounted.slot_checks(*load, metal, case.name, required)
        yield from self._mounted.sliding_check(*load, metal, t, case)
        rocking = np.hypot(*np.moveaxis(self.reactions(case)[1][..., :2], -1, 0))
        fixtures = self.fixtures()
        peg = fixtures[[one.name for one in fixtures].index("peg")]
        for k, mount in enumerate(self.mounts):
            pad = self._pad(fixtures[k])
            reach = np.hypot(
                np.subtract(mount.at[0], peg.at[0]), np.subtract(mount.at[1], peg.at[1])
            ) - peg.foot(peg.outer)
            pull = np.maximum(forces[..., k, 2], 0.0) + rocked[..., k]
            shear = forces[..., k, 0], forces[..., k, 1]
            felt = np.stack(np.broadcast_arrays(*shear, pull), axis=-1)
            turns = rocking[..., k]
            yield from mount.modes(
                f"mount {k + 1}", metal, t, pad, reach, felt, turns, case.name, required
            )
            if mount.stands_off:
                yield from self._beside_standing_mount(k).modes(
                    f"mount {k + 1}",
                    metal,
                    0.0 * felt,
                    mount.moment_on(t, felt, turns),
                    case.name,
                    required,
                )
        loaded = {load.at for load in case.forces}
        for name, one in self._levers().items():
            if name in loaded:
                yield from one.modes(self._sites[name], case)
                middle = self._on(case, name, self._at(one.at, t / 2.0))
                yield from self._beside_lever(name).modes(name, metal, *middle, case.name, required)
        cylinder = self.master_cylinder
        if cylinder is not None and "master cylinder" in loaded:
            face = self._at(cylinder.at, cylinder.face(t))
            pad = self._pad(fixtures[len(self.mounts)])
            yield from cylinder.modes(
                "master cylinder",
                metal,
                t,
                *self._on(case, "master cylinder", face),
                pad,
                case.name,
                required,
            )
            middle = self._on(case, "master cylinder", self._at(cylinder.at, t / 2.0))
            yield from self._beside(
                "master cylinder", cylinder.at, pad, *cylinder.standing_on()
            ).modes("master cylinder", metal, *middle, case.name, required)

    def standing(self) -> Iterator[Check]:
        for k, mount in enumerate(self.mounts):
            yield from mount.standing(f"mount {k + 1}", self.metal, self.plate.thickness)
        if self.master_cylinder is not None:
            yield from self.master_cylinder.standing(
                "master cylinder", self.metal, self.plate.thickness
            )
        for name, one in self._levers().items():
            yield from one.standing(self._sites[name])

    def details(self) -> Sequence[Detail]:
        modes, metal = self.checks_under, self.metal
        loaded = {load.at for case in self.loads if case.spectrum for load in case.forces}
        found: list[Detail] = []
        for name, one in self._levers().items():
            if name in loaded:
                found.append(self._beside_lever(name).root(name, metal, modes))
                found += one.details(self._sites[name], modes)
        for k, mount in enumerate(self.mounts):
            if mount.stands_off:
                found.append(self._beside_standing_mount(k).root(f"mount {k + 1}", metal, modes))
                found += mount.roots(f"mount {k + 1}", metal, modes)
        cylinder = self.master_cylinder
        if cylinder is not None and "master cylinder" in loaded:
            pad = self._pad(self.fixtures()[len(self.mounts)])
            beside = self._beside("master cylinder", cylinder.at, pad, *cylinder.standing_on())
            found.append(beside.root("master cylinder", metal, modes))
        return found

    def _beside_lever(self, name: str) -> Beside:
        one = self._levers()[name]
        fixture = next(f for f in self.fixtures() if f.name == name)
        return self._beside(name, one.at, self._pad(fixture), *one.standing_on())

    def _beside_standing_mount(self, k: int) -> Beside:
        mount = self.mounts[k]
        assert mount.boss is not None
        pad = self._pad(self.fixtures()[k])
        return self._beside(f"mount {k + 1}", mount.at, pad, *mount.boss.standing_on())

    def _beside(self, name: str, at: Any, pad: Any, diameter: Any, fillet: Any) -> Beside:
        """The plate beside what stands at a place; its width there is that of the metal within the pad across the way
        to each mount, or of all that lies between the points where no window is cut."""
        away = np.stack(np.broadcast_arrays(*(np.asarray(v, float) for v in at)), axis=-1)
        toward = self._mounted.places - away[..., None, :]
        others = [k for k in range(len(self.mounts)) if f"mount {k + 1}" != name]
        toward = toward[..., others, :]

        def each(value: Any) -> Any:
            return np.asarray(value, float)[..., None] * np.ones(toward.shape[-2])

        if self.plate.windows == "none":
            rims = [(one.at, self.plate.web / 2.0) for one in self.fixtures()]
            width = each(2.0 * np.maximum(pad, least_room(away, rims)))
        elif name == "master cylinder":
            width = each(2.0 * pad)
        elif self._one_figure:
            edge = min(float(diameter) / 2.0, float(pad))
            ways = toward / np.hypot(toward[..., 0], toward[..., 1])[..., None]
            figure = self.figure
            width = np.array([
                metal_across(figure.outer, figure.windows, away + edge * way, way, float(pad)) for way in ways
            ])  # fmt: skip
        else:
            # Of many plates at once the figure is not drawn: of the pad alone, which is less.
            width = each(2.0 * np.sqrt(np.square(pad) - np.square(np.minimum(diameter / 2.0, pad))))
        return Beside(self.plate.thickness, diameter, fillet, width, toward)

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.core.supports import Flat, OnBolt
        from parts.families.foot_bracket.supports import bracket_held, lever_patch, mount_support

        t, fixtures = float(self.plate.thickness), self.fixtures()
        by_name = {one.name: one for one in fixtures}
        load = self._in_the_joint(case)
        alone = self._mounted.without_friction(*load).value
        holds = self._mounted.slotted and np.all(np.isfinite(alone))
        supports = [
            mount_support(
                f"mount {k + 1}",
                mount,
                float(self._pad(fixtures[k])),
                self.sign,
                bool(holds) and any(mount.along),
            )
            for k, mount in enumerate(self.mounts)
        ]
        patches: dict[str, tuple[Patch, ...]] = {
            name: (lever_patch(one, by_name[name], t, self.sign),)
            for name, one in self._levers().items()
            if any(load.at == name for load in case.forces) and not isinstance(one, ForkedPeg)
        }
        cylinder = self.master_cylinder
        if cylinder is not None:
            face = self.sign * float(cylinder.face(t))
            pair = [(one, float(one.diameter) / 2.0) for one in cylinder.mounts()]
            patches["master cylinder"] = tuple(
                Flat(np.array([*map(float, one.at), face]), (0.0, 0.0, 1.0), 2.0 * r, r)
                for one, r in pair
            )
        points = self.points()
        actions = {name: point_actions(case, points, [name]) for name in patches}
        forces, rocked = self.bolt_forces(case)
        away = (0.0, 0.0, self.sign)
        bolts = {
            f"mount {k + 1}": OnBolt(
                float(np.hypot(x, y)), max(float(z), 0.0) + float(rocked[k]), away
            )
            for k, (x, y, z) in enumerate(forces)
        }
        forked: Sequence[Applied] = ()
        if point_actions(case, points, ["peg"]):
            forked = self.peg.applied(self._sites["peg"], case)
        return [bracket_held(supports, patches, actions, bolts, forked)]

    def _on(self, case: LoadCase, name: str, place: Any) -> tuple[Any, Any]:
        """What acts at one point, taken to a place, as on the right-hand bracket."""
        return self._as_right(*resultant(point_actions(case, self.points(), [name]), place))

    # --- what leaves for the shop -------------------------------------------------------------------

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        windows = [float(area_and_length(window)[0]) for window in self.figure.windows]
        low, high = self.figure.as_outline().box()
        found: dict[str, tuple[Any, str]] = {
            "stock thickness": (self.stock_thickness(), "mm"),
            "plate length": (float(high[0] - low[0]), "mm"),
            "plate height": (float(high[1] - low[1]), "mm"),
            "windows": (float(len(windows)), ""),
            "area saved by windows": (float(sum(windows)), "mm^2"),
        }
        for one in {m.thread.designation + m.bolt_class: m for _, _, m in self._bolted()}.values():
            proof = one.strength.proof or one.strength.yield_strength
            if proof is not None:
                found |= tightening_facts(f"{one.thread.basic} {one.bolt_class}", one.thread, proof)
        for name, one in self._levers().items():
            for what, of in one.fitted().items():
                found |= limit_facts(f"{what} of {name}", of)
        return found | coating_facts(self.finish, self.metal)

    def blanks(self) -> Sequence[Blank]:
        from parts.families.foot_bracket.blank import bracket_blank

        return [
            bracket_blank(
                self.figure.outer, self.figure.windows, self.fixtures(), float(self.plate.thickness),
                float(self.stock_thickness()), self.sign,
            )
        ]  # fmt: skip

    def clearances(self) -> Sequence[Clearance]:
        bolts = [mount.bolt_in_its_hole(name, field) for name, field, mount in self._bolted()]
        levers = self._levers().items()
        return [
            *(one for one in bolts if one is not None),
            *(found for name, one in levers for found in one.clearances(self._sites[name])),
        ]

    def bought(self) -> Sequence[Bought]:
        found: list[Bought] = []
        for name, _, mount in self._bolted():
            found += mount.bought(name, self.plate.thickness)
        levers = self._levers()
        for name in ("pedal", "shift", "peg", "spring", "stop"):
            if name in levers:
                found += levers[name].bought(self._sites[name])
        return found

    def cautions(self) -> Sequence[str]:
        touching: dict[str, str] = {}
        sites, levers = self._sites, self._levers()
        for name, one in (*((name, mount) for name, _, mount in self._bolted()), *levers.items()):
            touching |= one.touching(sites.get(name))
        return (
            *galvanic_cautions(self.metal, touching),
            *(said for name, one in levers.items() for said in one.cautions(sites[name])),
            "a bracket that has been in a fall is scrap: cracks start in its corners unseen",
        )

    @property
    def softened(self) -> bool:
        return bool(self.edge_break > 0.0) or self._has_points()

    def _has_points(self) -> bool:
        """True where a drill's point is in the solid that the outlines leave out."""
        return any(bore.point for one in self.fixtures() for bore in one.bores)

    def drawn(self) -> Sequence[Drawn]:
        from parts.families.foot_bracket.drawing import bracket_drawn

        owners = {**{name: mount for name, _, mount in self._bolted()}, **self._levers()}
        return [
            bracket_drawn(
                self.figure, self.fixtures(), owners, float(self.plate.thickness), float(self.plate.web),
                float(self.edge_break), self.sign,
            )
        ]  # fmt: skip

    def build(self) -> Sequence[Piece]:
        from parts.families.foot_bracket.solid import bracket

        solid = bracket(
            self.figure, self.fixtures(), float(self.plate.thickness), float(self._lowest()),
            float(self._highest()), float(self.edge_break),
        )  # fmt: skip
        if self.hand == "left":
            solid = solid.mirror("XY")
        return [Piece("part", self.metal, solid)]
