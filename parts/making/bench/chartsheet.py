"""The hole chart as a page: the face with its holes labelled, their places, and the steps in order."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.core.drawing import Drawn
from parts.core.part import Part
from parts.making.bench.arrangement import SCALES, scale_words
from parts.making.bench.figures import Figures
from parts.making.bench.holechart import SIDES, SetUp, depth_words
from parts.making.bench.ink import Ink, Letters, circle, extent, line, plain
from parts.making.bench.projection import look
from parts.making.bench.views import scaled

ROW = 5.0
TEXT = 2.4
LEFT, RIGHT = 15.0, 10.0


def chart_page(
    part: Part, drawn: Drawn, setup: SetUp, solid: Any, size: tuple[float, float]
) -> list[Ink]:
    """One set-up on one page.

    Args:
        part: the part.
        drawn: its sheet.
        setup: the holes drilled from one side.
        solid: the piece, its edges sharp.
        size: of the page [mm].

    Returns:
        The page's ink.
    """
    assert drawn.datum is not None
    figures = Figures(part.drawing.units)
    wide, high = size
    title = f"{part.name}{f', {drawn.piece}' if len(part.drawn()) > 1 else ''}: holes from the {setup.side}"
    ink: list[Ink] = [Letters(plain(title), np.array([LEFT, high - 17.0]), 4.0, bold=True)]
    ink += _facts(part, drawn, setup, figures, high - 23.0)
    places, steps = _places(setup, figures), _steps(setup, figures)
    need = ROW * (len(places) + len(steps) + 4)
    room = max(high - 30.0 - need - 20.0, 60.0)
    ink += _face(drawn, setup, solid, (LEFT, high - 33.0 - room), (wide - LEFT - RIGHT, room))
    top = high - 33.0 - room - 6.0
    top = _table(ink, places, (0.0, 16.0, 52.0, 88.0, 124.0), top)
    _table(ink, steps, (0.0, 12.0, 38.0, 108.0, 134.0), top - 4.0)
    return ink


def _metal(part: Part, drawn: Drawn) -> str:
    """What the piece of a sheet is made of."""
    return next(one.material.name for one in part.pieces if one.name == drawn.piece)


def _facts(part: Part, drawn: Drawn, setup: SetUp, figures: Figures, y: float) -> list[Ink]:
    assert drawn.datum is not None
    words = [
        f"Revision {part.revision}. {_metal(part, drawn)}. Lengths in {figures.unit}; "
        f"{part.drawing.tolerance}.",
        f"X and Y are zero at the {drawn.datum.words}; Z is up out of the face, zero at the datum.",
    ]
    if setup.side not in SIDES:
        words.append(
            "The part stands turned in the vice, by the angle above as the front view shows it."
        )
    return [Letters(plain(w), np.array([LEFT, y - 4.5 * i]), TEXT) for i, w in enumerate(words)]


def _places(setup: SetUp, figures: Figures) -> list[tuple[str, ...]]:
    rows = [("hole", "X", "Y", "Z of its mouth", "finished")]
    for spot in setup.spots:
        hole = spot.hole
        finished = (
            hole.thread.designation
            if hole.thread
            else f"Ø{figures.length(hole.diameter, fine=True)} {hole.fit}"
        )
        numbers = (figures.length(v, fine=True) for v in (spot.x, spot.y, spot.z))
        rows.append((spot.label, *numbers, finished))
    return rows


def _steps(setup: SetUp, figures: Figures) -> list[tuple[str, ...]]:
    rows = [("step", "operation", "tool", "depth", "holes")]
    for i, (one, labels) in enumerate(setup.steps(), 1):
        size = f" (Ø{figures.length(one.diameter, fine=True)})" if one.diameter else ""
        tool = f"{one.tool}{'' if one.kind == 'tap' else size}"
        rows.append((str(i), one.kind, tool, depth_words(one, figures), _runs(labels)))
    return rows


def _runs(labels: Sequence[str]) -> str:
    """Labels in a row shortened: A1 to A6, A9."""
    numbers = [int(label[1:]) for label in labels]
    runs: list[list[int]] = []
    for n in numbers:
        if runs and n == runs[-1][-1] + 1:
            runs[-1].append(n)
        else:
            runs.append([n])
    letter = labels[0][0]
    return ", ".join(
        f"{letter}{r[0]}" if len(r) == 1 else f"{letter}{r[0]} to {letter}{r[-1]}" for r in runs
    )


def _table(
    ink: list[Ink], rows: Sequence[tuple[str, ...]], columns: Sequence[float], top: float
) -> float:
    for i, row in enumerate(rows):
        y = top - ROW * (i + 1)
        for x, words in zip(columns, row, strict=True):
            ink.append(Letters(plain(words), np.array([LEFT + x, y + 1.4]), TEXT, bold=i == 0))
        ink.append(line("table", (LEFT, y), (LEFT + 180.0, y)))
    return top - ROW * len(rows)


def _face(
    drawn: Drawn,
    setup: SetUp,
    solid: Any,
    corner: tuple[float, float],
    room: tuple[float, float],
) -> list[Ink]:
    """The face as seen from the spindle, its holes labelled and the datum marked."""
    assert drawn.datum is not None
    curves = look(solid, setup.frame).visible
    low, high = extent(list(curves))
    fits = [s for s in SCALES if np.all((high - low) * s <= np.array(room) - 26.0)]
    scale = fits[0] if fits else SCALES[-1]
    shift = np.array(corner) + np.array(room) / 2.0 - (low + high) / 2.0 * scale
    ink: list[Ink] = [scaled(curve, scale).moved(shift) for curve in curves]
    zero = setup.frame.flat(drawn.datum.place) * scale + shift
    for way, name in ((np.array([1.0, 0.0]), "X"), (np.array([0.0, 1.0]), "Y")):
        tip = zero + way * 12.0
        ink.append(line("dimension", zero - way * 3.0, tip))
        ink.append(Letters(name, tip + way * 1.5 - np.array([0.9, 1.2]), 2.5, bold=True))
    ink.append(circle("dimension", zero, 2.0))
    taken: list[np.ndarray] = []
    for spot in setup.spots:
        middle = setup.frame.flat(spot.hole.place) * scale + shift
        r = spot.hole.diameter / 2.0 * scale
        turn = np.radians(40.0)
        while any(np.linalg.norm(_label(middle, r, turn) - t) < 6.0 for t in taken):
            turn += np.radians(45.0)
            if turn > 7.0:
                break
        at = _label(middle, r, turn)
        taken.append(at)
        ink.append(Letters(spot.label, at - np.array([0.0, 1.2]), 2.8, anchor="middle", bold=True))
    ink.append(Letters(f"scale {scale_words(scale)}", np.array([corner[0], corner[1] + 2.0]), 2.2))
    return ink


def _label(middle: np.ndarray, radius: float, turn: float) -> np.ndarray:
    return middle + (radius + 4.5) * np.array([np.cos(turn), np.sin(turn)])
