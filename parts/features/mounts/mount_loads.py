"""What the mounts of a bracket bear under its load cases."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from parts.core.check import Check
from parts.core.freebody import Acting, reacting
from parts.core.loads import Action, ByCase, LoadCase, Required, point_actions, resultant
from parts.features.bolts.group import centre_check
from parts.features.mounts.mount_set import MountSet, greatest
from parts.features.plate.on_plate import mirrored, place_of

Reactions = tuple[Any, Any, Any]
"""Forces (..., n, 3) [N], moments (..., n, 3) [N*mm] and the pull (..., n) [N] of a rocking plate on its mounts, as on
the right-hand bracket; see `mount_set.mount_reactions`."""


@dataclass(frozen=True)
class MountLoads:
    """The mounts of a plate under what acts at its load points, places [mm] by name; `share` is what the plate bears
    of the loads [-]."""

    mounted: MountSet
    points: Mapping[str, Any]
    sign: float
    share: float = 1.0

    def borne(self, case: LoadCase, names: Sequence[str] | None = None) -> Sequence[Action]:
        """What acts on the plate at some of its points, at all where None."""
        return shared(point_actions(case, self.points, names), self.share)

    @cached_property
    def reactions(self) -> ByCase[Reactions]:
        """What the plate does to its mounts, all loads at once, on a stiff frame."""
        return ByCase(self._reactions)

    @cached_property
    def bolt_forces(self) -> ByCase[tuple[Any, Any]]:
        """What each bolt is checked for: force (..., n, 3) and the pull (..., n) of a rocking plate [N].

        The greatest of all loads at once and of each load point alone: loads balance each other through the plate only
        where the frame gives more than the plate, and a stiff frame takes each where it enters. Of these again the
        greater for a stiff plate and for a soft one, in which each load goes to the mounts near it.
        """
        return ByCase(self._bolt_forces)

    def _bolt_forces(self, case: LoadCase) -> tuple[Any, Any]:
        acting = [name for name in self.points if point_actions(case, self.points, [name])]
        found = [self.reactions(case)]
        if len(acting) > 1:
            found += [self._reactions(case, [name]) for name in acting]
            found += [self.through_a_soft_plate(case, [name]) for name in acting]
        if self.mounted.slotted:
            # With friction the slots hold as well, and the others get another share.
            found.append(self._reactions(case, by_friction=True))
        return greatest([*found, self.through_a_soft_plate(case, acting)])

    def through_a_soft_plate(self, case: LoadCase, names: Sequence[str]) -> Reactions:
        """What a plate that gives more than its mounts does to them: each load goes to those near it."""
        parts = [
            self.mounted.through_a_soft_plate(
                self.points[name][..., :2], *self.in_the_joint(case, [name])
            )
            for name in names
        ]
        forces, moments, pulls = (sum(each[1:], each[0]) for each in zip(*parts, strict=True))
        return forces, moments, pulls

    def _reactions(
        self, case: LoadCase, names: Sequence[str] | None = None, by_friction: bool = False
    ) -> Reactions:
        return self.mounted.reactions(*self.in_the_joint(case, names), by_friction)

    def in_the_joint(self, case: LoadCase, names: Sequence[str] | None = None) -> tuple[Any, Any]:
        """Force and moment of some points, of all where None, about the origin of the plate in the joint, as on the
        right-hand bracket."""
        about = place_of(self.sign, (0.0, 0.0), self.mounted.joint)
        acting = self.borne(case, names)
        return mirrored(self.sign, *resultant(acting, about))

    def on_mount(self, k: int, case: LoadCase) -> tuple[Any, Any]:
        """What one bolt is checked for [N], and the moment that its mount holds by itself [N*mm]."""
        forces, rocked = self.bolt_forces(case)
        pull = np.maximum(forces[..., k, 2], 0.0) + rocked[..., k]
        shear = forces[..., k, 0], forces[..., k, 1]
        felt = np.stack(np.broadcast_arrays(*shear, pull), axis=-1)
        # Along the line of the bolts as on a stiff plate, and as large as the pull that it is checked for asks.
        moment = self.reactions(case)[1][..., k, :]
        size = np.linalg.norm(moment, axis=-1)
        grown = rocked[..., k] * self.mounted.rim / np.where(size > 0.0, size, 1.0)
        return felt, np.where(size > 0.0, grown, 1.0)[..., None] * moment

    @cached_property
    def acting(self) -> ByCase[list[tuple[Any, Action]]]:
        """The loads and the mounts' answers, each with its place on the plate (2,)."""
        return ByCase(self._acting)

    def _acting(self, case: LoadCase) -> list[tuple[Any, Action]]:
        found = [(one.at[:2], one) for one in self.borne(case)]
        forces, moments, _ = self.reactions(case)
        for k, mount in enumerate(self.mounted.mounts):
            answer = mirrored(self.sign, -forces[..., k, :], -moments[..., k, :])
            at = place_of(self.sign, mount.at, self.mounted.joint)
            found.append((np.array(mount.at, float), Action(at, *answer)))
        return found

    def holding(self, case: LoadCase) -> list[Acting]:
        """What holds the bracket at each mount."""
        forces, moments, _ = self.reactions(case)
        found = []
        for k, mount in enumerate(self.mounted.mounts):
            carried = mirrored(self.sign, forces[..., k, :], moments[..., k, :])
            at = place_of(self.sign, mount.at, self.mounted.joint)
            found.append(reacting(f"mount {k + 1}", at, carried))
        return found

    def slots_hold(self, case: LoadCase) -> bool:
        """Whether the plate is held while its slots run free."""
        alone = self.mounted.without_friction(*self.in_the_joint(case)).value
        return self.mounted.slotted and bool(np.all(np.isfinite(alone)))

    def modes(
        self, metal: Any, thickness: Any, case: LoadCase, required: Required
    ) -> Iterator[Check]:
        """The mounts together: about their instantaneous centre, along their slots, and by friction."""
        group = self.mounted.group()
        if group is not None:
            middle = self.mounted.places.mean(axis=-2)
            about = place_of(self.sign, (middle[..., 0], middle[..., 1]), self.mounted.joint)
            acting = resultant(self.borne(case), about)
            force, moment = mirrored(self.sign, *acting)
            yield from centre_check(
                group, force[..., :2], moment[..., 2], case.name, required, "mounts"
            )
        load = self.in_the_joint(case)
        yield from self.mounted.slot_checks(*load, metal, case.name, required)
        yield from self.mounted.sliding_check(*load, metal, thickness, case)


def shared(actions: Sequence[Action], share: float) -> Sequence[Action]:
    """A share of actions [-]."""
    if share == 1.0:
        return actions
    return [Action(one.at, share * one.force, share * one.moment) for one in actions]
