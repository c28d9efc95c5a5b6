"""The numbers of the inspection sheet on the drawing: a balloon beside the words of each dimension."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from parts.core.drawing import Callout, Drawn, Hole
from parts.making.bench.field import Box, Field, letters_box
from parts.making.bench.ink import CAPITAL, DESCENDER, Letters, Line, line
from parts.making.bench.inspection import hole_rows, sized

TEXT = 2.5
ROUND = 1.3
"""Clear space between the figures of a balloon and its line [mm]."""
APART = 0.7
"""Between the words and the balloon [mm]."""
RISE = TEXT * (1.0 - DESCENDER / CAPITAL) / 2.0
"""From the line that figures stand on to the middle of their box [mm]."""
REACHES = (0.0, 3.0, 6.0, 10.0, 15.0, 21.0, 28.0)
"""How far from the words a balloon is looked for; from the second on a thin line joins them [mm]."""
WAYS = (
    (1, 0, 0), (-1, 0, 0), (0, 1, -1), (0, 1, 1), (0, -1, -1), (0, -1, 1), (0, 1, 0), (0, -1, 0),
    (1, 1, 0), (-1, 1, 0), (1, -1, 0), (-1, -1, 0),
)  # fmt: skip
"""Where a balloon stands: ahead of its words or behind them, over or under them, and then flush with their beginning or
their end."""


class Numbered(str):
    """Words of a dimension that know their rows of the inspection sheet."""

    __slots__ = ("rows",)
    rows: tuple[int, ...]

    def __new__(cls, text: str, rows: tuple[int, ...]) -> Numbered:
        one = super().__new__(cls, text)
        one.rows = rows
        return one


def numbers(drawn: Drawn) -> Mapping[int, tuple[int, ...]]:
    """The rows of the inspection sheet of each mark of a sheet, by the mark's identity."""
    found: dict[int, tuple[int, ...]] = {
        id(one): tuple(range(first, first + (len(hole_rows(one)) if isinstance(one, Hole) else 1)))
        for first, one in sized(drawn)
    }
    for one in drawn.marks.dimensions:
        if isinstance(one, Callout):
            found[id(one)] = tuple(row for size in one.sizes for row in found.get(id(size), ()))
    # Geometric tolerances stand behind all sizes, in the order of their marks.
    row = max((row for rows in found.values() for row in rows), default=0)
    for mark in (*drawn.marks.dimensions, *drawn.marks.holes):
        zones = len(getattr(mark, "zones", ()))
        found[id(mark)] = (*found.get(id(mark), ()), *range(row + 1, row + 1 + zones))
        row += zones
    return found


def ballooned(there: Field) -> list[int]:
    """Put a balloon beside all words of a view that have rows.

    Returns:
        Rows whose balloon found no room.
    """
    left: list[int] = []
    for one in [ink for ink in there.ink if isinstance(ink, Letters)]:
        if not isinstance(one.text, Numbered) or not one.text.rows:
            continue
        place = next(_places(there, one, runs(one.text.rows)), None)
        if place is None:
            left += one.text.rows
            continue
        letters, start, end = place
        if start is not None and end is not None:
            there.draw(line("dimension", start, end), "balloon")
        there.draw(letters)
        there.draw(_outline(letters), "balloon")
    return left


def _places(
    there: Field, words: Letters, text: str
) -> Iterator[tuple[Letters, np.ndarray | None, np.ndarray | None]]:
    """Where a balloon has room, the nearest first: its figures, and the ends of the line that joins it."""
    along = np.array([np.cos(words.angle), np.sin(words.angle)])
    across = np.array([-along[1], along[0]])
    box = letters_box(words, 0.0)
    bare = Letters(text, np.zeros(2), TEXT)
    half = np.array([bare.width / 2.0 + ROUND, _half_high()])
    high = _half_high()
    # Half of the balloon along the words and across them: its figures lie level whatever the words do.
    long, wide = (float(np.abs(way) @ half) for way in (along, across))
    for reach in REACHES:
        for right, up, flush in WAYS:
            unit = (right * along + up * across) / np.hypot(right, up)
            edge = box.middle + right * box.half[0] * along + up * box.half[1] * across
            beside = edge + flush * (box.half[0] - long) * along
            middle = beside + right * long * along + up * wide * across + unit * (APART + reach)
            letters = Letters(text, middle - np.array([0.0, RISE]), TEXT, 0.0, "middle")
            around = Box(middle, (float(half[0] + 0.3), float(half[1] + 0.3)), np.array([1.0, 0.0]))
            if not there.free(around):
                continue
            if reach == 0.0:
                yield letters, None, None
                continue
            rim = right * max(long - high, 0.0) * along + up * max(wide - high, 0.0) * across
            start, end = beside + unit * 0.9, middle - rim - unit * high
            if there.clear(np.array([[start, end]])):
                yield letters, start, end


def _half_high() -> float:
    return TEXT * (1.0 + DESCENDER / CAPITAL) / 2.0 + 0.35


def _outline(letters: Letters) -> Line:
    """The line round a balloon's figures: a circle drawn out to their width."""
    middle = letters.at + np.array([0.0, RISE])
    radius = _half_high()
    straight = max(letters.width / 2.0 + ROUND - radius, 0.0)
    turn = np.linspace(-np.pi / 2.0, np.pi / 2.0, 9)
    right = np.stack([straight + radius * np.cos(turn), radius * np.sin(turn)], axis=-1)
    return Line(middle + np.concatenate([right, -right]), "dimension", closed=True)


def runs(rows: tuple[int, ...]) -> str:
    """Rows as a balloon writes them: 4, 7-9."""
    found: list[list[int]] = []
    for row in sorted(rows):
        if found and row == found[-1][-1] + 1:
            found[-1].append(row)
        else:
            found.append([row])
    return ",".join(f"{run[0]}" if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in found)
