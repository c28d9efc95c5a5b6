"""A sheet as SVG: lines and letters in millimetres, a group for each layer."""

from __future__ import annotations

from collections.abc import Sequence
from xml.sax.saxutils import escape

import numpy as np

from parts.making.bench.ink import CAPITAL, LAYERS, Arc, Ink, Letters, Patch

_ANCHORS = {"left": "start", "middle": "middle", "right": "end"}


def svg_bytes(size: tuple[float, float], ink: Sequence[Ink], title: str) -> bytes:
    """Write a sheet of a size [mm]."""
    wide, high = size
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:g}mm" height="{high:g}mm" '
        f'viewBox="0 0 {wide:g} {high:g}" fill="none" stroke="black" stroke-linecap="round" '
        'stroke-linejoin="round" font-family="Helvetica, Arial, sans-serif">',
        f"<title>{escape(title)}</title>",
        f'<rect width="{wide:g}" height="{high:g}" fill="white" stroke="none"/>',
    ]
    for name, layer in LAYERS.items():
        found = [_element(one, high) for one in ink if one.layer == name]
        if not found:
            continue
        dashes = " ".join(f"{d:g}" for d in layer.dashes)
        dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
        lines += [f'<g id="{name}" stroke-width="{layer.width:g}"{dashed}>', *found, "</g>"]
    return ("\n".join([*lines, "</svg>"]) + "\n").encode()


def _element(one: Ink, high: float) -> str:
    if isinstance(one, Letters):
        x, y = float(one.at[0]), high - float(one.at[1])
        turn = (
            f' transform="rotate({-np.degrees(one.angle):.4g} {x:.3f} {y:.3f})"'
            if one.angle
            else ""
        )
        weight = ' font-weight="bold"' if one.bold else ""
        # The length is stated, so that another font takes the same room.
        return (
            f'<text x="{x:.3f}" y="{y:.3f}" font-size="{one.height / CAPITAL:.3f}" '
            f'text-anchor="{_ANCHORS[one.anchor]}" textLength="{one.width:.3f}" '
            f'lengthAdjust="spacingAndGlyphs" fill="black" stroke="none"{weight}{turn}>'
            f"{escape(one.text)}</text>"
        )
    if isinstance(one, Patch):
        return f'<polygon points="{_points(one.points, high)}" fill="black" stroke="none"/>'
    if isinstance(one, Arc):
        x, y, r = float(one.centre[0]), high - float(one.centre[1]), float(one.radius)
        if one.whole:
            return f'<circle cx="{x:.3f}" cy="{y:.3f}" r="{r:.3f}"/>'
        (x0, y0), (x1, y1) = one.path()[[0, -1]]
        large = int(one.stop - one.start > np.pi)
        return f'<path d="M{x0:.3f} {high - y0:.3f} A{r:.3f} {r:.3f} 0 {large} 0 {x1:.3f} {high - y1:.3f}"/>'
    kind = "polygon" if one.closed else "polyline"
    return f'<{kind} points="{_points(one.points, high)}"/>'


def _points(points: np.ndarray, high: float) -> str:
    return " ".join(f"{x:.3f},{high - y:.3f}" for x, y in points)
