"""A load case of a build: what acts on every body at its hardpoints, and on every part in its own axes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from parts.core.freebody import Acting, Balance, balance
from parts.core.loads import Required
from parts.strength.vectors import cross
from parts.vehicle.file.case_entries import SpectrumEntry
from parts.vehicle.file.entries import PartEntry
from parts.vehicle.file.places import MIRROR, Frame
from parts.vehicle.loads.statics import FRAME, Held
from parts.vehicle.loads.vehicle import Vehicle
from parts.vehicle.loads.vehicle_cases import Factor

NEGLIGIBLE = 1e-9
"""Share of the largest force below which a component is rounding's [-]."""
DIGITS = 6
STATED = "as the build states"
"""Source of a number that is the builder's own choice."""


class CaseError(ValueError):
    """A load case that lacks something; `.key` is the key of the file to look at."""

    def __init__(self, key: str, wrong: str, right: str) -> None:
        self.key, self.wrong, self.right = key, wrong, right
        super().__init__(f"{wrong}; {right}")


@dataclass(frozen=True)
class BuildCase:
    """A load case of the build.

    Attributes:
        name: of the case.
        points: places of all hardpoints in it [mm]; those of the rear end move with the wheel.
        held: what acts on the bodies, in vehicle axes.
        balances: of the bodies that it loads.
        formula: how its forces were found.
        factors: what was chosen for it.
        note: what to know of it.
        spectrum: how often it comes; None for a rare peak.
        required: factors asked of the parts in it; None for each part's own.
        order: of the engine's inertia, which comes at every turn of the crank; empty in any other case.
    """

    name: str
    points: Mapping[str, np.ndarray]
    held: tuple[Held, ...]
    balances: tuple[Balance, ...]
    formula: str = ""
    factors: tuple[Factor, ...] = ()
    note: str = ""
    spectrum: SpectrumEntry | None = None
    required: Required | None = None
    order: str = ""


def with_frame(case: BuildCase, vehicle: Vehicle | None) -> BuildCase:
    """A case with the balance of the frame: what all bodies bring into it, the masses of machine and rider take."""
    acting = [
        Acting(
            np.asarray(case.points[one.point]) * (MIRROR if one.mirrored else 1.0),
            one.force,
            one.moment,
            by=one.by,
        )
        for one in case.held
        if one.body == FRAME and not one.also
    ]
    if not acting:
        return case
    centre = np.zeros(3) if vehicle is None else np.asarray(vehicle.centre()[1])
    force, moment = np.sum([one.force for one in acting], axis=0), np.zeros(3)
    for one in acting:
        moment = moment + cross(np.asarray(one.at) - centre, one.force) + np.asarray(one.moment)
    masses = Acting(centre, -force, -moment, by="weight and inertia of machine and rider")
    return replace(case, balances=(*case.balances, balance(FRAME, [*acting, masses])))


def on_part(case: BuildCase, entry: PartEntry, frame: Frame) -> Iterator[dict[str, Any]]:
    """The load cases of a part, as its file would state them.

    Args:
        case: the case of the build.
        entry: the part's entry: its body, where its load points sit, and what they carry.
        frame: the part's axes in that case.

    Yields:
        The case, where something acts on the part; and that of its twin, mirrored, where it bears another load.
    """
    own = _on_side(case, entry, frame, twin=False)
    if own:
        yield _named(case, case.name, own)
    if entry.sides == "both" and any(one.mirrored for one in case.held):
        other = _on_side(case, entry, frame, twin=True)
        if other and other != own:
            yield _named(case, f"{case.name}, on the twin", other)
    for also in dict.fromkeys(one.also for one in case.held if one.also):
        found = _on_side(case, entry, frame, twin=False, also=also)
        if found:
            yield _named(case, f"{case.name}, {also}", found)


def _on_side(
    case: BuildCase, entry: PartEntry, frame: Frame, twin: bool, also: str = ""
) -> list[dict[str, Any]]:
    """What acts on a part, or on its twin as if that stood on this side."""
    forces = []
    place, turn = (MIRROR, -MIRROR) if twin else (np.ones(3), np.ones(3))
    for point, sits in entry.points.items():
        hardpoint = entry.carries.get(point, sits)
        here = [
            one
            for one in case.held
            if (one.body, one.point, one.mirrored, one.also) == (entry.body, hardpoint, twin, also)
        ]
        if here:
            beside = np.asarray(case.points[hardpoint]) - np.asarray(case.points[sits])
            force = np.sum([one.force for one in here], axis=0) * place
            moment = np.sum([one.moment for one in here], axis=0) * turn + cross(beside, force)
            forces.append(
                (point, _clean(frame.turned_into(force)), _clean(frame.turned_into(moment)))
            )
    if not any(np.any(force) or np.any(moment) for _, force, moment in forces):
        return []
    return [_stated(*one) for one in forces]


def _named(case: BuildCase, name: str, forces: list[dict[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {"name": name, "forces": forces}
    if case.required is not None:
        found["required"] = case.required.model_dump()
    if case.spectrum is None:
        return found
    blocks = [{"cycles": one.cycles, "share": one.share} for one in case.spectrum.blocks]
    return {**found, "spectrum": blocks, "ratio": case.spectrum.ratio}


def _clean(vector: np.ndarray) -> np.ndarray:
    """A vector without what rounding left in it."""
    least = NEGLIGIBLE * np.max(np.abs(vector), initial=0.0)
    return np.round(np.where(np.abs(vector) <= least, 0.0, vector), DIGITS) + 0.0


def _stated(point: str, force: np.ndarray, moment: np.ndarray) -> dict[str, Any]:
    one: dict[str, Any] = {"at": point, "force": [f"{float(v)!r} N" for v in force]}
    if np.any(moment):
        one["moment"] = [f"{float(v)!r} N*mm" for v in moment]
    return one
