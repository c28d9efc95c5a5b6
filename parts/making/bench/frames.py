"""From which side a part is seen: the axes of the views about the front view."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True)
class Frame:
    """The axes of a view: to the right and up on the paper, as unit vectors of the part."""

    right: np.ndarray
    up: np.ndarray

    @property
    def toward(self) -> np.ndarray:
        """Toward the eye."""
        return np.cross(self.right, self.up)

    def flat(self, place: object) -> np.ndarray:
        """Places of shape (..., 3) on the paper at full size [mm], shape (..., 2)."""
        points = np.asarray(place, float)
        return np.stack([points @ self.right, points @ self.up], axis=-1)

    def faces(self, direction: object) -> bool:
        """True where a direction points along the line of sight, either way."""
        return bool(abs(abs(float(np.dot(self.toward, np.asarray(direction, float)))) - 1.0) < 1e-9)

    def holds(self, direction: object) -> bool:
        """True where a direction lies in the paper, so that lengths along it are seen true."""
        return bool(abs(float(np.dot(self.toward, np.asarray(direction, float)))) < 1e-9)


def frame(right: object, up: object) -> Frame:
    """A frame from two directions square to each other.

    Raises:
        ValueError: they are not square to each other or not unit vectors.
    """
    r, u = np.asarray(right, float), np.asarray(up, float)
    if not np.allclose([r @ r, u @ u, r @ u], [1.0, 1.0, 0.0], atol=1e-9):
        raise ValueError("a view needs two unit vectors square to each other")
    return Frame(r, u)


def beside(front: Frame, side: str) -> Frame:
    """The frame of the view from another side of the front view."""
    r, u, n = front.right, front.up, front.toward
    return {
        "front": front,
        "top": Frame(r, -n),
        "bottom": Frame(r, n),
        "right": Frame(-n, u),
        "left": Frame(n, u),
        "back": Frame(-r, u),
    }[side]


def along(front: Frame, axis: object) -> tuple[str, Frame]:
    """The view along a direction that no side of the front view has, and in words where it looks from.

    Args:
        front: the front view.
        axis: unit vector into the metal, away from the eye.

    Returns:
        The words, and the frame: that of the nearest side, turned as the front view shows it, where that can be.
    """
    toward = -np.asarray(axis, float)
    n = front.toward
    if abs(float(toward @ n)) > 1e-9:
        return _raised(front, toward)
    sides = {name: beside(front, name) for name in ("top", "right", "left", "bottom")}
    side = max(sides, key=lambda name: float(sides[name].toward @ toward))
    near = sides[side]
    c, s = float(near.toward @ toward), float(np.cross(near.toward, toward) @ n)
    turned = Frame(*(_about(n, way, c, s) for way in (near.right, near.up)))
    sense = "anticlockwise" if s > 0.0 else "clockwise"
    turn = float(np.degrees(np.arctan2(abs(s), c)))
    return f"{side}, turned {turn:.1f}° {sense}", turned


def _about(axis: np.ndarray, way: np.ndarray, c: float, s: float) -> np.ndarray:
    """A direction turned about an axis by an angle of a cosine and a sine."""
    on: np.ndarray = (way @ axis) * axis
    return on + c * (way - on) + s * np.cross(axis, way)


def pictorial(front: Frame) -> Frame:
    """An isometric look from above, right and front."""
    r, u, n = front.right, front.up, front.toward
    eye = (r + u + n) / np.sqrt(3.0)
    right = (r - n) / np.sqrt(2.0)
    return Frame(right, np.cross(eye, right))


def _raised(front: Frame, toward: np.ndarray) -> tuple[str, Frame]:
    """The nearest side, and which of its edges stand higher toward the eye: as a wedge or a sine bar sets them."""
    sides = {
        name: beside(front, name) for name in ("front", "back", "top", "right", "left", "bottom")
    }
    side = max(sides, key=lambda name: float(sides[name].toward @ toward))
    near = sides[side]
    leans = {("right side", "left side"): near.right @ toward, ("top", "bottom"): near.up @ toward}
    words = [
        f"its {edges[int(lean < 0.0)]} raised {np.degrees(np.arcsin(abs(lean))):.2f}°"
        for edges, lean in leans.items()
        if abs(lean) > 1e-6
    ]
    up = near.up - (near.up @ toward) * toward
    up /= np.linalg.norm(up)
    return f"{side}, {' and '.join(words)}", Frame(np.cross(up, toward), up)
