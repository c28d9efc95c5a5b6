"""The load cases that a build states, each by its type, carried to every body that it passes."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from parts.core.freebody import Acting
from parts.core.usual_loads import COMMON
from parts.standards.materials.materials import material_rows
from parts.strength.vectors import cross
from parts.vehicle.file import case_entries as of_type
from parts.vehicle.file.entries import BuildFile, EngineEntry
from parts.vehicle.file.places import direction_of
from parts.vehicle.loads import dynamics, vehicle_cases, whole
from parts.vehicle.loads.at_points import at_points, with_bodies
from parts.vehicle.loads.build_case import STATED, BuildCase, CaseError
from parts.vehicle.loads.car import car_corner
from parts.vehicle.loads.engine import on_mounts, orders, shared
from parts.vehicle.loads.statics import Body, OnLinks
from parts.vehicle.loads.vehicle import Vehicle
from parts.vehicle.loads.vehicle_cases import Factor, VehicleCase
from parts.vehicle.loads.wheels import ENGINE, MOST_ON_STOP, Gear, carried, weight_of_machine

Points = Mapping[str, np.ndarray]
HUNG = {
    "lifting": (2.0, "down", COMMON),
    "tie-down": (0.8, "forward", "EN 12195-1, load forward in braking"),
}
"""Factor on the machine's weight, direction in which its mass pulls, and source, by type."""
TYPES = {
    "one peg": vehicle_cases.on_foot_peg,
    "seat": vehicle_cases.on_seat,
    "passenger": vehicle_cases.on_passenger_seat,
    "brake pedal": vehicle_cases.on_brake_pedal,
    "kick lever": vehicle_cases.on_kick_lever,
    "shift lever": vehicle_cases.on_shift_lever,
    "boot": vehicle_cases.boot_aside,
}


def cases_of_entry(
    entry: Any, vehicle: Vehicle | None, gear: Gear | None, bodies: Sequence[Body | OnLinks], points: Points,
    file: BuildFile,
) -> Iterator[BuildCase]:  # fmt: skip
    """The load cases of one entry of the file: one, but for the engine's inertia, which has an order each.

    Args:
        entry: as the file states it.
        vehicle: masses; None where the file states none.
        gear: what a case of the whole vehicle passes through; None without masses.
        bodies: on a hinge and a link.
        points: places of the hardpoints [mm].
        file: the build's file.

    Raises:
        CaseError: it needs what is not stated.
        StaticsError, StopError, VehicleError: it cannot be solved.
    """
    for found in _solved(entry, vehicle, gear, bodies, points, file):
        name = found.name
        if entry.name and entry.type != "engine vibration":
            name = entry.name + (MOST_ON_STOP if name.endswith(MOST_ON_STOP) else "")
        yield replace(found, name=name, spectrum=entry.spectrum, required=entry.required)


def _solved(
    entry: Any, vehicle: Vehicle | None, gear: Gear | None, bodies: Sequence[Body | OnLinks], points: Points,
    file: BuildFile,
) -> Iterator[BuildCase]:  # fmt: skip
    if isinstance(entry, of_type.StatedCase):
        yield from at_points(stated_case(entry, points), bodies, points, file, gear, rests=True)
    elif isinstance(entry, of_type.CarCornerCase):
        yield from at_points(car_corner(entry, file.car, points), bodies, points, file, gear)
    elif isinstance(entry, of_type.EngineCase):
        yield from _engine_cases(entry, file.engine, points)
    elif vehicle is None or gear is None:
        raise CaseError("type", "the build states no `vehicle:`", "state its masses")
    elif isinstance(entry, of_type.RiderCase):
        found = rider_case(entry, vehicle, points)
        yield from at_points(found, bodies, points, file, gear, rests=True)
    elif isinstance(entry, of_type.FallCase):
        yield from at_points(fall_case(entry, vehicle, points), bodies, points, file, gear)
    elif isinstance(entry, of_type.HungCase):
        yield from at_points(hung_case(entry, vehicle, points), bodies, points, file, gear)
    else:
        ground = whole_case(entry, vehicle, gear)
        for one in carried(ground, gear):
            yield with_bodies(one, ground, bodies, gear)


