"""What the ground does to a whole vehicle in each load case, from its masses by statics and textbook dynamics."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import NamedTuple

import numpy as np

from parts.core.usual_loads import COMMON, G_0
from parts.vehicle.file.case_entries import (
    AccelerationCase,
    BrakeCase,
    BumpCase,
    ClimbingCase,
    CorneringCase,
    LandingCase,
    ReverseCase,
    SideLoadCase,
    SnatchCase,
    ThreeWheelsCase,
)
from parts.vehicle.loads import dynamics
from parts.vehicle.loads.build_case import NEGLIGIBLE, STATED, CaseError
from parts.vehicle.loads.vehicle import Vehicle, lifting_acceleration, three_wheel_loads
from parts.vehicle.loads.vehicle_cases import Factor
from parts.vehicle.rear_end.linkage import UP

NONE = np.zeros(3)
LEVEL = -G_0 * np.asarray(UP)
"""Gravity on the level [m/s^2]."""
THE_VEHICLE = "the vehicle's masses and places"


@dataclass(frozen=True)
class Whole:
    """A load case of the whole vehicle. Forces in N, accelerations in m/s^2, in the vehicle's axes.

    Attributes:
        name: of the case.
        rear, front: of the ground on each wheel.
        third: of the ground on a third wheel.
        gravity: its acceleration.
        pull: of the chain's upper run; of the lower run where it is negative [N].
        rear_braked: whether the rear brake holds its wheel against the ground.
        at_axle: whether the ground's forces point at the axles, in place of acting on the lowest points.
        rider: whether the rider's mass counts.
        wheel_inertia: weight and inertia of rear and front wheel where they do not move as the machine does.
        formula, factors, note: as of a build's case.
    """

    name: str
    rear: np.ndarray
    front: np.ndarray
    gravity: np.ndarray = field(default_factory=lambda: LEVEL)
    pull: float = 0.0
    rear_braked: bool = False
    at_axle: bool = False
    rider: bool = True
    wheel_inertia: tuple[np.ndarray, np.ndarray] | None = None
    third: np.ndarray = field(default_factory=lambda: NONE)
    formula: str = ""
    factors: tuple[Factor, ...] = ()
    note: str = ""

    def acceleration(self, vehicle: Vehicle) -> np.ndarray:
        """Of the masses [m/s^2]."""
        return np.asarray(
            (self.rear + self.front + self.third) / _mass(vehicle, self.rider) + self.gravity
        )

    def inertia(self, vehicle: Vehicle, unsprung: tuple[float, float]) -> tuple[np.ndarray, ...]:
        """Weight and inertia of the rear and the front wheel [N], from what of them is unsprung [kg]."""
        if self.wheel_inertia is not None:
            return self.wheel_inertia
        here = self.gravity - self.acceleration(vehicle)
        return tuple(mass * here for mass in unsprung)


class Stroke(NamedTuple):
    """What a wheel's springs do from full droop to full bump: travel [mm], energy [N*mm], force at full bump [N]."""

    travel: float
    energy: float
    bump_force: float


class Geometry(NamedTuple):
    """Mass [kg], and its centre ahead of the rear contact and above the ground [mm]; wheelbase [mm]."""

    m: float
    x: float
    h: float
    L: float


def geometry(vehicle: Vehicle, rider: bool = True) -> Geometry:
    """What the limits of drive and brakes hang on."""
    mass, centre = vehicle.centre(rider)
    ahead = centre - vehicle.contacts[0]
    return Geometry(float(mass), float(ahead[0]), float(ahead[2]), float(vehicle.wheelbase))


def _mass(vehicle: Vehicle, rider: bool) -> float:
    return float(vehicle.centre(rider)[0])


def _ground(along: float, square: float, side: float = 0.0) -> np.ndarray:
    return np.array([along, side, square])


def _loads(vehicle: Vehicle, a: float, slope: float = 0.0) -> tuple[float, float]:
    """Loads of rear and front wheel [N]; a wheel that lifts carries nothing, and not what rounding leaves."""
    loads = [float(one) for one in vehicle.wheel_loads(a, slope)]
    least = NEGLIGIBLE * max(loads)
    return (loads[0] if loads[0] > least else 0.0), (loads[1] if loads[1] > least else 0.0)


def full_drive(vehicle: Vehicle, slope: float = 0.0) -> tuple[float, str]:
    """Greatest force of the rear tyre along the ground [N], and what sets it; a third wheel stands on the level."""
    if vehicle.third_contact is not None:
        return _full_drive_on_three(vehicle)
    at = geometry(vehicle)
    a = float(lifting_acceleration(at.x, at.h, slope))
    lift = at.m * (a + G_0 * float(np.sin(slope)))
    grip = float(dynamics.force_at_grip_gaining(at.m, at.L - at.x, at.h, at.L, vehicle.grip, slope))
    return (lift, "the front wheel lifts") if lift <= grip else (grip, "the rear tyre slides")


