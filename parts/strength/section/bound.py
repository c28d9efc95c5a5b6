"""A quick bound of the von Mises stress for scans over thousands of sections.

Every term is a closed form on the safe side of `stress.von_mises`, so that a scan can rank sections and
leave the ranked few to the exact solution. It is coarse by design: torsion typically 2 to 3 times high,
transverse shear 1.3 to 2 times; the normal stress is exact.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.strength.method import method
from parts.strength.section.outline import Array, Loop, Outline, arc_at, farthest
from parts.strength.section.properties import Section, area_and_length, properties, ratio
from parts.strength.section.stress import Resultants

__all__ = ["StressBound", "least_torsion_constant", "not_curled", "stress_bound"]

CHORDS = 12
"""Chords that an arc is taken by in cuts and in the search for the least wall."""
FOUR = np.array([(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)])
LEVELS = 15
"""Cuts on which the shear of a transverse force is averaged."""
UNEVEN = 1.5
"""Allowance for shear that is not even along a cut: walls aslant to it, one wall thinner than another."""
BESIDE = 1.5
"""Further allowance where the figure has holes or hollows: a small hole doubles the shear beside it."""
REENTRANT = 0.02
"""Radius counted at a sharp re-entrant corner, as a share of the root of the area."""


@dataclass(frozen=True)
class StressBound:
    """Bounds [MPa]: `von_mises` of the largest `normal` stress (exact), the `shear` of the forces and
    that of the `torsion`, taken together without regard to place or direction."""

    von_mises: Any
    normal: Any
    shear: Any
    torsion: Any


@method(
    formula="σ_v ≤ √(σ² + 3 (τ_V + τ_T)²), τ_V = 1.5 f V Q/(I b), τ_T = k 4 A_f/P_o T/J",
    source="composed here of the closed forms that the description names",
    valid="not an open section curled up like a slit tube: 4 A³/(3 P²) ≥ 0.4 A⁴/(4 π² Ip), or holes",
    holds=lambda outline, resultants, nu=0.3: not_curled(outline),
)
def stress_bound(outline: Outline, resultants: Resultants, nu: float = 0.3) -> StressBound:
    """Bound of the largest von Mises stress in each figure; broadcasts, solves nothing.

    - normal: N/A and bending at the extreme fibres, vertices and arcs: exact;
    - shear: V Q / (I b) about the principal axes, the worst of 15 cuts, times 1.5 for what is uneven
      along a cut, 1.5 again beside holes and hollows, and 1 + 1.5 nu/(1 + nu) breadth/depth for broad
      sections (common practice, no source; Timoshenko's rectangles lie below it);
    - torsion: torque |T| + |V| e, where e is twice the difference of the two extreme fibre distances (0
      in a symmetric section); stress of 4 A_f/P_o T/J with `least_torsion_constant`, A_f and P_o area and
      length of the outer loop, and 1.74 (t/r)^(1/3) at concave radii (Trefftz's corner factor, from
      memory; the exact solution gives about 0.6 of it for fillets below a third of the thickness), t the
      thickness 4 A/P.

    Not bounded: sections whose shear centre lies farther off than e says (`not_curled`), and
    clearances below 2 % of the root of the area at sharp re-entrant corners. Pieces side by side count
    as one figure that shares its shear flow.

    Args:
        outline [mm]: with any leading dimensions.
        resultants [N, N*mm]: broadcast against those.
        nu [-]: Poisson's ratio.

    Returns:
        [MPa] the bounds; inf without area.
    """
    s = properties(outline)
    p, q = s.curvature(resultants.My, resultants.Mz)
    slope = np.stack(np.broadcast_arrays(p, q), axis=-1)
    middle = p * s.y + q * s.z
    axial = ratio(resultants.N, s.area)
    high, low = farthest(outline, np.stack([slope, -slope]))[0]
    normal = np.maximum(np.abs(axial + high - middle), np.abs(axial - low - middle))
    concave = _least_concave_radius(outline, s)
    shear = _shear(outline, s, resultants, nu) * np.where(np.isfinite(concave), BESIDE, 1.0)
    Vy, Vz, T = (np.abs(np.asarray(v, float)) for v in (resultants.Vy, resultants.Vz, resultants.T))
    torque = T + 2.0 * (Vz * np.abs(s.y_max + s.y_min) + Vy * np.abs(s.z_max + s.z_min))
    torsion = torque * _torsion(outline, s, concave)
    total = np.sqrt(normal**2 + 3.0 * (shear + torsion) ** 2)
    # Without area nothing can be borne, whatever is asked.
    none = np.asarray(s.area) <= 0.0
    return StressBound(*(np.where(none, np.inf, v)[()] for v in (total, normal, shear, torsion)))


def not_curled(outline: Outline) -> Any:
    """Whether the shear centre lies as near as `stress_bound` counts on.

    A thin open section has J = 4 A^3/(3 P^2) however it is bent; Saint-Venant's A^4/(4 pi^2 Ip) for
    compact sections exceeds that the more, the more it is curled round its centroid: by a tenth less
    for a straight strip, 1.5 times for an angle, 3 times for a slit tube.

    Args:
        outline [mm]: with any leading dimensions.

    Returns:
        [-] True where it does.
    """
    s = properties(outline)
    open_section = ratio(4.0 * s.area**3, 3.0 * s.perimeter**2)
    compact = ratio(s.area**4, 4.0 * np.pi**2 * s.Ip)
    return (open_section >= 0.4 * compact) | bool(_sorted(outline)[1])


def least_torsion_constant(outline: Outline) -> Any:
    """A lower bound of the torsion constant, from area, perimeter and least wall.

    For any figure J >= 4 A^3 / (3 P^2) (G. Polya, Two more inequalities between physical and geometrical
    quantities, J. Indian Math. Soc. 24, 1960, from memory; reached by a thin strip). With more than one
    hole, k in all, the perimeters of inner parallel curves may grow: P is taken longer by
    2 (k - 1) sqrt(pi A). Pieces side by side without holes add up, each with its own A and P. A hollow
    figure has also J >= 4 w (A_f - P_o w/2)^2 / P_o, with A_f and P_o of the outer loop and w its least
    distance from a hole: the energy of a stress function that rises evenly over w. It is Bredt's formula
    for the least wall.

    Args:
        outline [mm]: with any leading dimensions.

    Returns:
        [mm^4] the bound.
    """
    return _least_torsion_constant(properties(outline), *_sorted(outline))


def _least_torsion_constant(s: Section, outer: list[_Ring], holes: list[_Ring]) -> Any:
    if len(outer) > 1 and not holes:
        # Pieces side by side twist alike: each bears its own share.
        return sum(ratio(4.0 * ring.area**3, 3.0 * ring.length**2) for ring in outer)
    longer = 2.0 * max(len(holes) - 1, 0) * np.sqrt(np.pi * np.maximum(s.area, 0.0))
    J = ratio(4.0 * s.area**3, 3.0 * (s.perimeter + longer) ** 2)
    if len(outer) == 1 and holes:
        shell = outer[0]
        w = _least_wall(shell.loop, [hole.loop for hole in holes])
        closed = np.maximum(shell.area - shell.length * w / 2.0, 0.0)
        J = np.maximum(J, ratio(4.0 * w * closed**2, shell.length))
    return J


def _torsion(outline: Outline, s: Section, concave: Any) -> Any:
    """Bound of the torsional stress per unit of torque [MPa per N*mm]; `concave` the least such radius."""
    outer, holes = _sorted(outline)
    steep = [ratio(4.0 * ring.area, ring.length) for ring in outer]
    t = ratio(4.0 * s.area, s.perimeter)
    factor = np.maximum(1.0, 1.74 * np.cbrt(ratio(t, concave)))
    J = _least_torsion_constant(s, outer, holes)
    return factor * ratio(np.maximum.reduce(np.broadcast_arrays(*steep)), J)


@dataclass(frozen=True)
class _Ring:
    """A loop with the area [mm^2] within it, negative for a hole, and its length [mm]."""

    loop: Loop
    area: Array
    length: Array


def _sorted(outline: Outline) -> tuple[list[_Ring], list[_Ring]]:
    """Outer loops and holes, by the sign of their area in any figure."""
    outer: list[_Ring] = []
    holes: list[_Ring] = []
    for loop in outline.loops:
        ring = _Ring(loop, *area_and_length(loop))
        (holes if np.any(ring.area < 0.0) else outer).append(ring)
    return outer, holes


def _shear(outline: Outline, s: Section, resultants: Resultants, nu: float) -> Any:
    """Bound of the shear stress [MPa] of both forces, along the principal axes and added."""
    Vy, Vz = np.asarray(resultants.Vy, float), np.asarray(resultants.Vz, float)
    c, n = np.cos(s.angle), np.sin(s.angle)
    turned = outline.rotated(-np.asarray(s.angle))
    chains = [_chords(loop) for loop in turned.loops]
    y, z = c * s.y + n * s.z, c * s.z - n * s.y
    right, left, top, bottom = farthest(turned, FOUR.reshape(4, *(1,) * len(turned.shape), 2))[0]
    wide, deep = (-left - y, right - y), (-bottom - z, top - z)
    first = _worst_cut(chains, z, deep, right + left, s.I1, nu)
    # Turned by a quarter, what was y is z.
    quarter = [np.stack([-chain[..., 1], chain[..., 0]], axis=-1) for chain in chains]
    second = _worst_cut(quarter, y, wide, top + bottom, s.I2, nu)
    return np.abs(c * Vz - n * Vy) * first + np.abs(c * Vy + n * Vz) * second


def _worst_cut(
    chains: list[Array], centre: Any, ends: tuple[Any, Any], breadth: Any, inertia: Any, nu: float
) -> Any:
    """Largest Q/(I b) over cuts across z, with its allowances [1/mm^2].

    `chains` are the loops by chords, `centre` is z of the centroid, `ends` the extreme fibres from it.
    """
    low, high = (np.asarray(end) for end in ends)
    depth = high - low
    shares = ((np.arange(LEVELS) + 0.5) / LEVELS).reshape(LEVELS, *(1,) * depth.ndim)
    # One cut goes through the centroid, and the last below everything: what its first moment differs from 0
    # by is that of chords against arcs, and belongs to both sides of a cut alike.
    level = np.concatenate([low + shares * depth, np.stack([np.zeros(depth.shape), low])])
    cuts = [_cut(chain, np.asarray(centre + level)) for chain in chains]
    width = np.asarray(sum(b for b, _, _ in cuts))[:-1]
    Q = np.asarray(sum(moment + area * level for _, area, moment in cuts))
    worst = np.abs(ratio(Q[:-1] - Q[-1] / 2.0, inertia * width)).max(axis=0)
    return UNEVEN * (1.0 + 1.5 * nu / (1.0 + nu) * ratio(breadth, depth)) * worst


def _cut(points: Array, level: Array) -> tuple[Array, Array, Array]:
    """Width at z = level, area above and its first moment about that level, of a chain of chords."""
    y, z = points[..., 0], points[..., 1] - level[..., None]
    Y, Z = np.roll(y, -1, axis=-1), np.roll(z, -1, axis=-1)
    p, P = np.maximum(z, 0.0), np.maximum(Z, 0.0)
    rise = np.where(z == Z, 1.0, Z - z)
    part = -(Y - y) * np.where(z == Z, z > 0.0, (P - p) / rise)
    crossing = (Z > 0.0).astype(float) - (z > 0.0)
    width = (crossing * (y - z * (Y - y) / rise)).sum(-1)
    return width, (part * (p + P)).sum(-1) / 2.0, (part * (p * p + p * P + P * P)).sum(-1) / 6.0


def _least_concave_radius(outline: Outline, s: Section) -> Any:
    """Least radius [mm] of clockwise arcs and of sharp re-entrant corners; inf where there are none."""
    sharp = REENTRANT * np.sqrt(np.maximum(s.area, 0.0))
    least = np.full(np.shape(s.area), np.inf)
    for loop in outline.loops:
        t = np.array([0.0, 1.0])
        p, q = loop.points, loop.ends
        d = arc_at(p, q, loop.bulge, t)[1]
        chord = np.hypot(*np.moveaxis(q - p, -1, 0))
        there = chord > 1e-9 * (s.perimeter[..., None] if np.ndim(s.perimeter) else s.perimeter)
        a = 2.0 * np.arctan(loop.bulge)
        radius = np.where(
            (a < 0.0) & there, chord / 2.0 / np.maximum(np.abs(np.sin(a)), 1e-300), np.inf
        )
        least = np.minimum(least, radius.min(axis=-1))
        into, out = d[..., 1, :], np.roll(d[..., 0, :], -1, axis=-2)
        cross = into[..., 0] * out[..., 1] - into[..., 1] * out[..., 0]
        turn = np.arctan2(cross, (into * out).sum(-1))
        # Where an edge of no length lies between, the turn cannot be read here: count it as sharp.
        corner = np.any((turn < -REENTRANT) | ~there, axis=-1)
        least = np.minimum(least, np.where(corner, sharp, np.inf))
    return least


def _least_wall(outer: Loop, holes: list[Loop]) -> Array:
    """Least distance [mm] between the outer loop and a hole, by chords of arcs."""
    least = np.asarray(np.inf)
    shell = _chords(outer)
    for hole in holes:
        ring = _chords(hole)
        least = np.minimum(least, np.minimum(_nearest(shell, ring), _nearest(ring, shell)))
    return least


def _chords(loop: Loop) -> Array:
    """A loop with its arcs as chords; edges that are straight in every figure stay whole."""
    bent = np.any(loop.bulge != 0.0, axis=tuple(range(loop.bulge.ndim - 1)))
    if not np.any(bent):
        return loop.points
    arcs = arc_at(
        loop.points[..., bent, :],
        loop.ends[..., bent, :],
        loop.bulge[..., bent],
        np.arange(CHORDS) / CHORDS,
    )[0]
    edge = np.repeat(np.arange(len(bent)), np.where(bent, CHORDS, 1))
    chain = np.broadcast_to(loop.points, (*loop.shape, len(bent), 2))[..., edge, :]
    chain[..., bent[edge], :] = arcs.reshape(*arcs.shape[:-3], -1, 2)
    return np.asarray(chain)


def _nearest(points: Array, ring: Array) -> Array:
    """Least distance of points (..., n, 2) from the closed chain of chords through ring (..., m, 2)."""
    p, a = points[..., :, None, :], ring[..., None, :, :]
    b = np.roll(a, -1, axis=-2)
    along, off = b - a, p - a
    size = (along**2).sum(-1)
    share = np.clip((off * along).sum(-1) / np.where(size == 0.0, 1.0, size), 0.0, 1.0)
    gap = off - share[..., None] * along
    return np.asarray(np.hypot(gap[..., 0], gap[..., 1]).min(axis=(-1, -2)))
