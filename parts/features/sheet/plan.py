"""Outlines of flats with rounded corners."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.features.section.outlines import figure
from parts.strength.section.outline import Outline

Corner = tuple[Any, Any, Any]
"""A corner: its x and y, and the radius that rounds it [mm]."""


def rounded(corners: Sequence[Corner]) -> Outline:
    """The polygon of corners that go round counter-clockwise, each rounded by its radius."""
    at = [
        np.stack(np.broadcast_arrays(*(np.asarray(v, float) for v in c[:2])), -1) for c in corners
    ]
    points: list[tuple[Any, Any]] = []
    bulges: list[Any] = []
    for i, (x, y, radius) in enumerate(corners):
        here = np.stack(np.broadcast_arrays(np.asarray(x, float), np.asarray(y, float)), -1)
        back, on = (_toward(here, at[k % len(at)]) for k in (i - 1, i + 1))
        turn = np.arctan2(
            -back[..., 0] * on[..., 1] + back[..., 1] * on[..., 0],
            -back[..., 0] * on[..., 0] - back[..., 1] * on[..., 1],
        )
        off = np.asarray(radius, float) * np.abs(np.tan(turn / 2.0))
        start, end = (here + off[..., None] * way for way in (back, on))
        if np.any(off > 0.0):
            points += [(start[..., 0], start[..., 1]), (end[..., 0], end[..., 1])]
            bulges += [np.tan(turn / 4.0), 0.0]
        else:
            points.append((here[..., 0], here[..., 1]))
            bulges.append(0.0)
    return figure(points, bulges)


def _toward(start: Any, end: Any) -> Any:
    way = end - start
    return way / np.linalg.norm(way, axis=-1, keepdims=True)
