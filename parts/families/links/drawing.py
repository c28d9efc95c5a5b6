"""What a drawing says of the body of a link: bungs, tube, bar, and the body of a turnbuckle.

Everything is stated in the axes of the body, x from its face for end a, and then put in place.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

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
from parts.features.press.fit import SPIGOT_CLASS
from parts.features.thread import threaded
from parts.standards.fits.iso286 import class_limits
from parts.standards.threads.threads import Thread

if TYPE_CHECKING:
    from parts.families.links.bar_body import BarBody
    from parts.families.links.tube_body import TubeBody
    from parts.families.links.turn_body import TurnBody

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
                     Linear("width of the relief", (depth, 0, 0), (end, 0, 0), X, end - depth)),
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
                "across flats", (x, -half, 0), (x, half, 0), Y, 2 * half, callout=words, view=end
            )
        )
    return found


def bung_drawn(body: TubeBody, i: int, link: Adjustment, start: float, edge_break: float) -> Drawn:
    """The sheet of one bung; `start` is the place of the body's face for end a on x [mm]."""
    bung, thread, outside = body.bungs[i], link.ends[i].thread, float(body.size[0])
    depth, long = float(link.mouths[i].depth), float(link.body)
    marks = _bung(bung, thread, depth, (outside, float(body.size[1])), edge_break)
    if bung.witness_hole is not None:
        top = _witness_top(bung, body.size)
        marks += wall_hole_marks(
            "witness hole", float(link.witness_at(i)), float(bung.witness_hole), top
        )
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
                "across flats", (0, -half, 0), (0, half, 0), Y, 2 * half, callout=words, view="left"
            ),
        ]
    tapped = tapped_marks(thread, depth, edge_break, behind=behind, through=through, long=length)
    if through and behind is not None and depth < length:
        bore = Diameter("bore behind the thread", (length, 0, 0), X, behind)
        at = (length, -behind / 2, 0)
        sizes.append(Callout("bore", at, "{0} behind the thread", (bore,), view="front"))
    return Marks(tuple(sizes), (), (), (CentreLine((0, 0, 0), (length, 0, 0)),)) + tapped


def tube_drawn(body: TubeBody, link: Adjustment, start: float) -> Drawn:
    """The sheet of the tube between the bungs."""
    outside, wall = (float(v) for v in body.size)
    low, high = (float(v) for v in body._ends(link))
    bore = outside - 2.0 * wall
    sizes: list[Dimension] = [
        Linear(
            "cut length", (low, outside / 2, 0), (high, outside / 2, 0), X, high - low, view="front"
        ),
        Diameter("outside of the tube", (low, 0, 0), X, outside, view="front"),
        Diameter("bore of the tube", (low, 0, 0), X, bore, view="left"),
    ]
    marks = Marks(tuple(sizes), (), (), (CentreLine((low, 0, 0), (high, 0, 0)),))
    if body.vent_hole is not None:
        at = float(body._vent_at(link)) - low
        marks += wall_hole_marks("vent hole", at, float(body.vent_hole), outside / 2).moved(
            (low, 0, 0)
        )
    for i, bung in enumerate(body.bungs):
        if bung.witness_hole is not None and bung.witness_in == "spigot":
            at, size = float(link.witness_at(i)), float(bung.witness_hole)
            if i == 0:
                holed = wall_hole_marks("witness hole", at - low, size, outside / 2).moved(
                    (low, 0, 0)
                )
            else:
                off = at - (float(link.body) - high)
                holed = wall_hole_marks("witness hole", off, size, outside / 2)
                holed = holed.moved((high, 0.0, 0.0), REVERSED)
            marks += holed
    gap = f"{float(body.weld.gap):g} mm"
    notes = (
        f"{body.tube.name} tube. Ends square and deburred; root gap {gap} at each bung.",
        f"Welded length over the faces of the bungs: {float(link.body):.2f} mm.",
    )
    return Drawn(
        right=X,
        up=Y,
        views=(View("front"), View("top"), View("left"))
        if marks.holes
        else (View("front"), View("left")),
        marks=(marks + Marks(notes=notes)).moved((start, 0.0, 0.0)),
        datum=Datum((start + low, 0.0, 0.0), "end of the tube at end a, on the axis"),
        piece="tube",
        title="tube",
    )


