"""What a drawing says of a bolt-on pad: its plate, its holes and their places, in the axes of the ears."""

from __future__ import annotations

import numpy as np

from parts.core.drawing import CentreLine, Dimension, Hole, Linear, Marks, Radius
from parts.families.clevis.pad_bolts import PadBase
from parts.features.bolts.pattern import CounterboredHoles, TappedHoles
from parts.features.press.fit import CLEARS
from parts.features.thread.body import Body
from parts.features.thread.body_marks import root_marks, turned_marks
from parts.standards.fits.iso286 import class_limits

X, Y, Z = np.eye(3)


def pad_marks(pad: PadBase, body: Body) -> Marks:
    """The pad behind a body."""
    wide, high, thick = float(pad.width), float(pad.height), float(pad.thickness)
    corner, size = float(pad.corner), float(pad.hole)
    tapped = pad.bolts.of_thread if isinstance(pad.holes, TappedHoles) else None
    bored = pad.holes if isinstance(pad.holes, CounterboredHoles) else None
    holes = []
    back = np.array([-thick, 0.0, 0.0])
    sizes: list[Dimension] = [
        Linear("width of the pad", back - wide / 2 * Y, back + wide / 2 * Y, Y, wide, view="left"),
        Linear("height of the pad", back - high / 2 * Z, back + high / 2 * Z, Z, high, view="left"),
        Linear("thickness of the pad", back + wide / 2 * Y, wide / 2 * Y, X, thick, view="front"),
    ]
    if corner > 0.0:
        way = (Y + Z) / np.sqrt(2.0)
        centre = (-thick, wide / 2 - corner, high / 2 - corner)
        sizes.append(Radius("corner of the pad", centre, X, way, corner, count=4, view="left"))
    sizes += root_marks(body, float(body.width), on_pad=True)
    free = None if tapped else class_limits(CLEARS["normal"], size)
    for i, (y, z) in enumerate(pad.places(), 1):
        place = (0.0 if bored else -thick, float(y), float(z))
        holes.append(
            Hole(
                f"pad hole {i}",
                place,
                -X if bored else X,
                size,
                through=thick,
                thread=tapped,
                fit=free.tolerance_class if free else "",
                limits=free.sizes if free else None,
                countersink=float(tapped.major + 2.0 * body.edge_break) if tapped else 0.0,
                view="left",
                counterbore=(float(bored.diameter), float(bored.depth)) if bored else None,
                callout="counterbore on the far side" if bored else "",
            )
        )
    for way, n, name in ((Y, 0, "y"), (Z, 1, "z")):
        for i, value in enumerate(sorted({round(float(p[n]), 6) for p in pad.places()}), 1):
            if abs(value) > 1e-6:
                on = next(p for p in pad.places() if abs(p[n] - value) < 1e-5)
                start = (-thick, 0.0, 0.0)
                end = (-thick, float(on[0]), float(on[1]))
                sizes.append(
                    Linear(
                        f"holes, row {i} along {name}",
                        start,
                        end,
                        way * np.sign(value),
                        abs(value),
                        view="left",
                    )
                )
    middle = (
        CentreLine((-thick, -wide / 2, 0), (-thick, wide / 2, 0)),
        CentreLine((-thick, 0, -high / 2), (-thick, 0, high / 2)),
    )
    return turned_marks(Marks(tuple(sizes), tuple(holes), (), middle), body, "Pad")
