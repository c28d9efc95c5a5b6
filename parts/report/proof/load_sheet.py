"""Sheets of words as PDF: a proof load with the part as the elements see it, the card of a piece as made."""

from __future__ import annotations

import io
import textwrap
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from parts.making.bench.font import font_of
from parts.report.proof.load import blocks, place_text

if TYPE_CHECKING:
    from parts.proof.proof_load import ProofLoad

MARGIN, SIZE, LEADING = 45.0, 9.5, 12.5
"""Margin, size of the letters and distance of lines [pt]."""
LETTERS = 98
"""Letters in a line."""


def load_pdf(found: ProofLoad, pictures: Mapping[str, bytes]) -> bytes:
    """Lay out the sheet of a proof load on A4.

    Args:
        found: the test.
        pictures: PNGs of the elements by name; the first stands on the sheet.

    Returns:
        The PDF; the same bytes on every run.
    """
    sheet = _Sheet(f"{found.part.name}, proof load")
    sheet.write(blocks(found), fixed=("READINGS",))
    for picture in list(pictures.values())[:1]:
        sheet.picture(f"{found.part.name} under its proof load", picture)
        sheet.write(
            [
                (
                    "",
                    [
                        f"{one.name} at {place_text(one)}"
                        for one in (*found.references, *found.gauges)
                    ],
                )
            ]
        )
    return sheet.pdf()


def blocks_pdf(title: str, of: Iterable[tuple[str, list[str]]], fixed: Sequence[str] = ()) -> bytes:
    """Lay out headed blocks of lines on A4.

    Args:
        title: of the document.
        of: heads, each with its lines.
        fixed: heads of the blocks that are tables.

    Returns:
        The PDF; the same bytes on every run.
    """
    sheet = _Sheet(title)
    sheet.write(of, fixed)
    return sheet.pdf()


class _Sheet:
    def __init__(self, title: str) -> None:
        from reportlab.lib.pagesizes import A4
        from reportlab.pdfgen.canvas import Canvas

        self._target = io.BytesIO()
        self._wide, self._high = A4
        self._canvas = Canvas(self._target, pagesize=A4, invariant=True, pageCompression=1)
        self._canvas.setTitle(title)
        self._canvas.setAuthor("")
        self._canvas.setCreator("oneoff-parts")
        self._at = self._high - MARGIN

    def write(self, of: Iterable[tuple[str, list[str]]], fixed: Sequence[str] = ()) -> None:
        for head, lines in of:
            if head:
                self._at = _written(self._canvas, head, self._at - 3.0, bold=True)
            table = head in fixed
            for line in lines:
                for piece in [line] if table else textwrap.wrap(line, LETTERS) or [""]:
                    self._at = _written(self._canvas, piece, self._at, fixed=table,
                                        bold=not head and line is lines[0])  # fmt: skip
            self._at -= 4.0

    def picture(self, title: str, picture: bytes) -> None:
        """A picture on a page of its own."""
        from reportlab.lib.utils import ImageReader

        self._canvas.showPage()
        image = ImageReader(io.BytesIO(picture))
        across = self._wide - 2.0 * MARGIN
        tall = across * image.getSize()[1] / image.getSize()[0]
        _written(self._canvas, title, self._high - MARGIN, bold=True)
        self._canvas.drawImage(image, MARGIN, self._high - MARGIN - 15.0 - tall, across, tall)
        self._at = self._high - MARGIN - 40.0 - tall

    def pdf(self) -> bytes:
        self._canvas.save()
        return self._target.getvalue()


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
