"""Two states of a part in one picture: what was seen of it, dashed, under what is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from parts.making.bench.frames import Frame, frame
from parts.making.bench.ink import Arc
from parts.making.bench.projection import look

WIDE, HIGH, GAP = 1000.0, 500.0, 40.0
"""Width of the picture, greatest height of a view, and the gap around it [px]."""
LEAST = 1e-6
"""Least size of a view [mm]."""
POINTS = 24
"""Points of an arc."""
VIEWS = (("x and y", ((1, 0, 0), (0, 1, 0))), ("x and z", ((1, 0, 0), (0, 0, 1))))
"""What each view shows: the axes to the right and up."""
INKS = (("#888888", "5 4", 2.2), ("#000000", "", 1.2))
"""Ink, dashes and width of what was, and of what is."""


def overlay_svg(before: Sequence[Any], after: Sequence[Any], title: str) -> bytes:
    """Draw both as they are seen from two sides, one view above the other, hidden lines removed.

    Args:
        before: CadQuery Workplanes in place.
        after: the same.
        title: what stands above.

    Returns:
        An SVG.
    """
    from xml.sax.saxutils import escape

    body, top = [], 60.0
    for name, axes in VIEWS:
        view = frame(*axes)
        lines = [
            [line for solid in solids for line in _seen(solid, view)] for solids in (before, after)
        ]
        every = np.concatenate([line for one in lines for line in one])
        low, size = every.min(axis=0), np.maximum(np.ptp(every, axis=0), LEAST)
        scale = min((WIDE - 2.0 * GAP) / float(size[0]), HIGH / float(size[1]))
        body.append(f'<text x="{GAP:g}" y="{top:.1f}">{name}</text>')
        bottom = top + 20.0 + scale * float(size[1])
        for own, (ink, dash, wide) in zip(lines, INKS, strict=True):
            paths = " ".join(_path((line - low) * scale, bottom) for line in own)
            dashed = f' stroke-dasharray="{dash}"' if dash else ""
            body.append(
                f'<path d="{paths}" fill="none" stroke="{ink}" stroke-width="{wide}"{dashed}/>'
            )
        top = bottom + GAP
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE:g} {top:.0f}" font-family="sans-serif" '
        f'font-size="14"><rect width="100%" height="100%" fill="#ffffff"/>'
        f'<text x="{GAP:g}" y="28">{escape(title)}: before dashed, after drawn through</text>'
    )
    return "\n".join([head, *body, "</svg>", ""]).encode()


def _seen(solid: Any, view: Frame) -> Iterator[np.ndarray]:
    """Points of each edge and outline that is seen, along the axes of the view [mm], (n, 2)."""
    for curve in look(solid.val(), view).visible:
        if isinstance(curve, Arc):
            turn = np.linspace(curve.start, curve.stop, POINTS)
            yield curve.centre + curve.radius * np.stack([np.cos(turn), np.sin(turn)], axis=-1)
        else:
            yield curve.points


def _path(places: np.ndarray, bottom: float) -> str:
    return "M" + " L".join(f"{GAP + x:.2f} {bottom - y:.2f}" for x, y in places)
