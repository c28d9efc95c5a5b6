"""Saint-Venant's torsion and flexure of one piece of material, by an integral equation on its boundary.

The displacement along x of a twisted bar is a harmonic function h with a given flux through the
boundary; so is what a transverse force adds to a polynomial. With k the function conjugate to h,
f = h + i k is analytic, so that Cauchy's integral

    integral of (f(t) - f(x)) dt / (t - x) = 0        for every x on the boundary

holds. The flux gives k along each loop; the imaginary part is then an equation for h alone, whose
kernel is bounded (it is the angle under which x sees the boundary). Solved at Gauss nodes (`panels`).
Inside, the same integral over f' gives the stresses.

Torsion: S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed., 1970, chapter 10; flexure
with Poisson's ratio: the same, chapter 11 (from memory). Stress function forms differ, results agree.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from parts.strength.section.edges import Edges
from parts.strength.section.outline import Array
from parts.strength.section.panels import FINE, Fineness, Nodes, nodes_of, slope_and_sum

__all__ = ["Solved", "solve"]

_AT_ONCE = 1_000_000
"""Matrix entries handled in one batch: keeps memory to some ten MB."""
_IN_HAND = 8_000
"""Matrix entries in hand at a time: an array of them is fetched from the system only once."""


@dataclass(frozen=True)
class Solved:
    """One piece, solved for a unit rate of twist and for unit transverse forces.

    Coordinates are measured from the piece's own centroid `yc`, `zc`. Last but one index of fluxes
    and gradients: 0 twist of 1 rad/mm with G = 1 MPa, 1 force Vy, 2 force Vz, both of 1 N.
    """

    nodes: Nodes
    yc: Array
    zc: Array
    area: Array
    Iyy: Array
    Izz: Array
    Iyz: Array
    J: Array
    y_s: Array
    z_s: Array
    warping: Array  # (figures, nodes) complex, of the twist; the mean of its real part is 0
    torque: Array  # (figures, 2) [N*mm/N] moment about the centroid of the flexure under Vy, Vz
    gradient: Array  # (figures, 3, nodes) complex: h_y - i h_z at the nodes
    along: Array  # (figures, 3, nodes) [MPa] shear stress along the boundary, in its direction; across it, none
    sources: Array  # (figures, holes) complex places of the sources that feed the holes
    strength: Array  # (figures, 2, holes) their strengths under Vy, Vz
    ab: Array  # (figures, 2, 2) growth of the bending stress: a y + b z under Vy, Vz
    nu: float

    def given(self, y: Array, z: Array) -> Array:
        """The part of the stress known beforehand, tau_xy - i tau_xz (figures, 3, points) [MPa].

        y, z (figures, points) from the piece's centroid.
        """
        twist = -z - 1j * y
        a, b = self.ab[..., 0, None], self.ab[..., 1, None]
        force = _particular(y[:, None], z[:, None], a, b, self.nu)
        x = y + 1j * z
        for k in range(self.sources.shape[1]):
            gap = x - self.sources[:, k, None]
            away = 1.0 / np.where(gap == 0.0, 1.0, gap)  # 0 in the middle of a hole only
            force = force + self.strength[:, :, k, None] / (2 * np.pi) * away[:, None]
        return np.concatenate([twist[:, None], force], axis=1)

    @property
    def Iw(self) -> Array:
        """Warping constant about the shear centre (figures,) [mm^6]; nan for pieces with holes."""
        n = self.nodes
        x = n.y - self.yc[:, None] + 1j * (n.z - self.zc[:, None])
        square = _square(n, self.warping, x, (n.dy + 1j * n.dz) * n.w)
        y, z = self.y_s, self.z_s
        return np.asarray(square + 2 * self.Iyz * y * z - self.Izz * z * z - self.Iyy * y * y)

    def inside(self, y: Array, z: Array) -> tuple[Array, np.ndarray]:
        """Stress tau_xy - i tau_xz (figures, 3, points) [MPa] at points (figures, points), and whether
        each point lies in the material; outside the stress means nothing."""
        n = self.nodes
        step = ((n.dy + 1j * n.dz) * n.w)[:, None]
        # With ones beside the gradients, one product gives both integrals.
        weights = np.swapaxes(np.concatenate([self.gradient * step, step], axis=1), 1, 2)
        sums = np.empty((*y.shape, 4), complex)
        pairs = np.ascontiguousarray(weights).view(float)
        rows = max(1, _IN_HAND // n.y.size)
        for i in range(0, y.shape[1], rows):
            at = slice(i, i + rows)
            ry, rz = n.y[:, None] - y[:, at, None], n.z[:, None] - z[:, at, None]
            square = ry * ry
            square += rz * rz
            ry /= square
            rz /= square
            sums[:, at] = (ry @ pairs).view(complex) - 1j * (rz @ pairs).view(complex)
        around = sums[..., 3]
        within = np.asarray(around.imag > np.pi)
        value = np.swapaxes(sums[..., :3] / np.where(within, around, 1.0)[..., None], 1, 2)
        return value + self.given(y - self.yc[:, None], z - self.zc[:, None]), within


def _particular(y: Array, z: Array, a: Array, b: Array, nu: float) -> Array:
    """A field E_y - i E_z with divergence -(a y + b z) and the curl that compatibility asks for."""
    c, k = 1.0 / (8.0 * (1.0 + nu)), nu / (4.0 * (1.0 + nu))
    yy, zz, yz = y * y, z * z, y * z
    first = a * (c * (3 * yy + zz) + k * (yy - zz)) + b * (2 * c + 2 * k) * yz
    second = a * (2 * c + 2 * k) * yz + b * (c * (yy + 3 * zz) + k * (zz - yy))
    return np.asarray(-first + 1j * second)


def solve(edges: Edges, nu: float = 0.0, fineness: Fineness = FINE) -> Solved:
    """Solve one piece in all its figures.

    Args:
        edges [mm]: the edges of the piece, outer loop first; no edge of no length.
        nu [-]: Poisson's ratio.
        fineness [-]: how finely the boundary is cut.

    Returns:
        [-] the solution for twist and for both forces.
    """
    n = nodes_of(edges, fineness)
    area, yc, zc, Iyy, Izz, Iyz = _moments(n)
    y, z = n.y - yc[:, None], n.z - zc[:, None]
    det = Iyy * Izz - Iyz**2
    ab = np.stack([Iyy, -Iyz, -Iyz, Izz], axis=-1).reshape(-1, 2, 2) / det[:, None, None]
    sources, strength = _sources(n, yc, zc, ab)
    none = np.zeros((len(area), 3, n.w.size))
    shell = Solved(
        n, yc, zc, area, Iyy, Izz, Iyz, area, area, area, area, area, none, none,
        sources, strength, ab, nu,
    )  # fmt: skip
    given = shell.given(y, z)
    # Flux of h per unit of the panel's coordinate: none of the stress crosses the boundary.
    step = n.dy + 1j * n.dz
    passed = given * step[:, None]
    flux = -passed.imag
    conjugate = _along(n, flux)
    conjugate[:, 0] = (y * y + z * z) / 2.0
    h = _equation(n, conjugate, flux)
    ds = np.hypot(n.dy, n.dz) * n.w
    h = h - ((h * ds[:, None]).sum(-1) / ds.sum(-1)[:, None])[..., None]
    slope, _ = slope_and_sum(n.order)
    dh = np.einsum("ij,flpj->flpi", slope, n.by_panel(h)).reshape(h.shape)
    gradient = (dh + 1j * flux) / step[:, None]
    along = (dh + passed.real) / np.abs(step)[:, None]
    return _measured(replace(shell, gradient=gradient, along=along), h, flux, conjugate)


def _moments(n: Nodes) -> tuple[Array, ...]:
    y0, z0 = n.y.mean(axis=-1), n.z.mean(axis=-1)
    y, z = n.y - y0[:, None], n.z - z0[:, None]
    sector = (y * n.dz - z * n.dy) * n.w
    area = sector.sum(-1) / 2
    yc, zc = (sector * y).sum(-1) / 3 / area, (sector * z).sum(-1) / 3 / area
    Iyy = (sector * z * z).sum(-1) / 4 - area * zc * zc
    Izz = (sector * y * y).sum(-1) / 4 - area * yc * yc
    Iyz = (sector * y * z).sum(-1) / 4 - area * yc * zc
    return area, y0 + yc, z0 + zc, Iyy, Izz, Iyz


def _sources(n: Nodes, yc: Array, zc: Array, ab: Array) -> tuple[Array, Array]:
    """Where in each hole a source stands, and how strong it must be for the hole to take no flux."""
    places, strengths = [], []
    for hole in range(1, n.loops):
        on = np.repeat(n.loop == hole, n.order)
        y, z = n.y[:, on] - yc[:, None], n.z[:, on] - zc[:, None]
        step = (n.dy[:, on] + 1j * n.dz[:, on]) * n.w[on]
        sector = (y * step.imag - z * step.real) / 3.0
        first = -np.stack([(sector * y).sum(-1), (sector * z).sum(-1)], axis=-1)
        strengths.append((ab * first[:, None, :]).sum(-1))
        places.append(_well_inside(y + 1j * z, step))
    figures = n.y.shape[0]
    if not places:
        return np.zeros((figures, 0), complex), np.zeros((figures, 2, 0))
    return np.stack(places, axis=-1), np.stack(strengths, axis=-1)


def _well_inside(t: Array, step: Array) -> Array:
    """The point of a coarse grid that lies deepest inside a clockwise loop, one for each figure."""
    share = (np.arange(11) + 0.5) / 11
    u, v = (g.ravel() for g in np.meshgrid(share, share))
    low = t.real.min(-1) + 1j * t.imag.min(-1)
    width, height = np.ptp(t.real, axis=-1), np.ptp(t.imag, axis=-1)
    x = low[:, None] + width[:, None] * u + 1j * height[:, None] * v
    away = t[:, None, :] - x[:, :, None]
    inside = (step[:, None, :] / away).sum(-1).imag < -np.pi
    depth = np.where(inside, np.abs(away).min(-1), -1.0)
    return np.asarray(np.take_along_axis(x, depth.argmax(-1)[:, None], axis=-1)[:, 0])


def _along(n: Nodes, flux: Array) -> Array:
    """Integral of the flux along each loop from its start, less its mean on the loop."""
    _, total = slope_and_sum(n.order)
    by_panel = n.by_panel(flux)
    within = by_panel @ total.T
    whole = (by_panel * n.by_panel(n.w)).sum(-1)
    for loop in range(n.loops):
        on = n.loop == loop
        before = np.cumsum(whole[..., on], axis=-1) - whole[..., on]
        part = within[..., on, :] + before[..., None]
        within[..., on, :] = part - part.mean(axis=(-1, -2), keepdims=True)
    return within.reshape(flux.shape)


def _equation(n: Nodes, conjugate: Array, flux: Array) -> Array:
    """Solve for h (figures, loads, nodes), batch after batch."""
    figures, size = n.y.shape
    batch = max(1, _AT_ONCE // size**2)
    parts = []
    for i in range(0, figures, batch):
        some = slice(i, i + batch)
        angle, right = _kernels(n, some, conjugate[some])
        right -= n.w[:, None] * np.swapaxes(flux[some], 1, 2)
        diagonal = np.arange(size)
        angle[:, diagonal, diagonal] = -angle.sum(-1)
        # h is free by a constant: this picks the one whose mean along the boundary is 0.
        ds = np.hypot(n.dy[some], n.dz[some]) * n.w
        angle += (ds / ds.sum(-1, keepdims=True))[:, None, :]
        parts.append(np.swapaxes(np.linalg.solve(angle, right), 1, 2))
    return np.concatenate(parts)


def _kernels(n: Nodes, some: slice, conjugate: Array) -> tuple[Array, Array]:
    """Angle (figures, nodes, nodes) under which each node sees each other's stretch of boundary, and the integral
    (figures, nodes, loads) of the conjugate's differences over d ln r; the diagonal of the first is 0.

    Row after row of nodes, so that what is in hand stays near the processor.
    """
    y, z = n.y[some], n.z[some]
    py, pz = (n.dy[some] * n.w)[:, None], (n.dz[some] * n.w)[:, None]
    figures, size = y.shape
    # With ones beside the loads, one product gives both sums.
    loads = np.concatenate([np.swapaxes(conjugate, 1, 2), np.ones((figures, size, 1))], axis=-1)
    angle, sums = np.empty((figures, size, size)), np.empty(loads.shape)
    rows = max(1, _IN_HAND // (figures * size))
    for i in range(0, size, rows):
        at = slice(i, i + rows)
        ry, rz = y[:, None] - y[:, at, None], z[:, None] - z[:, at, None]
        square, other = ry * ry, rz * rz
        square += other
        own = np.arange(square.shape[1])
        square[:, own, i + own] = 1.0
        seen = np.multiply(ry, pz, out=angle[:, at])
        seen -= np.multiply(rz, py, out=other)
        seen /= square
        ry *= py
        rz *= pz
        ry += rz  # what remains is d ln r
        ry /= square
        np.matmul(ry, loads, out=sums[:, at])
    return angle, sums[..., -1:] * loads[..., :-1] - sums[..., :-1]


def _measured(p: Solved, h: Array, flux: Array, conjugate: Array) -> Solved:
    """Torsion constant, shear centre, warping of the twist and the moments of both flexures."""
    n = p.nodes
    y, z = n.y - p.yc[:, None], n.z - p.zc[:, None]
    step = (n.dy + 1j * n.dz) * n.w
    sector = (y * step.imag - z * step.real)[:, None]
    swing = (y * step.real + z * step.imag)[:, None]  # flux of the twist
    J = p.Iyy + p.Izz - (h[:, :1] * swing).sum(-1)[:, 0]
    # Areas of h, y h and z h from Green's second identity with r^2/4, y r^2/8 and z r^2/8.
    x, r2 = y + 1j * z, y * y + z * z
    hw, fw = h[:, 0], flux[:, 0] * n.w
    mean = (hw * sector[:, 0] / 2 - r2 / 4 * fw).sum(-1) / p.area
    hw = hw - mean[:, None]
    Iyh, Izh = _first_moments(hw, fw, y, z, step)
    det = p.Iyy * p.Izz - p.Iyz**2
    y_s = (p.Iyz * Iyh - p.Izz * Izh) / det
    z_s = (p.Iyy * Iyh - p.Iyz * Izh) / det
    # Moment of the flexure: that of h and of the sources from the boundary, of the rest in closed form.
    potential = h[:, 1:]
    for k in range(p.sources.shape[1]):
        log = np.log(np.abs(x - p.sources[:, k, None])) / (2 * np.pi)
        potential = potential + p.strength[:, :, k, None] * log[:, None]
    a, b = p.ab[..., 0, None], p.ab[..., 1, None]
    E = _particular(y[:, None], z[:, None], a, b, p.nu)
    torque = (
        -(potential * swing).sum(-1)
        + ((-y[:, None] * E.imag - z[:, None] * E.real) * sector).sum(-1) / 5
    )
    return replace(p, J=J, y_s=y_s, z_s=z_s, warping=hw + 1j * conjugate[:, 0], torque=torque)


def _first_moments(h: Array, fw: Array, y: Array, z: Array, step: Array) -> tuple[Array, Array]:
    """Integrals of y h and z h over the area."""
    yy, zz, yz = y * y, z * z, y * z
    ny, nz = step.imag, -step.real
    Iyh = (h * ((3 * yy + zz) * ny + 2 * yz * nz) - y * (yy + zz) * fw).sum(-1) / 8
    Izh = (h * (2 * yz * ny + (yy + 3 * zz) * nz) - z * (yy + zz) * fw).sum(-1) / 8
    return Iyh, Izh


def _square(n: Nodes, f: Array, x: Array, step: Array) -> Array:
    """Integral of (Re f)^2 over the area: half of |f|^2 and of Re f^2. Not for pieces with holes."""
    if np.any(n.loop != n.loop[0]):
        return np.full(len(f), np.nan)
    F = _along(n, (f * step / n.w)[:, None])[:, 0]
    both = np.conj(F) * f + f * f * np.conj(x)
    return np.asarray((both * step).sum(-1).imag / 4)
