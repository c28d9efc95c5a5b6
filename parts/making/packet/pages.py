"""Pages of words and tables, and PDFs joined to one."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from parts.making.bench.ink import Ink, Letters, line, width
from parts.making.bench.pdf import Page, pdf_bytes

LEFT, RIGHT, TOP, FOOT = 20.0, 12.0, 18.0, 14.0
HEAD, TEXT, ROW = 4.0, 2.2, 4.4
"""Height of capitals of a title and of text, and from line to line [mm]."""
COLUMN = 1.7
"""How far apart the columns of a text file stand on paper [mm]."""


@dataclass(frozen=True)
class Table:
    """Rows below a head; `wide` are the shares of the page's width that the columns take."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    wide: tuple[float, ...]


@dataclass(frozen=True)
class Heading:
    """A heading within the pages."""

    text: str


Block = str | Table | Heading
Line = tuple[list[Letters], bool]
"""Letters of one line, from its left end, and whether a rule follows below it."""


def pages(title: str, blocks: Sequence[Block], size: tuple[float, float]) -> list[Page]:
    """Lay words and tables on as many pages as they take.

    Args:
        title: of every page.
        blocks: one below the other; text is a paragraph.
        size: of a page [mm].

    Returns:
        The pages.
    """
    room = size[0] - LEFT - RIGHT
    lines = [one for block in blocks for one in _lines(block, room)]
    return _paged(title, lines, size)


def text_pages(title: str, text: str, size: tuple[float, float]) -> list[Page]:
    """Lay a text file on pages: words that two blanks or more part keep their columns."""
    lines: list[Line] = []
    for said in text.splitlines():
        words = [
            Letters(one[0], np.array([one.start() * COLUMN, 0.0]), TEXT)
            for one in re.finditer(r"\S+(?: \S+)*", said)
        ]
        lines.append((words, False))
    return _paged(title, lines, size)


def joined(named: Sequence[tuple[str, bytes]], title: str) -> bytes:
    """PDFs one behind the other as one, with an entry for each in its outline.

    Args:
        named: what each is called, and its bytes.
        title: of the whole.

    Returns:
        The PDF, the same bytes on every run.
    """
    from pypdf import PdfReader, PdfWriter

    writer = PdfWriter()
    for name, content in named:
        writer.append(PdfReader(io.BytesIO(content)), outline_item=name, import_outline=False)
    # A template is worth nothing unless it is printed at full size.
    writer.create_viewer_preferences().print_scaling = "/None"
    writer.add_metadata({"/Title": title, "/Creator": "oneoff-parts", "/Producer": "pypdf"})
    target = io.BytesIO()
    writer.write(target)
    return target.getvalue()


def document(title: str, found: Sequence[Page]) -> bytes:
    """Pages as a PDF of their own."""
    return pdf_bytes(found, title)


def _paged(title: str, lines: Sequence[Line], size: tuple[float, float]) -> list[Page]:
    wide, high = size
    fit = int((high - TOP - FOOT - 2.0 * ROW) / ROW)
    found: list[Page] = []
    for start in range(0, max(len(lines), 1), fit):
        more = f" ({start // fit + 1})" if len(lines) > fit else ""
        ink: list[Ink] = [Letters(f"{title}{more}", np.array([LEFT, high - TOP]), HEAD, bold=True)]
        y = high - TOP - ROW
        for letters, ruled in lines[start : start + fit]:
            y -= ROW
            ink += [one.moved(np.array([LEFT, y])) for one in letters]
            if ruled:
                ink.append(line("table", (LEFT, y - 1.2), (wide - RIGHT, y - 1.2)))
        found.append(((wide, high), ink))
    return found


def _lines(block: Block, room: float) -> Iterator[Line]:
    if isinstance(block, Heading):
        yield [], False
        yield [Letters(block.text, np.zeros(2), TEXT * 1.2, bold=True)], False
        return
    if isinstance(block, str):
        for said in _wrapped(block, room, bold=False):
            yield [Letters(said, np.zeros(2), TEXT)], False
        return
    lefts = np.concatenate([[0.0], np.cumsum(block.wide)]) / sum(block.wide) * room
    for row in (block.head, *block.rows):
        bold = row is block.head
        cells = [
            _wrapped(cell, right - left - 2.0, bold=bold)
            for cell, left, right in zip(row, lefts, lefts[1:], strict=False)
        ]
        deep = max(map(len, cells))
        for i in range(deep):
            yield (
                [
                    Letters(cell[i], np.array([left, 0.0]), TEXT, bold=bold)
                    for cell, left in zip(cells, lefts, strict=False)
                    if i < len(cell)
                ],
                i == deep - 1,
            )


def _wrapped(text: str, room: float, *, bold: bool) -> list[str]:
    """A text in lines no wider than the room [mm]; a word that is too long is broken."""
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if width(longer, TEXT, bold) <= room:
            lines[-1] = longer
            continue
        if lines[-1]:
            lines.append("")
        while width(word, TEXT, bold) > room and len(word) > 1:
            fits = next(
                n
                for n in range(len(word) - 1, 0, -1)
                if width(word[:n], TEXT, bold) <= room or n == 1
            )
            lines[-1] = word[:fits]
            word = word[fits:]
            lines.append("")
        lines[-1] = word
    return lines
