"""Torsion and transverse shear of a section as it is: any shape, with holes, in several pieces.

Saint-Venant's solution by `warping`. What holds for figures in several pieces that are not joined in
the plane of the section (the two ears of a clevis):

- all are twisted alike: J adds, and each takes torque by its own J;
- a transverse force is shared by the second moments of the pieces about their own centroids, as in
  cantilevers side by side that bend alike;
- the shear centre is where those shares have no moment; a warping constant is not given (nan).

At a sharp re-entrant corner the elastic shear stress has no bound. No tool leaves one; draw the
fillet. Where one is drawn all the same, shear nearer to it than a stated clearance is left out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.strength.method import method
from parts.strength.section.edges import Edges, edges_of
from parts.strength.section.outline import Array, Boundary, Loop, Outline
from parts.strength.section.panels import CORNER, FINE, GRADING, Fineness, on_panel
from parts.strength.section.properties import area_and_length, properties
from parts.strength.section.warping import Solved, solve

__all__ = ["CLEARANCE", "Field", "Torsion", "fields", "shear_field", "torsion"]

CLEARANCE = 0.02
"""Default clearance from a sharp re-entrant corner, as a share of the root of the area."""

LEAST = 0.002
"""Least clearance, as such a share: nearer to the corner the numbers are not to be trusted."""

_KNOWN = "_solved"
"""Where a figure keeps its solutions."""
_ON_EDGE = tuple(np.linspace(-1.0, 1.0, 21))
_ROUND = np.linspace(0.0, 1.0, 17)[:-1]
_AXIS, _GRID = 25, 9


@dataclass(frozen=True)
class Torsion:
    """Numbers, or arrays of the figure's leading dimensions.

    `J` [mm^4]; shear centre `y_s`, `z_s` [mm] by Trefftz's definition, in the outline's own axes;
    `Iw` [mm^6] warping constant about the shear centre (nan with holes or several pieces); `stress`
    [MPa per N*mm] the largest shear stress for each unit of torque, at the place `y`, `z` [mm].
    All nan where a wall is too thin to be resolved (diameter over wall beyond about 120); J is 0,
    and the stress infinite, without area.
    """

    J: Any
    y_s: Any
    z_s: Any
    Iw: Any
    stress: Any
    y: Any
    z: Any


@dataclass(frozen=True)
class Field:
    """Shear stress at points on and inside figures of one topology, for unit resultants.

    `index` (figures,) their places in the flattened leading dimensions. `y`, `z` (figures, points)
    [mm]. `shear` (figures, 3, points): tau_xy - i tau_xz for T = 1 N*mm, Vy = 1 N, Vz = 1 N, the
    forces acting at the centroid of the whole figure, so that their torque about the shear centre is
    in; 0 within the clearance of a corner. `use` (figures, points): False outside the material.
    """

    index: np.ndarray
    y: Array
    z: Array
    shear: Array
    use: Array
    pieces: tuple[Solved, ...]


@method(
    formula="J = Iyy + Izz − ∮ h (y dy + z dz), h harmonic with flux (y dy + z dz)/ds",
    source="S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed., chapter 10; "
    "shear centre by Trefftz; from memory",
)
def torsion(
    figure: Outline | Boundary, clearance: float | None = None, fineness: Fineness = FINE
) -> Torsion:
    """Torsion constant, shear centre and largest torsional stress.

    Accuracy: about 1e-9 for convex and smooth shapes, 1e-4 with sharp re-entrant corners in J.

    Args:
        figure [mm]: outline, with any leading dimensions, or boundary.
        clearance [mm]: distance from sharp re-entrant corners within which the stress is not taken;
            None for 2 % of the root of the piece's area, and never less than 0.2 %.
        fineness [-]: how finely the boundary is cut.

    Returns:
        [-] the result, in mm, mm^4, mm^6, MPa per N*mm.
    """
    shape = figure.shape if isinstance(figure, Outline) else ()
    count = int(np.prod(shape, dtype=int))
    out = np.zeros((7, count))
    out[4] = np.inf
    for index, solved in _solved(figure, None, fineness):
        J = _sum(p.J for p in solved)
        ty, tz = _share(solved)
        out[0, index] = J
        out[1, index] = _sum(t * (p.yc + p.y_s) for t, p in zip(tz, solved, strict=True))
        out[2, index] = _sum(t * (p.zc + p.z_s) for t, p in zip(ty, solved, strict=True))
        out[3, index] = solved[0].Iw if len(solved) == 1 else np.nan
        edge = [_edge(p, clearance) for p in solved]
        y, z, use = (np.concatenate([e[k] for e in edge], axis=-1) for k in (0, 1, 3))
        value = np.concatenate([np.abs(e[2][:, 0]) for e in edge], axis=-1)
        value = np.where(use, value, 0.0) / J[:, None]
        best = value.argmax(axis=-1)
        row = np.arange(len(best))
        out[4:, index] = value[row, best], y[row, best], z[row, best]
        if not all(p.nodes.resolved for p in solved):
            out[:, index] = np.nan
    return Torsion(*(v.reshape(shape)[()] for v in out))


@method(
    formula="τ = ∇h + E, div E = −(a y + b z), curl E = ν/(1 + ν) (b y − a z), h harmonic, τ·n = 0",
    source="Saint-Venant's flexure: S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed., "
    "chapter 11; from memory",
)
def shear_field(
    figure: Outline | Boundary, nu: float = 0.3, clearance: float | None = None
) -> Field:
    """Shear stresses of one figure for unit torque and forces.

    Args:
        figure [mm]: outline without leading dimensions, or boundary.
        nu [-]: Poisson's ratio.
        clearance [mm]: as in `torsion`.

    Returns:
        [-] the field, its figures' axis of length 1.

    Raises:
        ValueError: where the figure has no area.
    """
    found = list(fields(figure, nu, clearance))
    if len(found) != 1 or len(found[0].index) != 1:
        raise ValueError("a shear field is that of one figure with an area; pick one first")
    return found[0]


def fields(
    figure: Outline | Boundary,
    nu: float = 0.3,
    clearance: float | None = None,
    fineness: Fineness = FINE,
) -> Iterator[Field]:
    """Fields of all figures of an outline that have an area, those of one topology together.

    Args:
        figure [mm]: outline, with any leading dimensions, or boundary.
        nu [-]: Poisson's ratio.
        clearance [mm]: as in `torsion`.
        fineness [-]: how finely the boundary is cut.

    Returns:
        [-] the fields.
    """
    whole = properties(figure)
    yc, zc = np.ravel(whole.y), np.ravel(whole.z)
    for index, solved in _solved(figure, nu, fineness):
        J = _sum(p.J for p in solved)[:, None]
        shares = _share(solved)
        # Moments about the centroid of the whole that come with the forces, untwisted.
        along_y = _sum(
            t * (p.torque[:, 0] - (p.zc - zc[index]))
            for t, p in zip(shares[0], solved, strict=True)
        )
        along_z = _sum(
            t * (p.torque[:, 1] + (p.yc - yc[index]))
            for t, p in zip(shares[1], solved, strict=True)
        )
        ys, zs, taus, uses = [], [], [], []
        for k, p in enumerate(solved):
            for y, z, tau, use in (_edge(p, clearance), _inside(p, clearance)):
                twist = tau[:, 0] / J
                by_y = shares[0][k][:, None] * tau[:, 1] - along_y[:, None] * twist
                by_z = shares[1][k][:, None] * tau[:, 2] - along_z[:, None] * twist
                ys.append(y)
                zs.append(z)
                taus.append(np.stack([twist, by_y, by_z], axis=1))
                uses.append(use)
        shear = np.concatenate(taus, axis=-1)
        if not all(p.nodes.resolved for p in solved):
            shear = np.full(shear.shape, np.nan)
        yield Field(
            index, np.concatenate(ys, axis=-1), np.concatenate(zs, axis=-1), shear,
            np.concatenate(uses, axis=-1), tuple(solved),
        )  # fmt: skip


def _solved(
    figure: Outline | Boundary, nu: float | None, fineness: Fineness
) -> list[tuple[np.ndarray, list[Solved]]]:
    """Figures of one topology with their pieces, solved; any Poisson's ratio will do where `nu` is None.

    A single figure keeps its solutions, as it keeps its properties: load case after load case asks for them.
    """
    kept: dict[tuple[Fineness, float], list[tuple[np.ndarray, list[Solved]]]] = {}
    if isinstance(figure, Boundary) or not figure.shape:
        kept = vars(figure).setdefault(_KNOWN, kept)
    ratios = [known for known in kept if known[0] == fineness and nu in (None, known[1])]
    key = ratios[0] if ratios else (fineness, nu or 0.0)
    if key not in kept:
        kept[key] = [
            (index, [solve(piece, key[1], fineness) for piece in pieces])
            for index, pieces in _pieces(figure)
        ]
    return kept[key]


def _sum(values: Iterator[Array]) -> Array:
    return np.asarray(np.sum(np.stack(list(values)), axis=0))


def _share(solved: list[Solved]) -> tuple[Array, Array]:
    """Share (pieces, figures) of each piece in Vy and in Vz."""
    Izz, Iyy = np.stack([p.Izz for p in solved]), np.stack([p.Iyy for p in solved])
    return Izz / Izz.sum(axis=0), Iyy / Iyy.sum(axis=0)


def _edge(p: Solved, clearance: float | None) -> tuple[Array, Array, Array, Array]:
    """Points along the boundary, ends of panels included, with their stresses, and that they count.

    Within the clearance of a sharp re-entrant corner the stress is 0, and there is a point at the
    clearance itself on either edge.
    """
    n, m = p.nodes, len(_ON_EDGE)
    # Stress times speed is smooth on every panel. Into a corner the speed falls to nothing; the
    # stress in a convex corner does too.
    along = p.along * np.hypot(n.dy, n.dz)[:, None]
    smooth = n.by_panel(np.concatenate([np.stack([n.y, n.z, n.dy, n.dz], axis=1), along], axis=1))
    found = smooth @ on_panel(_ON_EDGE, n.order).T
    limit = _limit(p, clearance)
    extra = []
    reached = np.ones(found[:, 0].shape, bool)
    for panel in np.nonzero(np.any(n.turn < -CORNER, axis=0))[0]:
        sharp = n.turn[:, panel] < -CORNER
        away = np.hypot(*(found[:, k] - found[:, k, panel, -1][:, None, None] for k in (0, 1)))
        reached &= (away >= limit[:, None, None]) | ~sharp[:, None, None]
        after = np.nonzero(n.previous == panel)[0][0]
        for edge, order in ((panel, slice(None, None, -1)), (after, slice(None))):
            if np.any(away[:, edge].max(axis=-1) < limit):
                continue  # the clearance ends on another panel, where points enough lie
            # Nodes crowd into a corner by a power: its root runs evenly along the panel.
            even = away[:, edge][:, order] ** (1.0 / GRADING)
            at = np.array(_ON_EDGE)[order]
            s = [np.interp(c, d, at) for c, d in zip(limit ** (1.0 / GRADING), even, strict=True)]
            onto = np.stack([on_panel((float(v),), n.order)[0] for v in s])
            extra.append(np.einsum("fk,fck->fc", onto, smooth[:, :, edge])[..., None])
    y, z, tau = _read(found)
    tau = np.where(reached[:, None], tau, 0.0).reshape(len(y), 3, n.panels * m)
    parts = [(y.reshape(len(y), -1), z.reshape(len(y), -1), tau), *(_read(e) for e in extra)]
    y, z, tau = (np.concatenate([part[k] for part in parts], axis=-1) for k in range(3))
    return y, z, tau, np.ones(y.shape, bool)


def _limit(p: Solved, clearance: float | None) -> Array:
    """Distance from sharp re-entrant corners within which the stress is not taken (figures,) [mm]."""
    root = np.sqrt(p.area)
    return np.maximum(CLEARANCE * root if clearance is None else clearance, LEAST * root)


def _read(found: Array) -> tuple[Array, Array, Array]:
    """y, z and tau_xy - i tau_xz from y, z, their slopes and stress times speed (figures, 7, ..., points)."""
    y, z, dy, dz = (found[:, k] for k in range(4))
    speed = np.hypot(dy, dz)
    # Within some 1e-4 of a panel from a corner the quotient is noise; in a convex one, round nothing.
    still = speed < 3e-3 * speed.max(axis=-1, keepdims=True)
    square = np.where(still, np.inf, speed * speed)
    return y, z, found[:, 4:] * ((dy - 1j * dz) / square)[:, None]


def _inside(p: Solved, clearance: float | None) -> tuple[Array, Array, Array, Array]:
    """Points along the piece's centroidal axes and on a coarse grid, those in the clearance of a corner left out."""
    n = p.nodes
    low_y, low_z = n.y.min(-1)[:, None], n.z.min(-1)[:, None]
    wide, high = np.ptp(n.y, axis=-1)[:, None], np.ptp(n.z, axis=-1)[:, None]
    axis = np.linspace(0.02, 0.98, _AXIS)
    grid_y, grid_z = (g.ravel() for g in np.meshgrid(*2 * [(np.arange(_GRID) + 0.5) / _GRID]))
    one = np.ones(_AXIS + 1)
    extra_y, extra_z = p.yc[:, None], p.zc[:, None]
    y = np.concatenate(
        [low_y + wide * axis, extra_y, extra_y * one, low_y + wide * grid_y], axis=-1
    )
    z = np.concatenate(
        [extra_z * one, low_z + high * axis, extra_z, low_z + high * grid_z], axis=-1
    )
    tau, within = p.inside(y, z)
    limit = _limit(p, clearance)[:, None]
    clear = np.ones(y.shape, bool)
    ends = n.by_panel(np.stack([n.y, n.z], axis=1)) @ on_panel((1.0,), n.order).T
    for panel in np.nonzero(np.any(n.turn < -CORNER, axis=0))[0]:
        away = np.hypot(y - ends[:, 0, panel], z - ends[:, 1, panel])
        clear &= (away >= limit) | (n.turn[:, panel, None] >= -CORNER)
    return y, z, tau, np.logical_and(within, clear)


