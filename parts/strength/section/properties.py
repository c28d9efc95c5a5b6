"""Area, centroid, second moments and moduli of a plane figure.

Axes as in `outline`: x is the normal, y and z lie in the section. `Iyy` is the integral of z^2 dA
about the centroid (it resists bending about the y axis), `Izz` that of y^2 dA, `Iyz` of y*z dA.
Elastic and plastic section moduli are written Wel and Wpl, as EN 1993-1-1 does.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from parts.strength.section.outline import (
    Array,
    Boundary,
    Loop,
    Outline,
    farthest,
)

__all__ = [
    "Section",
    "area_and_length",
    "farthest",
    "gauss",
    "properties",
    "ratio",
]

_KNOWN = "_section"
"""Where a figure keeps its properties."""
ARC_NODES = 20
"""Gauss points per arc: exact to rounding for the moments of arcs up to a half circle and more."""


@dataclass(frozen=True)
class Section:
    """Properties of a section: numbers, or arrays of the outline's leading dimensions.

    `area` [mm^2]; centroid `y`, `z` [mm]; `Iyy`, `Izz`, `Iyz` [mm^4] about the centroid; principal
    moments `I1` >= `I2` [mm^4]; `angle` [rad] from the y axis to the principal axis about which
    `I1` is the second moment (0 where all axes are principal); `y_max`, `y_min`, `z_max`, `z_min`
    [mm] extreme fibres from the centroid (the minima are negative); `perimeter` [mm] of all loops.
    """

    area: Any
    y: Any
    z: Any
    Iyy: Any
    Izz: Any
    Iyz: Any
    I1: Any
    I2: Any
    angle: Any
    y_max: Any
    y_min: Any
    z_max: Any
    z_min: Any
    perimeter: Any

    @property
    def Wel_y_top(self) -> Any:
        """Elastic modulus about y [mm^3] for the fibre at +z."""
        return ratio(self.Iyy, self.z_max)

    @property
    def Wel_y_bottom(self) -> Any:
        """Elastic modulus about y [mm^3] for the fibre at -z."""
        return ratio(self.Iyy, -self.z_min)

    @property
    def Wel_z_right(self) -> Any:
        """Elastic modulus about z [mm^3] for the fibre at +y."""
        return ratio(self.Izz, self.y_max)

    @property
    def Wel_z_left(self) -> Any:
        """Elastic modulus about z [mm^3] for the fibre at -y."""
        return ratio(self.Izz, -self.y_min)

    @property
    def Wel_y(self) -> Any:
        """Lesser elastic modulus about y [mm^3]."""
        return np.minimum(self.Wel_y_top, self.Wel_y_bottom)

    @property
    def Wel_z(self) -> Any:
        """Lesser elastic modulus about z [mm^3]."""
        return np.minimum(self.Wel_z_right, self.Wel_z_left)

    @property
    def Ip(self) -> Any:
        """Polar second moment about the centroid [mm^4]."""
        return self.Iyy + self.Izz

    @property
    def iy(self) -> Any:
        """Radius of gyration about y [mm]."""
        return np.sqrt(ratio(self.Iyy, self.area))

    @property
    def iz(self) -> Any:
        """Radius of gyration about z [mm]."""
        return np.sqrt(ratio(self.Izz, self.area))

    def curvature(self, My: ArrayLike, Mz: ArrayLike) -> tuple[Any, Any]:
        """Slopes of the bending stress along y and z [MPa/mm] under My and Mz [N*mm].

        My > 0 pulls at +z, Mz > 0 pulls at -y; stress = y * first + z * second, from the centroid.
        """
        My, Mz = np.asarray(My, float), np.asarray(Mz, float)
        det = self.Iyy * self.Izz - self.Iyz**2
        return (
            ratio(-Mz * self.Iyy - My * self.Iyz, det),
            ratio(My * self.Izz + Mz * self.Iyz, det),
        )


def ratio(a: Any, b: Any) -> Any:
    """a/b, and 0 where b is 0: a figure without area has no stiffness."""
    a, b = np.broadcast_arrays(np.asarray(a, float), np.asarray(b, float))
    return np.divide(a, b, out=np.zeros(a.shape), where=b != 0.0)[()]


def properties(figure: Outline | Boundary) -> Section:
    """Properties of a section: exact for lines and arcs; for other curves to about 1e-10.

    Args:
        figure [mm]: outline, with any leading dimensions, or boundary.

    Returns:
        [-] the section, in mm, mm^2, mm^3, mm^4.
    """
    # Figures are never changed: their properties are asked for again and again on the way to a stress.
    known: Section | None = vars(figure).get(_KNOWN)
    if known is None:
        known = _properties(figure)
        object.__setattr__(figure, _KNOWN, known)
    return known


def _properties(figure: Outline | Boundary) -> Section:
    if isinstance(figure, Boundary):
        moments, perimeter = _boundary_moments(figure)
        figure = figure.outline()
    else:
        moments, perimeter = _outline_moments(figure)
    A, Sy, Sz, Syy, Szz, Syz, y0, z0 = moments
    dy, dz = ratio(Sy, A), ratio(Sz, A)
    Iyy, Izz, Iyz = Szz - A * dz * dz, Syy - A * dy * dy, Syz - A * dy * dz
    mean, half = (Iyy + Izz) / 2.0, np.hypot((Iyy - Izz) / 2.0, Iyz)
    # The second moment about an axis at angle w from y is mean + (Iyy - Izz)/2 cos 2w - Iyz sin 2w.
    angle = 0.5 * np.arctan2(-Iyz, (Iyy - Izz) / 2.0)
    angle = np.where(half <= 1e-10 * mean, 0.0, angle)
    y, z = y0 + dy, z0 + dz
    four = np.array([(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)])
    reach = farthest(figure, four.reshape(4, *(1,) * len(figure.shape), 2))[0]
    return Section(
        area=A[()], y=y[()], z=z[()], Iyy=Iyy[()], Izz=Izz[()], Iyz=Iyz[()],
        I1=(mean + half)[()], I2=(mean - half)[()], angle=angle[()],
        y_max=(reach[0] - y)[()], y_min=(-reach[1] - y)[()],
        z_max=(reach[2] - z)[()], z_min=(-reach[3] - z)[()], perimeter=perimeter[()],
    )  # fmt: skip


def _arc_integrals(bulge: Array) -> tuple[Array, Array, Array, Array, Array]:
    """Area, first and second moments of what an arc adds beyond its chord, and its length.

    For a half chord of 1, about the middle of the chord: area, first moment towards the right of
    the chord, second moments across and along the chord, length over chord. By Gauss's rule.
    """
    bent = np.any(bulge != 0.0, axis=tuple(range(bulge.ndim - 1)))
    if not np.all(bent):
        full = [np.zeros(bulge.shape) for _ in range(4)] + [np.ones(bulge.shape)]
        for whole, own in zip(full, _arc_integrals(bulge[..., bent]), strict=True):
            whole[..., bent] = own
        return full[0], full[1], full[2], full[3], full[4]
    s, w = gauss(ARC_NODES)
    a = 2.0 * np.arctan(bulge)[..., None]
    safe = np.where(a == 0.0, 1.0, a)
    sine = np.sin(safe)
    u = 2.0 * np.sin(a * (1.0 + s) / 2.0) * np.sin(a * (1.0 - s) / 2.0) / sine
    v = np.sin(a * s) / sine
    dv = w * a * np.cos(a * s) / sine
    across = u * dv
    return (
        np.sum(across, axis=-1),
        np.sum(u * across, axis=-1) / 2.0,
        np.sum(u * u * across, axis=-1) / 3.0,
        np.sum(v * v * across, axis=-1),
        np.where(bulge == 0.0, 1.0, (safe / sine)[..., 0]),
    )


def _outline_moments(outline: Outline) -> tuple[list[Array], Array]:
    """Integrals of 1, y, z, y^2, z^2, yz from (y0, z0), which follow them, and the length of all loops."""
    s = outline.segments
    # Measured from the middle of the points, so that a figure far from the origin loses nothing.
    y0, z0 = np.moveaxis(s.start.mean(axis=-2), -1, 0)
    y, z = s.start[..., 0] - y0[..., None], s.start[..., 1] - z0[..., None]
    Y, Z = s.end[..., 0] - y0[..., None], s.end[..., 1] - z0[..., None]
    cross = y * Z - Y * z
    sy, sz = y + Y, z + Z
    sums = [
        cross.sum(-1) / 2.0,
        (cross * sy).sum(-1) / 6.0,
        (cross * sz).sum(-1) / 6.0,
        (cross * (sy * sy - y * Y)).sum(-1) / 12.0,
        (cross * (sz * sz - z * Z)).sum(-1) / 12.0,
        (cross * (sy * sz + y * z + Y * Z)).sum(-1) / 24.0,
    ]
    cy, cz = Y - y, Z - z
    half = np.hypot(cy, cz) / 2.0
    length = (2.0 * half).sum(-1)
    if np.any(s.bulge):
        area, first, across, along, stretch = _arc_integrals(s.bulge)
        safe = np.where(half == 0.0, 1.0, 2.0 * half)
        ey, ez = cy / safe, cz / safe
        ny, nz = ez, -ey
        my, mz = sy / 2.0, sz / 2.0
        h2 = half * half
        A, Q, U, V = h2 * area, h2 * half * first, h2 * h2 * across, h2 * h2 * along
        arcs = [
            A,
            A * my + Q * ny,
            A * mz + Q * nz,
            A * my * my + 2.0 * Q * my * ny + U * ny * ny + V * ey * ey,
            A * mz * mz + 2.0 * Q * mz * nz + U * nz * nz + V * ez * ez,
            A * my * mz + Q * (my * nz + mz * ny) + U * ny * nz + V * ey * ez,
        ]
        sums = [a + b.sum(-1) for a, b in zip(sums, arcs, strict=True)]
        length = (2.0 * half * stretch).sum(-1)
    full = np.broadcast_arrays(*sums, y0, z0, length)
    return list(full[:-1]), full[-1]


def area_and_length(loop: Loop) -> tuple[Array, Array]:
    """Area [mm^2] within a loop, negative for a hole, and its length [mm]."""
    y, z = loop.points[..., 0], loop.points[..., 1]
    middle_y, middle_z = y.mean(axis=-1)[..., None], z.mean(axis=-1)[..., None]
    ends = loop.ends
    cross = (y - middle_y) * (ends[..., 1] - middle_z) - (ends[..., 0] - middle_y) * (z - middle_z)
    half = np.hypot(ends[..., 0] - y, ends[..., 1] - z) / 2.0
    area = cross.sum(-1) / 2.0
    if not np.any(loop.bulge):
        return area, (2.0 * half).sum(-1)
    beyond, stretch = _arc_area(loop.bulge)
    return area + (half * half * beyond).sum(-1), (2.0 * half * stretch).sum(-1)


def _arc_area(bulge: Array) -> tuple[Array, Array]:
    """What an arc adds beyond a chord of half length 1, a/sin² a - cot a, and its length over the chord's.

    The difference cancels where the arc is flat: there its series stands in, the next term of which is
    below 1e-12.
    """
    a = 2.0 * np.arctan(bulge)
    flat = np.abs(a) < 0.1
    safe = np.where(flat, 1.0, a)
    sine = np.sin(safe)
    series = a * (2.0 / 3.0 + a**2 * (4.0 / 45.0 + a**2 * (4.0 / 315.0 + a**2 * 8.0 / 4725.0)))
    area = np.where(flat, series, safe / sine**2 - np.cos(safe) / sine)
    return area, np.where(bulge == 0.0, 1.0, a / np.where(bulge == 0.0, 1.0, np.sin(a)))


def _boundary_moments(boundary: Boundary) -> tuple[list[Array], Array]:
    """By Gauss's rule on every curve, each halved until nothing changes."""
    starts = np.concatenate([c.at(np.array([0.0]))[0] for loop in boundary.loops for c in loop])
    y0, z0 = starts.mean(axis=0)
    size = float(np.ptp(starts, axis=0).max()) or 1.0
    total = np.zeros(7)
    for curves in boundary.loops:
        for curve in curves:
            total += _curve_moments(curve, y0, z0, size)
    return [np.asarray(v) for v in (*total[:6], y0, z0)], np.asarray(total[6])


