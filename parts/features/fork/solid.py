"""A fork as a solid, pin hole and all."""

from __future__ import annotations

from typing import TYPE_CHECKING

from parts.features.fork.ears import EarPair
from parts.features.pins.pin import TappedHole
from parts.features.section.outlines import figure
from parts.strength.section.outline import QUARTER

if TYPE_CHECKING:
    import cadquery as cq


def fork_solid(
    ears: EarPair, edge_break: float, back: float | None = None, *, open_back: bool = False
) -> cq.Workplane:
    """The fork as a solid, pin hole and all.

    Args:
        ears: the ears.
        edge_break: chamfer of its outside edges and of the bores [mm].
        back: where its flat back lies behind the pin [mm]; at the back of the body where left out.
        open_back: leave the edges of the back sharp, for what joins it there.

    Returns:
        The solid.
    """
    from parts.shapes.profile import prism

    half, gap = float(ears.height) / 2.0, float(ears.throat.width) / 2.0
    end = float(ears.back if back is None else back)
    body = prism(ears.nose_profile(end), -half, half)
    if edge_break > 0.0:
        body = _broken_outside(body, end, edge_break, open_back)
    body = body.cut(_throat_tool(ears, gap))
    if edge_break > 0.0:
        body = body.newObject(_throat_edges(body, gap)).chamfer(edge_break)
    return body.cut(_bores(ears, edge_break))


def _throat_tool(ears: EarPair, gap: float) -> cq.Workplane:
    from parts.shapes.profile import prism

    r, d, far, wide = ears.radius, ears.depth, ears.end + 5.0, ears.width
    # Coordinates are (z, x): the figure is seen along y.
    shape = figure(
        [(gap - r, -d), (gap, -d + r), (gap, far), (-gap, far), (-gap, -d + r), (-gap + r, -d)],
        [QUARTER, 0.0, 0.0, 0.0, QUARTER, 0.0],
    )
    return prism(shape, -wide, wide, "y")


def _bores(ears: EarPair, edge_break: float) -> cq.Workplane:
    from parts.shapes.profile import broken_hole

    half, gap, pin = ears.height / 2.0, ears.throat.width / 2.0, ears.pin
    upper = broken_hole(pin.bore, gap, half, edge_break)
    if not isinstance(pin.hole, TappedHole):
        return upper.union(broken_hole(pin.bore, -half, -gap, edge_break))
    thread = pin.hole.thread
    sunk = (thread.major - thread.minor_internal) / 2.0 + edge_break
    return upper.union(broken_hole(thread.minor_internal, -half, -gap, sunk))


def _broken_outside(
    body: cq.Workplane, back: float, edge_break: float, open_back: bool
) -> cq.Workplane:
    """Break the edges of both flat faces, and of the back; its corners along the pin where they stay open."""
    edges = body.faces("|Z").edges().vals()
    if open_back:
        edges = [edge for edge in edges if edge.Center().x > -back + 1e-6]
    else:
        edges += body.faces("<X").edges("|Z").vals()
    return body.newObject(edges).chamfer(edge_break)


def _throat_edges(body: cq.Workplane, gap: float) -> list[cq.Edge]:
    """The closed run of edges that the throat leaves: around both noses, along the sides and the floor."""
    found = []
    for edge in body.edges().vals():
        box = edge.BoundingBox()
        inside = box.zmax < gap + 1e-6 and box.zmin > -gap - 1e-6
        across = box.ymax - box.ymin > 1e-6 and box.xmax - box.xmin < 1e-6
        # Edges across the ears at the floor only part the flat floor from its smooth corner radii.
        if inside and not (across and box.xmax < 0.0):
            found.append(edge)
    return found
