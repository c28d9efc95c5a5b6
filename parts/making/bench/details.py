"""Details: places in the midst of a view, drawn larger beside it, where lengths stand close together and their lines
would run across all of the view."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from parts.core.drawing import Linear, View
from parts.making.bench.arrangement import SCALES, scale_words
from parts.making.bench.field import Field, letters_box
from parts.making.bench.ink import Arc, Letters, Line, circle, line
from parts.making.bench.looks import Around, Looked
from parts.making.bench.projection import Seen

MIDST = 0.2
"""A length is in the midst of a view where both its lines would run over more than this share of it [-]."""
SMALL = 0.12
"""Largest radius of a detail as a share of the view that it belongs to [-]."""
MARGIN = 0.25
"""What a detail shows round its lengths, as a share of their reach [-]."""
LEAST, MANY = 2, 4
"""The least lengths of a detail, and the least lengths in all details of a view: with fewer it gets none."""
LETTERS, LETTER = "ABCDEFGH", 3.5
"""Letters of details and cuts, and their height [mm]."""


def larger(scale: float) -> float:
    """The scale of a detail: the next of the list above that of the sheet [-]."""
    return min((one for one in SCALES if one > scale), default=scale)


def detailed(
    views: Sequence[Looked], dimensions: Sequence[tuple[object, ...]]
) -> tuple[list[Looked], list[tuple[object, ...]]]:
    """The views with their details behind them, and what each shows.

    Args:
        views: the views of a sheet.
        dimensions: what each of them shows.

    Returns:
        The views and their dimensions: what stands in a detail is taken from its view.
    """
    shown, given = list(views), [list(one) for one in dimensions]
    letters = iter(LETTERS[sum(bool(view.letter) for view in views) :])
    for i, view in enumerate(views):
        groups = [one for one in _groups(view, dimensions[i]) if len(one) >= LEAST]
        if sum(map(len, groups)) < MANY:
            continue
        for group in groups:
            letter = next(letters, "")
            if not letter:
                break
            middle, radius = _round(view, group)
            around = Around(middle, radius, i)
            seen = Seen(tuple(_within(view.seen.visible, around)), (), view.seen.cut)
            shown.append(Looked(View(view.view.side), view.frame, seen, letter, around))
            given.append([one for one in given[i] if one in group])
            given[i] = [one for one in given[i] if one not in group]
    return shown, [tuple(one) for one in given]


def _groups(view: Looked, dimensions: Sequence[object]) -> Iterator[list[Linear]]:
    """Lengths in the midst of a view, those in one small circle together."""
    points = np.concatenate([curve.path() for curve in view.seen.visible] or [np.zeros((1, 2))])
    for along in (np.array([1.0, 0.0]), np.array([0.0, 1.0])):
        across = along[::-1]
        low, high = float((points @ across).min()), float((points @ across).max())
        found = []
        for one in dimensions:
            if isinstance(one, Linear) and abs(float(view.frame.flat(one.along) @ along)) > 0.999:
                ends = [float(view.frame.flat(end) @ across) for end in (one.start, one.end)]
                if min(high - min(ends), max(ends) - low) > MIDST * (high - low):
                    found.append((sum(ends), one))
        group: list[Linear] = []
        for _, one in sorted(found, key=lambda pair: (pair[0], pair[1].name)):
            if group and _round(view, [*group, one])[1] > SMALL * (high - low):
                yield group
                group = []
            if _round(view, [one])[1] <= SMALL * (high - low):
                group.append(one)
        yield group


def _round(view: Looked, group: Sequence[Linear]) -> tuple[np.ndarray, float]:
    """The circle round the ends of some lengths, in the view at full size: its middle and its radius [mm]."""
    ends = np.array([view.frame.flat(end) for one in group for end in (one.start, one.end)])
    middle = (ends.min(axis=0) + ends.max(axis=0)) / 2.0
    reach = float(np.linalg.norm(ends - middle, axis=1).max())
    return middle, reach * (1.0 + MARGIN)


def _within(curves: Sequence[Line | Arc], around: Around) -> Iterator[Line]:
    """The runs of curves that lie in a circle."""
    for curve in curves:
        path = curve.path()
        if isinstance(curve, Line) and curve.closed:
            path = np.vstack([path, path[:1]])
        for a, b in pairwise(path):
            ends = clipped(a, b, around)
            if ends is not None:
                yield Line(ends, curve.layer)


def clipped(a: np.ndarray, b: np.ndarray, around: Around) -> np.ndarray | None:
    """The part of a line between two places that lies in a circle, shape (2, 2); None where none does."""
    run, off = b - a, a - around.middle
    square = float(run @ run)
    if square < 1e-18:
        return None
    half = float(off @ run) / square
    root = half * half - (float(off @ off) - around.radius**2) / square
    if root <= 0.0:
        return None
    first, last = max(-half - np.sqrt(root), 0.0), min(-half + np.sqrt(root), 1.0)
    return np.array([a + run * first, a + run * last]) if last > first else None


def circles(there: Field, views: Sequence[Looked], index: int, scale: float) -> None:
    """The circles about what the details of a view show."""
    for _, middle, radius in _of(views, index, scale):
        there.draw(circle("centre", middle, radius))


def lettered(there: Field, views: Sequence[Looked], index: int, scale: float) -> None:
    """The letters of the details of a view, each as near to its circle as there is room, with a line to it."""
    for name, middle, radius in _of(views, index, scale):
        for reach in np.arange(3.5, 80.0, 2.5):
            turns = np.radians(
                [90.0, -90.0, 45.0, 135.0, -45.0, -135.0, 60.0, 120.0, -60.0, -120.0]
            )
            ways = [np.array([np.cos(turn), np.sin(turn)]) for turn in turns]
            low = np.array([0.0, LETTER / 2.0])
            letters = [Letters(name, middle + (radius + reach) * way - low, LETTER, 0.0, "middle", bold=True)
                       for way in ways]  # fmt: skip
            free = next((k for k, one in enumerate(letters) if there.free(letters_box(one))), None)
            if free is not None:
                way = ways[free]
                if reach > 5.0:
                    there.draw(
                        line(
                            "dimension",
                            middle + radius * way,
                            middle + (radius + reach - 3.0) * way,
                        )
                    )
                there.draw(letters[free])
                break


def _of(
    views: Sequence[Looked], index: int, scale: float
) -> Iterator[tuple[str, np.ndarray, float]]:
    """Letter, middle and radius on the paper of the details of a view [mm]."""
    for one in views:
        if one.around is not None and one.around.of == index:
            yield one.letter, one.around.middle * scale, one.around.radius * scale


def centred(there: Field, view: Looked, scale: float) -> Field:
    """A detail as it was filled, its middle at the origin of the paper, with its letter and its scale above it."""
    assert view.around is not None
    top = max(float(np.max(one.path()[:, 1])) for one in there.ink)
    middle = view.around.middle * scale
    words = f"{view.letter} ({scale_words(scale)})"
    title = Letters(words, np.array([middle[0], top + 3.0]), 3.5, 0.0, "middle", bold=True)
    return replace(there, ink=[one.moved(-middle) for one in (*there.ink, title)])
