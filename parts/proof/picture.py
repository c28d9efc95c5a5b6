"""Pictures of a proof: von Mises stress on the deformed piece from two angles, the critical section cut open.

Contour lines and figures carry the values, so that the pictures read without colour as well.
"""

from __future__ import annotations

import multiprocessing
import tempfile
from pathlib import Path
from typing import Any

import numpy as np

from parts.core.part import Part
from parts.inputs.units import MPA_PER_KSI
from parts.proof.angles import best_two, eye_of
from parts.proof.field import Field
from parts.proof.piece import Proved
from parts.proof.skin import RAMP

WIDE, HIGH = 1200, 800
BANDS = 10
SHOWN = 0.06
"""Largest displacement as drawn, as a share of the piece's diagonal [-]."""
LOW, MIDDLE, HIGH_STRESS = map(np.array, RAMP)
LABELS = 3
"""Labels on the lines of one stress, at most."""
APART = 34.0
"""Least distance of two labels in the picture [pixels]."""
TRIED = 60
"""Places along the lines of one stress at which a label is tried."""
INK = (0.08, 0.08, 0.10)


def pictures_of(part: Part, proved: Proved) -> dict[str, bytes]:
    """Draw the load case with the highest stress.

    Args:
        part: the part.
        proved: one of its pieces, proved.

    Returns:
        PNGs by file name: the deformed piece from two angles, and the cut.
    """
    proof = proved.proof
    k = max(range(len(proof.cases)), key=lambda i: proof.cases[i].peak.mises)
    case, found, section = proof.cases[k], proved.fields[k], proved.sections[k].critical
    scale = _exaggeration(found)
    stem = f"proof-{proof.piece}"
    head = f"{part.name} {proof.piece}, {case.case}"
    said = f"von Mises stress, MPa (ksi); displacement drawn {scale:g} times; peak {case.peak.mises:.0f} MPa"
    top = case.peak.mises
    angles = dict(zip(("", "-back"), best_two(found), strict=True))
    spot = np.asarray(case.peak.place, float)
    views = [
        (f"{stem}{name}.png", (found, scale, top, (head, said), view, None, spot))
        for name, view in angles.items()
    ]
    cut = (np.asarray(section.place, float), np.asarray(section.span.axes, float)[0])
    place = ", ".join(f"{v:.1f}" for v in case.section)
    here = f"cut at the critical section, {case.span}, ({place}) mm; not deformed"
    views.append((f"{stem}-cut.png", (found, 0.0, top, (head, here), _toward(cut[1]), cut, None)))
    return _apart(views)


WAIT = 3.0
"""How long the process that draws is given to end [s]."""
_LINE: list[Any] = []
"""The line to the process that draws, and that process, once there is one: it costs a second to start."""


def _apart(views: list[tuple[str, tuple[Any, ...]]]) -> dict[str, bytes]:
    """Draw in a process of its own: the libraries of the mesher and those that draw do not bear each other."""
    if not _LINE:
        context = multiprocessing.get_context("spawn")
        ours, theirs = context.Pipe()
        child = context.Process(target=_draws, args=(theirs,), daemon=False)
        child.start()
        theirs.close()
        _LINE.extend((ours, child))
    try:
        _LINE[0].send(views)
        made: dict[str, bytes] = _LINE[0].recv()
    except (EOFError, OSError):
        # It died of the picture: there is none, and the next one starts anew.
        _LINE.clear()
        made = {}
    return made


def no_more() -> None:
    """Let the process that draws end, if there is one."""
    if _LINE:
        line, child = _LINE
        line.close()
        child.join(WAIT)
        _LINE.clear()


def _draws(line: Any) -> None:
    """What the process that draws does, until its line is closed."""
    from parts.making.picture import _quiet

    while True:
        try:
            views = line.recv()
        except EOFError:
            return
        with _quiet():
            line.send({name: _draw(*what) for name, what in views})


def _exaggeration(found: Field) -> float:
    """A round number of times that makes the displacement visible."""
    size = float(np.linalg.norm(np.ptp(found.places.reshape(-1, 3), axis=0)))
    most = float(np.linalg.norm(found.moved, axis=-1).max())
    if most <= 0.0:
        return 1.0
    exact = SHOWN * size / most
    power = 10.0 ** np.floor(np.log10(exact))
    return float(max(v for v in (1.0, 2.0, 5.0) if v * power <= exact * (1 + 1e-9)) * power)


