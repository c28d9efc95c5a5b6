"""Sheets as PDF: lines and letters, nothing rastered; the same bytes on every run."""

from __future__ import annotations

import io
from collections.abc import Sequence
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import numpy as np

from parts.making.bench.ink import CAPITAL, LAYERS, Arc, Ink, Letters, Patch
from parts.making.model import MakeError

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


def _font(one: Letters) -> str:
    """The font of a text: of those that every reader of PDF has, or one to embed where these lack a letter."""
    try:
        one.text.encode("cp1252")
    except UnicodeEncodeError:
        return _embedded("DejaVuSans-Bold" if one.bold else "DejaVuSans")
    return "Helvetica-Bold" if one.bold else "Helvetica"


@cache
def _embedded(name: str) -> str:
    """Register a font with the letters of most scripts; the file takes no more of it than the letters used.

    DejaVu comes with matplotlib, which comes with CadQuery's VTK; that library itself is not imported.
    """
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    found = find_spec("matplotlib")
    folders = found.submodule_search_locations if found else None
    for folder in folders or ():
        file = Path(folder) / "mpl-data" / "fonts" / "ttf" / f"{name}.ttf"
        if file.is_file():
            registerFont(TTFont(name, str(file)))
            return name
    raise MakeError(
        "the sheet has letters that the fonts of PDF lack, as in its title, and the font DejaVu, which comes with "
        "matplotlib, is not here; install matplotlib, or write Latin letters"
    )


def _draw(canvas: Any, one: Ink) -> None:
    if isinstance(one, Letters):
        font = _font(one)
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
