"""Stress in a section under all six resultants: the largest von Mises stress, where, and of what made.

`von_mises` solves torsion and shear on the section as it is (see `torsion`). For thousands of
sections at once, on the safe side, see `scan`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.strength.method import method
from parts.strength.section.outline import Array, Boundary, Outline
from parts.strength.section.panels import FINE, Fineness
from parts.strength.section.properties import Section, properties
from parts.strength.section.torsion import Field, fields

__all__ = ["Peak", "Resultants", "von_mises"]


@dataclass(frozen=True)
class Resultants:
    """What acts on the face that looks along +x, at the centroid of the section; numbers or arrays.

    `N`, `Vy`, `Vz` [N] along x, y, z; `T`, `My`, `Mz` [N*mm] about x, y, z by the right-hand rule:
    N > 0 pulls, My > 0 pulls at +z, Mz > 0 pulls at -y. T is about the centroid; where the shear
    centre lies elsewhere, the forces add their own torque, which `von_mises` sees to.
    """

    N: Any = 0.0
    Vy: Any = 0.0
    Vz: Any = 0.0
    T: Any = 0.0
    My: Any = 0.0
    Mz: Any = 0.0

    @property
    def shape(self) -> tuple[int, ...]:
        """Dimensions of all six, broadcast."""
        return np.broadcast_shapes(*(np.shape(v) for v in vars(self).values()))

    def over(self, shape: tuple[int, ...]) -> dict[str, Array]:
        """All six as arrays of this shape."""
        return {k: np.broadcast_to(np.asarray(v, float), shape) for k, v in vars(self).items()}


@dataclass(frozen=True)
class Peak:
    """The largest von Mises stress [MPa], its place `y`, `z` [mm] and what acts there [MPa].

    `axial` and `bending` are normal stresses, pull positive; `shear` (of Vy, Vz) and `torsion` (of
    the torque about the shear centre) are sizes of vectors, `tau` that of their sum.
    """

    von_mises: Any
    y: Any
    z: Any
    axial: Any
    bending: Any
    shear: Any
    torsion: Any
    tau: Any


@method(
    formula="σ_v = √(σ² + 3 τ²), σ = N/A + y (−Mz Iyy − My Iyz)/D + z (My Izz + Mz Iyz)/D, "
    "D = Iyy Izz − Iyz²; τ of Saint-Venant's torsion and flexure",
    source="S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed., chapters 10 and 11; "
    "from memory",
)
def von_mises(
    figure: Outline | Boundary,
    resultants: Resultants,
    nu: float = 0.3,
    clearance: float | None = None,
    fineness: Fineness = FINE,
) -> Peak:
    """The largest von Mises stress, normal and shear stress taken together point by point.

    Looks at points all along the boundary (ends of edges included, arcs about every 5 degrees:
    between them the stress can be higher by 0.1 %), on both centroidal axes of each piece and on a
    grid inside. Sharp re-entrant corners as in `torsion`: within the clearance shear counts as
    nothing. In a figure of several pieces the normal stress is that of the whole, as if the pieces
    were tied.

    Args:
        figure [mm]: outline, with any leading dimensions, or boundary.
        resultants [N, N*mm]: their dimensions end in those of the outline, or broadcast to such.
        nu [-]: Poisson's ratio.
        clearance [mm]: distance from sharp re-entrant corners within which shear is not taken; None
            for 2 % of the root of the piece's area.
        fineness [-]: how finely the boundary is cut; `panels.COARSE` says what less gives.

    Returns:
        [MPa] the peak, in the dimensions of the resultants and the outline together; inf for a
        figure without area, nan where a wall is too thin to be resolved.

    Raises:
        ValueError: where the dimensions of resultants and outline do not fit.
    """
    own = figure.shape if isinstance(figure, Outline) else ()
    shape = np.broadcast_shapes(resultants.shape, own)
    if shape[len(shape) - len(own) :] != own:
        raise ValueError(
            f"resultants of dimensions {resultants.shape} do not end in the outline's {own}; "
            f"give (load cases, {', '.join(map(str, own))})"
        )
    figures = int(np.prod(own, dtype=int))
    loads = {k: v.reshape(-1, figures) for k, v in resultants.over(shape).items()}
    section = properties(figure)
    out = np.zeros((8, *loads["N"].shape))
    out[0] = np.inf
    for field in fields(figure, nu, clearance, fineness):
        some = {k: v[:, field.index] for k, v in loads.items()}
        out[:, :, field.index] = _peaks(field, section, some)
    return Peak(*(v.reshape(shape)[()] for v in out))


def _peaks(field: Field, section: Section, loads: dict[str, Array]) -> Array:
    """The peaks (8, cases, figures) under loads (cases, figures)."""

    def of(value: Any) -> Array:
        return np.asarray(np.ravel(value)[field.index][:, None])

    y, z = field.y - of(section.y), field.z - of(section.z)
    p, q = _slopes(section, field.index, loads["My"], loads["Mz"])
    bending = p[..., None] * y + q[..., None] * z
    axial = loads["N"][..., None] / of(section.area)
    by_T, by_Vy, by_Vz = np.moveaxis(field.shear, 1, 0)
    total = sum(
        unit * loads[name][..., None] for unit, name in ((by_T, "T"), (by_Vy, "Vy"), (by_Vz, "Vz"))
    )
    tau = np.abs(total)
    mises = np.where(field.use, np.sqrt((axial + bending) ** 2 + 3.0 * tau**2), -1.0)
    best = mises.argmax(axis=-1)[..., None]

    def there(values: Array) -> Array:
        return np.asarray(
            np.take_along_axis(np.broadcast_to(values, mises.shape), best, -1)[..., 0]
        )

    # The forces' part holds their torque about the shear centre; it is shown with the torsion.
    twist = there(by_T) * _torque(field, loads)
    shear = np.abs(there(total) - twist)
    parts = (mises, field.y, field.z, axial, bending)
    return np.stack([*(there(v) for v in parts), shear, np.abs(twist), there(tau)])


def _slopes(section: Section, index: np.ndarray, My: Array, Mz: Array) -> tuple[Array, Array]:
    """Slopes [MPa/mm] of the bending stress in some of the figures."""
    Iyy, Izz, Iyz = (np.ravel(v)[index] for v in (section.Iyy, section.Izz, section.Iyz))
    det = Iyy * Izz - Iyz**2
    return (-Mz * Iyy - My * Iyz) / det, (My * Izz + Mz * Iyz) / det


def _torque(field: Field, loads: dict[str, Array]) -> Array:
    """Torque that twists the section: T and that of the forces about the shear centre (Trefftz's)."""
    pieces = field.pieces
    Izz, Iyy = np.stack([p.Izz for p in pieces]), np.stack([p.Iyy for p in pieces])
    y_s = sum((p.yc + p.y_s) * s for p, s in zip(pieces, Iyy / Iyy.sum(0), strict=True))
    z_s = sum((p.zc + p.z_s) * s for p, s in zip(pieces, Izz / Izz.sum(0), strict=True))
    area = sum(p.area for p in pieces)
    yc, zc = sum(p.area * p.yc for p in pieces) / area, sum(p.area * p.zc for p in pieces) / area
    return np.asarray(loads["T"] - loads["Vz"] * (y_s - yc) + loads["Vy"] * (z_s - zc))
