"""Ends of tubes: where a tube meets others, and how long to cut it.

A tube of radius r meets a saddle of radius R at an angle θ between their centre lines, e beside each other.
Round the tube, φ from the side on which θ is measured, the saddle is met at

    t(φ) = (√((R + g)² − (r sin φ + e)²) + r cos φ cos θ) / sin θ

along the tube from the point nearest the saddle's axis, g being the gap kept for the weld. It is the
meeting of two cylinders, solved for the length along one of them. On the flat face of a square tube the root
is its half depth and g: the tube is sawn at an angle. On a rectangular tube r cos φ and r sin φ are the places of its
outside, and φ the share of the way round it from the middle of its first side on.

Every size may be an array over variants.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

STEPS = 361


@dataclass(frozen=True)
class TubeEnd:
    """An end of a tube: square, or coped to a round tube that it meets.

    `saddle` is the diameter of what it meets (0: square), or the depth of a square tube whose face it stands on
    (`flat`), `angle` that between the two centre lines [rad], `offset`
    the distance between them [mm], and `gap` the weld gap kept all round [mm]. `turn` is where round the tube that
    angle lies, from the tube's reference line [rad]. `others` are tubes that end there too and are met beside it:
    each reaches from the node on the side of its angle alone.
    """

    name: str
    saddle: Any = 0.0
    angle: Any = np.pi / 2.0
    offset: Any = 0.0
    gap: Any = 0.0
    turn: Any = 0.0
    others: tuple[TubeEnd, ...] = ()
    flat: bool = False

    @property
    def saw(self) -> Any:
        """Off square at which a saw is set for a flat face [rad]."""
        return np.abs(np.pi / 2.0 - np.asarray(self.angle, float))


@dataclass(frozen=True)
class Tube:
    """A tube to be cut: between the centres (or faces) that it joins, less what its ends take [mm].

    `outside` is its diameter, or the side along the reference line's y; `deep` the other side of a rectangular one.
    `bent` is true of one that is drawn out straight here: all lengths are those along its centre line.
    """

    name: str
    outside: Any
    wall: Any
    between: Any
    ends: tuple[TubeEnd, TubeEnd]
    deep: Any = 0.0
    bent: bool = False

    @property
    def around(self) -> Any:
        """Length round its outside [mm]."""
        return length_round(self.outside, self.wall, self.deep)

    def cut(self, i: int, turn: np.ndarray | None = None) -> Cut:
        """The cut at its first (0) or last end (1)."""
        return cope(self.outside, self.wall, self.ends[i], turn, self.deep)


@dataclass(frozen=True)
class Cut:
    """The end of a tube, round it from the reference line: turn [rad] and length from the node [mm].

    `outside` is where the outside of the tube meets the saddle; `square` where to cut straight through the
    wall so that the inside edge clears it too. Not a number where the tube stands beside its saddle.
    """

    turn: np.ndarray
    outside: np.ndarray
    square: np.ndarray


CORNER = 2.0
"""Outside radius of the corners of a rectangular tube over its wall [-]: EN 10219-2, walls to 6 mm; from memory."""


def length_round(outside: Any, wall: Any, deep: Any) -> Any:
    """Length round the outside of a tube [mm], as `place_round` goes."""
    box = 2.0 * np.add(outside, deep) - (8.0 - 2.0 * np.pi) * CORNER * np.asarray(wall, float)
    return np.where(np.greater(deep, 0.0), box, np.pi * np.asarray(outside, float))[()]


def place_round(
    outside: Any, wall: Any, deep: Any, turn: np.ndarray, below: Any = 0.0
) -> tuple[Any, Any]:
    """Places round a tube, from the middle of the side at +y toward +z.

    Args:
        outside: diameter, or the side along y [mm], shape (...).
        wall: its thickness [mm].
        deep: the side along z; 0 for a round tube [mm].
        turn: share of the way round times 2π [rad], shape (n,).
        below: how far below the outside [mm].

    Returns:
        y and z [mm], each of shape (..., n).
    """
    outside, wall, deep, below = (
        np.asarray(v, float)[..., None] for v in (outside, wall, deep, below)
    )
    if not np.any(deep > 0.0):
        r = outside / 2.0 - below
        return r * np.cos(turn), r * np.sin(turn)
    R = CORNER * wall
    flat_y, flat_z = outside / 2.0 - R, deep / 2.0 - R
    arc = np.pi / 2.0 * R
    quarter = flat_z + arc + flat_y
    # Each quarter is as the first, walked forward or back.
    s = np.mod(np.asarray(turn, float), 2.0 * np.pi) / (2.0 * np.pi) * 4.0 * quarter
    k = np.minimum(np.floor(s / quarter), 3.0)
    s = np.where(k % 2.0 == 0.0, s - k * quarter, (k + 1.0) * quarter - s)
    w = np.clip((s - flat_z) / R, 0.0, np.pi / 2.0)
    y = np.where(s > flat_z + arc, quarter - s, flat_y + (R - below) * np.cos(w))
    z = np.where(s < flat_z, s, flat_z + (R - below) * np.sin(w))
    side_y, side_z = np.where((k == 1.0) | (k == 2.0), -1.0, 1.0), np.where(k >= 2.0, -1.0, 1.0)
    return side_y * y, side_z * z


def cope(
    outside: Any, wall: Any, end: TubeEnd, turn: np.ndarray | None = None, deep: Any = 0.0
) -> Cut:
    """The cut at one end of a tube.

    Args:
        outside: diameter of the tube, or its side along y [mm], shape (...).
        wall: its thickness [mm].
        end: what it meets.
        turn: where round the tube [rad], as `place_round` goes, shape (n,); all round where left out.
        deep: its side along z; 0 for a round tube [mm].

    Returns:
        The cut, lengths of shape (..., n).
    """
    phi = np.linspace(0.0, 2.0 * np.pi, STEPS) if turn is None else np.asarray(turn, float)
    outer = meets(place_round(outside, wall, deep, phi), end)
    inner = meets(place_round(outside, wall, deep, phi, wall), end)
    return Cut(phi, outer, np.maximum(outer, inner))


def meets(place: tuple[Any, Any], end: TubeEnd) -> np.ndarray:
    """How far from its node a tube is clear of its saddle and of the others that end there.

    Args:
        place: y and z of places round it [mm], each of shape (..., n).
        end: what it meets.

    Returns:
        Lengths along it [mm], shape (..., n).
    """
    if np.all(np.equal(end.saddle, 0.0)):
        return np.asarray(np.asarray(end.gap, float)[..., None] + 0.0 * place[0])
    farthest, _ = _met(place, end)
    for other in end.others:
        met, reaches = _met(place, other)
        # A line that misses the saddle stays open, whatever else it meets.
        farthest = np.where(reaches > 0.0, np.maximum(farthest, met), farthest)
    return farthest


def _met(place: tuple[Any, Any], end: TubeEnd) -> tuple[np.ndarray, np.ndarray]:
    """Length along the tube at which a line of it leaves a saddle, not a number where it misses it; and how far
    along the saddle from the node that is."""
    saddle, angle, offset, gap, start = (
        np.asarray(v, float)[..., None]
        for v in (end.saddle, end.angle, end.offset, end.gap, end.turn)
    )
    y, z = place
    lean, aside = y * np.cos(start) + z * np.sin(start), z * np.cos(start) - y * np.sin(start)
    across = np.square(saddle / 2.0 + gap) - np.square(aside + offset)
    root = saddle / 2.0 + gap if end.flat else np.sqrt(np.where(across > 0.0, across, np.nan))
    met = (root + lean * np.cos(angle)) / np.sin(angle)
    return met, met * np.cos(angle) + lean * np.sin(angle)


def cut_length(tube: Tube) -> Any:
    """Length of the blank before its ends are coped [mm]: long point to long point, weld gaps taken off."""
    return tube.between - sum(tube.cut(i).outside.min(axis=-1) for i in (0, 1))
