"""What already stands on a view, and whether there is room for more."""

from __future__ import annotations

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

    def corners(self) -> np.ndarray:
        across = np.array([-self.along[1], self.along[0]])
        signs = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)], float)
        return (
            self.middle
            + signs[:, :1] * self.half[0] * self.along
            + signs[:, 1:] * self.half[1] * across
        )

    def sides(self) -> np.ndarray:
        ring = self.corners()
        return np.stack([ring, np.roll(ring, -1, axis=0)], axis=1)


@dataclass(frozen=True)
class Boxes:
    """Many boxes at once: middles, halves and directions, each of shape (m, 2)."""

    middle: np.ndarray
    half: np.ndarray
    along: np.ndarray

    @classmethod
    def of(cls, boxes: list[Box]) -> Boxes:
        parts = ([getattr(b, name) for b in boxes] for name in ("middle", "half", "along"))
        return cls(*(np.array(part, float).reshape(-1, 2) for part in parts))

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
        near = np.linalg.norm(self.middle - other.middle, axis=1) <= (
            np.linalg.norm(self.half, axis=1) + np.hypot(*other.half)
        )
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
    """Segments with their boxes, so that those far away are left aside at once."""

    segments: np.ndarray
    low: np.ndarray
    high: np.ndarray

    @classmethod
    def of(cls, segments: np.ndarray) -> Pieces:
        return cls(segments, segments.min(axis=1), segments.max(axis=1))

    def near(self, low: np.ndarray, high: np.ndarray) -> np.ndarray:
        """Those whose boxes meet a box."""
        return self.segments[((self.low <= high) & (self.high >= low)).all(axis=1)]


@dataclass
class Field:
    """A view while it is filled: its ink, and what keeps letters away, by kind."""

    ink: list[Ink] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)
    lines: dict[str, Pieces] = field(default_factory=dict)
    taken: Boxes = field(default_factory=lambda: Boxes.of([]))

    def copy(self) -> Field:
        """The same to go on from, this one left as it is."""
        return Field(list(self.ink), list(self.boxes), dict(self.lines), self.taken)

    def draw(self, ink: Ink, kind: str = "") -> None:
        """Draw, and keep letters away; `kind` is the layer where left out."""
        self.ink.append(ink)
        if isinstance(ink, Letters):
            self.boxes.append(letters_box(ink))
            self.taken = Boxes.of(self.boxes)
        elif not isinstance(ink, Patch):
            self.block(segments_of(ink), kind or ink.layer)

    def block(self, segments: np.ndarray, kind: str) -> None:
        """Keep letters away from segments that stand there."""
        before = self.lines[kind].segments if kind in self.lines else np.zeros((0, 2, 2))
        self.lines[kind] = Pieces.of(np.concatenate([before, segments]))

    def of(self, *kinds: str) -> np.ndarray:
        """The segments of some kinds."""
        found = [self.lines[kind].segments for kind in kinds if kind in self.lines]
        return np.concatenate(found) if found else np.zeros((0, 2, 2))

    def near(self, low: np.ndarray, high: np.ndarray, kinds: tuple[str, ...] = ()) -> np.ndarray:
        """The segments of some kinds, or of any, that come near an upright box."""
        wanted = kinds or tuple(self.lines)
        found = [self.lines[kind].near(low, high) for kind in wanted if kind in self.lines]
        return np.concatenate(found) if found else np.zeros((0, 2, 2))

    def blocked(self, box: Box, *kinds: str) -> bool:
        """True where lines of some kinds, or of any, come into a box."""
        corners = box.corners()
        near = self.near(corners.min(axis=0), corners.max(axis=0), kinds)
        return bool(len(near)) and bool(box.meets(near).any())

    def free(self, box: Box) -> bool:
        """True where a box meets neither letters nor lines."""
        return not self.taken.overlap(box) and not self.blocked(box)

    def clear(self, segments: np.ndarray) -> bool:
        """True where segments pass no letters."""
        return not bool(self.taken.meet(segments).any())

    def crossed(self, segments: np.ndarray, *kinds: str) -> int:
        """How often segments cross lines of some kinds."""
        if not len(segments):
            return 0
        ends = segments.reshape(-1, 2)
        return crossings(segments, self.near(ends.min(axis=0), ends.max(axis=0), kinds))


def crossings(segments: np.ndarray, others: np.ndarray) -> int:
    """How often segments cross others, both of shape (n, 2, 2); touching ends do not count."""
    if not len(segments) or not len(others):
        return 0
    p, r = segments[:, None, 0], segments[:, None, 1] - segments[:, None, 0]
    q, s = others[None, :, 0], others[None, :, 1] - others[None, :, 0]
    across = r[..., 0] * s[..., 1] - r[..., 1] * s[..., 0]
    gap = q - p
    safe = np.where(np.abs(across) < 1e-9, np.inf, across)
    t = (gap[..., 0] * s[..., 1] - gap[..., 1] * s[..., 0]) / safe
    u = (gap[..., 0] * r[..., 1] - gap[..., 1] * r[..., 0]) / safe
    low, high = 0.02, 0.98
    return int(np.sum((t > low) & (t < high) & (u > low) & (u < high) & np.isfinite(safe)))
