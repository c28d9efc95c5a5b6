"""The sheet of a proof load as PDF: what to do in words, and the part as the elements see it."""

from __future__ import annotations

import io
import textwrap
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from parts.making.bench.font import font_of
from parts.report.proof.load import blocks

if TYPE_CHECKING:
    from parts.proof.proof_load import ProofLoad

MARGIN, SIZE, LEADING = 45.0, 9.5, 12.5
"""Margin, size of the letters and distance of lines [pt]."""
LETTERS = 98
"""Letters in a line."""


def load_pdf(found: ProofLoad, pictures: Mapping[str, bytes]) -> bytes:
    """Lay out the sheet on A4.

    Args:
        found: the test.
        pictures: PNGs of the elements by name; the first stands on the sheet.

    Returns:
        The PDF; the same bytes on every run.
    """
    from reportlab.lib.pagesizes import A4
    from reportlab.lib.utils import ImageReader
    from reportlab.pdfgen.canvas import Canvas

    target = io.BytesIO()
    canvas = Canvas(target, pagesize=A4, invariant=True, pageCompression=1)
    canvas.setTitle(f"{found.part.name}, proof load")
    canvas.setAuthor("")
    canvas.setCreator("oneoff-parts")
    wide, high = A4
    at = high - MARGIN
    for head, lines in blocks(found):
        if head:
            at = _written(canvas, head, at - 3.0, bold=True)
        fixed = head == "READINGS"
        for line in lines:
            for piece in [line] if fixed else textwrap.wrap(line, LETTERS):
                at = _written(canvas, piece, at, fixed=fixed, bold=not head and line is lines[0])
        at -= 4.0
    for picture in list(pictures.values())[:1]:
        canvas.showPage()
        image = ImageReader(io.BytesIO(picture))
        across = wide - 2.0 * MARGIN
        tall = across * image.getSize()[1] / image.getSize()[0]
        _written(
            canvas,
            f"{found.part.name} under {found.pull:.0f} N at {found.at}",
            high - MARGIN,
            bold=True,
        )
        canvas.drawImage(image, MARGIN, high - MARGIN - 15.0 - tall, across, tall)
        at = high - MARGIN - 40.0 - tall
        for one in (*found.references, *found.gauges):
            at = _written(
                canvas,
                f"{one.name} at x {one.place[0]:.0f}, y {one.place[1]:.0f}, z {one.place[2]:.0f} mm",
                at,
            )
    canvas.save()
    return target.getvalue()


def _written(
    canvas: Any, text: str, at: float, *, bold: bool = False, fixed: bool = False
) -> float:
    """Write a line, on a new page where there is no room; where the next one stands."""
    if at < MARGIN:
        canvas.showPage()
        at = canvas._pagesize[1] - MARGIN
    canvas.setFont("Courier" if fixed else font_of(text, bold), SIZE)
    canvas.drawString(MARGIN, at, text)
    return float(at - LEADING)
