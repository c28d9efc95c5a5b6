"""A bolted mount of a plate: what holds the bracket to the frame or the engine case."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.fatigue_places import Spot
from parts.core.feature import Modes
from parts.core.loads import LoadCase
from parts.core.ways import Kind
from parts.features.bolts.slip import BOLT_E
from parts.features.mounts.bolted_hole import BoltedHole
from parts.features.mounts.holes import SlottedHole, SunkHole, TappedHole
from parts.features.mounts.shouldered import bolt_kind
from parts.features.plate.fixture import LEAST_RING
from parts.features.plate.on_plate import OnPlate
from parts.features.plate.roots import root_spot
from parts.features.plate.section.rims import Rim
from parts.inputs.quantities import PositiveLength
from parts.standards.materials.materials import Material
from parts.strength.bolted import fatigue, joint, stiffness
from parts.strength.bolted import plate as boltplate
from parts.strength.method import work
from parts.strength.pinned import lug
from parts.strength.plates.boss import boss_root_bending

if TYPE_CHECKING:
    from parts.core.supports import Support

SEAT = 1.0
"""Radius that a bolt clamps beneath its washer, in diameters of the bolt [-]."""


class Mount(BoltedHole):
    """One bolt that holds the bracket to the frame or the engine case."""

    onto: PositiveLength | None = Field(
        None,
        description="Thickness of the frame tab that the bolt goes through to its nut; left out where it is "
        "screwed into the frame.",
    )

    @property
    def beyond(self) -> Any:
        return self.onto

    @property
    def stands_off(self) -> bool:
        """True where a boss stands on the frame, so that the edge of the plate cannot press on it."""
        return self.boss is not None and bool(np.any(np.asarray(self.boss.inner) > 0.0))

    def standing_on(self) -> tuple[Any, Any] | None:
        return self.boss.standing_on() if self.boss is not None and self.stands_off else None

    def kinds(self, site: OnPlate) -> Sequence[Kind]:
        kinds = ["hole of a bolt", "seat in a plate"]
        kinds += ["tapped hole"] if isinstance(self.hole, TappedHole) else []
        kinds += ["mount boss", "boss on a plate"] if self.stands_off else []
        bolt = bolt_kind(site.name, head=not isinstance(self.hole, TappedHole))
        return [bolt, *(Kind(kind, site.name) for kind in kinds)]

    def modes(self, site: OnPlate, case: LoadCase) -> Iterator[Check]:
        """The bolt, its hole, its thread where the plate is tapped, and its boss.

        What the plate does to the bolt pulls it by z; its moment is what the mount holds by itself, of bolts in one
        line.
        """
        name, metal, thickness, required = (
            site.name,
            site.metal,
            site.thickness,
            site.required(case),
        )
        reaction, moment = site.felt(case)
        shear = np.hypot(reaction[..., 0], reaction[..., 1])
        clear, pad = np.maximum(reaction[..., 2], 0.0), site.pad(self.fixture(site))
        pries = partial(self._prying, clear, thickness, pad, site.reach)
        both = required.both(metal.yield_strength, metal.ultimate_strength)
        pull = clear + np.maximum(*(pries(strength, n) for _, strength, n in both))
        yield from self.bolt_modes(
            name, pull, shear, case.name, required, "" if self.stands_off else "prying counted"
        )
        yield from self.bearing_modes(name, metal, thickness, shear, case.name, required)
        yield check(
            f"{name} hole, tear-out", "tear-out", load_case=case.name, demand=shear,
            capacity=work(
                lug.tear_out_load, R=pad, D_h=self.diameter + self.travel, t=thickness, F_s=metal.shear_ultimate
            ),
            unit="N", required=required.on_ultimate,
            note="through the nearest edge, whichever way the bolt pushes",
        )  # fmt: skip
        loss = self.settled(metal, thickness)
        yield self.seated_mode(name, pull, case.name, required, loss)
        if isinstance(self.hole, TappedHole):
            grip = self.gripped(thickness)
            yield from self.strip_modes(name, metal, grip, pull, case.name, required)
        if self.stands_off:
            yield from self._boss_modes(site, shear, _rocking(moment), case)
        if np.any(rocking := _rocking(moment)):
            room = self.boss.diameter if self.boss is not None and self.stands_off else 2.0 * pad
            yield from self.shut_modes(name, pull, rocking, (room, self.cut_below), case, loss)
        share = self.share_of_pull(metal, thickness, pad)
        bent = self._bent(clear, moment, metal, pad, site.reach)
        again = clear + pries(metal.yield_strength, 1.0)
        yield from self.tired_modes(name, again, case, site, share, loss, bent)

    def _boss_modes(
        self, site: OnPlate, shear: Any, rocking: Any, case: LoadCase
    ) -> Iterator[Check]:
        """A boss that stands off the frame, bent at its root by the shear at its top."""
        assert self.boss is not None
        metal, required = site.metal, site.required(case)
        stress = work(
            boss_root_bending, V=shear, h=self.boss.inner, d=self.boss.diameter, d_i=self.cut_below, M=rocking
        )  # fmt: skip
        for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
            yield check(
                f"{site.name} boss, bending at its root, {kind}", "bending", load_case=case.name, demand=stress,
                capacity=strength, unit="MPa", required=factor,
            )  # fmt: skip

    def _prying(
        self, pull: Any, thickness: Any, pad: Any, reach: Any, strength: Any, n: float
    ) -> Any:
        """Force that the bent pad adds by pressing its edge on the frame [N]; none on a standoff.

        A pad that is stiff enough for the load bends under `n` times the load, which is to be borne: what pries then
        counts, by that factor. The bending reaches no farther than the pad is wide: beyond, it is the plate that bends,
        and its sections are looked at by themselves, as they are where the pad yields at both ends of its strip.

        Args:
            pull: on the bolt [N].
            thickness: of the plate [mm].
            pad: radius of the pad [mm].
            reach: to what bends it [mm].
            strength: of the plate [MPa].
            n: how many times the pull is to be borne.
        """
        if self.stands_off:
            return np.zeros_like(pull)
        arm = np.clip(reach, self.thread.major, 2.0 * pad)
        d, wide = self.thread.major, 2.0 * pad
        size = {"t": thickness, "b": arm, "a": pad, "d": d, "d_h": self.diameter, "p": wide}
        most = boltplate.prying_most(**size, F_u=strength)
        held = np.where(pull > most, pull, np.minimum(n * pull, (1.0 - 1e-9) * most))
        return boltplate.prying_force(held, **size, F_u=strength) / np.maximum(held, 1e-9) * pull

    def _bent(self, pull: Any, moment: Any, metal: Material, pad: Any, reach: Any) -> Any:
        """Bending stress of the bolt by what tilts its pad [MPa]: the strip from the load, held from turning at both
        ends and no longer than the pad is wide, and a plate that rocks on bolts in one line.

        A bolt whose head bears elsewhere feels all of the pull, which counts more.
        """
        if isinstance(self.hole, TappedHole):
            return 0.0
        strip = pull * np.clip(reach, self.thread.major, 2.0 * pad) / 2.0
        return work(
            fatigue.clamped_bending_stress, M=strip + _rocking(moment), D=self.bears_on, d_h=self.hole_under_head,
            d_s=np.sqrt(4.0 / np.pi * self.thread.stress_area), E_p=metal.E, E_b=BOLT_E,
        )  # fmt: skip

    def share_of_pull(self, metal: Material, thickness: Any, pad: Any) -> Any:
        """Share of a pull that the closed joint leaves to the bolt [-], all of it where its head bears elsewhere.

        The bolt is taken as stiff as its shank all along, the joint as soft as what lies about the bolt on the plate.
        """
        if isinstance(self.hole, TappedHole):
            return 1.0
        d, grip = self.thread.major, self.gripped(thickness)
        across, hole = self.bears_on, self.hole_under_head
        room = 2.0 * pad if self.boss is None else self.boss.diameter
        shank = np.pi / 4.0 * np.square(d)
        return work(
            joint.load_share,
            k_b=work(stiffness.bolt_stiffness, A_d=shank, l_d=grip, A_t=shank, l_t=0.0, E=BOLT_E),
            k_m=work(
                stiffness.narrow_member_stiffness, E=metal.E, L=np.maximum(grip, 0.5 * across), d_w=across,
                d_h=hole, D_A=np.maximum(room, across),
            ),
        )  # fmt: skip

    def standing(self, site: OnPlate) -> Iterator[Check]:
        yield from self.tightened(site.name, site.metal, site.thickness)

    def moment_on(self, thickness: Any, reaction: Any, moment: Any) -> Any:
        """What the shear at the frame's face and a rocking mount bend the middle of the plate by [N*mm]."""
        high, rocking = thickness / 2.0 - self.low(), _rocking(moment)
        size = np.hypot(reaction[..., 0], reaction[..., 1])
        grown = high + rocking / np.where(size > 0.0, size, 1.0)
        alone = np.where(size > 0.0, 0.0, rocking)
        x, y = grown * reaction[..., 1] + alone, -grown * reaction[..., 0]
        return np.stack(np.broadcast_arrays(x, y, 0.0), axis=-1)

    def details(self, site: OnPlate, modes: Modes) -> Sequence[Spot]:
        """The root of a boss that stands off, for its own fatigue."""
        if self.boss is None or not self.stands_off:
            return ()
        name, of = site.name, f"{site.name} boss, bending at its root, yield"
        d, r = self.boss.standing_on()
        return (root_spot(f"{name} boss, root", site.metal, modes, of, d, r),)

    def rims(self, site: OnPlate, modes: Modes) -> Sequence[Rim]:
        return (self.rim(site, modes, f"{site.name} hole, bearing, yield"),)

    def supports(self, site: OnPlate) -> Sequence[Support]:
        """The ring on the inner face that the bolt clamps to the frame."""
        from parts.core.supports import Flat, Support

        inner = float(self.diameter) / 2.0
        if isinstance(self.hole, SunkHole) and self.hole.side == "inner":
            inner = float(self.sunk) / 2.0
        stands = self.standing_on()
        room = float(site.pad(self.fixture(site))) if stands is None else float(stands[0]) / 2.0
        d = float(self.thread.major)
        outer = min(max(SEAT * d, inner + LEAST_RING), room)
        if isinstance(self.hole, SlottedHole):
            inner, outer = 0.0, outer + float(self.travel) / 2.0
        at = np.array([float(self.at[0]), float(self.at[1]), site.sign * float(self.low())])
        square = (0.0, 0.0, 1.0)
        ring = (Flat(at, square, outer, inner),)
        if site.runs:
            along = np.array([*map(float, self.along), 0.0])
            return (Support(site.name, ring, d, "across", along, slides_on=square),)
        return (Support(site.name, ring, d, slides_on=square),)


def _rocking(moment: Any) -> Any:
    """What a mount holds by itself of a plate that rocks on bolts in one line [N*mm]."""
    return np.hypot(moment[..., 0], moment[..., 1])
