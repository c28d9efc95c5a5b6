"""Hardpoints moved by what their readings may be off, and what of a build moves with them."""

from __future__ import annotations

import numpy as np

from parts.vehicle.build import Build
from parts.vehicle.file.forms import forms_in, points_of

STEP = 0.01
"""How far a dimension or a hardpoint is moved to see what moves with it [mm]."""


def own_error(build: Build, point: str) -> float:
    """What a hardpoint itself may be off [mm], beyond the one that it is stated from."""
    one = build.hardpoints[point]
    base = build.hardpoints[one.stated_from].within if one.stated_from else 0.0
    return max(float(one.within) - float(base), 0.0)


def roots(build: Build, name: str) -> list[str]:
    """The hardpoints that a part's file names, and those that they are stated from."""
    found: dict[str, None] = {}
    for _, form in forms_in(build.written(name).data):
        for point in points_of(form):
            while point in build.hardpoints and point not in found:
                found[point] = None
                point = build.hardpoints[point].stated_from
    return list(found)


def moved(build: Build, point: str, axis: int) -> Build:
    """The build with a hardpoint, and all that are stated from it, moved by `STEP` along an axis."""
    step = STEP * np.eye(3)[axis]

    def hangs(one: str) -> bool:
        while one and one != point:
            one = build.hardpoints[one].stated_from
        return bool(one)

    other = Build(build.path)
    other.__dict__["hardpoints"] = {
        key: one._replace(at=one.at + step) if hangs(key) else one
        for key, one in build.hardpoints.items()
    }
    return other