def bar_drawn(body: BarBody, link: Adjustment, start: float, edge_break: float) -> Drawn:
    """The sheet of a solid bar, tapped from both ends."""
    long = float(link.body)
    marks = Marks(
        (
            Linear("length", (0, 0, 0), (long, 0, 0), X, long, view="front"),
            *outside_sizes(body.outside(), 0.0),
        ),
        centres=(CentreLine((0, 0, 0), (long, 0, 0)),),
    )
    milled = body.milled()
    if milled is not None:
        marks += Marks(tuple(_milled(body, link, milled)))
    for i in (0, 1):
        thread, depth = link.ends[i].thread, float(link.mouths[i].depth)
        behind = float(thread.relief("internal").diameter) if body.relief else None
        marks += _end(i, thread, depth, edge_break, long, behind=behind, through=False)
        marks += _witness(i, body.witness_hole, link, float(body.outside().across) / 2.0, long)
    return _body_sheet(marks, start, "bar", "bar")


def _milled(body: BarBody, link: Adjustment, milled: Outside) -> list[Dimension]:
    centre = float(body._deep(link, 0) + link.body - body._deep(link, 1)) / 2.0
    return _middle_flats(float(milled.flats), float(body.flats_length), centre)


def _middle_flats(flats: float, length: float, centre: float) -> list[Dimension]:
    low, half = centre - length / 2.0, flats / 2.0
    return [
        Linear("face to the wrench flats", (0, half, 0), (low, half, 0), X, low, view="top"),
        Linear("length of the wrench flats", (low, half, 0), (low + length, half, 0), X, length, view="top"),
        Linear(
            "across the wrench flats", (centre, -half, 0), (centre, half, 0), Y, flats, callout="flats",
            view="front",
        ),
    ]  # fmt: skip


def turnbody_drawn(body: TurnBody, link: Adjustment, start: float, edge_break: float) -> Drawn:
    """The sheet of a turnbuckle's body."""
    long, outside = float(link.body), body.outside()
    threads = (link.ends[0].thread, link.ends[1].thread)
    bore = float(body.relief_bore(threads))
    depths = [float(mouth.depth) for mouth in link.mouths]
    middle = (depths[0] + long - depths[1]) / 2.0
    sizes: list[Dimension] = [
        Linear("length", (0, 0, 0), (long, 0, 0), X, long, view="front"),
        *outside_sizes(outside, 0.0),
    ]
    flats = body.middle()
    if flats is not None:
        sizes += _middle_flats(float(flats[0].flats), float(flats[1]), middle)
    at = depths[0] + 0.25 * (long - depths[0] - depths[1])
    words = "relief {0} between" if body.undercut(threads) else "{0} drilled through, behind"
    sizes.append(
        Callout(
            "relief", (at, -bore / 2, 0), f"{words} the threads",
            (Diameter("relief", (at, 0, 0), X, bore),), view="front",
        )
    )  # fmt: skip
    marks = Marks(tuple(sizes), centres=(CentreLine((0, 0, 0), (long, 0, 0)),))
    top = float(outside.across) / 2.0
    for i in (0, 1):
        behind = bore if bore > float(threads[i].minor_internal) + 1e-6 else None
        marks += _end(i, threads[i], depths[i], edge_break, long, behind=behind, through=True)
        marks += _witness(i, body.witness_hole, link, top, long)
    if body.tommy_bar is not None:
        bar = wall_hole_marks("hole for a tommy bar", middle, float(body.tommy_bar), top, both=True)
        marks += bar
    return _body_sheet(marks, start, "body", "body")


def _end(
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


def _witness(i: int, size: Any, link: Adjustment, top: float, long: float) -> Marks:
    if size is None:
        return Marks()
    marks = wall_hole_marks("witness hole", float(link.witness_at(i)), float(size), top)
    return marks if i == 0 else at_end_b(marks, long)


def _body_sheet(marks: Marks, start: float, piece: str, title: str) -> Drawn:
    return Drawn(
        right=X,
        up=Y,
        views=(SIDE, View("top"), View("left"), View("right")),
        marks=marks.moved((start, 0.0, 0.0)),
        datum=Datum((start, 0.0, 0.0), "face for end a, on the axis"),
        piece=piece,
        title=title,
    )
