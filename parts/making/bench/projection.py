"""Edges of a solid as they are seen from one side, hidden lines removed by the kernel."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.making.bench.frames import Frame
from parts.making.bench.ink import Arc, Line
from parts.shapes.cut import cut

CHORD = 0.01
"""How far the chords of a curve that is neither line nor arc may stray from it [mm]."""
SMOOTH = 1e-4
"""Faces that meet at less than this [rad] meet smoothly."""
MANY = 50
"""Poles of a curve above which hiding its lines takes seconds: two tubes of one diameter meet in curves of 200."""
CONICS = ("ELLIPSE", "HYPERBOLA", "PARABOLA")
"""Curves that the hiding of lines hands back as polygons of fifteen corners."""
Curve = Line | Arc


@dataclass(frozen=True)
class Seen:
    """What is seen of a solid, at full size [mm]: its edges, those hidden, and where it is cut."""

    visible: tuple[Curve, ...]
    hidden: tuple[Curve, ...]
    cut: tuple[tuple[np.ndarray, ...], ...] = ()


def look(solid: Any, view: Frame, *, hidden: bool = False) -> Seen:
    """Look at a solid.

    Args:
        solid: a CadQuery shape.
        view: the axes of the view.
        hidden: give the hidden edges too.

    Returns:
        Its edges.
    """
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Copy
    from OCP.BRepLib import BRepLib
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
    from OCP.HLRAlgo import HLRAlgo_Projector
    from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape

    # A copy, whose seams and smooth edges are marked as such: they are no lines of a drawing.
    shape = BRepBuilderAPI_Copy(solid.wrapped).Shape()
    BRepLib.EncodeRegularity_s(shape, SMOOTH)
    _as_short_splines(shape)
    algorithm = HLRBRep_Algo()
    algorithm.Add(shape)
    axes = gp_Ax2(
        gp_Pnt(0, 0, 0), gp_Dir(*map(float, view.toward)), gp_Dir(*map(float, view.right))
    )
    algorithm.Projector(HLRAlgo_Projector(axes))
    algorithm.Update()
    algorithm.Hide()
    edges = HLRBRep_HLRToShape(algorithm)
    seen = [edges.VCompound(), edges.OutLineVCompound()]
    unseen = [edges.HCompound(), edges.OutLineHCompound()] if hidden else []
    return Seen(_curves(seen, "outline"), _curves(unseen, "hidden"))


def _as_short_splines(shape: Any) -> None:
    """Give long splines and conics of a copy as splines of few poles, by far less off them than chords may be."""
    import cadquery as cq
    from OCP.BRep import BRep_Builder, BRep_Tool
    from OCP.BRepAdaptor import BRepAdaptor_Curve
    from OCP.Geom import Geom_TrimmedCurve
    from OCP.GeomAbs import GeomAbs_C1
    from OCP.GeomConvert import GeomConvert_ApproxCurve
    from OCP.TopLoc import TopLoc_Location

    for edge in cq.Shape.cast(shape).Edges():
        kind, along = edge.geomType(), BRepAdaptor_Curve(edge.wrapped)
        if kind not in CONICS and (kind != "BSPLINE" or along.BSpline().NbPoles() <= MANY):
            continue
        ends = along.FirstParameter(), along.LastParameter()
        curve = Geom_TrimmedCurve(BRep_Tool.Curve_s(edge.wrapped, 0.0, 0.0), *ends)
        short = GeomConvert_ApproxCurve(curve, CHORD / 5.0, GeomAbs_C1, MANY, 8)
        if short.HasResult() and short.MaxError() < CHORD / 2.0:
            error = short.MaxError()
            BRep_Builder().UpdateEdge(edge.wrapped, short.Curve(), TopLoc_Location(), error)


def look_into(solid: Any, view: Frame, place: Any) -> Seen:
    """Look at what is left of a solid behind a plane through `place`, with the faces that the plane cuts."""
    middle = np.array(solid.BoundingBox().center.toTuple())
    origin = middle + view.toward * float((np.asarray(place, float) - middle) @ view.toward)
    behind = _half(solid, view, origin)
    shift = view.flat(origin)
    axes = np.array([view.toward, view.right, view.up])
    faces = []
    for region in cut(solid, origin, axes):
        loops = [
            np.vstack([curve.at(np.linspace(0.0, 1.0, 49)[:-1])[0] for curve in loop]) + shift
            for loop in region.boundary.loops
        ]
        faces.append(tuple(loops))
    return Seen(look(behind, view).visible, (), tuple(faces))


def _half(solid: Any, view: Frame, origin: np.ndarray) -> Any:
    import cadquery as cq

    from parts.shapes.workplane import Workplane

    reach = 3.0 * solid.BoundingBox().DiagonalLength
    directions = (tuple(map(float, view.right)), tuple(map(float, view.toward)))
    plane = cq.Plane(tuple(map(float, origin)), *directions)
    near = Workplane(plane).rect(reach, reach).extrude(reach)
    return solid.cut(near.val())


def _curves(compounds: list[Any], layer: str) -> tuple[Curve, ...]:
    from OCP.BRepLib import BRepLib
    from OCP.TopAbs import TopAbs_EDGE
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    found: list[Curve] = []
    for compound in compounds:
        if compound is None or compound.IsNull():
            continue
        BRepLib.BuildCurves3d_s(compound)
        explorer = TopExp_Explorer(compound, TopAbs_EDGE)
        while explorer.More():
            found.append(_curve(TopoDS.Edge_s(explorer.Current()), layer))
            explorer.Next()
    return tuple(sorted(found, key=_order))


def _curve(edge: Any, layer: str) -> Curve:
    from OCP.BRepAdaptor import BRepAdaptor_Curve
    from OCP.GeomAbs import GeomAbs_Circle, GeomAbs_Line

    curve = BRepAdaptor_Curve(edge)
    first, last = curve.FirstParameter(), curve.LastParameter()
    if curve.GetType() == GeomAbs_Line:
        return Line(_points(curve, [first, last]), layer)
    if curve.GetType() == GeomAbs_Circle:
        circle = curve.Circle()
        centre = np.array([circle.Location().X(), circle.Location().Y()])
        ends = _points(curve, [first, last]) - centre
        a, b = np.arctan2(ends[:, 1], ends[:, 0])
        if circle.Axis().Direction().Z() < 0.0:
            a = b
        return Arc(centre, circle.Radius(), float(a), float(a + (last - first)), layer)
    return Line(_points(curve, _stations(curve, first, last)), layer)


def _stations(curve: Any, first: float, last: float) -> Any:
    from OCP.GCPnts import GCPnts_QuasiUniformDeflection

    spread = GCPnts_QuasiUniformDeflection(curve, CHORD, first, last)
    return [spread.Parameter(i) for i in range(1, spread.NbPoints() + 1)]


def _points(curve: Any, parameters: Any) -> np.ndarray:
    places = [curve.Value(float(u)) for u in parameters]
    return np.array([(p.X(), p.Y()) for p in places])


def _order(curve: Curve) -> tuple[float, ...]:
    path = curve.path()
    return tuple(np.round([*path.min(axis=0), *path.max(axis=0), *path[0]], 6) + 0.0)


def hatch(
    loops: tuple[np.ndarray, ...], spacing: float, slope: float = np.pi / 4.0
) -> list[np.ndarray]:
    """Fill a face with parallel lines.

    Args:
        loops: its closed polygons, the holes among them.
        spacing: distance of the lines.
        slope: their angle [rad].

    Returns:
        The lines' ends, each of shape (2, 2).
    """
    c, s = np.cos(slope), np.sin(slope)
    turn = np.array([(c, -s), (s, c)])
    turned = [loop @ turn for loop in loops]
    low = min(float(loop[:, 1].min()) for loop in turned)
    high = max(float(loop[:, 1].max()) for loop in turned)
    found = []
    # On a grid of the paper, not of the face, so that the faces of one piece are hatched alike.
    for level in np.arange(np.floor(low / spacing) + 0.5, high / spacing) * spacing:
        crossings = []
        for loop in turned:
            a, b = loop, np.roll(loop, -1, axis=0)
            over = (a[:, 1] > level) != (b[:, 1] > level)
            a, b = a[over], b[over]
            crossings += list(
                a[:, 0] + (level - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0])
            )
        crossings.sort()
        for start, stop in zip(crossings[0::2], crossings[1::2], strict=False):
            if stop - start > 0.05 * spacing:
                found.append(np.array([(start, level), (stop, level)]) @ turn.T)
    return found
