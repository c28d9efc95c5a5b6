"""The foot of a print: a chamfer all round where its first layer is pressed wide on the bed."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.making.stl import triangles

LEVEL = 1e-4
ALREADY = 0.5
"""Share of the chamfer that is there already, by the part's own broken edges, from which it is left out."""


def relieved(solid: Any, chamfer: float) -> tuple[Any, str]:
    """Chamfer the edges that stand on the bed.

    Args:
        solid: the print, standing on z = 0.
        chamfer: its size [mm]; 0 leaves it out.

    Returns:
        The print, and in words what was done: the kernel cannot chamfer every edge, and then says so.
    """
    from OCP.StdFail import StdFail_NotDone

    soles = [face for face in solid.Faces() if _on_bed(face)]
    if chamfer <= 0.0 or not soles:
        return solid, "none" if chamfer <= 0.0 else "none: it stands on no flat"
    edges = [edge for face in soles for edge in face.Edges()]
    round_ = sum(float(edge.Length()) for edge in edges)
    if (
        _spread(solid, chamfer) - sum(float(face.Area()) for face in soles)
        > ALREADY * chamfer * round_
    ):
        return solid, "the part's own broken edges serve"
    try:
        made = solid.chamfer(chamfer, None, edges)
    except StdFail_NotDone:
        made = None
    if made is None or not made.isValid() or not solid.Volume() - made.Volume() > 0.0:
        return solid, f"could not be made here: cut {chamfer:g} mm off the foot by hand"
    return made, f"{chamfer:g} mm"


def _on_bed(face: Any) -> bool:
    flat = face.geomType() == "PLANE"
    return flat and float(face.normalAt().z) < -0.99 and float(face.Center().z) < LEVEL


def _spread(solid: Any, height: float) -> float:
    """Area of what lies below a height, seen from below: the foot and the slopes that begin at it [mm^2]."""
    places, corners = triangles(solid, 0.1, 0.3)
    facets = places[corners]
    low = facets[facets[:, :, 2].max(axis=1) < height + LEVEL]
    across = np.cross(low[:, 1] - low[:, 0], low[:, 2] - low[:, 0])[:, 2] / 2.0
    return float(-across[across < 0.0].sum())
