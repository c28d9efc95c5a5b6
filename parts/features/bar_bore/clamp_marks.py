"""What a drawing says of a split clamp."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from parts.core.drawing import Dimension, Hole, Linear, Marks
from parts.features.bar_bore.in_hub import InHub
from parts.features.bar_bore.split_clamp import SPOT_DEPTH, SplitClamp
from parts.features.press.fit import FINE

X, Y, Z = np.eye(3)


def clamp_marks(of: SplitClamp, site: InHub) -> Marks:
    """Bore, slit, ears, pinch bolts and the relief of its hinge, turned as the slit is."""
    half = float(site.width) / 2.0
    size, turn, fit = float(of.bore), float(of.clocking), of.bore_limits()
    c, s = np.cos(turn), np.sin(turn)
    axes = np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])
    gap, off = float(of.slit), float(of.offset)
    face, reach = float(of.face_at), float(of.reach)
    on_arm = site.free is None
    hole = Hole(
        "bore for the bar", (0, 0, half), -Z, size, through=2 * half, fit=fit.tolerance_class, limits=fit.sizes,
        callout=f"before it is slit, {FINE}", view="front",
    )  # fmt: skip
    sizes: list[Dimension] = [
        Linear(
            "slit",
            (-reach, -gap / 2, half),
            (-reach, gap / 2, half),
            Y,
            gap,
            callout="slit",
            view="front",
        ),
        Linear("bar to the pinch bolts", (-off, 0, half), (0, 0, half), X, off, view="front"),
    ]
    if on_arm:  # the outline of a plate states its ears
        over = (-reach, -face, half), (-reach, face, half)
        sizes.append(Linear("over the clamp's ears", *over, Y, 2 * face, view="front"))
        end = (-reach, 0, half), (0, 0, half)
        sizes.append(Linear("bar to the end of the ears", *end, X, reach, view="front"))
    else:
        down = float(of.pitch(2 * half)) / 2.0
        sizes.append(
            Linear(
                "face to the pinch bolt",
                (-off, 0, half - down),
                (-off, 0, half),
                Z,
                down,
                view="top",
            )
        )
    straight = on_arm and abs(turn) < 1e-9
    holes = [hole, *_pinch_bolts(of, half, noted=not straight)]
    notes = []
    if not straight:
        line = "the line opposite the arm" if on_arm else "-x, counter-clockwise as drawn"
        notes.append(f"The slit stands {np.degrees(turn):.1f}° from {line}.")
        notes.append("Pinch bolts: square to the slit; places in the process sheet.")
    if of.count > 1:
        apart = float(of.pitch(2 * half))
        notes.append("Pinch bolts alike about the middle of the hub.")
        first, side = -apart * (of.count - 1) / 2.0, "bottom" if straight else "top"
        for i in range(of.count - 1):
            low, high = ((-off, -face, first + k * apart) for k in (i, i + 1))
            sizes.append(Linear(f"pinch bolts {i + 1}", low, high, Z, apart, view=side))
    if of.relief > 0.0:
        at, small = float(of.relief_at), float(of.relief)
        holes.append(
            Hole(
                "hinge relief", (at, 0, half), -Z, small, through=2 * half,
                callout="hinge relief\ndrill before boring", view="front",
            )
        )  # fmt: skip
        sizes.append(
            Linear("bar to the hinge relief", (0, 0, half), (at, 0, half), X, at, view="front")
        )
    return Marks(tuple(sizes), tuple(holes), notes=tuple(notes)).moved((0, 0, 0), axes)


def _pinch_bolts(of: SplitClamp, half: float, *, noted: bool) -> Iterator[Hole]:
    """The holes of the pinch bolts, tapped in one ear and clear in the other; `noted` where they stand aslant."""
    thread, ear, off = of.bolt.thread, float(of.ear), float(of.offset)
    face = float(of.face_at)
    apart = float(of.pitch(2 * half))
    for i in range(of.count):
        z = (i - (of.count - 1) / 2.0) * apart
        yield Hole(
            f"pinch bolt {i + 1}", (-off, -face, z), Y, float(thread.minor_internal), through=ear, thread=thread,
            countersink=float(thread.major), callout="this ear only", view="bottom", noted=noted,
        )  # fmt: skip
        yield Hole(
            f"clearance for pinch bolt {i + 1}", (-off, face, z), -Y, of.hole, through=ear,
            counterbore=(float(of.head), SPOT_DEPTH), callout="far ear", view="bottom", noted=noted,
        )  # fmt: skip
