"""The hole chart: where each hole lies from the datum of a mill's readout, and the operations in order.

A set-up is one direction to drill from. In each, all holes are spotted first, then drilled from the smallest
drill up, bored or reamed, counterbored, countersunk and tapped, so that each tool goes in once.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from string import ascii_uppercase

import numpy as np

from parts.core.cautions import IN_SHORT
from parts.core.drawing import Drawn, Hole
from parts.inputs.units import MM_PER_INCH
from parts.making.bench.figures import Figures
from parts.making.bench.frames import Frame, along, beside, frame
from parts.standards.threads.drills import KINDS, Drill, drills

SIDES = ("front", "top", "right", "left", "bottom", "back")
EXACT = 0.03
"""How far a stock drill may be from a drilled hole's size [mm]; a twist drill cuts over by more."""
ORDER = ("spot", "drill", "counterbore", "bore", "ream", "countersink", "tap")
BY_DRILL = 13.0
"""Larger holes are bored to size after the drill [mm]: the usual chuck (common practice, no source)."""

FLAT = 0.75
"""Holes shallower than this share of their diameter are flat at the bottom [-]: seats and spotfaces."""
LEAST_REAMED = 0.5
"""Most that a reamer takes off the diameter after the drill [mm]; common practice, no source."""
REAMERS = (0.5, 25.4 / 64.0)
"""Steps in diameter of stock reamers [mm]; they are ground for holes H7 (common practice, no source)."""


@dataclass(frozen=True)
class Operation:
    """One pass of one tool: what it does, its tool, its diameter and depth [mm] (None: through what `out` says)."""

    kind: str
    tool: str
    diameter: float
    depth: float | None
    out: str = "through"


@dataclass(frozen=True)
class Spot:
    """A hole in a set-up: its label, where it lies from the datum [mm], and its operations in order."""

    label: str
    hole: Hole
    x: float
    y: float
    z: float
    operations: tuple[Operation, ...]


@dataclass(frozen=True)
class SetUp:
    """All holes drilled from one side."""

    side: str
    frame: Frame
    spots: tuple[Spot, ...]

    def steps(self) -> list[tuple[Operation, tuple[str, ...]]]:
        """Each tool once, in order, with the labels of the holes it goes into."""
        found: dict[Operation, list[str]] = {}
        for spot in self.spots:
            for one in spot.operations:
                found.setdefault(one, []).append(spot.label)
        ranked = sorted(
            found, key=lambda o: (ORDER.index(o.kind), round(o.diameter, 6), o.depth or 0.0)
        )
        return [(one, tuple(found[one])) for one in ranked]


def hole_chart(drawn: Drawn, units: str) -> list[SetUp]:
    """Lay out the holes of a sheet by the side that they are drilled from.

    Args:
        drawn: the sheet, with its datum.
        units: "mm", "in" or "both", which decides the drills named.

    Returns:
        The set-ups, those of the front first, those aslant to every side last.
    """
    if drawn.datum is None:
        return []
    front = frame(drawn.right, drawn.up)
    looked = [(side, beside(front, side)) for side in SIDES]
    for hole in drawn.marks.holes:
        if not any(_from(view, hole) for _, view in looked):
            looked.append(along(front, hole.axis))
    found = []
    for letter, (side, view) in zip(ascii_uppercase, looked, strict=False):
        here = [hole for hole in drawn.marks.holes if _from(view, hole)]
        origin = np.asarray(drawn.datum.place, float)
        spots = []
        for hole in _in_order(here, view):
            x, y = view.flat(np.asarray(hole.place, float) - origin)
            z = float((np.asarray(hole.place, float) - origin) @ view.toward)
            label = f"{letter}{len(spots) + 1}"
            spots.append(
                Spot(label, hole, _zero(x), _zero(y), _zero(z), tuple(operations(hole, units)))
            )
        if spots:
            found.append(SetUp(side, view, tuple(spots)))
    return found


def _from(view: Frame, hole: Hole) -> bool:
    """True where a hole is drilled along the line of sight."""
    return float(np.dot(hole.axis, view.toward)) < -1.0 + 1e-9


def _in_order(holes: Sequence[Hole], view: Frame) -> list[Hole]:
    """From the left, then from below: the table moves one way."""
    return sorted(holes, key=lambda h: tuple(np.round(view.flat(h.place), 4)))


def _zero(value: float) -> float:
    return float(np.round(value, 6)) + 0.0