def whole_case(entry: Any, vehicle: Vehicle, gear: Gear) -> whole.Whole:
    """What the ground does in a case of the whole vehicle.

    Raises:
        CaseError: it needs what is not stated.
    """
    file = gear.entry
    if isinstance(entry, of_type.ThreeWheelsCase):
        if vehicle.third_contact is None:
            raise CaseError(
                "type", "the build states no third wheel", "state `vehicle.third_wheel:`"
            )
        return whole.on_three_wheels(entry, vehicle)
    if vehicle.third_contact is not None:
        _refuse_of_two_wheels(entry)
    radius = 0.0 if file.chain is None else file.chain.rear_radius
    driven: dict[Any, Callable[[Any, Vehicle, float], whole.Whole]] = {
        of_type.AccelerationCase: whole.accelerating,
        of_type.ClimbingCase: whole.climbing,
        of_type.SnatchCase: whole.snatching,
        of_type.ReverseCase: whole.reversing,
    }
    drive = next((of for kind, of in driven.items() if isinstance(entry, kind)), None)
    if drive is not None:
        if not radius:
            raise CaseError("type", "the build does not state its chain", "state `chain:`")
        return drive(entry, vehicle, radius)
    if isinstance(entry, of_type.BrakeCase):
        return whole.braking(entry, vehicle)
    if isinstance(entry, of_type.CorneringCase):
        return whole.cornering(entry, vehicle)
    if isinstance(entry, of_type.SideLoadCase):
        return whole.sliding(entry, vehicle)
    if isinstance(entry, of_type.LandingCase):
        return whole.landing(
            entry,
            vehicle,
            _rear_stroke(gear, entry.damping),
            _front_stroke(gear, entry.fork_damping),
        )
    return whole.bumped(entry, vehicle, gear.unsprung)


def _refuse_of_two_wheels(entry: Any) -> None:
    """Refuse a case that a machine on three wheels does not have: it has drive, snatch and a landing on the level."""
    if not isinstance(entry, of_type.AccelerationCase | of_type.SnatchCase | of_type.LandingCase):
        raise CaseError("type", f"`{entry.type}` is a case of a machine on two wheels, and a third is stated",
                        "write `type: three wheels` with `braking:` and `left:`, `acceleration`, `chain snatch` or "
                        "`landing`")  # fmt: skip
    for key in ("slope", "lean"):
        if getattr(entry, key, 0.0):
            raise CaseError(key, "three wheels are solved on level ground, upright", "leave it out")


def _rear_stroke(gear: Gear, damping: float) -> whole.Stroke:
    """What bar and damper take over the whole travel; nothing without a rear end."""
    rear = gear.rear
    if rear is None:
        return whole.Stroke(0.0, 0.0, 0.0)
    energy = min(float(one.energy[-1] - one.energy[0]) for one in rear.settings.values())
    if rear.damped is not None:
        energy += damping * abs(float(rear.damped.length[0] - rear.damped.length[-1]))
    travel = float(rear.entry.travel)
    return whole.Stroke(travel, energy, float(rear.worst(travel)[0].wheel_force))


def _front_stroke(gear: Gear, damping: float) -> whole.Stroke:
    one = gear.entry.front_end
    if one is None:
        return whole.Stroke(0.0, 0.0, 0.0)
    energy = one.travel * (0.5 * one.bump_force + damping)
    return whole.Stroke(one.travel, energy, one.bump_force)


def stated_case(entry: of_type.StatedCase, points: Points) -> VehicleCase:
    """Forces of the builder's own; those at one hardpoint add up."""
    found: dict[str, np.ndarray] = {}
    for at, size, direction in entry.forces():
        found[at] = found.get(at, np.zeros(3)) + size * _way(direction, points)
    return VehicleCase(entry.name, found, "stated", ())


def rider_case(entry: of_type.RiderCase, vehicle: Vehicle, points: Points) -> VehicleCase:
    """A rider's or a passenger's weight at a hardpoint."""
    more: dict[str, Any] = {"direction": _way(entry.direction, points)}
    if entry.factor is not None:
        more["n"] = entry.factor
    found = TYPES[entry.type](vehicle, hardpoint=entry.at, **more)
    if entry.factor is not None:
        found = replace(found, factors=tuple(replace(one, source=STATED) for one in found.factors))
    return found


