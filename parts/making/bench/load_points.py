"""Where loads act on a part: its axes and its load points, drawn on the part seen from above, right and front."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np

from parts.core.part import Part
from parts.making.bench.frames import Frame, frame, pictorial
from parts.making.bench.ink import Ink, Letters, Patch, circle, extent, line
from parts.making.bench.picture_view import thin
from parts.making.bench.projection import look
from parts.making.bench.svg import svg_bytes
from parts.making.bench.views import scaled

LARGE, AROUND = 110.0, 12.0
"""Longest way across the part, and room around the picture [mm]."""
AXIS = 26.0
"""Length of an axis [mm]."""
LETTER, STEP = 3.0, 5.0
"""Height of the names, and the least way from one to the next [mm]."""
POINT = 1.4
"""Radius of the ring at a load point [mm]."""


def load_points(part: Part) -> bytes:
    """Draw where loads may act on a part, and the way of its axes.

    Args:
        part: the part.

    Returns:
        An SVG; empty where the part has no drawing.
    """
    import cadquery as cq

    drawn = next(iter(part.drawn()), None)
    if drawn is None:
        return b""
    view = pictorial(frame(drawn.right, drawn.up))
    whole = cq.Compound.makeCompound([piece.solid.val() for piece in part.pieces])
    seen = look(whole, view).visible
    low, high = extent(list(seen))
    scale = LARGE / float(np.max(high - low))
    ink: list[Ink] = [thin(scaled(one, scale)) for one in seen]
    ink += _axes(view)
    ink += _named({name: view.flat(at) * scale for name, at in part.points().items()})
    low, high = extent(ink)
    size = high - low + 2.0 * AROUND
    placed = [one.moved(AROUND - low) for one in ink]
    return svg_bytes(tuple(map(float, size)), placed, f"{part.family}: axes and load points")  # type: ignore[arg-type]


def _axes(view: Frame) -> Iterator[Ink]:
    """The axes from the origin, each with an arrow and its letter."""
    origin = np.zeros(2)
    for name, way in zip("xyz", np.eye(3), strict=True):
        flat = view.flat(way) * AXIS
        along = flat / np.linalg.norm(flat)
        aside = np.array([-along[1], along[0]])
        yield line("thread", origin, flat)
        yield Patch(
            np.array([flat, flat - 3.0 * along + 0.8 * aside, flat - 3.0 * along - 0.8 * aside]),
            "thread",
        )
        yield Letters(name, flat + 3.5 * along - np.array([0.0, LETTER / 2.0]), LETTER, anchor="middle")  # fmt: skip


def _named(places: Mapping[str, Any]) -> Iterator[Ink]:
    """A ring at each load point with its name, those of one place together; a name that lay on another goes up."""
    together: dict[tuple[float, ...], list[str]] = {}
    for name, at in places.items():
        together.setdefault(tuple(np.round(at, 2)), []).append(name)
    taken: list[np.ndarray] = []
    for spot, names in together.items():
        at = np.array(spot)
        letters = Letters(", ".join(names), at + np.array([2.5, 2.5]), LETTER, bold=True)
        while any(_overlap(letters, other) for other in taken):
            letters = letters.moved(np.array([0.0, STEP]))
        taken.append(letters.path())
        yield circle("outline", at, POINT)
        yield line("dimension", at, letters.at - np.array([0.0, 0.6]))
        yield letters


def _overlap(letters: Letters, other: np.ndarray) -> bool:
    low, high = extent([letters])
    return bool(np.all(low < other.max(axis=0)) and np.all(high > other.min(axis=0)))
