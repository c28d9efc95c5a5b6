"""Plane figures by their sizes: rectangles, circles, polygons, and rounds with flats."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from parts.strength.section.outline import QUARTER, Loop, Outline


def _loop(y: Sequence[ArrayLike], z: Sequence[ArrayLike], bulge: ArrayLike = 0.0) -> Loop:
    """A loop from coordinates that may broadcast against each other."""
    flat = np.broadcast_arrays(*(np.asarray(v, float) for v in (*y, *z)))
    n = len(y)
    points = np.stack([np.stack(flat[:n], axis=-1), np.stack(flat[n:], axis=-1)], axis=-1)
    b = np.asarray(bulge, float)
    return Loop(points, np.full(n, b) if b.ndim == 0 else b)


def rectangle(
    b: ArrayLike, h: ArrayLike, centre: tuple[ArrayLike, ArrayLike] = (0.0, 0.0)
) -> Outline:
    """A rectangle.

    Args:
        b [mm]: breadth along y.
        h [mm]: height along z.
        centre [mm]: y and z of its centre.

    Returns:
        [-] the outline.
    """
    y, z = np.asarray(b, float) / 2.0, np.asarray(h, float) / 2.0
    return Outline((_loop([-y, y, y, -y], [-z, -z, z, z]),)).moved(*centre)


def rounded_rectangle(b: ArrayLike, h: ArrayLike, r: ArrayLike) -> Outline:
    """A rectangle with rounded corners, centred on the origin.

    Args:
        b [mm]: breadth along y.
        h [mm]: height along z.
        r [mm]: radius of the corners; 0 leaves them sharp, and more than half the lesser side
            counts as that half.

    Returns:
        [-] the outline.
    """
    y, z = np.asarray(b, float) / 2.0, np.asarray(h, float) / 2.0
    radius = np.minimum(np.asarray(r, float), np.minimum(y, z))
    u, v = y - radius, z - radius
    loop = _loop(
        [-u, u, y, y, u, -u, -y, -y],
        [-z, -z, -v, v, z, z, v, -v],
        np.array([0.0, QUARTER] * 4),
    )
    return Outline((loop,))


def circle(d: ArrayLike, centre: tuple[ArrayLike, ArrayLike] = (0.0, 0.0)) -> Outline:
    """A disc.

    Args:
        d [mm]: diameter.
        centre [mm]: y and z of its centre.

    Returns:
        [-] the outline.
    """
    r = np.asarray(d, float) / 2.0
    return Outline((_loop([r, -r], [0.0, 0.0], np.ones(2)),)).moved(*centre)


def annulus(D: ArrayLike, d: ArrayLike) -> Outline:
    """A tube's section, centred on the origin.

    Args:
        D [mm]: outside diameter.
        d [mm]: bore; 0 makes a disc.

    Returns:
        [-] the outline.
    """
    return circle(D).minus(circle(d))


def regular_polygon(across_flats: ArrayLike, n: int) -> Outline:
    """A regular polygon about the origin, one flat facing +y.

    Args:
        across_flats [mm]: twice the distance from centre to flat (the wrench size where n is even).
        n [-]: number of flats.

    Returns:
        [-] the outline.
    """
    corners = np.pi / n * (2.0 * np.arange(n) - 1.0)
    r = np.asarray(across_flats, float) / (2.0 * np.cos(np.pi / n))
    return Outline((_loop([r * np.cos(w) for w in corners], [r * np.sin(w) for w in corners]),))


def round_with_flats(d: ArrayLike, across_flats: ArrayLike, flats: int = 2) -> Outline:
    """A disc with flats milled in opposite pairs, evenly spaced, the first facing +y.

    Args:
        d [mm]: diameter; flats that lie outside it leave the disc whole.
        across_flats [mm]: distance between the flats of a pair.
        flats [-]: number of flats, even.

    Returns:
        [-] the outline.

    Raises:
        ValueError: where the number of flats is odd or below 2.
    """
    if flats < 2 or flats % 2:
        raise ValueError(f"flats come in opposite pairs: {flats} flats should be 2, 4, 6, ...")
    d, a = np.asarray(d, float), np.asarray(across_flats, float)
    share = np.divide(
        a,
        d,
        out=np.ones(np.broadcast(a, d).shape),
        where=np.broadcast_to(d > 0.0, np.broadcast(a, d).shape),
    )
    half = np.minimum(np.arccos(np.clip(share, 0.0, 1.0)), np.pi / flats)
    r = np.minimum(d / 2.0, a / (2.0 * np.maximum(np.cos(half), 1e-300)))
    r = np.where(half < np.pi / flats, d / 2.0, r)
    angles = [
        w
        for k in range(flats)
        for w in (2 * np.pi * k / flats - half, 2 * np.pi * k / flats + half)
    ]
    arc = np.tan((2.0 * np.pi / flats - 2.0 * half) / 4.0)
    bulge = np.stack([np.zeros_like(arc), arc] * flats, axis=-1)
    return Outline(
        (_loop([r * np.cos(w) for w in angles], [r * np.sin(w) for w in angles], bulge),)
    )