def _toward(normal: np.ndarray) -> tuple[float, float]:
    """Turn and tilt [deg] of an eye that looks at a cut from the side that is taken away, a little aslant."""
    turn = float(np.degrees(np.arctan2(normal[1], normal[0]))) + 28.0
    tilt = float(np.degrees(np.arcsin(np.clip(normal[2], -1.0, 1.0))))
    return turn, float(np.clip(tilt + 20.0, -80.0, 80.0))


def _grid(found: Field, scale: float) -> Any:
    from vtkmodules.util.numpy_support import numpy_to_vtk, numpy_to_vtkIdTypeArray
    from vtkmodules.vtkCommonCore import vtkPoints
    from vtkmodules.vtkCommonDataModel import VTK_TETRA, vtkCellArray, vtkUnstructuredGrid

    places = (found.places + scale * found.moved).reshape(-1, 3)
    # Points that neighbours share are joined: without that every element would be a skin of its own.
    _, first, same = np.unique(
        np.round(found.places.reshape(-1, 3), 5), axis=0, return_index=True, return_inverse=True
    )
    small = same.reshape(-1)[found.small()]
    points = vtkPoints()
    points.SetData(numpy_to_vtk(np.ascontiguousarray(places[first]), deep=True))
    rows = np.hstack([np.full((len(small), 1), 4), small]).astype(np.int64).ravel()
    cells = vtkCellArray()
    cells.SetCells(len(small), numpy_to_vtkIdTypeArray(rows, deep=True))
    grid = vtkUnstructuredGrid()
    grid.SetPoints(points)
    grid.SetCells(VTK_TETRA, cells)
    values = numpy_to_vtk(np.ascontiguousarray(found.mises.ravel()[first]), deep=True)
    values.SetName("mises")
    grid.GetPointData().SetScalars(values)
    return grid


def _colours(top: float) -> Any:
    """Bands from light to dark: their order survives in grey."""
    from vtkmodules.vtkCommonCore import vtkLookupTable

    table = vtkLookupTable()
    table.SetNumberOfTableValues(BANDS)
    table.SetRange(0.0, top)
    for i in range(BANDS):
        t = i / (BANDS - 1)
        low, high, u = (LOW, MIDDLE, 2.0 * t) if t < 0.5 else (MIDDLE, HIGH_STRESS, 2.0 * t - 1.0)
        table.SetTableValue(i, *(low + u * (high - low)), 1.0)
    table.Build()
    return table


def _draw(
    found: Field,
    scale: float,
    top: float,
    said: tuple[str, str],
    view: tuple[float, float],
    cut: Any,
    spot: np.ndarray | None,
) -> bytes:
    import vtkmodules.vtkRenderingFreeType
    import vtkmodules.vtkRenderingOpenGL2  # noqa: F401  (both register what draws)
    from vtkmodules.vtkFiltersCore import vtkContourFilter, vtkPolyDataNormals
    from vtkmodules.vtkFiltersGeometry import vtkGeometryFilter
    from vtkmodules.vtkRenderingCore import vtkRenderer, vtkRenderWindow

    from parts.making.picture import CREASE, PAPER

    grid = _grid(found, scale)
    skin = vtkGeometryFilter()
    if cut is None:
        skin.SetInputData(grid)
    else:
        skin.SetInputData(_halved(grid, *cut))
    lines = vtkContourFilter()
    lines.SetInputConnection(skin.GetOutputPort())
    lines.GenerateValues(BANDS - 1, top / BANDS, top * (BANDS - 1) / BANDS)
    renderer = vtkRenderer()
    renderer.SetBackground(*PAPER)
    table = _colours(top)
    shaded = vtkPolyDataNormals()
    shaded.SetInputConnection(skin.GetOutputPort())
    shaded.SetFeatureAngle(CREASE)
    renderer.AddActor(_actor(shaded, table, top))
    renderer.AddActor(_actor(lines, None, top))
    _look(renderer, *view)
    _legend(renderer, table, top)
    moved = None
    if spot is not None:
        i = int(np.argmin(((found.places.reshape(-1, 3) - spot) ** 2).sum(axis=1)))
        moved = spot + scale * found.moved.reshape(-1, 3)[i]
    _write(renderer, said[0], 0.955, 22)
    _write(renderer, said[1], 0.92, 18)
    window = vtkRenderWindow()
    window.SetOffScreenRendering(1)
    window.SetMultiSamples(4)
    window.SetSize(WIDE, HIGH)
    window.AddRenderer(renderer)
    window.Render()
    _label(renderer, window, lines.GetOutput(), moved, top)
    window.Render()
    return _png(window)


