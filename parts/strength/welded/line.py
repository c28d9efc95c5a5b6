"""The line of a weld: straight pieces and arcs in the plane or in space, with their properties.

A path is a row of stations along the weld's root line: where they are, which way the weld runs
there, and the length that each stands for (Simpson's rule, so that straight lines are exact and
arcs good to 2e-6). Both ends of every piece are stations, for that is where a straight weld is
worst.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from parts.strength.method import Number, method
from parts.strength.vectors import cross

Array = NDArray[np.float64]

ARC_STEPS = 48
AS_A_LINE = "Blodgett, Design of Welded Structures, 7.4 (weld treated as a line)"


@dataclass(frozen=True, eq=False)
class Path:
    """A weld's root line: stations and unit directions (..., m, 3), lengths (..., m); in mm."""

    points: Array
    along: Array
    lengths: Array

    def __add__(self, other: Path) -> Path:
        """Both welds as one group."""
        lead = np.broadcast_shapes(self.lengths.shape[:-1], other.lengths.shape[:-1])
        both = ((self.points, other.points), (self.along, other.along))
        wide = [
            np.concatenate([np.broadcast_to(a, (*lead, *a.shape[-2:])) for a in pair], axis=-2)
            for pair in both
        ]
        lengths = (self.lengths, other.lengths)
        joined = [np.broadcast_to(a, (*lead, a.shape[-1])) for a in lengths]
        return Path(wide[0], wide[1], np.concatenate(joined, axis=-1))


def _in_space(point: Number) -> Array:
    """A point or vector with z = 0 where only x and y are given."""
    point = np.asarray(point, float)
    flat = np.concatenate([point, np.zeros((*point.shape[:-1], 1))], axis=-1)
    return flat[..., :3]


def line(start: Number, end: Number) -> Path:
    """A straight weld.

    Args:
        start [mm]: first end, (..., 2) or (..., 3).
        end [mm]: last end.

    Returns:
        [-] its path.
    """
    a, b = np.broadcast_arrays(_in_space(start), _in_space(end))
    length = np.linalg.norm(b - a, axis=-1)[..., None]
    points = np.stack([a, (a + b) / 2.0, b], axis=-2)
    along = np.broadcast_to(
        ((b - a) / np.where(length > 0.0, length, 1.0))[..., None, :], points.shape
    )
    return Path(points, along, length * np.array([1.0, 4.0, 1.0]) / 6.0)


def polyline(corners: Number, closed: bool = False) -> Path:
    """Straight welds from corner to corner.

    Args:
        corners [mm]: (..., n, 2) or (..., n, 3), two at least.
        closed [-]: whether the last corner joins the first.

    Returns:
        [-] the path of all of them.
    """
    corners = np.asarray(corners, float)
    if closed:
        corners = np.concatenate([corners, corners[..., :1, :]], axis=-2)
    each = line(corners[..., :-1, :], corners[..., 1:, :])
    lead = corners.shape[:-2]
    points, along = (a.reshape(*lead, -1, 3) for a in (each.points, each.along))
    return Path(points, along, each.lengths.reshape(*lead, -1))


def arc(centre: Number, start: Number, angle: Number, axis: Number = (0.0, 0.0, 1.0)) -> Path:  # type: ignore[assignment]
    """A weld along an arc; a full circle is an arc of 2π.

    Args:
        centre [mm]: (..., 2) or (..., 3).
        start [mm]: where the arc begins; its distance from the centre is the radius.
        angle [rad]: how far it goes, right-handed about `axis`.
        axis [-]: direction normal to the plane of the arc.

    Returns:
        [-] its path.
    """
    centre, start = np.broadcast_arrays(_in_space(centre), _in_space(start))
    normal = np.asarray(axis, float)
    normal = normal / np.linalg.norm(normal, axis=-1, keepdims=True)
    spoke = start - centre
    side = cross(normal, spoke)
    turn = np.asarray(angle, float)[..., None, None] * np.linspace(0.0, 1.0, ARC_STEPS + 1)[:, None]
    points = (
        centre[..., None, :]
        + np.cos(turn) * spoke[..., None, :]
        + np.sin(turn) * side[..., None, :]
    )
    radius = np.linalg.norm(spoke, axis=-1)[..., None]
    ahead = np.cos(turn) * side[..., None, :] - np.sin(turn) * spoke[..., None, :]
    along = np.sign(np.asarray(angle, float))[..., None, None] * ahead / radius[..., None]
    simpson = np.where(np.arange(ARC_STEPS + 1) % 2, 4.0, 2.0)
    simpson[[0, -1]] = 1.0
    lengths = radius * np.abs(np.asarray(angle, float)[..., None]) * simpson / (3.0 * ARC_STEPS)
    return Path(points, along, lengths)


@method(formula="L = Σ l", source=AS_A_LINE)
def length(path: Path) -> Array:
    """Length of a weld.

    Args:
        path [mm]: the weld.

    Returns:
        [mm] length.

    Example: round a tube of 25.4.
        >>> round(float(length(arc([0.0, 0.0], [12.7, 0.0], 2.0 * np.pi))), 2)
        79.8
    """
    return np.asarray(path.lengths.sum(-1))


@method(formula="r̄ = Σ l r / L", source=AS_A_LINE)
def centroid(path: Path) -> Array:
    """Centroid of a weld.

    Args:
        path [mm]: the weld.

    Returns:
        [mm] centroid (..., 3).

    Example: an L of equal legs.
        >>> centroid(polyline([[40.0, 0.0], [0.0, 0.0], [0.0, 40.0]])).tolist()
        [10.0, 10.0, 0.0]
    """
    return np.asarray((path.lengths[..., None] * path.points).sum(-2) / length(path)[..., None])


@method(formula="I_jk = Σ l (r² δ_jk − r_j r_k) about the centroid", source=AS_A_LINE)
def unit_inertia(path: Path) -> Array:
    """Second moments of a weld of unit throat about axes through its centroid.

    In a plane weld (z = 0) the diagonal holds I_x = Σ l y², I_y = Σ l x² and J = I_x + I_y.

    Args:
        path [mm]: the weld.

    Returns:
        [mm^3] tensor (..., 3, 3); the diagonal resists moments about x, y, z.

    Example: a circle of radius 10 has J = 2 π r³.
        >>> I = unit_inertia(arc([0.0, 0.0], [10.0, 0.0], 2.0 * np.pi))
        >>> round(float(I[2, 2] / (2.0 * np.pi * 10.0**3)), 9)
        1.0
    """
    r = path.points - centroid(path)[..., None, :]
    square = (path.lengths * (r**2).sum(-1)).sum(-1)
    outer = np.einsum("...m,...mi,...mj->...ij", path.lengths, r, r)
    return np.asarray(square[..., None, None] * np.eye(3) - outer)
