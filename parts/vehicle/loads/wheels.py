"""What the ground does to the wheels, carried to swing arm, fork, engine and frame, each wheel in balance.

A wheel turns freely on its axle: what would turn it goes to chain, brake or its own inertia, all else to the axle.
A caliper on the swing arm hands the swing arm the whole torque of the brake. A carrier that floats on the axle hands it
to the frame, through its torque arm.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

import numpy as np

from parts.core.freebody import Acting, Balance, balance
from parts.core.usual_loads import G_0
from parts.strength.vectors import cross
from parts.vehicle.file.entries import BuildFile, ChainEntry, FrontEndEntry, RearBrakeEntry
from parts.vehicle.loads.build_case import BuildCase, CaseError
from parts.vehicle.loads.corner import on_gusset
from parts.vehicle.loads.dynamics import squat_ratio
from parts.vehicle.loads.engine import on_mounts
from parts.vehicle.loads.statics import FRAME, Held, StaticsError
from parts.vehicle.loads.swung import Load
from parts.vehicle.loads.vehicle import Vehicle
from parts.vehicle.loads.vehicle_cases import chain_run
from parts.vehicle.loads.whole import Whole, geometry
from parts.vehicle.loads.worst_setting import settled_at_worst
from parts.vehicle.rear_end.linkage import UP, dot, length, unit
from parts.vehicle.rear_end.rear import WHEEL, Rear

ENGINE, FORK, TORQUE_ARM = "engine", "fork", "torque arm"
FRONT_WHEEL = "front wheel"
CROSS = np.array([0.0, 1.0, 0.0])
NONE = np.zeros(3)
MOST_ON_STOP = ", most on the stop"
"""What is added to the name of a case with the link set where a stop bears most."""
PARALLEL = 1e-6
"""Sine of the angle between chain and swing arm below which they do not meet [-]."""
LEAST_LEVER = 1.0
"""Lever [mm] about the axle below which neither pads nor a torque arm hold a brake."""
Points = Mapping[str, np.ndarray]


@dataclass(frozen=True)
class Gear:
    """What a case of the whole vehicle passes through.

    Attributes:
        entry: the build's file.
        vehicle: its masses, as it stands at rest.
        rear: the rear end; None where the file states none, and the rear axle then sits on the frame.
        points: places of the hardpoints as drawn [mm].
        riding: hardpoints that move with the swing arm.
        sunk: how far the frame sinks from where its points were measured to rest [mm].
        within: tolerance of the hardpoints of chain, brake and stops, and of all that the swing arm is loaded at [mm].
    """

    entry: BuildFile
    vehicle: Vehicle
    rear: Rear | None
    points: Points
    riding: tuple[str, ...]
    sunk: float = 0.0
    within: Mapping[str, float] = field(default_factory=dict)

    @property
    def unsprung(self) -> tuple[float, float]:
        """Of the rear and the front wheel [kg]."""
        front = self.entry.front_end
        return float(self.vehicle.rear_unsprung), 0.0 if front is None else front.unsprung

    @property
    def rear_axle(self) -> str:
        """Hardpoint of the rear axle."""
        assert self.entry.vehicle is not None
        return self.entry.vehicle.rear_axle if self.rear is None else self.rear.entry.axle


class RearWheel(NamedTuple):
    """The rear wheel at one position: what it does to swing arm, chain and torque arm, and all that acts on it."""

    on_arm: tuple[Load, ...]
    others: tuple[Held, ...]
    chain: Acting | None
    acting: tuple[Acting, ...]


def carried(whole: Whole, gear: Gear) -> Iterator[BuildCase]:
    """A case of the whole vehicle on every body that it passes.

    Where a stop bears most with the link set otherwise, that is a case of its own.

    Raises:
        CaseError: the build does not say where a load goes.
        StaticsError, StopError: something cannot be held.
    """
    points = dict(gear.points)
    if gear.rear is None:
        wheel = rear_wheel(whole, gear, points)
        yield _carried(whole, gear, points, [Held(FRAME, *one) for one in wheel.on_arm], [], [])
        return
    found = settled_at_worst(
        gear.rear,
        lambda there: rear_wheel(whole, gear, there).on_arm,
        points,
        gear.riding,
        gear.within,
    )
    for one, more in zip(found, ("", MOST_ON_STOP), strict=False):
        notes = [f"the wheel goes to {one.travel:.0f} mm of travel", one.note]
        case = _carried(whole, gear, one.points, [*one.held], [*one.balances], notes)
        yield replace(case, name=whole.name + more)


def _carried(
    whole: Whole,
    gear: Gear,
    points: Points,
    held: list[Held],
    balances: list[Balance],
    notes: list[str],
) -> BuildCase:
    """What wheel, chain and fork add to what is on the swing arm, or on the frame at the axle."""
    wheel = rear_wheel(whole, gear, points)
    held += wheel.others
    balances.append(balance(WHEEL, wheel.acting))
    pulled, more = _on_engine(whole, gear, wheel.chain, points)
    held += pulled
    balances += more
    if np.any(whole.front):
        ridden, fork = on_fork(whole, gear)
        held += ridden
        balances.append(fork)
    if whole.pull > 0.0:
        notes.append(f"squat ratio {squat(gear, points):.2f}")
    note = "; ".join(filter(None, [whole.note, *notes]))
    return BuildCase(whole.name, points, tuple(held), tuple(balances), whole.formula, whole.factors, note)  # fmt: skip


def squat(gear: Gear, points: Points) -> float:
    """Squat ratio [-] with the hardpoints at given places; above 1 drive makes the rear end sink.

    The line of squat runs from the rear contact to where the chain's upper run and the swing arm meet in the side
    view; where these two are parallel, along them.
    """
    chain, vehicle = _chain(gear.entry), gear.vehicle
    axle = points[gear.rear_axle]
    leaves, _, way = chain_run(
        points[chain.rear_sprocket], points[chain.front_sprocket], chain.rear_radius, chain.front_radius
    )  # fmt: skip
    pivot = points[gear.rear.entry.pivot] if gear.rear is not None else axle + way
    arm, contact = pivot - axle, axle - float(vehicle.tyre_radius) * np.asarray(UP)
    apart = float(cross(way, arm)[1])
    line = arm
    if abs(apart) > PARALLEL * float(np.linalg.norm(arm)):
        line = leaves + float(cross(axle - leaves, arm)[1]) / apart * way - contact
    tau = np.arctan2(geometry(vehicle).h, geometry(vehicle).L)
    return float(squat_ratio(tau, np.arctan(line[2] / line[0])))


def resting(gear: Gear) -> tuple[Load, ...]:
    """What the wheel carries at rest with the rider; nothing without a rear end that knows."""
    rear = gear.rear
    if rear is None or not len(rear.loads):
        return ()
    return (Load(rear.entry.axle, float(rear.loads[1]) * np.asarray(UP), NONE, WHEEL),)


def rear_wheel(whole: Whole, gear: Gear, there: Points) -> RearWheel:
    """The rear wheel with the hardpoints at given places [mm], (..., 3).

    Raises:
        CaseError: chain or brake is not stated.
        StaticsError: pads or torque arm have no lever.
    """
    axle = there[gear.rear_axle]
    contact = axle if whole.at_axle else axle - float(gear.vehicle.tyre_radius) * np.asarray(UP)
    inertia = whole.inertia(gear.vehicle, gear.unsprung)[0]
    acting = [
        Acting(contact, whole.rear, by="ground"),
        Acting(axle, inertia, by="weight and inertia of the wheel"),
    ]
    others: list[Held] = []
    more: list[Load] = []
    back = None
    if whole.pull:
        chain = _chain(gear.entry)
        middle, front = there[chain.rear_sprocket], there[chain.front_sprocket]
        leaves, enters, way = chain_run(
            middle, front, chain.rear_radius, chain.front_radius, lower=whole.pull < 0.0
        )
        tension = abs(whole.pull) * way
        acting.append(Acting(leaves, tension, by="chain"))
        beside = cross(leaves - middle, tension)
        others.append(Held(WHEEL, chain.rear_sprocket, tension, beside, "chain"))
        back = Acting(enters, -tension, by="chain")
    turn = _moment(acting, axle)[..., 1]
    if whole.rear_braked:
        pads = _pads(_brake(gear.entry), turn, axle, there)
        acting.append(Acting(there[_brake(gear.entry).caliper], pads, by="pads"))
        more, rod = _reaction(_brake(gear.entry), pads, gear.rear_axle, there)
        others += rod
    else:
        acting.append(Acting(axle, NONE, -turn[..., None] * CROSS, by="inertia of the wheel"))
    force = sum((np.asarray(one.force) for one in acting), NONE)
    moment = _moment(acting, axle)
    on_arm = Load(gear.rear_axle, force, moment * (1.0 - CROSS), WHEEL)
    acting.append(Acting(axle, -force, -on_arm.moment, by="axle"))
    return RearWheel((on_arm, *more), tuple(others), back, tuple(acting))


def _moment(acting: list[Acting], axle: np.ndarray) -> np.ndarray:
    return sum((cross(np.asarray(one.at) - axle, one.force) + one.moment for one in acting), NONE)


def _chain(entry: BuildFile) -> ChainEntry:
    if entry.chain is None:
        raise CaseError("type", "the build does not state its chain", "state `chain:`")  # fmt: skip
    return entry.chain


def _brake(entry: BuildFile) -> RearBrakeEntry:
    if entry.rear_brake is None:
        raise CaseError("type", "the build does not state its rear brake",
                        "state `rear_brake: {caliper: ...}`, and its `torque_arm:` where one holds it")  # fmt: skip
    return entry.rear_brake


def _pads(brake: RearBrakeEntry, turn: np.ndarray, axle: np.ndarray, there: Points) -> np.ndarray:
    """Force of the pads on the disc [N] that holds a turn of the wheel [N*mm], square to the way from the axle."""
    out = (there[brake.caliper] - axle) * (1.0 - CROSS)
    if not np.all(length(out) > LEAST_LEVER):
        raise StaticsError(
            f"the pads at {brake.caliper} have no lever about the axle; place them on the disc"
        )
    return np.asarray(-turn[..., None] * cross(CROSS, out) / dot(out, out)[..., None])


def _reaction(
    brake: RearBrakeEntry, pads: np.ndarray, axle: str, there: Points
) -> tuple[list[Load], list[Held]]:
    """What the caliper does to the swing arm, straight or through a floating carrier and its torque arm."""
    if brake.torque_arm is None:
        return [Load(brake.caliper, -pads, NONE, "caliper")], []
    arm, middle = brake.torque_arm, there[axle]
    way = there[arm.frame] - there[arm.carrier]
    out = there[arm.carrier] - middle
    along = unit(way)
    lever = cross(out, along)[..., 1]
    if not np.all(np.abs(lever) > LEAST_LEVER):
        raise StaticsError(
            f"the torque arm from {arm.carrier} to {arm.frame} has no lever about the axle; move one of its ends"
        )
    by_pads = cross(there[brake.caliper] - middle, -pads)
    pull = (-by_pads[..., 1] / lever)[..., None] * along
    moment = (by_pads + cross(out, pull)) * (1.0 - CROSS)
    return (
        [Load(axle, pull - pads, moment, "carrier of the brake")],
        [
            Held(TORQUE_ARM, arm.carrier, -pull, NONE, "carrier of the brake"),
            Held(TORQUE_ARM, arm.frame, pull, NONE, FRAME),
            Held(FRAME, arm.frame, -pull, NONE, TORQUE_ARM),
        ],
    )


def _on_engine(
    whole: Whole, gear: Gear, back: Acting | None, points: Points
) -> tuple[tuple[Held, ...], list[Balance]]:
    """The chain on the gearbox and the engine's own mass, which its mounts hold where the build states them.

    Raises:
        CaseError: the engine has a mass and no place for it.
    """
    engine, loads = gear.entry.engine, []
    if back is not None:
        loads.append((_chain(gear.entry).front_sprocket, back))
    if engine is None:
        return tuple(
            Held(FRAME, at, np.asarray(one.force), cross(np.asarray(one.at) - points[at], one.force), "chain")
            for at, one in loads
        ), []  # fmt: skip
    if engine.mass > 0.0:
        if engine.centre is None:
            raise CaseError("type", "the engine has a mass, and the build does not say where",
                            "state `centre:` under `engine:`")  # fmt: skip
        here = engine.mass * (whole.gravity - whole.acceleration(gear.vehicle))
        loads.append(
            (
                engine.centre,
                Acting(points[engine.centre], here, by="weight and inertia of the engine"),
            )
        )
    if not loads:
        return (), []
    held, found = on_mounts(ENGINE, loads, engine.mounts, points)
    return held, [found]


def on_fork(whole: Whole, gear: Gear) -> tuple[tuple[Held, ...], Balance]:
    """The front wheel and its fork, held by the head tube.

    The head tube is taken to hold the fork against turning about it too, as the rider's hands do.

    Raises:
        CaseError: the build states no front end.
    """
    one, vehicle, points = gear.entry.front_end, gear.vehicle, gear.points
    if one is None:
        raise CaseError("type", "the ground loads the front wheel, and the build states no front end",
                        "state `front_end: {axle: ..., headstock: ...}`")  # fmt: skip
    # The fork sinks by as much as the rear end does.
    axle, head = points[one.axle] + gear.sunk * np.asarray(UP), points[one.headstock]
    ground = float(vehicle.contacts[0][2])
    contact = axle if whole.at_axle else np.array([axle[0], axle[1], ground])
    inertia = whole.inertia(vehicle, gear.unsprung)[1]
    force = whole.front + inertia
    at_axle = cross(contact - axle, whole.front)
    moment = at_axle + cross(axle - head, force)
    acting = (
        Acting(contact, whole.front, by="ground"),
        Acting(axle, inertia, by="weight and inertia of the front wheel"),
    )
    return _on_head(
        one, acting, [Held(FORK, one.axle, force, at_axle, FRONT_WHEEL)], moment, points
    )


def on_bar(
    front: FrontEndEntry, loads: Sequence[Held], points: Points
) -> tuple[tuple[Held, ...], Balance]:
    """Loads on the fork, as on the end of its bar, held by the head tube.

    Args:
        front: the front end.
        loads: on the fork.
        points: places of the hardpoints [mm].
    """
    acting = tuple(Acting(points[one.point], one.force, one.moment, by=one.by) for one in loads)
    moment = _moment([*acting], points[front.headstock])
    return _on_head(front, acting, [*loads], moment, points)


def _on_head(
    front: FrontEndEntry,
    acting: tuple[Acting, ...],
    own: list[Held],
    moment: np.ndarray,
    points: Points,
) -> tuple[tuple[Held, ...], Balance]:
    """The fork held by the head tube, and what the moment [N*mm] does to the corner behind it."""
    head = points[front.headstock]
    force = sum((np.asarray(one.force) for one in acting), NONE)
    return (
        *own,
        Held(FORK, front.headstock, -force, -moment, FRAME),
        Held(FRAME, front.headstock, force, moment, FORK),
        *on_gusset(front, force, moment, points),
    ), balance(FORK, (*acting, Acting(head, -force, -moment, by="head tube")))


def weight_of_machine(vehicle: Vehicle) -> float:
    """Weight of the machine without its rider [N]."""
    return float(vehicle.machine_mass) * G_0
