"""Loads that one part's own file states at a joint, held against what the part on the other side of it bears."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import LoadCase, point_actions

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.inputs.document import Document
    from parts.vehicle.build import Build

AT_JOINT = 0.5
"""Distance within which what holds a part counts as standing at one of its load points [mm]."""
LEAST = 1.0
"""Forces below this are rounding [N]."""
ROUNDED = 0.98
"""Share of such a load that the other part must bear at the least [-]: numbers in files are rounded."""


def own_load_checks(build: Build) -> Iterator[Check]:
    """Joints of two parts where one is loaded by its own file: what it is pushed with, it pushes the other with.

    A load that only one of two joined parts bears is lost on the way. Of each part and joint the check is that of the
    load case whose force the other part bears the least share of.

    Args:
        build: the build.

    Yields:
        Checks whose demand is a force [N], and whose capacity is the greatest force along it that the other part bears
        in any of its load cases [N].
    """
    for name, entry in build.entries.items():
        part = build.part(name)
        given = _names(build.stated(name)) - _names(build.resolved(name)[0])
        own = [one for one in part.loads if one.name not in given]
        for at in dict.fromkeys(entry.points.values()) if own else ():
            borne = {
                other: _at(build, other, at, build.part(other).loads)
                for other, far in build.entries.items()
                if other != name and at in far.points.values()
            }
            found = [
                one
                for case, force in _at(build, name, at, own).items()
                if (one := _held_against(f"{name} at {at}", case, force, borne)) is not None
            ]
            if found:
                yield min(found, key=lambda one: float(one.factor))


def _names(document: Document) -> set[str]:
    """The load cases of a part's file, or of it with what its build gives it."""
    return {one["name"] for one in document.data.get("loads") or ()}


def _held_against(
    said: str, case: str, force: np.ndarray, borne: Mapping[str, Mapping[str, np.ndarray]]
) -> Check | None:
    size = float(np.linalg.norm(force))
    if size < LEAST or not borne:
        return None
    along = {
        other: max((float(-one @ force) / size for one in loads.values()), default=0.0)
        for other, loads in borne.items()
    }
    other = max(along, key=along.__getitem__)
    return check(
        f"{said}, own load borne by {other}", "load path", load_case=case, demand=size,
        capacity=max(along[other], 0.0), unit="N", required=ROUNDED,
        note=f"its own file states this load, and {other} bears no more along it in any load case: state it in the "
        "build as `type: stated`, so that both bear it",
    )  # fmt: skip


def _at(build: Build, name: str, at: str, cases: list[LoadCase]) -> dict[str, np.ndarray]:
    """What acts on a part at a hardpoint in each load case, loads and supports, in the vehicle's axes [N]."""
    part, here = build.part(name), build.frame(name)
    if here is None:
        return {}
    own = [point for point, of in build.entries[name].points.items() if of == at]
    return {case.name: _force(part, case, own) @ here.axes for case in cases}


def _force(part: Part, case: LoadCase, own: list[str]) -> np.ndarray:
    points = part.points()
    loads = [np.asarray(one.force, float) for one in point_actions(case, points, own)]
    held = [
        np.asarray(one.force, float)
        for one in part.holding(case)
        if any(np.linalg.norm(np.asarray(one.at) - points[point]) < AT_JOINT for point in own)
    ]
    return np.asarray(np.sum([*loads, *held, np.zeros(3)], axis=0))
