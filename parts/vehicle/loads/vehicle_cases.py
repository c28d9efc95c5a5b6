"""Load cases from the vehicle, by statics and stated factors: rider on peg, seat and pedal, wheel, chain, kick.

Axes as in ISO 8855: x forward, y to the left, z up; places in mm, forces in N. A factor is a choice, not a
measurement: each case shows what it stands on, and whoever knows better puts his own in its place. For
comparison: ISO 4210-8 proves a bicycle's pedal with 1500 N straight down (static strength test).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.usual_loads import COMMON, weight_times
from parts.strength.vectors import cross
from parts.vehicle.loads.vehicle import Vehicle, VehicleError
from parts.vehicle.rear_end.linkage import UP, unit

DOWN = (0.0, 0.0, -1.0)
WEIGHT_TIMES: str = weight_times.formula  # type: ignore[attr-defined]


@dataclass(frozen=True)
class Factor:
    """A number that a load case stands on: its name, value and where it comes from."""

    name: str
    value: Any
    source: str = COMMON


@dataclass(frozen=True)
class VehicleCase:
    """A load case of the vehicle: forces at named hardpoints.

    Attributes:
        name: of the case.
        forces: by hardpoint [N], each of shape (..., 3).
        formula: how they were found.
        factors: what was chosen for it.
        note: what to know of it.
    """

    name: str
    forces: Mapping[str, np.ndarray]
    formula: str
    factors: tuple[Factor, ...]
    note: str = ""


def on_foot_peg(
    vehicle: Vehicle, n: Any = 3.0, hardpoint: str = "foot peg", direction: Any = DOWN
) -> VehicleCase:
    """The rider lands with all his weight on one peg."""
    return _rider_on(
        "standing on one peg at landing", vehicle, hardpoint, n, direction, "weight at landing"
    )


def on_seat(
    vehicle: Vehicle, n: Any = 3.0, hardpoint: str = "seat", direction: Any = DOWN
) -> VehicleCase:
    """The rider lands on the seat."""
    return _rider_on("seat landing", vehicle, hardpoint, n, direction, "weight at landing")


def on_passenger_seat(
    vehicle: Vehicle, n: Any = 3.0, hardpoint: str = "passenger seat", direction: Any = DOWN
) -> VehicleCase:
    """The passenger lands on his seat.

    Raises:
        VehicleError: the vehicle has no passenger.
    """
    if not np.all(np.asarray(vehicle.passenger_mass) > 0.0):
        raise VehicleError(
            "the vehicle carries no passenger; state `passenger_mass:` under `vehicle:`"
        )
    return _weight_on(
        "passenger lands on his seat", vehicle.passenger_mass, hardpoint, n, direction,
        "passenger's weight at landing",
    )  # fmt: skip


def on_brake_pedal(
    vehicle: Vehicle, n: Any = 1.5, hardpoint: str = "brake pedal", direction: Any = DOWN
) -> VehicleCase:
    """The rider stamps on the brake pedal in a panic."""
    return _rider_on("brake pedal panic", vehicle, hardpoint, n, direction, "weight on the pedal")


def on_kick_lever(
    vehicle: Vehicle, n: Any = 2.0, hardpoint: str = "kick lever", direction: Any = DOWN
) -> VehicleCase:
    """The rider jumps on the kick lever, and it stops dead."""
    return _rider_on("kick start", vehicle, hardpoint, n, direction, "weight on the lever")


def on_shift_lever(
    vehicle: Vehicle, n: Any = 0.5, hardpoint: str = "shift lever", direction: Any = DOWN
) -> VehicleCase:
    """The rider, who sits, stamps a gear in that does not go."""
    return _rider_on("missed gear", vehicle, hardpoint, n, direction, "weight on the shift lever")


def boot_aside(
    vehicle: Vehicle, n: Any = 0.3, hardpoint: str = "lever", direction: Any = DOWN
) -> VehicleCase:
    """The rider's boot catches a lever from the side, or from below."""
    return _rider_on(
        "boot against the lever", vehicle, hardpoint, n, direction, "weight by which a boot pushes"
    )


def _rider_on(
    name: str, vehicle: Vehicle, at: str, n: Any, direction: Any, meaning: str
) -> VehicleCase:
    return _weight_on(name, vehicle.rider_mass, at, n, direction, f"rider's {meaning}")


def _weight_on(name: str, mass: Any, at: str, n: Any, direction: Any, meaning: str) -> VehicleCase:
    if not np.all(np.asarray(n) > 0.0):
        raise VehicleError(
            f"{name}: the factor on the rider's weight is {np.min(n):g}; it must be more than 0"
        )
    way = unit(direction)
    if not np.all(np.isfinite(way)):
        raise VehicleError(f"{name}: the force has no direction; straight down would be 0, 0, -1")
    force = np.asarray(weight_times(n, mass))[..., None] * way
    return VehicleCase(name, {at: force}, WEIGHT_TIMES, (Factor(meaning, n),))


def at_full_bump(
    vehicle: Vehicle, n: Any = 3.0, spring_force: Any = 0.0, hardpoint: str = "rear axle"
) -> VehicleCase:
    """The rear wheel strikes full bump.

    Args:
        vehicle: masses and places.
        n: wheel load at the strike over that at rest with the rider [-].
        spring_force: of the spring at the wheel at full bump [N]; the case is never less than it.
        hardpoint: name of the axle.

    Returns:
        [-] the case. What the spring does not carry goes through the bump stop.
    """
    strike = np.multiply(n, vehicle.wheel_loads()[0])
    force = np.maximum(strike, spring_force)
    stop = np.max(force - spring_force)
    return VehicleCase(
        "wheel at full bump",
        {hardpoint: np.asarray(force)[..., None] * np.asarray(UP)},
        "F = max(n N_r, F_spring)",
        (Factor("wheel load at the strike over that at rest", n),),
        note=f"up to {stop:.0f} N of it go through the bump stop"
        if np.any(spring_force) and stop > 0.0
        else "",
    )


def chain_run(
    rear: Any, front: Any, r_rear: Any, r_front: Any, lower: bool = False
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Upper or lower run of a chain between two sprockets that turn about y.

    Args:
        rear, front: centres of the sprockets [mm], shape (..., 3).
        r_rear, r_front: pitch radii [mm].
        lower: True for the run that the engine brakes through.

    Returns:
        places where the chain leaves the rear and the front sprocket [mm], and its direction forwards [-].

    Raises:
        VehicleError: the sprockets touch.
    """
    rear, front = np.asarray(rear, float), np.asarray(front, float)
    across = (front - rear) * np.array([1.0, 0.0, 1.0])
    apart = np.linalg.norm(across, axis=-1)
    if not np.all(apart > np.add(r_rear, r_front)):
        raise VehicleError(
            f"the sprockets stand {np.min(apart):.1f} mm apart with pitch radii of {np.max(r_rear):.1f} and "
            f"{np.max(r_front):.1f} mm: they touch"
        )
    along = unit(across)
    upward = cross(along, np.array([0.0, -1.0 if lower else 1.0, 0.0]))
    sine = (np.subtract(r_rear, r_front) / apart)[..., None]
    cosine = np.sqrt(1.0 - sine**2)
    out = sine * along + cosine * upward
    leaves = rear + np.asarray(r_rear)[..., None] * out
    meets = front + np.asarray(r_front)[..., None] * out
    # Sprockets out of line bend the chain sideways; both ends still pull along one line.
    return leaves, meets, unit(meets - leaves)
