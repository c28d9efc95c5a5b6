"""What drawings of the bodies of links share: tapped faces, cross holes, outsides, bungs, and the sheet.

Everything is stated in the axes of the body, x from its face for end a, and then put in place.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from parts.core.drawing import (
    Callout,
    CentreLine,
    Datum,
    Diameter,
    Dimension,
    Drawn,
    Hole,
    Linear,
    Marks,
    ThreadLines,
    View,
)
from parts.families.links.adjustment import Adjustment
from parts.families.links.bung import LEAD_SLOPE, Bung
from parts.families.links.stretches import Outside
from parts.features.press.fit import SPIGOT_CLASS, plug_note
from parts.features.thread import threaded
from parts.standards.fits.iso286 import class_limits
from parts.standards.threads.threads import Thread

X, Y, Z = np.eye(3)
REVERSED = np.array([[-1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, -1.0]])
"""Axes of what is made like end a and stands at end b, its +y kept."""
SIDE = View("front", cut=(0.0, 0.0, 0.0))


def tapped_marks(
    thread: Thread,
    depth: float,
    edge_break: float,
    *,
    behind: float | None,
    through: bool,
    long: float = 0.0,
) -> Marks:
    """A tapped hole in the face at x = 0, running to +x.

    Args:
        thread: the thread.
        depth: full thread [mm].
        edge_break: added to its countersink [mm].
        behind: diameter of the bore or groove behind the thread [mm]; None where there is none.
        through: the hole goes on; else it ends behind the thread.
        long: how far it goes on where nothing is wider behind the thread [mm].

    Returns:
        The marks.
    """
    minor, major = float(thread.minor_internal), float(thread.major)
    end = depth + float(threaded.behind_thread(thread, relief=behind is not None))
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


def at_end_b(marks: Marks, long: float) -> Marks:
    """Marks of the face at end a, put to the face at end b of a body of a length [mm]."""
    return marks.moved((long, 0.0, 0.0), REVERSED)


def seen_from(marks: Marks, side: str) -> Marks:
    """The same with its holes called out in another view."""
    return replace(marks, holes=tuple(replace(hole, view=side) for hole in marks.holes))


def wall_hole_marks(name: str, at: float, size: float, top: float, *, both: bool = False) -> Marks:
    """A cross hole from the surface at y = `top`, `at` from the face at x = 0, through one wall or both."""
    words = "both walls" if both else "one wall, into the bore"
    hole = Hole(
        name, (at, top, 0), -Y, size, through=top * (2.0 if both else 1.0),
        callout=f"{name}, {words}", view="top", one_wall=not both,
    )  # fmt: skip
    place = Linear(f"face to {name}", (0, 0, 0), (at, 0, 0), X, at, view="top")
    return Marks((place,), (hole,))


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
    marks = _bung(bung, thread, depth, (outside, float(tube[1])), edge_break)
    if bung.witness_hole is not None:
        top = _witness_top(bung, tube)
        marks += wall_hole_marks(
            "witness hole", float(link.witness_at(i)), float(bung.witness_hole), top
        )
    if i == 1:
        marks = at_end_b(marks, long)
    outside, wall = (float(v) for v in tube)
    marks += Marks(notes=(plug_note("", outside, wall, float(bung.plug(outside - 2 * wall))),))
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


def _witness_top(bung: Bung, tube: tuple[Any, Any]) -> float:
    """Where the surface of the bung lies over its witness hole [mm]."""
    outside, wall = tube
    held = bung.gripped(outside)
    if bung.witness_in == "wrench" and held is not None:
        return float(held.across) / 2.0
    if bung.witness_in == "spigot":
        return float(bung.plug(outside - 2.0 * wall)) / 2.0
    return float(bung.round(outside).diameter) / 2.0


def _bung(
    bung: Bung, thread: Thread, depth: float, tube: tuple[float, float], edge_break: float
) -> Marks:
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
    tapped = tapped_marks(thread, depth, edge_break, behind=behind, through=through, long=length)
    if through and behind is not None and depth < length:
        bore = Diameter("bore behind the thread", (length, 0, 0), X, behind)
        at = (length, -behind / 2, 0)
        sizes.append(Callout("bore", at, "{0} behind the thread", (bore,), view="front"))
    return Marks(tuple(sizes), (), (), (CentreLine((0, 0, 0), (length, 0, 0)),)) + tapped


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
) -> Marks:
    marks = tapped_marks(thread, depth, edge_break, behind=behind, through=through)
    return marks if i == 0 else seen_from(at_end_b(marks, long), "right")


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
