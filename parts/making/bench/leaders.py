"""Leaders with their words, placed where there is room: the shortest with the least crossings, in either order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from parts.making.bench.dimensioning import HEIGHT, Way, arrow
from parts.making.bench.field import MARGIN, Box, Field
from parts.making.bench.ink import Anchor, Ink, Letters, line
from parts.making.bench.toleranced import Sign


@dataclass(frozen=True)
class Pointer:
    """A leader to place: where it may touch, each with the direction in which it leaves; its words by line, frames of
    geometric tolerances among them."""

    name: str
    touches: tuple[tuple[np.ndarray, np.ndarray], ...]
    words: tuple[str | Sign, ...]


def place_pointers(there: Field, pointers: Sequence[Pointer]) -> list[str]:
    """Draw leaders with their words.

    Returns:
        The names of those that found no room.
    """
    orders = [list(pointers)]
    if 1 < len(pointers) <= FEW:
        orders.append(orders[0][::-1])
    tried = [_placed(there, order) for order in orders]
    ways, crowded = min(tried, key=lambda one: (len(one[1]), sum(way.cost for way in one[0])))
    for way in ways:
        _take(there, way)
    return crowded


def _placed(there: Field, pointers: Sequence[Pointer]) -> tuple[list[Way], list[str]]:
    """Leaders placed one after another, the view left as it is; and the names of those without room."""
    trial = there.copy()
    ways, crowded = [], []
    for one in pointers:
        best = _best_leader(trial, one)
        if best is None:
            crowded.append(one.name)
            continue
        _take(trial, best)
        ways.append(best)
    return ways, crowded


def _take(there: Field, way: Way) -> None:
    for ink in way.ink:
        there.draw(ink)
    there.block(way.line, "leader")


FEW = 12
"""Up to so many leaders are placed in both orders, and the better order is taken."""


SHELF = 2.5


SPACING = 1.55
"""Distance of lines of text per height."""


BELOW, FRAMED = 2.0, 5.3
"""A frame's foot below the line that text would stand on there, and the distance to the next line [mm]."""


def _best_leader(there: Field, one: Pointer) -> Way | None:
    """The cheapest leader; longer ones are looked at only while they can still be cheaper."""
    # Every place to touch with either hand that suits the way the leader leaves.
    rows = [
        (touch, away, hand)
        for touch, away in one.touches
        for hand in ((1.0,) if away[0] > 0.1 else (-1.0,) if away[0] < -0.1 else (1.0, -1.0))
    ]
    touches, aways = (np.array([row[k] for row in rows], float) for k in (0, 1))
    hands = np.array([row[2] for row in rows])
    by_hand = {hand: _block_box(one.words, hand) for hand in (1.0, -1.0)}
    corners = np.array([by_hand[hand] for hand in hands])
    taken = _upright(there)
    best: Way | None = None
    for run in np.arange(7.0, 100.0, 3.0):
        if best is not None and run / 10.0 >= best.cost:
            break
        elbows = touches + aways * run
        shelves = elbows + np.stack([hands * SHELF, 0.0 * hands], axis=-1)
        boxes = corners + shelves[:, None]
        free = ~_meet_upright(boxes, taken)
        own = np.stack(
            [np.stack([touches, elbows], axis=1), np.stack([elbows, shelves], axis=1)], axis=1
        )
        free[free] = there.each_clear(own[free].reshape(-1, 2, 2)).reshape(-1, 2).all(axis=1)
        for k in np.flatnonzero(free):
            slant = 0.3 * abs(abs(aways[k, 0]) - abs(aways[k, 1]))
            length = float(np.linalg.norm(elbows[k] - touches[k])) / 10.0
            if best is not None and length + slant >= best.cost:
                continue
            low, high = boxes[k]
            half = (high - low) / 2.0
            box = Box((low + high) / 2.0, (float(half[0]), float(half[1])), np.array([1.0, 0.0]))
            if not there.blocked(box):
                cost = _with_crossings(length, there.crossed(own[k])) + slant
                if best is None or cost < best.cost:
                    best = _leader(one.words, own[k], aways[k], hands[k], cost)
    return best


def _block_box(words: Sequence[str | Sign], hand: float) -> np.ndarray:
    """Corners of the box of a leader's words, from the end of its shelf."""
    box = _around(block(words, np.array([hand * 1.0, -HEIGHT / 2.0]), hand))
    return np.array([box.middle - box.half, box.middle + box.half])


def _upright(there: Field) -> np.ndarray:
    """Upright boxes round everything written so far, shape (n, 2, 2)."""
    corners = there.taken.corners()
    return np.stack([corners.min(axis=1), corners.max(axis=1)], axis=1)


def _meet_upright(boxes: np.ndarray, others: np.ndarray) -> np.ndarray:
    """Which upright boxes overlap any of others; both as (n, 2 corners, 2)."""
    apart = (boxes[:, None, 1] < others[None, :, 0]) | (boxes[:, None, 0] > others[None, :, 1])
    return np.asarray((~apart.any(axis=-1)).any(axis=-1))


def _with_crossings(length: float, crossed: Counter[str]) -> float:
    return (
        length
        + 1.6 * (crossed["dimension line"] + crossed["leader"])
        + 0.6 * crossed["dimension"]
        + 1.4 * crossed["outline"]
        + 0.3 * crossed["hatch"]
        + 0.1 * crossed["centre"]
    )


def _leader(
    words: Sequence[str | Sign], own: np.ndarray, away: np.ndarray, hand: float, cost: float
) -> Way:
    (touch, elbow), (_, shelf) = own
    letters = block(words, shelf + np.array([hand * 1.0, -HEIGHT / 2.0]), hand)
    ink = (line("dimension", touch, elbow, shelf), arrow(touch, -away), *letters)
    return Way(cost, ink, own, own)


def _around(letters: Sequence[Ink]) -> Box:
    """One box round lines of text that stand under each other."""
    corners = np.vstack([text.path() for text in letters])
    low, high = corners.min(axis=0), corners.max(axis=0)
    half = (high - low) / 2.0 + MARGIN
    return Box((low + high) / 2.0, (float(half[0]), float(half[1])), np.array([1.0, 0.0]))


def block(
    words: Sequence[str | Sign], at: np.ndarray, hand: float, height: float = HEIGHT
) -> list[Ink]:
    """Lines of text and frames under each other, the first at a place; to its right or its left."""
    anchor: Anchor = "right" if hand < 0.0 else "left"
    (x, y), found = at, list[Ink]()
    for one in words:
        if isinstance(one, str):
            found.append(Letters(one, np.array([x, y]), height, 0.0, anchor))
            y -= SPACING * height
            continue
        found += one.ink(float(x) - (one.width if hand < 0.0 else 0.0), float(y) - BELOW, hand)
        y -= FRAMED
    return found
