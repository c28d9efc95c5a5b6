"""What is cut: the loops of a blank with every hole at the diameter it is cut to, and what they measure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

import numpy as np

from parts.core.blank import Blank, BlankHole
from parts.core.shop import Cutting
from parts.strength.section.outline import Loop, Outline
from parts.strength.section.properties import area_and_length, properties

Layer = Literal["OUTLINE", "CUTOUT", "PILOT", "ENGRAVE"]

LEAST_HOLE = {"waterjet": 0.5, "laser": 1.0}
"""Smallest hole in thicknesses; common practice, no source."""
LEAST_WEB = {"waterjet": 0.5, "laser": 1.0}
"""Narrowest web between two cuts in thicknesses; common practice, no source."""
JET = {"waterjet": 2.0, "laser": 0.5}
"""No hole is cut smaller than this, however thin the sheet [mm]: twice the jet, or the beam and its piercing;
common practice, no source."""
STEP = 0.25
"""How close points are laid along an edge [mm] when distances are measured."""
SHORT = 1e-7
MARK = 3.0
"""Arms of a cross that marks the centre of a hole that is too small to cut [mm]."""


@dataclass(frozen=True)
class Cut:
    """A closed loop to be cut, its layer and what it is; `centre` and `diameter` where it is a circle."""

    name: str
    layer: Layer
    loop: Loop
    centre: tuple[float, float] | None = None
    diameter: float = 0.0

    @property
    def length(self) -> float:
        return float(area_and_length(self.loop)[1])


@dataclass(frozen=True)
class Profile:
    """All that is cut into one blank, the outer contour first, and the centres that are only marked."""

    cuts: tuple[Cut, ...]
    marks: tuple[BlankHole, ...]

    def outline(self) -> Outline:
        return Outline(tuple(cut.loop for cut in self.cuts))

    @property
    def area(self) -> float:
        """Area of the blank as it is cut [mm^2]."""
        return float(properties(self.outline()).area)


@dataclass(frozen=True)
class Web:
    """The narrowest metal between two cuts, its width and the place of its middle [mm]."""

    first: str
    second: str
    width: float
    at: tuple[float, float]


def least_hole(cutting: Cutting, thickness: float) -> float:
    """Diameter of the smallest hole that can be cut [mm]."""
    return max(LEAST_HOLE[cutting.process] * thickness, JET[cutting.process])


def profile(blank: Blank, cutting: Cutting) -> Profile:
    """Choose what each hole is cut to: its size, a pilot, or no more than a mark.

    Args:
        blank: the blank.
        cutting: how it is cut.

    Returns:
        The loops, and the holes that are only marked.
    """
    outer, *windows = (_clean(loop) for loop in blank.outline.loops)
    cuts = [Cut("outline", "OUTLINE", outer)]
    cuts += [Cut(f"cutout {i}", "CUTOUT", loop) for i, loop in enumerate(windows, 1)]
    marks = []
    least = least_hole(cutting, blank.thickness)
    for hole in blank.holes:
        diameter = hole.diameter - (cutting.pilot_under if hole.after else 0.0)
        if hole.after and diameter < least:
            marks.append(hole)
            continue
        (loop,) = (one.reversed() for one in hole.circle(diameter).loops)
        layer: Layer = "PILOT" if hole.after else "CUTOUT"
        cuts.append(Cut(hole.name, layer, loop, hole.centre, diameter))
    return Profile(tuple(cuts), tuple(marks))


def _clean(loop: Loop) -> Loop:
    """The loop without segments of no length, which a machine stops at."""
    keep = np.linalg.norm(loop.ends - loop.points, axis=-1) > SHORT
    return Loop(loop.points[keep], loop.bulge[keep])


def dense(loop: Loop, step: float = STEP) -> np.ndarray:
    """Points (n, 2) along a loop, never farther apart than `step` [mm] along it."""
    rows = []
    for segment in loop.curves():
        arc = 4.0 * np.arctan(abs(segment.bulge))
        chord = float(np.linalg.norm(segment.end - segment.start))
        long = chord if arc == 0.0 else chord / 2.0 / np.sin(arc / 2.0) * arc
        count = max(2, int(np.ceil(long / step)))
        rows.append(segment.at(np.linspace(0.0, 1.0, count, endpoint=False))[0])
    return np.concatenate(rows)


def webs(cuts: Sequence[Cut]) -> Iterator[Web]:
    """The narrowest web between every two cuts that come near each other."""
    points = [dense(cut.loop) for cut in cuts]
    for (a, p), (b, q) in combinations(zip(cuts, points, strict=True), 2):
        width, at = _nearest(p, q)
        yield Web(a.name, b.name, width, at)


def _nearest(p: np.ndarray, q: np.ndarray) -> tuple[float, tuple[float, float]]:
    best, pair = np.inf, (p[0], q[0])
    for start in range(0, len(p), 512):
        away = p[start : start + 512, None, :] - q[None, :, :]
        far = np.einsum("ijk,ijk->ij", away, away)
        i, j = np.unravel_index(int(np.argmin(far)), far.shape)
        if far[i, j] < best:
            best, pair = float(far[i, j]), (p[start + i], q[j])
    middle = (pair[0] + pair[1]) / 2.0
    return float(np.sqrt(best)), (float(middle[0]), float(middle[1]))
