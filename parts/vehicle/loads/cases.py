"""The load cases of a build: what acts on every body at its hardpoints, and on every part in its own axes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from parts.core.freebody import Acting, Balance, balance
from parts.vehicle.file.entries import (
    BodyEntry,
    CaseEntry,
    DamperLoadEntry,
    LinkEntry,
    PartEntry,
    SpectrumEntry,
)
from parts.vehicle.file.places import DIRECTIONS, MIRROR, Frame
from parts.vehicle.loads import vehicle_cases
from parts.vehicle.loads.statics import FRAME, Body, Held, Link, solve
from parts.vehicle.loads.swung import Load, driven, resting, settled, standing, stop_on_arm
from parts.vehicle.loads.vehicle import Vehicle
from parts.vehicle.loads.vehicle_cases import Factor, VehicleCase
from parts.vehicle.rear_end.damper import damping_force
from parts.vehicle.rear_end.linkage import UP
from parts.vehicle.rear_end.rear import AT_REST, SWING_ARM, WHEEL, Rear
from parts.vehicle.rear_end.suspension import Response

NEGLIGIBLE = 1e-9
"""Share of the largest force below which a component is rounding's [-]."""
DIGITS = 6
FULL_BUMP = "rear wheel at full bump"
CLOSE = 0.005
"""How far a stated ratio of loads may lie above the solved one [-]: rounding of what was read off the page."""
STATED = "as the build states"
"""Source of a number that is the builder's own choice."""
TYPES = {
    "one peg": vehicle_cases.on_foot_peg,
    "seat": vehicle_cases.on_seat,
    "brake pedal": vehicle_cases.on_brake_pedal,
    "kick lever": vehicle_cases.on_kick_lever,
}


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
    if entry.type == "chain pull":
        return _chain_case(entry, vehicle, points)
    if entry.chain is not None:
        raise CaseError("chain", "only a chain pull has a chain", "write `type: chain pull`")
    if vehicle is None:
        raise CaseError("type", "the build states no `vehicle:`", "state its masses")
    more: dict[str, Any] = {"direction": way}
    if entry.factor is not None:
        more["n"] = entry.factor
    found = TYPES[entry.type](vehicle, hardpoint=entry.at, **more)
    if entry.factor is not None:
        found = replace(found, factors=tuple(replace(one, source=STATED) for one in found.factors))
    return replace(found, name=entry.name) if entry.name else found


def _chain_case(
    entry: CaseEntry, vehicle: Vehicle | None, points: Mapping[str, np.ndarray]
) -> VehicleCase:
    """The pull of a chain's upper run, on the middles of both sprockets; their shafts take the torque."""
    chain = entry.chain
    if chain is None:
        raise CaseError("type", "a chain pull needs its `chain:`",
                        "state `chain: {front_sprocket: ..., rear_radius: ..., front_radius: ...}`")  # fmt: skip
    if vehicle is None:
        raise CaseError("type", "the build states no `vehicle:`", "state its masses")
    if entry.direction is not None:
        raise CaseError("direction", "the chain points where its sprockets stand", "leave it out")
    centres = points[entry.at], points[chain.front_sprocket]
    *_, way = vehicle_cases.chain_run(*centres, chain.rear_radius, chain.front_radius)
    more = {} if entry.factor is None else {"shock": entry.factor}
    found = vehicle_cases.chain_pull(
        vehicle, way, chain.rear_radius, chain.grip, hardpoints=(entry.at, chain.front_sprocket), **more
    )  # fmt: skip
    own = ("grip" in chain.model_fields_set, entry.factor is not None)
    factors = tuple(
        replace(one, source=STATED) if stated else one
        for one, stated in zip(found.factors, own, strict=True)
    )
    note = "on the middles of the sprockets, whose shafts take the torque"
    return replace(found, name=entry.name or found.name, factors=factors, note=note)


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


