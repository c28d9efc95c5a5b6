"""Loads at stated points, carried through the bodies that they act on: from a body to what it stands on, and at last to
the frame."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from parts.core.freebody import Acting, Balance
from parts.vehicle.file.entries import BodyEntry, BuildFile, LinkEntry
from parts.vehicle.loads.build_case import BuildCase
from parts.vehicle.loads.engine import on_mounts
from parts.vehicle.loads.statics import (
    FRAME,
    Body,
    Held,
    Link,
    OnLinks,
    Post,
    Spring,
    StaticsError,
    solve,
    solve_on_links,
)
from parts.vehicle.loads.swung import Load
from parts.vehicle.loads.vehicle_cases import VehicleCase
from parts.vehicle.loads.wheels import ENGINE, FORK, MOST_ON_STOP, Gear, on_bar, resting
from parts.vehicle.loads.whole import Whole
from parts.vehicle.loads.worst_setting import settled_at_worst

Points = Mapping[str, np.ndarray]
Bodies = Sequence[Body | OnLinks]
Carried = tuple[list[Held], list[Balance]]
"""What acts on bodies, and their balances."""


def body_of(name: str, entry: BodyEntry, links: Mapping[str, LinkEntry]) -> Body | OnLinks:
    """A body with what holds it."""
    named = entry.links if entry.link is None else [entry.link]
    own = tuple(
        Link(one, links[one].frame, links[one].body, 2 if links[one].sides == "both" else 1)
        for one in named
    )
    if entry.hinge is None:
        return OnLinks(name, entry.acted_on_at, own)
    spring = (
        None
        if entry.spring is None
        else Spring(entry.spring.body, entry.spring.frame, entry.spring.pull)
    )
    stop = None if entry.stop is None else Post(entry.stop.at, entry.stop.arm)
    axis = "left" if entry.axis is None else entry.axis
    return Body(name, entry.acted_on_at, entry.hinge, own[0], axis, spring, stop)


def at_points(
    case: VehicleCase,
    bodies: Bodies,
    points: Points,
    file: BuildFile,
    gear: Gear | None = None,
    rests: bool = False,
) -> Iterator[BuildCase]:
    """A case of the vehicle carried to the bodies: what no body takes acts on the frame.

    Args:
        case: forces at hardpoints.
        bodies: on a hinge and a link, or on six links.
        points: places of the hardpoints [mm].
        file: the build's file.
        gear: the rear end, where the build has one and its masses are known.
        rests: whether the rear wheel carries beside it what it does at rest with the rider.

    Yields:
        One, or that of the link and that of the stop where the swing arm is loaded.

    Raises:
        StaticsError: a body is not held.
        StopError: the wheel is driven onto a stop that is not stated.
    """
    loads = [Held(FRAME, at, np.asarray(one), np.zeros(3), case.name) for at, one in case.forces.items()]  # fmt: skip
    held, balances = _through(loads, bodies, points, file)
    riding = () if gear is None or gear.rear is None else gear.riding
    own = [one for one in held if one.body == FRAME and one.point in riding]
    found = BuildCase(
        case.name, points, tuple(held), tuple(balances), case.formula, case.factors, case.note
    )
    if gear is None or gear.rear is None or not own:
        yield found
        return
    beside = tuple(one for one in held if one not in own)
    on_arm = [Load(one.point, one.force, one.moment, one.by) for one in own]
    still = resting(gear) if rests else ()
    every = settled_at_worst(
        gear.rear, lambda _: (*still, *on_arm), gear.points, gear.riding, gear.within
    )
    for one, more in zip(every, ("", MOST_ON_STOP), strict=False):
        where = f"the wheel goes to {one.travel:.0f} mm of travel"
        yield replace(
            found, name=case.name + more, points=one.points, held=(*one.held, *beside),
            balances=(*one.balances, *balances), note="; ".join(filter(None, (case.note, where, one.note))),
        )  # fmt: skip


def with_bodies(case: BuildCase, whole: Whole, bodies: Bodies, gear: Gear) -> BuildCase:
    """A case of the whole vehicle with what a third wheel brings, and the bodies' own masses, carried on by the bodies.

    Raises:
        StaticsError: a body with a mass stands on the swing arm, or is not held.
    """
    file, more = gear.entry, []
    at = None if file.vehicle is None else file.vehicle.third_wheel
    if at is not None and np.any(whole.third):
        more.append(Held(FRAME, at, whole.third, np.zeros(3), case.name))
    here = whole.gravity - whole.acceleration(gear.vehicle)
    for body in bodies:
        own = file.bodies[body.name]
        if own.centre is None:
            continue
        if not set(feet_of(body)).isdisjoint(gear.riding):
            raise StaticsError(
                f"{body.name} has a mass of its own and stands on the swing arm; count it under `vehicle.rear_unsprung`"
            )
        by = f"weight and inertia of {body.name}"
        more.append(Held(FRAME, own.centre, own.mass * here, np.zeros(3), by))
    held, balances = _through([*case.held, *more], bodies, case.points, file)
    return replace(case, held=tuple(held), balances=(*case.balances, *balances))


def _through(loads: Sequence[Held], bodies: Bodies, points: Points, file: BuildFile) -> Carried:
    """Loads of which those at points of a body are carried through it to what that stands on.

    Raises:
        StaticsError: a body is not held, or bodies stand on each other in a circle.
    """
    done: list[Held] = []
    balances: list[Balance] = []
    left = list(loads)
    for body in _from_above(bodies):
        own, left = _taken(left, body.name, body.loaded_at)
        if own:
            hold = solve if isinstance(body, Body) else solve_on_links
            found = hold(body, own, points)  # type: ignore[arg-type]
            # What may act in place of the other stands on the frame, as the file is read.
            done += [one for one in found.held if one.body != FRAME or one.also]
            left += [one for one in found.held if one.body == FRAME and not one.also]
            balances += found.balances
    engine, front = file.engine, file.front_end
    if engine is not None:
        own, left = _taken(left, ENGINE, engine.loaded_at)
        if own:
            acting = [
                (one.point, Acting(points[one.point], one.force, one.moment, by=one.by))
                for one in own
            ]
            held, balanced = on_mounts(ENGINE, acting, engine.mounts, points)
            left += held
            balances.append(balanced)
    if front is not None:
        own, left = _taken(left, FORK, front.loaded_at)
        if own:
            held, balanced = on_bar(front, own, points)
            left += held
            balances.append(balanced)
    return [*done, *left], balances


def _taken(
    loads: Sequence[Held], body: str, points: Sequence[str]
) -> tuple[list[Held], list[Held]]:
    """Loads on the frame at points of a body, as loads on that body; and all others."""
    own = [one for one in loads if one.body == FRAME and one.point in points]
    return [one._replace(body=body) for one in own], [
        one for one in loads if not (one.body == FRAME and one.point in points)
    ]


def _from_above(bodies: Bodies) -> Iterator[Body | OnLinks]:
    """Bodies, each before those that it stands on."""
    left = list(bodies)
    while left:
        free = [one for one in left if not any(_stands_on(other, one) for other in left)]
        if not free:
            raise StaticsError(
                f"{', '.join(one.name for one in left)} stand on each other in a circle; let one stand on the frame"
            )
        yield from free
        left = [one for one in left if one not in free]


def _stands_on(body: Body | OnLinks, other: Body | OnLinks) -> bool:
    return any(at in other.loaded_at for at in feet_of(body))


def feet_of(body: Body | OnLinks) -> Sequence[str]:
    """Hardpoints at which what holds a body stands on the frame, or on another body."""
    if isinstance(body, OnLinks):
        return [one.on_frame for one in body.links]
    return [body.link.on_frame, body.hinge]
