"""What a cutter meets on a solid: thin walls, and what is in its way."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import combinations
from typing import Any

import numpy as np

from parts.making.stl import triangles

LEAST_OVERLAP = 4.0
"""Facing flats that share less than this each way [mm] make neither slot nor wall."""
OFF = 0.3
"""How far off a face a look out into the open begins [mm]: more than facets stand off a hollow face."""


@dataclass(frozen=True)
class Gap:
    """Two flats that face each other across air (a slot) or across metal (a wall): how far apart they are, the
    lesser of the two extents that they share, and the middle [mm]."""

    width: float
    depth: float
    place: np.ndarray
    metal: bool


def gaps(solid: Any) -> list[Gap]:
    """Pairs of parallel flats that face each other, across air or across metal."""
    flats = []
    for face in solid.Faces():
        if face.geomType() == "PLANE":
            normal = np.array(face.normalAt().toTuple())
            points = np.array([v.toTuple() for v in face.Vertices()])
            if len(points) > 1:
                flats.append((normal, points, np.array(face.Center().toTuple())))
    found = []
    for (n, p, c), (m, q, d) in combinations(flats, 2):
        if n @ m > -1.0 + 1e-9:
            continue
        across = float((d - c) @ n)
        shared = _shared(n, p, q)
        if shared is None or abs(across) < 1e-6:
            continue
        size, middle = shared
        place = middle + n * (float(c @ n) + across / 2.0)
        # Air lies between two flats that look at each other.
        metal = across < 0.0
        if bool(solid.isInside(tuple(place), 1e-6)) is metal:
            found.append(Gap(abs(across), float(min(size)), place, metal))
    return found


def _shared(
    normal: np.ndarray, p: np.ndarray, q: np.ndarray
) -> tuple[np.ndarray, np.ndarray] | None:
    """Size and middle of what the boxes of two flats share, seen along their normal."""
    aside = np.eye(3)[int(np.argmin(np.abs(normal)))]
    u = np.cross(normal, aside) / np.linalg.norm(np.cross(normal, aside))
    axes = np.array([u, np.cross(normal, u)])
    a, b = p @ axes.T, q @ axes.T
    low = np.maximum(a.min(axis=0), b.min(axis=0))
    high = np.minimum(a.max(axis=0), b.max(axis=0))
    size = high - low
    return (size, (low + high) / 2.0 @ axes) if np.all(size > LEAST_OVERLAP) else None


@dataclass(frozen=True)
class Sight:
    """The solid as facets, to see whether a straight way out is free."""

    a: np.ndarray
    u: np.ndarray
    v: np.ndarray
    _flat: dict[bytes, tuple[np.ndarray, np.ndarray, np.ndarray]] = field(default_factory=dict)
    """By direction: two axes square to it, and the box of each facet along them."""

    @classmethod
    def of(cls, solid: Any) -> Sight:
        places, rows = triangles(solid, 0.02, 0.1)
        a, b, c = np.moveaxis(places[rows], 1, 0)
        return cls(a, b - a, c - a)

    def free(self, start: np.ndarray, way: np.ndarray) -> bool:
        """True where nothing lies ahead of a place in a direction; Möller and Trumbore's test of each facet before or
        behind which it lies."""
        axes, low, high = self._along(way)
        at = (axes @ start)[:, None]
        near = np.flatnonzero(np.all((low <= at) & (at <= high), axis=0))
        u, v, s = self.u[near], self.v[near], start - self.a[near]
        p = np.cross(way, v)
        det = np.einsum("ij,ij->i", u, p)
        safe = np.where(np.abs(det) > 1e-12, det, np.inf)
        alpha = np.einsum("ij,ij->i", s, p) / safe
        q = np.cross(s, u)
        beta = q @ way / safe
        ahead = np.einsum("ij,ij->i", v, q) / safe
        hit = (alpha >= 0) & (beta >= 0) & (alpha + beta <= 1) & (ahead > 1e-9)
        return not bool(hit.any())

    def _along(self, way: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        key = np.asarray(way, float).tobytes()
        if key not in self._flat:
            aside = np.cross(way, np.eye(3)[int(np.argmin(np.abs(way)))])
            axes = np.array([aside, np.cross(way, aside)])
            corners = np.stack([axes @ c.T for c in (self.a, self.a + self.u, self.a + self.v)])
            self._flat[key] = axes, corners.min(axis=0) - 1e-6, corners.max(axis=0) + 1e-6
        return self._flat[key]
