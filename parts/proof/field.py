"""A solution as plain numbers: places, displacements and stresses at ten points of every element.

Everything that is looked for afterwards - peaks, cuts, pictures - works on these arrays alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from parts.proof.refine import Settled

CORNERS = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (0.0, 0.0, 0.0))
EDGES = ((0, 1), (1, 2), (2, 0), (0, 3), (1, 3), (2, 3))
"""Corners of the edges whose middles are the points 4 to 9."""
POINTS = np.concatenate([np.eye(4), [(np.eye(4)[i] + np.eye(4)[j]) / 2.0 for i, j in EDGES]])
"""The ten points, as shares of the corners."""
SPLIT = (
    (0, 4, 6, 7), (4, 1, 5, 8), (6, 5, 2, 9), (7, 8, 9, 3),
    (4, 6, 7, 9), (4, 7, 8, 9), (4, 8, 5, 9), (4, 5, 6, 9),
)  # fmt: skip
"""The ten points as eight small tetrahedra."""
VOIGT = ((0, 0), (1, 1), (2, 2), (1, 2), (0, 2), (0, 1))


@dataclass(frozen=True)
class Field:
    """Arrays over elements and their ten points: `places` [mm] (n, 10, 3), `moved` [mm] (n, 10, 3), `raw` [MPa]
    (n, 10, 6) as the elements give it, and `smooth` [MPa] (n, 10, 6), the same over neighbouring elements; the
    components are xx, yy, zz, yz, xz, xy."""

    places: np.ndarray
    moved: np.ndarray
    raw: np.ndarray
    smooth: np.ndarray

    @property
    def mises(self) -> np.ndarray:
        """Von Mises stress of the smooth field [MPa], shape (n, 10)."""
        return von_mises(self.smooth)

    def small(self) -> np.ndarray:
        """Corners of the small tetrahedra, as indices into the points of all elements in a row (m, 4)."""
        first = 10 * np.arange(len(self.places))[:, None, None]
        return np.asarray(first + np.array(SPLIT)[None]).reshape(-1, 4)


def von_mises(s: np.ndarray) -> np.ndarray:
    """Von Mises stress [MPa] of stresses (..., 6)."""
    x, y, z, yz, xz, xy = np.moveaxis(s, -1, 0)
    square = ((x - y) ** 2 + (y - z) ** 2 + (z - x) ** 2) / 2.0
    return np.asarray(np.sqrt(square + 3.0 * (yz**2 + xz**2 + xy**2)))


def principal(s: np.ndarray) -> np.ndarray:
    """Principal stresses [MPa] of stresses (..., 6), the least first."""
    return np.linalg.eigvalsh(matrices(s))


def matrices(s: np.ndarray) -> np.ndarray:
    """Stresses (..., 6) as matrices (..., 3, 3)."""
    out = np.empty((*s.shape[:-1], 3, 3))
    for k, (i, j) in enumerate(VOIGT):
        out[..., i, j] = out[..., j, i] = s[..., k]
    return out


def field(settled: Settled, case: int) -> Field:
    """Read a solution out as numbers.

    Args:
        settled: the last solution.
        case: number of the load case.

    Returns:
        The arrays.
    """
    import ngsolve as ng

    mesh = settled.solved.meshed.mesh
    points = [tuple(float(x) for x in row) for row in POINTS @ np.array(CORNERS)]
    rule = ng.IntegrationRule(points, [1.0 / len(points)] * len(points))
    at = mesh.MapToAllElements(rule, ng.VOL)
    n = int(mesh.ne)

    def of(cf: object, wide: int) -> np.ndarray:
        return np.array(cf(at), float).reshape(n, 10, wide)  # type: ignore[operator]

    def six(matrix: np.ndarray) -> np.ndarray:
        return np.stack([matrix[..., 3 * i + j] for i, j in VOIGT], axis=-1)

    return Field(
        places=of(ng.CF((ng.x, ng.y, ng.z)), 3),
        moved=of(settled.solved.moved[case], 3),
        raw=six(of(settled.solved.stress(case), 9)),
        smooth=six(of(settled.smooth[case], 9)),
    )


@dataclass(frozen=True)
class PatchMotion:
    """How faces move on average: their area [mm^2], centre [mm], shift [mm] and turn [rad]."""

    area: float
    centre: np.ndarray
    shift: np.ndarray
    turn: np.ndarray


def motion(settled: Settled, case: int, faces: Sequence[int]) -> PatchMotion:
    """The mean motion of faces: the rigid motion that fits their displacements best.

    Args:
        settled: the last solution.
        case: number of the load case.
        faces: which faces, by index.

    Returns:
        The motion.
    """
    import ngsolve as ng

    solved = settled.solved
    region, mesh = solved.meshed.region(tuple(faces)), solved.meshed.mesh

    def over(cf: object) -> np.ndarray:
        return np.asarray(ng.Integrate(cf, mesh, definedon=region, order=8), float).ravel()

    u = solved.moved[case]
    area = float(over(ng.CF(1.0))[0])
    place = ng.CF((ng.x, ng.y, ng.z))
    centre = over(place) / area
    r = place - ng.CF(tuple(centre))
    shift = over(u) / area
    spread = over(ng.OuterProduct(r, r)).reshape(3, 3)
    inertia = np.trace(spread) * np.eye(3) - spread
    turn = np.linalg.lstsq(inertia, over(ng.Cross(r, u)), rcond=1e-9)[0]
    return PatchMotion(area, centre, shift, turn)
