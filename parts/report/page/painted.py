"""How much of its strength each place of a part uses under each load case, for painting it on the part."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.search.result import section_checks
from parts.core.service import warmed
from parts.making.distinct import distinct
from parts.report.page.stresses import stress_of

if TYPE_CHECKING:
    from parts.core.search.look import Scan
    from parts.core.search.result import Result

BEYOND = 0.6
"""How far outside the outline of its section a place may lie [mm]: in a fillet, or on a chord of the mesh."""

NEAR = 0.08
"""How far from a place that a section goes through another is painted alike, as a share of the longest side [-]."""


@dataclass(frozen=True)
class Painted:
    """A part that was checked, and what its places use."""

    result: Result

    def of(self, piece: str, places: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """What places of a piece use.

        The normal stress is that of the place; the shear is the most that its section bears. No place is
        given more than the section with the largest stress, which is solved. Between sections a place is as the
        nearest beside it.

        Args:
            piece: its name.
            places: [mm], (n, 3).

        Returns:
            Whether a section goes through each place, (n,), and the required factor over the factor [-] under
            each load case, (cases, n).
        """
        known = np.zeros(len(places), bool)
        use = np.zeros((len(self.result.part.loads), len(places)))
        for one in self.result.scans:
            if one.span.piece != piece:
                continue
            inside, t, y, z = _within(one, places)
            here = np.flatnonzero(inside)
            if not len(here):
                continue
            stress = np.minimum(_stress(one, t[here], y[here], z[here]), self.largest[:, None])
            share = stress * self._per_stress(one)[:, None]
            sound = np.isfinite(share).all(axis=0)
            known[here[sound]] = True
            use[:, here[sound]] = np.maximum(use[:, here[sound]], share[:, sound])
        return _as_beside(places, known, use)

    @cached_property
    def largest(self) -> np.ndarray:
        """The largest von Mises stress under each load case [MPa], (cases,)."""
        return np.array([stress_of(self.result, worst) for worst in self.result.criticals])

    def _per_stress(self, one: Scan) -> np.ndarray:
        """The share used by each MPa in the material of a span under each load case [1/MPa], (cases,)."""
        part = self.result.part
        found = []
        for worst in self.result.criticals:
            checks = section_checks(part, worst.case, replace(worst, span=one.span))
            found.append(max(float(c.required) / float(c.capacity) for c in warmed(part, checks)))
        return np.array(found)


def _within(one: Scan, places: np.ndarray) -> tuple[np.ndarray, ...]:
    """Which places the sections of a span go through; their stations, and y and z from the centroid [mm]."""
    span, section = one.span, one.section
    axes, start, end = (np.asarray(v, float) for v in (span.axes, span.start, span.end))
    run = float((end - start) @ axes[0])
    off = places - start
    t = off @ axes[0] / run if abs(run) > 1e-6 else np.full(len(places), np.nan)
    with np.errstate(invalid="ignore"):
        inside = (t >= -1e-3) & (t <= 1.0 + 1e-3)
    t = np.clip(np.nan_to_num(t), 0.0, 1.0)

    def at(value: Any) -> np.ndarray:
        return np.interp(t, one.t, np.broadcast_to(np.asarray(value, float), one.t.shape))

    here = off - t[:, None] * (end - start)
    y, z = here @ axes[1] - at(section.y), here @ axes[2] - at(section.z)
    for v, low, high in ((y, section.y_min, section.y_max), (z, section.z_min, section.z_max)):
        inside &= (v >= at(low) - BEYOND) & (v <= at(high) + BEYOND)
    return inside, t, y, z


def _stress(one: Scan, t: np.ndarray, y: np.ndarray, z: np.ndarray) -> np.ndarray:
    """Normal stress at the places with the bound of the shear, as von Mises stress [MPa], (cases, n)."""
    r, s = one.resultants, one.section
    det = s.Iyy * s.Izz - s.Iyz**2
    by_y = (-r.Mz * s.Iyy - r.My * s.Iyz) / det
    by_z = (r.My * s.Izz + r.Mz * s.Iyz) / det
    shear = np.asarray(one.bound.shear) + np.asarray(one.bound.torsion)
    if one.span.estimate is not None:
        # Nearer to the truth than the bound, which is far above it in a section of several pieces.
        whole = one.span.estimate(one.cases, one.t)
        normal = np.asarray(one.bound.normal)
        shear = np.minimum(shear, np.sqrt(np.maximum(whole**2 - normal**2, 0.0) / 3.0))

    def at(values: Any) -> np.ndarray:
        rows = np.broadcast_to(np.asarray(values, float), (len(one.cases), len(one.t)))
        return np.stack([np.interp(t, one.t, row) for row in rows])

    normal = at(r.N / s.area) + at(by_y) * y + at(by_z) * z
    return np.asarray(np.sqrt(normal**2 + 3.0 * at(shear) ** 2))


def _as_beside(
    places: np.ndarray, known: np.ndarray, use: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Give places that no section goes through the use of the nearest known place, where that is near."""
    if not known.any() or known.all():
        return known, use
    near = NEAR * float(np.ptp(places, axis=0).max())
    there, open_ = np.flatnonzero(known), np.flatnonzero(~known)
    beside = there[_nearest(places[there], places[open_])]
    close = np.linalg.norm(places[open_] - places[beside], axis=1) <= near
    filled = known.copy()
    filled[open_[close]], use[:, open_[close]] = True, use[:, beside[close]]
    return filled, use


