"""Section outlines that several features share."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.strength.outline import Loop, Outline


def chamfered(b: Any, h: Any, c: Any, centre: tuple[Any, Any] = (0.0, 0.0)) -> Outline:
    """A rectangle with its four corners broken at 45 degrees.

    Args:
        b: breadth along y [mm].
        h: height along z [mm].
        c: leg of the chamfer [mm]; 0 leaves the corners sharp.
        centre: y and z of its centre [mm].

    Returns:
        The outline; every argument may be an array.
    """
    y, z, c = np.broadcast_arrays(
        np.asarray(b, float) / 2.0, np.asarray(h, float) / 2.0, np.asarray(c, float)
    )
    ys = [-y + c, y - c, y, y, y - c, -y + c, -y, -y]
    zs = [-z, -z, -z + c, z - c, z, z, z - c, -z + c]
    points = np.stack([np.stack(ys, axis=-1), np.stack(zs, axis=-1)], axis=-1)
    return Outline((Loop(points, np.zeros(8)),)).moved(*centre)
