"""The steps that make a hole, in order, and the rules that a tool sets for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from parts.core.drawing import Hole
from parts.core.rules import Rule, at_least, at_most
from parts.making.process.step import To
from parts.making.process.tools import SAME, Drawer
from parts.standards.threads.drills import Drill

POINT = 0.5 / np.tan(np.radians(59.0))
"""Height of a twist drill's point of 118 degrees, in diameters [-]."""
EXACT = 0.03
"""How far a drill may be from a hole's size [mm]; a twist drill cuts over by more."""
TAPPED_OFF = 0.12
"""How far a drill may be from a tap drill's size [mm]: the thread's share stays between 65 and 85 per cent."""
CHUCK = 13.0
"""Larger holes are bored to size after the drill [mm]: the usual chuck (common practice, no source)."""
LARGEST = 25.0
"""Largest drill that is taken before a boring head [mm]; common practice, no source."""
FLAT = 0.75
"""Holes shallower than this share of their diameter are flat at the bottom [-]: seats and spotfaces."""
BREAK_THROUGH = 1.0
"""How far past the far side the full diameter of a drill runs [mm]; common practice, no source."""
REAMING = ((5.0, 0.1, 0.2), (20.0, 0.15, 0.4), (32.0, 0.2, 0.5), (np.inf, 0.25, 0.6))
"""Up to a diameter, the least and the most that a reamer is left to take off it [mm]; common practice, no source."""
BORED = 0.3
"""Least that a boring tool is left on the diameter [mm]; common practice, no source."""
COLD = "ONLY WHEN IT IS WELDED AND COLD"
BEFORE, COUNTERBORE = "for the counterbore", "counterbore"
SKIN = 1.0
"""Metal that must be left before a drill's point where it ends in metal [mm]; common practice, no source."""


@dataclass(frozen=True)
class Pass:
    """One tool in one hole: what it does, its name, its diameter and its depth from the mouth [mm] (None: through), and
    what the depth is measured to."""

    kind: str
    tool: str
    diameter: float
    depth: float | None
    to: To
    note: str = ""


def passes(hole: Hole, drawer: Drawer, edge_break: float = 0.0) -> Iterator[Pass]:
    """What a hole needs, in order.

    Args:
        hole: the hole.
        drawer: the tools at hand.
        edge_break: chamfer that the drawing asks of the mouth [mm].

    Yields:
        The passes; where no tool of the drawer makes it, those of tools on sale: `tool_rules` says so.
    """
    if hole.left <= 0.0:
        yield from _passes(hole, drawer, edge_break)
        return
    size = float(hole.diameter)
    rough = replace(hole, diameter=size - hole.left, fit="", limits=None)
    yield from _passes(rough, drawer, edge_break)
    end: To = "floor" if is_flat(hole) else "through"
    yield Pass("bore", f"boring head, {bounds(hole)}", size, hole.depth, end, COLD)


def _passes(hole: Hole, drawer: Drawer, edge_break: float) -> Iterator[Pass]:
    size, depth = float(hole.diameter), hole.depth
    flat = is_flat(hole)
    out: To = "full diameter" if depth is not None else "through"
    if not (flat and hole.depth is not None and hole.depth <= 0.5):
        yield Pass("spot", "spot drill 90°", 0.0, None, "")
    if hole.thread is not None:
        one = tap_drill(hole, drawer)
        yield Pass("drill", f"drill {one.name}", one.diameter, depth, out)
    elif flat:
        yield from _seat(hole, drawer)
    elif hole.fit and not drilled_class(hole):
        yield from _fitted(hole, drawer, out)
    else:
        exact = drawer.drill_of(size, EXACT)
        least = hole.limits[0] if hole.limits else 0.0
        if (
            exact is not None
            and exact.diameter >= least - SAME
            and exact.diameter <= LARGEST
            and (size <= CHUCK or exact in drawer.drills)
        ):
            if size > CHUCK:
                pilot = drawer.drill_under(0.5 * size)
                if pilot is not None:
                    yield Pass("drill", f"drill {pilot.name}", pilot.diameter, depth, out, "pilot")
            yield Pass("drill", f"drill {exact.name}", exact.diameter, depth, out)
        else:
            yield from _drilled(size - BORED, drawer, depth, out)
            yield Pass("bore", "boring head", size, depth, out)
    if hole.counterbore is not None:
        yield from _counterbored(*map(float, hole.counterbore), drawer)
    if hole.countersink > hole.diameter:
        yield Pass("countersink", "90° countersink", hole.countersink, None, "")
    elif edge_break > 0.0:
        yield Pass(
            "countersink", "90° countersink", size + 2.0 * edge_break, None, "", "break the edge"
        )
    if hole.thread is not None:
        through = hole.depth is None
        tap = "bottoming tap" if not through else "tap"
        yield Pass(
            "tap", f"{tap} {hole.thread.called('internal')}", float(hole.thread.major), hole.tapped,
            "through" if hole.tapped is None else "thread",
        )  # fmt: skip


