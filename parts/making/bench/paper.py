"""The sheet itself: its size, frame, title block, notes and the symbol of the projection."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from parts.making.bench.ink import (
    CAPITAL,
    DESCENDER,
    Ink,
    Letters,
    Line,
    box,
    circle,
    line,
    plain,
    width,
)

SIZES: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        # The longer side first [mm]. ISO 216; letter and tabloid: ASME Y14.1 sizes A and B.
        "A4": (297.0, 210.0),
        "A3": (420.0, 297.0),
        "A2": (594.0, 420.0),
        "letter": (279.4, 215.9),
        "tabloid": (431.8, 279.4),
    }
)
EDGE = 10.0
"""Frame to the edge of the sheet [mm]; on the left it is twice that, for filing, as ISO 5457 has it."""
TITLE_WIDE, TITLE_HIGH = 128.0, 54.5
SMALL = 2.5
"""Least height of letters on a sheet [mm]: ISO 3098-1 has 2.5 as the least that stays readable in a copy."""


@dataclass(frozen=True)
class Paper:
    """A sheet and the way it lies."""

    name: str
    landscape: bool = True

    @property
    def size(self) -> tuple[float, float]:
        long, short = SIZES[self.name]
        return (long, short) if self.landscape else (short, long)

    @property
    def inside(self) -> tuple[float, float, float, float]:
        """The frame: x and y of its lower left corner, its width and its height [mm]."""
        wide, high = self.size
        return 2.0 * EDGE, EDGE, wide - 3.0 * EDGE, high - 2.0 * EDGE


@dataclass(frozen=True)
class TitleBlock:
    """What the title block says."""

    title: str
    number: str
    revision: str
    material: str
    finish: str
    mass: str
    scale: str
    sheet: str
    units: str
    tolerance: tuple[str, ...]
    surface: str
    projection: str
    piece: str
    quantity: str
    hand: str


def frame_ink(paper: Paper) -> list[Ink]:
    """The frame, with centring marks."""
    x, y, wide, high = paper.inside
    full_wide, full_high = paper.size
    marks = [
        line("frame", (x + wide / 2.0, 0.0), (x + wide / 2.0, y)),
        line("frame", (x + wide / 2.0, full_high), (x + wide / 2.0, full_high - EDGE - 3.0)),
        line("frame", (full_wide, y + high / 2.0), (full_wide - EDGE - 3.0, y + high / 2.0)),
        line("frame", (0.0, y + high / 2.0), (x + 3.0, y + high / 2.0)),
    ]
    return [box("frame", x, y, wide, high), *marks]


def title_ink(paper: Paper, said: TitleBlock) -> list[Ink]:
    """The title block in the lower right corner."""
    x0, y0, wide, _ = paper.inside
    x, y = x0 + wide - TITLE_WIDE, y0
    ink: list[Ink] = [box("frame", x, y, TITLE_WIDE, TITLE_HIGH)]

    def cell(
        left: float, low: float, broad: float, tall: float, label: str, words: str, height: float = SMALL,
        *, bold: bool = False,
    ) -> None:  # fmt: skip
        ink.append(box("table", x + left, y + low, broad, tall))
        head = np.array([x + left + 1.2, y + low + tall - SMALL - 0.5])
        ink.append(Letters(label, head, SMALL, layer="lettering"))
        lines, fitted = fitting(words, broad - 2.6, tall - 2.0 * SMALL, height, bold=bold)
        foot = y + low + max(1.1, 0.4 + DESCENDER / CAPITAL * fitted)
        for i, line_ in enumerate(reversed(lines)):
            at = np.array([x + left + 1.5, foot + LINE * fitted * i])
            ink.append(Letters(line_, at, fitted, bold=bold))

    def row(left: float, low: float, broad: float, label: str, words: str) -> None:
        """A low cell, its label beside its words."""
        ink.append(box("table", x + left, y + low, broad, LOW))
        at = np.array([x + left + 1.2, y + low + 1.6])
        start = 1.2 + width(label, SMALL) + 2.0 * bool(label)
        text = shortened(words, broad - start - 0.8, SMALL)
        own = at + np.array([start - 1.2, 0.0])
        both = Letters(label, at, SMALL, layer="lettering"), Letters(text, own, SMALL)
        ink.extend(one for one in both if one.text)

    cell(0, 0, 62, 10, "part number", said.number, 4.0, bold=True)
    cell(62, 0, 18, 10, "revision", said.revision, 4.0, bold=True)
    cell(80, 0, 24, 10, "scale", said.scale, 3.5)
    cell(104, 0, 24, 10, "sheet", said.sheet, 3.5)
    cell(0, 10, 80, 11, "title", said.title, 3.5, bold=True)
    cell(80, 10, 48, 11, said.projection, "")
    ink += projection_symbol(said.projection, x + 112.0, y + 15.0)
    row(0, 21, 38, "piece", said.piece)
    row(38, 21, 22, "quantity", said.quantity)
    row(60, 21, 20, "hand", said.hand)
    row(80, 21, 24, "", said.mass)
    row(104, 21, 24, "in", said.units)
    row(0, 27, 80, "material", said.material)
    row(80, 27, 48, "surfaces", "")
    ink += surface_symbol(said.surface, x + 102.0, y + 27.8)
    row(0, 33, 80, "finish", said.finish)
    row(80, 33, 24, "made", "")
    row(104, 33, 24, "inspected", "")
    cell(80, 39, 48, 15.5, "approved: name, date", "")
    ink.append(box("table", x, y + 39, 80, 15.5))
    for i, words in enumerate(said.tolerance):
        at = np.array([x + 1.5, y + TITLE_HIGH - 3.4 - 3.6 * i])
        ink.append(Letters(shortened(words, 77.0, SMALL, bold=i == 0), at, SMALL, bold=i == 0))
    return ink


LOW = 6.0
"""Height of a cell whose label stands beside its words [mm]."""
LINE = 1.35
"""Distance of lines of text per height where room is short."""


def fitting(
    words: str, room: float, tall: float, height: float, *, bold: bool
) -> tuple[list[str], float]:
    """Words as lines within a room [mm], never lower than the least height, and their height [mm]."""
    run = width(plain(words), height, bold)
    fitted = height if run <= room else height * room / run
    if fitted >= SMALL or not words:
        return [plain(words)] * bool(words), fitted
    lines = wrapped(words, room, SMALL, bold=bold)
    most = 1 + max(0, int((tall - SMALL) / (LINE * SMALL)))
    kept = [*lines[: most - 1], " ".join(lines[most - 1 :])]
    return [shortened(line_, room, SMALL, bold=bold) for line_ in kept], SMALL


def shortened(words: str, room: float, height: float, *, bold: bool = False) -> str:
    """One line of words, cut off where it is wider than a room [mm]."""
    text = plain(words)
    if width(text, height, bold) <= room:
        return text
    while text and width(f"{text}...", height, bold) > room:
        text = text[:-1]
    return f"{text.rstrip()}..."


def projection_symbol(projection: str, x: float, y: float) -> list[Ink]:
    """The cone of ISO 5456-2: its end view beside the side from which it is seen in the given method."""
    small, large, long = 2.0, 4.0, 9.0
    ends = 9.5
    # The narrow end is on the left of the side view; its end view shows both circles.
    third = projection == "third angle"
    side_x = x + (0.0 if third else -ends)
    end_x = x + (-ends if third else ends)
    if not third:
        side_x, end_x = x - 5.0, x + 8.0
    else:
        side_x, end_x = x + 4.0, x - 8.0
    a, b = side_x - long / 2.0, side_x + long / 2.0
    cone = Line(
        np.array([(a, y - small), (b, y - large), (b, y + large), (a, y + small)]), "thread", True
    )
    middle = np.array([end_x, y])
    return [
        cone,
        circle("thread", middle, small),
        circle("thread", middle, large),
        line("centre", (a - 1.5, y), (b + 1.5, y)),
        line("centre", (end_x - large - 1.2, y), (end_x + large + 1.2, y)),
        line("centre", (end_x, y - large - 0.8), (end_x, y + large + 0.8)),
    ]


def surface_symbol(words: str, x: float, y: float) -> list[Ink]:
    """The mark of a machined surface of ISO 21920-1, its foot at (x, y), with what is asked of it."""
    leg, tall = 2.0, 4.0
    slope = np.tan(np.radians(30.0))
    mark = [
        line("dimension", (x - leg * slope, y + leg), (x, y), (x + tall * slope, y + tall)),
        line("dimension", (x - leg * slope, y + leg), (x + leg * slope, y + leg)),
    ]
    top = line("dimension", (x + tall * slope, y + tall), (x + tall * slope + 16.0, y + tall))
    return [*mark, top, Letters(words, np.array([x + tall * slope + 1.0, y + tall - 3.2]), SMALL)]


def wrapped(words: str, room: float, height: float, *, bold: bool = False) -> list[str]:
    """Words broken into lines no wider than the room [mm]."""
    lines = [""]
    for word in plain(words).split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and width(longer, height, bold) > room:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def notes_ink(
    x: float,
    top: float,
    room: float,
    blocks: Sequence[tuple[str, Sequence[str]]],
    height: float = SMALL,
) -> tuple[list[Ink], float]:
    """Headed lists of notes, downward from `top`.

    Returns:
        The ink, and the height that it takes [mm].
    """
    step = height * 1.5
    y = top
    ink: list[Ink] = []
    for heading, notes in blocks:
        if not notes:
            continue
        y -= step
        ink.append(Letters(heading, np.array([x, y]), height, bold=True))
        for i, note in enumerate(notes, 1):
            mark = f"{i}  "
            hang = width("00  ", height)
            for k, words in enumerate(wrapped(note, room - hang, height)):
                y -= step
                if k == 0:
                    ink.append(Letters(mark.strip(), np.array([x, y]), height))
                ink.append(Letters(words, np.array([x + hang, y]), height))
        y -= 0.4 * step
    return ink, top - y


__all__ = ["CAPITAL", "Paper", "TitleBlock", "frame_ink", "notes_ink", "title_ink", "wrapped"]
