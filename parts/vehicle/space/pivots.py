"""A lever's hub on the pivot of its bracket: one joint, whose sizes both state and must state alike."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

import numpy as np

from parts.core.check import Check, check
from parts.families.foot_bracket.family import FootControlBracket
from parts.families.foot_bracket.pivot import Pivot, TappedPivot
from parts.families.foot_bracket.stub import StubPivot
from parts.families.foot_lever.bearings import OnBearings
from parts.families.foot_lever.bush import OnBush
from parts.families.foot_lever.family import FootLever

if TYPE_CHECKING:
    from parts.vehicle.build import Build

ALIKE = 0.005
"""By how much sizes of one joint may differ as they are stated [mm]: rounding alone."""
PIVOTS = ("pedal", "shift")
"""Load points of a bracket that a lever turns at."""


def pivot_checks(build: Build) -> Iterator[Check]:
    """Each lever of a build on the bracket whose pivot stands at the same hardpoint.

    Args:
        build: the build.

    Yields:
        Two checks for each: their sizes, and the room along the pivot [mm].
    """
    for name in build.names:
        lever = build.bare(name)
        at = build.entries[name].points.get("pivot")
        if not isinstance(lever, FootLever) or at is None:
            continue
        for other in build.names:
            bracket = build.bare(other)
            here = build.entries[other].points
            for own in PIVOTS if isinstance(bracket, FootControlBracket) else ():
                if here.get(own) == at:
                    yield from _joined(f"{name} on {other}", lever, getattr(bracket, own))


def _joined(name: str, lever: FootLever, pivot: Pivot) -> Iterator[Check]:
    one, other = _sizes(lever.hub.pivot), _sizes(pivot)
    off = {key: abs(one[key] - other[key]) for key in one if key in other}
    worst = max(off, key=lambda key: off[key], default="")
    wrong = one.keys() != other.keys()
    said = (
        f"{worst}: {one[worst]:g} mm in the lever, {other[worst]:g} mm in the bracket"
        if off
        else ""
    )
    yield check(
        f"{name}, sizes of the pivot", "joint", load_case="as drawn", unit="mm", required=1.0, capacity=ALIKE,
        demand=np.inf if wrong else off[worst],
        note="a hub on bearings takes a stub, one on a bush a shoulder bolt: these two do not go together" if wrong else
        f"{said}; let the lever take it from the bracket, as in `{{of: ..., value: ...}}`",
    )  # fmt: skip
    room = float(pivot.height) - float(pivot.base())
    yield check(
        f"{name}, room along the pivot", "joint", load_case="as drawn", unit="mm", required=1.0,
        demand=float(lever.hub.width) / 2.0, capacity=room,
        note="half of the hub, from where the lever loads its pivot to the face of the boss",
    )  # fmt: skip


def _sizes(pivot: OnBearings | OnBush | Pivot) -> Mapping[str, float]:
    """What hub and pivot state of their joint [mm]."""
    if isinstance(pivot, OnBush):
        return {"journal": float(pivot.journal)}
    if isinstance(pivot, TappedPivot):
        return {"journal": float(pivot.shoulder)}
    if not isinstance(pivot, OnBearings | StubPivot):
        return {}
    of, thrust = pivot.bearing, pivot.thrust
    return {
        "bore of the bearings": float(of.bore), "outside of the bearings": float(of.outside),
        "width of the bearings": float(of.width), "spacer": float(pivot.spacer),
        "bore of the thrust bearing": 0.0 if thrust is None else float(thrust.bore),
    }  # fmt: skip