def _counterbored(wide: float, down: float, drawer: Drawer) -> Iterator[Pass]:
    """A counterbore by its cutter; one deeper than it is wide by a drill that stops short of its floor, then bored."""
    seat = "spotface" if down <= 1.0 else COUNTERBORE
    last = drawer.drill_under(min(wide - BORED, LARGEST))
    if down <= wide or last is None:
        yield Pass("counterbore", f"{seat} cutter {wide:g} mm, flat", wide, down, "floor", seat)
        return
    short = down - POINT * last.diameter
    yield Pass("drill", f"drill {last.name}", last.diameter, short, "full diameter", BEFORE)
    yield Pass("bore", "boring bar, flat at its end", wide, down, "floor", seat)


def _drilled(most: float, drawer: Drawer, depth: float | None, out: To) -> Iterator[Pass]:
    """Drills up to a size, the smaller first where the last is large."""
    last = drawer.drill_under(min(most, LARGEST))
    if last is None:
        return
    if last.diameter > CHUCK:
        pilot = drawer.drill_under(0.5 * last.diameter)
        if pilot is not None:
            yield Pass("drill", f"drill {pilot.name}", pilot.diameter, depth, out, "pilot")
    yield Pass("drill", f"drill {last.name}", last.diameter, depth, out)


def _seat(hole: Hole, drawer: Drawer) -> Iterator[Pass]:
    """A hole with a flat floor: a drill that stops short of it by its point, a flat cutter, the boring head."""
    size, deep = float(hole.diameter), float(hole.depth or 0.0)
    cutter = drawer.mill_under(size - (BORED if hole.fit else 0.0), deep)
    if hole.fit and cutter is not None and not drawer.reaches(cutter, deep):
        last = drawer.drill_under(min(size - BORED, LARGEST))
        if last is not None:
            short = deep - POINT * last.diameter
            yield Pass(
                "drill", f"drill {last.name}", last.diameter, short, "full diameter", "pilot"
            )
            yield Pass("bore", f"boring bar, flat at its end, {bounds(hole)}", size, deep, "floor")
            return
    name = f"end mill {cutter.name}, flat" if cutter else "end mill, flat"
    across = cutter.diameter if cutter else size
    words = (
        ""
        if abs(across - size) < 1e-6
        else f"wind out to Ø{size - (BORED if hole.fit else 0.0):.2f}"
    )
    yield Pass("counterbore", name, across, deep, "floor", words)
    if hole.fit:
        yield Pass("bore", f"boring head, {bounds(hole)}", size, deep, "floor")


def _fitted(hole: Hole, drawer: Drawer, out: To) -> Iterator[Pass]:
    size, depth = float(hole.diameter), hole.depth
    least, most = reaming(size)
    if reamed(hole, drawer):
        under = drawer.drill_under(size - least)
        if under is not None and under.diameter >= size - most - 1e-9 and under.diameter <= LARGEST:
            yield from _drilled(size - least, drawer, depth, out)
        else:
            yield from _drilled(size - least - BORED, drawer, depth, out)
            yield Pass(
                "bore", "boring head, before the reamer", size - (least + most) / 2, depth, out
            )
        yield Pass("ream", f"reamer Ø{size:.6g} {bounds(hole)}", size, depth, out)
        return
    yield from _drilled(size - BORED, drawer, depth, out)
    yield Pass("bore", f"boring head, {bounds(hole)}", size, depth, out)


def reaming(size: float) -> tuple[float, float]:
    """Least and most that a reamer takes off a diameter [mm]."""
    return next((least, most) for up_to, least, most in REAMING if size <= up_to)


