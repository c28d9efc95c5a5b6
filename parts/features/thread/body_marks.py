"""What drawings of all shanks share: put where they are clocked, the root fillet, wrench flats."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from parts.core.drawing import Dimension, Linear, Marks, Radius
from parts.features.thread.body import Body

X, Y, Z = np.eye(3)


def turned_marks(marks: Marks, body: Body, what: str = "") -> Marks:
    """The marks of a shank that states itself on -x from the back of the body, put where it is clocked.

    Args:
        marks: of the shank.
        body: the back of the body.
        what: what shows how it is clocked, as wrench flats do; empty where it is round.

    Returns:
        The marks in the axes of the ears, with a note on the turn.
    """
    turn = float(np.degrees(body.clocking))
    notes: tuple[str, ...] = ()
    if what and abs(turn) > 1e-9:
        sense = "clockwise" if turn > 0.0 else "anticlockwise"
        notes = (
            f"{what} turned {abs(turn):g}° {sense} against the ears, seen from the shank's end.",
        )
    turned = replace(marks, ways=(*marks.ways, Y, Z) if notes else marks.ways)
    return turned.moved((-float(body.back), 0.0, 0.0), _clocked(body)) + Marks(notes=notes)


def _clocked(body: Body) -> Any:
    """The axes of a shank, as rows in those of the ears."""
    c, s = np.cos(float(body.clocking)), np.sin(float(body.clocking))
    return np.array([[1.0, 0.0, 0.0], [0.0, c, s], [0.0, -s, c]])


def root_marks(body: Body, wide: float, *, on_pad: bool = False) -> list[Dimension]:
    """The fillet where something round leaves the body, or where the body leaves a pad.

    It runs all round and is shown where the ears lie flat, however the shank is clocked.
    """
    r = float(body.root_fillet)
    if r <= 0.0:
        return []
    side = -1.0 if on_pad else 1.0
    ears = _clocked(body).T
    centre = np.array([-side * r, wide / 2 + r, 0.0]) @ ears
    way = (side * X - Y) / np.sqrt(2.0) @ ears
    return [Radius("root fillet", centre, Z @ ears, way, r, callout="all round", view="front")]


def flats_sizes(across: float | None, low: float, high: float) -> list[Dimension]:
    """Wrench flats from `low` to `high` behind the back; none where there are none."""
    if across is None:
        return []
    half, x = float(across) / 2.0, -(0.35 * low + 0.65 * high)
    return [
        Linear("across flats", (x, -half, 0), (x, half, 0), Y, 2 * half, callout="flats"),
        Linear("length of the flats", (-high, half, 0), (-low, half, 0), X, high - low),
    ]