def _pieces(figure: Outline | Boundary) -> Iterator[tuple[np.ndarray, list[Edges]]]:
    """Figures with the same edges of any length, and their pieces; figures without area left out."""
    if isinstance(figure, Boundary):
        edges = edges_of(figure)
        every = np.arange(len(edges.loop))
        p = edges.at(every, np.tile(np.linspace(0.0, 1.0, 5), (len(every), 1)))[0][0]
        length = np.hypot(*np.moveaxis(np.diff(p, axis=1), -1, 0)).sum(axis=-1)
        yield np.zeros(1, int), _joined(edges, length > 1e-9 * length.sum())
        return
    shape = figure.shape
    count = int(np.prod(shape, dtype=int))
    loops = tuple(
        Loop(
            np.broadcast_to(p.points, shape + p.points.shape[-2:]).reshape(count, -1, 2),
            np.broadcast_to(p.bulge, shape + p.bulge.shape[-1:]).reshape(count, -1),
        )
        for p in figure.loops
    )
    flat = Outline(loops)
    edges = edges_of(flat)
    length = np.hypot(*np.moveaxis(edges.end - edges.start, -1, 0))
    size = np.ptp(edges.start, axis=1).max(axis=-1)
    area = np.stack([np.broadcast_to(area_and_length(p)[0], count) for p in loops], axis=-1)
    solid = np.abs(area) > 1e-9 * size[:, None] ** 2
    there = (length > 1e-9 * size[:, None]) & solid[:, edges.loop]
    if count == 1:
        if np.any(there):
            yield np.zeros(1, int), _joined(edges, there[0])
        return
    patterns, which = np.unique(there, axis=0, return_inverse=True)
    for k, pattern in enumerate(patterns):
        index = np.nonzero(which.ravel() == k)[0]
        if np.any(pattern):
            yield index, _joined(edges.take(index), pattern)


