"""The sheet of a fork on its shank, in the part's axes, the shank toward -x."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from parts.core.drawing import Datum, DatumFeature, Drawn, Marks, Place, View, Zone
from parts.features.fork.fork import Ears, InFork
from parts.features.pins.pin import TappedHole
from parts.features.thread.body import OnBody, Shank


def square_bore(marks: Marks, ears: Ears) -> Marks:
    """The marks of a fork whose pin holes are square to the outer face of an ear, within what their fit allows."""
    allowed = ears.pin.bore_limits().tolerance
    square = (Zone("perpendicularity", allowed, ("A",)),)
    holes = tuple(
        hole if hole.thread is not None else replace(hole, zones=square) for hole in marks.holes
    )
    half = float(ears.height) / 2.0
    ends = (-0.8 * float(ears.depth), 0.0, half), (0.6 * float(ears.end), 0.0, half)
    face = DatumFeature("A", *ends, (0.0, 0.0, 1.0), "top")
    return replace(marks, holes=holes, datums=(face,))


def fork_drawn(
    ears: Ears,
    in_fork: InFork,
    shank: Shank,
    site: OnBody,
    *,
    origin: Place = (0.0, 0.0, 0.0),
    axes: Any = None,
    piece: str = "part",
    title: str = "",
) -> Drawn:
    """The sheet of a clevis.

    Args:
        ears: its ears.
        in_fork: where they stand.
        shank: its shank.
        site: the back of its body, under the shank.
        origin: middle of its pin in the axes of the part [mm].
        axes: rows, its own axes in those of the part; the same where left out.
        piece: the piece of the part.
        title: what the piece is.

    Returns:
        The sheet.
    """
    body = site.body
    turn = np.eye(3) if axes is None else np.asarray(axes, float)
    middle = np.asarray(origin, float)
    bored = shank.bored or isinstance(ears.pin.hole, TappedHole)
    views = [View("front"), View("top", cut=middle if bored else None)]
    if shank.seen_from_its_end or bool(np.any(body.clocking)):
        views.append(View("left"))
    return Drawn(
        right=turn[0],
        up=turn[1],
        views=tuple(views),
        marks=(square_bore(ears.marks(in_fork), ears) + shank.marks(site)).moved(middle, turn),
        datum=Datum(middle, "middle of the pin"),
        piece=piece,
        title=title,
    )
