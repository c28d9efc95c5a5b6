"""Stretches of a load path along x, parted at x = 0 where a side load may act."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

import numpy as np

from parts.core.loadpath import Notch, Span, smooth
from parts.core.loads import Action, LoadCase
from parts.standards.materials.materials import Material
from parts.strength.section.outline import Outline

Here = TypeVar("Here")

AXES = np.eye(3)
SLIVER = 1e-3

Beyond = Callable[[LoadCase, float], Sequence[Action]]
"""What acts on the +x side of a section, for a load case and a half of the link (-1 or +1)."""


def along_x(
    name: str,
    low: Any,
    high: Any,
    outline: Callable[[Any], Outline],
    beyond: Beyond,
    material: Material,
    piece: str = "part",
    stations: int = 3,
    notch: Callable[[Any], Notch] = smooth,
) -> list[Span]:
    """Spans for a stretch of a bar on the x axis: one, or two where it passes x = 0.

    Args:
        name: of the stretch.
        low: where it begins on x [mm].
        high: where it ends on x [mm].
        outline: its section at t in [0, 1].
        beyond: what acts beyond a section.
        material: what it is made of.
        piece: the piece of the part.
        stations: how many sections a scan looks at.
        notch: what raises the stress at t in [0, 1] of the stretch.

    Returns:
        The spans; none for a stretch without length.
    """
    low, high = np.asarray(low, float), np.asarray(high, float)
    if not np.any(high > low):
        return []
    high = np.maximum(high, low + SLIVER)  # of many variants some may lack this stretch
    return [
        Span(name, on_x(a), on_x(b), AXES, _part(outline, low, high, a, b),
             lambda case, s=side: beyond(case, s), material, piece, stations,
             _part(notch, low, high, a, b))
        for side, a, b in _halves(low, high)
    ]  # fmt: skip


def on_x(x: Any) -> np.ndarray:
    """A place on the x axis [mm], shape (..., 3)."""
    x = np.asarray(x, float)
    return np.stack([x, 0.0 * x, 0.0 * x], axis=-1)


def like(value: Any, t: Any) -> Any:
    """A number for each station."""
    return value + 0.0 * np.asarray(t)


def _halves(low: Any, high: Any) -> list[tuple[float, Any, Any]]:
    if np.all(high <= 0.0):
        return [(-1.0, low, high)]
    if np.all(low >= 0.0):
        return [(1.0, low, high)]
    return [(-1.0, low, np.clip(0.0, low, high)), (1.0, np.clip(0.0, low, high), high)]


def _part(
    whole: Callable[[Any], Here], low: Any, high: Any, a: Any, b: Any
) -> Callable[[Any], Here]:
    def of(t: Any) -> Here:
        return whole((a - low + np.asarray(t) * (b - a)) / (high - low))

    return of
