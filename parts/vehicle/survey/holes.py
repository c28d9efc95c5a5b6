"""The round holes of a bought thing: from its STEP or DXF, or from a traced and scanned outline as SVG or DXF.

Holes are numbered from 1 in the order of their places, so that a file that says the same gives the same numbers.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from parts.inputs.problems import InputError, Problem
from parts.vehicle.survey.outline import Array, circle_through, curves_of

STEP, DXF, SVG = (".step", ".stp"), (".dxf",), (".svg",)
READ = (*STEP, *DXF, *SVG)
"""Endings of the files that holes are read from."""
SAME = 0.01
"""Faces and circles nearer than this are one hole [mm]."""
WHOLE = np.radians(355.0)
"""How far round a hole must go [rad]: less is a fillet or a scallop."""
UNITS = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0}
"""Millimetres of a unit of a DXF by its $INSUNITS: inch, foot, mm, cm, m (DXF reference)."""


@dataclass(frozen=True)
class RoundHole:
    """A hole: the middle of its length, the direction of its axis, its diameter and depth [mm]; no depth in a plane."""

    number: int
    at: tuple[float, float, float]
    axis: tuple[float, float, float]
    diameter: float
    depth: float = 0.0


def holes_of(file: Path, scale: float | None = None) -> tuple[RoundHole, ...]:
    """Find the round holes in a file.

    Args:
        file: STEP, DXF or SVG.
        scale: millimetres of a unit of the drawing; that of the file where None. A STEP has its own.

    Returns:
        The holes, numbered from 1.

    Raises:
        InputError: the file is not there, is none of these, states no scale, or holds no round hole.
    """
    ending = file.suffix.casefold()
    if not file.is_file():
        raise _wrong(
            file, "no_file", "there is no such file", "name the STEP, DXF or SVG of the thing"
        )
    if ending in STEP:
        found = list(_of_step(file))
    elif ending in DXF:
        found = list(_of_dxf(file, scale))
    elif ending in SVG:
        if scale is None:
            raise _wrong(file, "no_scale", "an outline states no scale",
                         "say how long a unit of it is, as in `scale: 0.0847 mm` of 300 dots an inch")  # fmt: skip
        found = list(_of_svg(file, scale))
    else:
        raise _wrong(file, "bad_kind", f"`{file.suffix}` is no file that holes are read from",
                     f"give one of {', '.join(READ)}")  # fmt: skip
    if not found:
        raise _wrong(file, "no_hole", "it holds no round hole", "trace the holes, or measure them")
    return _numbered(found)


def _wrong(file: Path, code: str, wrong: str, right: str) -> InputError:
    return InputError([Problem(code, str(file), 0, 0, "", "", wrong, right)])


def _numbered(found: Iterable[RoundHole]) -> tuple[RoundHole, ...]:
    """One of each place, in order: along x, then y, then z."""
    kept: list[RoundHole] = []
    for one in sorted(found, key=lambda h: (*(round(v, 1) for v in h.at), h.diameter)):
        if not any(np.linalg.norm(np.subtract(one.at, k.at)) < SAME
                   and abs(one.diameter - k.diameter) < SAME for k in kept):  # fmt: skip
            kept.append(one)
    return tuple(replace(one, number=k) for k, one in enumerate(kept, 1))


@dataclass
class _Wall:
    """Part of the wall of a hole: a point of its axis, that axis, its radius, how far round, and along from where to
    where."""

    at: Array
    axis: Array
    radius: float
    round: float
    along: tuple[float, float]

    def joins(self, other: _Wall) -> bool:
        off = other.at - self.at
        aside = off - (off @ self.axis) * self.axis
        beside = float(np.linalg.norm(aside)) < SAME
        alike = bool(abs(abs(self.axis @ other.axis) - 1.0) < 1e-6)
        meet = self.along[0] < other.along[1] + SAME and other.along[0] < self.along[1] + SAME
        return alike and beside and meet and abs(self.radius - other.radius) < SAME


def _of_step(file: Path) -> Iterator[RoundHole]:
    import cadquery as cq

    try:
        shapes = cq.importers.importStep(str(file)).vals()
    except (ValueError, RuntimeError):
        raise _wrong(file, "bad_step", "it is no STEP file", "export it anew") from None
    walls: list[_Wall] = []
    for shape in shapes:
        for face in shape.Faces():
            if face.geomType() == "CYLINDER" and (wall := _wall(face)) is not None:
                for other in walls:
                    if other.joins(wall):
                        # Halves of one wall lie beside each other, steps of one length behind each other.
                        if abs(other.along[0] - wall.along[0]) < SAME:
                            other.round += wall.round
                        other.along = (
                            min(other.along[0], wall.along[0]),
                            max(other.along[1], wall.along[1]),
                        )
                        break
                else:
                    walls.append(wall)
    for one in walls:
        if one.round > WHOLE:
            middle = one.at + one.axis * sum(one.along) / 2.0
            yield RoundHole(
                0, _triple(middle), _triple(one.axis), 2.0 * one.radius, one.along[1] - one.along[0]
            )


def _wall(face: object) -> _Wall | None:
    """The wall that a cylinder's face is; None where it is the outside of a boss."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.TopAbs import TopAbs_REVERSED

    surface = BRepAdaptor_Surface(face.wrapped)  # type: ignore[attr-defined]
    if face.wrapped.Orientation() != TopAbs_REVERSED:  # type: ignore[attr-defined]
        return None
    cylinder = surface.Cylinder()
    line = cylinder.Axis()
    axis = np.array([line.Direction().X(), line.Direction().Y(), line.Direction().Z()])
    start = np.array([line.Location().X(), line.Location().Y(), line.Location().Z()])
    sense = 1.0 if axis[int(np.argmax(np.abs(axis)))] > 0.0 else -1.0
    foot = start - (start @ axis) * axis  # where the axis comes nearest to nil
    ends = [
        sense * float((start + v * axis) @ axis)
        for v in (surface.FirstVParameter(), surface.LastVParameter())
    ]
    return _Wall(foot, sense * axis, cylinder.Radius(),
                 float(surface.LastUParameter() - surface.FirstUParameter()), (min(ends), max(ends)))  # fmt: skip


