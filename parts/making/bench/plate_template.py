"""The template of a plate at full size, to glue on the sheet: outline, windows and punch marks, over as many pages as
it needs. Pages overlap, and crosses that both show say how they lie on each other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

import numpy as np

from parts.core.blank import Blank, BlankHole
from parts.core.part import Part
from parts.making.bench.cope import check_lines
from parts.making.bench.figures import Figures
from parts.making.bench.ink import Ink, Letters, Line, box, circle, line, plain
from parts.strength.section.outline import Loop

MARGIN, FOOT, HEAD = 10.0, 32.0, 16.0
"""Left free at the sides of a page, below for the check lines, and above for its words [mm]."""
OVERLAP = 15.0
"""How far two pages lie on each other [mm]."""
PAD = 3.0
"""Round the outline, so that no line lies on the edge of the window [mm]."""
STEP = 0.5
"""Points of a curve are no farther apart [mm]."""
ARM = 3.0
Page = tuple[tuple[float, float], list[Ink]]


def template_pages(
    part: Part, blank: Blank, name: str, page: tuple[float, float]
) -> Iterator[Page]:
    """The pages of one blank, row by row from its lower left corner.

    Args:
        part: the part.
        blank: its blank.
        name: of the blank.
        page: width and height of a page [mm].

    Yields:
        Each page's size [mm] and its ink.
    """
    low, high = (
        np.asarray(v, float) + sign * PAD
        for v, sign in zip(blank.outline.box(), (-1.0, 1.0), strict=True)
    )
    room = np.array(page) - np.array([2.0 * MARGIN, FOOT + HEAD])
    stride = room - OVERLAP
    counts = np.maximum(1, np.ceil((high - low - OVERLAP) / stride)).astype(int)
    loops = [dense(loop) for loop in blank.outline.loops]
    for row, column in product(range(counts[1]), range(counts[0])):
        corner = low + stride * (column, row)
        shift = np.array([MARGIN, FOOT]) - corner
        ink: list[Ink] = [box("table", MARGIN, FOOT, *room)]
        for loop in loops:
            ink += [piece.moved(shift) for piece in _within(loop, corner, corner + room)]
        for hole in blank.holes:
            ink += [
                one.moved(shift)
                for one in _punched(hole, corner, corner + room, part.drawing.units)
            ]
        for fold in blank.folds:
            run = np.linspace(fold.start, fold.end, 400)
            ink += [
                replace(one.moved(shift), layer="hidden")
                for one in _within(run, corner, corner + room)
            ]
        ink += [one.moved(shift) for one in _crosses(low, stride, corner, corner + room)]
        number = f"row {row + 1} of {counts[1]}, column {column + 1} of {counts[0]}"
        yield page, [*ink, *_said(part, blank, name, number, page), *check_lines(MARGIN, 18.0)]


def dense(loop: Loop) -> np.ndarray:
    """Points (n, 2) along a closed loop, its first again at the end [mm]."""
    rows = []
    for segment in loop.curves():
        chord = float(np.linalg.norm(segment.end - segment.start))
        turn = 4.0 * np.arctan(abs(float(segment.bulge)))
        long = chord if turn == 0.0 else chord / 2.0 / np.sin(turn / 2.0) * turn
        count = max(2, int(np.ceil(long / STEP)))
        rows.append(segment.at(np.linspace(0.0, 1.0, count, endpoint=False))[0])
    points = np.concatenate(rows)
    return np.vstack([points, points[:1]])


def _within(points: np.ndarray, low: np.ndarray, high: np.ndarray) -> Iterator[Line]:
    """The runs of a line that lie in a window."""
    inside = np.all((points >= low) & (points <= high), axis=1)
    edges = np.flatnonzero(np.diff(np.concatenate([[False], inside, [False]]).astype(int)))
    for start, stop in edges.reshape(-1, 2):
        if stop - start > 1:
            yield Line(points[start:stop], "outline")


def _punched(hole: BlankHole, low: np.ndarray, high: np.ndarray, units: str) -> Iterator[Ink]:
    """The centre of a hole to be punched, its circle, and what it is; nothing where it lies on another page."""
    centre, radius = np.asarray(hole.centre, float), float(hole.diameter) / 2.0
    if np.any(centre < low + ARM) or np.any(centre > high - ARM):
        return
    for way in (np.array([1.0, 0.0]), np.array([0.0, 1.0])):
        yield line("centre", centre - way * (radius + ARM), centre + way * (radius + ARM))
    yield circle("outline", centre, radius)
    yield circle("outline", centre, 0.4)
    words = (
        f"Ø{Figures(units).length(float(hole.diameter))}{f', {hole.after}' if hole.after else ''}"
    )
    yield Letters(words, centre + np.array([radius + 1.5, radius + 1.5]), 2.5)


def _crosses(
    start: np.ndarray, stride: np.ndarray, low: np.ndarray, high: np.ndarray
) -> Iterator[Ink]:
    """Crosses in the middle of the strips where pages overlap: the same places on both."""
    at = [
        [
            v
            for k in range(1, 50)
            if low[i] <= (v := start[i] + k * stride[i] + OVERLAP / 2.0) <= high[i]
        ]
        for i in (0, 1)
    ]
    thirds = [low + (high - low) * share for share in (0.25, 0.75)]
    places = [(x, y[1]) for x in at[0] for y in thirds] + [(x[0], y) for y in at[1] for x in thirds]
    for x, y in places:
        yield line("dimension", (x - ARM, y), (x + ARM, y))
        yield line("dimension", (x, y - ARM), (x, y + ARM))


def _said(
    part: Part, blank: Blank, name: str, number: str, page: tuple[float, float]
) -> Iterator[Letters]:
    top = page[1] - 7.0
    thick = Figures(part.drawing.units).length(float(blank.thickness))
    count = part.quantity * len(blank.pieces)
    head = f"{name}, revision {part.revision}: template, {number}"
    what = f"{part.material.name}, {thick} thick, {count} off; print at actual size, measure both check lines first."
    yield Letters(plain(head), np.array([MARGIN, top]), 3.5, bold=True)
    yield Letters(plain(what), np.array([MARGIN, top - 5.5]), 2.5)
