"""Shaded pictures of solids, drawn off screen."""

from __future__ import annotations

import math
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np

from parts.making.stl import triangles

PAPER = (1.0, 1.0, 1.0)
METAL = ((0.62, 0.66, 0.70), (0.74, 0.62, 0.44), (0.45, 0.55, 0.62))
INK = (0.10, 0.12, 0.14)
CREASE = 25.0
"""Edges sharper than this [deg] are drawn as lines."""


def picture(
    solids: Sequence[Any],
    *,
    width: int = 900,
    height: int = 600,
    turn: float = -38.0,
    tilt: float = 24.0,
) -> bytes:
    """Draw solids shaded, with their edges inked.

    Args:
        solids: CadQuery Workplanes in place.
        width: width of the picture [px].
        height: height of the picture [px].
        turn: angle of the eye about z from the x axis [deg].
        tilt: angle of the eye above the xy plane [deg].

    Returns:
        A PNG.
    """
    import vtkmodules.vtkRenderingOpenGL2  # noqa: F401  (registers the drawing back end)
    from vtkmodules.vtkIOImage import vtkPNGWriter
    from vtkmodules.vtkRenderingCore import vtkRenderer, vtkRenderWindow, vtkWindowToImageFilter

    renderer = vtkRenderer()
    renderer.SetBackground(*PAPER)
    for i, solid in enumerate(solids):
        for actor in _actors(solid, METAL[i % len(METAL)]):
            renderer.AddActor(actor)
    _aim(renderer, turn, tilt, width / height)
    window = vtkRenderWindow()
    window.SetOffScreenRendering(1)
    window.SetMultiSamples(8)
    window.SetSize(width, height)
    window.AddRenderer(renderer)
    window.Render()
    grab = vtkWindowToImageFilter()
    grab.SetInput(window)
    grab.ReadFrontBufferOff()
    with tempfile.TemporaryDirectory() as folder:
        target = Path(folder) / "picture.png"
        writer = vtkPNGWriter()
        writer.SetFileName(str(target))
        writer.SetInputConnection(grab.GetOutputPort())
        writer.Write()
        return target.read_bytes()


def _actors(solid: Any, colour: tuple[float, float, float]) -> list[Any]:
    from vtkmodules.vtkFiltersCore import vtkFeatureEdges, vtkPolyDataNormals
    from vtkmodules.vtkRenderingCore import vtkActor, vtkPolyDataMapper

    mesh = _poly_data(*triangles(solid, 0.03, 0.15))
    normals = vtkPolyDataNormals()
    normals.SetInputData(mesh)
    normals.SetFeatureAngle(CREASE)
    normals.SplittingOn()
    edges = vtkFeatureEdges()
    edges.SetInputData(mesh)
    edges.SetFeatureAngle(CREASE)
    edges.BoundaryEdgesOff()
    edges.ManifoldEdgesOff()
    edges.NonManifoldEdgesOff()
    edges.ColoringOff()
    actors = []
    for source, ink in ((normals, colour), (edges, INK)):
        mapper = vtkPolyDataMapper()
        mapper.SetInputConnection(source.GetOutputPort())
        mapper.ScalarVisibilityOff()
        actor = vtkActor()
        actor.SetMapper(mapper)
        actor.GetProperty().SetColor(*ink)
        actors.append(actor)
    actors[0].GetProperty().SetSpecular(0.25)
    actors[0].GetProperty().SetSpecularPower(20.0)
    actors[1].GetProperty().SetLineWidth(1.6)
    actors[1].GetProperty().LightingOff()
    return actors


def _poly_data(places: np.ndarray, corners: np.ndarray) -> Any:
    from vtkmodules.util.numpy_support import numpy_to_vtk, numpy_to_vtkIdTypeArray
    from vtkmodules.vtkCommonCore import vtkPoints
    from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkPolyData

    points = vtkPoints()
    points.SetData(numpy_to_vtk(np.ascontiguousarray(places), deep=True))
    cells = vtkCellArray()
    rows = np.hstack([np.full((len(corners), 1), 3), corners]).astype(np.int64).ravel()
    cells.SetCells(len(corners), numpy_to_vtkIdTypeArray(rows, deep=True))
    mesh = vtkPolyData()
    mesh.SetPoints(points)
    mesh.SetPolys(cells)
    return mesh


def _aim(renderer: Any, turn: float, tilt: float, aspect: float) -> None:
    low_x, high_x, low_y, high_y, low_z, high_z = renderer.ComputeVisiblePropBounds()
    middle = np.array([low_x + high_x, low_y + high_y, low_z + high_z]) / 2.0
    a, b = math.radians(turn), math.radians(tilt)
    eye = np.array([math.cos(b) * math.cos(a), math.cos(b) * math.sin(a), math.sin(b)])
    corners = np.array(
        [(x, y, z) for x in (low_x, high_x) for y in (low_y, high_y) for z in (low_z, high_z)]
    )
    right = np.array([-math.sin(a), math.cos(a), 0.0])
    up = np.cross(eye, right)
    across, upward = (float(np.abs((corners - middle) @ axis).max()) for axis in (right, up))
    camera = renderer.GetActiveCamera()
    camera.ParallelProjectionOn()
    camera.SetFocalPoint(*middle)
    camera.SetPosition(*(middle + eye * 1000.0))
    camera.SetViewUp(0.0, 0.0, 1.0)
    camera.SetParallelScale(1.06 * max(upward, across / aspect))
    renderer.ResetCameraClippingRange()
