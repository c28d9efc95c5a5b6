"""Shaded pictures of solids, drawn off screen."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.making.stl import triangles

PAPER = (1.0, 1.0, 1.0)
METAL = ((0.62, 0.66, 0.70), (0.74, 0.62, 0.44), (0.45, 0.55, 0.62))
INK = (0.10, 0.12, 0.14)
AMBIENT = 0.28
Mesh = tuple[np.ndarray, np.ndarray]
FINE = (0.03, 0.15)
"""Chord [mm] and angle [rad] of the mesh that is drawn."""
CREASE = 25.0
"""Edges sharper than this [deg] are drawn as lines."""


LIGHTS = (((0.0, 0.0, 1.0), 0.34), ((-0.25, 1.0, 0.35), 0.78), ((1.0, -0.2, 0.3), 0.22))
"""Where each light stands from the eye's point of view (right, up, towards the eye), and its strength."""
MARGIN = 1.06
"""Half the picture over half of what is in it [-]."""


@dataclass(frozen=True)
class View:
    """From where a picture is taken: angle of the eye about z from the x axis, and above the xy plane [deg]."""

    turn: float = -38.0
    tilt: float = 24.0


SHOWN = 0.75
"""Share of the largest area that a part can show which its first view shows at least [-]."""


def best_view(meshes: Sequence[Mesh]) -> View:
    """From where a part is seen well: aslant as usual, but a flat one not from its edge.

    Args:
        meshes: corner points and triangles of each piece.

    Returns:
        The view nearest to the usual one that shows enough of the part.
    """
    usual = View()
    views = [
        View(usual.turn + turn, tilt) for turn in range(-90, 100, 10) for tilt in (usual.tilt, 42.0)
    ]
    views.sort(key=lambda one: abs(one.turn - usual.turn) + abs(one.tilt - usual.tilt))
    facing = np.concatenate(
        [np.cross(p[c[:, 1]] - p[c[:, 0]], p[c[:, 2]] - p[c[:, 0]]) for p, c in meshes]
    )
    areas = [float(np.abs(facing @ _eye(one)[2]).sum()) for one in views]
    return next(one for one, area in zip(views, areas, strict=True) if area >= SHOWN * max(areas))


def _eye(view: View) -> np.ndarray:
    """Rows: what lies to the right, up, and toward the eye of a view."""
    a, b = math.radians(view.turn), math.radians(view.tilt)
    eye = np.array([math.cos(b) * math.cos(a), math.cos(b) * math.sin(a), math.sin(b)])
    right = np.array([-math.sin(a), math.cos(a), 0.0])
    return np.stack([right, np.cross(eye, right), eye])


