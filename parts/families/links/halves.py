"""Stretches of a link's body as spans: what acts on a section comes from the end that it is nearer to."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any, TypeVar

import numpy as np

from parts.core.loadpath import Notch, Span
from parts.families.links.sites import BetweenEnds
from parts.features.bung.stretches import on_x
from parts.standards.materials.materials import Material
from parts.strength.section.outline import Outline

AXES = np.eye(3)
SLIVER = 1e-3
"""Length of a stretch that a variant lacks [mm]: spans have one."""
Here = TypeVar("Here")


def along_x(
    name: str,
    low: Any,
    high: Any,
    outline: Callable[[Any], Outline],
    site: BetweenEnds,
    material: Material,
    piece: str,
    stations: int,
    notch: Callable[[Any], Notch],
) -> list[Span]:
    """Spans for a stretch of a bar on the x axis: one, or two where it passes x = 0.

    Args:
        name: of the stretch.
        low: where it begins, from the body's face for end a [mm].
        high: where it ends [mm].
        outline: its section at t in [0, 1].
        site: the body of the link, and what acts beyond a section.
        material: what it is made of.
        piece: the piece of the part.
        stations: how many sections a scan looks at.
        notch: what raises the stress at t in [0, 1] of the stretch.

    Returns:
        The spans; none for a stretch without length.
    """
    low, high = np.asarray(site.start + low, float), np.asarray(site.start + high, float)
    if not np.any(high > low):
        return []
    high = np.maximum(high, low + SLIVER)  # of many variants some may lack this stretch
    return [
        Span(name, on_x(a), on_x(b), AXES, _part(outline, low, high, a, b),
             partial(site.beyond, side=side), material, piece, stations,
             _part(notch, low, high, a, b), reversing=partial(site.reversing, side=side))
        for side, a, b in _halves(low, high)
    ]  # fmt: skip


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
