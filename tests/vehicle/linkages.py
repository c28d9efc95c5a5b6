"""Linkages that the tests share, beside that of the hill-climb motorcycle."""

from __future__ import annotations

import numpy as np
from scipy.spatial.transform import Rotation

from parts.vehicle.rear_end.linkage import Linkage

SKEWED = Linkage(
    # A bar along the frame, its arm pointing outwards, a leaning link, a swing arm on a canted axis.
    pivot=(0.0, 0.0, 430.0),
    axle=(-500.0, 10.0, 330.0),
    pick_up=(-110.0, 95.0, 425.0),
    arm_end=(-90.0, 130.0, 260.0),
    bar=(-60.0, 30.0, 255.0),
    travel=110.0,
    drawn_at=20.0,
    pivot_axis=(0.05, 1.0, -0.03),
    bar_axis=(1.0, 0.1, 0.05),
    pick_up_pin=(1.0, 0.2, 0.0),
    arm_pin=(1.0, 0.0, 0.1),
)

RADIUS, LENGTH, DROOP = 100.0, 500.0, np.radians(-12.0)
PARALLEL = Linkage(
    # Arm and swing arm's lug equal and parallel: the arm turns as the swing arm does.
    pivot=(0.0, 0.0, 0.0),
    axle=(-LENGTH * np.cos(DROOP), 0.0, LENGTH * np.sin(DROOP)),
    pick_up=(30.0, 0.0, RADIUS),
    arm_end=(-120.0, 0.0, RADIUS + 40.0),
    bar=(-150.0, 0.0, 40.0),
    travel=100.0,
)


def turned(place, point, axis, angle):
    """A place turned about a line by scipy's rotations, as an independent way."""
    axis = np.asarray(axis, float) / np.linalg.norm(axis)
    point = np.asarray(point, float)
    return point + Rotation.from_rotvec(angle * axis).apply(np.asarray(place, float) - point)


def closure(linkage, travel, link_length):
    """What is open in the two equations for the turns: height of the axle, length of the link [mm]."""

    def left(angles):
        axle = turned(linkage.axle, linkage.pivot, linkage.pivot_axis, angles[0])
        pick_up = turned(linkage.pick_up, linkage.pivot, linkage.pivot_axis, angles[0])
        arm_end = turned(linkage.arm_end, linkage.bar, linkage.bar_axis, angles[1])
        rise = axle[2] - linkage.axle[2] - (travel - linkage.drawn_at)
        return [rise, np.linalg.norm(pick_up - arm_end) - link_length]

    return left