def _halved(grid: Any, place: np.ndarray, normal: np.ndarray) -> Any:
    from vtkmodules.vtkCommonDataModel import vtkPlane
    from vtkmodules.vtkFiltersGeneral import vtkTableBasedClipDataSet

    plane = vtkPlane()
    plane.SetOrigin(*map(float, place))
    plane.SetNormal(*map(float, normal))
    clip = vtkTableBasedClipDataSet()
    clip.SetInputData(grid)
    clip.SetClipFunction(plane)
    clip.InsideOutOn()
    clip.Update()
    return clip.GetOutput()


def _actor(source: Any, table: Any, top: float) -> Any:
    from vtkmodules.vtkRenderingCore import vtkActor, vtkPolyDataMapper

    mapper = vtkPolyDataMapper()
    mapper.SetInputConnection(source.GetOutputPort())
    actor = vtkActor()
    if table is None:
        mapper.ScalarVisibilityOff()
        mapper.SetResolveCoincidentTopologyToPolygonOffset()
        actor.GetProperty().SetColor(*INK)
        actor.GetProperty().SetLineWidth(1.2)
        actor.GetProperty().LightingOff()
    else:
        mapper.SetLookupTable(table)
        mapper.SetScalarRange(0.0, top)
        mapper.InterpolateScalarsBeforeMappingOn()
        actor.GetProperty().SetAmbient(0.45)
        actor.GetProperty().SetDiffuse(0.6)
    actor.SetMapper(mapper)
    return actor


def _look(renderer: Any, turn: float, tilt: float) -> None:
    """Look along a direction [deg] at all that is there, with room at the left for the legend."""
    eye, right, up = eye_of(turn, tilt)
    box = np.array(renderer.ComputeVisiblePropBounds()).reshape(3, 2)
    middle = box.mean(axis=1)
    corners = np.array(np.meshgrid(*box)).reshape(3, -1).T - middle
    across, upward = (float(np.abs(corners @ axis).max()) for axis in (right, up))
    scale = max(1.2 * upward, across * HIGH / (0.80 * WIDE))
    middle = middle - 0.12 * scale * WIDE / HIGH * right
    camera = renderer.GetActiveCamera()
    camera.ParallelProjectionOn()
    camera.SetFocalPoint(*middle)
    camera.SetPosition(*(middle + 1000.0 * eye))
    camera.SetViewUp(*up)
    camera.SetParallelScale(scale)
    renderer.ResetCameraClippingRange()