def fall_case(entry: of_type.FallCase, vehicle: Vehicle, points: Points) -> VehicleCase:
    """The machine falls over onto one point, from its height at rest with the rider or without, whichever brings more.

    Raises:
        CaseError: the point lies in the middle, or below the ground.
    """
    if vehicle.third_contact is not None:
        raise CaseError(
            "type", "a machine on three wheels does not fall over from standing", "leave it out"
        )
    ground = float(vehicle.contacts[0][2])
    height = float(np.asarray(vehicle.machine_centre)[2]) - ground
    place = points[entry.at]
    y, z = float(place[1]), float(place[2]) - ground
    if not (abs(y) > 0.0 and z >= 0.0):
        raise CaseError("at", f"`{entry.at}` does not reach the ground when the machine falls over",
                        "name a point at its side")  # fmt: skip
    up = np.array([0.0, vehicle.lifted])
    forces = np.asarray(
        dynamics.force_of_fall(vehicle.machine_mass, height + up, y, z + up, entry.gives)
    )
    most = int(np.argmax(forces))
    force, turn = float(forces[most]), np.arctan2(z + up[most], abs(y))
    way = np.array([0.0, -np.sign(y) * np.sin(turn), np.cos(turn)])
    note = "all of the fall that its free body can bring goes into this point"
    if entry.bends is not None:
        bound = most_before_bending(entry.bends, way, points)
        if bound < force:
            note = f"the fall would bring {force:.0f} N; what stands there bends over first"
            force = bound
    return VehicleCase(
        f"fall on {entry.at}", {entry.at: force * way}, dynamics.force_of_fall.formula,  # type: ignore[attr-defined]
        (Factor("ground and metal give way [mm]", entry.gives, STATED),
         Factor("lean at which it strikes [deg]", round(float(np.degrees(turn)), 1), "its place")), note,
    )  # fmt: skip


def most_before_bending(entry: of_type.BendsEntry, way: np.ndarray, points: Points) -> float:
    """Greatest force along a way that what bends hands on [N].

    Raises:
        CaseError: its bore takes all of it.
    """
    if not entry.bore < entry.diameter:
        raise CaseError("bends", f"a bore of {entry.bore:g} mm leaves nothing of {entry.diameter:g} mm",
                        "write the inside diameter of the tube as its bore")  # fmt: skip
    lever = entry.lever * float(np.linalg.norm(cross(_way(entry.along, points), way)))
    # The strongest form and thickness that the tables hold: what is to bend may be of that.
    strength = max(one.ultimate_strength for one in material_rows(entry.material.name))
    return float(dynamics.bending_bound(strength, entry.diameter, lever, entry.bore))


def hung_case(entry: of_type.HungCase, vehicle: Vehicle, points: Points) -> VehicleCase:
    """The machine on a hoist or in straps, its points sharing by least work.

    Raises:
        StaticsError: the points cannot hold it.
    """
    n, way, source = HUNG[entry.type]
    factor = n if entry.factor is None else entry.factor
    pull = _way(way if entry.direction is None else entry.direction, points)
    size = factor * weight_of_machine(vehicle)
    centre = np.asarray(vehicle.machine_centre, float)
    if len(entry.at) == 1:
        # One strap or hook: the machine swings until its centre hangs under it.
        found = {entry.at[0]: -size * pull}
    else:
        found = shared([Acting(centre, size * pull)], entry.at, points)
    return VehicleCase(
        entry.type, found, "F = n m g, shared by least work",
        (Factor("on the machine's weight", factor, source if entry.factor is None else STATED),),
    )  # fmt: skip


def _engine_cases(
    entry: of_type.EngineCase, engine: EngineEntry | None, points: Points
) -> Iterator[BuildCase]:
    if (
        engine is None
        or engine.crank is None
        or not (engine.reciprocating and engine.stroke and engine.rod)
    ):
        raise CaseError("type", "the build does not state what shakes in its engine",
                        "state `crank:`, `reciprocating:`, `stroke:` and `rod:` under `engine:`")  # fmt: skip
    said = entry.name or "engine vibration"
    for name, force in orders(engine, entry.speed, _way(engine.cylinder, points)).items():
        if not np.any(force):
            continue
        held, found = on_mounts(
            ENGINE, [(engine.crank, Acting(points[engine.crank], force, by=name))], engine.mounts, points
        )  # fmt: skip
        yield BuildCase(
            f"{said}, {name}", points, held, (found,), dynamics.crank_inertia.formula,  # type: ignore[attr-defined]
            (Factor("speed of the crank [1/min]", entry.speed, STATED),),
            "at its greatest, either way: a spectrum has ratio -1", order=name,
        )  # fmt: skip


def _way(direction: Any, points: Mapping[str, np.ndarray]) -> np.ndarray:
    """A direction of length one [-]; straight down where none is stated."""
    vector = direction_of("down" if direction is None else direction, points)
    return np.asarray(vector / np.linalg.norm(vector))