def _full_drive_on_three(vehicle: Vehicle) -> tuple[float, str]:
    still, m = vehicle.three_loads(), _mass(vehicle, True)
    grows = vehicle.three_loads(1.0) - still
    left = m - vehicle.grip * float(grows[0])
    grip = vehicle.grip * float(still[0]) / left if left > 0.0 else np.inf
    lifts = np.where(grows < 0.0, still / np.where(grows < 0.0, -grows, 1.0), np.inf)
    lift = float(np.min(lifts))
    if grip <= lift:
        return m * grip, "the rear tyre slides"
    return m * lift, f"the {('rear', 'front', 'third')[int(np.argmin(lifts))]} wheel lifts"


def accelerating(entry: AccelerationCase, vehicle: Vehicle, radius: float) -> Whole:
    """Full drive. `radius` is that of the rear sprocket [mm]."""
    slope = float(entry.slope)
    most, limit = full_drive(vehicle, slope)
    drive = entry.share * most
    return _driven(
        "acceleration", vehicle, drive, slope, radius,
        "S = m g x cos γ / h at the lift, F = S r_t / r_s",
        (Factor("share of full drive", entry.share, STATED if entry.share != 1.0 else THE_VEHICLE),
         Factor("full drive [N]", round(most, 1), f"{limit}; {dynamics.PLANE}")),
    )  # fmt: skip


def climbing(entry: ClimbingCase, vehicle: Vehicle, radius: float) -> Whole:
    """A steady climb.

    Raises:
        CaseError: the machine would tip over backwards, or the tyre would slide.
    """
    slope = float(entry.slope)
    drive = geometry(vehicle).m * G_0 * float(np.sin(slope))
    most, limit = full_drive(vehicle, slope)
    if drive > most:
        raise CaseError(
            "slope", f"{np.degrees(slope):.1f} deg is steeper than it can climb: {limit}",
            "write a gentler one, or `type: acceleration` for the limit",
        )  # fmt: skip
    return _driven(
        "climbing", vehicle, drive, slope, radius, "S = m g sin γ, F = S r_t / r_s",
        (Factor("slope [deg]", round(float(np.degrees(slope)), 3), STATED),),
    )  # fmt: skip


def _driven(
    name: str,
    vehicle: Vehicle,
    drive: float,
    slope: float,
    radius: float,
    formula: str,
    factors: tuple[Factor, ...],
) -> Whole:
    gravity = G_0 * np.array([-np.sin(slope), 0.0, -np.cos(slope)])
    a = drive / _mass(vehicle, True) + float(gravity[0])
    rear, front = _loads(vehicle, a, slope)
    pull = float(dynamics.chain_tension(drive, vehicle.tyre_radius, radius))
    third, side = NONE, 0.0
    if vehicle.third_contact is not None:
        # Inertia acts beside the driven wheel and would turn the machine: front and rear tyre hold it sideways.
        third = _ground(0.0, float(vehicle.three_loads(a)[2]))
        beside = float((vehicle.centre()[1] - vehicle.contacts[0])[1])
        side = drive * beside / float(vehicle.wheelbase)
    return Whole(
        name, _ground(drive, rear, side), _ground(0.0, front, -side), gravity, pull, third=third,
        formula=formula, factors=factors,
    )  # fmt: skip


def snatching(entry: SnatchCase, vehicle: Vehicle, radius: float) -> Whole:
    """The chain snatches under full drive; what the ground does not take spins the wheel up."""
    drive, limit = full_drive(vehicle)
    found = _driven(
        "chain snatch", vehicle, drive, 0.0, radius, "F = n S r_t / r_s",
        (Factor("snatch of the drive", entry.factor, _said(entry, "factor")),
         Factor("full drive [N]", round(drive, 1), limit)),
    )  # fmt: skip
    return replace(found, pull=entry.factor * found.pull)


def reversing(entry: ReverseCase, vehicle: Vehicle, radius: float) -> Whole:
    """The engine brakes to the grip of the rear wheel."""
    drag, rear, front = _rear_dragged(vehicle)
    pull = float(dynamics.chain_tension(drag, vehicle.tyre_radius, radius, entry.factor))
    return Whole(
        "reverse torque", _ground(-drag, rear), _ground(0.0, front), pull=-pull,
        formula="S = μ m g (L - x) / (L + μ h), F = n S r_t / r_s on the lower run",
        factors=(Factor("snatch of the drive", entry.factor, _said(entry, "factor")), _grip(vehicle)),
    )  # fmt: skip


