"""The load cases of a build, each carried to the bodies, with what is wrong told at its place in the file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Protocol

import numpy as np

from parts.inputs.document import Path_, steps_of
from parts.inputs.problems import InputError, Problem
from parts.vehicle.file.case_entries import CarCornerCase, FallCase, HungCase, RiderCase, StatedCase
from parts.vehicle.file.entries import BuildFile
from parts.vehicle.file.hardpoints import Hardpoint
from parts.vehicle.file.sitting import on_swing_arm
from parts.vehicle.loads.at_points import body_of
from parts.vehicle.loads.build_case import BuildCase, CaseError, with_frame
from parts.vehicle.loads.cases import cases_of_entry
from parts.vehicle.loads.rear_cases import damper_cases, rear_cases
from parts.vehicle.loads.statics import Body, OnLinks, StaticsError
from parts.vehicle.loads.swung import StopError, stop_on_arm
from parts.vehicle.loads.vehicle import Vehicle, VehicleError
from parts.vehicle.loads.wheels import Gear
from parts.vehicle.rear_end.linkage import LinkageError
from parts.vehicle.rear_end.rear import SWING_ARM, Rear


class Loaded(Protocol):
    """A build as its load cases are read from it; `parts.vehicle.build.Build` says what each answer holds."""

    @property
    def entry(self) -> BuildFile: ...
    @property
    def points(self) -> Mapping[str, np.ndarray]: ...
    @property
    def hardpoints(self) -> Mapping[str, Hardpoint]: ...
    @property
    def entries(self) -> Mapping[str, Any]: ...
    @property
    def bodies(self) -> tuple[Body | OnLinks, ...]: ...
    @property
    def rear(self) -> Rear | None: ...
    @property
    def vehicle(self) -> Vehicle | None: ...
    def problem(self, path: Path_, code: str, wrong: str, right: str) -> Problem: ...
    def refused(self, path: Path_, code: str, error: ValueError) -> InputError: ...


def cases_of(build: Loaded) -> tuple[BuildCase, ...]:
    """Every load case of a build, those of the file first, in its order.

    Raises:
        InputError: a case lacks something, cannot be held, or is called like another.
    """
    found = [*_stated(build, range(len(build.entry.cases)))]
    if build.rear is not None:
        found += [*_of_rear(build, build.rear)]
    return _named_apart(build, found)


class Sprung(Loaded, Protocol):
    """A build whose rear end is known without the range of its link."""

    @property
    def sprung(self) -> Rear | None: ...
    def vehicle_of(self, entry: BuildFile) -> Vehicle | None: ...


@dataclass(frozen=True)
class AtPoints:
    """A build as far as loads at stated points pass it, its file read without what they do not pass."""

    build: Sprung
    entry: BuildFile

    @property
    def points(self) -> Mapping[str, np.ndarray]:
        return self.build.points

    @property
    def hardpoints(self) -> Mapping[str, Hardpoint]:
        return self.build.hardpoints

    @property
    def entries(self) -> Mapping[str, Any]:
        return self.build.entries

    @cached_property
    def bodies(self) -> tuple[Body | OnLinks, ...]:
        return bodies_of(self.entry)

    @property
    def rear(self) -> Rear | None:
        return self.build.sprung

    @cached_property
    def vehicle(self) -> Vehicle | None:
        return self.build.vehicle_of(self.entry)

    def problem(self, path: Path_, code: str, wrong: str, right: str) -> Problem:
        return self.build.problem(path, code, wrong, right)

    def refused(self, path: Path_, code: str, error: ValueError) -> InputError:
        return self.build.refused(path, code, error)


def cases_at_points(build: AtPoints) -> tuple[BuildCase, ...]:
    """The load cases that act at stated points, in the order of the file; on bodies on links no others act.

    Raises:
        InputError: as `cases_of`.
    """
    kinds = StatedCase, CarCornerCase, RiderCase, FallCase, HungCase
    which = [i for i, one in enumerate(build.entry.cases) if isinstance(one, kinds)]
    return _named_apart(build, [*_stated(build, which)])


def bodies_of(entry: BuildFile) -> tuple[Body | OnLinks, ...]:
    """Bodies on a hinge and a link, or on six links."""
    return tuple(body_of(name, one, entry.links) for name, one in entry.bodies.items())


def _named_apart(build: Loaded, found: Sequence[BuildCase]) -> tuple[BuildCase, ...]:
    """The cases, each by a name of its own, with the balance of the frame."""
    names = [case.name for case in found]
    for i, name in enumerate(names):
        if name in names[:i]:
            raise InputError([build.problem(("cases",), "same_name", f"two load cases are called {name!r}",
                                            "give one of them a `name:`")])  # fmt: skip
    return tuple(with_frame(case, build.vehicle) for case in found)


def _stated(build: Loaded, which: Iterable[int]) -> Iterator[BuildCase]:
    """The load cases of some of the entries of the file."""
    vehicle, entry = build.vehicle, build.entry
    gear = None
    if vehicle is not None:
        vehicle, sunk = at_rest(vehicle, build.rear, _front_axle(build))
        moving = riding(build)
        gear = Gear(entry, vehicle, build.rear, build.points, moving, sunk, _within(build, moving))
    for i in which:
        one = entry.cases[i]
        if vehicle is None and build.rear is not None:
            _refuse_without_masses(build, i)
        try:
            yield from cases_of_entry(one, vehicle, gear, build.bodies, build.points, entry)
        except CaseError as error:
            raise InputError(
                [build.problem(("cases", i, error.key), "bad_case", error.wrong, error.right)]
            ) from None
        except (StaticsError, StopError, VehicleError) as error:
            raise build.refused(("cases", i), "statics", error) from None


def _refuse_without_masses(build: Loaded, i: int) -> None:
    """A load on the swing arm comes beside what the wheel carries at rest."""
    named = [path for path, at in build.entry.cases[i].hardpoints() if at in riding(build)]
    if named:
        raise InputError([build.problem(("cases", i, *named[0]), "no_masses",
                                        "this point sits on the swing arm, and what its wheel carries is not known",
                                        "state `vehicle:` with its masses")])  # fmt: skip


def _within(build: Loaded, moving: Sequence[str]) -> dict[str, float]:
    """Tolerance of the hardpoints on the swing arm, of chain, stops and torque arm [mm], but for those that the rear
    end moves by, which it varies itself; those without fault left out."""
    if build.rear is None:
        return {}
    entry, rear = build.entry, build.rear.entry
    named = [*moving]
    named += [one.on_frame for one in (rear.stops or rear.damper,) if one is not None]
    named += [] if entry.chain is None else [entry.chain.front_sprocket]
    if entry.rear_brake is not None and entry.rear_brake.torque_arm is not None:
        named.append(entry.rear_brake.torque_arm.frame)
    others = [name for name in dict.fromkeys(named) if name not in build.rear.drawn]
    return {name: size for name in others if (size := build.hardpoints[name].within) > 0.0}


def _front_axle(build: Loaded) -> float | None:
    front = build.entry.front_end
    return None if front is None else float(build.points[front.axle][0])


def at_rest(
    vehicle: Vehicle, rear: Rear | None, front_axle: float | None = None
) -> tuple[Vehicle, float]:
    """The vehicle as it stands at rest with the rider, its points having been measured in another position.

    Args:
        vehicle: as drawn.
        rear: the rear end; None where it does not spring.
        front_axle: place of the front axle along x [mm], for the wheelbase.

    Returns:
        The same with the rear axle where it is at rest, and how far the ground came up [mm]; the front end sinks by as
        much.
    """
    if rear is None or rear.rests is None:
        return vehicle, 0.0
    drawn = np.asarray(vehicle.rear_axle, float)
    alone, axle = (np.asarray(rear.at(float(travel)).motion.axle) for travel in rear.rests.travel)
    ahead = front_axle if front_axle is not None else drawn[0] + vehicle.wheelbase
    lifted = float(axle[2] - alone[2])
    standing = replace(vehicle, rear_axle=axle, wheelbase=float(ahead - axle[0]), lifted=lifted)
    return standing, float(axle[2] - drawn[2])


def _of_rear(build: Loaded, rear: Rear) -> Iterator[BuildCase]:
    path: Path_ = ("rear_end", "bumps")
    try:
        moving = riding(build)
        yield from rear_cases(rear, build.points, _within(build, stop_on_arm(rear)), moving)
        path = ("rear_end", "damper")
        yield from damper_cases(rear, build.points, moving)
    except CaseError as error:
        at = (*path, *steps_of(error.key))
        raise InputError([build.problem(at, "bad_case", error.wrong, error.right)]) from None
    except LinkageError as error:
        raise build.refused(("rear_end",), "linkage", error) from None


def riding(build: Loaded) -> tuple[str, ...]:
    """Hardpoints that move with the swing arm."""
    if build.entry.rear_end is None:
        return ()
    found = [at for _, at, _ in on_swing_arm(build.entry)]
    for one in build.entries.values():
        if one.body == SWING_ARM:
            found += [*one.points.values(), *one.carries.values()]
    return tuple(one for one in dict.fromkeys(found) if one != build.entry.rear_end.pivot)
