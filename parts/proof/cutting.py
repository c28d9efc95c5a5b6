"""A plane through a solution: the triangles of the cut, and the resultants of the stress on them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.proof.curving import EDGES, POINTS, quadratic
from parts.proof.elastic import stress_of
from parts.proof.field import Field, matrices, von_mises

_A, _B = 0.445948490915965, 0.091576213509771
RULE = np.array(
    [place for a in (_A, _B) for place in ((a, a, 1 - 2 * a), (a, 1 - 2 * a, a), (1 - 2 * a, a, a))]
)
"""Six places in a triangle, as shares of its corners: exact to the fourth order (Dunavant's rule, from memory;
the tests integrate polynomials by it)."""
WEIGHTS = np.repeat([0.223381589678011, 0.109951743655322], 3)


@dataclass(frozen=True)
class Slice:
    """Triangles of a cut, in the axes of the plane.

    `y`, `z` [mm] and `mises` [MPa], of the smooth stress, are those of the corners, (m, 3). At six places of each
    triangle, `at` (m, 6, 2) [mm], `stress` (m, 6, 6) [MPa] is what the elements give, in x, y, z of the plane.
    """

    y: np.ndarray
    z: np.ndarray
    mises: np.ndarray
    at: np.ndarray
    stress: np.ndarray

    @property
    def areas(self) -> np.ndarray:
        """Area of every triangle [mm^2]."""
        y, z = self.y, self.z
        cross = (y[:, 1] - y[:, 0]) * (z[:, 2] - z[:, 0]) - (y[:, 2] - y[:, 0]) * (
            z[:, 1] - z[:, 0]
        )
        return np.abs(cross) / 2.0

    @property
    def area(self) -> float:
        return float(self.areas.sum())

    def within(self, low: Any, high: Any) -> Slice:
        """The triangles whose middles lie in a box of y and z [mm]."""
        y, z = self.y.mean(axis=1), self.z.mean(axis=1)
        keep = (y >= low[0]) & (y <= high[0]) & (z >= low[1]) & (z <= high[1])
        return Slice(*(v[keep] for v in (self.y, self.z, self.mises, self.at, self.stress)))

    def resultants(self, about: tuple[float, float]) -> dict[str, float]:
        """N, Vy, Vz [N], T, My, Mz [N*mm] of the stress on the cut, about a place of its plane."""
        weight = self.areas[:, None] * WEIGHTS
        y, z = self.at[..., 0] - about[0], self.at[..., 1] - about[1]
        sx, ty, tz = self.stress[..., 0], self.stress[..., 5], self.stress[..., 4]
        integrands = {
            "N": sx, "Vy": ty, "Vz": tz, "T": y * tz - z * ty, "My": z * sx, "Mz": -y * sx,
        }  # fmt: skip
        return {name: float((weight * value).sum()) for name, value in integrands.items()}


def free_body(
    solved: Any,
    case: int,
    origin: Any,
    axes: Any,
    centroid: tuple[float, float],
    low: Any,
    high: Any,
) -> dict[str, float]:
    """Resultants that the elements across a plane carry: the forces of their nodes on one side of it.

    They are in equilibrium with what acts beyond the plane to rounding, however coarse the mesh; the stress
    integrated over a cut is so only in the limit.

    Args:
        solved: the solution.
        case: number of the load case.
        origin: a place on the plane [mm].
        axes: three rows: the normal, which points to the side beyond, and the y and z axes in the plane.
        centroid: y and z that the moments are about [mm].
        low: lower y and z of the branch that is cut [mm].
        high: its upper y and z [mm].

    Returns:
        N, Vy, Vz [N], T, My, Mz [N*mm].
    """
    import ngsolve as ng

    mesh = solved.meshed.mesh
    place, frame = np.asarray(origin, float), np.asarray(axes, float)
    middle = place + centroid[0] * frame[1] + centroid[1] * frame[2]
    corners = np.array(mesh.ngmesh.Coordinates())
    local = (corners - place) @ frame.T
    members = np.array([[v.nr for v in element.vertices] for element in mesh.Elements(ng.VOL)])
    above = local[:, 0] > 0.0
    across = np.flatnonzero(np.ptp(above[members].astype(int), axis=1) > 0)
    where = _crossed(local[members[across]])
    marked = across[np.all((where >= low) & (where <= high), axis=1)]
    force, turn = _of_nodes(solved, case, marked, above, middle)
    f, m = frame @ force, frame @ turn
    return dict(zip(("N", "Vy", "Vz", "T", "My", "Mz"), map(float, (*f, *m)), strict=True))


def _crossed(corners: np.ndarray) -> np.ndarray:
    """Middles (n, 2) of where the plane x = 0 cuts the edges of elements whose corners (n, 4, 3) lie on both sides."""
    a, b = (corners[:, [edge[k] for edge in EDGES]] for k in (0, 1))
    cut = (a[..., 0] > 0.0) != (b[..., 0] > 0.0)
    share = a[..., 0] / np.where(cut, a[..., 0] - b[..., 0], 1.0)
    at = a[..., 1:] + share[..., None] * (b[..., 1:] - a[..., 1:])
    return np.asarray((at * cut[..., None]).sum(axis=1) / cut.sum(axis=1)[:, None])


def _of_nodes(
    solved: Any, case: int, elements: np.ndarray, above: np.ndarray, about: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Force [N] and moment about a place [N*mm] of some elements on those of their nodes that lie above a plane.

    They are integrated as the stiffness was, and turned about as the elements move rigidly: curved ones as well.
    """
    import ngsolve as ng

    mesh, order = solved.meshed.mesh, solved.order
    marked = ng.BitArray(mesh.ne)
    marked.Clear()
    for i in elements:
        marked.Set(int(i))
    u, v = solved.space.TnT()
    work = ng.BilinearForm(solved.space, nonassemble=True)
    stress = stress_of(ng.Sym(ng.Grad(u)), solved.solid.stuff)
    work += ng.InnerProduct(stress, ng.Sym(ng.Grad(v))) * ng.dx(definedonelements=marked)
    rest = solved.moved[case].vec.CreateVector()
    work.Apply(solved.moved[case].vec, rest)
    scalar = ng.H1(mesh, order=order)
    forces = rest.FV().NumPy().reshape(3, -1)
    there = np.flatnonzero(_dofs_above(mesh, scalar, elements, above))
    motion = ng.GridFunction(scalar)

    def moved(field: Any) -> np.ndarray:
        motion.Set(field)
        return np.array(motion.vec.FV().NumPy()[there])

    each = forces[:, there]
    arms = np.stack(
        [moved(way - float(at)) for way, at in zip((ng.x, ng.y, ng.z), about, strict=True)]
    )
    return each @ moved(ng.CF(1.0)), np.cross(arms, each, axis=0).sum(axis=1)


