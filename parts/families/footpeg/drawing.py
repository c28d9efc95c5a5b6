"""The sheet of a footpeg: seen from its side and from an end."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.core.drawing import (
    Callout,
    CentreLine,
    Datum,
    Diameter,
    Drawn,
    Hole,
    Linear,
    Marks,
    Radius,
    View,
)
from parts.families.footpeg.bolted import BoltedShank
from parts.families.footpeg.plate_tongue import PlateTongue
from parts.families.footpeg.tongue import Tongue

X, Y, Z = np.eye(3)


def peg_drawn(peg: Any, shank: Marks) -> Drawn:
    """The sheet of a footpeg; `shank` is what its shank says."""
    D, L, c = (float(v) for v in (peg.diameter, peg.length, peg.edge_break))
    end = np.array([L, float(peg.wide) / 2 - c, 0.0])
    sizes: list[Any] = [
        Linear("length", (0, 0, 0), end, X, L, view="front"),
        Diameter("peg", (0.6 * L, 0, 0), X, D, view="front"),
    ]
    notes: list[str] = []
    holes: tuple[Hole, ...] = ()
    if peg.flats is not None:
        half, long = float(peg.flats.across) / 2.0, float(peg.flats.length)
        sizes += [
            Linear("across flats", (long / 2, -half, 0), (long / 2, half, 0), Y, 2 * half, callout="flats"),
            Linear("length of the flats", (0, half, 0), (long, half, 0), X, long),
        ]  # fmt: skip
    if peg.lip is not None:
        wide, thick, r = (float(v) for v in (peg.lip.diameter, peg.lip.width, peg.lip.fillet))
        low = (L - thick, wide / 2 - c, 0)
        sizes += [
            Diameter("rim", (L - thick / 2, 0, 0), X, wide, view="front"),
            Linear("rim, width", low, end, X, thick, view="front"),
            Radius("rim fillet", (L - thick - r, -D / 2 - r, 0), Z, (X + Y) / np.sqrt(2.0), r, view="front"),
        ]  # fmt: skip
    if peg.bore > 0.0:
        wide, deep = float(peg.bore), float(peg.bored)
        drilled = Hole("bore", (L, 0, 0), -X, wide, depth=deep, view="right")
        if deep <= 0.0:
            drilled = Hole("bore", (L, 0, 0), -X, wide, through=L, view="right")
        bolt = Hole(
            "bolt hole", (L, 0, 0), -X, float(peg.through), through=L, counterbore=(wide, deep), view="right"
        )  # fmt: skip
        holes = (bolt if isinstance(peg.shank, BoltedShank) else drilled,)
    if peg.knurl is not None:
        first = c if peg.flats is None else float(peg.flats.length)
        last = L - (c if peg.lip is None else float(peg.lip.width + peg.lip.fillet))
        words = (
            f"knurl DIN 82 - RGE {float(peg.knurl.pitch):g}, before finishing",
            f"{last - first:.1f} mm long, {D:.2f} mm over it",
            f"turned to {float(peg.knurl.before(D)):.2f} mm before it is rolled",
        )
        at = (0.5 * (first + last), D / 2.0, 0.0)
        sizes.append(Callout("knurl", at, "\n".join(words), view="front"))
    if peg.teeth is not None:
        notes.append(
            f"Mill teeth all round the grip: grooves at 90°, pitch {float(peg.teeth.pitch):g} mm, "
            f"{float(peg.teeth.depth):g} mm deep, along the peg and round it."
        )
    marks = Marks(
        tuple(sizes), holes, centres=(CentreLine((0, 0, 0), (L, 0, 0)),), notes=tuple(notes)
    )
    views: tuple[View, ...] = (View("front"), View("right" if peg.bore > 0.0 else "left"))
    if isinstance(peg.shank, Tongue):
        views = (*views, View("top"))
    if isinstance(peg.shank, PlateTongue):
        said = Datum((0, 0, 0), "end of the tube with the slots, on the axis")
        return Drawn(X, Y, views, marks + shank, said, piece="tube", title="tube")
    return Drawn(X, Y, views, marks + shank, Datum((0, 0, 0), "shoulder, on the axis"))
