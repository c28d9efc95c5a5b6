"""Ends of tubes: where a round tube meets others, and how long to cut it.

A tube of radius r meets a saddle of radius R at an angle θ between their centre lines, e beside each other.
Round the tube, φ from the side on which θ is measured, the saddle is met at

    t(φ) = (√((R + g)² − (r sin φ + e)²) + r cos φ cos θ) / sin θ

along the tube from the point nearest the saddle's axis, g being the gap kept for the weld. It is the
meeting of two cylinders, solved for the length along one of them. On the flat face of a square tube the root
is its half depth and g: the tube is sawn at an angle.

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
    """A tube to be cut: between the centres (or faces) that it joins, less what its ends take [mm]."""

    name: str
    outside: Any
    wall: Any
    between: Any
    ends: tuple[TubeEnd, TubeEnd]


@dataclass(frozen=True)
class Cut:
    """The end of a tube, round it from the reference line: turn [rad] and length from the node [mm].

    `outside` is where the outside of the tube meets the saddle; `square` where to cut straight through the
    wall so that the inside edge clears it too. Not a number where the tube stands beside its saddle.
    """

    turn: np.ndarray
    outside: np.ndarray
    square: np.ndarray


def cope(outside: Any, wall: Any, end: TubeEnd, turn: np.ndarray | None = None) -> Cut:
    """The cut at one end of a tube.

    Args:
        outside: diameter of the tube [mm], shape (...).
        wall: its thickness [mm].
        end: what it meets.
        turn: where round the tube [rad], shape (n,); all round where left out.

    Returns:
        The cut, lengths of shape (..., n).
    """
    phi = np.linspace(0.0, 2.0 * np.pi, STEPS) if turn is None else np.asarray(turn, float)
    wide = np.asarray(outside, float)[..., None] / 2.0
    outer = _all_met(wide, end, phi)
    inner = _all_met(wide - np.asarray(wall, float)[..., None], end, phi)
    return Cut(phi, outer, np.maximum(outer, inner))


def _all_met(radius: np.ndarray, end: TubeEnd, phi: np.ndarray) -> np.ndarray:
    """Where the tube is clear of its saddle and of the others that end there."""
    if np.all(np.equal(end.saddle, 0.0)):
        return np.asarray(np.asarray(end.gap, float)[..., None] + 0.0 * (radius + phi))
    farthest, _ = _met(radius, end, phi)
    for other in end.others:
        met, reaches = _met(radius, other, phi)
        # A line that misses the saddle stays open, whatever else it meets.
        farthest = np.where(reaches > 0.0, np.maximum(farthest, met), farthest)
    return farthest


def _met(radius: np.ndarray, end: TubeEnd, phi: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Length along the tube at which a line of it leaves a saddle, not a number where it misses it; and how far
    along the saddle from the node that is."""
    saddle, angle, offset, gap, start = (
        np.asarray(v, float)[..., None]
        for v in (end.saddle, end.angle, end.offset, end.gap, end.turn)
    )
    at = phi - start
    across = np.square(saddle / 2.0 + gap) - np.square(radius * np.sin(at) + offset)
    lean = radius * np.cos(at)
    root = saddle / 2.0 + gap if end.flat else np.sqrt(np.where(across > 0.0, across, np.nan))
    met = (root + lean * np.cos(angle)) / np.sin(angle)
    return met, met * np.cos(angle) + lean * np.sin(angle)


def cut_length(tube: Tube) -> Any:
    """Length of the blank before its ends are coped [mm]: long point to long point, weld gaps taken off."""
    ends = (cope(tube.outside, tube.wall, end).outside.min(axis=-1) for end in tube.ends)
    return tube.between - sum(ends)
