"""The outline and the windows of a plate that follow from where its points are.

Every point carries a pad, a disc about it. The outline runs round the pads: arcs of the discs, joined by their
common tangents or, waisted, by hollow arcs tangent to both. The points are joined by the webs of a Delaunay
triangulation; between the webs lie the windows. All figures are exact lines and arcs, formed one plate at a
time: which pads meet the outline, and which triangles hold a window, depends on the places.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import NamedTuple

import numpy as np

from parts.features.plate.loops import distance, sampled
from parts.strength.section.outline import Array, Loop, Outline
from parts.strength.section.properties import area_and_length, properties
from parts.strength.vectors import cross

SAME = 1e-9
"""Lengths [mm] and angles [rad] below this are one."""
LEAST_SAG = 0.5
"""A waist shallower than this [mm] is left straight."""
LEAST_STRAIGHT = 0.3
"""Least straight stretch [mm] between two corners of a window."""
LEAST_WINDOW = 12.0
"""Least area of a window in squares of its corner radius [-]; a smaller one saves no weight."""
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


def _unit(angle: float) -> Array:
    return np.array([np.cos(angle), np.sin(angle)])


def _angle(vector: Array) -> float:
    return float(np.arctan2(vector[1], vector[0]))


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
            outward = (_angle(span) - np.arccos(fall / length)) % (2.0 * np.pi)
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

    A triangle is kept where no other point lies in its circumcircle. Of four points on one circle, as in every
    rectangle, a slight lift by the order of the points decides, the same on every run.

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
    return tangent.outward if tangent.centre is None else _angle(tangent.centre - pads.centres[pad])


def outline(pads: Pads, webs: Webs, mesh: Sequence[tuple[int, int, int]]) -> Loop:
    """The outline round the pads, counter-clockwise.

    Args:
        pads: the pads.
        webs: the webs that must be kept.
        mesh: the triangles between the points.

    Returns:
        A loop of lines and arcs.
    """
    sides = [waisted(pads, webs, mesh, side) if webs.waisted else side for side in hull(pads)]
    points: list[Array] = []
    bulges: list[float] = []
    for before, side in zip([sides[-1], *sides[:-1]], sides, strict=True):
        pad = side.i
        start, end = _touch(pads, before, pad), _touch(pads, side, pad)
        turn = (end - start) % (2.0 * np.pi)
        pieces = 1 + int(turn > 0.75 * np.pi)
        for k in range(pieces):
            points.append(pads.centres[pad] + pads.radii[pad] * _unit(start + turn * k / pieces))
            bulges.append(float(np.tan(turn / pieces / 4.0)))
        points.append(pads.centres[pad] + pads.radii[pad] * _unit(end))
        bulges.append(_hollow(pads, side))
    return Loop(np.array(points), np.array(bulges))


def _hollow(pads: Pads, side: Tangent) -> float:
    if side.centre is None:
        return 0.0
    first, last = (_angle(pads.centres[k] - side.centre) for k in (side.i, side.j))
    return -float(np.tan(((first - last) % (2.0 * np.pi)) / 4.0))


def _corner(
    point: Array, radius: float, into: Array, out: Array, webs: Webs
) -> tuple[list[Array], list[float]]:
    """One corner of a window: points and bulges from the edge walked `into` it to the edge `out` of it.

    One fillet tangent to both edges where it clears the pad; else the pad's circle, a fillet at each end.
    """
    half, r = webs.width / 2.0, webs.corner
    left_in, left_out = np.array([-into[1], into[0]]), np.array([-out[1], out[0]])
    sine = float(np.sqrt((1.0 - into @ out) / 2.0))  # of half the turn: cosine of half the corner
    a = np.pi / 2.0 - np.arcsin(np.clip(sine, 0.0, 1.0))
    clear = (radius * np.sin(a) - half) / (1.0 - np.sin(a))
    if clear <= r:
        bisector = (left_in + left_out) / np.hypot(*(left_in + left_out))
        centre = point + (half + r) / np.sin(a) * bisector
        return [centre - r * left_in, centre - r * left_out], [
            float(np.tan((np.pi - 2.0 * a) / 4.0)),
            0.0,
        ]
    run = np.sqrt((radius + r) ** 2 - (half + r) ** 2)
    first = point + left_in * (half + r) - into * run
    last = point + left_out * (half + r) + out * run
    u, v = (first - point) / (radius + r), (last - point) / (radius + r)
    turn_in = (_angle(-u) - _angle(-left_in)) % (2.0 * np.pi)
    turn_pad = (_angle(u) - _angle(v)) % (2.0 * np.pi)
    turn_out = (_angle(-left_out) - _angle(-v)) % (2.0 * np.pi)
    points = [first - r * left_in, point + radius * u, point + radius * v, last - r * left_out]
    turns = (turn_in, -turn_pad, turn_out)
    return points, [*(float(np.tan(turn / 4.0)) for turn in turns), 0.0]


def _window(pads: Pads, webs: Webs, triangle: tuple[int, int, int]) -> Loop | None:
    """The window of a triangle, counter-clockwise; None where it has no room."""
    corners = pads.centres[list(triangle)]
    ways = np.roll(corners, -1, axis=0) - corners
    ways /= np.hypot(*ways.T)[:, None]
    runs = []
    for k in range(3):
        beyond = np.array([-ways[k - 2][1], ways[k - 2][0]]) @ (corners[k] - corners[k - 2])
        if beyond - webs.width / 2.0 < pads.radii[triangle[k]] + 2.0 * webs.corner:
            return None
        runs.append(_corner(corners[k], float(pads.radii[triangle[k]]), ways[k - 1], ways[k], webs))
    for k in range(3):
        straight = (runs[(k + 1) % 3][0][0] - runs[k][0][-1]) @ ways[k]
        if straight < LEAST_STRAIGHT:
            return None
    return Loop(
        np.array([p for points, _ in runs for p in points]),
        np.array([b for _, bulges in runs for b in bulges]),
    )


def crosses(triangle: Array, start: Array, end: Array) -> bool:
    """Whether a straight line from start to end passes through the inside of a triangle (3, 2)."""
    t = np.linspace(0.0, 1.0, 201)[1:-1, None]
    line = start + t * (end - start)
    inside = np.full(len(line), True)
    for k in range(3):
        along, off = triangle[(k + 1) % 3] - triangle[k], line - triangle[k]
        inside &= along[0] * off[:, 1] - along[1] * off[:, 0] > 1e-6 * float(along @ along)
    return bool(np.any(inside))


class Figure(NamedTuple):
    """The plane figure of a plate: its outline and its windows, both counter-clockwise."""

    outer: Loop
    windows: tuple[Loop, ...]
    mesh: tuple[tuple[int, int, int], ...]

    def as_outline(self) -> Outline:
        """The plate with its windows as holes."""
        return Outline((self.outer, *(window.reversed() for window in self.windows)))

    @property
    def area(self) -> float:
        """Area of the plate without its windows [mm^2]."""
        return float(properties(self.as_outline()).area)


def figure(pads: Pads, webs: Webs, solid_lines: Sequence[tuple[int, int]] = ()) -> Figure:
    """Form the outline and the windows.

    Args:
        pads: the pads of the points.
        webs: the webs that must be kept, and how windows and waists are cut.
        solid_lines: pairs of points; no window is cut in a triangle that the straight line between them
            crosses.

    Returns:
        The figure. A window is left out where it would come nearer than a web to the outline, touch the pad
        of another point, or be too small to be worth its cutting.
    """
    mesh = triangles(pads.centres)
    outer = outline(pads, webs, mesh)
    windows = []
    for triangle in mesh if webs.windows else ():
        window = _window(pads, webs, triangle)
        if window is not None and _fits(window, triangle, pads, webs, outer, solid_lines):
            windows.append(window)
    return Figure(outer, tuple(windows), tuple(mesh))


def _fits(
    window: Loop,
    triangle: tuple[int, int, int],
    pads: Pads,
    webs: Webs,
    outer: Loop,
    solid_lines: Sequence[tuple[int, int]],
) -> bool:
    if float(area_and_length(window)[0]) < LEAST_WINDOW * webs.corner**2:
        return False
    corners = pads.centres[list(triangle)]
    if any(crosses(corners, pads.centres[a], pads.centres[b]) for a, b in solid_lines):
        return False
    rim = sampled(window)
    if np.min(distance(rim, outer)) < webs.width - 1e-6:
        return False
    gaps = np.hypot(*np.moveaxis(rim[:, None, :] - pads.centres[None], -1, 0)) - pads.radii
    return bool(np.min(gaps) >= -1e-6)
