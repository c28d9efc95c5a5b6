"""The vehicle: masses, where they sit, and the loads of its wheels by statics.

Axes as in ISO 8855: x forward, y to the left, z up; places in mm, forces in N, accelerations in m/s^2.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.usual_loads import G_0
from parts.strength.method import Number, method
from parts.strength.vectors import cross
from parts.vehicle.rear_end.linkage import UP

STATICS = (
    "moments about the other wheel's contact with the ground; Beer & Johnston, Vector Mechanics for "
    "Engineers, ch. 16, from memory"
)


class VehicleError(ValueError):
    """A vehicle or a load case that makes no sense; `key` is the value to look at, where it is one alone."""

    def __init__(self, said: str, key: str = "") -> None:
        self.key = key
        super().__init__(said)


@dataclass(frozen=True)
class Vehicle:
    """Masses and where they sit. Places have shape (..., 3).

    Attributes:
        machine_mass: ready to ride, without the rider [kg].
        rider_mass: dressed to ride [kg].
        wheelbase: between the axles [mm].
        rear_axle: centre of the rear wheel at rest [mm].
        tyre_radius: of the rear tyre under load: the ground lies that far under the axle [mm].
        machine_centre: centre of mass of the machine [mm].
        rider_centre: centre of mass of the seated rider [mm].
        rear_unsprung: mass of wheel, brake and the share of the swing arm that move with it [kg].
        passenger_mass: dressed to ride [kg]; he counts in his own load cases alone.
        grip: force of a tyre along the ground over its load [-].
        tyre_rate: vertical rate of a tyre [N/mm]; not a number where it is not known.
        third_contact: where a third wheel stands on the ground [mm], as of a sidecar; None on two wheels.
        lifted: how much higher it stands at rest without its rider [mm].

    Raises:
        VehicleError: a mass or size that makes no sense.
    """

    machine_mass: Any
    rider_mass: Any
    wheelbase: Any
    rear_axle: Any
    tyre_radius: Any
    machine_centre: Any
    rider_centre: Any
    rear_unsprung: Any = 0.0
    passenger_mass: Any = 0.0
    grip: Any = 1.2
    tyre_rate: Any = np.nan
    third_contact: Any = None
    lifted: Any = 0.0

    def __post_init__(self) -> None:
        for name in ("machine_mass", "wheelbase", "tyre_radius"):
            if not np.all(np.asarray(getattr(self, name)) > 0.0):
                raise VehicleError(f"{name.replace('_', ' ')} must be more than nothing")
        if not np.all(np.asarray(self.rider_mass) >= 0.0):
            raise VehicleError("rider mass must not be below nothing")
        inside = np.asarray(self.rear_unsprung) < self.machine_mass
        if not np.all((np.asarray(self.rear_unsprung) >= 0.0) & inside):
            raise VehicleError(
                f"rear unsprung mass is {np.max(self.rear_unsprung):g} kg; it is part of the machine's "
                f"{np.min(self.machine_mass):g} kg"
            )
        for name in ("rear_axle", "machine_centre", "rider_centre"):
            if np.shape(getattr(self, name))[-1:] != (3,):
                raise VehicleError(f"{name.replace('_', ' ')} needs three numbers x, y, z in mm")

    @property
    def contacts(self) -> tuple[np.ndarray, np.ndarray]:
        """Where the rear and the front tyre stand on the ground [mm]."""
        rear = np.asarray(self.rear_axle, float) - np.asarray(self.tyre_radius)[
            ..., None
        ] * np.asarray(UP)
        return rear, rear + np.asarray(self.wheelbase)[..., None] * np.array([1.0, 0.0, 0.0])

    def bodies(self, rider: bool = True) -> tuple[tuple[str, Any, Any], ...]:
        """Name, mass [kg] and centre of mass [mm] of what is carried."""
        machine = ("machine", self.machine_mass, self.machine_centre)
        return (machine, ("rider", self.rider_mass, self.rider_centre)) if rider else (machine,)

    def centre(self, rider: bool = True) -> tuple[Any, np.ndarray]:
        """Mass [kg] and centre of mass [mm] of machine and, if wanted, rider."""
        parts = self.bodies(rider)
        mass = sum(np.asarray(m, float) for _, m, _ in parts)
        moment = sum(np.asarray(m)[..., None] * np.asarray(at, float) for _, m, at in parts)
        return mass, moment / np.asarray(mass)[..., None]

    def stands(self) -> None:
        """Hold the centre of mass between the axles, of the machine alone and with its rider.

        Raises:
            VehicleError: it would tip over where it stands.
        """
        if self.third_contact is not None:
            self._stands_on_three()
            return
        for rider, whose, key in (
            (False, "the machine's centre of mass", "machine_centre"),
            (True, "the centre of mass of machine and rider", "rider_centre"),
        ):
            _, centre = self.centre(rider)
            ahead = (centre - self.contacts[0])[..., 0]
            if np.any(ahead <= 0.0):
                raise VehicleError(
                    f"{whose} lies {np.max(-ahead):g} mm behind the rear axle, where the machine tips over; place it "
                    "ahead of the rear axle, x forward",
                    key,
                )
            if np.any(ahead >= self.wheelbase):
                raise VehicleError(
                    f"the wheelbase is {np.min(self.wheelbase):g} mm, and {whose} lies {np.max(ahead):g} mm ahead of "
                    f"the rear axle, beyond the front one; the wheelbase must be more than {np.max(ahead):g} mm, or "
                    "that centre lie farther back",
                    "wheelbase",
                )

    def _stands_on_three(self) -> None:
        rear, front = self.contacts
        third = np.asarray(self.third_contact, float)
        if abs(float(cross(front - rear, third - rear)[2])) < 1.0:
            raise VehicleError(
                "its three wheels stand in one line; place the third beside it", "third_wheel"
            )
        for rider, whose in ((False, "the machine"), (True, "machine and rider")):
            loads = self.three_loads(rider=rider)
            if np.any(loads <= 0.0):
                name = ("rear", "front", "third")[int(np.argmin(loads))]
                raise VehicleError(
                    f"the centre of mass of {whose} lies beyond the line of the other two wheels, and its {name} wheel "
                    "lifts where it stands; place it between the three",
                    "machine_centre",
                )

    def wheel_loads(self, a: Any = 0.0, slope: Any = 0.0, rider: bool = True) -> tuple[Any, Any]:
        """Load on the rear and on the front wheel.

        Args:
            a: acceleration forwards [m/s^2]; braking negative.
            slope: of the ground, uphill positive [rad].
            rider: True with the rider.

        Returns:
            square to the ground [N]; a negative one means that the wheel has lifted.
        """
        if self.third_contact is not None:
            rear, front, _ = np.moveaxis(self.three_loads(a, rider=rider), -1, 0)
            return rear, front
        m, centre = self.centre(rider)
        ahead, height = (centre - self.contacts[0])[..., 0], (centre - self.contacts[0])[..., 2]
        rear = rear_wheel_load(m, ahead, height, self.wheelbase, a, slope)
        front = front_wheel_load(m, ahead, height, self.wheelbase, a, slope)
        return rear, front

    def three_loads(self, a: Any = 0.0, left: Any = 0.0, rider: bool = True) -> np.ndarray:
        """Loads of rear, front and third wheel on level ground [N], shape (..., 3); below nothing where one has lifted.

        Args:
            a: acceleration forwards [m/s^2]; braking negative.
            left: acceleration to the left [m/s^2].
            rider: True with the rider.
        """
        m, centre = self.centre(rider)
        rear = self.contacts[0]
        at = np.array([*self.contacts, np.asarray(self.third_contact, float)]) - rear
        x, y, h = centre - rear
        return np.asarray(three_wheel_loads(m, x, y, h, at[:, 0], at[:, 1], a, left))

    def rear_sprung_load(self, rider: bool = True) -> Any:
        """What the rear spring carries at rest on the level [N]: the wheel's load less the unsprung weight."""
        return self.wheel_loads(rider=rider)[0] - np.multiply(self.rear_unsprung, G_0)


