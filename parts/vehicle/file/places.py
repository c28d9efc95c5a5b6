"""Where a part sits on the vehicle: an origin and three axes, found from hardpoints.

A part's place is stated as in `{origin: strut foot, x: [strut foot, seat mount], z: left}`. Two of the three
axes are given; one of them holds exactly, the other is made square to it, and the third follows.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

import numpy as np

DIRECTIONS: Mapping[str, tuple[float, float, float]] = {
    "forward": (1.0, 0.0, 0.0),
    "rearward": (-1.0, 0.0, 0.0),
    "left": (0.0, 1.0, 0.0),
    "right": (0.0, -1.0, 0.0),
    "up": (0.0, 0.0, 1.0),
    "down": (0.0, 0.0, -1.0),
}
"""Directions of the vehicle's axes, ISO 8855: x forward, y to the left, z up."""
MIRROR = np.array([1.0, -1.0, 1.0])
"""What turns a place of the left-hand side into its twin on the right."""
NEARLY_ALONG = np.sin(np.radians(1.0))
"""Sine of the angle between two stated axes below which they fix no plane [-]."""
NAMES = "xyz"


class PlaceError(ValueError):
    """A place that points do not fix."""


class Frame(NamedTuple):
    """Axes of a part within the vehicle.

    Attributes:
        origin: of the part [mm], shape (3,).
        axes: rows are the part's x, y and z in the vehicle's axes, shape (3, 3).
    """

    origin: np.ndarray
    axes: np.ndarray

    def out(self, place: Any) -> np.ndarray:
        """A place of the part in the vehicle's axes [mm]."""
        return np.asarray(self.origin + np.asarray(place, float) @ self.axes)

    def into(self, place: Any) -> np.ndarray:
        """A place of the vehicle in the part's axes [mm]."""
        return np.asarray((np.asarray(place, float) - self.origin) @ self.axes.T)

    def turned_into(self, vector: Any) -> np.ndarray:
        """A force or moment of the vehicle's axes in those of the part."""
        return np.asarray(np.asarray(vector, float) @ self.axes.T)


def frame(origin: Any, stated: Mapping[str, Any], hold: str = "x") -> Frame:
    """The frame with two axes given.

    Args:
        origin: [mm], shape (3,).
        stated: two of "x", "y", "z" with their directions [-], any length.
        hold: the axis that holds exactly where both are not square; the first one where it is not stated.

    Returns:
        A right-handed frame.

    Raises:
        PlaceError: not two axes, one without a direction, or both along one line.
    """
    if len(stated) != 2:
        raise PlaceError(f"{len(stated)} axes are given; give two of x, y and z, the third follows")
    first = hold if hold in stated else next(iter(stated))
    (second,) = (name for name in stated if name != first)
    one = _unit(stated[first], first)
    other = _unit(stated[second], second)
    across = other - (other @ one) * one
    if np.linalg.norm(across) < NEARLY_ALONG:
        raise PlaceError(
            f"{first} and {second} lie along one line; give {second} another direction"
        )
    axes = np.zeros((3, 3))
    a, b = NAMES.index(first), NAMES.index(second)
    axes[a], axes[b] = one, across / np.linalg.norm(across)
    c = 3 - a - b
    axes[c] = np.cross(axes[(c + 1) % 3], axes[(c + 2) % 3])
    return Frame(np.asarray(origin, float), axes)


def _unit(direction: Any, name: str) -> np.ndarray:
    vector = np.asarray(direction, float)
    size = np.linalg.norm(vector)
    if not size > 1e-9:
        raise PlaceError(f"{name} has no direction: its two points coincide")
    return np.asarray(vector / size)


def direction_of(direction: Any, points: Mapping[str, np.ndarray]) -> np.ndarray:
    """A direction that a file states: a word, two hardpoints or three numbers.

    Raises:
        KeyError: a hardpoint is unknown.
    """
    if isinstance(direction, str):
        return np.asarray(DIRECTIONS[direction])
    if isinstance(direction[0], str):
        return np.asarray(points[direction[1]] - points[direction[0]])
    return np.asarray(direction, float)
