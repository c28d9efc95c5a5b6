"""The mounts of a plate together: where they stand, and what the plate does to each of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import LoadCase, Required
from parts.features.bolts.group import Group
from parts.features.bolts.slip import AGAINST_SLIP
from parts.features.mounts.holes import SlottedHole
from parts.features.mounts.mount import Mount
from parts.standards.materials.materials import Material
from parts.strength.bolted import group, joint, slots
from parts.strength.method import Worked, plain, work
from parts.strength.vectors import cross

IN_LINE = 1e-6
"""Bolts this flat about their principal axis, in squares, stand in one line [-]."""

STUCK = 1.35
"""What the mounts of a soft plate bear in its plane more than pins would while friction holds them [-]; own finite
elements of one bracket on four mounts, no study. Where they slide, they bear as under a stiff plate."""
NEAREST = 10.0
"""Distance of a load from a mount below which it counts as this [mm]."""


@dataclass(frozen=True)
class MountSet:
    """The mounts of a plate, with the radius of the pad of each [mm]."""

    mounts: Sequence[Mount]
    pads: Sequence[Any]

    @cached_property
    def joint(self) -> Any:
        """Height of the lowest face that lies on the frame [mm]."""
        return np.minimum.reduce(
            np.broadcast_arrays(*(np.asarray(mount.low(), float) for mount in self.mounts))
        )

    @cached_property
    def places(self) -> np.ndarray:
        """Places of the mounts [mm], shape (..., mounts, 2)."""
        flat = np.broadcast_arrays(*(np.asarray(v, float) for m in self.mounts for v in m.at))
        return np.stack([np.stack(flat[0::2], axis=-1), np.stack(flat[1::2], axis=-1)], axis=-1)

    @cached_property
    def rim(self) -> Any:
        """Least radius on which a mount sits [mm]."""
        found = []
        for mount, pad in zip(self.mounts, self.pads, strict=True):
            boss = mount.boss
            stands = boss is not None and bool(np.any(np.asarray(boss.inner) > 0.0))
            found.append(np.asarray(boss.diameter / 2.0 if boss is not None and stands else pad))
        return np.minimum.reduce(np.broadcast_arrays(*found))

    def reactions(
        self, force: Any, moment: Any, by_friction: bool = False, stiff: Any = 1.0
    ) -> tuple[Any, Any, Any]:
        """What the plate does to its mounts; force and moment about the origin of the plate, in the joint.

        A slot holds nothing along itself, unless it is held `by_friction` or nothing else holds the plate. `stiff` is
        how stiff each mount stands against the others, shape (..., n).
        """
        forces, moments, pull = mount_reactions(
            self.places, force, moment, np.zeros(3), self.rim, stiff
        )
        if self.slotted and not by_friction:
            free = self.without_friction(force, moment, stiff).value
            across = np.where(np.isfinite(free), free, forces[..., :2])
            forces = np.concatenate([across, forces[..., 2:]], axis=-1)
        return forces, moments, pull

    @property
    def slotted(self) -> bool:
        """Whether any of them has a slot."""
        return any(isinstance(one.hole, SlottedHole) for one in self.mounts)

    def without_friction(self, force: Any, moment: Any, stiff: Any = 1.0) -> Worked:
        """Shear on each mount [N], shape (..., n, 2), whose slots hold nothing along themselves; not a number where
        nothing but friction holds the plate."""
        flat = np.broadcast_arrays(*(np.asarray(v, float) for m in self.mounts for v in m.along))
        along = np.stack([np.stack(flat[0::2], axis=-1), np.stack(flat[1::2], axis=-1)], axis=-1)
        force, moment = np.asarray(force, float), np.asarray(moment, float)
        return work(
            slots.slotted_shear, xy=self.places, along=along, Fx=force[..., 0], Fy=force[..., 1], x=0.0,
            y=0.0, M=moment[..., 2], A=stiff,
        )  # fmt: skip

    def through_a_soft_plate(self, place: Any, force: Any, moment: Any) -> tuple[Any, Any, Any]:
        """What a plate that gives more than its mounts does to them under a load at a place (..., 2).

        Each stands as stiff as a cantilever from the load to it, by the inverse cube of its distance; clamped pads are
        pulled harder, and what stands on them pushed harder while they do not slide.
        """
        away = self.places - np.asarray(place, float)[..., None, :]
        far = np.maximum(np.hypot(away[..., 0], away[..., 1]), NEAREST)
        stiff = (far.min(-1, keepdims=True) / far) ** 3
        forces, moments, pull = self.reactions(force, moment, stiff=stiff)
        more = float(group.clamped_pull(len(self.mounts)))
        # Of a plate that rocks on bolts in one line no mount holds more than all of its moment.
        rocks = np.minimum(more, stiff.sum(-1, keepdims=True) / stiff)
        return forces * np.array([STUCK, STUCK, more]), rocks[..., None] * moments, rocks * pull

    def slot_checks(
        self, force: Any, moment: Any, metal: Material, case: str, required: Required
    ) -> Iterator[Check]:
        """The mounts with their slots running free, and the friction where nothing else holds along them."""
        if not self.slotted:
            return
        free = self.without_friction(force, moment)
        alone = np.all(np.isfinite(free.value), axis=(-1, -2))
        forces, _, rocked = self.reactions(force, moment, by_friction=True)
        held = self._by_friction(
            forces, rocked, metal, np.zeros(len(self.mounts)), required.on_ultimate
        )
        if np.any(alone):
            weakest = np.array([mount.shear_load() for mount in self.mounts])
            yield check(
                "mounts, shear with their slots free", "bolt group", load_case=case, unit="-", capacity=1.0,
                demand=work(slots.slip_use, V=free, F_s=weakest), required=required.on_ultimate,
                note="each bolt's share of its own strength in shear; a slot holds nothing along itself",
            )  # fmt: skip
        # Where the holes hold by themselves no friction is needed.
        asked = np.where(alone[..., None, None], 0.0, forces[..., :2])
        yield check(
            "mounts, slip along their slots", "slip", load_case=case, unit="-", capacity=1.0,
            demand=work(slots.slip_use, V=asked, F_s=held),
            required=required.on_ultimate,
            note="the friction that nothing but it holds; least preload less the required factor times the pull, dry "
            "machined faces",
        )  # fmt: skip

    def _by_friction(
        self, forces: Any, rocked: Any, metal: Material, losses: Any, times: float
    ) -> Any:
        """Shear [N] that each mount holds by friction (..., n), so many times its pull taken off the least preload."""
        faces = "steel on aluminium" if metal.family == "aluminium" else "steel on steel"
        mu, held = slots.face_friction(f"{faces}, machined, dry"), []
        for k, mount in enumerate(self.mounts):
            pull = np.maximum(forces[..., k, 2], 0.0) + rocked[..., k]
            clamped = joint.clamp_force(mount.least_preload(losses[k]).value, times * pull, 0.0)
            held.append(slots.slip_resistance(clamped, mu, mount.hole_factor, gamma=1.0))
        return np.stack(np.broadcast_arrays(*held), axis=-1)

    def sliding_check(
        self, force: Any, moment: Any, metal: Material, thickness: Any, case: LoadCase
    ) -> Iterator[Check]:
        """The friction under a load that comes and goes: a plate that slides in its holes shakes its bolts loose and
        bends them. A rare peak may slide it: the bolts then bear, and their shear and their holes are checked."""
        if not case.spectrum:
            return
        most = max(block.share for block in case.spectrum)
        forces, _, rocked = self.reactions(most * force, most * moment, by_friction=True)
        losses = [plain(mount.settled(metal, thickness)) for mount in self.mounts]
        held = self._by_friction(forces, rocked, metal, losses, AGAINST_SLIP)
        yield check(
            "mounts, slip under the repeated load", "slip", load_case=case.name, unit="-", capacity=1.0,
            demand=work(slots.slip_use, V=forces[..., :2], F_s=held), required=AGAINST_SLIP,
            note="least preload after settling less the required factor times the pull, dry machined faces",
        )  # fmt: skip

    def group(self) -> Group | None:
        """The mounts as one group, with the strength of the weakest; None for a single bolt."""
        if len(self.mounts) < 2:
            return None
        weakest = np.minimum.reduce([np.asarray(one.shear_load(), float) for one in self.mounts])
        middle = self.places.mean(axis=-2, keepdims=True)
        return Group(self.places - middle, 0.0, 0.0, weakest, np.nan)


def greatest(found: Sequence[tuple[Any, Any, Any]]) -> tuple[Any, Any]:
    """The greatest that each mount feels of several loads: force (..., n, 3) and the pull (..., n) of a rocking
    plate [N]; `found` holds what `mount_reactions` gives."""
    force, _, rocked = found[0]
    for alone, _, rock in found[1:]:
        more = np.hypot(alone[..., 0], alone[..., 1]) > np.hypot(force[..., 0], force[..., 1])
        force = np.concatenate(
            [
                np.where(more[..., None], alone[..., :2], force[..., :2]),
                np.maximum(alone[..., 2:], force[..., 2:]),
            ],
            axis=-1,
        )
        rocked = np.maximum(rocked, rock)
    return force, rocked


def mount_reactions(
    xy: Any, force: Any, moment: Any, at: Any, rim: Any, stiff: Any = 1.0
) -> tuple[Any, Any, Any]:
    """What the plate does to each of its mounts under a force and a moment at any place.

    The bolts share the load as a rigid plate on equal springs (`boltgroup.bolt_reactions`). Where all of them
    stand in one line, the moment about that line rocks the plate on the rims of its pads: every bolt takes its
    share, by its stiffness, at the radius of the rim.

    Args:
        xy: places of the bolts [mm], shape (..., n, 2).
        force: on the plate [N], shape (..., 3).
        moment: on the plate [N*mm], shape (..., 3).
        at: where the force acts, z from the joint [mm], shape (..., 3).
        rim: least radius on which a pad sits [mm].
        stiff: how stiff each mount stands against the others, shape (..., n), or one number for all.

    Returns:
        Forces (..., n, 3) [N] with z pulling, moments (..., n, 3) [N*mm], and the further pull (..., n) [N]
        of a rocking plate.
    """
    xy = np.asarray(xy, float)
    centre = xy.mean(axis=-2)
    off = xy - centre[..., None, :]
    sxx, syy, sxy = (
        (off[..., 0] ** 2).sum(-1),
        (off[..., 1] ** 2).sum(-1),
        (off[..., 0] * off[..., 1]).sum(-1),
    )
    in_line = sxx * syy - sxy**2 <= IN_LINE * (sxx + syy) ** 2
    way = np.arctan2(2.0 * sxy, sxx - syy) / 2.0
    line = np.stack(np.broadcast_arrays(np.cos(way), np.sin(way), 0.0), axis=-1)
    arm = np.asarray(at, float) - np.concatenate(
        [centre, np.zeros((*centre.shape[:-1], 1))], axis=-1
    )
    about = np.asarray(moment, float) + cross(arm, force)
    rocking = np.where(in_line, (about * line).sum(-1), 0.0)
    held = rocking[..., None] * line
    forces = group.bolt_reactions(xy, force, moment - held, at, stiff)
    even = np.broadcast_to(
        np.asarray(stiff, float), (*np.broadcast_shapes(np.shape(stiff), xy.shape[:-1]),)
    )
    share = even / even.sum(axis=-1, keepdims=True)
    moments = share[..., None] * held[..., None, :]
    pull = share * (np.abs(rocking) / rim)[..., None]
    return forces, moments, pull
