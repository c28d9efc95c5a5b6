"""The surface of a proved piece with what moves and bears on it: enough to be turned in a page, and no more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from parts.proof.field import Field

RAMP = ((0.93, 0.94, 0.90), (0.93, 0.62, 0.32), (0.45, 0.05, 0.12))
"""Colours from low stress over the middle to high: low is light, so that the shape and the lines on it are seen; high
is dark, so that the order survives in grey."""
FACES = ((0, 1, 2, 4, 5, 6, 3), (0, 1, 3, 4, 8, 7, 2), (1, 2, 3, 5, 9, 8, 0), (2, 0, 3, 6, 7, 9, 1))
"""Each face of a ten-noded element: three corners, the middles of its edges in their order, the corner opposite."""
QUARTERS = ((0, 3, 5), (3, 1, 4), (5, 4, 2), (3, 4, 5))
"""A six-noded triangle as four flat ones."""


@dataclass(frozen=True)
class State:
    """One load case on a skin: `moved` [mm] (n, 3), von Mises `mises` [MPa] (n,), and the `peak` [MPa] that counts,
    away from supports and singular edges."""

    case: str
    moved: np.ndarray
    mises: np.ndarray
    peak: float
    place: tuple[float, float, float]


@dataclass(frozen=True)
class Skin:
    """Places [mm] (n, 3) and triangles (m, 3), outward, of a piece, with its states."""

    piece: str
    places: np.ndarray
    triangles: np.ndarray
    states: tuple[State, ...]


def skin(
    piece: str,
    fields: Sequence[Field],
    cases: Sequence[str],
    peaks: Sequence[tuple[float, tuple[float, float, float]]],
) -> Skin:
    """Take the surface off a solution.

    Args:
        piece: name of the piece.
        fields: the solution under each load case.
        cases: names of the load cases.
        peaks: of each case the stress that counts as its peak [MPa], and where [mm].

    Returns:
        The skin; each element's face as four flat triangles.
    """
    places = fields[0].places
    flat = places.reshape(-1, 3)
    _, first, same = np.unique(np.round(flat, 5), axis=0, return_index=True, return_inverse=True)
    members = same.reshape(len(places), 10)
    six, opposite = _outer(members)
    a, b, c = (flat[first[six[:, k]]] for k in range(3))
    inward = np.einsum("ij,ij->i", np.cross(b - a, c - a), flat[first[opposite]] - a) > 0.0
    six = np.where(inward[:, None], six[:, [0, 2, 1, 5, 4, 3]], six)
    small = six[:, np.array(QUARTERS)].reshape(-1, 3)
    used, triangles = np.unique(small, return_inverse=True)
    pick = first[used]
    states = tuple(
        State(name, _of(one.moved, pick), one.mises.ravel()[pick].astype(np.float32), *peak)
        for one, name, peak in zip(fields, cases, peaks, strict=True)
    )
    return Skin(piece, _of(places, pick), triangles.reshape(-1, 3).astype(np.int32), states)


def _of(values: np.ndarray, pick: np.ndarray) -> np.ndarray:
    return values.reshape(-1, 3)[pick].astype(np.float32)


def _outer(members: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Six points of every face that belongs to one element alone, and the corner opposite."""
    every = np.concatenate([members[:, one] for one in np.array(FACES)])
    corners = np.sort(every[:, :3], axis=1)
    _, first, count = np.unique(corners, axis=0, return_index=True, return_counts=True)
    alone = np.sort(first[count == 1])
    return every[alone, :6], every[alone, 6]
