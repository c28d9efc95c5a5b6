"""What a drawing says of a free edge and of the thickness of a plate."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from parts.core.drawing import Dimension, Linear, Radius
from parts.families.gusset.free_edge import FreeEdge

Z = np.eye(3)[2]


def lifted(flat: Any, z: float) -> np.ndarray:
    """A place (3,) from one on the plate (2,) and its height [mm]."""
    x, y = np.asarray(flat, float)
    return np.array([x, y, z])


def thickness_size(place: np.ndarray, thickness: float) -> Linear:
    """The thickness of the plate at a place (2,) [mm]."""
    half = thickness / 2.0
    low, high = (np.array([*place, z]) for z in (-half, half))
    return Linear("thickness", low, high, Z, thickness, view="top")


def edge_sizes(edge: FreeEdge, h: float, name: str) -> Iterator[Dimension]:
    """The arc of a free edge; nothing where it is straight."""
    if edge.dip is None:
        return
    radius, outward = float(edge.radius), np.asarray(edge.outward, float)
    centre = edge.place(edge.chord / 2.0, edge.centre_height)
    # Off the middle, where a tab may stand.
    lean = 0.5 * np.arcsin(float(edge.chord) / 2.0 / abs(radius))
    way = -outward * np.sign(radius)
    c, s = np.cos(lean), np.sin(lean)
    aside = np.array([c * way[0] - s * way[1], s * way[0] + c * way[1], 0.0])
    yield Radius(name, lifted(centre, h), Z, aside, abs(radius), callout=name, view="front")
