"""The outline and the windows of a plate that follow from where its points are.

Every point carries a pad, a disc about it. The outline runs round the pads: arcs of the discs, joined by their
common tangents or, waisted, by hollow arcs tangent to both. The points are joined by the webs of a Delaunay
triangulation; between the webs lie the windows. All figures are exact lines and arcs, formed one plate at a
time: which pads meet the outline, and which triangles hold a window, depends on the places.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from parts.strength.section.outline import Array, Loop
from parts.strength.vectors import cross

SAME = 1e-9
"""Lengths [mm] and angles [rad] below this are one."""
LEAST_SAG = 0.5
"""A waist shallower than this [mm] is left straight."""
TIE = 1e-7


@dataclass(frozen=True)
class Pads:
    """Discs about the points of a plate: centres (n, 2) and radii (n,) [mm]."""

    centres: Array
    radii: Array

    def __len__(self) -> int:
        return len(self.radii)


class Webs(NamedTuple):
    """What a plate keeps: width of its webs, and how its windows and waists are cut [mm].

    `corner` is the radius of the windows' corners; `waist` the least radius of a waist. `windows` and
    `waisted` say whether there are any.
    """

    width: float
    corner: float
    waist: float
    windows: bool = True
    waisted: bool = True


class Tangent(NamedTuple):
    """A stretch of the outline from pad `i` to pad `j`, walked counter-clockwise about the plate.

    `outward` is the angle of the outward normal. A waist has the `centre` and `radius` of its hollow arc.
    """

    i: int
    j: int
    outward: float
    centre: Array | None = None
    radius: float = np.inf


class Ears(NamedTuple):
    """Two ears beside a slit, as one block that stands out of a pad: `turn` is its way [rad], `half` half its height
    across that way and `reach` from the middle of the pad to its end [mm]."""

    turn: float
    half: float
    reach: float


def _unit(angle: float) -> Array:
    return np.array([np.cos(angle), np.sin(angle)])


def angle_of(vector: Array) -> float:
    """The angle of a vector (2,) [rad]."""
    return float(np.arctan2(vector[1], vector[0]))


NO_EARS: Mapping[int, Ears] = MappingProxyType({})


def hull(pads: Pads) -> list[Tangent]:
    """The tangents of the convex hull of discs, in the order in which the outline is walked.

    Args:
        pads: the discs; none may hold all others.

    Returns:
        The tangents, by the angle of their outward normals.
    """
    found: list[tuple[float, float, Tangent]] = []
    for i in range(len(pads)):
        for j in range(len(pads)):
            span = pads.centres[j] - pads.centres[i]
            length = float(np.hypot(*span))
            fall = float(pads.radii[i] - pads.radii[j])
            if i == j or length <= abs(fall) + SAME:
                continue
            outward = (angle_of(span) - np.arccos(fall / length)) % (2.0 * np.pi)
            reach = pads.centres @ _unit(outward) + pads.radii
            if np.all(reach <= reach[i] + 1e3 * SAME):
                found.append((outward, length, Tangent(i, j, outward)))
    kept: list[tuple[float, float, Tangent]] = []
    for one in sorted(found, key=lambda entry: (entry[0], -entry[1])):
        # Three pads on one tangent: the longest stretch stands for its parts.
        if all(abs(np.sin((one[0] - k[0]) / 2.0)) > 1e-7 for k in kept):
            kept.append(one)
    return [tangent for _, _, tangent in kept]


def triangles(centres: Array) -> list[tuple[int, int, int]]:
    """Delaunay triangles of a few points, counter-clockwise.

    A triangle is kept where no other point lies in its circumcircle. Where four points lie on one circle, as in every
    rectangle, the order of the points decides, the same on every run.

    Args:
        centres: points (n, 2) [mm].

    Returns:
        Triples of indices.
    """
    points = np.asarray(centres, float)
    middle = points - points.mean(axis=0)
    size = float(np.max(np.hypot(*middle.T)))
    lift = (middle**2).sum(axis=1) + TIE * size**2 * np.sin(1.0 + 2.4 * np.arange(len(points)))
    raised = np.column_stack([middle, lift])
    found = []
    for a, b, c in combinations(range(len(points)), 3):
        (ux, uy), (vx, vy) = middle[b] - middle[a], middle[c] - middle[a]
        twice = ux * vy - uy * vx
        if abs(twice) <= 1e-6 * size**2:
            continue
        if twice < 0.0:
            b, c = c, b
        normal = cross(raised[b] - raised[a], raised[c] - raised[a])
        above = (raised - raised[a]) @ normal
        if np.all(above >= -SAME * size * abs(twice)):
            found.append((a, b, c))
    return found


def _edges(mesh: Sequence[tuple[int, int, int]]) -> list[tuple[int, int]]:
    return sorted({(min(p), max(p)) for a, b, c in mesh for p in ((a, b), (b, c), (c, a))})


def _to_segments(point: Array, starts: Array, ends: Array) -> Array:
    """Distance of a point from each of some segments."""
    along = ends - starts
    share = ((point - starts) * along).sum(-1) / np.maximum((along**2).sum(-1), 1e-300)
    foot = starts + np.clip(share, 0.0, 1.0)[:, None] * along
    return np.asarray(np.hypot(*(point - foot).T))


def _waist_centre(pads: Pads, tangent: Tangent, radius: float) -> Array:
    """Centre of the arc of that radius that touches both pads from outside."""
    p, r, q, s = (pads.centres[tangent.i], pads.radii[tangent.i], pads.centres[tangent.j],
    pads.radii[tangent.j])  # fmt: skip
    length = float(np.hypot(*(q - p)))
    along = (q - p) / length
    across = np.array([along[1], -along[0]])
    u = (length**2 + (r + radius) ** 2 - (s + radius) ** 2) / (2.0 * length)
    return np.asarray(p + u * along + np.sqrt(max((r + radius) ** 2 - u**2, 0.0)) * across)


def _deepest_radius(pads: Pads, tangent: Tangent, half_web: float) -> float:
    """Radius of the waist whose arc comes as near as half a web to the line between the points.

    With u = a + b ρ along that line and h = ρ + g off it, u² + h² = (R_i + ρ)² is quadratic in ρ.
    """
    r, s = float(pads.radii[tangent.i]), float(pads.radii[tangent.j])
    length = float(np.hypot(*(pads.centres[tangent.j] - pads.centres[tangent.i])))
    a, b = (length**2 + r**2 - s**2) / (2.0 * length), (r - s) / length
    half, constant = a * b + half_web - r, a**2 + half_web**2 - r**2
    root = half**2 - b**2 * constant
    if half >= 0.0 or root < 0.0 or constant <= 0.0:
        return np.inf
    return float(constant / (-half + np.sqrt(root)))


def waisted(
    pads: Pads, webs: Webs, mesh: Sequence[tuple[int, int, int]], tangent: Tangent
) -> Tangent:
    """The tangent drawn in to a hollow arc, as deep as the webs and the other pads allow.

    Args:
        pads: the pads.
        webs: the webs that must be kept.
        mesh: the triangles whose edges are the webs' middles.
        tangent: a stretch of the hull.

    Returns:
        The waist; the straight tangent where there is no room for one.
    """
    i, j, half = tangent.i, tangent.j, webs.width / 2.0
    least = max(_deepest_radius(pads, tangent, half), webs.waist)
    length = float(np.hypot(*(pads.centres[j] - pads.centres[i])))
    if (
        not np.isfinite(least)
        or min(pads.radii[i], pads.radii[j]) <= half
        or length < 2.0 * webs.corner
    ):
        return tangent
    others = [k for k in range(len(pads)) if k not in (i, j)]
    others_of_mesh = [edge for edge in _edges(mesh) if edge != (min(i, j), max(i, j))]
    ribs = np.array(others_of_mesh, int).reshape(-1, 2)

    def room(radius: float) -> float:
        centre = _waist_centre(pads, tangent, radius)
        to_pads = np.hypot(*(pads.centres[others] - centre).T) - pads.radii[others]
        to_ribs = _to_segments(centre, pads.centres[ribs[:, 0]], pads.centres[ribs[:, 1]]) - half
        return float(np.min(np.concatenate([to_pads, to_ribs, [np.inf]])) - radius)

    radius = least
    if room(least) < 0.0:
        flat, deep = 0.0, 1.0 / least
        for _ in range(60):
            middle = (flat + deep) / 2.0
            flat, deep = (middle, deep) if room(1.0 / middle) >= 0.0 else (flat, middle)
        if flat <= 0.0:
            return tangent
        radius = 1.0 / flat
    centre = _waist_centre(pads, tangent, radius)
    sag = radius - float((centre - pads.centres[i]) @ _unit(tangent.outward) - pads.radii[i])
    if sag < LEAST_SAG:
        return tangent
    return Tangent(i, j, tangent.outward, centre, radius)


def _touch(pads: Pads, tangent: Tangent, pad: int) -> float:
    """Angle about a pad at which a tangent or waist touches it."""
    return (
        tangent.outward if tangent.centre is None else angle_of(tangent.centre - pads.centres[pad])
    )


def outline(
    pads: Pads,
    webs: Webs,
    mesh: Sequence[tuple[int, int, int]],
    ears: Mapping[int, Ears] = NO_EARS,
) -> Loop:
    """The outline round the pads, counter-clockwise.

    Args:
        pads: the pads.
        webs: the webs that must be kept.
        mesh: the triangles between the points.
        ears: what stands out of a pad, by the number of the pad.

    Returns:
        A loop of lines and arcs.
    """
    sides = [waisted(pads, webs, mesh, side) if webs.waisted else side for side in hull(pads)]
    points: list[Array] = []
    bulges: list[float] = []
    for before, side in zip([sides[-1], *sides[:-1]], sides, strict=True):
        pad = side.i
        start, end = _touch(pads, before, pad), _touch(pads, side, pad)
        middle, radius = pads.centres[pad], float(pads.radii[pad])
        if pad in ears:
            out = ears[pad]
            side_on = float(np.arcsin(out.half / radius))
            _round(points, bulges, middle, radius, start, out.turn - side_on)
            along, across = _unit(out.turn), _unit(out.turn + np.pi / 2.0)
            points += [middle + out.reach * along + s * out.half * across for s in (-1.0, 1.0)]
            bulges += [0.0, 0.0, 0.0]
            start = out.turn + side_on
        _round(points, bulges, middle, radius, start, end)
        bulges.append(_hollow(pads, side))
    return Loop(np.array(points), np.array(bulges))


def _round(
    points: list[Array], bulges: list[float], middle: Array, radius: float, start: float, end: float
) -> None:
    """Add an arc of a pad from one angle to another; what leaves its end is not among the bulges yet."""
    turn = (end - start) % (2.0 * np.pi)
    pieces = 1 + int(turn > 0.75 * np.pi)
    for k in range(pieces):
        points.append(middle + radius * _unit(start + turn * k / pieces))
        bulges.append(float(np.tan(turn / pieces / 4.0)))
    points.append(middle + radius * _unit(end))


def _hollow(pads: Pads, side: Tangent) -> float:
    if side.centre is None:
        return 0.0
    first, last = (angle_of(pads.centres[k] - side.centre) for k in (side.i, side.j))
    return -float(np.tan(((first - last) % (2.0 * np.pi)) / 4.0))
