"""What drawings of the bodies of links share: tapped faces, cross holes, outsides, bungs, and the sheet.

Everything is stated in the axes of the body, x from its face for end a, and then put in place.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from parts.core.drawing import (
    Datum,
    Diameter,
    Dimension,
    Drawn,
    Linear,
    Marks,
    View,
    Zone,
)
from parts.families.links.adjustment import Adjustment
from parts.features.bung.bung import Bung
from parts.features.bung.marks import bung_marks, tapped_marks, wall_hole_marks
from parts.features.bung.stretches import Outside
from parts.features.thread import threaded
from parts.standards.threads.threads import Thread

X, Y, Z = np.eye(3)
REVERSED = np.array([[-1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, -1.0]])
"""Axes of what is made like end a and stands at end b, its +y kept."""
SIDE = View("front", cut=(0.0, 0.0, 0.0))


def at_end_b(marks: Marks, long: float) -> Marks:
    """Marks of the face at end a, put to the face at end b of a body of a length [mm]."""
    return marks.moved((long, 0.0, 0.0), REVERSED)


def seen_from(marks: Marks, side: str) -> Marks:
    """The same with its holes called out in another view."""
    return replace(marks, holes=tuple(replace(hole, view=side) for hole in marks.holes))


def outside_sizes(outside: Outside, x: float, end: str = "left") -> list[Dimension]:
    """The outside of a bar at x [mm]: its diameter, its flats."""
    found: list[Dimension] = []
    if outside.kind != "hex":
        # Cut along its middle, a flatted bar shows its flats and not its diameter.
        view = end if outside.kind == "flatted" else "front"
        found.append(Diameter("outside diameter", (x, 0, 0), X, float(outside.diameter), view=view))
    if outside.kind != "round":
        half = float(outside.flats) / 2.0
        words = "hexagon" if outside.kind == "hex" else "flats"
        found.append(
            Linear(
                "across flats",
                (x, -half, 0),
                (x, half, 0),
                Y,
                2 * half,
                callout=words,
                view=end,
                sides=6 if outside.kind == "hex" else 2,
            )
        )
    return found


def bung_drawn(
    bung: Bung, i: int, tube: tuple[Any, Any], link: Adjustment, start: float, edge_break: float
) -> Drawn:
    """The sheet of one bung in a tube of an outside and a wall; `start` is the place of the body's face for end a on x
    [mm]."""
    thread, outside = link.ends[i].thread, float(tube[0])
    depth, long = float(link.mouths[i].depth), float(link.body)
    at = float(link.witness_at(i))
    marks = bung_marks(bung, thread, depth, at, (outside, float(tube[1])), edge_break)
    if i == 1:
        marks = at_end_b(marks, long)
    marks = marks.moved((start, 0.0, 0.0))
    face = start + (0.0 if i == 0 else long)
    return Drawn(
        right=X if i == 0 else -X,
        up=Y,
        views=(SIDE, View("top"), View("left")),
        marks=marks,
        datum=Datum((face, 0.0, 0.0), "outer face, on the axis"),
        piece=f"bung-{'ab'[i]}",
        title=f"bung, {thread.designation}",
    )


def middle_flats(flats: float, length: float, centre: float) -> list[Dimension]:
    low, half = centre - length / 2.0, flats / 2.0
    return [
        Linear("face to the wrench flats", (0, half, 0), (low, half, 0), X, low, view="top"),
        Linear("length of the wrench flats", (low, half, 0), (low + length, half, 0), X, length, view="top"),
        Linear(
            "across the wrench flats", (centre, -half, 0), (centre, half, 0), Y, flats, callout="flats",
            view="front",
        ),
    ]  # fmt: skip


def end_marks(
    i: int,
    thread: Thread,
    depth: float,
    edge_break: float,
    long: float,
    *,
    behind: float | None,
    through: bool,
    beyond: float = threaded.BEYOND,
    off: float = 0.0,
) -> Marks:
    """An end's tapped hole. That of end a is the datum; that of end b is coaxial to it within half of `off` [mm], by
    which the load may stand off the axis: the other half is left to the rod ends."""
    marks = tapped_marks(thread, depth, edge_break, behind=behind, through=through, beyond=beyond)
    (hole,) = marks.holes
    if i == 0:
        return replace(marks, holes=(replace(hole, datum="A" if off > 0.0 else ""),))
    zones = (Zone("coaxiality", off, ("A",)),) if off > 0.0 else ()
    return seen_from(at_end_b(replace(marks, holes=(replace(hole, zones=zones),)), long), "right")


def witness_marks(i: int, size: Any, link: Adjustment, top: float, long: float) -> Marks:
    if size is None:
        return Marks()
    marks = wall_hole_marks("witness hole", float(link.witness_at(i)), float(size), top)
    return marks if i == 0 else at_end_b(marks, long)


def body_sheet(marks: Marks, start: float, piece: str, title: str) -> Drawn:
    return Drawn(
        right=X,
        up=Y,
        views=(SIDE, View("top"), View("left"), View("right")),
        marks=marks.moved((start, 0.0, 0.0)),
        datum=Datum((start, 0.0, 0.0), "face for end a, on the axis"),
        piece=piece,
        title=title,
    )