def operations(hole: Hole, units: str) -> Iterator[Operation]:
    """What a hole needs, in order.

    Args:
        hole: the hole.
        units: decides whether metric or inch drills are named.

    Yields:
        The operations.
    """
    depth, out = hole.depth, "one wall" if hole.one_wall else "through"
    yield Operation("spot", "centre drill", 0.0, None)
    if hole.thread is not None:
        stock = hole.thread.tap_drill().taken
        yield Operation("drill", f"tap drill {stock.name}", stock.diameter, depth)
    elif hole.fit and _flat(hole):
        yield Operation(
            "counterbore", "end mill or boring head, flat", _under(hole.diameter, units)[0], depth
        )
        yield Operation("bore", _bounds(hole), hole.diameter, depth)
    elif hole.fit:
        under, name = _under(hole.diameter, units)
        yield Operation("drill", name, under, depth)
        yield Operation("ream" if _reamed(hole) else "bore", _bounds(hole), hole.diameter, depth)
    else:
        best = _stock_drill(hole.diameter, units)
        if _flat(hole):
            yield Operation("counterbore", "end mill or counterbore, flat", hole.diameter, depth)
        elif best is not None and hole.diameter <= BY_DRILL:
            yield Operation("drill", best.name, best.diameter, depth, out)
        else:
            under, name = _under(hole.diameter, units)
            yield Operation("drill", name, under, depth, out)
            yield Operation("bore", "boring head or cutter, to size", hole.diameter, depth)
    if hole.counterbore is not None:
        yield Operation("counterbore", "counterbore or end mill", *hole.counterbore)
    if hole.countersink > hole.diameter:
        yield Operation("countersink", "90° countersink, to diameter", hole.countersink, None)
    if hole.thread is not None:
        yield Operation("tap", hole.thread.designation, float(hole.thread.major), hole.tapped)


def _bounds(hole: Hole) -> str:
    """The class of a hole and the sizes that it allows."""
    if hole.limits is None:
        return hole.fit
    return f"{hole.fit}, {hole.limits[0]:.3f} to {hole.limits[1]:.3f} mm"


def _reamed(hole: Hole) -> bool:
    """True where a stock reamer makes a hole: class H, half millimetres or 64ths, through (common practice)."""
    stock = any(abs(hole.diameter / step - round(hole.diameter / step)) < 1e-4 for step in REAMERS)
    near = hole.diameter - _under(hole.diameter, "both")[0] <= LEAST_REAMED
    return (
        stock
        and near
        and hole.fit[0] == "H"
        and hole.depth is None
        and hole.diameter <= BY_DRILL * 2.0
    )


def _stock_drill(diameter: float, units: str) -> Drill | None:
    """The drill that makes a hole, of the kinds named first and else of any, as 11/32 for 8.731 mm."""
    for kinds in (_kinds(units), KINDS):
        exact = [d for d in drills(kinds) if abs(d.diameter - diameter) <= EXACT]
        if exact:
            return min(exact, key=lambda d: abs(d.diameter - diameter))
    return None


def _flat(hole: Hole) -> bool:
    """True of a spotface or a seat, so shallow that the point of a drill would be most of it."""
    return hole.depth is not None and hole.depth < FLAT * hole.diameter


def _kinds(units: str) -> tuple[str, ...]:
    return {"mm": ("metric",), "in": ("fractional", "number", "letter")}.get(units, KINDS)


def _under(diameter: float, units: str) -> tuple[float, str]:
    """The largest stock drill that leaves stock for a reamer or a boring tool (common practice, no source)."""
    leave = 0.1 if diameter < 5.0 else 0.2 if diameter < 13.0 else 0.4 if diameter < 25.0 else 1.0
    fitting = [d for d in drills(_kinds(units)) if d.diameter <= min(diameter - leave, 25.0)]
    best = max(fitting, key=lambda d: d.diameter)
    return best.diameter, best.name


def csv_bytes(setups: Sequence[SetUp], drawn: Drawn) -> bytes:
    """The chart as a table for a spreadsheet: one row an operation, in order, X and Y in mm and inches."""
    assert drawn.datum is not None
    target = io.StringIO()
    rows = csv.writer(target, lineterminator="\n")
    rows.writerow(
        ["from", "datum", "step", "operation", "tool", "diameter_mm", "depth_mm", "hole",
         "x_mm", "y_mm", "mouth_z_mm", "x_in", "y_in"]
    )  # fmt: skip
    for setup in setups:
        spots = {spot.label: spot for spot in setup.spots}
        for step, (one, labels) in enumerate(setup.steps(), 1):
            for label in labels:
                spot = spots[label]
                rows.writerow(
                    [
                        setup.side, drawn.datum.words, step, one.kind, one.tool,
                        f"{one.diameter:.3f}" if one.diameter else "",
                        one.out if one.depth is None and one.kind not in ("spot", "countersink")
                        else "" if one.depth is None else f"{one.depth:.2f}",
                        label, f"{spot.x:.3f}", f"{spot.y:.3f}", f"{spot.z:.3f}",
                        f"{spot.x / MM_PER_INCH:.4f}", f"{spot.y / MM_PER_INCH:.4f}",
                    ]
                )  # fmt: skip
    rows.writerow([IN_SHORT])
    return target.getvalue().encode("utf-8")


def depth_words(one: Operation, figures: Figures) -> str:
    """A depth as the chart shows it."""
    if one.kind in ("spot", "countersink"):
        return ""
    return one.out if one.depth is None else figures.length(one.depth)