@method(
    formula="N_r = m (g ((L - x) cos γ + h sin γ) + a h) / L, g = 9.80665 m/s²",
    source=STATICS,
    valid="both wheels on the ground, no lift or drag of the air; not below nothing",
    holds=lambda m, x, h, L, a=0.0, gamma=0.0: _rear(m, x, h, L, a, gamma) >= 0.0,
)
def rear_wheel_load(
    m: Number, x: Number, h: Number, L: Number, a: Number = 0.0, gamma: Number = 0.0
) -> Number:
    """Load on the rear wheel, square to the ground.

    Args:
        m [kg]: mass.
        x [mm]: centre of mass ahead of the rear wheel's contact.
        h [mm]: centre of mass above the ground.
        L [mm]: wheelbase.
        a [m/s^2]: acceleration forwards.
        gamma [rad]: slope, uphill positive.

    Returns:
        [N] load; below nothing where the wheel has lifted, and then the load of neither wheel is real.
    """
    return np.asarray(_rear(m, x, h, L, a, gamma))[()]


def _rear(m: Any, x: Any, h: Any, L: Any, a: Any, gamma: Any) -> Any:
    lean = np.subtract(L, x) * np.cos(gamma) + np.multiply(h, np.sin(gamma))
    return np.asarray(m) * (G_0 * lean + np.multiply(a, h)) / L


