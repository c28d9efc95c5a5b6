"""Views of a long part broken: a stretch in which its section stays the same, and nothing is stated, is left out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, replace
from itertools import pairwise
from typing import Any

import numpy as np

from parts.core.drawing import Diameter, Drawn
from parts.making.bench.frames import Frame
from parts.making.bench.ink import Arc, Line
from parts.making.bench.looks import Looked
from parts.making.bench.projection import Seen

LONG = 0.35
"""Least share of a view that a stretch must have to be left out [-]."""
KEPT, GAP = 0.15, 0.015
"""What stays of a stretch at each of its ends, and the room between the ends as a share of the view [-]."""
SAME = 1e-3
PLACES = ("start", "end", "centre", "at", "place", "vertex", "places")


@dataclass(frozen=True)
class BrokenFrame(Frame):
    """A frame without the stretch from `low` to `high` of its coordinate 0 (to the right) or 1 (up) [mm].

    The side with the origin stays where it is, so that directions, of length one, are told as they are: the stretch
    begins farther from it than that.
    """

    side: int
    low: float
    high: float
    gap: float

    def flat(self, place: object) -> np.ndarray:
        points = super().flat(place)
        points[..., self.side] = self.shifted(points[..., self.side])
        return points

    def shifted(self, run: np.ndarray) -> np.ndarray:
        """Coordinates along the side, past the stretch moved to it; what lies in the stretch stands at its end."""
        by = self.high - self.low - self.gap
        if self.low > 0.0:
            return np.where(run >= self.high - SAME, run - by, np.minimum(run, self.low))
        return np.where(run <= self.low + SAME, run + by, np.maximum(run, self.high))

    def curves(self, curves: Sequence[Line | Arc]) -> Iterator[Line | Arc]:
        """Curves without what lies in the stretch."""
        for one in curves:
            run = one.path()[:, self.side]
            if run.max() <= self.low + SAME or run.min() >= self.high - SAME:
                middle = np.array([run.min() if run.min() >= self.high - SAME else run.max()])
                by = np.zeros(2)
                by[self.side] = float(self.shifted(middle)[0] - middle[0])
                yield one.moved(by)
                continue
            for low, high in ((-np.inf, self.low), (self.high, np.inf)):
                for ends in _between(one, self.side, low, high):
                    ends[:, self.side] = self.shifted(ends[:, self.side])
                    yield Line(ends, one.layer)

    def ends(self, curves: Sequence[Line | Arc]) -> Iterator[Line]:
        """The two thin lines with a zigzag at which a view is broken: ISO 128-2, type of line 01.1."""
        across = np.concatenate([one.path()[:, 1 - self.side] for one in curves])
        a, b = float(across.min()), float(across.max())
        more, tooth = 0.04 * (b - a), 0.05 * (self.high - self.low) * GAP / LONG
        heights = [a - more, (a + b) / 2.0 - 2.0 * tooth, (a + b) / 2.0 - tooth, (a + b) / 2.0 + tooth,
                   (a + b) / 2.0 + 2.0 * tooth, b + more]  # fmt: skip
        for at in self.shifted(np.array([self.low, self.high])):
            points = np.zeros((6, 2))
            points[:, self.side] = at + np.array([0.0, 0.0, -tooth, tooth, 0.0, 0.0])
            points[:, 1 - self.side] = heights
            yield Line(points, "pictorial")


def _between(one: Line | Arc, side: int, low: float, high: float) -> Iterator[np.ndarray]:
    """The pieces of a curve between two levels of a coordinate."""
    path = one.path()
    if isinstance(one, Line) and one.closed:
        path = np.vstack([path, path[:1]])
    for a, b in pairwise(path):
        run = float(b[side] - a[side])
        if abs(run) < 1e-12:
            if low <= a[side] <= high:
                yield np.array([a, b])
            continue
        first, last = sorted(((low - a[side]) / run, (high - a[side]) / run))
        start, stop = max(first, 0.0), min(last, 1.0)
        if stop > start:
            yield np.array([a + (b - a) * start, a + (b - a) * stop])


def broken(drawn: Drawn, views: Sequence[Looked]) -> list[Looked] | None:
    """The views without the longest stretch in which nothing happens; None where there is none worth it.

    Args:
        drawn: what a part says of the sheet.
        views: its views, none of them a detail.
    """
    longest = max(views, key=lambda one: float(_extent(one).max()))
    side = int(np.argmax(_extent(longest)))
    axis = (longest.frame.right, longest.frame.up)[side]
    found = _stretch(drawn, views, axis)
    if found is None:
        return None
    low, high, whole = found
    return [_without(one, axis, low, high, GAP * whole) for one in views]


def _extent(view: Looked) -> np.ndarray:
    points = np.concatenate([one.path() for one in view.seen.visible])
    return np.asarray(np.ptp(points, axis=0))


def _stretch(
    drawn: Drawn, views: Sequence[Looked], axis: np.ndarray
) -> tuple[float, float, float] | None:
    """Both ends of a stretch along an axis, and the length of the whole [mm]."""
    events = [float(np.asarray(place, float) @ axis) for place in _stated(drawn.marks, axis)]
    for view in views:
        if not view.frame.holds(axis):
            continue
        for one in (*view.seen.visible, *view.seen.hidden):
            path = one.path()
            if isinstance(one, Line) and one.closed:
                path = np.vstack([path, path[:1]])
            along = path @ view.frame.flat(axis)
            across = path @ np.array([[0.0, -1.0], [1.0, 0.0]]) @ view.frame.flat(axis)
            events += [float(along[0]), float(along[-1])]
            for k in np.flatnonzero(np.abs(np.diff(across)) > SAME):
                # Whatever is not parallel to the axis is an event all along.
                events += list(np.linspace(along[k], along[k + 1], 12))
    levels = np.unique(np.round([*events, -1.5, 1.5], 6))
    whole = float(levels[-1] - levels[0])
    low, high = max(pairwise(levels), key=lambda pair: float(pair[1] - pair[0]))
    if high - low < LONG * whole or (low < 1.5 and high > -1.5):
        return None
    keep = KEPT * (high - low)
    return float(low + keep), float(high - keep), whole


def _stated(mark: Any, axis: np.ndarray) -> Iterator[Any]:
    """Every place that marks name, those of sizes in words too; a diameter about an axis may stand all along it."""
    if isinstance(mark, Diameter) and abs(float(np.asarray(mark.axis, float) @ axis)) > 1.0 - 1e-9:
        return
    for one in fields(mark):
        value = getattr(mark, one.name)
        if one.name in PLACES:
            yield from np.asarray(value, float).reshape(-1, 3)
        elif one.name == "alike":
            yield from (place for place, _ in value)
        elif isinstance(value, tuple):
            for each in value:
                if hasattr(each, "__dataclass_fields__"):
                    yield from _stated(each, axis)


def _without(view: Looked, axis: np.ndarray, low: float, high: float, gap: float) -> Looked:
    """A view without a stretch along an axis that lies in it."""
    frame = view.frame
    if not frame.holds(axis):
        return view
    flat = frame.flat(axis)
    side = int(np.argmax(np.abs(flat)))
    if flat[side] < 0.0:
        low, high = -high, -low
    new = BrokenFrame(frame.right, frame.up, side, low, high, gap)
    seen = view.seen
    visible = (*new.curves(seen.visible), *new.ends(seen.visible))
    return replace(
        view, frame=new, seen=Seen(visible, tuple(new.curves(seen.hidden)), _faces(new, seen.cut))
    )


def _faces(
    frame: BrokenFrame, faces: Sequence[tuple[np.ndarray, ...]]
) -> tuple[tuple[np.ndarray, ...], ...]:
    """What a plane cuts, on both sides of the stretch: polygons cut at its ends."""
    found = []
    for loops in faces:
        for keep, level in ((-1.0, frame.low), (1.0, frame.high)):
            kept = [_half(loop, frame.side, level, keep) for loop in loops]
            moved = [loop for loop in kept if len(loop) > 2]
            for loop in moved:
                loop[:, frame.side] = frame.shifted(loop[:, frame.side])
            if moved:
                found.append(tuple(moved))
    return tuple(found)


def _half(loop: np.ndarray, side: int, level: float, keep: float) -> np.ndarray:
    """A polygon cut at a level of a coordinate: what lies below it (`keep` -1) or above (1)."""
    points = []
    for a, b in zip(loop, np.roll(loop, -1, axis=0), strict=True):
        inside = [keep * (p[side] - level) >= 0.0 for p in (a, b)]
        if inside[0]:
            points.append(a)
        if inside[0] != inside[1]:
            points.append(a + (b - a) * (level - a[side]) / (b[side] - a[side]))
    return np.array(points).reshape(-1, 2)
