"""From the entries of a build file to places: the frame of a part, and where the vehicle's masses sit."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from parts.vehicle.file.entries import PlaceEntry, VehicleEntry
from parts.vehicle.file.places import Frame, PlaceError, direction_of, frame
from parts.vehicle.loads.vehicle import Vehicle
from parts.vehicle.rear_end.linkage import COINCIDENT


def names_of(place: PlaceEntry | None) -> list[str]:
    """The hardpoints that a place is found from."""
    if place is None:
        return []
    origin = [place.origin] if isinstance(place.origin, str) else list(place.origin)
    ways = [w for w in (place.x, place.y, place.z) if isinstance(w, list) and isinstance(w[0], str)]
    return [*origin, *(name for way in ways for name in way)]


def frame_of(place: PlaceEntry, points: Mapping[str, np.ndarray]) -> Frame:
    """The axes of a part in the vehicle.

    Raises:
        KeyError: a hardpoint is unknown.
        PlaceError: the place fixes no frame.
    """
    names = [place.origin] if isinstance(place.origin, str) else place.origin
    origin = np.mean([points[name] for name in names], axis=0) + np.asarray(place.offset)
    for axis in "xyz":
        way = getattr(place, axis)
        if isinstance(way, list) and isinstance(way[0], str):
            one, other = (np.asarray(points[name]) for name in way)
            if np.linalg.norm(other - one) < COINCIDENT:
                raise PlaceError(
                    f"{axis} has no direction: {way[0]} and {way[1]} coincide; move one of them"
                )
    stated = {
        axis: direction_of(way, points)
        for axis in "xyz"
        if (way := getattr(place, axis)) is not None
    }
    return frame(origin, stated, place.hold)


def vehicle_of(one: VehicleEntry, points: Mapping[str, np.ndarray]) -> Vehicle:
    """The vehicle from its entry.

    Raises:
        VehicleError: it makes no sense.
    """
    return Vehicle(
        machine_mass=one.machine_mass,
        rider_mass=one.rider_mass,
        wheelbase=one.wheelbase,
        rear_axle=points[one.rear_axle],
        tyre_radius=one.tyre_radius,
        machine_centre=points[one.machine_centre],
        rider_centre=points[one.rider_centre],
        rear_unsprung=one.rear_unsprung,
        passenger_mass=one.passenger_mass,
        grip=one.grip,
        third_contact=None if one.third_wheel is None else points[one.third_wheel],
        tyre_rate=np.nan if one.tyre_rate is None else one.tyre_rate,
    )
