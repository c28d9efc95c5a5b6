"""How well a sheet is laid out, as a number: the fewer lines cross, and the nearer words stand, the lower it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from parts.making.bench.field import crossings, segments_of
from parts.making.bench.ink import Ink, Line, Patch, extent
from parts.making.bench.legible import unreadable

FAR = 40.0
"""A leader or an extension line this long counts one [mm]."""
OVER = 0.25
"""What a crossing of an outline counts beside one of another dimension: extension lines begin within a view."""


@dataclass(frozen=True)
class Score:
    """What stands in the way of reading a sheet, each a dimension: 0 is best.

    Attributes:
        crossed: crossings of leaders and dimension lines with each other.
        over: crossings of them with outlines.
        far: their length, in `FAR`.
        empty: share of the frame that no view, note, table or title block stands on.
        unreadable: letters that lie on letters or are crossed.
    """

    crossed: float
    over: float
    far: float
    empty: float
    unreadable: int

    @property
    def total(self) -> float:
        """All in one; a sheet that cannot be read has none."""
        bare = self.crossed + OVER * self.over + self.far + self.empty
        return float("inf") if self.unreadable else bare


def score(
    views: Sequence[Sequence[Ink]], ink: Sequence[Ink], frame: tuple[float, float, float, float]
) -> Score:
    """Score a sheet.

    Args:
        views: the ink of each view.
        ink: everything on the sheet.
        frame: lower left corner, width and height of the frame [mm].

    Returns:
        The score.
    """
    crossed = over = count = 0
    far = 0.0
    for view in views:
        drawn = [one for one in view if isinstance(one, Line) and one.layer == "dimension"]
        pieces = [segments_of(one) for one in drawn]
        outline = [segments_of(one) for one in view if one.layer == "outline"]
        body = np.concatenate(outline) if outline else np.zeros((0, 2, 2))
        for i, own in enumerate(pieces):
            rest = pieces[i + 1 :]
            crossed += int(crossings(own, np.concatenate(rest)).sum()) if rest else 0
            over += int(crossings(own, body).sum())
            far += float(np.linalg.norm(own[:, 1] - own[:, 0], axis=-1).sum()) / FAR
        count += sum(isinstance(one, Patch) for one in view)
    of = max(count, 1)
    return Score(crossed / of, over / of, far / of, _empty(ink, frame), len(unreadable(ink)))


CELL = 5.0
"""Squares in which empty paper is counted [mm]."""


def _empty(ink: Sequence[Ink], frame: tuple[float, float, float, float]) -> float:
    x, y, wide, high = frame
    used = np.zeros((int(high / CELL) + 1, int(wide / CELL) + 1), bool)
    for one in ink:
        if one.layer == "frame":
            continue
        low, high_ = extent([one])
        (a, b), (c, d) = (((p - (x, y)) / CELL).astype(int) for p in (low, high_))
        used[max(b, 0) : d + 1, max(a, 0) : c + 1] = True
    return float(1.0 - used.mean())