def _rear_dragged(vehicle: Vehicle) -> tuple[float, float, float]:
    at = geometry(vehicle)
    drag = float(dynamics.force_at_grip_losing(at.m, at.L - at.x, at.h, at.L, vehicle.grip))
    rear, front = vehicle.wheel_loads(-drag / at.m)
    return drag, float(rear), float(front)


def braking(entry: BrakeCase, vehicle: Vehicle) -> Whole:
    """One brake alone."""
    at = geometry(vehicle)
    if entry.type == "rear brake":
        drag = entry.share * _rear_dragged(vehicle)[0]
        said, formula = "the rear tyre slides", "S = μ m g (L - x) / (L + μ h)"
    else:
        lift = -at.m * float(dynamics.rear_lifting_acceleration(at.x, at.h, at.L))
        grip = float(dynamics.force_at_grip_gaining(at.m, at.x, at.h, at.L, vehicle.grip))
        drag, formula = entry.share * min(lift, grip), "S = m g (L - x) / h at the lift"
        said = "the rear wheel lifts" if lift <= grip else "the front tyre slides"
    rear, front = _loads(vehicle, -drag / at.m)
    behind = entry.type == "rear brake"
    return Whole(
        entry.type,
        _ground(-drag if behind else 0.0, rear),
        _ground(0.0 if behind else -drag, front),
        rear_braked=behind,
        formula=formula,
        factors=(
            Factor("share of the limit", entry.share, _said(entry, "share", THE_VEHICLE)),
            Factor("force along the ground [N]", round(drag, 1), f"{said}; {dynamics.PLANE}"),
            _grip(vehicle),
        ),
    )


def cornering(entry: CorneringCase, vehicle: Vehicle) -> Whole:
    """A steady turn to the left; the machine leans as stated, or with the load."""
    effective = float(np.arctan(entry.lateral))
    lean = effective if entry.lean is None else float(entry.lean)
    rear, front = (float(one) for one in vehicle.wheel_loads())
    turned = np.array([0.0, np.sin(effective - lean), np.cos(effective - lean)])
    size = np.hypot(1.0, entry.lateral)
    return Whole(
        "cornering", rear * size * turned, front * size * turned,
        G_0 * np.array([0.0, np.sin(lean), -np.cos(lean)]),
        formula="R = N √(1 + (a/g)²), leaned by atan(a/g) from the vertical",
        factors=(Factor("acceleration to the side over that of gravity", entry.lateral, STATED),
                 Factor("lean of the machine [deg]", round(float(np.degrees(lean)), 3),
                        STATED if entry.lean is not None else "with the load: Cossalter, Motorcycle Dynamics, ch. 4, "
                        "steady turning on thin tyres, from memory")),
        note="the rider's body and the width of the tyres hold what does not pass through the middle",
    )  # fmt: skip


def on_three_wheels(entry: ThreeWheelsCase, vehicle: Vehicle) -> Whole:
    """A machine on three wheels; each tyre gives force along the ground as its load is, so that nothing turns it.

    Raises:
        CaseError: a wheel lifts.
    """
    still = vehicle.three_loads()
    loads = vehicle.three_loads(-entry.braking * G_0, entry.left * G_0)
    if np.any(loads < 0.0):
        shares = still / np.where(loads < 0.0, still - loads, np.nan)
        name = ("rear", "front", "third")[int(np.nanargmin(shares))]
        raise CaseError(
            "left" if entry.left else "braking",
            f"the {name} wheel lifts at {np.nanmin(shares):.2f} of what is stated",
            "write less: what comes after is a machine on two wheels",
        )
    rear, front, third = (
        _ground(-load * entry.braking, load, load * entry.left) for load in map(float, loads)
    )
    return Whole(
        "three wheels", rear, front, third=third, rear_braked=entry.braking > 0.0,
        formula=three_wheel_loads.formula,  # type: ignore[attr-defined]
        factors=(Factor("braking over gravity", entry.braking, STATED),
                 Factor("to the left over gravity", entry.left, STATED)),
        note=f"rear {loads[0]:.0f} N, front {loads[1]:.0f} N, third {loads[2]:.0f} N; each tyre gives as its load is",
    )  # fmt: skip


def sliding(entry: SideLoadCase, vehicle: Vehicle) -> Whole:
    """A wheel slides to the right into something; both carry what they do at rest."""
    rear, front = (float(one) for one in vehicle.wheel_loads())
    struck = entry.factor * (rear if entry.wheel == "rear" else front)
    side = (struck, 0.0) if entry.wheel == "rear" else (0.0, struck)
    return Whole(
        f"side load on the {entry.wheel} wheel", _ground(0.0, rear, side[0]), _ground(0.0, front, side[1]),
        formula="F = n N", factors=(Factor("side load over the load at rest", entry.factor, _said(entry, "factor")),),
    )  # fmt: skip


