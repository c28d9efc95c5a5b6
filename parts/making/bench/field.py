"""What already stands on a view, and whether there is room for more."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field

import numpy as np

from parts.making.bench.ink import Ink, Letters, Patch

MARGIN = 0.8
"""Clear space kept round letters [mm]."""


@dataclass(frozen=True)
class Box:
    """A rectangle at any angle: its middle, half its sides, and the direction of the first."""

    middle: np.ndarray
    half: tuple[float, float]
    along: np.ndarray

    def meets(self, segments: np.ndarray) -> np.ndarray:
        """Which segments of shape (n, 2, 2) come into the box, shape (n,)."""
        return Boxes.of([self]).meet(segments)[0]

    def extent(self) -> tuple[np.ndarray, np.ndarray]:
        """Lower left and upper right corner of an upright box round it."""
        x, y = np.abs(self.along).tolist()
        first, second = self.half
        reach = np.array([x * first + y * second, y * first + x * second])
        return self.middle - reach, self.middle + reach

    def sides(self) -> np.ndarray:
        ring = Boxes.of([self]).corners()[0]
        return np.stack([ring, ring[[1, 2, 3, 0]]], axis=1)


_SIGNS = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)], float)


@dataclass(frozen=True)
class Boxes:
    """Many boxes at once: middles, halves and directions, each of shape (m, 2)."""

    middle: np.ndarray
    half: np.ndarray
    along: np.ndarray

    @classmethod
    def of(cls, boxes: list[Box]) -> Boxes:
        found = np.array([(*b.middle, *b.half, *b.along) for b in boxes], float).reshape(-1, 6)
        return cls(found[:, :2], found[:, 2:4], found[:, 4:])

    def corners(self) -> np.ndarray:
        """The corners of each, one after another, shape (m, 4, 2)."""
        across = np.stack([-self.along[:, 1], self.along[:, 0]], axis=1)
        first = _SIGNS[:, :1] * self.half[:, None, :1] * self.along[:, None]
        return (
            self.middle[:, None] + first + _SIGNS[:, 1:] * self.half[:, None, 1:] * across[:, None]
        )

    def joined(self, other: Boxes) -> Boxes:
        """These and others."""
        return Boxes(*(np.concatenate([getattr(self, one), getattr(other, one)])
                       for one in ("middle", "half", "along")))  # fmt: skip

    def meet(self, segments: np.ndarray) -> np.ndarray:
        """Which segments of shape (n, 2, 2) come into which box, shape (m, n)."""
        if not len(segments) or not len(self.middle):
            return np.zeros((len(self.middle), len(segments)), bool)
        # Both ends in the axes of each box, shape (m, n, 2 ends, 2 coordinates).
        away = segments[None] - self.middle[:, None, None]
        x, y = self.along[:, None, None, 0], self.along[:, None, None, 1]
        local = np.empty(away.shape)
        local[..., 0] = away[..., 0] * x + away[..., 1] * y
        local[..., 1] = away[..., 1] * x - away[..., 0] * y
        a, run = local[:, :, 0], local[:, :, 1] - local[:, :, 0]
        run = np.where(np.abs(run) < 1e-12, 1e-12, run)
        half = self.half[:, None]
        first, second = (-half - a) / run, (half - a) / run
        enter = np.minimum(first, second).max(axis=-1)
        leave = np.maximum(first, second).min(axis=-1)
        return np.maximum(enter, 0.0) <= np.minimum(leave, 1.0)

    def overlap(self, other: Box) -> bool:
        """True where any of the boxes shares a place with another one."""
        if not len(self.middle):
            return False
        away = np.hypot(*(self.middle - other.middle).T)
        near = away <= np.hypot(*self.half.T) + np.hypot(*other.half)
        if not near.any():
            return False
        close = Boxes(self.middle[near], self.half[near], self.along[near])
        # Sides that meet, or one box within the other: the sides of the inner lie in the outer.
        if bool(close.meet(other.sides()).any()):
            return True
        away = close.middle - other.middle
        across = np.array([-other.along[1], other.along[0]])
        local = np.abs(np.stack([away @ other.along, away @ across], axis=-1))
        return bool(np.any(np.all(local <= np.array(other.half), axis=1)))


def letters_box(letters: Letters, margin: float = MARGIN) -> Box:
    """The box of a line of text, with clear space round it."""
    corners = letters.path()
    along = np.array([np.cos(letters.angle), np.sin(letters.angle)])
    high = float(np.linalg.norm(corners[3] - corners[0]))
    return Box(corners.mean(axis=0), (letters.width / 2.0 + margin, high / 2.0 + margin), along)


COARSE = 0.4
"""Points of a curve closer than this [mm] are one, where only room is looked for."""


def segments_of(ink: Ink) -> np.ndarray:
    """The straight pieces of lines and arcs, shape (n, 2, 2); none of letters and patches."""
    if isinstance(ink, Letters | Patch):
        return np.zeros((0, 2, 2))
    path = ink.path()
    if len(path) > 8:
        along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(path, axis=0), axis=1))])
        _, first = np.unique(np.floor(along / COARSE), return_index=True)
        path = path[np.unique([*first, len(path) - 1])]
    return np.stack([path[:-1], path[1:]], axis=1)


@dataclass(frozen=True)
class Pieces:
    """Segments (n, 2, 2) with their boxes, so that those far away are left aside at once, and the number of the kind of
    each."""

    segments: np.ndarray
    low: np.ndarray
    high: np.ndarray
    kind: np.ndarray

    @classmethod
    def of(cls, segments: np.ndarray, kind: int) -> Pieces:
        low, high = segments.min(axis=1), segments.max(axis=1)
        return cls(segments, low, high, np.full(len(segments), kind))

    def joined(self, other: Pieces) -> Pieces:
        """These and others."""
        return Pieces(*(np.concatenate([getattr(self, one), getattr(other, one)])
                        for one in ("segments", "low", "high", "kind")))  # fmt: skip

    def near(self, low: np.ndarray, high: np.ndarray) -> np.ndarray:
        """Which boxes meet a box, shape (n,)."""
        left, bottom = self.low.T
        right, top = self.high.T
        return (left <= high[0]) & (right >= low[0]) & (bottom <= high[1]) & (top >= low[1])


@dataclass
class Field:
    """A view while it is filled: its ink, and what keeps letters away: boxes of letters, and lines by kind."""

    ink: list[Ink] = field(default_factory=list)
    taken: Boxes = field(default_factory=lambda: Boxes.of([]))
    lines: Pieces = field(default_factory=lambda: Pieces.of(np.zeros((0, 2, 2)), 0))
    kinds: dict[str, int] = field(default_factory=dict)

    def copy(self) -> Field:
        """The same to go on from, this one left as it is."""
        return Field(list(self.ink), self.taken, self.lines, dict(self.kinds))

    def draw(self, ink: Ink, kind: str = "") -> None:
        """Draw, and keep letters away; `kind` is the layer where left out."""
        self.ink.append(ink)
        if isinstance(ink, Letters):
            self.taken = self.taken.joined(Boxes.of([letters_box(ink)]))
        elif not isinstance(ink, Patch):
            self.block(segments_of(ink), kind or ink.layer)

    def block(self, segments: np.ndarray, kind: str) -> None:
        """Keep letters away from segments that stand there."""
        number = self.kinds.setdefault(kind, len(self.kinds))
        self.lines = self.lines.joined(Pieces.of(segments, number))

    def of(self, *kinds: str) -> np.ndarray:
        """The segments of some kinds."""
        return self.lines.segments[self._are(kinds)]

    def _are(self, kinds: tuple[str, ...]) -> np.ndarray:
        return np.isin(self.lines.kind, [self.kinds.get(kind, -1) for kind in kinds])

    def blocked(self, box: Box, *kinds: str) -> bool:
        """True where lines of some kinds, or of any, come into a box."""
        near = self.lines.near(*box.extent())
        if kinds and near.any():
            near &= self._are(kinds)
        return bool(near.any()) and bool(box.meets(self.lines.segments[near]).any())

    def free(self, box: Box) -> bool:
        """True where a box meets neither letters nor lines."""
        return not self.taken.overlap(box) and not self.blocked(box)

    def clear(self, segments: np.ndarray) -> bool:
        """True where segments pass no letters."""
        return bool(self.each_clear(segments).all())

    def each_clear(self, segments: np.ndarray) -> np.ndarray:
        """Which of segments (n, 2, 2) pass no letters, shape (n,)."""
        return ~self.taken.meet(segments).any(axis=0)

    def crossed(self, segments: np.ndarray) -> Counter[str]:
        """How often segments cross the lines of each kind."""
        if not len(segments):
            return Counter()
        ends = segments.reshape(-1, 2)
        near = np.flatnonzero(self.lines.near(ends.min(axis=0), ends.max(axis=0)))
        if not len(near):
            return Counter()
        times = crossings(segments, self.lines.segments[near])
        counts = np.bincount(self.lines.kind[near], times, len(self.kinds)).tolist()
        return Counter(dict(zip(self.kinds, map(int, counts), strict=True)))


def crossings(segments: np.ndarray, others: np.ndarray) -> np.ndarray:
    """How often segments (m, 2, 2) cross each of others (n, 2, 2), shape (n,); touching ends do not count."""
    p, r = segments[:, None, 0], segments[:, None, 1] - segments[:, None, 0]
    q, s = others[None, :, 0], others[None, :, 1] - others[None, :, 0]
    across = r[..., 0] * s[..., 1] - r[..., 1] * s[..., 0]
    gap = q - p
    safe = np.where(np.abs(across) < 1e-9, np.inf, across)
    t = (gap[..., 0] * s[..., 1] - gap[..., 1] * s[..., 0]) / safe
    u = (gap[..., 0] * r[..., 1] - gap[..., 1] * r[..., 0]) / safe
    low, high = 0.02, 0.98
    # Where they run alike both are 0.
    return ((t > low) & (t < high) & (u > low) & (u < high)).sum(axis=0)
