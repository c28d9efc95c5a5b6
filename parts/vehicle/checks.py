"""The checks of a build itself: what its rear end works out that no part of it holds against a limit.

Torsion bar and joints are looked at through the whole travel, with the link as drawn and at both ends of its range;
each check states the worst of these and where it is. The bar bears besides what the
tolerance of the hardpoints may add.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from parts.core.check import Check, all_hold, check, governing
from parts.core.loads import DEFAULT_ON_YIELD
from parts.families.links.rod_end import RodEndEnd
from parts.features.fork.throat import RodEndThroat
from parts.standards.materials.materials import material
from parts.strength.method import work
from parts.strength.pinned.pin import bending_stress
from parts.strength.vectors import cross
from parts.vehicle.engine_bolts import engine_bolt_checks
from parts.vehicle.file.case_entries import FallCase
from parts.vehicle.file.places import direction_of
from parts.vehicle.loads.ends import not_modelled
from parts.vehicle.own_loads import own_load_checks
from parts.vehicle.rear_end.rear import Rear
from parts.vehicle.rear_end.suspension import Response, swing_check
from parts.vehicle.space.fit import fit_checks
from parts.vehicle.space.lean import lean_checks

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.vehicle.build import Build
    from parts.vehicle.space.interference import Clash

UNBUILT = "metal in metal, and bolts that cannot be put in: `oneoff make` sees both in the solids"


@dataclass(frozen=True)
class BuildResult:
    """What the checks of a build itself say.

    Attributes:
        name, title, file: of the build.
        checks: every check.
        uncovered: what is not checked, and why.
        ends: where loads end on what is not modelled, and by which cases.
    """

    name: str
    title: str
    file: str
    checks: tuple[Check, ...]
    uncovered: tuple[str, ...]
    ends: tuple[str, ...] = ()

    @cached_property
    def governing(self) -> Check | None:
        """The check with the largest share of its allowable used; None without one."""
        return governing(self.checks)

    @cached_property
    def ok(self) -> bool:
        """True where every check reaches its required factor."""
        return all_hold(self.checks)


class Allowed(NamedTuple):
    """What a joint may swing to one side [rad], and the end of a part that sets it."""

    swing: float
    by: str


def check_build(build: Build) -> BuildResult:
    """Check a build itself; its parts are checked by themselves.

    Args:
        build: the build.

    Returns:
        How its parts fit the hardpoints, and the checks of its rear end where it states one.

    Raises:
        InputError: something is wrong in a file.
    """
    rear = build.rear
    checks: tuple[Check, ...] = (*fit_checks(build), *lean_checks(build))
    uncovered: list[str] = [UNBUILT]
    if rear is None:
        uncovered.append("the build states no rear end: bar, let-off and swing of joints")
    else:
        limits = allowed_swings(build, rear)
        checks = (*_checks(rear, limits), *checks)
        uncovered += [
            f"swing of the joint at {at}: no part of the build states a rod end there"
            for at in _joints(rear)
            if at not in limits
        ]
    front = build.entry.front_end
    if front is not None and front.corner is not None and front.corner.rails == 1:
        uncovered.append(
            "the gusset of a single rail under what rolls and yaws the head tube: its tubes twist"
        )
    checks = (*checks, *bending_checks(build), *engine_bolt_checks(build), *own_load_checks(build))
    return BuildResult(
        build.name, build.entry.title, str(build.path), checks, tuple(uncovered), not_modelled(build.ends)
    )  # fmt: skip


def bending_checks(build: Build) -> Iterator[Check]:
    """What bends over in a fall against yield under every other case that acts where it strikes.

    Args:
        build: the build.
    """
    cases = build.entry.cases
    falls = [one for one in cases if isinstance(one, FallCase)]
    for at, bends in {one.at: one.bends for one in falls if one.bends is not None}.items():
        own = {f"fall on {at}", *(one.name for one in falls if one.at == at)}
        metal = material(bends.material.name, thickness_mm=bends.diameter)
        along = direction_of(bends.along, build.points)
        for case in build.cases:
            here = [one.force for one in case.held if one.point == at and not one.mirrored]
            if not here or case.name in own:
                continue
            square = cross(along / np.linalg.norm(along), np.sum(here, axis=0))
            yield check(
                f"{at}, bends in a fall alone", "bending", load_case=case.name, unit="MPa",
                demand=work(
                    bending_stress, M=bends.lever * float(np.linalg.norm(square)), D=bends.diameter, d=bends.bore
                ),
                capacity=metal.yield_strength, required=DEFAULT_ON_YIELD,
                note="what is to bend over in a fall must stay straight in every other case",
            )  # fmt: skip


def with_solids(found: BuildResult, struck: Iterable[Clash], stuck: Iterable[str]) -> BuildResult:
    """The checks of a build with what its solids tell: metal in metal, and bolts that cannot be put in or turned.

    Args:
        found: the checks without solids.
        struck: what comes too near; a gap that is merely small is no fault.
        stuck: sentences on what cannot be put together.
    """
    faults = [
        _fault(f"{one.one} and {one.other}, common volume", one.position, one.volume, "mm^3")
        for one in struck
        if one.volume > 0.0
    ]
    faults += [_fault(one, "as drawn", 1.0, "bolt") for one in stuck]
    left = tuple(one for one in found.uncovered if one != UNBUILT)
    return replace(found, checks=(*found.checks, *faults), uncovered=left)


def _fault(name: str, where: str, much: float, unit: str) -> Check:
    return check(
        name, "assembly", load_case=where, demand=much, capacity=0.0, unit=unit, required=1.0,
        note="seen in the solids at their places; hardware counts as plain cylinders",
    )  # fmt: skip


def _joints(rear: Rear) -> Mapping[str, Callable[[Response], Any]]:
    """The joints of the link by their hardpoint, with what each swings [rad]."""
    return {
        rear.entry.pick_up: lambda found: found.motion.pick_up_swing,
        rear.entry.arm_end: lambda found: found.motion.arm_swing,
    }


def _checks(rear: Rear, limits: Mapping[str, Allowed]) -> Iterator[Check]:
    yield rear.greatest_shear
    if rear.entry.bar.preset:
        yield rear.least_wound
    for at, swing in _joints(rear).items():
        if at in limits:
            yield rear.worst_check(swing, _held_to(at, swing, limits[at]))


def _held_to(
    at: str, swing: Callable[[Response], Any], allowed: Allowed
) -> Callable[[Response, str, float], Check]:
    return lambda found, case, _: swing_check(at, swing(found), allowed.swing, allowed.by, case)


def allowed_swings(build: Build, rear: Rear) -> dict[str, Allowed]:
    """What the joints of the link may swing, by the hardpoint that they sit at.

    A rod end may meet its own spacers' gap, or the ears of another part that it sits between: the least counts.

    Args:
        build: the build.
        rear: its rear end.

    Returns:
        A joint where no part states a rod end has none.
    """
    found: dict[str, Allowed] = {}
    for name, entry in build.entries.items():
        for own, at in entry.points.items():
            if at not in _joints(rear):
                continue
            swing = swing_at(build.part(name), own)
            if swing is not None and (at not in found or swing < found[at].swing):
                found[at] = Allowed(swing, f"{name}, {own}")
    return found


def swing_at(part: Part, own: str) -> float | None:
    """What a rod end on a part, or between its ears, may swing at a load point [rad]; None without one."""
    end = getattr(part, own.replace(" ", "_"), part)
    if isinstance(end, RodEndEnd):
        return float(end.swing())
    throat = getattr(getattr(end, "ears", None), "throat", None)
    return float(throat.swing()) if isinstance(throat, RodEndThroat) else None