def landing(entry: LandingCase, vehicle: Vehicle, rear: Stroke, front: Stroke) -> Whole:
    """The machine drops; springs and damper take what they can, the tyres the rest, once the stops are struck.

    Raises:
        CaseError: the tyre's rate is not stated.
    """
    rate = _tyre_rate(vehicle)
    seated = entry.rider == "seated"
    carried = [float(one) / G_0 for one in vehicle.wheel_loads(rider=seated)]
    forces, notes = [], []
    for name, mass, stroke in zip(("rear", "front"), carried, (rear, front), strict=True):
        if entry.wheels not in ("both", name):
            forces.append(0.0)
            continue
        comes = float(dynamics.drop_energy(mass, entry.height, stroke.travel))
        left = comes - stroke.energy
        if left <= 0.0:
            # The springs stop it on their way: at most what they give at full bump.
            forces.append(stroke.bump_force)
        else:
            forces.append(float(dynamics.force_at_stop(left, rate, mass, stroke.bump_force)))
        notes.append(
            f"{name}: {comes / 1000.0:.0f} J come, {stroke.energy / 1000.0:.0f} J go into springs and damper"
        )
    side = float(np.tan(entry.lean))
    third = NONE
    if vehicle.third_contact is not None and entry.wheels == "both":
        mass = float(vehicle.three_loads(rider=seated)[2]) / G_0
        comes = float(dynamics.drop_energy(mass, entry.height))
        third = _ground(0.0, float(dynamics.force_at_stop(comes, rate, mass)))
        notes.append(f"third: {comes / 1000.0:.0f} J come, its tyre alone takes them")
    return Whole(
        "landing" if entry.wheels == "both" else f"landing on the {entry.wheels} wheel",
        _ground(0.0, forces[0], forces[0] * side), _ground(0.0, forces[1], forces[1] * side),
        rider=seated, wheel_inertia=(NONE, NONE), third=third,
        formula="E = m g (h + s) less what springs and damper take; F = F_0 + k y at the stop",
        factors=(Factor("height of the drop [mm]", entry.height, STATED), Factor("rate of a tyre [N/mm]", rate, STATED),
                 Factor("lean [deg]", round(float(np.degrees(entry.lean)), 3), STATED)),
        note="; ".join(notes),
    )  # fmt: skip


def bumped(entry: BumpCase, vehicle: Vehicle, unsprung: tuple[float, float]) -> Whole:
    """A wheel meets a ramp; its own mass takes the blow along the travel, the frame what pushes it back.

    Raises:
        CaseError: the tyre's rate or the mass of the wheel is not stated.
    """
    rate, struck = _tyre_rate(vehicle), ("rear", "front").index(entry.wheel)
    if not unsprung[struck] > 0.0:
        key = ("vehicle.rear_unsprung", "front_end.unsprung")[struck]
        raise CaseError("wheel", "the mass of that wheel is not stated", f"state `{key}:`")
    blow = float(dynamics.blow_of_ramp(entry.speed, entry.ramp, rate, unsprung[struck]))
    back, up = -blow * float(np.sin(entry.ramp)), blow * float(np.cos(entry.ramp))
    ground = [_ground(0.0, float(one)) for one in vehicle.wheel_loads()]
    inertia = [mass * LEVEL for mass in unsprung]
    ground[struck] = ground[struck] + _ground(back, up)
    inertia[struck] = inertia[struck] - up * np.asarray(UP)
    return Whole(
        f"bump at speed, {entry.wheel} wheel", ground[0], ground[1], at_axle=True,
        wheel_inertia=(inertia[0], inertia[1]), formula="F = v sin β √(k m)",
        factors=(Factor("speed [m/s]", entry.speed, STATED),
                 Factor("ramp [deg]", round(float(np.degrees(entry.ramp)), 3), STATED),
                 Factor("rate of a tyre [N/mm]", rate, STATED)),
        note=f"the tyre gives {blow:.0f} N above its load; along the travel the wheel's own mass takes them",
    )  # fmt: skip


def _tyre_rate(vehicle: Vehicle) -> float:
    rate = float(vehicle.tyre_rate)
    if not rate > 0.0:
        raise CaseError("type", "the rate of the tyres is not stated", "state `vehicle.tyre_rate:`")
    return rate


def _grip(vehicle: Vehicle) -> Factor:
    return Factor("grip of a tyre", vehicle.grip, COMMON if vehicle.grip == 1.2 else STATED)


def _said(entry: object, key: str, otherwise: str = COMMON) -> str:
    return STATED if key in getattr(entry, "model_fields_set", ()) else otherwise
