"""Loads at one corner of a car, from its mass and where it sits: for who has no measured ones."""

from __future__ import annotations

from collections.abc import Mapping

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
        b [-]: acceleration that loads this axle over that of gravity: braking of the front, drive of the rear; negative
            where it relieves it.
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


def car_corner(
    entry: CarCornerCase, car: CarEntry | None, points: Mapping[str, np.ndarray]
) -> VehicleCase:
    """What the ground does to the tyre of a corner, and the shaft to its wheel.

    A brake at the wheel holds against the upright, so that all of the tyre's force acts where it stands. The engine's
    torque comes through the shaft: of its force the upright gets none of the moment about the axle, as if it acted at
    the wheel's centre (Milliken & Milliken, Race Car Vehicle Dynamics, ch. 17, from memory). Brakes give each tyre as
    much of its load as the car is slowed; in a turn the two axles give what keeps the car from turning otherwise.

    Raises:
        CaseError: the build states no `car:`, or not what drives it; the tyre slips, or the wheel lifts.
    """
    if car is None:
        raise CaseError(
            "type", "the build states no `car:`", "state its mass, centre, wheelbase and track"
        )
    load, roll = _load(entry, car)
    if load <= 0.0:
        raise CaseError(_most(entry), f"the {car.end} {car.side} wheel lifts off the ground",
                        "accelerate less: nothing acts on it then")  # fmt: skip
    drive, left = _drive_and_side(entry, car, load)
    along = float(np.hypot(drive - entry.braking * load, left)) / load
    if along > car.grip + 1e-9:
        raise CaseError(_most(entry), f"the tyre slips: {along:.3g} of its load along the ground, and its grip is "
                        f"{car.grip:g}", "speed up, brake or turn less, or state the grip of your tyres in "
                        "`car.grip`")  # fmt: skip
    forces = {car.contact: np.array([-entry.braking * load, left, load * entry.bump])}
    if drive:
        forces[_centre(car, points)] = np.array([drive, 0.0, 0.0])
    factors = (
        Factor("drive over g", entry.driving, STATED), Factor("braking over g", entry.braking, STATED),
        Factor("acceleration to the left over g", entry.left, STATED),
        Factor("bump, times the wheel's load", entry.bump), Factor("grip of the tyres", car.grip),
        Factor("share of the lateral transfer on this axle", roll,
               STATED if car.roll_share is not None else "its share of the weight"),
    )  # fmt: skip
    name = f"{car.end} {car.side} corner: {_said(entry)}"
    shaft = f"; its shaft gives {drive:.0f} N along the ground" if drive else ""
    return VehicleCase(name, forces, str(corner_load.formula), factors,  # type: ignore[attr-defined]
        f"wheel load {load:.0f} N{shaft}; the bump acts upward alone; the unsprung mass relieves nothing")  # fmt: skip


def _load(entry: CarCornerCase, car: CarEntry) -> tuple[float, float]:
    """Load of the wheel [N], and the share of the lateral transfer that its axle takes."""
    side, roll = 1.0 if car.side == "left" else -1.0, _roll(car)
    slowed = (entry.braking - entry.driving) * (1.0 if car.end == "front" else -1.0)
    load = corner_load(
        car.mass,
        _share(car),
        car.height,
        car.wheelbase,
        car.track,
        roll,
        slowed,
        -side * entry.left,
    )
    return float(load), roll


def _share(car: CarEntry) -> float:
    return car.front_share if car.end == "front" else 1.0 - car.front_share


def _drive_and_side(entry: CarCornerCase, car: CarEntry, load: float) -> tuple[float, float]:
    """What the shaft gives along the ground, and the tyre to the left [N].

    By load alone, the side forces of a car that is driven would turn it: the drive itself shifts load between the
    axles. They go by the loads without that shift, and against what a locked differential turns the car by.
    """
    weight, front = car.mass * G_0, 1.0 if car.end == "front" else -1.0
    if not entry.driving:
        return 0.0, load * entry.left
    if car.front_drive is None:
        raise CaseError("driving", "the build does not say which wheels the engine drives",
                        "state `car.front_drive:`, 0 for a car driven behind, 1 in front")  # fmt: skip
    drive, turning, rise = 0.0, 0.0, car.height / car.wheelbase
    own = weight * (_share(car) + front * (entry.braking - entry.driving) * rise)
    for end, driven in (("front", car.front_drive), ("rear", 1.0 - car.front_drive)):
        given = weight * entry.driving * driven
        axle = own if end == car.end else weight - own
        if end == car.end:
            drive = given * (load / axle if car.differential == "locked" else 0.5)
        if car.differential == "locked":
            roll = _roll(car) if end == car.end else 1.0 - _roll(car)
            turning += given * entry.left * roll * weight * rise / axle
    side = (weight * (_share(car) + front * entry.braking * rise)) * entry.left - front * turning
    return drive, side * load / own


def _roll(car: CarEntry) -> float:
    return _share(car) if car.roll_share is None else car.roll_share


def _centre(car: CarEntry, points: Mapping[str, np.ndarray]) -> str:
    if car.centre is None:
        raise CaseError("driving", "the build does not state the centre of the driven wheel",
                        "name its hardpoint in `car.centre:`")  # fmt: skip
    if points[car.centre][2] <= points[car.contact][2]:
        raise CaseError("driving", f"`{car.centre}` does not stand above `{car.contact}`",
                        "let `car.centre` be the wheel's centre")  # fmt: skip
    return car.centre


def _most(entry: CarCornerCase) -> str:
    """The key of the case that asks for most along the ground."""
    return max(("driving", "braking", "left"), key=lambda key: abs(getattr(entry, key)))


def _said(entry: CarCornerCase) -> str:
    said = []
    if entry.driving:
        said.append(
            f"{'drive' if entry.driving > 0.0 else 'engine brakes'} at {abs(entry.driving):g} g"
        )
    if entry.braking:
        said.append(f"braking at {entry.braking:g} g")
    if entry.left:
        said.append(f"turning {'left' if entry.left > 0.0 else 'right'} at {abs(entry.left):g} g")
    if entry.bump != 1.0:
        said.append(f"bump of {entry.bump:g}")
    return ", ".join(said) or "standing"
