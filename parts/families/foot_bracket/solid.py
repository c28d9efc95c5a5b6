"""The solid of a plate: its figure with broken edges, what stands on it, and what is bored."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from parts.families.foot_bracket.fixture import Fixture
from parts.families.foot_bracket.outline import Figure

if TYPE_CHECKING:
    import cadquery as cq


def bracket(
    figure: Figure,
    fixtures: Sequence[Fixture],
    thickness: float,
    low: float,
    high: float,
    edge_break: float,
) -> cq.Workplane:
    """Build a plate.

    Args:
        figure: outline and windows.
        fixtures: its points.
        thickness: of the plate [mm].
        low: lowest face of all that stands on it [mm].
        high: highest face [mm].
        edge_break: chamfer on outside edges, windows and holes [mm].

    Returns:
        One solid.
    """
    import cadquery as cq

    from parts.shapes.profile import prism

    plate = prism(figure.as_outline(), 0.0, thickness)
    if edge_break > 0.0:
        plate = plate.faces("|Z").edges().chamfer(edge_break)
    standing = [solid.val() for one in fixtures for solid in one.standing(thickness, edge_break)]
    tools = [tool.val() for one in fixtures for tool in one.tools(low, high, edge_break)]
    shape = plate.val()
    if standing:
        shape = shape.fuse(*standing)
    if tools:
        shape = shape.cut(*tools)
    solids = shape.clean().Solids()
    return cq.Workplane(obj=solids[0] if len(solids) == 1 else cq.Compound.makeCompound(solids))
