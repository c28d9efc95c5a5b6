"""A flat plate as a solid: extruded, its edges broken, its notches and holes cut, its flared rims set in."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from parts.families.gusset.form import Form
from parts.families.gusset.rim import FlaredRim, Hole, PlainRim, blank_circles, ring
from parts.strength.section.outline import Outline

if TYPE_CHECKING:
    import cadquery as cq


def plate_solid(
    form: Form, holes: Sequence[Hole], rim: PlainRim | FlaredRim, bores: Sequence[Outline], thickness: float,
    edge_break: float,
) -> cq.Workplane:  # fmt: skip
    """The plate in the part's axes.

    Args:
        form: the plate.
        holes: its lightening holes.
        rim: their rims.
        bores: other round holes through it.
        thickness: of the plate [mm].
        edge_break: chamfer of its edges but those of notches and flared rims [mm].

    Returns:
        One solid.
    """
    from parts.shapes.profile import prism

    half = thickness / 2.0
    figure = form.body()
    flared = isinstance(rim, FlaredRim)
    for hole in bores if flared else [*bores, *(blank_circles([one]) for one in holes)]:
        assert hole is not None
        figure = figure.minus(hole)
    solid = prism(figure, -half, half)
    if edge_break > 0.0:
        solid = solid.faces("|Z").edges().chamfer(edge_break)
    for notch in form.notches():
        solid = solid.cut(prism(notch, -half - 1.0, half + 1.0))
    if isinstance(rim, FlaredRim):
        for one in holes:
            opening = blank_circles([one], finished=True)
            assert opening is not None
            solid = solid.cut(prism(opening, -half - 1.0, half + 1.0))
            solid = solid.union(ring(rim, one, thickness))
    return _placed(solid, form)


def _placed(solid: cq.Workplane, form: Form) -> cq.Workplane:
    import cadquery as cq

    from parts.shapes.workplane import Workplane

    frame = form.frame
    rows = (np.asarray(v, float).tolist() for v in (frame.origin, frame.x, frame.normal))
    where = cq.Location(cq.Plane(*(tuple(row) for row in rows)))
    return Workplane(obj=solid.val().moved(where))
