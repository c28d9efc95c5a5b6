"""Binary STL from a solid, with the chordal tolerance and the angle that the user sets; closed, or refused."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Any

import numpy as np

from parts.making.distinct import distinct

LABEL = b"oneoff-parts, mm. Printed: for fit-up only, never ridden. Review before any use."
"""What fits the 80 bytes before the facets: whose, in which unit, and the caution."""
NARROW = 0.01
"""Widest crack of a mesh that is closed [mm]; the kernel leaves some of a tenth of a micrometre where a face is tangent
to its neighbour. A wider one is a hole, and refused."""

_TRIANGLE = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("spare", "<u2")])


def triangles(shape: Any, chord: float, angle: float) -> tuple[np.ndarray, np.ndarray]:
    """Mesh the surface of a solid.

    Args:
        shape: a CadQuery Workplane or Shape.
        chord: largest distance of the mesh from the surface [mm].
        angle: largest angle between neighbouring facets [rad].

    Returns:
        Corner points [mm] of shape (n, 3), each once, and corner indices of shape (m, 3), outward.
    """
    places, corners, _ = meshed(shape, chord, angle)
    return places, corners


def meshed(shape: Any, chord: float, angle: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Points and triangles as `triangles` gives them, and which of the kernel's triangles they are, face by face."""
    from OCP.BRepTools import BRepTools

    solid = shape.val() if hasattr(shape, "val") else shape
    BRepTools.Clean_s(solid.wrapped)
    solid.mesh(chord, angle)
    places, corners = _read(solid)
    # Faces are meshed one by one: their shared points come once for each face, equal to the last bits.
    first, same = distinct(np.round(places, 7))
    corners = same[corners]
    a, b, c = corners.T
    kept = (a != b) & (b != c) & (c != a)
    return places[first], corners[kept], kept


def _read(solid: Any) -> tuple[np.ndarray, np.ndarray]:
    """Points [mm] (n, 3) and triangles (m, 3) of the kernel's mesh, face by face."""
    from OCP.BRep import BRep_Tool
    from OCP.TopAbs import TopAbs_REVERSED
    from OCP.TopLoc import TopLoc_Location

    points: list[tuple[float, ...]] = []
    facets = []
    for face in solid.Faces():
        where = TopLoc_Location()
        mesh = BRep_Tool.Triangulation_s(face.wrapped, where)
        if mesh is None:
            continue
        nodes = [mesh.Node(i) for i in range(1, mesh.NbNodes() + 1)]
        if not where.IsIdentity():
            moved = where.Transformation()
            nodes = [node.Transformed(moved) for node in nodes]
        own = np.array([one.Get() for one in mesh.Triangles()]).reshape(-1, 3)
        if face.wrapped.Orientation() == TopAbs_REVERSED:
            own = own[:, [0, 2, 1]]
        facets.append(own + (len(points) - 1))
        points += [node.Coord() for node in nodes]
    return np.array(points).reshape(-1, 3), np.concatenate(facets).reshape(-1, 3)


def stl_bytes(shape: Any, chord: float = 0.05, angle: float = 0.2) -> bytes:
    """Write a solid as binary STL.

    Args:
        shape: a CadQuery Workplane or Shape.
        chord: largest distance of the mesh from the surface [mm].
        angle: largest angle between neighbouring facets [rad].

    Returns:
        The file's bytes.

    Raises:
        MakeError: the mesh is open.
    """
    return facets_bytes(*triangles(shape, chord, angle))


def facets_bytes(places: np.ndarray, corners: np.ndarray) -> bytes:
    """Write facets as binary STL, closed in the single precision of the format.

    Args:
        places: corner points [mm] of shape (n, 3).
        corners: corner indices of shape (m, 3), outward.

    Returns:
        The file's bytes.

    Raises:
        MakeError: the mesh is open.
    """
    places, corners = closed(places.astype("<f4"), corners)
    facets = np.zeros(len(corners), _TRIANGLE)
    facets["corners"] = places[corners]
    edges = np.diff(places[corners].astype(float), axis=1)
    normals = np.cross(edges[:, 0], edges[:, 1])
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    facets["normal"] = normals / np.where(lengths > 0.0, lengths, 1.0)
    return LABEL.ljust(80, b" ") + np.uint32(len(facets)).tobytes() + facets.tobytes()