def _nearest(points: np.ndarray, places: np.ndarray) -> np.ndarray:
    """Which of some points (n, 3) lies nearest to each place (m, 3), by what draws the pictures and is loaded."""
    from vtkmodules.util.numpy_support import numpy_to_vtk
    from vtkmodules.vtkCommonCore import vtkPoints
    from vtkmodules.vtkCommonDataModel import vtkPolyData, vtkStaticPointLocator

    held, cloud, locator = vtkPoints(), vtkPolyData(), vtkStaticPointLocator()
    held.SetData(numpy_to_vtk(np.ascontiguousarray(points, float), deep=True))
    cloud.SetPoints(held)
    locator.SetDataSet(cloud)
    locator.BuildLocator()
    return np.array([locator.FindClosestPoint(one) for one in places.tolist()])


def finer(
    points: np.ndarray, corners: np.ndarray, longest: float
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Split triangles until no edge is longer than that, the edges that two share alike.

    Args:
        points: [mm], (n, 3).
        corners: of the triangles, (m, 3).
        longest: [mm].

    Returns:
        Points, triangles, and for each triangle the one that it is a piece of.
    """
    parent = np.arange(len(corners))
    while True:
        sides = np.sort(
            np.stack([corners[:, [0, 1]], corners[:, [1, 2]], corners[:, [2, 0]]], axis=1), axis=2
        )
        sides = sides.reshape(-1, 2)
        first, which = distinct(sides)
        ends = sides[first]
        long = np.linalg.norm(points[ends[:, 0]] - points[ends[:, 1]], axis=1) > longest
        if not long.any():
            return points, corners, parent
        middle = np.where(long, len(points) + np.cumsum(long) - 1, -1)
        points = np.concatenate([points, points[ends[long]].mean(axis=1)])
        nodes = np.concatenate([corners, middle[which].reshape(-1, 3)], axis=1)
        corners, parent = map(np.concatenate, zip(*_split(nodes, parent), strict=True))


_PIECES: dict[tuple[bool, bool, bool], Sequence[tuple[int, int, int]]] = {
    (False, False, False): [(0, 1, 2)],
    (True, False, False): [(0, 3, 2), (3, 1, 2)],
    (False, True, False): [(0, 1, 4), (0, 4, 2)],
    (False, False, True): [(0, 1, 5), (5, 1, 2)],
    (True, True, False): [(3, 1, 4), (0, 3, 4), (0, 4, 2)],
    (False, True, True): [(4, 2, 5), (0, 1, 4), (0, 4, 5)],
    (True, False, True): [(0, 3, 5), (3, 1, 2), (3, 2, 5)],
    (True, True, True): [(0, 3, 5), (3, 1, 4), (5, 4, 2), (3, 4, 5)],
}
"""By which of its sides are split, the pieces of a triangle: corners 0 to 2, and 3 to 5 in the middle of each side."""


def _split(nodes: np.ndarray, parent: np.ndarray) -> Iterator[tuple[np.ndarray, np.ndarray]]:
    kinds = nodes[:, 3:] >= 0
    for kind, pieces in _PIECES.items():
        some = np.all(kinds == kind, axis=1)
        for piece in pieces:
            yield nodes[some][:, list(piece)], parent[some]
