"""Exact cuts through a solid: a plane against the B-rep, then the closed contours of what it meets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.shapes.edge_curve import EdgeCurve
from parts.strength.section.outline import Boundary
from parts.strength.section.properties import gauss


@dataclass(frozen=True)
class Region:
    """One connected area of a cut: its boundary, and its box (low, high) in the axes of the cut [mm]."""

    boundary: Boundary
    low: np.ndarray
    high: np.ndarray

    @property
    def middle(self) -> np.ndarray:
        return (self.low + self.high) / 2.0


def cut(shape: Any, origin: Sequence[float], axes: Any) -> list[Region]:
    """Cut a solid with a plane.

    Args:
        shape: a CadQuery Shape or Workplane.
        origin: a place on the plane [mm].
        axes: three rows, the normal of the plane and the two axes y and z in it.

    Returns:
        The connected regions of the cut, left to right and bottom to top; none where the plane misses.
    """
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Common
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.gp import gp_Dir, gp_Pln, gp_Pnt
    from OCP.TopAbs import TopAbs_FACE
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    solid = shape.vals()[0] if hasattr(shape, "vals") else shape
    place, frame = np.asarray(origin, float), np.asarray(axes, float)
    reach = 2.0 * _diagonal(solid) + float(np.linalg.norm(place))
    plane = gp_Pln(gp_Pnt(*map(float, place)), gp_Dir(*map(float, frame[0])))
    sheet = BRepBuilderAPI_MakeFace(plane, -reach, reach, -reach, reach).Face()
    common = BRepAlgoAPI_Common(sheet, solid.wrapped)
    explorer = TopExp_Explorer(common.Shape(), TopAbs_FACE)
    regions = []
    while explorer.More():
        regions.append(region(TopoDS.Face_s(explorer.Current()), place, frame))
        explorer.Next()
    return sorted(regions, key=lambda region: tuple(np.round(region.middle, 6)))


def _diagonal(solid: Any) -> float:
    """An upper bound of the diagonal of a solid's box [mm]: the least box would cost more than the cut."""
    from OCP.Bnd import Bnd_Box
    from OCP.BRepBndLib import BRepBndLib

    box = Bnd_Box()
    BRepBndLib.Add_s(solid.wrapped, box, False)
    return float(np.sqrt(box.SquareExtent()))


def contour(regions: Sequence[Region], low: Any, high: Any, margin: float = 0.05) -> Boundary:
    """Join the regions that belong to an outline into one boundary.

    Args:
        regions: what `cut` found.
        low: lower corner of the outline's box [mm], shape (2,).
        high: upper corner of the outline's box [mm].
        margin: by how much of its own diagonal the box is widened [-].

    Returns:
        The boundary of every region whose middle lies in the widened box.
    """
    slack = margin * float(np.linalg.norm(np.subtract(high, low)))
    inside = [
        region
        for region in regions
        if np.all(region.middle >= np.asarray(low) - slack)
        and np.all(region.middle <= np.asarray(high) + slack)
    ]
    return Boundary(tuple(loop for region in inside for loop in region.boundary.loops))


def region(face: Any, origin: np.ndarray, axes: np.ndarray) -> Region:
    """A flat face in axes of its own: its normal, then y and z in it, from an origin on it."""
    from OCP.BRepTools import BRepTools
    from OCP.TopAbs import TopAbs_WIRE
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    outer = BRepTools.OuterWire_s(face)
    loops = []
    explorer = TopExp_Explorer(face, TopAbs_WIRE)
    while explorer.More():
        wire = TopoDS.Wire_s(explorer.Current())
        loops.append(_loop(wire, face, origin, axes, counter_clockwise=wire.IsSame(outer)))
        explorer.Next()
    boundary = Boundary(tuple(loops))
    dense = np.concatenate(
        [c.at(np.linspace(0.0, 1.0, 9))[0] for loop in boundary.loops for c in loop]
    )
    return Region(boundary, dense.min(axis=0), dense.max(axis=0))


def _loop(
    wire: Any, face: Any, origin: np.ndarray, axes: np.ndarray, *, counter_clockwise: bool
) -> tuple[EdgeCurve, ...]:
    from OCP.BRepAdaptor import BRepAdaptor_Curve
    from OCP.BRepTools import BRepTools_WireExplorer
    from OCP.TopAbs import TopAbs_REVERSED

    curves = []
    explorer = BRepTools_WireExplorer(wire, face)
    while explorer.More():
        edge = explorer.Current()
        adaptor = BRepAdaptor_Curve(edge)
        ends = adaptor.FirstParameter(), adaptor.LastParameter()
        if edge.Orientation() == TopAbs_REVERSED:
            ends = ends[::-1]
        curves.append(EdgeCurve(adaptor, *ends, origin, axes))
        explorer.Next()
    if (sum(map(_sector, curves)) > 0.0) != counter_clockwise:
        curves = [curve.reversed() for curve in reversed(curves)]
    return tuple(curves)


def _sector(curve: EdgeCurve) -> float:
    """Twice the area [mm^2] that a curve sweeps about the origin of the cut."""
    s, w = gauss(12)
    long = np.diff(curve.breaks)[:, None]
    points, slopes = curve.at(curve.breaks[:-1, None] + long * (s + 1.0) / 2.0)
    swept = points[..., 0] * slopes[..., 1] - points[..., 1] * slopes[..., 0]
    return float((swept * w * long / 2.0).sum())
