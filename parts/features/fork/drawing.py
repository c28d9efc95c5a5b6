"""What a drawing says of a pair of ears: in the ears' axes, the pin on z and the nose toward +x."""

from __future__ import annotations

import numpy as np

from parts.core.drawing import CentreLine, Dimension, Hole, Linear, Marks, Radius, ThreadLines
from parts.features.fork.ears import EarPair
from parts.features.fork.nose import OGIVE_TIP, Nose
from parts.features.fork.throat import THROAT_CLASS
from parts.features.pins.pin import BushedHole, ClearanceHole, ReamedHole, TappedHole
from parts.features.press.fit import FINE
from parts.standards.fits.iso286 import class_limits

X, Y, Z = np.eye(3)


def ear_marks(
    ears: EarPair,
    edge_break: float,
    across: str = "front",
    along: str = "top",
    *,
    open_back: bool = False,
) -> Marks:
    """Dimensions, holes and centre lines of a pair of ears.

    Args:
        ears: the ears.
        edge_break: chamfer of the bores [mm].
        across: the side of the view along the pin.
        along: the side of the view that shows the throat.
        open_back: the body goes on behind the floor, so that it has no back to measure to.

    Returns:
        The marks.
    """
    half, gap, end = float(ears.height) / 2.0, float(ears.throat.width) / 2.0, float(ears.end)
    depth, back, wide = float(ears.depth), float(ears.back), float(ears.width)
    at = -0.75 * depth
    free = class_limits(THROAT_CLASS, 2.0 * gap)
    sizes: list[Dimension] = [
        Linear(
            "width of the ears", (at, -wide / 2, half), (at, wide / 2, half), Y, wide, view=across
        ),
        Linear(
            "throat",
            (end, 0, -gap),
            (end, 0, gap),
            Z,
            2 * gap,
            fit=free.tolerance_class,
            limits=free.sizes,
            view=along,
        ),
        Linear(
            "thickness of an ear", (end, 0, gap), (end, 0, half), Z, half - gap, count=2, view=along
        ),
        Linear(
            "over the ears",
            (end, 0, -half),
            (end, 0, half),
            Z,
            2 * half,
            reference=True,
            view=along,
        ),
        Linear("depth of the throat", (-depth, 0, 0), (0, 0, half), X, depth, view=along),
    ]
    if not open_back:
        sizes.append(
            Linear("back of the body", (-back, 0, half), (0, 0, half), X, back, view=along)
        )
    radius = float(ears.radius)
    corner = (-depth + radius, 0.0, gap - radius)
    if ears.floor == "full radius":
        sizes.append(
            Radius("floor of the throat", corner, Y, -X, radius, callout="full", view=along)
        )
    else:
        way = (Z - X) / np.sqrt(2.0)
        sizes.append(Radius("corner of the throat", corner, Y, way, radius, count=2, view=along))
    notes = [note] if (note := ears.throat.note()) else []
    middle = CentreLine((end, 0, 0), (-depth, 0, 0))
    holes, threads = _holes(ears, edge_break)
    return Marks((*sizes, *nose_sizes(ears, half, across)), holes, threads, (middle,), tuple(notes))


def nose_sizes(nose: Nose, half: float, view: str) -> list[Dimension]:
    """Dimensions of the end of an ear or tongue; `half` is its face's height over the middle [mm]."""
    wide, end = float(nose.width), float(nose.end)
    tip = (end, 0.0, half)
    if nose.nose == "round":
        way = np.array([np.sqrt(0.5), np.sqrt(0.5), 0.0])
        return [Radius("nose", (0, 0, half), Z, way, wide / 2, callout="full", view=view)]
    length = Linear("end of the nose", (0, 0, half), tip, X, end, view=view)
    if nose.nose == "square":
        r = float(nose.nose_corner)
        way = np.array([np.sqrt(0.5), np.sqrt(0.5), 0.0])
        if r <= 0.0:
            return [length]
        centre = (end - r, wide / 2 - r, half)
        return [length, Radius("corner of the nose", centre, Z, way, r, count=2, view=view)]
    small, large = OGIVE_TIP * wide, float(nose._ogive())
    between = (np.pi / 2.0 - float(nose._along())) / 2.0
    way = np.array([np.sin(between), np.cos(between), 0.0])
    return [
        length,
        Radius("tip of the nose", (end - small, 0, half), Z, X, small, view=view),
        Radius("flank of the nose", (0, wide / 2 - large, half), Z, way, large, count=2, view=view),
    ]


def _holes(ears: EarPair, edge_break: float) -> tuple[tuple[Hole, ...], tuple[ThreadLines, ...]]:
    half, gap = float(ears.height) / 2.0, float(ears.throat.width) / 2.0
    pin, hole = ears.pin, ears.pin.hole
    top = (0.0, 0.0, half)
    bore = float(pin.bore)
    both = 2.0 * half
    if isinstance(hole, TappedHole):
        thread = hole.thread
        minor, major = float(thread.minor_internal), float(thread.major)
        free = pin.bore_limits()
        clear = Hole(
            "pin hole", top, -Z, bore, through=half - gap, fit=free.tolerance_class, limits=free.sizes,
            callout="this ear only",
        )  # fmt: skip
        tapped = Hole(
            "tapped ear", (0.0, 0.0, -gap), -Z, minor, through=half - gap, thread=thread,
            countersink=major + 2.0 * edge_break, callout="far ear only",
        )  # fmt: skip
        lines = ThreadLines((0, 0, -half), (0, 0, -gap), major, minor, internal=True)
        return (clear, tapped), (lines,)
    of = pin.bore_limits()
    bounds = of.sizes
    if isinstance(hole, ReamedHole):
        one = Hole(
            "pin hole", top, -Z, bore, through=both, fit=hole.fit, limits=bounds,
            callout=f"both ears in line, {FINE}",
        )  # fmt: skip
    elif isinstance(hole, BushedHole):
        one = Hole(
            "bush bore", top, -Z, bore, through=both, fit=hole.fit.split("/")[0], limits=bounds,
            callout=f"both ears in line, {FINE}\nfor bush, {hole.fit}",
        )  # fmt: skip
    else:
        assert isinstance(hole, ClearanceHole)
        one = Hole(
            "pin hole", top, -Z, bore, through=both, fit=of.tolerance_class, limits=bounds, callout="both ears in line"
        )  # fmt: skip
    return (one,), ()
