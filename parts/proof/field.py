"""A solution as plain numbers: places, displacements and stresses at ten points of every element.

Everything that is looked for afterwards - peaks, cuts, pictures - works on these arrays alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from parts.proof.curving import POINTS, determinants, gauss, leading, rule

if TYPE_CHECKING:
    from parts.proof.elastic import Solved

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


def fields(solved: Solved) -> tuple[Field, ...]:
    """Read a solution out as numbers, every load case.

    The stress of the elements is taken at the points of a Gauss rule, where it is best, and led to the ten points by
    the polynomial that fits it; smooth is the mean of the elements about a point, each by its volume.

    Args:
        solved: the solution.

    Returns:
        The arrays, one a load case.
    """
    import ngsolve as ng

    mesh, nodes = solved.meshed.mesh, solved.meshed.nodes
    share, weight = gauss(2 * (solved.order - 1))
    inner, corner = rule(share), rule(POINTS)
    at, ten = (mesh.MapToAllElements(one, ng.VOL) for one in (inner, corner))
    lead = leading(share, weight, solved.order - 1)
    volume = determinants(nodes.places).mean(axis=1) / 6.0
    whole = np.bincount(nodes.numbers.ravel(), np.repeat(volume, 10), nodes.count)
    found = []
    for case in range(len(solved.moved)):
        nine = np.array(solved.stress(case)(at), float).reshape(len(volume), len(share), 9)
        raw = np.matmul(lead, np.stack([nine[..., 3 * i + j] for i, j in VOIGT], axis=-1))
        smooth = np.empty_like(raw)
        for k in range(6):
            total = np.bincount(
                nodes.numbers.ravel(), (raw[..., k] * volume[:, None]).ravel(), nodes.count
            )
            smooth[..., k] = (total / whole)[nodes.numbers]
        moved = np.array(solved.moved[case](ten), float).reshape(len(volume), 10, 3)
        found.append(Field(nodes.places, moved, raw, smooth))
    return tuple(found)


@dataclass(frozen=True)
class PatchMotion:
    """How faces move on average: their area [mm^2], centre [mm], shift [mm] and turn [rad]."""

    area: float
    centre: np.ndarray
    shift: np.ndarray
    turn: np.ndarray


def motion(solved: Solved, case: int, faces: Sequence[int]) -> PatchMotion:
    """The mean motion of faces: the rigid motion that fits their displacements best.

    Args:
        solved: the solution.
        case: number of the load case.
        faces: which faces, by index.

    Returns:
        The motion.
    """
    import ngsolve as ng

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
