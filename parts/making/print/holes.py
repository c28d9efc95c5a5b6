"""Holes of a print: enlarged for the printer, tapped holes as wished, roofs where they lie level."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.drawing import Hole
from parts.making.print.settings import Settings
from parts.standards.designation import UnknownDesignation
from parts.standards.materials.printing import insert_hole
from parts.standards.threads.threads import Thread

if TYPE_CHECKING:
    import cadquery as cq

LEVEL = np.sin(np.radians(30.0))
"""A hole whose axis rises by less than this from level gets a roof."""
ROOF_FROM = 4.0
"""Smaller holes bridge by themselves [mm]; common practice, no source."""
ROOF = 1.15
"""Height of the roof's flat top over the axis, in radii: sides at 45 degrees leave half a radius to bridge."""
THIN = 1e-3


@dataclass(frozen=True)
class PrintedHole:
    """A hole as it is printed: what it is in the part, its diameters there and here [mm], and why."""

    hole: Hole
    diameter: float
    words: str
    roof: bool


def printed_hole(hole: Hole, printed: Settings) -> PrintedHole:
    """What a hole is printed as.

    Args:
        hole: the hole as it lies on the printer.
        printed: the settings.

    Returns:
        Its diameter before shrinkage, and whether it gets a roof.
    """
    base, words = float(hole.diameter), "to size"
    if hole.thread is not None:
        base, words = _tapped(hole.thread, float(hole.diameter), printed.tapped)
    diameter = base + printed.hole_allowance
    level = abs(float(np.asarray(hole.axis, float)[2])) < LEVEL
    return PrintedHole(
        hole, diameter, words, bool(printed.teardrop and level and diameter > ROOF_FROM)
    )


def _tapped(thread: Thread, minor: float, wish: str) -> tuple[float, str]:
    if wish == "pilot":
        return minor, f"pilot, to tap {thread.basic} by hand"
    if wish == "insert":
        size = insert_hole(thread.size)
        if size is not None:
            return size, f"for a heat-set insert {thread.basic}"
    note = f"clears {thread.basic}" + (", no insert in the table" if wish == "insert" else "")
    try:
        return float(thread.clearance_hole("normal").diameter), note
    except UnknownDesignation:
        # The standards stop at a size; a tenth over the bolt is what they come to there.
        return 1.1 * float(thread.major), f"{note} by a tenth"


def tools(holes: Sequence[PrintedHole]) -> Iterator[cq.Shape]:
    """What is cut away for every hole, in the printer's axes."""
    for one in holes:
        hole = one.hole
        deep = float(hole.through if hole.depth is None else hole.depth)
        grown = one.diameter - float(hole.diameter)
        yield _bore(hole, one.diameter, deep, one.roof)
        if hole.counterbore is not None:
            wide, down = hole.counterbore
            yield _bore(hole, float(wide) + max(grown, 0.0), float(down), one.roof)


def _bore(hole: Hole, diameter: float, deep: float, roof: bool) -> Any:
    import cadquery as cq

    place, axis = cq.Vector(*map(float, hole.place)), cq.Vector(*map(float, hole.axis))
    radius = diameter / 2.0
    tool = cq.Solid.makeCylinder(radius, deep, place, axis)
    if not roof:
        return tool
    up = cq.Vector(0.0, 0.0, 1.0)
    up = (up - axis * axis.dot(up)).normalized()
    side = radius / np.sqrt(2.0)
    top = radius * ROOF
    half = np.sqrt(2.0) * radius - top
    plane = cq.Plane(place, axis.cross(up) * -1.0, axis)
    corners = [(-side, side), (side, side), (half, top), (-half, top)]
    wire = cq.Wire.makePolygon([plane.toWorldCoords((x, y)) for x, y in corners], close=True)
    wedge = cq.Solid.extrudeLinear(wire, [], axis * deep)
    return tool.fuse(wedge)


def enlarged(solid: Any, holes: Sequence[PrintedHole]) -> Any:
    """The solid with every hole that grows cut again; one that shrinks stays as it is."""
    grow = [one for one in holes if one.diameter > float(one.hole.diameter) + THIN or one.roof]
    return solid.cut(*tools(grow)) if grow else solid
