"""A pictorial view of a part, where its sheet has room for one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.core.drawing import Drawn
from parts.making.bench.arrangement import SCALES, SPACE
from parts.making.bench.frames import frame, pictorial
from parts.making.bench.ink import Ink, Line, extent
from parts.making.bench.projection import look
from parts.making.bench.views import scaled

FINEST, CLOSE, MANY_FINE = 1.0, 3.0, 12
"""Lines this short are left out of a pictorial view where more than so many stand so close together [mm]."""


def picture(
    drawn: Drawn,
    solid: Any,
    scale: float,
    taken: Sequence[Ink],
    low_: np.ndarray,
    high_: np.ndarray,
) -> list[Ink]:
    """A pictorial view where the sheet has room for one: in the corner that is most free of what the room from
    `low_` to `high_` holds already."""
    seen = look(solid, pictorial(frame(drawn.right, drawn.up))).visible
    boxes = [extent([one]) for one in taken]
    for size in [s for s in SCALES if s <= scale]:
        ink = [thin(scaled(curve, size)) for curve in seen]
        ink = _thinned(ink)
        low, high = extent(list(ink))
        need = high - low
        for share_x in (1.0, 0.75, 0.5, 0.25, 0.0):
            for share_y in (1.0, 0.8, 0.6, 0.4, 0.2, 0.0):
                spare = high_ - low_ - need
                if np.any(spare < 0.0):
                    continue
                corner = low_ + spare * np.array([share_x, share_y])
                ends = corner - SPACE / 2.0, corner + need + SPACE / 2.0
                if not any(np.all(a < ends[1]) and np.all(b > ends[0]) for a, b in boxes):
                    return [one.moved(corner - low) for one in ink]
    return []


def _thinned(ink: list[Any]) -> list[Any]:
    """A pictorial view without short lines where many stand close: teeth of a spline would run into a black spot."""
    paths = [one.path() for one in ink]
    short = np.array([np.max(np.ptp(path, axis=0)) <= FINEST for path in paths])
    middles = np.array([path.mean(axis=0) for path in paths])
    close = np.linalg.norm(middles[:, None] - middles[short][None], axis=-1) < CLOSE
    return [
        one
        for one, fine, near in zip(ink, short, close.sum(axis=1), strict=True)
        if not fine or near <= MANY_FINE
    ]


def thin(curve: Any) -> Any:
    """A curve in the narrow line of pictorial views."""
    if isinstance(curve, Line):
        return Line(curve.points, "pictorial", curve.closed)
    return type(curve)(curve.centre, curve.radius, curve.start, curve.stop, "pictorial")