def _of_dxf(file: Path, scale: float | None) -> Iterator[RoundHole]:
    from ezdxf.filemanagement import readfile
    from ezdxf.lldxf.const import DXFError
    from ezdxf.path import make_path

    try:
        drawing = readfile(file)
    except (OSError, DXFError):
        raise _wrong(file, "bad_dxf", "it is no DXF file", "export it anew") from None
    unit = scale or UNITS.get(int(drawing.header.get("$INSUNITS", 0)))
    if unit is None:
        raise _wrong(file, "no_scale", "it states no unit of length", "say it, as in `scale: 1 mm`")
    for one in drawing.modelspace().query("CIRCLE LWPOLYLINE POLYLINE SPLINE ELLIPSE"):
        if one.dxftype() == "CIRCLE":
            centre = np.array(one.dxf.center) * unit
            yield RoundHole(0, _triple(centre), (0.0, 0.0, 1.0), 2.0 * float(one.dxf.radius) * unit)
            continue
        path = make_path(one)
        if path.is_closed:
            points = np.array([(p.x, p.y) for p in path.flattening(0.01 / unit)]) * unit
            yield from _round(points)


def _of_svg(file: Path, scale: float) -> Iterator[RoundHole]:
    for points in curves_of(file):
        yield from _round(points * np.array([scale, -scale]))


def _round(points: Sequence[object] | Array) -> Iterator[RoundHole]:
    """A closed curve as a hole, where it is round."""
    found = circle_through(np.asarray(points, float))
    if found is not None:
        (x, y), diameter = found
        yield RoundHole(0, (x, y, 0.0), (0.0, 0.0, 1.0), diameter)


def _triple(row: Array) -> tuple[float, float, float]:
    x, y, z = (float(v) + 0.0 for v in np.round(row, 6))
    return x, y, z
