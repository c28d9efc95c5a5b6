"""Points along a loop of lines and arcs, and the distance of points from it."""

from __future__ import annotations

import numpy as np

from parts.strength.section.outline import Array, Loop

SAMPLES = 48
"""Points spread along each segment of a loop, where the figure is measured."""


def sampled(loop: Loop, count: int = SAMPLES) -> Array:
    """Points spread along every segment of a loop (n, 2) [mm]."""
    t = np.arange(count) / count
    return np.concatenate([curve.at(t)[0] for curve in loop.curves()])


def distance(points: Array, loop: Loop) -> Array:
    """Distance [mm] of each point (n, 2) from the nearest line or arc of a loop; exact."""
    real = np.any(loop.points != loop.ends, axis=-1)
    start, end, bulge = loop.points[real], loop.ends[real], loop.bulge[real]
    along = end - start
    length = np.hypot(along[:, 0], along[:, 1])
    x, y = (points[:, None, k] - start[:, k] for k in (0, 1))
    ends = np.hypot(x, y)
    ends = np.minimum(ends, np.roll(ends, -1, axis=-1))
    # Along a line, and off it.
    share = (x * along[:, 0] + y * along[:, 1]) / length**2
    off = np.abs(y * along[:, 0] - x * along[:, 1]) / length
    within = (share >= 0.0) & (share <= 1.0)
    if np.any(bulge):
        # The centre lies on the chord's normal at (1 - bulge²)/(4 bulge) of its length from the middle.
        arc = bulge != 0.0
        b = bulge[arc]
        lift = (1.0 - b**2) / (4.0 * b)
        cx = along[arc, 0] / 2.0 - along[arc, 1] * lift
        cy = along[arc, 1] / 2.0 + along[arc, 0] * lift
        px, py = x[:, arc] - cx, y[:, arc] - cy
        off[:, arc] = np.abs(np.hypot(px, py) - np.hypot(cx, cy))
        turn = np.sign(b) * (np.arctan2(py, px) - np.arctan2(-cy, -cx)) % (2.0 * np.pi)
        within[:, arc] = turn <= 4.0 * np.arctan(np.abs(b))
    return np.asarray(np.where(within, np.minimum(off, ends), ends).min(axis=-1))