def picture(
    solids: Sequence[Any],
    *,
    width: int = 900,
    height: int = 600,
    turn: float = View.turn,
    tilt: float = View.tilt,
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
    meshes = [triangles(solid, *FINE) for solid in solids]
    return pictures(meshes, [View(turn, tilt)], width=width, height=height)[0]


def pictures(
    meshes: Sequence[Mesh],
    views: Sequence[View],
    *,
    width: int = 900,
    height: int = 600,
    inks: Sequence[tuple[float, float, float]] = (),
    beside: Any = (),
) -> list[bytes]:
    """Draw meshes as `picture` does, once from each of several places.

    Args:
        meshes: corner points and triangles of each piece, as `triangles` gives them.
        views: from where.
        width: width of the pictures [px].
        height: height of the pictures [px].
        inks: colour of each mesh; metals in turn where left out.
        beside: places [mm] that are kept in the picture too, (n, 3).

    Returns:
        A PNG for each view.
    """
    import vtkmodules.vtkRenderingOpenGL2  # noqa: F401  (registers the drawing back end)
    from vtkmodules.vtkRenderingCore import vtkRenderer, vtkRenderWindow

    renderer = vtkRenderer()
    renderer.SetBackground(*PAPER)
    renderer.SetAutomaticLightCreation(False)
    for where, strength in LIGHTS:
        renderer.AddLight(_light(where, strength))
    for i, mesh in enumerate(meshes):
        for actor in _actors(mesh, inks[i] if inks else METAL[i % len(METAL)]):
            renderer.AddActor(actor)
    places = np.concatenate([points for points, _ in meshes] + [np.reshape(beside, (-1, 3))])
    with _quiet():
        window = vtkRenderWindow()
        window.SetOffScreenRendering(1)
        window.SetMultiSamples(8)
        window.SetSize(width, height)
        window.AddRenderer(renderer)
        taken = []
        for view in views:
            _aim(renderer, view, places, width / height)
            window.Render()
            taken.append(_grabbed(window))
    return taken


@contextmanager
def _quiet() -> Iterator[None]:
    """Without the warning that there is no screen: none is needed."""
    from vtkmodules.vtkCommonCore import vtkLogger

    before = vtkLogger.GetCurrentVerbosityCutoff()
    vtkLogger.SetStderrVerbosity(vtkLogger.VERBOSITY_ERROR)
    try:
        yield
    finally:
        vtkLogger.SetStderrVerbosity(before)


def _grabbed(window: Any) -> bytes:
    from vtkmodules.util.numpy_support import vtk_to_numpy
    from vtkmodules.vtkIOImage import vtkPNGWriter
    from vtkmodules.vtkRenderingCore import vtkWindowToImageFilter

    grab = vtkWindowToImageFilter()
    grab.SetInput(window)
    grab.ReadFrontBufferOff()
    writer = vtkPNGWriter()
    writer.WriteToMemoryOn()
    writer.SetInputConnection(grab.GetOutputPort())
    writer.Write()
    return bytes(vtk_to_numpy(writer.GetResult()).tobytes())


def _light(where: tuple[float, float, float], strength: float) -> Any:
    from vtkmodules.vtkRenderingCore import vtkLight

    light = vtkLight()
    light.SetLightTypeToCameraLight()
    light.SetPosition(*where)
    light.SetFocalPoint(0.0, 0.0, 0.0)
    light.SetIntensity(strength)
    return light


def _actors(shape: Mesh, colour: tuple[float, float, float]) -> list[Any]:
    from vtkmodules.vtkFiltersCore import vtkFeatureEdges, vtkPolyDataNormals
    from vtkmodules.vtkRenderingCore import vtkActor, vtkPolyDataMapper

    mesh = _poly_data(*shape)
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
    actors[0].GetProperty().SetAmbient(AMBIENT)
    actors[0].GetProperty().SetSpecular(0.18)
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
    cells.ImportLegacyFormat(numpy_to_vtkIdTypeArray(rows, deep=True))
    mesh = vtkPolyData()
    mesh.SetPoints(points)
    mesh.SetPolys(cells)
    return mesh


@dataclass(frozen=True)
class Aimed:
    """A view that is aimed at something.

    Attributes:
        axes: rows point to the right, up, and toward the eye [-].
        middle: place in the middle of the picture [mm].
        half: height of the picture over two [mm].
        deep: half the depth of what is seen [mm].
    """

    axes: np.ndarray
    middle: np.ndarray
    half: float
    deep: float

    def on_picture(self, places: Any, width: float, height: float) -> np.ndarray:
        """Where places [mm] lie on a picture [px], from its upper left corner; (..., 2)."""
        across = (np.asarray(places, float) - self.middle) @ self.axes[:2].T
        scale = height / 2.0 / self.half
        return np.array([width, height]) / 2.0 + across * scale * np.array([1.0, -1.0])


def aimed(view: View, places: np.ndarray, aspect: float) -> Aimed:
    """Look at the middle of what is seen, so that all of it is in the picture.

    Args:
        view: from where.
        places: what is to be seen [mm], (n, 3).
        aspect: width of the picture over its height [-].

    Returns:
        The view, aimed.
    """
    axes = _eye(view)
    seen = places @ axes.T
    low, high = seen.min(axis=0), seen.max(axis=0)
    across, upward, deep = (high - low) / 2.0
    return Aimed(
        axes, (low + high) / 2.0 @ axes, MARGIN * max(upward, across / aspect), float(deep)
    )


def _aim(renderer: Any, view: View, places: np.ndarray, aspect: float) -> None:
    """Point the camera."""
    one = aimed(view, places, aspect)
    camera = renderer.GetActiveCamera()
    camera.ParallelProjectionOn()
    camera.SetFocalPoint(*one.middle)
    camera.SetPosition(*(one.middle + one.axes[2] * (10.0 * one.deep + 1000.0)))
    camera.SetViewUp(*one.axes[1])
    camera.SetParallelScale(one.half)
    renderer.ResetCameraClippingRange()
