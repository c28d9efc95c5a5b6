"""The sheet of a bent tube: its diameter, where its ends lie, its bend table, and how its ends are cut."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.drawing import (
    CentreLine,
    Datum,
    Diameter,
    Drawn,
    Linear,
    Marks,
    Profile,
    View,
    Worded,
)
from parts.families.coped_tube.bends import bend_lines
from parts.families.coped_tube.drawing import X, Y, end_marks, vent_marks
from parts.families.coped_tube.saddle import Onto

if TYPE_CHECKING:
    from parts.families.coped_tube.bent_shape import BentShape


def bent_drawn(tube: BentShape) -> Drawn:
    """The sheet; templates to wrap about its ends follow from the tube drawn out straight."""
    outside, wall = (float(v) for v in tube.size)
    segments = tube.line.segments
    first = np.asarray(tube.tip(0), float)
    sizes: list[Any] = [Diameter("outside", X * float(tube.full[0]), X, outside, view="front")]
    sizes += list(_beside(tube))
    worded, centres = [], []
    for k, one in enumerate(segments):
        start, x = np.asarray(one.start, float), np.asarray(one.frame, float)[0]
        if one.radius is None:
            end = start + x * float(one.high - one.low)
            inner = outside - 2.0 * wall
            worded.append(
                Worded(f"straight {k // 2 + 1}", start, x, inner, outside, (start + end) / 2.0)
            )
            centres.append(CentreLine(start, end))
        else:
            R, to = float(one.radius), np.asarray(one.to, float)
            half = float(one.high - one.low) / R / 2.0
            worded.append(
                Worded(
                    f"bend {k // 2 + 1}",
                    start + R * to,
                    np.cross(x, to),
                    2.0 * R - outside,
                    2.0 * R + outside,
                    start + R * (to * (1.0 - np.cos(half)) + x * np.sin(half)),
                )
            )
    rows, straight = tube.table(), float(tube.length - segments[-1].low - tube.beyond(1))
    vent = vent_marks(tube, first)
    notes = (
        f"{tube.tube.name} tube. Blank {float(tube.cut_long):.1f} long, square; "
        f"{float(tube.length):.2f} from point to point along its centre line.",
        f"In a bend no more than {tube.ovality:.0%} oval; no wrinkle or crack.",
        "The reference line is scribed on the side of +y at end a, to which bend 1 turns"
        + (f" less {np.degrees(float(tube.bends[0].turn)):.1f}°." if tube.bends[0].turn else "."),
        *bend_lines(rows, straight, tube.springback),
        "Corners of the centre line, from the point of end a (x, y, z): "
        + "; ".join(_corners(tube))
        + ".",
    )
    profiles = () if isinstance(tube.b, Onto) else (_square_end(tube),)
    marks = Marks(
        tuple(sizes), notes=notes, worded=tuple(worded), centres=tuple(centres), profiles=profiles
    )
    marks += end_marks(tube) + vent
    flat = bool(np.all(np.abs([float(np.asarray(one.start)[2]) for one in segments]) < 1e-6))
    sides = (
        (View("front"),) if flat and not vent.holes else (View("front"), View("top"), View("left"))
    )
    return Drawn(
        X, Y, sides, marks, Datum((0, 0, 0), "point of end a"), tubes=(tube.to_cut,),
    )  # fmt: skip


def _beside(tube: BentShape) -> Iterator[Linear]:
    """How far straights that run as the first does lie beside it."""
    first = np.asarray(tube.line.segments[0].at(np.array([float(tube.bends[0].after)]))[0][0])
    for k, one in enumerate(tube.line.segments[2::2], 2):
        x = np.asarray(one.frame, float)[0]
        off = np.asarray(one.start, float) - first
        aside = off - (off @ X) * X
        long = float(np.linalg.norm(aside))
        if abs(abs(float(x @ X)) - 1.0) > 1e-9 or long < 1.0:
            continue
        yield Linear(f"straight {k} beside straight 1", first, first + off, aside / long, long)


def _corners(tube: BentShape) -> Iterator[str]:
    """Where the centre lines of straights meet, the ends of half turns, and both points."""
    yield "a: 0, 0, 0"
    for k, one in enumerate(tube.line.segments[1::2], 1):
        start, x = np.asarray(one.start, float), np.asarray(one.frame, float)[0]
        angle = float(one.high - one.low) / float(one.radius)
        words, place = f"corner {k}", start
        if angle < np.radians(170.0):
            place = start + x * float(one.radius) * np.tan(angle / 2.0)
        else:
            words = f"start of bend {k}"
        yield f"{words}: " + ", ".join(f"{v + 0.0:.1f}" for v in np.round(place, 1))
    yield "b: " + ", ".join(f"{v + 0.0:.1f}" for v in np.round(tube.node(1)[0], 1))


def _square_end(tube: BentShape) -> Profile:
    """The face of an end b that is cut square."""
    node, axes = (np.asarray(v, float) for v in tube.node(1))
    middle = node - axes[0] * float(tube.beyond(1))
    half = axes[1] * float(tube.size[0]) / 2.0
    return Profile(
        "square end b", axes[2], np.array([[middle - half, middle, middle + half]]), tabled=False
    )
