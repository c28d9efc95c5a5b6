"""The sheet of a coped tube: its length between the points, its section, and how its ends are cut."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from parts.core.drawing import (
    CentreLine,
    Datum,
    Diameter,
    Drawn,
    Linear,
    Marks,
    Radius,
    View,
    Worded,
)
from parts.core.tube_ends import CORNER
from parts.families.coped_tube.on_box import OntoBox
from parts.families.coped_tube.saddle import Onto
from parts.families.coped_tube.shape import TubeShape
from parts.features.bung.marks import wall_hole_marks

AXES: Any = np.eye(3)
X, Y, Z = AXES


def _section(tube: TubeShape, middle: float, high: float) -> Iterator[Diameter | Linear | Radius]:
    """The tube's own sizes: those of the stock that it is cut from."""
    one, wall = tube.hollow, float(tube.size[1])
    wide, deep = float(one.wide), float(one.deep)
    if one.round:
        yield Diameter("outside", (high, 0, 0), X, wide, view="front")
        yield Diameter("bore", (middle, 0, 0), X, wide - 2.0 * wall, view="left")
        return
    for name, way, side in (("side", Y, wide), ("other side", Z, deep)):
        far = X * middle + way * side / 2.0
        yield Linear(name, far - way * side, far, way, side, view="left")
        inner = X * middle + way * (side / 2.0 - wall)
        yield Linear(f"wall of the {name}", inner, far, way, wall, view="left")
        yield Linear(f"far wall of the {name}", far - way * side, far - way * (side - wall), way, wall, view="left",
            callout="typ")  # fmt: skip
    R = CORNER * wall
    for name, radius, slant in (("outside", R, Y + Z), ("inside", R - wall, -Y - Z)):
        corner = X * middle + np.sign(slant @ Y) * (Y * (wide / 2.0 - R) + Z * (deep / 2.0 - R))
        yield Radius(f"corners {name}", corner, X, slant, radius, count=4, view="left")


def tube_drawn(tube: TubeShape) -> Drawn:
    """The sheet; the templates to wrap about its ends follow from its tube."""
    long, (low, high) = float(tube.length), (float(v) for v in tube.full)
    middle = (low + high) / 2.0
    sizes: list[Any] = list(_section(tube, middle, high))
    first, last = (tube.tip(i) for i in (0, 1))
    sizes.append(Linear("over its points", first, last, X, float(last[0] - first[0]), view="front"))
    notes = [
        f"{tube.tube.name} tube. Blank {last[0] - first[0]:.1f} long, square; its points {long:.2f} apart."
    ]
    marks = Marks(tuple(sizes), notes=tuple(notes), centres=(CentreLine((0, 0, 0), (long, 0, 0)),))
    marks += end_marks(tube) + vent_marks(tube, first)
    views = (View("front"), View("left"), *((View("top"),) if marks.holes else ()))
    return Drawn(X, Y, views, marks, Datum((0, 0, 0), "point of end a"), tubes=(tube.to_cut,))


def end_marks(tube: TubeShape) -> Marks:
    """What the sheet says of the cuts at both ends."""
    notes, worded = [], []
    outside = float(tube.size[0])
    for i, (name, one) in enumerate((("a", tube.a), ("b", tube.b))):
        if not isinstance(one, Onto):
            continue
        node, axes = (np.asarray(v, float) for v in tube.node(i))
        for k, other in enumerate([one, *one.beside]):
            place, along = (np.asarray(v, float) @ axes for v in other.runs(1.0 - 2.0 * i))
            angle, turn, off = (float(v) for v in (other.angle, other.turn, other.offset))
            if isinstance(other, OntoBox):
                low = float(other.tube.height_mm) + 2.0 * float(one.gap)
                across = outside if tube.hollow.round else float(tube.hollow.largest)
                high = 2.0 * float(np.hypot(low / 2.0, across / 2.0 + abs(off)))
                w, h, t = other.tube.width_mm, other.tube.height_mm, other.tube.wall_mm
                saw = abs(90.0 - np.degrees(angle))
                meets, kind = (
                    f"the {w:g} mm face of a box {w:g} × {h:g} × {t:g}",
                    f"sawn {saw:.1f}° off square to",
                )
            else:
                low = high = float(other.tube.width_mm) + 2.0 * float(one.gap)
                meets = f"a tube Ø{float(other.tube.width_mm):.2f}"
                kind = "coped to" if k == 0 else "then clear of"
            word = "saw" if isinstance(other, OntoBox) else "cope"
            worded.append(Worded(f"{word} {name} {k + 1}", node + place, along, low, high))
            notes.append(
                f"End {name} {kind} {meets} at {np.degrees(angle):.1f}°, turned {np.degrees(turn):.1f}° from "
                f"{tube.reference}, centre lines {off:.2f} apart; gap {float(one.gap):g}. See template."
            )
    return Marks(notes=tuple(notes), worded=tuple(worded))


def vent_marks(tube: TubeShape, first: np.ndarray) -> Marks:
    """What the sheet says of the vent, from the longest point of end a [mm]; nothing where there is none."""
    if tube.vent is None:
        return Marks()
    at, half = float(tube.vent.at), float(tube.size[0]) / 2.0
    drilled = wall_hole_marks("vent hole", at, float(tube.vent.diameter), half)
    foot = np.array([at, half, 0.0])
    off = float(foot[0] - first[0])
    size = Linear("long point to the vent hole", first, foot, X, off, view="front")
    return Marks((size,), drilled.holes)
