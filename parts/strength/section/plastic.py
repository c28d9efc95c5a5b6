"""Plastic section moduli of a plane figure: its halves about the axis that shares the area in two."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from parts.strength.section.outline import (
    Array,
    Boundary,
    Outline,
    arc_at,
    farthest,
)
from parts.strength.section.properties import ARC_NODES, gauss

HALVINGS = 22
"""Of the height of the figure until the axis is found: to a four-millionth of it."""


def plastic_moduli(figure: Outline | Boundary, angle: ArrayLike = 0.0) -> tuple[Any, Any]:
    """Plastic section moduli about two axes at right angles, the first at `angle` from y.

    The axis that halves the area is found by bisection; the modulus is stationary there, so that
    its error is the square of the axis's (about 1e-13).

    Args:
        figure [mm]: outline, with any leading dimensions, or boundary (by its arcs, to about 1e-7).
        angle [rad]: 0 for the y and z axes; a section's own `angle` for its principal axes.

    Returns:
        [mm^3] the plastic moduli about the first axis and about the one a quarter turn on.
    """
    outline = figure.outline() if isinstance(figure, Boundary) else figure
    # Turned by a quarter, what was y is z: bending about z is then bending about the axis along y.
    shape = np.broadcast_shapes(np.shape(angle), outline.shape)
    back = np.broadcast_to(-np.asarray(angle, float), shape)
    turned = np.stack([back, back + np.pi / 2.0])
    about, across = _plastic(outline.rotated(turned))
    return about, across


def _plastic(outline: Outline) -> Any:
    area = _above(outline, np.asarray(-np.inf))[0]
    high = np.asarray(farthest(outline, np.array([0.0, 1.0]))[0])
    low = -np.asarray(farthest(outline, np.array([0.0, -1.0]))[0])
    bottom = low
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        more = _above(outline, middle)[0] > area / 2.0
        low, high = np.where(more, middle, low), np.where(more, high, middle)
    level = (low + high) / 2.0
    moment = _above(outline, level)[1]
    everything, whole = _above(outline, bottom)
    # |z - c| over the figure: what lies above, twice, less the moment of the whole about the level.
    return (2.0 * moment - (whole - everything * (level - bottom)))[()]


def _above(outline: Outline, level: Array) -> tuple[Array, Array]:
    """Area above z = level, and its first moment about that level; of everything for -inf."""
    area, moment = np.zeros(()), np.zeros(())
    infinite = np.isneginf(level)
    base = np.where(infinite, 0.0, level)
    for loop in outline.loops:
        y, z = loop.points[..., 0], loop.points[..., 1] - base[..., None]
        Y, Z = np.roll(y, -1, axis=-1), np.roll(z, -1, axis=-1)
        a, m = _line_above(Y - y, z, Z, infinite)
        arcs = np.nonzero(np.any(loop.bulge.reshape(-1, loop.bulge.shape[-1]) != 0.0, axis=0))[0]
        if len(arcs):
            start = np.stack(np.broadcast_arrays(y, z), axis=-1)[..., arcs, :]
            end = np.stack(np.broadcast_arrays(Y, Z), axis=-1)[..., arcs, :]
            b, n = _arc_above(start, end, loop.bulge[..., arcs], infinite)
            shape = np.broadcast_shapes(a.shape[:-1], b.shape[:-1])
            a = np.broadcast_to(a, shape + a.shape[-1:]).copy()
            m = np.broadcast_to(m, shape + m.shape[-1:]).copy()
            a[..., arcs], m[..., arcs] = b, n
        area, moment = area + a.sum(-1), moment + m.sum(-1)
    return area, moment


def _line_above(dy: Array, z: Array, Z: Array, infinite: Any) -> tuple[Array, Array]:
    """Integrals of -p dy and of -p^2/2 dy along lines, p being the height above the level or 0."""
    p, P = (np.where(infinite[..., None], v, np.maximum(v, 0.0)) for v in (z, Z))
    # Cut into the part that lies above; along it the height is linear.
    rise = np.where(z == Z, 1.0, Z - z)
    share = np.where(z == Z, 1.0, (P - p) / rise)
    return -dy * share * (p + P) / 2.0, -dy * share * (p * p + p * P + P * P) / 6.0


def _arc_above(start: Array, end: Array, bulge: Array, infinite: Any) -> tuple[Array, Array]:
    """As `_line_above` along arcs, each cut where it crosses the level."""
    a = 2.0 * np.arctan(bulge)
    chord = end - start
    half = np.hypot(chord[..., 0], chord[..., 1]) / 2.0
    # z(t) = zc + R sin(w0 + 2 a t); segments straight in some figures only are cut in a line.
    tilt = np.arctan2(chord[..., 1], chord[..., 0])
    sine = np.where(a == 0.0, 1.0, np.sin(a))
    R = np.where(a == 0.0, 0.0, half / sine)
    w0 = tilt - a - np.pi / 2.0
    zc = start[..., 1] - R * np.sin(w0)
    inner = np.arcsin(np.clip(-zc / np.where(R == 0.0, 1.0, R), -1.0, 1.0))
    turn = np.where(a == 0.0, 1.0, 2.0 * a)
    knots = []
    for root in (inner, np.pi - inner):
        # The crossing within the arc, if any: angles are counted on from the arc's start.
        t = np.mod((root - w0) * np.sign(turn), 2.0 * np.pi) / np.abs(turn)
        knots.append(np.clip(t, 0.0, 1.0))
    straight = a == 0.0
    rise = end[..., 1] - start[..., 1]
    cross = np.clip(-start[..., 1] / np.where(rise == 0.0, 1.0, rise), 0.0, 1.0)
    first = np.where(straight, cross, np.minimum(*knots))
    second = np.where(straight, cross, np.maximum(*knots))
    # What lies below the level counts for nothing: it is passed over, as stretches of no length are.
    sagitta = np.abs(bulge) * half
    seen = infinite[..., None] | (np.maximum(start[..., 1], end[..., 1]) + sagitta > 0.0)
    zero = np.zeros_like(first)
    s, w = gauss(ARC_NODES)
    area, moment = zero.copy(), zero.copy()
    for t0, t1 in ((zero, first), (first, second), (second, zero + 1.0)):
        on = seen & (t1 > t0)
        if not on.any():
            continue
        long = (t1 - t0)[on][:, None]
        t = t0[on][:, None] + long * (s + 1.0) / 2.0
        p, d = arc_at(start[on], end[on], np.broadcast_to(bulge, on.shape)[on], t)
        whole = np.broadcast_to(infinite[..., None], on.shape)[on][:, None]
        height = np.where(whole, p[..., 1], np.maximum(p[..., 1], 0.0))
        step = -d[..., 0] * long * w / 2.0
        area[on] += (height * step).sum(-1)
        moment[on] += (height * height * step).sum(-1) / 2.0
    return area, moment
