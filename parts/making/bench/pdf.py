"""Sheets as PDF: lines and letters, nothing rastered; the same bytes on every run."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.making.bench.font import font_of
from parts.making.bench.ink import CAPITAL, LAYERS, Arc, Ink, Letters, Patch

POINT = 72.0 / 25.4
"""Points per millimetre."""
Page = tuple[tuple[float, float], Sequence[Ink]]


def pdf_bytes(pages: Sequence[Page], title: str) -> bytes:
    """Write pages, each its size [mm] and its ink."""
    from reportlab.pdfgen.canvas import Canvas

    target = io.BytesIO()
    canvas = Canvas(target, invariant=True, pageCompression=1)
    canvas.setTitle(title)
    canvas.setAuthor("")
    canvas.setCreator("oneoff-parts")
    for size, ink in pages:
        canvas.setPageSize((size[0] * POINT, size[1] * POINT))
        # "Actual size" is what a printer should do by itself, or a template is worth nothing.
        canvas.setViewerPreference("PrintScaling", "None")
        canvas.scale(POINT, POINT)
        canvas.setLineCap(1)
        canvas.setLineJoin(1)
        for one in ink:
            _draw(canvas, one)
        canvas.showPage()
    canvas.save()
    return target.getvalue()


def _draw(canvas: Any, one: Ink) -> None:
    if isinstance(one, Letters):
        font = font_of(one.text, one.bold)
        size = one.height / CAPITAL
        canvas.saveState()
        canvas.translate(float(one.at[0]), float(one.at[1]))
        canvas.rotate(float(np.degrees(one.angle)))
        canvas.setFont(font, size)
        {
            "left": canvas.drawString,
            "middle": canvas.drawCentredString,
            "right": canvas.drawRightString,
        }[one.anchor](0, 0, one.text)
        canvas.restoreState()
        return
    layer = LAYERS[one.layer]
    canvas.setLineWidth(layer.width)
    canvas.setDash(*((list(layer.dashes), 0) if layer.dashes else ([], 0)))
    path = canvas.beginPath()
    if isinstance(one, Arc):
        x, y, r = float(one.centre[0]), float(one.centre[1]), float(one.radius)
        turn = float(np.degrees(one.stop - one.start))
        if one.whole:
            path.circle(x, y, r)
        else:
            path.arc(x - r, y - r, x + r, y + r, float(np.degrees(one.start)), turn)
    else:
        points = one.points
        path.moveTo(float(points[0][0]), float(points[0][1]))
        for point in points[1:]:
            path.lineTo(float(point[0]), float(point[1]))
        if isinstance(one, Patch) or one.closed:
            path.close()
    canvas.drawPath(path, stroke=0 if isinstance(one, Patch) else 1, fill=isinstance(one, Patch))
