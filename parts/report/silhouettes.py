"""What stands round the parts of a build, as plain lines: wheels, rider, tubes of the frame; drawn, not measured."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

import numpy as np

from parts.vehicle.file.places import MIRROR

if TYPE_CHECKING:
    from parts.vehicle.build import Build

AROUND = 72
"""Corners of a ring [-]."""
HEAD, NECK = 105.0, 150.0
"""Radius of the rider's head, and its middle above the shoulders [mm]; from memory."""
LIMB = 0.56
"""Length of thigh or shank over the way from hip to foot [-]: a knee that is bent."""
UPWARD = np.array([0.0, 0.0, 1.0])
Line = tuple[str, np.ndarray]


def silhouettes(build: Build, points: Mapping[str, np.ndarray]) -> Iterator[Line]:
    """The lines.

    Args:
        build: the build.
        points: places of its hardpoints [mm]; those of the rear end where they have moved to.

    Yields:
        What a line stands for, and its places [mm], (n, 3).
    """
    entry = build.entry
    for i, tube in enumerate(entry.frame, 1):
        yield f"frame tube {i}", np.array([points[at] for at in tube])
    if entry.vehicle is None:
        return
    own = entry.vehicle
    yield "rear tyre", ring(points[own.rear_axle], own.tyre_radius)
    if entry.front_end is not None:
        axle = points[entry.front_end.axle]
        radius = float(axle[2] - build.points[own.rear_axle][2] + own.tyre_radius)
        if radius > 0.0:
            yield "front tyre", ring(axle, radius)
        yield "fork", np.array([points[entry.front_end.headstock], axle])
    if own.rider_mass:
        yield from _rider(build, points)


def ring(middle: np.ndarray, radius: float) -> np.ndarray:
    """A ring about an axis across the vehicle, (AROUND + 1, 3)."""
    turn = np.linspace(0.0, 2.0 * np.pi, AROUND + 1)
    way = np.stack([np.cos(turn), np.zeros_like(turn), np.sin(turn)], axis=-1)
    found: np.ndarray = middle + radius * way
    return found


def _rider(build: Build, points: Mapping[str, np.ndarray]) -> Iterator[Line]:
    """Trunk, head, arms and legs, from the seat through the rider's centre of mass to where hands and feet are."""
    entry = build.entry
    assert entry.vehicle is not None
    centre = points[entry.vehicle.rider_centre]
    seats = [case.at for case in entry.cases if case.type == "seat"]
    hip = points[seats[0]] if seats else centre - 200.0 * UPWARD
    lean = centre - hip
    shoulders = hip + 2.0 * lean
    yield "rider", np.array([hip, shoulders])
    yield (
        "rider's head",
        ring(shoulders + NECK * lean / max(float(np.linalg.norm(lean)), 1.0), HEAD),
    )
    for at in entry.front_end.loaded_at if entry.front_end is not None else ():
        for hand, side in ((points[at], ""), (points[at] * MIRROR, ", other side")):
            yield f"rider's arm to {at}{side}", np.array([shoulders, hand])
    for at in dict.fromkeys(case.at for case in entry.cases if case.type == "one peg"):
        foot = points[at]
        yield f"rider's leg to {at}", np.array([hip, _knee(hip, foot), foot])


def _knee(hip: np.ndarray, foot: np.ndarray) -> np.ndarray:
    """Where the knee is, bent forward."""
    along = foot - hip
    long = float(np.linalg.norm(along))
    forward = np.cross(np.array([0.0, -1.0, 0.0]), along)
    out = long * float(np.sqrt(LIMB**2 - 0.25))
    found: np.ndarray = (hip + foot) / 2.0 + out * forward / max(
        float(np.linalg.norm(forward)), 1.0
    )
    return found