def on_swing_arm(
    case: VehicleCase,
    entry: CaseEntry,
    rear: Rear,
    points: Mapping[str, np.ndarray],
    riding: Sequence[str],
) -> BuildCase:
    """A case on the swing arm, on top of what the wheel carries at rest; a driven wheel carries the whole weight.

    Args:
        case: its forces.
        entry: as the file states it.
        rear: the rear end.
        points: places of all hardpoints as drawn [mm].
        riding: hardpoints that move with the swing arm beside those of the rear end.

    Raises:
        StopError: the wheel is driven onto a stop that is not stated.
    """
    chain, vehicle = entry.chain, rear.vehicle

    def loads(there: Mapping[str, np.ndarray]) -> Sequence[Load]:
        if chain is not None and vehicle is not None:
            return (driven(rear, vehicle, chain, entry.at, pull, there)[0],)
        own = [Load(at, force, np.zeros(3), case.name) for at, force in case.forces.items()]
        return (*resting(rear), *own)

    pull = float(np.linalg.norm(case.forces[entry.at]))
    found = settled(rear, loads, points, riding)
    held, balances, note = found.held, found.balances, case.note
    if chain is not None and vehicle is not None:
        _, on_wheel, wheel = driven(rear, vehicle, chain, entry.at, pull, found.points)
        held, balances, note = (*held, *on_wheel), (*balances, wheel), ""
    where = f"the wheel goes to {found.travel:.0f} mm of travel"
    return BuildCase(
        case.name, found.points, held, balances, case.formula, case.factors,
        "; ".join(filter(None, (note, where, found.note))), entry.spectrum,
    )  # fmt: skip


def rear_cases(rear: Rear, points: Mapping[str, np.ndarray]) -> Iterator[BuildCase]:
    """The load cases of the rear end: at full droop, at rest with the rider, and at full bump.

    At rest the load is the rider's and the link stands as drawn; at both ends of the travel it is the worst over
    the range of the link and the tolerance of the hardpoints. So it is where the link pulls hardest, if that is at
    neither end.

    Raises:
        CaseError: the stated ratio of the bumps makes their range smaller than it is.
    """
    positions = dict(rear.positions)
    pull = np.abs(np.asarray(rear.whole.link_force))
    if 0 < (most := int(np.argmax(pull))) < len(pull) - 1:
        travel = float(np.asarray(rear.whole.motion.travel)[most])
        positions[f"rear wheel at {travel:.0f} mm, link pulls hardest"] = travel
    for name, travel in positions.items():
        now, said = (rear.at(travel), "link as drawn") if name == AT_REST else rear.worst(travel)
        bump, force, note = name == FULL_BUMP, float(now.wheel_force), ""
        if bump and rear.vehicle is not None:
            strike = vehicle_cases.at_full_bump(rear.vehicle, rear.entry.strike, force)
            note = strike.note
            if stop_on_arm(rear):
                force = float(np.linalg.norm(next(iter(strike.forces.values()))))
        wheel = Load(rear.entry.axle, force * np.asarray(UP), np.zeros(3), WHEEL)
        one = standing(rear, now, lambda _, wheel=wheel: (wheel,), points)  # type: ignore[misc]
        yield BuildCase(
            name, one.points, one.held, one.balances, "F = i T, N = T / h",
            _stands_on(rear, now, travel, said), one.note or note, bumps_of(rear) if bump else None,
        )  # fmt: skip


def bumps_of(rear: Rear) -> SpectrumEntry | None:
    """How often bumps come, with the least over the greatest load of the link from the solved droop and bump.

    Raises:
        CaseError: the file states a ratio that makes the range of the load smaller than it is.
    """
    stated = rear.entry.bumps
    if stated is None:
        return None
    least, where = let_off(rear)
    if stated.ratio is None:
        ratio = float(np.clip(np.floor(1000.0 * least) / 1000.0, -1.0, 0.999))
        return SpectrumEntry(blocks=stated.blocks, ratio=ratio)
    if stated.ratio > least + CLOSE:
        raise CaseError(
            "ratio", f"from full bump to full droop the link comes down to {least:.3f} of its load, {where}, and "
            f"{stated.ratio:g} is stated: parts would be checked for too small a range",
            f"leave it out, or write at most {least:.3f}",
        )  # fmt: skip
    return SpectrumEntry(blocks=stated.blocks, ratio=stated.ratio)