def _curve_moments(curve: Any, y0: float, z0: float, size: float) -> Array:
    s, w = gauss(12)
    last = np.full(7, np.inf)
    scale = size ** np.array([2.0, 3.0, 3.0, 4.0, 4.0, 4.0, 1.0])
    breaks = np.asarray(curve.breaks)
    for pieces in (1, 2, 4, 8, 16, 32, 64, 128, 256):
        long = np.repeat(np.diff(breaks) / pieces, pieces)[:, None]
        begin = (
            np.repeat(breaks[:-1], pieces)[:, None]
            + long * np.tile(np.arange(pieces), len(breaks) - 1)[:, None]
        )
        p, d = curve.at((begin + long * (s + 1.0) / 2.0).ravel())
        y, z = p[:, 0] - y0, p[:, 1] - z0
        weight = (long * w / 2.0).ravel()
        # (y dz - z dy) f / (degree of f + 2) integrates a homogeneous polynomial f over the figure.
        sector = (y * d[:, 1] - z * d[:, 0]) * weight
        along = np.hypot(d[:, 0], d[:, 1]) * weight
        sy, sz = sector * y, sector * z
        each = np.stack([sector, sy, sz, sy * y, sz * z, sy * z, along]).sum(-1)
        now: Array = each / np.array([2.0, 3.0, 3.0, 4.0, 4.0, 4.0, 1.0])
        if np.all(np.abs(now - last) <= 1e-12 * scale):
            break
        last = now
    return np.asarray(now, float)


@lru_cache
def gauss(n: int) -> tuple[Array, Array]:
    """Nodes and weights [-] of Gauss's rule on -1 to 1."""
    nodes, weights = np.polynomial.legendre.leggauss(n)
    return nodes, weights
