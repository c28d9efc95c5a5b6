"""A part that is one plate: mounts that hold it, points at which it is loaded, and what else is bored through it.

It says the plate's sections, mounts, sheet and solid for every family of such plates; a family says what stands where.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property, partial
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.assembled import Assembled, Placed
from parts.core.check import Check
from parts.core.fatigue_places import Spot
from parts.core.freebody import Acting
from parts.core.loadpath import Span
from parts.core.loads import Action, ByCase, LoadCase, point_actions, resultant
from parts.core.part import Piece
from parts.core.rules import Rule
from parts.core.ways import Kind
from parts.features.bolts.hardware import galvanic_cautions
from parts.features.bolts.torque import tightening_facts
from parts.features.mounts.mount import Mount
from parts.features.mounts.mount_loads import MountLoads, shared
from parts.features.mounts.mount_set import MountSet
from parts.features.mounts.stud import Threaded
from parts.features.plate.beside import Beside, plate_beside
from parts.features.plate.fixture import Fixture
from parts.features.plate.load_path import WEBS, LoadPath
from parts.features.plate.on_plate import OnPlate, mirrored, place_of
from parts.features.plate.plate import Plate, room_rules
from parts.features.plate.plate_feature import Lever, PlateFeature
from parts.features.plate.roots import stress_of
from parts.features.plate.section.webs import corner_notch, webs
from parts.features.plate.shape import Shape
from parts.features.press.fit import limit_facts
from parts.features.press.pressed import coating_facts
from parts.inputs.document import dotted

if TYPE_CHECKING:
    from parts.core.blank import Blank
    from parts.core.drawing import Drawn
    from parts.core.fatigue_places import Detail
    from parts.core.supports import Held


class Placing(NamedTuple):
    """A feature of the plate, and its site."""

    feature: PlateFeature
    site: OnPlate


def _one_load(case: LoadCase) -> bool:
    """False of a case that holds the loads of many."""
    every = (v for load in case.forces for v in (*load.force[:3], *load.moment[:3]))
    return not any(map(np.ndim, every))


class CollectingPlate(Assembled):
    """One plate that collects points."""

    plate: Plate = Field(description="The plate and what it keeps about holes and windows.")
    mounts: list[Mount] = Field(
        min_length=2, max_length=12, description="Bolts to the frame or the engine case."
    )

    @property
    def chief(self) -> str:
        """The load point that windows keep clear of, and that the sheet cuts through."""
        raise NotImplementedError

    @property
    def bolted_on(self) -> tuple[str, ...]:
        """Load points whose holes stand with those of the mounts."""
        return ()

    @property
    def share(self) -> float:
        """What it bears of the loads [-]: less than all beside a twin."""
        return 1.0

    def far_of(self, one: PlateFeature) -> Any:
        """What a bolt goes through to its nut besides what is stated of it [mm]."""
        return 0.0

    @property
    def handed(self) -> bool:
        """Whether there is a right-hand and a left-hand one."""
        return False

    @property
    def sign(self) -> float:
        """+1 where z points out of the plate's outer face, -1 of one that is its mirror image."""
        return 1.0

    @property
    def levers(self) -> Mapping[str, Lever]:
        """What is loaded at a load point of its own, by the name of the point."""
        raise NotImplementedError

    @property
    def unloaded(self) -> Mapping[str, PlateFeature]:
        """What stands on the plate besides and bears nothing, by name."""
        return {}

    def field_of(self, name: str) -> str:
        """The dotted path of what has this name."""
        return name.replace(" ", "_")

    # --- what it is made of -------------------------------------------------------------------------

    def _site(self, name: str, one: Lever) -> OnPlate:
        t = self.plate.thickness
        root, middle = (place_of(self.sign, one.at, z) for z in (t + one.base(), t / 2.0))
        return OnPlate(
            self.field_of(name), self.material, name, self.edge_break, t, root,
            actions=lambda case: self._own(case, name), required=self.factors,
            plate=self.plate, sign=self.sign, point=name,
            felt=partial(self._acting_on, name, root), bending=partial(self._acting_on, name, middle),
            loads=self.loads, others=partial(self._beside_point, name),
        )  # fmt: skip

    def _beside_point(self, name: str) -> Sequence[tuple[Any, Any]]:
        """Place and radius of the pad of every other point."""
        pads = zip(self.fixtures(), self.shape.pads, strict=True)
        return [(one.at, pad) for one, pad in pads if one.name != name]

    def _acting_on(self, name: str, place: Any, case: LoadCase) -> tuple[Any, Any]:
        """What acts at one point, taken to a place, as on the right-hand bracket."""
        return mirrored(self.sign, *resultant(self._own(case, name), place))

    def _own(self, case: LoadCase, name: str) -> Sequence[Action]:
        """What it bears of the loads at a point."""
        return shared(point_actions(case, self._points, [name]), self.share)

    def _felt_by(self, k: int, case: LoadCase) -> tuple[Any, Any]:
        return self.loads_on_mounts.on_mount(k, case)

    def _bent_by(self, k: int, case: LoadCase) -> tuple[Any, Any]:
        """Force and moment of a mount on the middle of the plate: what pulls its bolt does not bend it there."""
        felt, moment = self.loads_on_mounts.on_mount(k, case)
        return 0.0 * felt, self.mounts[k].moment_on(self.plate.thickness, felt, moment)

    @cached_property
    def _rough(self) -> Sequence[Placing]:
        """The mounts, the other bolted holes, then what is loaded; of metal whose thickness is not known yet."""
        loaded = {name: Placing(one, self._site(name, one)) for name, one in self.levers.items()}
        chief, at_chief = loaded[self.chief]
        (stands,) = chief.fixtures(at_chief)
        found = [
            Placing(mount, replace(
                at_chief, field=dotted(("mounts", k)), name=f"mount {k + 1}", point="",
                at=place_of(self.sign, mount.at, 0.0),
                felt=partial(self._felt_by, k), bending=partial(self._bent_by, k), reach=stands.beyond_foot(mount.at),
            ))
            for k, mount in enumerate(self.mounts)
        ]  # fmt: skip
        found += [loaded.pop(name) for name in self.bolted_on if name in loaded]
        for name, one in self.unloaded.items():
            site = replace(at_chief, field=self.field_of(name), name=name, point="")
            found.append(Placing(one, site))
        return [*found, *loaded.values()]

    @cached_property
    def _placed(self) -> Sequence[Placing]:
        metal = self.metal
        return [
            Placing(one, replace(site, metal=metal, far=self.far_of(one)))
            for one, site in self._rough
        ]

    @cached_property
    def _checked(self) -> Sequence[Placing]:
        """The mounts, then what is loaded, the cylinder last."""
        by_name = {site.name: Placing(one, site) for one, site in self._placed}
        return [*self._placed[: len(self.mounts)], *(by_name[name] for name in self.levers)]

    def features(self) -> Sequence[Placed]:
        return [Placed(*one) for one in self._placed]

    def fixtures(self) -> Sequence[Fixture]:
        """Every point of the plate, the mounts first."""
        return self.shape.fixtures

    @cached_property
    def shape(self) -> Shape:
        """The plate with what stands on it and is bored."""
        found = [(one, site) for feature, site in self._rough for one in feature.fixtures(site)]
        fixtures = [one for one, _ in found]
        pads = [site.pad(one) for one, site in found]
        return Shape(self.plate, fixtures, pads, len(self.mounts), self.edge_break, self.chief)

    def stock_thickness(self) -> Any:
        return self.shape.stock

    # --- loads --------------------------------------------------------------------------------------

    def points(self) -> Mapping[str, Any]:
        return self._points

    @cached_property
    def _points(self) -> Mapping[str, Any]:
        """Where it bears its loads itself."""
        t = self.plate.thickness
        return {
            name: place_of(self.sign, one.at, one.load_height(t))
            for name, one in self.levers.items()
        }

    @cached_property
    def loads_on_mounts(self) -> MountLoads:
        """What the mounts bear."""
        mounted = MountSet(self.mounts, self.shape.pads[: len(self.mounts)])
        return MountLoads(mounted, self._points, self.sign, self.share)

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        return self.loads_on_mounts.holding(case)

    @cached_property
    def path(self) -> LoadPath:
        """The plate cut from its mounts to what is loaded."""
        loaded = {load.at for case in self.loads for load in case.forces} or {self.chief}
        loads = self.loads_on_mounts
        return LoadPath(
            self.shape.layers, self.fixtures(), loads.mounted, self._points, tuple(sorted(loaded)), self.sign,
            self.plate.thickness, self.metal, loads.acting,
            [rim for one, site in self._placed for rim in one.rims(site, self._failing[site.name])],
            [one for case in self.loads for one in (case, case.turned) if one is not None],
            webs(
                self.shape.figure, np.array([one.place for one in self.fixtures()]), float(self.plate.web),
                np.array(self.shape.pads, float),
            ),
        )  # fmt: skip

    def spans(self) -> Sequence[Span]:
        found = list(self.path.spans())
        for one, site in self._checked:
            if site.point in self.path.loaded:
                found += one.spans(site)
        return found

    @property
    def _one_plate(self) -> bool:
        """False where figures, load points or forces differ."""
        return (
            self.shape.one_figure
            and all(map(_one_load, self.loads))
            and max(np.ndim(v) for v in self._points.values()) <= 1
        )

    # --- rules and checks ---------------------------------------------------------------------------

    def rules(self) -> Iterator[Rule]:
        yield from self.plate.rules(self.edge_break)
        for one, site in self._placed:
            yield from one.rules(site)
        pads = zip(self.fixtures(), self.shape.pads, strict=True)
        yield from room_rules(list(pads), self.plate.wall, self.edge_break)

    def kinds(self) -> Sequence[Kind]:
        found = [Kind("window plate")]
        found += [Kind(kind, "mounts") for kind in ("bolt group", "clamped plate")]
        found += [Kind("slot", "mounts")] if self.loads_on_mounts.mounted.slotted else []
        for one, site in self._checked:
            idle = (
                ""
                if any(map(site.loaded, self.loads)) or not site.point
                else "no load case loads it"
            )
            found += [replace(kind, idle=idle) for kind in one.kinds(site)]
        return found

    def modes(self, case: LoadCase) -> Iterator[Check]:
        required = self.factors(case)
        yield from self.loads_on_mounts.modes(self.metal, self.plate.thickness, case, required)
        for (_, site), besides in zip(self._checked, self._besides, strict=True):
            if site.loaded(case):
                yield from self._failing[site.name](case)
                for beside in besides:
                    yield from beside.modes(self.metal, *site.bending(case), case.name, required)
        if self._one_plate and _one_load(case):
            yield from self.path.modes(case, required)

    @cached_property
    def _failing(self) -> Mapping[str, ByCase[tuple[Check, ...]]]:
        """What can fail of each that stands on the plate under a load case, worked out once: rims ask for it again."""

        def kept(one: PlateFeature, site: OnPlate) -> ByCase[tuple[Check, ...]]:
            return ByCase(lambda case: tuple(one.modes(site, case)))

        return {site.name: kept(one, site) for one, site in self._placed}

    @cached_property
    def _besides(self) -> Sequence[Sequence[Beside]]:
        """The plate beside each of `_checked`: no load case changes it."""
        return [tuple(self._beside(*one)) for one in self._checked]

    def _beside(self, one: PlateFeature, site: OnPlate) -> Iterator[Beside]:
        """The plate beside what bends it."""
        if (stands := one.standing_on()) is not None:
            pad = site.pad(one.fixtures(site)[0])
            yield plate_beside(
                self.shape, self.loads_on_mounts.mounted, one.at, pad, site.name, *stands
            )

    def details(self) -> Sequence[Detail]:
        repeated = [case for case in self.loads if case.spectrum]
        found: list[Detail] = []
        for (one, site), besides in zip(self._checked, self._besides, strict=True):
            if any(map(site.loaded, repeated)):
                found += [beside.root(self.metal, self.checks_under) for beside in besides]
                found += one.details(site, self.checks_under)
        if repeated and self.plate.windows != "none":
            web, stress = self.plate.web, stress_of(self.checks_under, f"{WEBS}, yield")
            K = corner_notch(web, self.plate.corner)
            note = "fillet of a web beside a pad three webs wide, felt in full"
            around = None
            if self._one_plate and len(places := self.path.along_webs):
                # What bends a web is felt beside it as far as it is wide.
                around = places, np.array([0.0, 0.0, 1.0]), web
            what = "webs at the corners of windows"
            found.append(Spot(what, self.metal, stress, web, K, note=note, around=around))
        return found

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.features.plate.supports import plate_held

        return [plate_held(self.loads_on_mounts, self._checked, case)]

    # --- what leaves for the shop -------------------------------------------------------------------

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        found = self.shape.facts()
        held = [*self.mounts, *(self.levers[k] for k in self.bolted_on if k in self.levers)]
        bolts = [one for one in [*held, *self.unloaded.values()] if isinstance(one, Threaded)]
        for one in {m.thread.designation + m.bolt_class: m for m in bolts}.values():
            found |= tightening_facts(one.named, one.thread, one.tightened_to)
        for name, lever in self.levers.items():
            for what, of in lever.fitted().items():
                found |= limit_facts(f"{what} of {name}", of)
        return found | coating_facts(self.finish, self.metal)

    def blanks(self) -> Sequence[Blank]:
        from parts.features.plate.blank import plate_blank

        return [plate_blank(self.shape, self.sign)]

    def cautions(self) -> Sequence[str]:
        return (
            *galvanic_cautions(self.metal, self.touching()),
            *super().cautions(),
        )

    @property
    def softened(self) -> bool:
        return self.shape.softened

    def drawn(self) -> Sequence[Drawn]:
        from parts.features.plate.drawing import plate_drawn

        middle = np.mean([one.place for one in self.fixtures()], axis=0)
        marks = [one.marks(replace(site, middle=middle)) for one, site in self._placed]
        return [plate_drawn(self.shape, marks, self.sign, handed=self.handed)]

    def build(self) -> Sequence[Piece]:
        solid = self.shape.solid()
        if self.sign < 0.0:
            solid = solid.mirror("XY")
        return [Piece("part", self.metal, solid)]