def closed(places: np.ndarray, corners: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """A mesh in which every edge belongs to two facets, one each way.

    Points that are equal become one, facets of two equal corners and pairs of facets back to back go, and cracks
    narrower than `NARROW` are filled.

    Args:
        places: corner points [mm] of shape (n, 3), as they will be written.
        corners: corner indices of shape (m, 3), outward.

    Returns:
        Points and corners.

    Raises:
        MakeError: a hole is left, or an edge of more than two facets.
    """
    first, same = distinct(places)
    places = places[first] + places.dtype.type(0)
    corners = _front_only(same[corners])
    open_edges = _open_edges(corners)
    if len(open_edges):
        corners = np.concatenate([corners, *_fillings(places, corners, open_edges)])
    _prove(places, corners)
    return places, corners


def _front_only(corners: np.ndarray) -> np.ndarray:
    """Facets of three corners, without those that lie back to back."""
    a, b, c = corners.T
    corners = corners[(a != b) & (b != c) & (c != a)]
    first = np.argmin(corners, axis=1)[:, None]
    turned = np.take_along_axis(corners, (first + np.arange(3)) % 3, axis=1)
    return corners[_count(turned, turned[:, [0, 2, 1]]) == 0]


def _edges(corners: np.ndarray) -> np.ndarray:
    return np.concatenate([corners[:, [0, 1]], corners[:, [1, 2]], corners[:, [2, 0]]])


def _count(rows: np.ndarray, asked: np.ndarray) -> np.ndarray:
    """How often each of the rows asked for is among the rows."""
    _, kind = distinct(np.concatenate([rows, asked]))
    many = np.bincount(kind[: len(rows)], minlength=len(kind))
    found: np.ndarray = many[kind[len(rows) :]]
    return found


def _open_edges(corners: np.ndarray) -> list[tuple[int, int]]:
    """Edges that a facet would need to run along to close the mesh, in the order of their numbers."""
    edges = _edges(corners)
    backward = edges[:, ::-1]
    some = np.flatnonzero(_count(edges, edges) > _count(edges, backward))
    count = Counter(map(tuple, edges.tolist())) if len(some) else Counter()
    short = {
        (b, a): count[(a, b)] - count[(b, a)] for a, b in set(map(tuple, edges[some].tolist()))
    }
    return sorted(edge for edge, many in short.items() for _ in range(many))


def _fillings(
    places: np.ndarray, corners: np.ndarray, missing: list[tuple[int, int]]
) -> Iterator[np.ndarray]:
    """Facets that fill the narrow cracks, a fan each, that shares no edge but those of the crack."""
    taken = set(map(tuple, _edges(corners).tolist()))
    for loop in _loops(missing):
        if len(loop) < 3 or _width(places[loop].astype(float)) > NARROW:
            continue
        for k in range(len(loop)):
            turned = np.roll(loop, -k)
            fan = np.stack([np.full(len(loop) - 2, turned[0]), turned[1:-1], turned[2:]], axis=1)
            inner = [(int(a), int(b)) for a, b in fan[:-1, [0, 2]]]
            if not any((a, b) in taken or (b, a) in taken for a, b in inner):
                yield fan
                break


def _loops(edges: list[tuple[int, int]]) -> Iterator[list[int]]:
    """Closed rings of edges, each of corners that differ."""
    onward: dict[int, list[int]] = {}
    for a, b in edges:
        onward.setdefault(a, []).append(b)
    while onward:
        ring = [next(iter(onward))]
        while ring[-1] in onward:
            here = ring[-1]
            there = onward[here].pop()
            if not onward[here]:
                del onward[here]
            if there in ring:
                start = ring.index(there)
                yield ring[start:]
                ring = ring[: start + 1]
            else:
                ring.append(there)


def _width(ring: np.ndarray) -> float:
    """Mean width of a narrow ring of points [mm]: its area over half of its length."""
    onward = np.roll(ring, -1, axis=0)
    area = np.linalg.norm(np.cross(ring - ring[0], onward - ring[0]).sum(axis=0)) / 2.0
    return float(2.0 * area / np.linalg.norm(onward - ring, axis=1).sum())


def _prove(places: np.ndarray, corners: np.ndarray) -> None:
    from parts.making.model import MakeError

    edges = _edges(corners)
    once = (_count(edges, edges) == 1) & (_count(edges, edges[:, ::-1]) == 1)
    wrong = sorted(set(map(tuple, edges[~once].tolist())))
    if wrong or not len(corners):
        at = (
            f", one of them at {', '.join(f'{v:.2f}' for v in places[wrong[0][0]])} mm"
            if wrong
            else ""
        )
        raise MakeError(
            f"the mesh is not closed: {len(wrong)} edges are not shared by two facets{at}; take another --chord or "
            "--angle, change the dimension moved last, or report these dimensions as a fault of the library"
        )
