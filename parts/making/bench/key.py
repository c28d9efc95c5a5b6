"""The key to a part's dimensions: its views, with the names of its fields where the drawing has their values.

Nothing is stated here: each field is nudged in turn, and the sizes of the shop drawing that move with it are those that
it sets. A size that several fields make together carries their sum. A field that sets no size stands at the place or
the note that moves with it (`key_places.py`), and below the views where nothing on the drawing does.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields, replace
from typing import Any

import numpy as np

from parts.core.drawing import Drawn
from parts.core.part import Part
from parts.making.bench.arrangement import SCALES, arranged
from parts.making.bench.field import Field
from parts.making.bench.figures import Figures
from parts.making.bench.ink import Ink, Letters, extent
from parts.making.bench.key_fields import every_field, named
from parts.making.bench.key_places import NOTE
from parts.making.bench.looks import looks
from parts.making.bench.svg import svg_bytes
from parts.making.bench.views import NoRoom, filled, shared_out

AROUND = 12.0
"""Left round the views [mm]."""
_FIELD = re.compile(r"[\w.\[\]]+\w\]?")
WITHOUT, NOTED = "Without room in the views:", "Stated by a note:"
APART = "Set nothing that is drawn here:"
SAID = 100
"""Letters on a line below the views."""
LETTER, LINE = 2.5, 5.0
"""Height of the letters below the views, and of their lines [mm]."""
WIDE, HIGH = 400.0, 277.0
"""Room of the views of a piece [mm], that of an A3 sheet."""


@dataclass(frozen=True)
class Key:
    """A key as SVG, and where the fields stand in it.

    `fields` stand in the views, `below` under them for want of room, `noted` beside the note that states them, and
    `apart` are those that nothing on the drawing shows, as the friction of a joint.
    """

    svg: bytes
    fields: tuple[str, ...]
    below: tuple[str, ...] = ()
    noted: tuple[str, ...] = ()
    apart: tuple[str, ...] = ()


def key(part: Part, title: str = "") -> Key:
    """Draw the key of a part.

    Args:
        part: the part; it is drawn as it is stated.
        title: of the picture; the part's family where left out.

    Returns:
        The key; its views of all pieces one below another, and below them the names that stand in no view.
    """
    solids = {piece.name: piece.solid.val() for piece in part.pieces}
    shown: list[str] = []
    lost: list[str] = []
    noted: list[tuple[str, str, tuple[str, ...]]] = []
    sheets: list[tuple[list[Ink], np.ndarray]] = []
    for drawn, names in named(part):
        own = {name: words for name, words in names.items() if not name.startswith(NOTE)}
        noted += [
            (text, name.removeprefix(NOTE), fields)
            for name, (text, fields) in names.items()
            if name not in own
        ]
        try:
            ink, left = _views(drawn, own, solids[drawn.piece])
        except NoRoom:
            ink, left = [], set(own)
        for name, (text, several) in own.items():
            said = set() if name in left else set(_FIELD.findall(text))
            shown += [one for one in several if one in said]
            lost += [one for one in several if one not in said]
        if ink:
            sheets.append(_sheet(ink))
    below = tuple(one for one in dict.fromkeys(lost) if one not in shown)
    there = {*shown, *below, *(one for *_, fields in noted for one in fields)}
    apart = tuple(one for one in every_field(part) if one not in there)
    lines = [*_lines(WITHOUT, below), *_lines(NOTED, [f"{text}: {_short(note)}" for text, note, _ in noted]),
             *_lines(APART, _rows(apart))]  # fmt: skip
    if lines or not sheets:
        sheets.append(_sheet([Letters(text, np.array([0.0, -LINE * k]), LETTER, bold=bold)
                              for k, (text, bold) in enumerate(lines)]))  # fmt: skip
    wide = max(float(size[0]) for _, size in sheets)
    high_ = sum(float(size[1]) for _, size in sheets)
    every: list[Ink] = []
    top = high_
    for ink, size in sheets:
        top -= float(size[1])
        every += [one.moved(np.array([0.0, top])) for one in ink]
    svg = svg_bytes((wide, high_), every, title or f"{part.family}: what each dimension means")
    return Key(
        svg, tuple(dict.fromkeys(shown)), below, tuple(one for *_, f in noted for one in f), apart
    )


def _sheet(ink: Sequence[Ink]) -> tuple[list[Ink], np.ndarray]:
    """Ink with room around it, and how wide and high that is."""
    low, high = extent(list(ink))
    return [one.moved(AROUND - low) for one in ink], high - low + 2.0 * AROUND


def _lines(head: str, rows: Sequence[str]) -> list[tuple[str, bool]]:
    """A heading with lines below it, each with whether it is bold; nothing where there are none."""
    return [(head, True), *((row, False) for row in rows)] if rows else []


def _short(note: str) -> str:
    """The first words of a note."""
    line = " ".join(note.split())
    return line if len(line) <= SAID else line[:SAID].rsplit(" ", 1)[0] + " ..."


def _rows(names: Sequence[str]) -> list[str]:
    """Names on as few lines as they have room on."""
    rows: list[str] = []
    for name in names:
        if rows and len(rows[-1]) + len(name) < SAID:
            rows[-1] += f", {name}"
        else:
            rows.append(name)
    return rows


def _views(
    drawn: Drawn, names: Mapping[str, tuple[str, tuple[str, ...]]], solid: Any
) -> tuple[list[Ink], set[str]]:
    """The views of a sheet with names in place of values, and the marks that found no room."""
    left: set[str] = set()
    seen = looks(drawn, solid)
    while True:
        kept = _only(drawn, set(names) - left)
        sides = [view.view.side for view in seen]
        figures = Figures(names={name: text for name, (text, _) in names.items()})
        given = shared_out(kept, seen)
        crowded: tuple[str, ...] = ()
        for scale in _scales(drawn, seen):
            try:
                fields: list[Field] = filled(kept, seen, given, scale, figures, balloons=False)
            except NoRoom as error:
                crowded = crowded or error.names
                continue
            placed = arranged(sides, [there.ink for there in fields], "first angle")
            return [
                one.moved(origin)
                for there, origin in zip(fields, placed.origins, strict=True)
                for one in there.ink
            ], left
        if not crowded:
            raise NoRoom(f"{drawn.piece}: its key has no room")
        left |= set(crowded)


def _only(drawn: Drawn, names: set[str]) -> Drawn:
    """The sheet without the marks that carry no name, without tolerances, and without the numbers of its table."""
    marks = drawn.marks
    holes = (replace(one, noted=one.noted or one.name not in names) for one in marks.holes)
    kept = replace(
        marks,
        dimensions=tuple(_plain(one) for one in marks.dimensions if one.name in names),
        holes=tuple(map(_plain, holes)),
        profiles=(),
        datums=(),
    )
    return replace(drawn, marks=kept)


def _plain(mark: Any) -> Any:
    """A mark without its geometric tolerances."""
    bare = {"zones": (), "datum": ""}
    own = {one.name for one in fields(mark)}
    return replace(mark, **{name: value for name, value in bare.items() if name in own})


def _scales(drawn: Drawn, seen: Sequence[Any]) -> list[float]:
    """A few scales at which the views have room, the largest first."""
    sides = [view.view.side for view in seen]
    spans = [extent(list(view.seen.visible)) for view in seen]
    long = max(float(np.max(high - low)) for low, high in spans)
    fit = [
        s
        for s in SCALES
        if s * long <= WIDE / (2.0 if len(sides) > 1 else 1.3) and s * long <= HIGH
    ]
    return fit[:2] or [min(SCALES)]
