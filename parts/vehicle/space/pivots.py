"""A lever's hub on the pivot of its bracket: one joint, whose sizes both state and must state alike."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.inputs.document import Path_
from parts.inputs.problems import Problem
from parts.vehicle.file.resolving import problem
from parts.vehicle.file.values import Stated

if TYPE_CHECKING:
    from parts.families.foot_lever.family import FootLever

ALIKE = 0.005
"""By how much sizes of one joint may differ as they are stated [mm]: rounding alone."""
ASTRAY = 1.0
"""By how much post and pin may stand elsewhere than a lever says [mm]; common practice, no source."""
PIVOTS = ("pedal", "shift")
"""Load points of a bracket that a lever turns at."""


def pivot_misfits(build: Stated, name: str) -> Iterator[Problem]:
    """What keeps a lever off the pivot, or a peg out of the fork, of a bracket whose own stands at the same hardpoint.

    Args:
        build: the build.
        name: of a part; nothing is said of one that is neither foot lever nor footpeg.

    Yields:
        A problem for each field of it that does not fit.
    """
    lever = build.bare(name)
    if lever.family == "footpeg":
        yield from _peg_misfits(build, name)
    at = build.entries[name].points.get("pivot")
    if lever.family != "foot lever" or at is None:
        return
    for other in build.names:
        here = build.entries[other].points
        for own in PIVOTS:
            if other != name and here.get(own) == at:
                found: Any = lever
                pivot = getattr(build.bare(other), own, None)
                document = build.resolved(name)[0]
                for field, wrong, right in _misfits(found, pivot, f"{other}, {own}"):
                    path = ("hub", "pivot", field)
                    yield problem(document, path, "pivot", wrong, right)
                for at_field, wrong, right in _astray(build, name, other):
                    yield problem(document, at_field, "pivot", wrong, right)


def _peg_misfits(build: Stated, name: str) -> Iterator[Problem]:
    peg: Any = build.bare(name)
    at = build.entries[name].points.get("foot")
    for other in build.names:
        if at is None or other == name or build.entries[other].points.get("peg") != at:
            continue
        held: Any = getattr(build.bare(other), "peg", None)
        for path, wrong, right in _in_fork(peg.shank, held, other):
            yield problem(build.resolved(name)[0], path, "pivot", wrong, right)


def _in_fork(shank: Any, held: Any, named: str) -> Iterator[tuple[Path_, str, str]]:
    folds, forked = shank.type.startswith("folding"), held.type == "clevised"
    if folds != forked:
        yield (
            ("shank", "type"), f"{named} has a {'fork' if forked else 'boss'} there",
            "a peg that folds stands in a fork (`peg: {type: clevised}` of the bracket), any other on a boss",
        )  # fmt: skip
    if not folds or not forked:
        return
    ears, eye = held.ears, shank.eye
    rows = (
        (("shank", "eye", "width"), eye.width, ears.throat.tongue, "the tongue that its throat is made for"),
        (("shank", "eye", "pin"), eye.pin.diameter, ears.pin.diameter, "its pin"),
        (("shank", "eye", "pin"), eye.pin.beyond, ears.pin.beyond, "what the pin goes through beyond the ears"),
        (("shank", "eye", "diameter"), eye.diameter, 2.0 * ears.depth, "twice the throat's depth"),
        (("shank", "over"), shank.over, ears.back, "its pin over the plate"),
    )  # fmt: skip
    for path, own, its, what in rows:
        if abs(float(own) - float(its)) > ALIKE:
            yield (
                path, f"the peg states {float(own):g} mm, and {named} has {float(its):g} mm: {what}",
                "let the peg take it from the bracket, as in `{of: ..., value: ...}`",
            )  # fmt: skip


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


def _astray(build: Stated, name: str, other: str) -> Iterator[tuple[Path_, str, str]]:
    """Post and pin of the bracket that stand elsewhere than the lever says."""
    lever: Any = build.bare(name)
    here, there = build.frame(name), build.frame(other)
    points = build.bare(other).points()
    if here is None or there is None:
        return
    seen = {
        own: (there.out(points[own]) - here.origin) @ here.axes.T
        for own in ("stop", "spring")
        if own in points
    }
    if lever.stop is not None and "stop" in seen:
        yield from _off_the_post(lever, seen["stop"], f"{other}, stop")
    anchor = getattr(lever.spring, "anchor", None)
    if anchor is not None and "spring" in seen:
        stated = float(anchor.distance) * np.array([np.cos(anchor.angle), np.sin(anchor.angle)])
        off = float(np.linalg.norm(seen["spring"][:2] - stated))
        if off > ASTRAY:
            yield (
                ("spring", "anchor"), f"the pin of the bracket stands {off:.1f} mm from there ({other}, spring)",
                "take both from one hardpoint",
            )  # fmt: skip


def _off_the_post(lever: Any, post: np.ndarray, named: str) -> Iterator[tuple[Path_, str, str]]:
    limb, stop = lever.limbs[0 if lever.stop.limb == "arm" else -1], lever.stop
    blade, (x, y, z) = limb.leg.blade, limb.turn.T @ post
    if abs(x - stop.radius) > ASTRAY:
        yield (
            ("stop", "radius"), f"the post stands {x:.1f} mm out along the {limb.name} ({named})",
            "state that, or move the post",
        )  # fmt: skip
        return
    flank = float(blade.half_width(x)) + stop.post / 2.0
    if abs(y - stop.sense * flank) > stop.eccentric + ASTRAY / 2.0:
        yield (
            ("stop",), f"the {limb.name} meets its post with its middle at {stop.sense * flank:.1f} mm beside that of "
            f"the {limb.name}, and it stands at {y:.1f} mm ({named})", "move the post of the bracket to the flank",
        )  # fmt: skip
    if abs(z - float(blade.middle(x))) > float(blade.thickness(x)) / 2.0:
        yield (
            ("stop",), f"the post ends {abs(z - float(blade.middle(x))):.1f} mm beside the middle of the {limb.name}, "
            f"which passes it ({named})", "change `height:` of the bracket's stop",
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