def _dofs_above(mesh: Any, scalar: Any, elements: np.ndarray, above: np.ndarray) -> np.ndarray:
    """True for the unknowns of vertices, edges and faces of some elements whose corners all lie above a plane."""
    import ngsolve as ng

    found = np.zeros(scalar.ndof, bool)
    for i in elements:
        one = mesh[ng.ElementId(ng.VOL, int(i))]
        for vertex in one.vertices:
            found[vertex.nr] = above[vertex.nr]
        for node in (*one.edges, *one.faces):
            if all(above[corner.nr] for corner in mesh[node].vertices):
                found[list(scalar.GetDofNrs(node))] = True
    return found


def cut(found: Field, origin: Any, axes: Any) -> Slice:
    """Cut a solution with a plane.

    Args:
        found: the solution as numbers.
        origin: a place on the plane [mm].
        axes: three rows: the normal, and the y and z axes in the plane.

    Returns:
        The triangles of the cut.
    """
    place, frame = np.asarray(origin, float), np.asarray(axes, float)
    off = (found.places.reshape(-1, 3) - place) @ frame.T
    # Points in the plane itself are moved off it by nothing that counts: no corner is cut twice.
    high = np.where(np.abs(off[:, 0]) < 1e-9, 1e-9, off[:, 0])
    small = found.small()
    above = high[small] > 0.0
    count = above.sum(axis=1)
    crossed = (count > 0) & (count < 4)
    small, above = small[crossed], above[crossed]
    polygons = [_three(small, above), *_four(small, above)]
    ends = np.concatenate(polygons) if polygons else np.zeros((0, 3, 2), int)
    a, b = ends[..., 0], ends[..., 1]
    t = (high[a] / (high[a] - high[b]))[..., None]

    def along(values: np.ndarray) -> np.ndarray:
        return values[a] + t * (values[b] - values[a])

    flat = along(off[:, 1:])
    mises = von_mises(along(found.smooth.reshape(-1, 6)))
    share = along(np.tile(POINTS, (len(found.places), 1)))
    shape = quadratic(np.einsum("qc,mck->mqk", RULE, share))
    raw = np.einsum("mqn,mnk->mqk", shape, found.raw[a[:, 0] // 10] if len(a) else found.raw[:0])
    at = np.einsum("qc,mck->mqk", RULE, flat)
    return Slice(flat[..., 0], flat[..., 1], mises, at, _turned(raw, frame))


def _three(small: np.ndarray, above: np.ndarray) -> np.ndarray:
    """Triangles where one corner stands alone on its side: (m, 3, 2) ends of the edges that are cut."""
    count = above.sum(axis=1)
    alone = np.where((count == 1)[:, None], above, ~above)
    pick = (count == 1) | (count == 3)
    small, alone = small[pick], alone[pick]
    if not len(small):
        return np.zeros((0, 3, 2), int)
    order = np.argsort(~alone, axis=1, kind="stable")
    sorted_ = np.take_along_axis(small, order, axis=1)
    return np.stack([np.stack([sorted_[:, 0], sorted_[:, k]], axis=-1) for k in (1, 2, 3)], axis=1)


def _four(small: np.ndarray, above: np.ndarray) -> list[np.ndarray]:
    """Both triangles of the quadrilaterals where two corners stand on each side."""
    pick = above.sum(axis=1) == 2
    small, above = small[pick], above[pick]
    if not len(small):
        return []
    order = np.argsort(~above, axis=1, kind="stable")
    p = np.take_along_axis(small, order, axis=1)
    ring = [(0, 2), (0, 3), (1, 3), (1, 2)]
    cuts = [np.stack([p[:, i], p[:, j]], axis=-1) for i, j in ring]
    return [np.stack([cuts[0], cuts[1], cuts[2]], 1), np.stack([cuts[0], cuts[2], cuts[3]], 1)]


def _turned(s: np.ndarray, axes: np.ndarray) -> np.ndarray:
    """Stresses in the axes of the plane."""
    m = np.einsum("ai,...ij,bj->...ab", axes, matrices(s), axes)
    return np.stack([m[..., i, j] for i, j in ((0, 0), (1, 1), (2, 2), (1, 2), (0, 2), (0, 1))], -1)
