"""A lever's hub on the pivot of its bracket: one joint, whose sizes both state and must state alike."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from parts.inputs.problems import Problem
from parts.vehicle.file.resolving import problem
from parts.vehicle.file.values import Stated

if TYPE_CHECKING:
    from parts.families.foot_lever.family import FootLever

ALIKE = 0.005
"""By how much sizes of one joint may differ as they are stated [mm]: rounding alone."""
PIVOTS = ("pedal", "shift")
"""Load points of a bracket that a lever turns at."""


def pivot_misfits(build: Stated, name: str) -> Iterator[Problem]:
    """What keeps a lever off the pivots of the brackets whose own stands at the same hardpoint.

    Args:
        build: the build.
        name: of a part; nothing is said of one that is no foot lever.

    Yields:
        A problem for each field of the lever that does not fit.
    """
    lever = build.bare(name)
    at = build.entries[name].points.get("pivot")
    if lever.family != "foot lever" or at is None:
        return
    for other in build.names:
        here = build.entries[other].points
        for own in PIVOTS:
            if other != name and here.get(own) == at:
                found: Any = lever
                pivot = getattr(build.bare(other), own, None)
                for field, wrong, right in _misfits(found, pivot, f"{other}, {own}"):
                    path = ("hub", "pivot", field)
                    yield problem(build.resolved(name)[0], path, "pivot", wrong, right)


def _misfits(lever: FootLever, pivot: Any, named: str) -> Iterator[tuple[str, str, str]]:
    one, other = _sizes(lever.hub.pivot), _sizes(pivot)
    if one.keys() != other.keys():
        yield (
            "type", f"a hub on {_said(one)} does not go on {_said(other, pivot=True)}, which stands there ({named})",
            "a hub on bearings takes a stub, one on a bush a tapped boss with its shoulder bolt",
        )  # fmt: skip
        return
    for field, size in one.items():
        if any(abs(a - b) > ALIKE for a, b in zip(size, other[field], strict=True)):
            yield (
                field, f"the lever states {_in_mm(size)}, and its pivot {_in_mm(other[field])} ({named})",
                "let the lever take it from the bracket, as in `{of: ..., value: ...}`",
            )  # fmt: skip
    room = 2.0 * (float(pivot.height) - float(pivot.base()))
    if float(lever.hub.width) > room + ALIKE:
        yield (
            "length" if "journal" in one else "spacer",
            f"the hub is {float(lever.hub.width):g} mm wide, and stands between boss and load with {room:g} mm "
            f"({named})", "shorten the hub, or raise `height:` of the bracket's pivot",
        )  # fmt: skip


def _in_mm(sizes: tuple[float, ...]) -> str:
    return " x ".join(f"{one:g}" for one in sizes) + " mm" if any(sizes) else "none"


def _said(sizes: Mapping[str, tuple[float, ...]], pivot: bool = False) -> str:
    if "journal" in sizes:
        return "a shoulder bolt" if pivot else "a bush"
    if "bearing" in sizes:
        return "a stub" if pivot else "bearings"
    return "a seat in the plate"


def _sizes(pivot: Any) -> Mapping[str, tuple[float, ...]]:
    """What hub or pivot states of their joint [mm], by the field of the hub."""
    if pivot.type in ("bush", "tapped"):
        return {"journal": (float(pivot.journal if pivot.type == "bush" else pivot.shoulder),)}
    if pivot.type not in ("bearings", "stub"):
        return {}
    of, thrust = pivot.bearing, pivot.thrust
    washers = (0.0, 0.0) if thrust is None else (float(thrust.bore), float(thrust.outside))
    return {
        "bearing": (float(of.bore), float(of.outside), float(of.width)),
        "spacer": (float(pivot.spacer),),
        "thrust": washers,
    }