def tap_drill(hole: Hole, drawer: Drawer) -> Drill:
    """The drill for a thread: that of its table, or the nearest in the drawer that serves."""
    assert hole.thread is not None
    of: Drill = hole.thread.tap_drill().taken
    if not drawer.stated:
        return of
    return drawer.drill_of(of.diameter, TAPPED_OFF) or of


def bounds(hole: Hole) -> str:
    """The class of a hole and the sizes that it allows."""
    if hole.limits is None:
        return hole.fit
    return f"{hole.fit}, {hole.limits[0]:.3f} to {hole.limits[1]:.3f} mm"


def reamed(hole: Hole, drawer: Drawer) -> bool:
    """True where a reamer makes a hole: class H, a size that there is, through (common practice)."""
    through = hole.depth is None and hole.diameter <= 2.0 * CHUCK
    return through and hole.fit[:1] == "H" and drawer.reams(float(hole.diameter))


def is_flat(hole: Hole) -> bool:
    """True of a hole whose floor must be flat: a seat with a fit, a spotface, a wide shallow step."""
    if hole.depth is None or hole.thread is not None:
        return False
    fitted = bool(hole.fit) and not drilled_class(hole)
    return fitted or float(hole.depth) < FLAT * float(hole.diameter)


def drilled_class(hole: Hole) -> bool:
    """True of a tolerance that a drill keeps, from grade 11 on, as that of a spring pin's hole (common practice)."""
    grade = hole.fit.lstrip("ABCDEFGHJKMNPRSTUVXYZabcdefghjkmnprstuvxyz")
    return grade.isdigit() and int(grade) >= 11 and hole.left <= 0.0


def tool_rules(hole: Hole, drawer: Drawer, beyond: float) -> Iterator[Rule]:
    """Rules that the tools of a hole must meet; `field` names the hole.

    Args:
        hole: the hole.
        drawer: the tools at hand.
        beyond: what a tap needs beyond a blind thread, in pitches.
    """
    size = float(hole.diameter)
    at = f"hole {hole.name}"
    if hole.thread is not None:
        if hole.depth is not None and hole.tapped is not None:
            yield at_least(
                "process.tap", at, float(hole.depth - hole.tapped), beyond * float(hole.thread.pitch),
                f"the tap strikes the bottom of the hole before its thread is full ({beyond:g} pitches)",
                "of a tapped end state that many pitches as its `beyond_thread`, without a relief; elsewhere drill "
                "deeper or let the thread end sooner; or state a tap with a shorter lead in milling.beyond_thread",
            )  # fmt: skip
        of: Drill = hole.thread.tap_drill().taken
        one = tap_drill(hole, drawer)
        yield at_most(
            "process.tap_drill", at, abs(one.diameter - of.diameter) if one in drawer.drills or not drawer.stated
            else np.inf, TAPPED_OFF, f"the drawer holds no tap drill {of.name}", f"add {of.name} to milling.drills",
        )  # fmt: skip
        if not drawer.taps_it(hole.thread):
            name = hole.thread.designation
            yield at_least("process.tap_size", at, 0.0, float(hole.thread.major),
                           f"the drawer holds no tap {name}", f"add {name} to milling.taps")  # fmt: skip
        return
    steps = list(passes(hole, drawer))
    last = [one for one in steps if one.kind in ("drill", "bore", "ream", "counterbore")
            and one.diameter <= size + EXACT]  # fmt: skip
    before = [one for one in last[:-1] if one.note != "pilot"]
    if last and last[-1].kind == "ream":
        least, most = reaming(size)
        left = size - before[-1].diameter if before else np.inf
        yield at_least("process.ream", at, left, least, "the reamer is left too little and rubs",
                       "state a smaller drill in milling.drills")  # fmt: skip
        yield at_most("process.ream", at, left, most, "the reamer is left too much and cuts oversize",
                      "state a larger drill in milling.drills")  # fmt: skip
    if is_flat(hole):
        cutter = drawer.mill_under(size)
        yield at_most(
            "process.flat", at, cutter.diameter if cutter else np.inf, size,
            "its floor is flat, and the drawer holds no end mill that goes into it",
            "state a smaller end mill in milling.end_mills",
        )  # fmt: skip
    elif not any(one.kind == "drill" for one in last):
        yield at_most("process.drill", at, np.inf, size, "the drawer holds no drill that goes into it",
                      "state a smaller drill in milling.drills")  # fmt: skip
