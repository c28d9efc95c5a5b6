"""Edges of a solid as curves in the plane of a cut, many places at a time."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any

import numpy as np

Form = Callable[[np.ndarray], tuple[np.ndarray, np.ndarray]]
"""Places [mm] and derivatives [mm] in the plane of the cut, (n, 2) each, at the kernel's parameter (n,)."""
Flat = Callable[..., np.ndarray]


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
        points, slopes = self._form((self.first + span * t).ravel())
        return points.reshape(*t.shape, 2), (slopes * span).reshape(*t.shape, 2)

    @cached_property
    def breaks(self) -> np.ndarray:
        """Where its polynomials meet, t from 0 to 1."""
        if not isinstance(self._form, Spline):
            return np.array([0.0, 1.0])
        t = (np.unique(self._form.knots) - self.first) / (self.last - self.first)
        return np.array([0.0, *np.sort(t[(t > 0.0) & (t < 1.0)]), 1.0])

    @cached_property
    def _form(self) -> Form:
        from OCP import GeomAbs

        forms = {
            GeomAbs.GeomAbs_Line: _line,
            GeomAbs.GeomAbs_Circle: _round,
            GeomAbs.GeomAbs_Ellipse: _round,
            GeomAbs.GeomAbs_Hyperbola: _hyperbola,
            GeomAbs.GeomAbs_BSplineCurve: _spline,
        }
        form = forms.get(self.adaptor.GetType())
        found = None if form is None else form(self.adaptor, self._flat)
        return found or partial(_point_by_point, self.adaptor, self._flat)

    def _flat(self, place: Any, *, free: bool = False) -> np.ndarray:
        """A place of the kernel [mm], or a `free` vector, in the plane of the cut, (2,)."""
        here = np.array([place.X(), place.Y(), place.Z()])
        return self.axes[1:] @ (here if free else here - self.origin)

    def reversed(self) -> EdgeCurve:
        """The same edge run the other way."""
        return EdgeCurve(self.adaptor, self.last, self.first, self.origin, self.axes)


@dataclass(frozen=True)
class Spline:
    """A B-spline: its `knots`, each as often as it counts, and `poles` (n, 3): weight times place [mm] and weight."""

    knots: np.ndarray
    poles: np.ndarray
    degree: int

    def __call__(self, u: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Places [mm] and derivatives [mm] at u (n,), by de Boor's steps."""
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
        place, weight = d[:, 0, :2] / d[:, 0, 2:], d[:, 0, 2:]
        return place, (slope[:, :2] - slope[:, 2:] * place) / weight


def _line(adaptor: Any, flat: Flat) -> Form:
    line = adaptor.Line()
    place, way = flat(line.Location()), flat(line.Direction(), free=True)
    return lambda u: (place + u[:, None] * way, np.broadcast_to(way, (u.size, 2)))


def _halves(figure: Any, flat: Flat, *radii: float) -> list[np.ndarray]:
    """The middle of a conic, and its two half axes, (2,) each [mm]."""
    axes = figure.XAxis().Direction(), figure.YAxis().Direction()
    halves = [radius * flat(axis, free=True) for radius, axis in zip(radii, axes, strict=True)]
    return [flat(figure.Location()), *halves]


def _round(adaptor: Any, flat: Flat) -> Form:
    from OCP.GeomAbs import GeomAbs_Circle

    if adaptor.GetType() == GeomAbs_Circle:
        circle = adaptor.Circle()
        middle, a, b = _halves(circle, flat, circle.Radius(), circle.Radius())
    else:
        ellipse = adaptor.Ellipse()
        middle, a, b = _halves(ellipse, flat, ellipse.MajorRadius(), ellipse.MinorRadius())

    def at(u: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        cos, sin = np.cos(u)[:, None], np.sin(u)[:, None]
        return middle + cos * a + sin * b, cos * b - sin * a

    return at


def _hyperbola(adaptor: Any, flat: Flat) -> Form:
    figure = adaptor.Hyperbola()
    middle, a, b = _halves(figure, flat, figure.MajorRadius(), figure.MinorRadius())

    def at(u: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        cosh, sinh = np.cosh(u)[:, None], np.sinh(u)[:, None]
        return middle + cosh * a + sinh * b, sinh * a + cosh * b

    return at


def _spline(adaptor: Any, flat: Flat) -> Spline | None:
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
    places = np.array([flat(curve.Pole(i)) for i in numbers])
    return Spline(knots, np.hstack([weights * places, weights]), curve.Degree())


def _point_by_point(adaptor: Any, flat: Flat, u: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The same of any curve."""
    from OCP.gp import gp_Pnt, gp_Vec

    place, slope = gp_Pnt(), gp_Vec()
    points, slopes = np.empty((2, u.size, 2))
    for i, each in enumerate(u):
        adaptor.D1(float(each), place, slope)
        points[i], slopes[i] = flat(place), flat(slope, free=True)
    return points, slopes