def _label(renderer: Any, window: Any, lines: Any, spot: Any, top: float) -> None:
    """Write the stress beside lines of equal stress, where they are seen, and point out the peak."""
    from vtkmodules.util.numpy_support import vtk_to_numpy
    from vtkmodules.vtkCommonCore import vtkFloatArray

    depths = vtkFloatArray()
    window.GetZbufferData(0, 0, WIDE - 1, HIGH - 1, depths)
    depth = vtk_to_numpy(depths).reshape(HIGH, WIDE)

    def seen(places: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        on = np.array([_on_screen(renderer, one) for one in places]).reshape(-1, 3)
        x, y = (np.clip(on[:, k].astype(int), 1, size - 2) for k, size in ((0, WIDE), (1, HIGH)))
        near = np.maximum.reduce([depth[y + i, x + j] for i in (-1, 0, 1) for j in (-1, 0, 1)])
        return on, on[:, 2] < near + 2e-3

    taken: list[np.ndarray] = []
    if spot is not None:
        on, there = seen(np.asarray(spot)[None])
        x, y = on[0, 0] / WIDE, on[0, 1] / HIGH
        if there[0]:
            _write(renderer, "+", y - 0.014, 20, x - 0.005)
            _write(renderer, f"peak {top:.0f}", y + 0.03, 17, x - 0.03, boxed=True)
            taken += [on[0, :2], on[0, :2] + np.array([0.0, 30.0])]
        else:
            _write(renderer, f"the peak of {top:.0f} MPa is hidden in this view", 0.03, 15)
    if lines.GetNumberOfPoints() == 0:
        return
    places = vtk_to_numpy(lines.GetPoints().GetData())
    values = vtk_to_numpy(lines.GetPointData().GetScalars())
    random = np.random.default_rng(0)
    for i in range(1, BANDS):
        there = np.flatnonzero(np.isclose(values, top * i / BANDS, rtol=1e-3))
        some = random.permutation(there)[:TRIED]
        on, visible = seen(places[some])
        count = 0
        for place in on[visible][:, :2]:
            if count < LABELS and all(np.hypot(*(place - one)) > APART for one in taken):
                text = f"{top * i / BANDS:.0f}"
                _write(
                    renderer, text, place[1] / HIGH - 0.006, 13, place[0] / WIDE - 0.008, boxed=True
                )
                taken.append(place)
                count += 1


def _on_screen(renderer: Any, place: np.ndarray) -> tuple[float, float, float]:
    renderer.SetWorldPoint(*map(float, place), 1.0)
    renderer.WorldToDisplay()
    x, y, z = renderer.GetDisplayPoint()
    return float(x), float(y), float(z)


def _legend(renderer: Any, table: Any, top: float) -> None:
    """Ten boxes with their bounds in MPa and ksi, beside the picture."""
    from vtkmodules.vtkCommonCore import vtkPoints
    from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkPolyData
    from vtkmodules.vtkRenderingCore import vtkActor2D, vtkPolyDataMapper2D

    left, low, wide, tall = 0.025 * WIDE, 0.08 * HIGH, 26.0, 0.075 * HIGH
    _write(renderer, "MPa  (ksi)", (low + BANDS * tall) / HIGH + 0.025, 15)
    for i in range(BANDS + 1):
        stress = top * i / BANDS
        text = f"{stress:.0f}  ({stress / MPA_PER_KSI:.1f})"
        _write(renderer, text, (low + i * tall) / HIGH - 0.008, 15, (left + wide + 8.0) / WIDE)
        if i == BANDS:
            break
        points, cells, box = vtkPoints(), vtkCellArray(), vtkPolyData()
        for dx, dy in ((0, 0), (1, 0), (1, 1), (0, 1)):
            points.InsertNextPoint(left + dx * wide, low + (i + dy) * tall, 0.0)
        cells.InsertNextCell(4, (0, 1, 2, 3))
        box.SetPoints(points)
        box.SetPolys(cells)
        mapper = vtkPolyDataMapper2D()
        mapper.SetInputData(box)
        actor = vtkActor2D()
        actor.SetMapper(mapper)
        actor.GetProperty().SetColor(*table.GetTableValue(i)[:3])
        renderer.AddViewProp(actor)


def _write(
    renderer: Any, text: str, at: float, size: int, left: float = 0.025, *, boxed: bool = False
) -> None:
    from vtkmodules.vtkRenderingCore import vtkTextActor

    actor = vtkTextActor()
    actor.SetInput(text)
    actor.GetPositionCoordinate().SetCoordinateSystemToNormalizedViewport()
    actor.SetPosition(left, at)
    actor.GetTextProperty().SetFontSize(size)
    actor.GetTextProperty().SetColor(*INK)
    if boxed:
        actor.GetTextProperty().SetBackgroundColor(1.0, 1.0, 1.0)
        actor.GetTextProperty().SetBackgroundOpacity(0.7)
    renderer.AddViewProp(actor)


def _png(window: Any) -> bytes:
    from vtkmodules.vtkIOImage import vtkPNGWriter
    from vtkmodules.vtkRenderingCore import vtkWindowToImageFilter

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
