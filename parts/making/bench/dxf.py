"""A sheet as DXF, layers by purpose. The part in it is at full size, and the sheet is drawn about it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.making.bench.ink import LAYERS, Arc, Ink, Letters, Patch
from parts.making.dxf_document import begun, written

STYLE = "PLAIN"
_WEIGHTS = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70)
"""Line widths that the format knows [0.01 mm]."""


def dxf_bytes(ink: Sequence[Ink], scale: float) -> bytes:
    """Write a sheet whose views are drawn at a scale.

    Args:
        ink: the sheet on the paper [mm].
        scale: of its views; all is divided by it, so that the part measures true.

    Returns:
        The file.
    """
    from ezdxf.enums import TextEntityAlignment

    aligned = {
        "left": TextEntityAlignment.LEFT,
        "middle": TextEntityAlignment.CENTER,
        "right": TextEntityAlignment.RIGHT,
    }
    document = begun()
    document.styles.add(STYLE, font="arial.ttf")
    _layers(document, scale)
    space = document.modelspace()
    for one in ink:
        _add(space, one, 1.0 / scale, aligned)
    return written(document)


def _layers(document: Any, scale: float) -> None:
    for name, layer in LAYERS.items():
        kind = "CONTINUOUS"
        if layer.dashes:
            kind = name.upper()
            lengths = [d / scale * (-1) ** i for i, d in enumerate(layer.dashes)]
            document.linetypes.add(kind, [sum(map(abs, lengths)), *lengths], description=name)
        added = document.layers.add(name.upper(), color=layer.colour, linetype=kind)
        added.dxf.lineweight = min(_WEIGHTS, key=lambda w: abs(w - 100.0 * layer.width))


def _add(space: Any, one: Ink, size: float, aligned: dict[str, Any]) -> None:
    on = {"layer": one.layer.upper()}
    if isinstance(one, Letters):
        text = space.add_text(
            one.text,
            height=one.height * size,
            rotation=float(np.degrees(one.angle)),
            dxfattribs={**on, "style": STYLE},
        )
        text.set_placement(tuple(one.at * size), align=aligned[one.anchor])
    elif isinstance(one, Patch):
        corners = [tuple(p) for p in one.points * size]
        space.add_solid(
            [*corners[:2], corners[-1], corners[2]] if len(corners) > 3 else corners, on
        )
    elif isinstance(one, Arc):
        centre, radius = tuple(one.centre * size), one.radius * size
        if one.whole:
            space.add_circle(centre, radius, on)
        else:
            space.add_arc(
                centre, radius, np.degrees(one.start), np.degrees(one.stop), dxfattribs=on
            )
    elif len(one.points) == 2 and not one.closed:
        space.add_line(*(tuple(p) for p in one.points * size), dxfattribs=on)
    else:
        points = [tuple(map(float, p)) for p in one.points * size]
        space.add_lwpolyline(points, close=one.closed, dxfattribs=on)
