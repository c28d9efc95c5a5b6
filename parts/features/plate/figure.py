"""The plane figure of a plate: its outline with the windows between its webs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np

from parts.features.plate.loops import distance, sampled
from parts.features.plate.outline import NO_EARS, Ears, Pads, Webs, angle_of, outline, triangles
from parts.strength.section.outline import Array, Loop, Outline
from parts.strength.section.properties import area_and_length, properties

LEAST_STRAIGHT = 0.3
"""Least straight stretch [mm] between two corners of a window."""
LEAST_WINDOW = 12.0
"""Least area of a window in squares of its corner radius [-]; a smaller one saves no weight."""


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
    turn_in = (angle_of(-u) - angle_of(-left_in)) % (2.0 * np.pi)
    turn_pad = (angle_of(u) - angle_of(v)) % (2.0 * np.pi)
    turn_out = (angle_of(-left_out) - angle_of(-v)) % (2.0 * np.pi)
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


def figure(
    pads: Pads,
    webs: Webs,
    solid_lines: Sequence[tuple[int, int]] = (),
    ears: Mapping[int, Ears] = NO_EARS,
) -> Figure:
    """Form the outline and the windows.

    Args:
        pads: the pads of the points.
        webs: the webs that must be kept, and how windows and waists are cut.
        solid_lines: pairs of points; no window is cut in a triangle that the straight line between them
            crosses.
        ears: what stands out of a pad, by the number of the pad.

    Returns:
        The figure. A window is left out where it would come nearer than a web to the outline, touch the pad
        of another point, or be too small to be worth its cutting.
    """
    mesh = triangles(pads.centres)
    outer = outline(pads, webs, mesh, ears)
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
