"""One picture of several made parts, each in its own field."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.making.picture import FINE, Mesh, View, pictures
from parts.making.stl import triangles

if TYPE_CHECKING:
    from parts.making.model import Made

FIELD = (480, 340)
"""Size of each part's field [px]."""
VIEWS = tuple(View(turn, tilt) for turn in (-38.0, 52.0, 142.0, -128.0) for tilt in (24.0, 50.0))
"""From where a part may be seen; the first that shows nearly as much of it as any is taken."""


def gallery(made: Sequence[Made], columns: int = 3) -> bytes:
    """Draw made parts side by side, row after row.

    Args:
        made: the parts, at least one.
        columns: fields in a row.

    Returns:
        A PNG.
    """
    import vtkmodules.vtkRenderingOpenGL2  # noqa: F401  (registers the drawing back end)
    from vtkmodules.vtkFiltersCore import vtkImageAppend

    columns = min(columns, len(made))
    rows = [[_field(one) for one in made[i : i + columns]] for i in range(0, len(made), columns)]
    rows[-1] += [_blank()] * (columns - len(rows[-1]))
    whole = vtkImageAppend()
    whole.SetAppendAxis(1)
    for row in reversed(rows):  # an image counts its rows from the bottom
        across = vtkImageAppend()
        across.SetAppendAxis(0)
        for field in row:
            across.AddInputData(field)
        across.Update()
        whole.AddInputData(across.GetOutput())
    whole.Update()
    return _png(whole.GetOutput())


def telling_view(meshes: Sequence[Mesh]) -> View:
    """The first of `VIEWS` that shows nine tenths of what the best of them shows of the surface."""
    shown = [sum(_seen(mesh, view) for mesh in meshes) for view in VIEWS]
    return next(view for view, area in zip(VIEWS, shown, strict=True) if area >= 0.9 * max(shown))


def _seen(mesh: Mesh, view: View) -> float:
    """Area of the triangles that face the eye, as the eye sees it [mm^2]."""
    points, corners = mesh
    a, b, c = (points[corners[:, k]] for k in range(3))
    turn, tilt = np.radians(view.turn), np.radians(view.tilt)
    eye = np.array([np.cos(tilt) * np.cos(turn), np.cos(tilt) * np.sin(turn), np.sin(tilt)])
    return float(np.maximum(np.cross(b - a, c - a) @ eye, 0.0).sum() / 2.0)


def _field(one: Made) -> Any:
    meshes = [triangles(piece.solid, *FINE) for piece in one.result.part.pieces]
    [content] = pictures(meshes, [telling_view(meshes)], width=FIELD[0], height=FIELD[1])
    return _image(content)


def _image(content: bytes) -> Any:
    from vtkmodules.vtkIOImage import vtkPNGReader

    reader = vtkPNGReader()
    reader.SetMemoryBuffer(content)
    reader.SetMemoryBufferLength(len(content))
    reader.Update()
    return reader.GetOutput()


def _blank() -> Any:
    from vtkmodules.vtkImagingSources import vtkImageCanvasSource2D

    paper = vtkImageCanvasSource2D()
    paper.SetScalarTypeToUnsignedChar()
    paper.SetNumberOfScalarComponents(3)
    paper.SetExtent(0, FIELD[0] - 1, 0, FIELD[1] - 1, 0, 0)
    paper.SetDrawColor(255.0, 255.0, 255.0)
    paper.FillBox(0, FIELD[0] - 1, 0, FIELD[1] - 1)
    paper.Update()
    return paper.GetOutput()


def _png(image: Any) -> bytes:
    from vtkmodules.util.numpy_support import vtk_to_numpy
    from vtkmodules.vtkIOImage import vtkPNGWriter

    writer = vtkPNGWriter()
    writer.WriteToMemoryOn()
    writer.SetInputData(image)
    writer.Write()
    return bytes(vtk_to_numpy(writer.GetResult()).tobytes())
