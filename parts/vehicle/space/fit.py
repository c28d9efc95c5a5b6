"""How the parts of a build fit its hardpoints: load points at their places, pins along the hinges they turn with."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from parts.core.check import Check, check
from parts.families.links.rod_end import RodEndEnd
from parts.features.fork.throat import RodEndThroat
from parts.vehicle.file.places import direction_of
from parts.vehicle.rear_end.linkage import unit
from parts.vehicle.space.envelopes import envelopes

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.vehicle.build import Build

LEAST_MISFIT = 0.5
"""Distance of a load point from its hardpoint that is always passed over [mm]; common practice, no source."""
ASKEW = 1.0
"""Angle between a pin and the hinge that it turns with that its play takes up [deg]; common practice, no source."""


def misfits(build: Build, name: str, part: Part) -> dict[str, float]:
    """How far each load point of a part lies from the hardpoint that it is to sit at [mm]."""
    here = build.frame(name)
    if here is None:
        return {}
    points = part.points()
    return {
        own: round(float(np.linalg.norm(here.out(points[own]) - build.points[at])), 4)
        for own, at in build.entries[name].points.items()
        if own in points
    }


def out_of_place(build: Build, parts: Mapping[str, Part]) -> list[str]:
    """Sentences on the load points that lie off their hardpoints by more than these were measured to."""
    return [
        f"{name}: its {own} lies {far:.1f} mm off {at}, which was measured to {_within(build, at):.1f} mm"
        for name, part in parts.items()
        for own, far in misfits(build, name, part).items()
        if far > _within(build, at := build.entries[name].points[own])
    ]


def _within(build: Build, hardpoint: str) -> float:
    return max(build.hardpoints[hardpoint].within, LEAST_MISFIT)


def fit_checks(build: Build) -> Iterator[Check]:
    """The worst placed load point of each part, and each pin that turns with a hinge.

    Args:
        build: the build.

    Yields:
        Checks whose demand is a distance [mm] or an angle [deg].
    """
    hinged = _hinged(build)
    for name in build.names:
        part, entry = build.part(name), build.entries[name]
        far = misfits(build, name, part)
        if far:
            own = max(far, key=lambda one: far[one] / _within(build, entry.points[one]))
            yield _place_check(
                name, own, entry.points[own], far[own], _within(build, entry.points[own])
            )
        for own, at in entry.points.items():
            along = _pin_along(build, name, part, own)
            if at in hinged and along is not None and not _ball_at(build, at):
                yield _askew_check(name, own, hinged[at], along)


def _place_check(name: str, own: str, at: str, far: float, within: float) -> Check:
    return check(
        f"{name}, {own} at {at}",
        "place",
        load_case="as drawn",
        demand=far,
        capacity=within,
        unit="mm",
        required=1.0,
        note="of its load points the one farthest off its hardpoint, against what that was measured to",
    )


def _askew_check(name: str, own: str, hinge: _Hinge, along: np.ndarray) -> Check:
    turn = np.degrees(
        np.arctan2(np.linalg.norm(np.cross(along, hinge.way)), abs(along @ hinge.way))
    )
    return check(
        f"{name}, axis at {own} along {hinge.said}",
        "askew",
        load_case="as drawn",
        demand=round(float(turn), 6),
        capacity=ASKEW,
        unit="deg",
        required=1.0,
        note="a pin that turns with a hinge lies along it; what play takes up is common practice, no source",
    )


class _Hinge(NamedTuple):
    """What a pin turns with, and its direction [-]."""

    said: str
    way: np.ndarray


def _hinged(build: Build) -> dict[str, _Hinge]:
    """Hardpoints of joints, with what their pins turn with."""
    found: dict[str, _Hinge] = {}
    for name, body in build.entry.bodies.items():
        if body.hinge is None or body.link is None:
            continue
        way = direction_of("left" if body.axis is None else body.axis, build.points)
        one = _Hinge(f"the hinge of {name}", way)
        found |= {body.hinge: one, build.entry.links[body.link].body: one}
    if build.rear is None:
        return found
    rear, linkage = build.rear.entry, build.rear.end.linkage
    return {
        **found,
        rear.arm_end: _Hinge("the bar", unit(linkage.arm_pin)),
        rear.pick_up: _Hinge("the swing arm's pivot", unit(linkage.pick_up_pin)),
    }


def _pin_along(build: Build, name: str, part: Part, own: str) -> np.ndarray | None:
    """Direction of the pin, stub or bearing at a load point in vehicle axes [-]; None without one."""
    here, place = build.frame(name), np.asarray(part.points()[own], float)
    if here is None:
        return None
    for one in envelopes(part):
        way = one.end - one.start
        size = float(np.linalg.norm(way))
        beside = np.linalg.norm(np.cross(place - one.start, way)) / size
        along = float((place - one.start) @ way) / size
        if one.kind in ("pin", "bearing") and beside < LEAST_MISFIT and -size < along < 2.0 * size:
            return np.asarray(way / size @ here.axes)
    return None


def _ball_at(build: Build, hardpoint: str) -> bool:
    """Whether a rod end sits at a hardpoint: it swings, and its swing is checked for itself."""
    return any(
        _has_ball(build.part(name), own)
        for name, entry in build.entries.items()
        for own, at in entry.points.items()
        if at == hardpoint
    )


def _has_ball(part: Part, own: str) -> bool:
    end: Any = getattr(part, own.replace(" ", "_"), part)
    throat = getattr(getattr(end, "ears", None), "throat", None)
    return isinstance(end, RodEndEnd) or isinstance(throat, RodEndThroat)
