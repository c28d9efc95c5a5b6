"""Plain cylinders that stand for bought-in hardware, in the axes of the part that it belongs to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

HEAD_ACROSS, HEAD_HEIGHT = 1.8, 0.7
"""Head or nut of a bolt over its diameter: across the corners, and height [-]; common practice, no source."""
SOCKET_ACROSS = 1.5
"""Head of a socket screw over its diameter [-]: ISO 4762."""


@dataclass(frozen=True)
class Cylinder:
    """A cylinder between two places [mm] with its diameter [mm].

    `kind` is eye, shank, pin (put in from either end), screw (put in from its end alone), head, bearing, post or
    bar.
    """

    name: str
    kind: str
    start: np.ndarray
    end: np.ndarray
    diameter: float


def pin(name: str, at: Any, along: Any, diameter: float, grip: float) -> Iterator[Cylinder]:
    """A bolt with head and nut through a joint.

    Args:
        name: of the bolt.
        at: middle of the grip [mm].
        along: its direction [-], toward the head.
        diameter: of the bolt [mm].
        grip: what it clamps [mm].

    Yields:
        The bolt, its head and its nut.
    """
    way = np.asarray(along, float)
    low, high = np.asarray(at, float) - grip / 2.0 * way, np.asarray(at, float) + grip / 2.0 * way
    tall = HEAD_HEIGHT * diameter * way
    yield Cylinder(name, "pin", low, high, diameter)
    yield Cylinder(f"{name} head", "head", high, high + tall, HEAD_ACROSS * diameter)
    yield Cylinder(f"{name} nut", "head", low - tall, low, HEAD_ACROSS * diameter)


def screw(
    name: str, tip: Any, seat: Any, diameter: float, across: float = HEAD_ACROSS
) -> Iterator[Cylinder]:
    """A screw that comes from one side only.

    Args:
        name: of the screw.
        tip: its far end [mm].
        seat: where its head sits [mm].
        diameter: of its thread [mm].
        across: head over diameter [-].

    Yields:
        The screw and its head.
    """
    low, high = np.asarray(tip, float), np.asarray(seat, float)
    way = (high - low) / np.linalg.norm(high - low)
    yield Cylinder(name, "screw", low, high, diameter)
    yield Cylinder(
        f"{name} head", "head", high, high + HEAD_HEIGHT * diameter * way, across * diameter
    )