def let_off(rear: Rear) -> tuple[float, str]:
    """Share of the link's greatest load at full bump that is left at full droop where its range is greatest [-], over
    the lengths of the link and the tolerance of the hardpoints; and the length of the link where that is."""
    most = abs(float(rear.worst(float(rear.entry.travel))[0].link_force))
    swept, said = max((rear.swept(said), said) for said in rear.lengths)
    return 1.0 - swept / most, said


def _stands_on(rear: Rear, now: Response, travel: float, said: str) -> tuple[Factor, ...]:
    """Where the wheel is, how the link is set, and what the tolerance of the hardpoints adds."""
    length = float(np.asarray(now.motion.link_length))
    exact = rear.at(travel, rear.lengths[said])
    found = (
        Factor("travel of the wheel [mm]", round(travel, 1), "the rear end through its travel"),
        Factor("length of the link [mm]", round(length, 1), said),
    )
    share = float(np.divide(now.torque, exact.torque)) if exact.torque else 1.0
    if share == 1.0:
        return found
    return (
        *found,
        Factor(
            "tolerance of the hardpoints [-]", round(share, 4), "every coordinate to the worse side"
        ),
    )


def damper_cases(rear: Rear, points: Mapping[str, np.ndarray]) -> Iterator[BuildCase]:
    """The loads of the damper on its mounts, the wheel at rest with the rider where the build says where that is,
    and pressed by the ground or its own inertia as far as that holds the damper.

    Raises:
        CaseError: a load states neither its force nor rate and velocity, or both.
    """
    one = rear.entry.damper
    if one is None or not one.loads:
        return
    travel = float(rear.positions.get(AT_REST, rear.entry.drawn_at))
    moved = {**points, **rear.moved(rear.at(travel))}
    way = moved[one.on_swing_arm] - moved[one.on_frame]
    for i, load in enumerate(one.loads):
        force, factors, formula = _damper_force(load, i)
        push = (1.0 if load.way == "closing" else -1.0) * force * way / np.linalg.norm(way)
        on_arm = Load(one.on_swing_arm, push, np.zeros(3), "damper")
        still = rear.at(travel)
        found = standing(rear, still, lambda _, on=on_arm: (on,), points, by_ground=True)  # type: ignore[misc]
        ends = [Acting(moved[at], -f, by=by) for at, f, by in
                ((one.on_frame, -push, FRAME), (one.on_swing_arm, push, SWING_ARM))]  # fmt: skip
        yield BuildCase(
            load.name, found.points, (*found.held, Held(FRAME, one.on_frame, -push, np.zeros(3), "damper")),
            (*found.balances, balance("damper", ends)), formula, factors,
            "the ground under the wheel, or its inertia, holds the swing arm against it",
        )  # fmt: skip


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
        if one.body == FRAME
    ]
    if not acting:
        return case
    centre = np.zeros(3) if vehicle is None else np.asarray(vehicle.centre()[1])
    force, moment = np.sum([one.force for one in acting], axis=0), np.zeros(3)
    for one in acting:
        moment = moment + np.cross(np.asarray(one.at) - centre, one.force) + np.asarray(one.moment)
    masses = Acting(centre, -force, -moment, by="weight and inertia of machine and rider")
    return replace(case, balances=(*case.balances, balance(FRAME, [*acting, masses])))


def _damper_force(load: DamperLoadEntry, index: int) -> tuple[float, tuple[Factor, ...], str]:
    """Force [N], what was chosen for it, and how it was found."""
    if load.force is not None and load.rate is None and load.velocity is None:
        return load.force, (Factor("force of the damper [N]", load.force, STATED),), "stated"
    if load.force is None and load.rate is not None and load.velocity is not None:
        factors = (
            Factor("rate of the damper [N*s/mm]", load.rate, STATED),
            Factor("velocity of its rod [mm/s]", load.velocity, STATED),
        )
        return float(damping_force(load.rate, load.velocity)), factors, "F = C v"
    raise CaseError(
        f"loads[{index}]", f"{load.name!r} needs its force, or its rate and velocity, and not both",
        "state `force: 2.5 kN`, or `rate: 1.2` in N*s/mm and `velocity: 1500` in mm/s",
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
