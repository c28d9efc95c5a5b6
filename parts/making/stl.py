"""Binary STL from a solid, with the chordal tolerance and the angle that the user sets."""

from __future__ import annotations

from typing import Any

import numpy as np

LABEL = b"oneoff-parts; millimetres"

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
    from OCP.BRepTools import BRepTools

    solid = shape.val() if hasattr(shape, "val") else shape
    BRepTools.Clean_s(solid.wrapped)
    points, faces = solid.tessellate(chord, angle)
    places = np.array([(p.x, p.y, p.z) for p in points]).reshape(-1, 3)
    corners = np.array(faces, dtype=np.int64).reshape(-1, 3)
    # Faces are meshed one by one: their shared points come once for each face, equal to the last bits.
    _, first, same = np.unique(np.round(places, 7), axis=0, return_index=True, return_inverse=True)
    corners = same.reshape(-1)[corners]
    a, b, c = corners.T
    return places[first], corners[(a != b) & (b != c) & (c != a)]


def stl_bytes(shape: Any, chord: float = 0.05, angle: float = 0.2) -> bytes:
    """Write a solid as binary STL.

    Args:
        shape: a CadQuery Workplane or Shape.
        chord: largest distance of the mesh from the surface [mm].
        angle: largest angle between neighbouring facets [rad].

    Returns:
        The file's bytes.
    """
    return facets_bytes(*triangles(shape, chord, angle))


def facets_bytes(places: np.ndarray, corners: np.ndarray) -> bytes:
    """Write facets as binary STL.

    Args:
        places: corner points [mm] of shape (n, 3).
        corners: corner indices of shape (m, 3), outward.

    Returns:
        The file's bytes.
    """
    facets = np.zeros(len(corners), _TRIANGLE)
    facets["corners"] = places[corners]
    edges = np.diff(places[corners], axis=1)
    normals = np.cross(edges[:, 0], edges[:, 1])
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    facets["normal"] = normals / np.where(lengths > 0.0, lengths, 1.0)
    return LABEL.ljust(80, b" ") + np.uint32(len(facets)).tobytes() + facets.tobytes()
