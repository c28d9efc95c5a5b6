"""The load cases of a build: what acts on every body at its hardpoints, and on every part in its own axes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from parts.build import vehicle_cases
from parts.build.buildfile import BodyEntry, CaseEntry, LinkEntry, PartEntry, SpectrumEntry
from parts.build.places import DIRECTIONS, Frame
from parts.build.rear import Rear
from parts.build.statics import FRAME, Body, Held, Link, solve
from parts.build.vehicle import Vehicle
from parts.build.vehicle_cases import Factor, VehicleCase
from parts.freebody import Balance

NEGLIGIBLE = 1e-9
"""Share of the largest force below which a component is rounding's [-]."""
DIGITS = 6
TYPES = {
    "one peg": vehicle_cases.on_foot_peg,
    "seat": vehicle_cases.on_seat,
    "brake pedal": vehicle_cases.on_brake_pedal,
    "kick lever": vehicle_cases.on_kick_lever,
}
TURNED = ("brake pedal", "kick lever")
"""Types of load whose direction is a choice."""


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
    """

    name: str
    points: Mapping[str, np.ndarray]
    held: tuple[Held, ...]
    balances: tuple[Balance, ...]
    formula: str = ""
    factors: tuple[Factor, ...] = ()
    note: str = ""
    spectrum: SpectrumEntry | None = None


def vehicle_case(
    entry: CaseEntry, vehicle: Vehicle | None, points: Mapping[str, np.ndarray]
) -> VehicleCase:
    """The forces of a case at its hardpoint.

    Raises:
        CaseError: it needs what is not stated.
    """
    way = _way(entry.direction, points)
    if entry.type == "stated":
        if entry.force is None or not entry.name:
            missing = "force" if entry.force is None else "name"
            raise CaseError("type", f"a stated load needs its `{missing}:`",
                            f"write `{missing}:`, or another type")  # fmt: skip
        return VehicleCase(entry.name, {entry.at: entry.force * way}, "stated", ())
    if entry.force is not None:
        raise CaseError("force", "the force of this type follows from the rider's weight",
                        "give a `factor:`, or write `type: stated`")  # fmt: skip
    if entry.direction is not None and entry.type not in TURNED:
        raise CaseError("direction", "this load points straight down", "write `type: stated`")
    if vehicle is None:
        raise CaseError("type", "the build states no `vehicle:`", "state its masses")
    more: dict[str, Any] = {"direction": way} if entry.type in TURNED else {}
    if entry.factor is not None:
        more["n"] = entry.factor
    found = TYPES[entry.type](vehicle, hardpoint=entry.at, **more)
    return replace(found, name=entry.name) if entry.name else found


def _way(direction: Any, points: Mapping[str, np.ndarray]) -> np.ndarray:
    """A direction of length one [-]; straight down where none is stated."""
    vector = direction_of("down" if direction is None else direction, points)
    return np.asarray(vector / np.linalg.norm(vector))


def direction_of(direction: Any, points: Mapping[str, np.ndarray]) -> np.ndarray:
    """A direction that a file states: a word, two hardpoints or three numbers.

    Raises:
        KeyError: a hardpoint is unknown.
    """
    if isinstance(direction, str):
        return np.asarray(DIRECTIONS[direction])
    if isinstance(direction[0], str):
        return np.asarray(points[direction[1]]) - np.asarray(points[direction[0]])
    return np.asarray(direction, float)


def body_of(name: str, entry: BodyEntry, link: LinkEntry) -> Body:
    """A body with its link."""
    own = Link(entry.link, link.frame, link.body, 2 if link.sides == "both" else 1)
    return Body(name, tuple(entry.loaded_at), entry.hinge, own)


def solved_case(
    case: VehicleCase,
    bodies: Sequence[Body],
    points: Mapping[str, np.ndarray],
    spectrum: SpectrumEntry | None = None,
) -> BuildCase:
    """A case of the vehicle carried to the bodies: what no body takes acts on the frame.

    Raises:
        StaticsError: a body is not held.
    """
    held: list[Held] = []
    balances: list[Balance] = []
    taken: set[str] = set()
    for body in bodies:
        found = solve(body, case.forces, points, case.name)
        if found is not None:
            held += found.held
            balances += found.balances
            taken |= set(body.loaded_at)
    held += [
        Held(FRAME, at, np.asarray(force), np.zeros(3), case.name)
        for at, force in case.forces.items()
        if at not in taken
    ]
    return BuildCase(
        case.name, points, tuple(held), tuple(balances), case.formula, case.factors, case.note,
        spectrum,
    )  # fmt: skip


def rear_cases(rear: Rear, points: Mapping[str, np.ndarray]) -> Iterator[BuildCase]:
    """The load cases of the rear end: at full droop, at rest with the rider, and at full bump."""
    for name, travel in rear.positions.items():
        now = rear.at(travel)
        held, balances = rear.held(now)
        note, spectrum = "", None
        if name.endswith("full bump"):
            spectrum = rear.entry.bumps
        if name.endswith("full bump") and rear.vehicle is not None:
            spring = float(now.wheel_force)
            note = vehicle_cases.at_full_bump(rear.vehicle, rear.entry.strike, spring).note
        yield BuildCase(
            name, {**points, **rear.moved(now)}, held, balances, "F = i T, N = T / h",
            (Factor("travel of the wheel [mm]", round(travel, 1), "the rear end through its travel"),), note,
            spectrum,
        )  # fmt: skip


def on_part(case: BuildCase, entry: PartEntry, frame: Frame) -> dict[str, Any] | None:
    """A load case of a part, as its file would state it.

    Args:
        case: the case of the build.
        entry: the part's entry: its body, where its load points sit, and what they carry.
        frame: the part's axes in that case.

    Returns:
        The case; None where nothing acts on the part.
    """
    forces = []
    for point, sits in entry.points.items():
        hardpoint = entry.carries.get(point, sits)
        here = [
            one
            for one in case.held
            if one.body == entry.body and one.point == hardpoint and not one.mirrored
        ]
        if here:
            beside = np.asarray(case.points[hardpoint]) - np.asarray(case.points[sits])
            force = np.sum([one.force for one in here], axis=0)
            moment = np.sum([one.moment for one in here], axis=0) + np.cross(beside, force)
            forces.append(
                (point, _clean(frame.turned_into(force)), _clean(frame.turned_into(moment)))
            )
    if not any(np.any(force) or np.any(moment) for _, force, moment in forces):
        return None
    found = {"name": case.name, "forces": [_stated(*one) for one in forces]}
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
