"""Dimension lines in rows outside a view.

Every way to place a dimension is tried: on both sides, row by row, its figures between the arrows or beside
them. Ways in which letters meet letters or lines are out; of the others the one with the least crossings and
the shortest lines is drawn.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from parts.making.bench.field import Box, Field, letters_box
from parts.making.bench.ink import Arc, Ink, Letters, Patch, line

HEIGHT = 2.5
"""Height of figures [mm]; ISO 3098-1 has 2.5 among its nominal sizes."""
ARROW = 2.6
FIRST_ROW = 9.0
ROW = 6.5
ROWS = 24
GAP = 0.8
"""Between the part and an extension line [mm]."""
BEYOND = 1.6
"""How far an extension line goes past its dimension line [mm]."""
SAME = 1e-3
"""Extension lines no further apart are one, and it is drawn once [mm]."""


@dataclass(frozen=True)
class Measure:
    """A dimension line to place: its ends on the paper, its direction, and its words."""

    name: str
    start: np.ndarray
    end: np.ndarray
    along: np.ndarray
    words: str


@dataclass(frozen=True)
class Way:
    """One way to draw a dimension."""

    cost: float
    ink: tuple[Ink, ...]
    line: np.ndarray
    extensions: np.ndarray


def place_measures(
    there: Field, measures: Sequence[Measure], first: Sequence[str] = ()
) -> list[str]:
    """Draw dimension lines, the shortest nearest to the view, those named in `first` before all others.

    Returns:
        The names of those that found no room.
    """
    crowded = []
    for one in sorted(measures, key=lambda m: (m.name not in first, round(_length(m), 3), m.name)):
        best = _best_row(there, one)
        if best is None:
            crowded.append(one.name)
            continue
        for ink in best.ink:
            there.draw(ink)
        there.block(best.line, "dimension line")
        there.block(best.extensions, "extension")
    return crowded


def _length(one: Measure) -> float:
    return abs(float((one.end - one.start) @ one.along))


def _best_row(there: Field, one: Measure) -> Way | None:
    """The cheapest way; rows further out are looked at only while they can still be cheaper."""
    along = _readable(one.along)
    a, b = sorted((one.start, one.end), key=lambda p: float(p @ along))
    across = np.array([-along[1], along[0]])
    outline = there.of("outline").reshape(-1, 2)
    sides = [(side, [_alongside(there, p, side) for p in (a, b)]) for side in (across, -across)]
    best: Way | None = None
    for row in range(ROWS):
        for side, stood in sides:
            level = float((outline @ side).max()) + FIRST_ROW + row * ROW
            own = np.concatenate(
                [_extension(p, side, level, on) for p, on in zip((a, b), stood, strict=True)]
            )
            far = float(np.linalg.norm(own[:, 1] - own[:, 0], axis=-1).sum()) / 8.0
            if best is not None and far >= best.cost:
                continue
            for letters, reach in _figures(one.words, a, b, along, side, level, across):
                cost = far + (0.0 if reach == (0.0, 0.0) else 2.5)
                if best is not None and cost >= best.cost:
                    continue
                way = _way(there, a, b, along, side, level, letters, reach, own, cost)
                if way is not None and (best is None or way.cost < best.cost):
                    best = way
    return best


def _alongside(there: Field, place: np.ndarray, side: np.ndarray) -> np.ndarray:
    """Where extension lines already run in line with a place, as distances from it to a side, shape (n, 2)."""
    off = there.of("extension") - place
    aside = np.abs(off[..., 0] * side[1] - off[..., 1] * side[0]).max(axis=-1)
    return np.asarray(np.sort(off[aside < SAME] @ side, axis=-1))


def _extension(place: np.ndarray, side: np.ndarray, level: float, stood: np.ndarray) -> np.ndarray:
    """What is still to be drawn of an extension line where others already run, shape (n, 2, 2)."""
    runs = np.array([[GAP, level - float(place @ side) + BEYOND]])
    runs = runs[runs[:, 1] > GAP + BEYOND]
    for low, high in stood:
        cut = np.concatenate([np.minimum(runs, low), np.maximum(runs, high)])
        runs = cut[cut[:, 1] > cut[:, 0] + SAME]
    return np.asarray(place + runs[..., None] * side)


def _readable(along: np.ndarray) -> np.ndarray:
    """The direction turned so that words along it are read from below or from the right."""
    d = along / np.linalg.norm(along)
    return -d if d[0] < -1e-9 or (abs(d[0]) <= 1e-9 and d[1] < 0.0) else d


def _figures(
    words: str,
    a: np.ndarray,
    b: np.ndarray,
    along: np.ndarray,
    side: np.ndarray,
    level: float,
    across: np.ndarray,
) -> Iterator[tuple[Letters, tuple[float, float]]]:
    """Words between or beside the arrows, and how far the dimension line reaches past its ends."""
    low, high = float(a @ along), float(b @ along)
    angle = float(np.arctan2(along[1], along[0]))
    lift = across * 1.0

    def at(s: float) -> Letters:
        return Letters(words, along * s + side * level + lift, HEIGHT, angle, "middle")

    run = at(0.0).width
    inside = high - low - 2.0 * ARROW - 1.0
    if run <= inside:
        slack = (inside - run) / 2.0
        for share in (0.0, 0.6, -0.6, 1.0, -1.0):
            yield at((low + high) / 2.0 + share * slack), (0.0, 0.0)
        return
    short = high - low < 2.0 * ARROW + 1.5
    tail = ARROW + 2.5 if short else 0.0
    out = max(tail, 2.0) + run / 2.0
    yield at(high + out + 1.0), (tail, out + run / 2.0 + 1.0)
    yield at(low - out - 1.0), (out + run / 2.0 + 1.0, tail)


def _way(
    there: Field,
    a: np.ndarray,
    b: np.ndarray,
    along: np.ndarray,
    side: np.ndarray,
    level: float,
    letters: Letters,
    reach: tuple[float, float],
    own: np.ndarray,
    cost: float,
) -> Way | None:
    """A way with what it crosses; `own` are its extension lines, `cost` is that of its lengths alone."""
    ends = [along * float(p @ along) + side * level for p in (a, b)]
    main = line("dimension", ends[0] - along * reach[0], ends[1] + along * reach[1])
    main_segment = main.points[None]
    if not (there.clear(own) and there.clear(main_segment)):
        return None
    if not there.free(letters_box(letters)):
        return None
    middle, half = (
        main.points.mean(axis=0),
        float(np.linalg.norm(main.points[1] - main.points[0])) / 2,
    )
    lane = Box(middle, (half + 0.5, 2.2), along)
    if there.blocked(lane, "dimension line", "leader"):
        return None
    if there.taken.overlap(lane):
        return None
    outward = 1.0 if reach == (0.0, 0.0) or np.linalg.norm(b - a) > 2 * ARROW + 1.5 else -1.0
    inward = outward if float((ends[1] - ends[0]) @ along) >= 2.0 * ARROW + 1.5 else -1.0
    arrows = [arrow(ends[0], -along * inward), arrow(ends[1], along * inward)]
    by_own, by_main = there.crossed(own), there.crossed(main_segment)
    cost = (
        cost
        + 1.5 * (by_own["dimension line"] + by_own["leader"])
        + 1.0 * by_main["dimension"]
        + 1.2 * by_own["outline"]
        + 0.25 * by_own["hatch"]
        + 0.3 * (by_main["centre"] + by_main["cutting"])
    )
    drawn = [line("dimension", *ends) for ends in own]
    return Way(cost, (*drawn, main, *arrows, letters), main_segment, own)


def arrow(tip: np.ndarray, toward: np.ndarray) -> Patch:
    """An arrow head, filled, its point at `tip`; ISO 129-1 leaves its angle to the drawing office."""
    across = np.array([-toward[1], toward[0]])
    back = tip - toward * ARROW
    return Patch(np.array([tip, back + across * 0.42, back - across * 0.42]), "dimension")


def angle_ink(
    there: Field, vertex: np.ndarray, first: np.ndarray, second: np.ndarray, words: str
) -> list[Ink] | None:
    """An angle's arc, arrows and words, at the least radius where there is room; None where there is none."""
    if first[0] * second[1] - first[1] * second[0] < 0.0:
        first, second = second, first
    start = float(np.arctan2(first[1], first[0]))
    turn = float(np.arccos(np.clip(first @ second, -1.0, 1.0)))
    for radius in np.arange(14.0, 100.0, 4.0):
        arc = Arc(vertex, float(radius), start, start + turn, "dimension")
        rays = [
            line("dimension", vertex + d * GAP, vertex + d * (radius + BEYOND))
            for d in (first, second)
        ]
        own = np.concatenate([_pieces(arc), np.array([r.points for r in rays])])
        if not there.clear(own):
            continue
        # In the middle, or beside either leg: a share of the angle, or of a small one a length.
        beside = 2.0 * HEIGHT / float(radius) / turn
        for share in (0.5, -0.12, 1.12, -beside, 1.0 + beside):
            at = start + share * turn
            out = np.array([np.cos(at), np.sin(at)])
            anchor = "left" if out[0] > 0.3 else "right" if out[0] < -0.3 else "middle"
            lift = 1.5 if share == 0.5 else 0.0
            where = (
                vertex
                + out * (radius + lift)
                + np.array([0.0, 0.0 if out[1] > 0.3 else -HEIGHT / 2])
            )
            letters = Letters(words, where, HEIGHT, 0.0, anchor)
            if not there.free(letters_box(letters)) or bool(
                letters_box(letters, 0.2).meets(own).any()
            ):
                continue
            ends = arc.path()
            tangents = [np.array([first[1], -first[0]]), np.array([-second[1], second[0]])]
            return [
                arc,
                *rays,
                arrow(ends[0], tangents[0]),
                arrow(ends[-1], tangents[1]),
                letters,
            ]
    return None


def _pieces(arc: Arc) -> np.ndarray:
    path = arc.path()
    return np.stack([path[:-1], path[1:]], axis=1)
