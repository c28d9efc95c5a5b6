"""Edges of a solid as curves in the plane of a cut, many places at a time."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any

import numpy as np


@dataclass(frozen=True)
class EdgeCurve:
    """A B-rep edge in the axes of the cut, run from `first` to `last` in the kernel's own parameter."""

    adaptor: Any
    first: float
    last: float
    origin: np.ndarray
    axes: np.ndarray

    def at(self, t: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Place [mm] and derivative [mm] at t in [0, 1], each of shape (..., 2)."""
        t = np.asarray(t, float)
        span = self.last - self.first
        rows = self._form((self.first + span * t).ravel())
        flat = self.axes[1:]
        points = (rows[:, 0] - self.origin) @ flat.T
        slopes = rows[:, 1] @ flat.T * span
        return points.reshape(*t.shape, 2), slopes.reshape(*t.shape, 2)

    @cached_property
    def breaks(self) -> np.ndarray:
        """Where its polynomials meet, t from 0 to 1."""
        if not isinstance(self._form, Spline):
            return np.array([0.0, 1.0])
        t = (np.unique(self._form.knots) - self.first) / (self.last - self.first)
        return np.array([0.0, *np.sort(t[(t > 0.0) & (t < 1.0)]), 1.0])

    @cached_property
    def _form(self) -> Callable[[np.ndarray], np.ndarray]:
        """Places [mm] and derivatives [mm] at the kernel's parameter (n,), of shape (n, 2, 3)."""
        from OCP import GeomAbs

        forms = {
            GeomAbs.GeomAbs_Line: _line,
            GeomAbs.GeomAbs_Circle: _round,
            GeomAbs.GeomAbs_Ellipse: _round,
            GeomAbs.GeomAbs_Hyperbola: _hyperbola,
            GeomAbs.GeomAbs_BSplineCurve: _spline,
        }
        form = forms.get(self.adaptor.GetType())
        found = None if form is None else form(self.adaptor)
        return found or partial(_point_by_point, self.adaptor)

    def reversed(self) -> EdgeCurve:
        """The same edge run the other way."""
        return EdgeCurve(self.adaptor, self.last, self.first, self.origin, self.axes)


@dataclass(frozen=True)
class Spline:
    """A B-spline: its `knots`, each as often as it counts, and `poles` (n, 4), weight times place [mm] and weight."""

    knots: np.ndarray
    poles: np.ndarray
    degree: int

    def __call__(self, u: np.ndarray) -> np.ndarray:
        """Places [mm] and derivatives [mm] at u (n,), of shape (n, 2, 3), by de Boor's steps."""
        p, knots = self.degree, self.knots
        span = np.clip(np.searchsorted(knots, u, "right") - 1, p, len(knots) - p - 2)
        near = knots[span[:, None] + np.arange(1 - p, p + 1)]
        d = self.poles[span[:, None] + np.arange(-p, 1)]
        for step in range(1, p + 1):
            low, high = near[:, step - 1 : p], near[:, p : 2 * p - step + 1]
            before, after = d[:, :-1], d[:, 1:]
            if step == p:
                slope = p * (after - before)[:, 0] / (high - low)
            share = ((u[:, None] - low) / (high - low))[..., None]
            d = before + share * (after - before)
        place, weight = d[:, 0, :3] / d[:, 0, 3:], d[:, 0, 3:]
        return np.stack([place, (slope[:, :3] - slope[:, 3:] * place) / weight], 1)


def _numbers(of: Any) -> np.ndarray:
    return np.array([of.X(), of.Y(), of.Z()])


def _line(adaptor: Any) -> Callable[[np.ndarray], np.ndarray]:
    line = adaptor.Line()
    place, way = _numbers(line.Location()), _numbers(line.Direction())
    return lambda u: np.stack([place + u[:, None] * way, np.broadcast_to(way, (u.size, 3))], 1)


def _axes_of(figure: Any, *radii: float) -> tuple[np.ndarray, ...]:
    """The middle [mm] of a conic, and its two half axes [mm]."""
    axes = figure.XAxis().Direction(), figure.YAxis().Direction()
    halves = [radius * _numbers(axis) for radius, axis in zip(radii, axes, strict=True)]
    return _numbers(figure.Location()), *halves


def _round(adaptor: Any) -> Callable[[np.ndarray], np.ndarray]:
    from OCP.GeomAbs import GeomAbs_Circle

    if adaptor.GetType() == GeomAbs_Circle:
        circle = adaptor.Circle()
        middle, a, b = _axes_of(circle, circle.Radius(), circle.Radius())
    else:
        ellipse = adaptor.Ellipse()
        middle, a, b = _axes_of(ellipse, ellipse.MajorRadius(), ellipse.MinorRadius())

    def at(u: np.ndarray) -> np.ndarray:
        cos, sin = np.cos(u)[:, None], np.sin(u)[:, None]
        return np.stack([middle + cos * a + sin * b, cos * b - sin * a], 1)

    return at


def _hyperbola(adaptor: Any) -> Callable[[np.ndarray], np.ndarray]:
    figure = adaptor.Hyperbola()
    middle, a, b = _axes_of(figure, figure.MajorRadius(), figure.MinorRadius())

    def at(u: np.ndarray) -> np.ndarray:
        cosh, sinh = np.cosh(u)[:, None], np.sinh(u)[:, None]
        return np.stack([middle + cosh * a + sinh * b, sinh * a + cosh * b], 1)

    return at


def _spline(adaptor: Any) -> Spline | None:
    """The spline of an edge; None of one that closes upon itself, whose knots the kernel counts otherwise."""
    curve = adaptor.BSpline()
    if curve.IsPeriodic():
        return None
    knots = np.repeat(
        [curve.Knot(i + 1) for i in range(curve.NbKnots())],
        [curve.Multiplicity(i + 1) for i in range(curve.NbKnots())],
    )
    numbers = range(1, curve.NbPoles() + 1)
    weights = np.array([curve.Weight(i) for i in numbers])[:, None]
    places = np.array([_numbers(curve.Pole(i)) for i in numbers])
    return Spline(knots, np.hstack([weights * places, weights]), curve.Degree())


def _point_by_point(adaptor: Any, u: np.ndarray) -> np.ndarray:
    """The same of any curve."""
    from OCP.gp import gp_Pnt, gp_Vec

    place, slope = gp_Pnt(), gp_Vec()
    rows = np.empty((u.size, 2, 3))
    for row, each in zip(rows, u, strict=True):
        adaptor.D1(float(each), place, slope)
        row[0] = place.Coord()
        row[1] = slope.Coord()
    return rows
