"""Elements curved onto the faces of the solid, and straightened where curving would turn them inside out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

CORNERS = np.array([(1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (0.0, 0.0, 0.0)])
EDGES = ((0, 1), (1, 2), (2, 0), (0, 3), (1, 3), (2, 3))
"""Corners of the edges whose middles are the points 4 to 9."""
POINTS = np.concatenate([np.eye(4), [(np.eye(4)[i] + np.eye(4)[j]) / 2.0 for i, j in EDGES]])
"""The ten points of an element, as shares of its corners."""
FLAT = 0.2
"""Least determinant of the map of a curved element, as a share of that of the straight one [-]."""
LOST = 0.25
"""Least volume of a divided element with its new corners on the faces, as a share of that without [-]."""
DEPTH = 6
"""Divisions that follow upon one another in one refinement, at most."""
HALVINGS = 3
"""How often the bow of an edge is halved before the edge is made straight."""


@dataclass(frozen=True)
class Nodes:
    """The ten points of every element: their numbers (n, 10), vertices before edges, and places [mm] (n, 10, 3)."""

    numbers: np.ndarray
    places: np.ndarray
    straightened: int

    @property
    def count(self) -> int:
        return int(self.numbers.max()) + 1


def quadratic(share: np.ndarray) -> np.ndarray:
    """Shape functions of the ten points, at places given as shares of the corners (..., 4)."""
    corners = share * (2.0 * share - 1.0)
    middles = np.stack([4.0 * share[..., i] * share[..., j] for i, j in EDGES], axis=-1)
    return np.concatenate([corners, middles], axis=-1)


def slopes(share: np.ndarray) -> np.ndarray:
    """Slopes of the ten shape functions along the three axes of the reference element, (..., 10, 3)."""
    way = np.concatenate([np.eye(3), -np.ones((1, 3))])  # of the four shares
    corners = (4.0 * share - 1.0)[..., None] * way
    middles = np.stack(
        [4.0 * (share[..., i, None] * way[j] + share[..., j, None] * way[i]) for i, j in EDGES],
        axis=-2,
    )
    return np.concatenate([corners, middles], axis=-2)


def rule(share: np.ndarray, weight: Any = None) -> Any:
    """Places within an element, given as shares of its corners, as the solver takes them."""
    import ngsolve as ng

    weights = np.full(len(share), 1.0 / (6.0 * len(share))) if weight is None else weight
    return ng.IntegrationRule(
        [tuple(map(float, row)) for row in share @ CORNERS], [float(w) for w in weights]
    )


def gauss(order: int) -> tuple[np.ndarray, np.ndarray]:
    """Places (m, 4), as shares of the corners, and weights (m,) that integrate polynomials of an order exactly."""
    import ngsolve as ng

    found = ng.IntegrationRule(ng.TET, order)
    x = np.array([tuple(place) for place in found.points])[:, :3]
    return np.concatenate([x, 1.0 - x.sum(axis=1, keepdims=True)], axis=1), np.array(found.weights)


def leading(share: np.ndarray, weight: np.ndarray, degree: int) -> np.ndarray:
    """What leads values at the points of a rule to the ten points, by the best polynomial of a degree up to two."""

    def base(at: np.ndarray) -> np.ndarray:
        return at if degree == 1 else quadratic(at)

    a = base(share)
    fit = np.linalg.solve(a.T @ (weight[:, None] * a), a.T * weight)
    return np.asarray(base(POINTS) @ fit)


def products() -> np.ndarray:
    """Integrals over the reference element of the products of the ten shape functions, (10, 10)."""
    share, weight = gauss(4)
    a = quadratic(share)
    return np.asarray(a.T @ (weight[:, None] * a))


INNER = np.array(
    [np.where(np.arange(4) == i, 1.0 - 3.0 * a, a) for a in (0.31, 0.09) for i in range(4)]
)
"""Points inside an element at which its map must keep its sense, as shares of its corners."""


def determinants(places: np.ndarray, share: np.ndarray = INNER) -> np.ndarray:
    """Determinants of the map of ten-point elements (n, 10, 3) at places within them, (n, m) [mm^3]."""
    j = np.einsum("nka,mkb->nmab", places, slopes(share), optimize=True)
    return np.asarray(
        np.einsum("nma,nma->nm", j[..., 0], np.cross(j[..., 1], j[..., 2])), dtype=float
    )


def curve(mesh: Any) -> Nodes:
    """Curve a mesh onto its solid, to the second order.

    An edge lies on the face as it does on the solid, unless an element at it would be turned inside out: there its
    bow is halved, and at last the edge is straight. The mesh gives volumes, normals and stresses of what results.

    Args:
        mesh: a mesh of tetrahedra on a solid.

    Returns:
        The ten points of its elements.
    """
    import ngsolve as ng

    mesh.Curve(2)
    places = np.array(ng.CF((ng.x, ng.y, ng.z))(mesh.MapToAllElements(rule(POINTS), ng.VOL)))
    numbers, count = _numbered(mesh)
    bow, straightened = _bows(places.reshape(-1, 10, 3), numbers, count, int(mesh.nv))
    mesh.Curve(1)
    _deform(mesh, bow)
    corners = places.reshape(-1, 10, 3)[:, :4]
    middles = np.stack([(corners[:, i] + corners[:, j]) / 2.0 for i, j in EDGES], axis=1)
    middles = middles + bow[numbers[:, 4:] - int(mesh.nv)]
    return Nodes(numbers, np.concatenate([corners, middles], axis=1), straightened)


def draw_back(mesh: Any) -> int:
    """Draw new corners of a refined mesh back from the faces where they turn an element inside out.

    A new corner stands in the middle of an edge and is then moved onto the face; where that is farther than its
    elements are deep, it stays nearer to the edge.

    Args:
        mesh: a mesh that was refined once.

    Returns:
        How many corners were drawn back.
    """
    corners = mesh.ngmesh.Coordinates()
    parents = np.array([mesh.GetParentVertices(i) for i in range(int(mesh.nv))])
    new = np.flatnonzero(parents[:, 0] >= 0)
    a, b = parents[new].T
    moved = np.array(corners)
    off = moved[new] - (moved[a] + moved[b]) / 2.0
    elements = _corners_of(mesh)

    def placed(share: np.ndarray) -> np.ndarray:
        at = moved.copy()
        for _ in range(DEPTH):
            at[new] = (at[a] + at[b]) / 2.0 + share[:, None] * off
        return at

    share = np.ones(len(new))
    of = np.full(len(moved), -1)
    of[new] = np.arange(len(new))
    least = LOST * _volumes(placed(0.0 * share)[elements])
    for _ in range(2 * HALVINGS):
        bad = _volumes(placed(share)[elements]) < least
        if not bad.any():
            break
        touched = np.unique(of[elements[bad]])
        touched = touched[touched >= 0]
        share[touched] = np.where(share[touched] > 0.5**HALVINGS, share[touched] / 2.0, 0.0)
    corners[:] = placed(share)
    return int((share < 1.0).sum())


def _corners_of(mesh: Any) -> np.ndarray:
    return np.asarray(mesh.ngmesh.Elements3D().NumPy()["nodes"][:, :4], np.int64) - 1


def _volumes(corners: np.ndarray) -> np.ndarray:
    """Six times the volumes of straight elements (n, 4, 3) [mm^3]."""
    a, b, c = (corners[:, k] - corners[:, 3] for k in range(3))
    return np.asarray(np.einsum("na,na->n", a, np.cross(b, c)))


def _numbered(mesh: Any) -> tuple[np.ndarray, int]:
    """Numbers of the ten points of every element, in the order of the unknowns, and how many edges there are."""
    vertices = _corners_of(mesh)
    nv = int(mesh.nv)
    ends = np.sort([[v.nr for v in edge.vertices] for edge in mesh.edges], axis=1)
    key = ends[:, 0] * nv + ends[:, 1]
    order = np.argsort(key)
    pairs = np.sort(np.stack([vertices[:, list(pair)] for pair in EDGES], axis=1), axis=2)
    wanted = pairs[..., 0] * nv + pairs[..., 1]
    edges = order[np.searchsorted(key[order], wanted)]
    # A refined mesh remembers edges that were divided; they carry no unknowns.
    used, edges = np.unique(edges, return_inverse=True)
    return np.concatenate([vertices, nv + edges.reshape(wanted.shape)], axis=1), len(used)


def _bows(places: np.ndarray, numbers: np.ndarray, count: int, nv: int) -> tuple[np.ndarray, int]:
    """How far the middle of every edge lies off its chord [mm], and how many elements had to be straightened."""
    corners, edges = places[:, :4], numbers[:, 4:] - nv
    chords = np.stack([(corners[:, i] + corners[:, j]) / 2.0 for i, j in EDGES], axis=1)
    bow = np.zeros((count, 3))
    bow[edges.ravel()] = (places[:, 4:] - chords).reshape(-1, 3)
    straight = _volumes(corners)
    share, found = np.ones(count), np.zeros(len(places), bool)
    for _ in range(2 * HALVINGS):
        bent = chords + (share[:, None] * bow)[edges]
        flat = determinants(np.concatenate([corners, bent], axis=1)) / straight[:, None]
        bad = flat.min(axis=1) < FLAT
        if not bad.any():
            break
        found |= bad
        touched = np.unique(edges[bad])
        share[touched] = np.where(share[touched] > 0.5**HALVINGS, share[touched] / 2.0, 0.0)
    return share[:, None] * bow, int(found.sum())


def _deform(mesh: Any, bow: np.ndarray) -> None:
    """Move the middles of the edges of a straight mesh."""
    import ngsolve as ng

    space = ng.VectorH1(mesh, order=2)
    field = ng.GridFunction(space)
    # What one unit of an edge's own function is worth in the middle of the edge.
    worth = _worth(mesh)
    values = field.vec.FV().NumPy()
    for axis in range(3):
        values[space.Range(axis).start + int(mesh.nv) : space.Range(axis).stop] = (
            bow[:, axis] / worth
        )
    mesh.SetDeformation(field)


def _worth(mesh: Any) -> float:
    import ngsolve as ng

    space = ng.H1(mesh, order=2)
    field = ng.GridFunction(space)
    field.vec.FV().NumPy()[int(mesh.nv) :] = 1.0
    return float(np.ravel(field(mesh.MapToAllElements(rule(POINTS[4:5]), ng.VOL)))[0])
