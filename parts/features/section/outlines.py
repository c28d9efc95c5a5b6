"""Section outlines that several features share."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.strength.section.outline import Loop, Outline


def figure(points: Sequence[tuple[Any, Any]], bulges: Sequence[Any] | None = None) -> Outline:
    """A closed figure from its corners; every coordinate and bulge may be an array.

    Args:
        points: corners, counter-clockwise [mm].
        bulges: tan(angle/4) of the arc that leaves each corner; all straight where left out.

    Returns:
        The outline.
    """
    flat = np.broadcast_arrays(*(np.asarray(v, float) for point in points for v in point))
    places = np.stack([np.stack(flat[0::2], axis=-1), np.stack(flat[1::2], axis=-1)], axis=-1)
    if bulges is None:
        return Outline((Loop(places, np.zeros(len(points))),))
    arcs = np.stack(np.broadcast_arrays(*(np.asarray(b, float) for b in bulges)), axis=-1)
    return Outline((Loop(places, arcs),))


def chamfered(b: Any, h: Any, c: Any, centre: tuple[Any, Any] = (0.0, 0.0)) -> Outline:
    """A rectangle with its four corners broken at 45 degrees.

    Args:
        b: breadth along y [mm].
        h: height along z [mm].
        c: leg of the chamfer [mm]; 0 leaves the corners sharp.
        centre: y and z of its centre [mm].

    Returns:
        The outline; every argument may be an array.
    """
    y, z, c = np.asarray(b, float) / 2.0, np.asarray(h, float) / 2.0, np.asarray(c, float)
    return figure(
        [
            (-y + c, -z),
            (y - c, -z),
            (y, -z + c),
            (y, z - c),
            (y - c, z),
            (-y + c, z),
            (-y, z - c),
            (-y, -z + c),
        ]
    ).moved(*centre)


def beside_bore(
    side: Any,
    thickness: Any,
    bore: Any,
    edge_break: Any,
    off: Any,
    countersunk: Any = True,
    sunk: Any = None,
) -> Outline:
    """The strip from a bore to the side of a plate, cut square to the plate and parallel to a pull.

    Args:
        side: from the middle of the bore to the side of the plate [mm].
        thickness: of the plate [mm].
        bore: diameter [mm].
        edge_break: chamfer of the side's edges, and of the bore's [mm].
        off: distance of the cut from the middle of the bore, below half the bore [mm].
        countersunk: False leaves the edges of the bore sharp.
        sunk: chamfer of the bore where it is not the same [mm].

    Returns:
        The strip on the +y side, the middle of the bore at y = 0. The conical chamfer of the bore is cut in
        a hyperbola, for which stands the arc through its ends and its middle.
    """
    c = np.asarray(edge_break, float)
    r, z = np.asarray(bore, float) / 2.0, np.asarray(thickness, float) / 2.0
    k = np.where(countersunk, c if sunk is None else sunk, 0.0)
    inner, half, face = (
        np.sqrt(np.maximum((r + share * k) ** 2 - np.square(off), 0.0)) for share in (0.0, 0.5, 1.0)
    )
    arc = _arc_bulge((face, z), (half, z - k / 2.0), (inner, z - k))
    return figure(
        [
            (face, -z),
            (side - c, -z),
            (side, -z + c),
            (side, z - c),
            (side - c, z),
            (face, z),
            (inner, z - k),
            (inner, -z + k),
        ],
        [0.0, 0.0, 0.0, 0.0, 0.0, arc, 0.0, arc],
    )


def _arc_bulge(start: tuple[Any, Any], middle: tuple[Any, Any], end: tuple[Any, Any]) -> Any:
    """Bulge of the arc through three points, straight where they coincide."""
    (a, b), (c, d), (e, f) = start, middle, end
    u, v, w, x = c - a, d - b, e - c, f - d
    # Between the two half chords lies half the angle of the arc.
    return np.tan(np.arctan2(u * x - v * w, u * w + v * x) / 2.0)
