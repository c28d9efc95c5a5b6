"""Points along a loop of lines and arcs, and the distance of points from it."""

from __future__ import annotations

import numpy as np

from parts.strength.outline import Array, Loop

SAMPLES = 48
"""Points spread along each segment of a loop, where the figure is measured."""


def sampled(loop: Loop, count: int = SAMPLES) -> Array:
    """Points spread along every segment of a loop (n, 2) [mm]."""
    t = np.arange(count) / count
    return np.concatenate([curve.at(t)[0] for curve in loop.curves()])


def distance(points: Array, loop: Loop) -> Array:
    """Distance [mm] of each point (n, 2) from the nearest line or arc of a loop; exact."""
    nearest = np.full(len(points), np.inf)
    for curve in loop.curves():
        start, end, bulge = np.asarray(curve.start), np.asarray(curve.end), curve.bulge
        ends = np.minimum(np.hypot(*(points - start).T), np.hypot(*(points - end).T))
        along = end - start
        if bulge == 0.0:
            share = ((points - start) @ along) / (along @ along)
            off = np.abs((points - start) @ np.array([-along[1], along[0]])) / np.hypot(*along)
            within = (share >= 0.0) & (share <= 1.0)
        else:
            # The centre lies on the chord's normal at (1 - bulge²)/(4 bulge) of its length.
            centre = (start + end) / 2.0 + np.array([-along[1], along[0]]) * (1.0 - bulge**2) / (
                4.0 * bulge
            )
            off = np.abs(np.hypot(*(points - centre).T) - np.hypot(*(start - centre)))
            way = np.arctan2(points[:, 1] - centre[1], points[:, 0] - centre[0])
            turn = (
                np.sign(bulge)
                * (way - float(np.arctan2(start[1] - centre[1], start[0] - centre[0])))
                % (2.0 * np.pi)
            )
            within = turn <= 4.0 * np.arctan(abs(bulge))
        nearest = np.minimum(nearest, np.where(within, np.minimum(off, ends), ends))
    return nearest