@method(
    formula="N_f = m (g (x cos γ - h sin γ) - a h) / L, g = 9.80665 m/s²",
    source=STATICS,
    valid="both wheels on the ground, no lift or drag of the air; not below nothing",
    holds=lambda m, x, h, L, a=0.0, gamma=0.0: _front(m, x, h, L, a, gamma) >= 0.0,
)
def front_wheel_load(
    m: Number, x: Number, h: Number, L: Number, a: Number = 0.0, gamma: Number = 0.0
) -> Number:
    """Load on the front wheel, square to the ground.

    Args:
        m [kg]: mass.
        x [mm]: centre of mass ahead of the rear wheel's contact.
        h [mm]: centre of mass above the ground.
        L [mm]: wheelbase.
        a [m/s^2]: acceleration forwards.
        gamma [rad]: slope, uphill positive.

    Returns:
        [N] load; below nothing where the wheel has lifted, and then the load of neither wheel is real.
    """
    return np.asarray(_front(m, x, h, L, a, gamma))[()]


def _front(m: Any, x: Any, h: Any, L: Any, a: Any, gamma: Any) -> Any:
    lean = np.multiply(x, np.cos(gamma)) - np.multiply(h, np.sin(gamma))
    return np.asarray(m) * (G_0 * lean - np.multiply(a, h)) / L


@method(
    formula="a = g (x cos γ / h - sin γ), g = 9.80665 m/s²",
    source="front wheel load nil; " + STATICS,
    valid="centre of mass above the ground",
    holds=lambda x, h, gamma=0.0: np.asarray(h) > 0.0,
)
def lifting_acceleration(x: Number, h: Number, gamma: Number = 0.0) -> Number:
    """Acceleration at which the front wheel lifts.

    Args:
        x [mm]: centre of mass ahead of the rear wheel's contact.
        h [mm]: centre of mass above the ground.
        gamma [rad]: slope, uphill positive.

    Returns:
        [m/s^2] acceleration forwards.
    """
    return (G_0 * (np.divide(x, h) * np.cos(gamma) - np.sin(gamma)))[()]


@method(
    formula="Σ N = m g, Σ N X = m (g x - a_x h), Σ N Y = m (g y - a_y h)",
    source="a rigid body on three supports, its inertia at the centre of mass; Beer & Johnston, Vector Mechanics for "
    "Engineers, Statics, ch. 4, equilibrium in three dimensions, from memory",
)
def three_wheel_loads(
    m: Number,
    x: Number,
    y: Number,
    h: Number,
    X: Number,
    Y: Number,
    a_x: Number = 0.0,
    a_y: Number = 0.0,
) -> Number:
    """Loads of three wheels, square to level ground.

    Args:
        m [kg]: mass.
        x [mm]: centre of mass forward.
        y [mm]: centre of mass to the left.
        h [mm]: centre of mass above the ground.
        X [mm]: wheels forward, shape (..., 3).
        Y [mm]: wheels to the left, shape (..., 3).
        a_x [m/s^2]: acceleration forward; braking negative.
        a_y [m/s^2]: acceleration to the left.

    Returns:
        [N] loads, shape (..., 3).
    """
    at = np.broadcast_arrays(np.ones(3), np.asarray(X, float), np.asarray(Y, float))
    sums = np.broadcast_arrays(
        G_0, np.multiply(G_0, x) - np.multiply(a_x, h), np.multiply(G_0, y) - np.multiply(a_y, h)
    )
    right = np.asarray(m, float)[..., None] * np.stack(sums, axis=-1)
    loads: Number = np.linalg.solve(np.stack(at, axis=-2), right[..., None])[..., 0]
    return loads
