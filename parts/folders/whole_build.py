"""What a build itself comes to, in words that runs are compared by: points, places, ride, loads and its own checks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from parts.core.figures import figure
from parts.folders.records import Change, differing
from parts.making.read_back import data
from parts.vehicle.checks import check_build

if TYPE_CHECKING:
    from parts.vehicle.build import Build
    from parts.vehicle.rear_end.rear import Rear

Whole = Mapping[str, str]
"""What is compared, and how it reads."""
KEY = "whole"
"""Where the state of a build keeps it."""


def whole_of(build: Build) -> dict[str, str]:
    """What a build itself comes to.

    Args:
        build: the build.

    Returns:
        Hardpoints and places of parts, sag, rates and forces of the rear end, loads that end on what is not modelled,
        and the factors of the build's own checks.

    Raises:
        InputError: something is wrong in a file.
    """
    found = {
        f"hardpoint {name}": f"{_place(one.at)}, within {figure(one.within)} mm"
        for name, one in build.hardpoints.items()
    }
    for name in build.names:
        frame = build.frame(name)
        if frame is not None:
            ways = "; ".join(
                f"{axis} {_way(way)}" for axis, way in zip("xy", frame.axes, strict=False)
            )
            found[f"place of {name}"] = f"{_place(frame.origin)}; {ways}"
    if build.rear is not None:
        found |= dict(_ride(build.rear))
    for case, ends in build.ends.items():
        for one in ends:
            if one.not_modelled:
                said = f"{case}, by {one.by} on {one.body} at {one.joint}"
                found[said] = f"{np.linalg.norm(one.force):.0f} N"
    for check in check_build(build).checks:
        found[f"check {check.name}"] = f"factor {figure(check.factor)} of {figure(check.required)}"
    return found


def _ride(rear: Rear) -> Iterator[tuple[str, str]]:
    if rear.rests is not None:
        for i, who in enumerate(("without rider", "with rider")):
            yield f"sag {who}", f"{float(rear.rests.travel[i]):.1f} mm"
            yield f"wheel rate at rest, {who}", f"{float(rear.rests.wheel_rate[i]):.2f} N/mm"
    yield "wheel force at full bump", f"{float(rear.whole.wheel_force[-1]):.0f} N"
    yield "link force at full bump", f"{abs(float(rear.whole.link_force[-1])):.0f} N"


def _place(at: np.ndarray) -> str:
    return ", ".join(f"{value + 0.0:.2f}" for value in np.round(at, 2)) + " mm"


def _way(way: np.ndarray) -> str:
    return ", ".join(f"{value + 0.0:.4f}" for value in np.round(way, 4))


def whole_before(state: Path) -> Whole:
    """What the build came to when its state was written; empty where there is none."""
    try:
        return {str(key): str(said) for key, said in data(state)[KEY].items()}
    except (ValueError, KeyError, TypeError, AttributeError):
        return {}


def whole_changes(name: str, before: Whole, after: Whole) -> list[Change]:
    """How a build itself differs from one before; nothing where there was none.

    Args:
        name: of the build.
        before, after: see `whole_of`.
    """
    return [Change(name, *row) for row in differing(before, after)] if before else []
