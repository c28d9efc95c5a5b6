"""A whole sheet: the views of a piece with their dimensions, the notes and the title block, in place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest
from typing import Any

import numpy as np

from parts.core.cautions import IN_SHORT
from parts.core.drawing import Drawn, Hole, Linear
from parts.core.part import Part
from parts.making.bench import coordinates
from parts.making.bench.arrangement import SCALES, Arranged, arranged, scale_words
from parts.making.bench.balloons import numbers, runs
from parts.making.bench.breaks import broken
from parts.making.bench.details import detailed
from parts.making.bench.figures import Figures
from parts.making.bench.ink import Ink, Letters
from parts.making.bench.looks import Looked, looks
from parts.making.bench.paper import (
    TITLE_HIGH,
    TITLE_WIDE,
    Paper,
    TitleBlock,
    frame_ink,
    notes_ink,
    title_ink,
)
from parts.making.bench.picture_view import picture
from parts.making.bench.views import Given, NoRoom, filled, scaled, shared_out
from parts.making.bench.words import edge_words, hole_words
from parts.standards.fits.general_tolerances import general_deviations
from parts.standards.materials.materials import Material

INSET = 4.0
LAST = "A2"
"""The sheet taken where no smaller one shows a part at full size: few shops print it in one."""
SHORT, MANY, FINE = 9.0, 0.2, 1.0
"""Short on the paper [mm]; so large a share of dimensions is many; a scale at which all is well."""
DRESS = 30.0
"""The least that dimensions add to the width and the height of the views [mm]."""
LARGEST = 5.0
"""Parts of a vehicle are drawn no larger than this."""


FEW = 4
"""Cautions of the part itself on a sheet, beside the one that all carry."""
POUND = 0.45359237
"""Kilograms in a pound, exactly: international yard and pound agreement of 1959."""


@dataclass(frozen=True)
class OfPiece:
    """What a piece is made of, and its mass [kg]."""

    material: Material
    mass: float


@dataclass(frozen=True)
class DrawnSheet:
    """A sheet ready to be written: its paper, its ink, the scale of its views, and the pages that go with it."""

    paper: Paper
    ink: tuple[Ink, ...]
    scale: float
    views: tuple[tuple[Ink, ...], ...]
    more: tuple[tuple[tuple[float, float], list[Ink]], ...] = ()
    said: TitleBlock | None = None

    def numbered(self, first: int, count: int) -> DrawnSheet:
        """The sheet with its title block: the number of its first page of so many."""
        assert self.said is not None
        said = replace(self.said, sheet=f"{self.paper.name}  {first}/{count}")
        more = tuple(
            (size, [*ink, coordinates.page_number(size, first + i, count)])
            for i, (size, ink) in enumerate(self.more, 1)
        )
        return replace(self, ink=(*self.ink, *title_ink(self.paper, said)), more=more)


def draw(part: Part, drawn: Drawn, solid: Any, made: OfPiece) -> DrawnSheet:
    """Draw one piece of a part on the sheet asked for, or on the smallest that shows it well.

    Args:
        part: the part.
        drawn: what the part says of this sheet.
        solid: the piece as a CadQuery shape, its edges sharp.
        made: material and mass of the piece.

    Returns:
        The sheet, but for its title block, which needs its number.

    Raises:
        NoRoom: a dimension finds no view or no room at any scale.
    """
    seen = looks(drawn, solid)
    given = shared_out(drawn, seen)
    seen, dimensions = detailed(seen, given.dimensions)
    holes = given.holes + ((),) * (len(seen) - len(given.holes))
    given = Given(tuple(dimensions), holes)
    figures = Figures(part.drawing.units)
    notes = note_blocks(part, drawn, made)
    walks = coordinates.walks(drawn)
    attempts = _Attempts(drawn, seen, given, figures, part.drawing.projection)
    best, behind = _best_of(part, attempts, notes, walks)
    if best is None or best[0] < FINE:
        attempts, best, behind = _if_broken(part, attempts, best, behind, notes, walks)
    if best is None:
        raise NoRoom(f"{part.name}: no sheet holds {drawn.piece!r}; {attempts.why}")
    scale, paper, placed = best
    beside = [] if behind else walks
    fields = attempts.at(scale)
    room = _Room(paper, notes, beside)
    views = [
        [ink.moved(origin) for ink in there.ink]
        for there, origin in zip(fields, room.put(placed), strict=True)
    ]
    ink: list[Ink] = [*frame_ink(paper), *(one for view in views for one in view)]
    ink += room.notes
    if beside:
        ink += coordinates.table_ink(beside, part.drawing.units, *room.table)
    ink += picture(drawn, solid, scale, [i for view in views for i in view], room.low, room.high)
    more = tuple(coordinates.table_pages(part, drawn, walks)) if behind else ()
    said = _said(part, drawn, made, scale)
    return DrawnSheet(paper, tuple(ink), scale, tuple(tuple(view) for view in views), more, said)


Best = tuple[float, Paper, Arranged] | None


def _best_of(
    part: Part,
    attempts: _Attempts,
    notes: list[tuple[str, Sequence[str]]],
    walks: Sequence[coordinates.Walk],
) -> tuple[Best, bool]:
    """The best sheet, and whether a table of profiles stands behind it: it would make the views smaller."""
    best, behind = _best(part, attempts, notes, walks), False
    if walks:
        bare = _best(part, attempts, notes, [])
        behind = bare is not None and (best is None or bare[0] > best[0])
        best = bare if behind else best
    return best, behind


def _if_broken(
    part: Part,
    attempts: _Attempts,
    best: Best,
    behind: bool,
    notes: list[tuple[str, Sequence[str]]],
    walks: Sequence[coordinates.Walk],
) -> tuple[_Attempts, Best, bool]:
    """The sheet with its views broken, where that makes them larger; else as it was."""
    whole = any(view.around is not None for view in attempts.seen)
    shorter = None if whole else broken(attempts.drawn, attempts.seen)
    if shorter is None:
        return attempts, best, behind
    tried = _Attempts(
        attempts.drawn, shorter, attempts.given, attempts.figures, attempts.projection
    )
    found, after = _best_of(part, tried, notes, walks)
    if found is None or (best is not None and found[0] <= best[0]):
        return attempts, best, behind
    return tried, found, after


def _best(
    part: Part,
    attempts: _Attempts,
    notes: list[tuple[str, Sequence[str]]],
    walks: Sequence[coordinates.Walk],
) -> Best:
    """Scale, paper and places of the views on the sheet that shows them best; None where none holds them."""
    best: Best = None
    for paper in _papers(part):
        if paper.name == LAST and best is not None and best[0] >= FINE:
            break
        room = _Room(paper, notes, walks)
        found = None if room.overfull else attempts.largest(room)
        if found is not None and (best is None or _better(found[0], best[0], attempts.given)):
            best = (found[0], paper, found[1])
    return best


def _better(scale: float, than: float, given: Given) -> bool:
    """A larger sheet is worth it where many dimensions would be short on the smaller one."""
    if scale <= than or than < FINE <= scale:
        return scale > than
    lengths = [
        abs(float(np.dot(np.subtract(one.end, one.start), one.along)))
        for dimensions in given.dimensions
        for one in dimensions
        if isinstance(one, Linear)
    ]
    short = [length for length in lengths if length * than < SHORT]
    return len(short) > MANY * len(lengths) and than < FINE


def _papers(part: Part) -> Iterator[Paper]:
    names = [part.drawing.sheet] if part.drawing.sheet else ["A4", "A3", LAST]
    for name in names:
        yield Paper(name)
        if name in ("A4", "letter"):
            yield Paper(name, landscape=False)


class _Attempts:
    """The views filled at each scale that was tried, each once."""

    def __init__(
        self, drawn: Drawn, seen: list[Looked], given: Given, figures: Figures, projection: str
    ) -> None:
        self.drawn, self.seen, self.given, self.figures = drawn, seen, given, figures
        self.projection = projection
        self.done: dict[float, Any] = {}
        self.why = "it is too large"
        self.bare = [list(view.seen.visible) for view in seen]

    def at(self, scale: float) -> Any:
        """The filled views, or None where something finds no room."""
        if scale not in self.done:
            try:
                self.done[scale] = filled(self.drawn, self.seen, self.given, scale, self.figures)
            except NoRoom as error:
                self.why = str(error)
                self.done[scale] = None
        return self.done[scale]

    def largest(self, room: _Room) -> tuple[float, Arranged] | None:
        """The largest scale at which everything fits, with the views in line."""
        sides = [view.view.side for view in self.seen if view.around is None]
        crowded = 0
        for scale in SCALES:
            if crowded > 1:
                break  # smaller still, there is less room for as many words
            bare = [
                [scaled(curve, scale) for curve in curves] for curves in self.bare[: len(sides)]
            ]
            plain = arranged(sides, bare, self.projection)
            if scale > LARGEST or not room.holds(plain, DRESS):
                continue
            fields = self.at(scale)
            if fields is None:
                crowded += 1
                continue
            placed = arranged(sides, [there.ink for there in fields], self.projection)
            if room.holds(placed):
                return scale, placed
        return None


class _Room:
    """What a sheet leaves for the views: all but the title block, the notes beside it and a table of profiles."""

    def __init__(
        self,
        paper: Paper,
        blocks: list[tuple[str, Sequence[str]]],
        walks: Sequence[coordinates.Walk],
    ) -> None:
        x, y, wide, high = paper.inside
        beside = wide - TITLE_WIDE
        if beside > 60.0:
            # Notes stand to the left of the title block, as high as they need.
            _, tall = notes_ink(0.0, 0.0, beside - 2.0 * INSET, blocks)
            strip = max(TITLE_HIGH, tall + 2.0)
            self.notes, _ = notes_ink(x + INSET, y + strip, beside - 2.0 * INSET, blocks)
        else:
            _, tall = notes_ink(0.0, 0.0, wide - 2.0 * INSET, blocks)
            strip = TITLE_HIGH + tall + 3.0
            self.notes, _ = notes_ink(x + INSET, y + strip, wide - 2.0 * INSET, blocks)
        self.low = np.array([x + INSET, y + strip + INSET])
        self.high = np.array([x + wide - INSET, y + high - INSET])
        # A table of profiles stands at the right, over the title block.
        self.table = float(self.high[0]) - coordinates.WIDE, float(self.high[1])
        tall = coordinates.table_height(walks)
        floor = max(TITLE_HIGH, 0.0 if beside > 60.0 else strip) + INSET
        self.overfull = bool(walks) and tall > float(self.high[1]) - y - floor
        if walks:
            self.high = self.high - np.array([coordinates.WIDE + INSET, 0.0])

    def holds(self, placed: Arranged, more: float = 0.0) -> bool:
        return bool(np.all(np.array(placed.size) + more <= self.high - self.low))

    def put(self, placed: Arranged) -> list[np.ndarray]:
        """The origins of the views, the whole a little above the middle of the room."""
        spare = self.high - self.low - np.array(placed.size)
        return [origin + self.low + spare * np.array([0.5, 0.5]) for origin in placed.origins]


def note_blocks(part: Part, drawn: Drawn, of: OfPiece) -> list[tuple[str, Sequence[str]]]:
    """The notes of a sheet: how it is to be made, then the cautions."""
    figures = Figures(part.drawing.units)
    made = []
    if drawn.lists:
        made.append(
            "Distances hold when the weld is cold; lengths in the symbols of welds as on the drawing."
        )
    else:
        made.append(edge_words(part.edge_break, figures))
    if drawn.marks.profiles and any(one.tabled for one in drawn.marks.profiles):
        made.append(
            "Numbers beside lines and arcs are rows of the table of profiles, here or on the next sheet: it "
            "states them from the datum."
        )
    return [
        ("NOTES", [*made, *_noted_holes(drawn, figures), *map(figures.said, drawn.marks.notes)]),
        *drawn.lists,
        ("REVISIONS", [f"{one.revision}  {one.date}  {one.changed}" for one in part.revisions]),
        (
            "CAUTIONS",
            [figures.said(one) for one in _cautions(part, of.material, welder=bool(drawn.lists))],
        ),
    ]


def _noted_holes(drawn: Drawn, figures: Figures) -> Iterator[str]:
    """What is said of the holes that no view shows round, those alike in one line."""
    rows = numbers(drawn)
    alike: dict[tuple[str, ...], list[Hole]] = {}
    for one in drawn.marks.holes:
        if one.noted:
            alike.setdefault(hole_words(one, 1, figures), []).append(one)
    for (first, *more), holes in alike.items():
        times = f"{len(holes)}× " if len(holes) > 1 else ""
        numbered = runs(tuple(row for one in holes for row in rows[id(one)]))
        when = [f"drilled {holes[0].when}"] if holes[0].when else []
        said = "; ".join((times + first, *more, *when)).replace("\n", " ")
        yield f"({numbered}) {', '.join(one.name for one in holes)}: {said}."


def _cautions(part: Part, material: Material, *, welder: bool) -> list[str]:
    """The few of this part that matter at the bench, its own and its metal's by turns; the page has them all.

    On the welder's sheet those of welding come first.
    """
    turns = zip_longest(part.cautions(), material.cautions)
    own = list(dict.fromkeys(said for both in turns for said in both if said))
    if welder:
        own.sort(key=lambda said: not any(word in said.lower() for word in ("weld", "purge")))
    rest = len(own) - FEW
    more = f" {rest} more cautions stand on the part's page." if rest > 0 else ""
    return [*own[:FEW], IN_SHORT.removeprefix("Caution: ").capitalize() + more]


def _said(part: Part, drawn: Drawn, made: OfPiece, scale: float) -> TitleBlock:
    title = part.title or part.family
    figures = Figures(part.drawing.units)
    return TitleBlock(
        title=f"{title}, {drawn.title or drawn.piece}"
        if len(part.drawn()) > 1 or drawn.lists
        else title,
        number=part.name,
        revision=part.revision,
        material="see the list of pieces" if drawn.lists else made.material.name,
        finish=part.finish or "as machined",
        mass=_mass_words(made.mass, part.drawing.units),
        scale=scale_words(scale),
        sheet="",
        units=figures.unit,
        tolerance=tuple(tolerance_words(part.drawing.tolerance, figures)),
        surface="Ra 125 µin" if part.drawing.units == "in" else "Ra 3.2 µm",
        projection=part.drawing.projection,
        piece="" if drawn.piece == "part" else drawn.piece,
        quantity=str(part.quantity * drawn.count),
        hand=drawn.hand,
    )


def _mass_words(mass: float, units: str) -> str:
    metric, pounds = f"{mass:.3f} kg", f"{mass / POUND:.2f} lb"
    return {"mm": metric, "in": pounds}.get(units, f"{metric} [{pounds}]")


def tolerance_words(stated: str, figures: Figures) -> Iterator[str]:
    """The general tolerance, and its table where the statement names one."""
    yield f"Lengths without a tolerance: {stated}"
    own = Figures("in" if figures.units == "in" else "mm")
    cells = [
        f"{own.length(r.above)} to {own.length(r.to)}: ±{own.length(r.deviation)}"
        for r in general_deviations(stated)
    ]
    last = 5 if own.units == "in" else 6
    for some in (cells[:2], cells[2:4], cells[4:last]):
        if some:
            yield ", ".join(some)


__all__ = ["DrawnSheet", "Letters", "draw"]
