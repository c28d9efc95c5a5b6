"""A mesh of tetrahedra on a solid, by netgen, curved onto its faces."""

from __future__ import annotations

import ctypes
import os
import sys
import tempfile
from collections.abc import Container, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from parts.proof.curving import Nodes, curve
from parts.proof.errors import ProofError

VOLUME = 0.004
"""How far the volume of the curved mesh may be off the solid's [-]: beyond, it is too coarse to be the part."""
SLIVER = 1e-4
"""Edges shorter than this share of the solid's diagonal are no feature but a fault of the solid [-]."""
LADDER = (
    {"maxh": 0.16, "grading": 0.7, "curvaturesafety": 1.2, "segmentsperedge": 0.2},
    {"maxh": 0.10, "grading": 0.7, "curvaturesafety": 1.2, "segmentsperedge": 0.2},
    {"maxh": 0.14, "grading": 0.7, "curvaturesafety": 2.0, "segmentsperedge": 0.2},
    {"maxh": 0.10, "grading": 0.8, "curvaturesafety": 2.5, "segmentsperedge": 0.2},
    {"maxh": 0.07, "grading": 0.3, "curvaturesafety": 2.0, "segmentsperedge": 1.0},
    {"maxh": 0.05, "grading": 0.25, "curvaturesafety": 3.0, "segmentsperedge": 1.5},
    {"maxh": 0.16, "grading": 0.5, "curvaturesafety": 1.2, "segmentsperedge": 0.2},
)
"""From coarse to fine, and a last one that lays faces otherwise: the first that meshes and keeps the volume is taken.
`maxh` in shares of the diagonal."""
BENT = 0.05
"""Share of the elements that may have to be straightened; beyond, the mesh is too coarse for its curved faces [-]."""


@dataclass(frozen=True)
class Meshed:
    """A mesh, with the number of faces of the solid, whose indices are those of the mesh's boundaries."""

    mesh: Any
    nodes: Nodes
    faces: int
    diagonal: float
    volume: float

    def region(self, faces: tuple[int, ...]) -> Any:
        """Faces as a region of the mesh."""
        import ngsolve as ng

        mask = ng.BitArray(len(self.mesh.GetBoundaries()))
        mask.Clear()
        for i in faces:
            mask.Set(i)
        return ng.Region(self.mesh, ng.BND, mask)

    def places_on(self, faces: Container[int]) -> np.ndarray:
        """The points of the mesh that lie on some faces, corners and middles of edges [mm] (n, 3)."""
        import ngsolve as ng

        corners = self.mesh.nv
        numbers = {
            number
            for one in self.mesh.Elements(ng.BND)
            if one.index in faces
            for number in (*(v.nr for v in one.vertices), *(corners + e.nr for e in one.edges))
        }
        wanted = np.isin(self.nodes.numbers, list(numbers))
        return np.asarray(self.nodes.places[wanted])


def quiet() -> None:
    """Let netgen say nothing, and use one thread."""
    import ngsolve as ng

    ng.ngsglobals.msg_level = 0
    ng.SetNumThreads(1)


@contextmanager
def _unheard() -> Iterator[None]:
    """Let what the mesher writes past its own level of messages go nowhere: what a command says is all that is said."""
    for stream in (sys.stdout, sys.stderr):
        stream.flush()
    try:
        kept = [os.dup(one) for one in (1, 2)]
    except OSError:  # nobody listens at all
        yield
        return
    silent = os.open(os.devnull, os.O_WRONLY)
    try:
        for one in (1, 2):
            os.dup2(silent, one)
        yield
    finally:
        with suppress(OSError, AttributeError, TypeError):
            ctypes.CDLL(None).fflush(None)
        for one, own in zip((1, 2), kept, strict=True):
            os.dup2(own, one)
            os.close(own)
        os.close(silent)


def meshed(solid: Any, sizes: Mapping[int, float] | None = None, coarsest: int = 0) -> Meshed:
    """Mesh a solid.

    Args:
        solid: a CadQuery Solid.
        sizes: largest elements [mm] on faces, by their index.
        coarsest: step of the ladder to start at.

    Returns:
        The mesh.

    Raises:
        ProofError: the solid has a sliver, or no mesh of it comes out whole.
    """
    quiet()
    diagonal, volume = float(solid.BoundingBox().DiagonalLength), float(solid.Volume())
    _no_sliver(solid, diagonal)
    said = "it did not keep the volume of the solid"
    for settings in LADDER[coarsest:]:
        try:
            mesh = _generate(solid, settings, diagonal, sizes or {})
            nodes = curve(mesh)
        except Exception as error:  # the mesher raises one kind for everything that it meets
            said = str(error).splitlines()[0]
            continue
        import ngsolve as ng

        found = float(ng.Integrate(ng.CF(1.0), mesh))
        if abs(found / volume - 1.0) <= VOLUME and nodes.straightened <= BENT * mesh.ne:
            return Meshed(mesh, nodes, len(solid.Faces()), diagonal, volume)
    raise ProofError(
        f"no mesh of the solid came out whole ({said}); move the dimension changed last, or look for a sliver"
    )


def _no_sliver(solid: Any, diagonal: float) -> None:
    for edge in solid.Edges():
        if edge.geomType() != "OTHER" and 0.0 < edge.Length() < SLIVER * diagonal:
            c = edge.Center()
            raise ProofError(
                f"the solid has a sliver, an edge of {edge.Length():.2g} mm at ({c.x:.2f}, {c.y:.2f}, {c.z:.2f}) mm; "
                "move one of the dimensions that nearly meet there"
            )


def _name_edges(solid: Any, shape: Any) -> None:
    """Name the mesher's edges, which come once for each face, by the index of the solid's edge."""
    own = np.array([e.Center().toTuple() for e in solid.Edges()])
    for edge in shape.edges:
        there = np.array([edge.center.x, edge.center.y, edge.center.z])
        edge.name = f"edge {int(np.argmin(((own - there) ** 2).sum(axis=1)))}"


def _generate(
    solid: Any, settings: Mapping[str, float], diagonal: float, sizes: Mapping[int, float]
) -> Any:
    import ngsolve as ng

    with tempfile.TemporaryDirectory() as folder:
        brep = Path(folder) / "solid.brep"
        # Faces keep their order in this format, whatever kernel reads it.
        solid.exportBrep(str(brep))
        geometry, count = _named(solid, brep, sizes)
    options = {**settings, "maxh": settings["maxh"] * diagonal}
    with _unheard():
        mesh = ng.Mesh(geometry.GenerateMesh(**options, closeedgefac=0, optsteps3d=3))
    if list(mesh.GetBoundaries()) != [f"face {i}" for i in range(count)]:
        raise ProofError("the mesh has other faces than the solid")
    return mesh


def _named(solid: Any, brep: Path, sizes: Mapping[int, float]) -> tuple[Any, int]:
    """The solid as the mesher's geometry, its faces and edges named by their indices."""
    import netgen.occ as occ

    shape = occ.OCCGeometry(str(brep)).shape
    faces = list(shape.faces)
    if len(faces) != len(solid.Faces()):
        raise ProofError("the mesher found other faces than the solid has")
    for i, face in enumerate(faces):
        face.name = f"face {i}"
    _name_edges(solid, shape)
    for i, size in sizes.items():
        faces[i].maxh = float(size)
    return occ.OCCGeometry(shape), len(faces)
