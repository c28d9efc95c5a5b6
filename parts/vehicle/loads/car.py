"""Loads at one corner of a car, from its mass and where it sits: for who has no measured ones."""

from __future__ import annotations

import numpy as np

from parts.core.usual_loads import G_0
from parts.strength.method import Number, method
from parts.vehicle.file.car_entry import CarEntry
from parts.vehicle.file.case_entries import CarCornerCase
from parts.vehicle.loads.build_case import STATED, CaseError
from parts.vehicle.loads.vehicle_cases import Factor, VehicleCase

BOOKS = (
    "statics; Gillespie, Fundamentals of Vehicle Dynamics, ch. 1 (axle loads) and 6 (lateral transfer), and Milliken & "
    "Milliken, Race Car Vehicle Dynamics, ch. 18, state the same, from memory"
)


@method(
    formula="F = m g (q/2 + b h/(2 L) + s r h/T), g = 9.80665 m/s²",
    source=BOOKS,
)
def corner_load(
    m: Number, q: Number, h: Number, L: Number, T: Number, r: Number, b: Number, s: Number
) -> Number:
    """Load of one wheel of a car, square to level ground, its springs at rest.

    Args:
        m [kg]: the car with its driver.
        q [-]: share of its weight on this axle at rest.
        h [mm]: centre of mass above the ground.
        L [mm]: wheelbase.
        T [mm]: track of this axle.
        r [-]: share of the lateral transfer that this axle takes.
        b [-]: acceleration that loads this axle over that of gravity: braking of the front, less it of the rear.
        s [-]: acceleration away from this wheel's side over that of gravity: this wheel is the outer one.

    Returns:
        [N] load; nothing and less where the wheel lifts.

    Example: 600 kg, half of it in front; braking at 1 g with h/L of a fifth loads each front wheel by 1177 N more.
        >>> round(float(corner_load(600.0, 0.5, 400.0, 2000.0, 1400.0, 0.5, 1.0, 0.0)))
        2059
    """
    share = (
        np.asarray(q) / 2.0
        + np.multiply(b, h) / (2.0 * np.asarray(L))
        + np.multiply(s, r) * h / np.asarray(T)
    )
    load: Number = np.asarray(m) * G_0 * share
    return load


def car_corner(entry: CarCornerCase, car: CarEntry | None) -> VehicleCase:
    """What the ground does to the tyre of a corner.

    Every tyre gives as much of its load along the ground as the car is accelerated, so that nothing turns the car.

    Raises:
        CaseError: the build states no `car:`, the tyre slips, or the wheel lifts.
    """
    if car is None:
        raise CaseError(
            "type", "the build states no `car:`", "state its mass, centre, wheelbase and track"
        )
    along = float(np.hypot(entry.braking, entry.left))
    if along > car.grip + 1e-9:
        key = "braking" if entry.braking >= abs(entry.left) else "left"
        raise CaseError(key, f"the tyre slips: {along:.3g} g along the ground, and its grip is {car.grip:g}",
                        "brake or turn less, or state the grip of your tyres in `car.grip`")  # fmt: skip
    front, side = car.end == "front", 1.0 if car.side == "left" else -1.0
    share = car.front_share if front else 1.0 - car.front_share
    roll = share if car.roll_share is None else car.roll_share
    load = float(corner_load(car.mass, share, car.height, car.wheelbase, car.track, roll,
        entry.braking if front else -entry.braking, -side * entry.left))  # fmt: skip
    if load <= 0.0:
        raise CaseError("left" if entry.left else "braking", f"the {car.end} {car.side} wheel lifts off the ground",
                        "accelerate less: nothing acts on it then")  # fmt: skip
    force = load * np.array([-entry.braking, entry.left, entry.bump])
    factors = (
        Factor("braking over g", entry.braking, STATED), Factor("acceleration to the left over g", entry.left, STATED),
        Factor("bump, times the wheel's load", entry.bump), Factor("grip of the tyres", car.grip),
        Factor("share of the lateral transfer on this axle", roll,
               STATED if car.roll_share is not None else "its share of the weight"),
    )  # fmt: skip
    name = f"{car.end} {car.side} corner: {_said(entry)}"
    return VehicleCase(name, {car.contact: force}, str(corner_load.formula), factors,  # type: ignore[attr-defined]
        f"wheel load {load:.0f} N; the bump acts upward alone; the unsprung mass relieves nothing")  # fmt: skip


def _said(entry: CarCornerCase) -> str:
    said = []
    if entry.braking:
        said.append(f"braking at {entry.braking:g} g")
    if entry.left:
        said.append(f"turning {'left' if entry.left > 0.0 else 'right'} at {abs(entry.left):g} g")
    if entry.bump != 1.0:
        said.append(f"bump of {entry.bump:g}")
    return ", ".join(said) or "standing"