def _joined(edges: Edges, there: np.ndarray) -> list[Edges]:
    """Each outer loop with its holes, as the first figure has them."""
    on = np.flatnonzero(there)
    p = edges.at(on, np.broadcast_to(_ROUND, (len(on), len(_ROUND))))[0][0]
    p = p - p[0, 0]  # whether a loop turns to the left must not drown in its distance
    loops = edges.loop[on]
    members = {loop: loops == loop for loop in sorted(set(loops.tolist()))}
    rings = {loop: (p[own] @ [1.0, 1j]).ravel() for loop, own in members.items()}
    turned = {k: (ring.conj() * np.roll(ring, -1)).imag.sum() for k, ring in rings.items()}
    holes = [loop for loop in rings if turned[loop] <= 0.0]
    found = []
    for loop in rings:
        if loop in holes:
            continue
        inner = [h for h in holes if _surrounds(rings[loop], rings[h][0])]
        whole = [on[members[m]] for m in (loop, *inner)]
        number = np.repeat(np.arange(len(whole)), [len(one) for one in whole])
        order = np.concatenate(whole)
        curves = tuple(edges.curves[e] for e in order) if edges.curves else ()
        found.append(
            Edges(number, edges.start[:, order], edges.end[:, order], edges.bulge[:, order], curves)
        )
    return found


def _surrounds(ring: Array, point: complex) -> bool:
    away = ring - point
    return bool(np.angle(np.roll(away, -1) / away).sum() > np.pi)
