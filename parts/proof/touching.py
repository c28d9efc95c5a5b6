"""Where on a finished piece the tip of a dial gauge can stand: on a bare face, square to its plunger, in free reach."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from parts.proof.skin import Skin

SQUARE = 0.92
"""Cosine of the angle between a face and the plunger above which the tip does not slide off; common practice, no
source."""
PLUNGER = 4.0
"""Half the thickness of a gauge's stem [mm]: 8 h6 by DIN 878; from memory."""
PROUD = 1.0
"""How far metal beside the plunger may stand above its tip [mm]: the length of the tip's ball; common practice, no
source."""


class Touchable:
    """The skin of a piece, asked for places.

    Attributes:
        places: of the skin [mm] (n, 3).
        normals: of unit length, outward; at an edge between its faces (n, 3).
        bare: whether a place lies on no edge, and under nothing that holds, loads or is bolted to the piece (n,).
    """

    def __init__(self, skin: Skin) -> None:
        self.places = np.asarray(skin.places, float)
        self.bare = np.ones(len(self.places), bool)
        self._corners = self.places[skin.triangles]
        a, b, c = np.moveaxis(self._corners, 1, 0)
        square = np.cross(b - a, c - a)
        normals = np.zeros_like(self.places)
        for k in range(3):
            np.add.at(normals, skin.triangles[:, k], square)
        size = np.linalg.norm(normals, axis=1, keepdims=True)
        self.normals = normals / np.maximum(size, 1e-12)
        unit = square / np.maximum(np.linalg.norm(square, axis=1, keepdims=True), 1e-12)
        for k in range(3):
            corner = skin.triangles[:, k]
            self.bare[corner[(unit * self.normals[corner]).sum(axis=1) < SQUARE]] = False

    def first(self, order: Iterable[int], axis: int) -> int | None:
        """The first of some places that a plunger along an axis can touch; none where no one can."""
        return next((int(k) for k in order if self._reached(int(k), axis)), None)

    def nearest(self, at: np.ndarray, axis: int) -> int | None:
        """The place nearest to a point [mm] that a plunger along an axis can touch."""
        return self.first(self.by(np.linalg.norm(self.places - at, axis=1), axis), axis)

    def by(self, cost: np.ndarray, axis: int) -> np.ndarray:
        """The bare places that lie square to an axis, the one of least cost first."""
        fit = np.flatnonzero(self.bare & (np.abs(self.normals[:, axis]) > SQUARE))
        return np.asarray(fit[np.argsort(cost[fit], kind="stable")])

    def _reached(self, k: int, axis: int) -> bool:
        """Whether the way out along the axis is free as wide as the gauge's stem."""
        outward = float(np.sign(self.normals[k, axis]))
        across = [i for i in range(3) if i != axis]
        high = outward * (self._corners[:, :, axis] - self.places[k, axis])
        flat = self._corners[:, :, across] - self.places[k, across]
        near = (
            (high.max(axis=1) > PROUD)
            & (flat.min(axis=1) < PLUNGER).all(axis=1)
            & (flat.max(axis=1) > -PLUNGER).all(axis=1)
        )
        return not np.any(_distance(flat[near]) < PLUNGER)


def _distance(triangles: np.ndarray) -> np.ndarray:
    """How far the origin lies from flat triangles (n, 3, 2); 0 within them."""
    ends = np.roll(triangles, -1, axis=1)
    way = ends - triangles
    long = np.maximum((way**2).sum(axis=2), 1e-12)
    share = np.clip(-(triangles * way).sum(axis=2) / long, 0.0, 1.0)
    off = np.linalg.norm(triangles + share[:, :, None] * way, axis=2).min(axis=1)
    side = way[:, :, 0] * -triangles[:, :, 1] - way[:, :, 1] * -triangles[:, :, 0]
    inside = (side > 0.0).all(axis=1) | (side < 0.0).all(axis=1)
    return np.asarray(np.where(inside, 0.0, off))
