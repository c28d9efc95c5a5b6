"""From where a stressed piece is seen well."""

from __future__ import annotations

import numpy as np

from parts.proof.field import Field

TURNS, TILTS = range(-180, 180, 20), (-35.0, -15.0, 24.0, 42.0)
"""Angles of the eye that are tried [deg]."""
LEAST_TURN = 100.0
"""Angle between the two views, at least [deg]."""
FACES = ((0, 1, 2), (0, 1, 3), (0, 2, 3), (1, 2, 3))
"""Corners of the faces of an element; the corner that is left over lies inside."""


def best_two(found: Field) -> tuple[tuple[float, float], tuple[float, float]]:
    """Two angles that show the most of the stressed skin, each stretch of it by the square of its stress."""
    corners = found.places[:, :4].reshape(-1, 3)
    _, same = np.unique(np.round(corners, 6), axis=0, return_inverse=True)
    numbers = same.reshape(-1, 4)
    faces = np.concatenate([numbers[:, list(f)] for f in FACES])
    apex = np.concatenate([found.places[:, k] for k in (3, 2, 1, 0)])
    mises = np.concatenate([found.mises[:, list(f)].mean(axis=1) for f in FACES])
    at = np.concatenate([found.places[:, list(f)] for f in FACES])
    _, first, count = np.unique(
        np.sort(faces, axis=1), axis=0, return_index=True, return_counts=True
    )
    skin = first[count == 1]
    at, apex, weight = at[skin], apex[skin], np.clip(mises[skin], 0.0, None) ** 2
    normal = np.cross(at[:, 1] - at[:, 0], at[:, 2] - at[:, 0])
    outward = np.einsum("na,na->n", normal, at.mean(axis=1) - apex)
    normal *= np.sign(outward)[:, None]
    angles = [(float(a), b) for a in TURNS for b in TILTS]
    eyes = np.array([eye_of(*one)[0] for one in angles])
    shown = np.maximum(normal @ eyes.T, 0.0)
    # Half for the stress that is seen, half for how much of the piece is.
    worth = (weight @ shown) / max(weight @ np.linalg.norm(normal, axis=1), 1e-30)
    worth += shown.sum(axis=0) / np.linalg.norm(normal, axis=1).sum()
    best = int(np.argmax(worth))
    far = eyes @ eyes[best] < np.cos(np.radians(LEAST_TURN))
    return angles[best], angles[int(np.argmax(np.where(far, worth, -1.0)))]


def eye_of(turn: float, tilt: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Toward the eye, to the right and up of a view from angles [deg]."""
    a, b = np.radians(turn), np.radians(tilt)
    eye = np.array([np.cos(b) * np.cos(a), np.cos(b) * np.sin(a), np.sin(b)])
    right = np.array([-np.sin(a), np.cos(a), 0.0])
    return eye, right, np.cross(eye, right)
