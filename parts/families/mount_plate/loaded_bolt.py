"""A bolt through a mount plate and the lug of what hangs on it, as an engine: it brings its load in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.fatigue_places import Spot
from parts.core.feature import Modes
from parts.core.loads import LoadCase
from parts.core.rules import Rule, at_least
from parts.core.ways import Kind
from parts.features.mounts.bolted_hole import WASHER, BoltedHole
from parts.features.mounts.holes import SlottedHole, TappedHole
from parts.features.mounts.shouldered import bolt_kind, clamped_tension, of_one
from parts.features.plate.on_plate import OnPlate
from parts.features.plate.roots import plate_kind, root_spot
from parts.features.plate.section.rims import Rim
from parts.inputs.quantities import NonNegativeLength, PositiveLength
from parts.strength.bolted import joint, slots
from parts.strength.method import Worked, work
from parts.strength.pinned import lug
from parts.strength.plates.boss import boss_root_bending

if TYPE_CHECKING:
    from parts.core.supports import Applied

STATED = {"neighbours take its share": "what each bolt of the engine bears is stated"}


class LoadedBolt(BoltedHole):
    """A bolt that clamps a lug on the outer face of the plate."""

    lug: PositiveLength = Field(
        description="Thickness of the lug, to its nut or its far side where it is tapped."
    )
    lug_width: PositiveLength = Field(
        description="Least width of the lug's face on the plate, about the bolt."
    )
    height: NonNegativeLength | None = Field(
        None,
        description="From the outer face of the plate to where the load acts; the middle of the lug where left out.",
    )
    tapped_lug: bool = Field(False, description="Whether the bolt is screwed into the lug.")

    @property
    def beyond(self) -> Any:
        return None if self.tapped_lug else self.lug

    def arm(self) -> Any:
        """From its face to where the load acts [mm]."""
        return self.lug / 2.0 if self.height is None else self.height

    def load_height(self, thickness: Any) -> Any:
        return thickness + self.base() + self.arm()

    def standing_on(self) -> tuple[Any, Any]:
        if self.boss is not None:
            return self.boss.standing_on()
        return np.minimum(self.lug_width, WASHER * self.thread.major), None

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        yield from super().rules(site)
        yield at_least(
            "engine.lug", f"{site.field}.lug_width", self.lug_width, 1.5 * self.thread.major,
            "the lug is hardly wider than its bolt", "check the width of the lug's face",
        )  # fmt: skip

    def kinds(self, site: OnPlate) -> Sequence[Kind]:
        tapped = isinstance(self.hole, TappedHole)
        kinds = ["hole of a bolt", "seat in a plate"] + (["tapped hole"] if tapped else [])
        bolt = bolt_kind(site.name, head=not tapped)
        slot = (
            [Kind("slot", site.name, left_out=STATED)] if isinstance(self.hole, SlottedHole) else []
        )
        return [
            bolt, *(Kind(kind, site.name) for kind in kinds), *slot, Kind("lug on a plate", site.name),
            plate_kind(site.name, boss=self.boss is not None),
        ]  # fmt: skip

    def modes(self, site: OnPlate, case: LoadCase) -> Iterator[Check]:
        """The bolt, pulled, sheared and rocked on the rim of its lug; its hole; and the lug that turns about it."""
        name, metal, t, required = site.name, site.metal, site.thickness, site.required(case)
        force, moment = site.felt(case)
        shear = np.hypot(force[..., 0], force[..., 1])
        size = np.stack(
            np.broadcast_arrays(force[..., 0], force[..., 1], np.abs(force[..., 2])), axis=-1
        )
        pull = of_one(clamped_tension(size, moment, self.lug_width))
        yield from self.bolt_modes(
            name, pull, shear, case.name, required, "the lug rocks on its rim"
        )
        loss = self.settled(metal, t)
        yield self.seated_mode(name, pull, case.name, required, loss)
        yield from self.bearing_modes(name, metal, t, shear, case.name, required)
        yield check(
            f"{name} hole, tear-out", "tear-out", load_case=case.name, demand=shear, unit="N",
            required=required.on_ultimate,
            capacity=work(lug.tear_out_load, R=site.pad(self.fixture(site)), D_h=self.diameter + self.travel, t=t,
                F_s=metal.shear_ultimate),
            note="through the nearest edge, whichever way the bolt pushes",
        )  # fmt: skip
        if isinstance(self.hole, TappedHole):
            yield from self.strip_modes(name, metal, self.gripped(t), pull, case.name, required)
        if self.boss is not None:
            root = work(boss_root_bending, V=shear, h=self.base(), d=self.boss.diameter, d_i=self.diameter,
                M=np.hypot(moment[..., 0], moment[..., 1]))  # fmt: skip
            for kind, strength, factor in required.both(
                metal.yield_strength, metal.ultimate_strength
            ):
                yield check(
                    f"{name} boss, bending at its root, {kind}", "bending", load_case=case.name, demand=root,
                    capacity=strength, unit="MPa", required=factor,
                )  # fmt: skip
        clamped = work(
            joint.clamp_force,
            F_i=self.least_preload(loss),
            P=site.required(case).on_ultimate * pull,
            C=0.0,
        )
        yield from self._turned(site, np.abs(moment[..., 2]), clamped, case)
        yield from self._along_its_slot(site, force, clamped, case)
        bend = np.hypot(moment[..., 0], moment[..., 1])
        yield from self.shut_modes(
            name, np.abs(force[..., 2]), bend, (self.lug_width, self.hole_under_head), case, loss
        )
        yield from self.tired_modes(name, pull, case, site, loss=loss)

    def _turned(
        self, site: OnPlate, twist: Any, clamped: Worked, case: LoadCase
    ) -> Iterator[Check]:
        """A moment about the bolt turns the lug on the plate: friction alone holds it, at the radius of the head."""
        yield check(
            f"{site.name} lug, turned about its bolt", "slip", load_case=case.name, demand=twist, unit="N*mm",
            required=site.required(case).on_ultimate,
            capacity=self._grip(site, clamped, 1.0).value * self.bears_on / 3.0,
            note="least preload less the required factor times its pull, dry machined faces, at two thirds of the "
            "radius of what presses",
        )  # fmt: skip

    def _along_its_slot(
        self, site: OnPlate, force: Any, clamped: Worked, case: LoadCase
    ) -> Iterator[Check]:
        """What pushes the bolt along its slot: friction alone holds it there."""
        if not isinstance(self.hole, SlottedHole):
            return
        x, y = self.along
        yield check(
            f"{site.name}, slip along its slot", "slip", load_case=case.name, unit="N",
            demand=np.abs(x * force[..., 0] + y * force[..., 1]), required=site.required(case).on_ultimate,
            capacity=self._grip(site, clamped, self.hole_factor),
            note="least preload less the required factor times its pull, dry machined faces",
        )  # fmt: skip

    def _grip(self, site: OnPlate, clamped: Worked, k_s: Any) -> Worked:
        """What friction holds on one face [N]."""
        faces = "steel on aluminium" if site.metal.family == "aluminium" else "steel on steel"
        mu = slots.face_friction(f"{faces}, machined, dry")
        return work(slots.slip_resistance, F=clamped, mu=mu, k_s=k_s, gamma=1.0)

    def standing(self, site: OnPlate) -> Iterator[Check]:
        yield from self.tightened(site.name, site.metal, site.thickness)

    def details(self, site: OnPlate, modes: Modes) -> Sequence[Spot]:
        if self.boss is None:
            return ()
        d, r = self.boss.standing_on()
        of = f"{site.name} boss, bending at its root, yield"
        return (root_spot(f"{site.name} boss, root", site.metal, modes, of, d, r),)

    def rims(self, site: OnPlate, modes: Modes) -> Sequence[Rim]:
        of = f"{site.name} hole, bearing, yield"
        return [self.rim(site, modes, of)]

    def applied(self, site: OnPlate, case: LoadCase) -> Sequence[Applied]:
        """What the lug does to the face about the bolt."""
        from parts.core.supports import Flat

        face, r = site.sign * float(site.thickness + self.base()), float(self.diameter) / 2.0
        at = np.array([float(self.at[0]), float(self.at[1]), face])
        room = (
            float(site.pad(self.fixture(site)))
            if self.boss is None
            else float(self.boss.diameter) / 2.0
        )
        outer = max(min(float(self.lug_width) / 2.0, room - float(site.edge_break)), r + 1.5)
        return site.pressed(Flat(at, (0.0, 0.0, 1.0), outer, r), case)
