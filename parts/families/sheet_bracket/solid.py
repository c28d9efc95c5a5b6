"""A sheet bracket as a solid: base and stems as one flat, the bends, the flats beyond them, drilled."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from parts.families.sheet_bracket.blank import outline
from parts.families.sheet_bracket.leg import ROUND, Standing
from parts.families.sheet_bracket.shape import BracketShape
from parts.features.section.outlines import figure
from parts.features.sheet.plan import rounded

if TYPE_CHECKING:
    import cadquery as cq


def bracket_solid(part: BracketShape) -> cq.Workplane:
    """The bracket in the axes of the part."""
    import cadquery as cq

    from parts.shapes.profile import prism
    from parts.shapes.workplane import Workplane

    t = float(part.thickness)
    lengths = {
        name: one.leg.bends[0].flat if one.leg.bends else one.leg.reach + one.leg.end
        for name, one in part.stands.items()
    }
    made = prism(outline(part, lengths, square=True), 0.0, t)
    for one in part.stands.values():
        for piece in _bent(one):
            made = made.union(piece)
    made = made.clean()
    drills = [
        (np.array([x, y, t / 2.0]), np.array([0.0, 0.0, 1.0]), part.base.hole)
        for x, y in part.base.places()
    ]
    for one in part.stands.values():
        way = one.frame(one.leg.reach)[2]
        drills += [(one.way(one.leg.reach, off), way, one.leg.drilled) for off in one.leg.offsets]
    for at, way, d in drills:
        foot = cq.Vector(*map(float, at - 2.0 * t * way))
        tool = cq.Solid.makeCylinder(float(d) / 2.0, 4.0 * t, foot, cq.Vector(*map(float, way)))
        made = made.cut(Workplane(obj=tool))
    return made


def _bent(one: Standing) -> list[cq.Workplane]:
    """The bends of a leg and the flats beyond each, in the axes of the part."""
    import cadquery as cq

    from parts.shapes.profile import prism
    from parts.shapes.workplane import Workplane

    leg, t, half = one.leg, float(one.thickness), float(one.wide) / 2.0
    if not leg.bends:
        return []
    bends, tip, found = one.strip.bends(), leg.reach + leg.end, []
    for i, (low, high) in enumerate(bends):
        q = np.tan(float(one.strip.turns[i].angle) / 4.0)
        found.append(_across(one, low, high, q, half))
        if i + 1 < len(bends):
            found.append(_across(one, high, bends[i + 1][0], 0.0, half))
    place, angle = one.strip.way(one.strip.last)
    long, r = float(tip - one.strip.last), float(leg.corner)
    flat = prism(
        rounded([(0.0, -half, 0.0), (long, -half, r), (long, half, r), (0.0, half, 0.0)]),
        -t / 2.0,
        t / 2.0,
    )
    c, s = np.cos(float(angle)), np.sin(float(angle))
    plane = cq.Plane((float(place[0]), 0.0, float(place[1])), (c, 0.0, s), (-s, 0.0, c))
    found.append(Workplane(obj=flat.val().moved(cq.Location(plane))))
    turn = 90.0 * ROUND.index(one.name)
    shift = (float(one.edge), float(one.across), t / 2.0)
    return [piece.translate(shift).rotate((0, 0, 0), (0, 0, 1), turn) for piece in found]


def _across(one: Standing, low: Any, high: Any, q: float, half: float) -> cq.Workplane:
    """A stretch of the strip: an arc of bulge q or a flat, as wide as the leg."""
    from parts.shapes.profile import prism

    rows: list[tuple[float, float]] = []
    for s, sides in ((low, (-1.0, 1.0)), (high, (1.0, -1.0))):
        place, angle = one.strip.way(s)
        across = np.array([-np.sin(float(angle)), np.cos(float(angle))])
        if s is low:
            lower, upper = (place + side * one.thickness / 2.0 * across for side in sides)
        else:
            far_upper, far_lower = (place + side * one.thickness / 2.0 * across for side in sides)
    # A prism along y takes z and x, so that the loop runs the other way round.
    rows = [(float(p[1]), float(p[0])) for p in (upper, far_upper, far_lower, lower)]
    return prism(figure(rows, [-q, 0.0, q, 0.0] if q else None), -half, half, "y")
