"""The spans of a load path that lie on one line, as one stretch to plot along."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from parts.core.search.critical import Critical
    from parts.core.search.look import Scan

JOINED = 1e-3
"""Gap below which one span runs on in the next, and distance below which it lies on its line [mm]."""
ALIKE = 1e-6
"""Difference below which axes are the same [-]."""


@dataclass(frozen=True)
class Stretch:
    """Spans one behind the other on a line; `offsets` [mm] are where each begins, from the first."""

    scans: tuple[Scan, ...]
    offsets: tuple[float, ...]

    @property
    def along(self) -> np.ndarray:
        """Where every station lies [mm], (n,)."""
        many = [len(one.t) for one in self.scans]
        return np.asarray(self.of(lambda one: one.distance) + np.repeat(self.offsets, many))

    @property
    def length(self) -> float:
        """From end to end [mm]; 0 for a single section."""
        return self.offsets[-1] + float(self.scans[-1].distance[-1])

    def of(self, take: Any) -> np.ndarray:
        """What `take` gives of each scan, one after another, along the last axis."""
        return np.concatenate([np.asarray(take(one), float) for one in self.scans], axis=-1)

    def pieces(self) -> list[slice]:
        """The stations between two gaps, where nothing was looked at."""
        found: list[slice] = []
        first = 0
        end: float | None = None
        for one, offset in zip(self.scans, self.offsets, strict=True):
            many = len(one.t)
            if end is not None and offset - end <= JOINED:
                found[-1] = slice(found[-1].start, first + many)
            else:
                found.append(slice(first, first + many))
            first, end = first + many, offset + float(one.distance[-1])
        return found

    def named(self) -> list[tuple[float, float, str]]:
        """Where each named part of the path begins and ends [mm]; neighbours of one name as one."""
        found: list[tuple[float, float, str]] = []
        for one, offset in zip(self.scans, self.offsets, strict=True):
            end = offset + float(one.distance[-1])
            if found and found[-1][2] == one.span.name:
                found[-1] = (found[-1][0], end, one.span.name)
            else:
                found.append((offset, end, one.span.name))
        return found

    def place_of(self, critical: Critical) -> float | None:
        """How far along a critical section lies [mm]; None where it lies elsewhere."""
        for one, offset in zip(self.scans, self.offsets, strict=True):
            if one.span is critical.span:
                return offset + critical.t * float(one.distance[-1])
        return None


def stretches(scans: Sequence[Scan]) -> list[Stretch]:
    """Sort the scans of a part by the lines that they lie on.

    Args:
        scans: in the order of the part.

    Returns:
        Stretches in the order in which each begins there. Spans on one line, of one piece and with the same axes
        make one, unless they overlap: those bear side by side.
    """
    lines: list[_Line] = []
    for one in scans:
        if not any(line.takes(one) for line in lines):
            lines.append(_Line(one))
    return [line.stretch() for line in lines]


class _Line:
    """A line through a piece, and the scans on it with where each begins and ends [mm]."""

    def __init__(self, first: Scan) -> None:
        self.origin = np.asarray(first.span.start, float)
        self.direction = _direction(first)
        self.axes = np.asarray(first.span.axes, float)
        self.piece = first.span.piece
        self.held = [(0.0, float(first.distance[-1]), first)]

    def takes(self, one: Scan) -> bool:
        """Take a scan where it lies on this line beside those here; False where it does not."""
        span = one.span
        if span.piece != self.piece or np.abs(self.axes - span.axes).max() > ALIKE:
            return False
        ends = np.array([span.start, span.end], float) - self.origin
        start, end = (float(v) for v in ends @ self.direction)
        off = np.linalg.norm(ends - np.outer([start, end], self.direction), axis=1)
        clear = all(end <= a + JOINED or start >= b - JOINED for a, b, _ in self.held)
        twin = any(abs(start - a) <= JOINED and abs(end - b) <= JOINED for a, b, _ in self.held)
        if off.max() > JOINED or end < start - JOINED or not clear or twin:
            return False
        self.held.append((start, end, one))
        return True

    def stretch(self) -> Stretch:
        """The scans in order along the line."""
        inside = sorted(self.held, key=lambda held: held[:2])
        begin = inside[0][0]
        return Stretch(tuple(one for _, _, one in inside), tuple(a - begin for a, _, _ in inside))


def _direction(one: Scan) -> np.ndarray:
    """The way of a span; of a single section, its normal."""
    way = np.subtract(one.span.end, one.span.start)
    length = float(np.linalg.norm(way))
    normal: np.ndarray = np.asarray(one.span.axes, float)[0]
    return normal if length <= JOINED else way / length
