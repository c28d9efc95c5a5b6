"""What a drawing says of a bung: tapped face, spigot, weld prep, wrench flats, and a hole through its wall.

Everything is stated from its outer face at x = 0, into the tube.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.core.drawing import (
    Callout,
    CentreLine,
    Diameter,
    Dimension,
    Hole,
    Linear,
    Marks,
    ThreadLines,
)
from parts.features.bung.bung import LEAD_SLOPE, BungShape
from parts.features.press.fit import SPIGOT_CLASS, plug_note
from parts.features.thread import threaded
from parts.standards.fits.iso286 import class_limits
from parts.standards.threads.threads import Thread

X, Y, _ = np.eye(3)


def tapped_marks(
    thread: Thread,
    depth: float,
    edge_break: float,
    *,
    behind: float | None,
    through: bool,
    long: float = 0.0,
    beyond: float = threaded.BEYOND,
) -> Marks:
    """A tapped hole in the face at x = 0, running to +x.

    Args:
        thread: the thread.
        depth: full thread [mm].
        edge_break: added to its countersink [mm].
        behind: diameter of the bore or groove behind the thread [mm]; None where there is none.
        through: the hole goes on; else it ends behind the thread.
        long: how far it goes on where nothing is wider behind the thread [mm].
        beyond: how much further it is drilled there, in pitches [-].

    Returns:
        The marks.
    """
    minor, major = float(thread.minor_internal), float(thread.major)
    end = depth + float(threaded.behind_thread(thread, relief=behind is not None, beyond=beyond))
    hole = Hole(
        f"thread {thread.designation}", (0, 0, 0), X, minor, depth=None if through else end,
        through=depth if behind is not None else max(depth, long),
        thread=thread, tapped=depth, countersink=major + 2.0 * edge_break, view="left",
    )  # fmt: skip
    sizes: list[Dimension] = []
    if behind is not None:
        sizes.append(
            Linear(
                f"depth of {thread.designation}", (0, 0, 0), (depth, 0, 0), X, depth, view="front"
            )
        )
        if not through:
            at = (depth + end) / 2.0
            sizes.append(
                Callout(
                    f"relief of {thread.designation}", (at, behind / 2.0, 0), "relief {0} × {1} wide",
                    (Diameter("relief", (at, 0, 0), X, behind),
                     Linear("width of the relief", (depth, 0, 0), (end, 0, 0), X, end - depth, reference=True)),
                    view="front",
                )
            )  # fmt: skip
    lines = ThreadLines((depth, 0, 0), (0, 0, 0), major, minor, internal=True)
    return Marks(tuple(sizes), (hole,), (lines,))


def wall_hole_marks(name: str, at: float, size: float, top: float, *, both: bool = False) -> Marks:
    """A cross hole from the surface at y = `top`, `at` from the face at x = 0, through one wall or both."""
    words = "both walls" if both else "one wall, into the bore"
    hole = Hole(
        name, (at, top, 0), -Y, size, through=top * (2.0 if both else 1.0),
        callout=f"{name}, {words}", view="top", one_wall=not both,
    )  # fmt: skip
    place = Linear(f"face to {name}", (0, 0, 0), (at, 0, 0), X, at, view="top")
    return Marks((place,), (hole,))


def _witness_top(bung: BungShape, tube: tuple[Any, Any]) -> float:
    """Where the surface of the bung lies over its witness hole [mm]."""
    outside, wall = tube
    held = bung.gripped(outside)
    if bung.witness_in == "wrench" and held is not None:
        return float(held.across) / 2.0
    if bung.witness_in == "spigot":
        return float(bung.plug(outside - 2.0 * wall)) / 2.0
    return float(bung.round(outside).diameter) / 2.0


def bung_marks(
    bung: BungShape,
    thread: Thread,
    depth: float,
    at: float,
    tube: tuple[float, float],
    edge_break: float,
) -> Marks:
    """All of a bung; `depth` is its full thread, `at` the middle of its witness hole, `tube` outside and wall [mm]."""
    outside, wall = tube
    shoulder, length, prep = float(bung.shoulder), float(bung.length), float(bung.prep(wall))
    wide, plug, lead = (
        float(bung.round(outside).diameter),
        float(bung.plug(outside - 2 * wall)),
        float(bung.lead_in),
    )
    through = bung.bore == "open"
    behind = float(bung.behind(thread)) if bung.relief else None
    free = class_limits(SPIGOT_CLASS, plug)
    sizes: list[Dimension] = [
        Linear("length of the shoulder", (0, 0, 0), (shoulder, plug / 2, 0), X, shoulder, view="front"),
        Linear("length", (0, 0, 0), (length, plug / 2, 0), X, length, view="front"),
        Diameter("shoulder", (shoulder - prep, 0, 0), X, wide, view="front"),
        Diameter(
            "spigot", (length - lead, 0, 0), X, plug, fit=free.tolerance_class, limits=free.sizes, view="front"
        ),
        Callout(
            "lead-in", (length - lead / 2, -(plug / 2 - lead / 2 * LEAD_SLOPE), 0), "lead-in {0} long, 20°",
            (Linear("lead-in", (length - lead, 0, 0), (length, 0, 0), X, lead),), view="front",
        ),
    ]  # fmt: skip
    if prep > 0.0:
        sizes.append(
            Callout(
                "weld prep", (shoulder - prep / 2, -(wide - prep) / 2, 0), "weld prep {0} × 45°",
                (Linear("weld prep", (shoulder - prep, 0, 0), (shoulder, 0, 0), X, prep),), view="front",
            )
        )  # fmt: skip
    held = bung.gripped(outside)
    if held is not None:
        grip, half = float(bung.grip), float(held.flats) / 2.0
        words = "hexagon" if held.kind == "hex" else "flats"
        sizes += [
            Linear("length of the flats", (0, 0, 0), (grip, half, 0), X, grip, view="top"),
            Linear(
                "across flats",
                (0, -half, 0),
                (0, half, 0),
                Y,
                2 * half,
                callout=words,
                view="left",
                sides=6 if held.kind == "hex" else 2,
            ),
        ]
    tapped = tapped_marks(
        thread,
        depth,
        edge_break,
        behind=behind,
        through=through,
        long=length,
        beyond=bung.beyond_thread,
    )
    if through and behind is not None and depth < length:
        bore = Diameter("bore behind the thread", (length, 0, 0), X, behind)
        edge = (length, -behind / 2, 0)
        sizes.append(Callout("bore", edge, "{0} behind the thread", (bore,), view="front"))
    marks = Marks(tuple(sizes), (), (), (CentreLine((0, 0, 0), (length, 0, 0)),)) + tapped
    if bung.witness_hole is not None:
        top = _witness_top(bung, tube)
        marks += wall_hole_marks("witness hole", at, float(bung.witness_hole), top)
    return marks + Marks(notes=(plug_note("", outside, wall, plug),))
