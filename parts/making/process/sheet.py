"""Process sheets: a page a set-up, with the part as it lies, its zero, its places and its steps in order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from parts.inputs.units import MM_PER_INCH
from parts.making.bench.figures import Figures
from parts.making.bench.ink import Ink, Letters, line, plain
from parts.making.bench.inspection import Item
from parts.making.bench.paper import wrapped
from parts.making.process.picture import UNMEASURED, picture
from parts.making.process.plan import Plan
from parts.making.process.step import SetUp, Step

TEXT, ROW, LEFT, TOP, BOTTOM = 2.5, 4.2, 10.0, 14.0, 10.0
LOW, USUAL, HIGH = 60.0, 78.0, 112.0
"""Room of the pictures from top to bottom [mm]: where a shop has its own ways, usually, and of many places."""
FOOT = 0.3048
MANY, CHECKS = 6, 8
"""Many places, and so many rows of the inspection sheet that one row of steps holds."""
HEAD = (
    "step", "operation", "tool", "makes", "at", "Z from", "Z to", "rpm", "feed", "no.: least to greatest", "measured",
)  # fmt: skip
WIDTHS = (9.0, 22.0, 46.0, 48.0, 20.0, 15.0, 34.0, 12.0, 15.0, 38.0, 18.0)
PLACES = ("", "X", "Y", "Z, mouth", "what")
PLACE_WIDTHS = (12.0, 17.0, 17.0, 19.0, 40.0)
Page = tuple[tuple[float, float], list[Ink]]


def process_pages(
    plan: Plan, setups: Sequence[SetUp], rows: Sequence[Item], size: tuple[float, float]
) -> list[Page]:
    """The process sheets of a piece.

    Args:
        plan: how it is made.
        setups: its set-ups.
        rows: its inspection sheet, for limits.
        size: of a lying page [mm].

    Returns:
        Pages, each its size [mm] and its ink.
    """
    found: list[Page] = []
    for k, one in enumerate(setups, 1):
        found += _pages(plan, one, k, len(setups), {row.number: row for row in rows}, size)
    return found


def _pages(
    plan: Plan,
    one: SetUp,
    number: int,
    of: int,
    rows: Mapping[int, Item],
    size: tuple[float, float],
) -> Iterator[Page]:
    figures = Figures("in" if plan.part.drawing.units == "in" else "mm")
    wide = size[0]
    ink: list[Ink] = []
    y = _heading(plan, one, number, of, figures, ink, size)
    places = _places(plan, one, figures)
    tall = HIGH if len(places) > MANY + 1 else USUAL
    if one.machine in UNMEASURED:
        tall = LOW
    left = wide - 2 * LEFT - (sum(PLACE_WIDTHS) + 4.0 if len(places) > 1 else 0.0)
    ink += picture(plan, one, (LEFT, y - tall), (left, tall), figures)
    fit = int(tall / ROW) - 1
    beside = places[:fit]
    if len(beside) > 1:
        _table(ink, beside, PLACE_WIDTHS, (LEFT + left + 4.0, y), BOTTOM)
    y -= tall + 2.0
    cells = (_cells(one, k, step, figures, rows) for k, step in enumerate(one.steps, 1))
    waiting = [HEAD, *(row for every in cells for row in _in_turns(every))]
    more = [PLACES, *places[fit:]] if len(places) > fit else []
    while True:
        done, y = _table(ink, waiting, WIDTHS, (LEFT, y), BOTTOM)
        waiting = waiting[done:]
        if not waiting and more:
            done, y = _table(ink, more, PLACE_WIDTHS, (LEFT, y - 3.0), BOTTOM)
            more = [PLACES, *more[done:]] if 1 < done < len(more) else (more if done <= 1 else [])
        yield size, ink
        if not waiting and not more:
            return
        waiting = [HEAD, *waiting] if waiting else []
        ink = []
        y = _heading(plan, one, number, of, figures, ink, size, short=True)


def _heading(
    plan: Plan, one: SetUp, number: int, of: int, figures: Figures, ink: list[Ink], size: tuple[float, float],
    *, short: bool = False,
) -> float:  # fmt: skip
    wide, high = size
    part = plan.part
    piece = f", {plan.drawn.piece}" if len(part.drawn()) > 1 else ""
    title = (
        f"{part.name}{piece}: set-up {number} of {of}, {one.machine}{', goes on' if short else ''}"
    )
    ink.append(Letters(plain(title), np.array([LEFT, high - TOP]), 4.0, bold=True))
    right = f"revision {part.revision}   {plan.piece.material.name}   {figures.unit}; {plain(part.drawing.tolerance)}"
    ink.append(Letters(plain(right), np.array([wide - LEFT, high - TOP]), TEXT, anchor="right"))
    y = high - TOP - 2.0
    if short:
        return y - 2.0
    tilt = (
        " Tilt it on a sine bar or wedges, or tilt the head."
        if one.tilt and one.machine == "mill"
        else ""
    )
    said = [f"Hold: {held_words(plan, one, figures)}.{tilt}"]
    if one.machine not in UNMEASURED:
        said += [*map(figures.shop, one.words), _speed_words(plan, one, figures)]
    for words in said:
        for text in wrapped(words, wide - 2 * LEFT, TEXT):
            y -= ROW
            ink.append(Letters(text, np.array([LEFT, y]), TEXT))
    return y - 3.0


def held_words(plan: Plan, one: SetUp, figures: Figures) -> str:
    """What holds a piece, in the units of the drawing; its stock keeps the size that it is bought by."""
    name = plan.cut.stock.name
    bought = name if one.holding.startswith(name) else ""
    return bought + figures.shop(one.holding.removeprefix(bought))


def _speed_words(plan: Plan, one: SetUp, figures: Figures) -> str:
    speed = plan.drawer.speed
    inch = figures.units == "in"
    unit = ("inches" if inch else "mm") + (" a turn" if one.machine == "lathe" else " a minute")
    at = f"{speed.metres / FOOT:.0f} sfm" if inch else f"{speed.metres:.0f} m/min"
    return (
        f"High-speed steel at {at} ({speed.source}); feed in {unit}, common practice; carbide runs "
        "at twice the turns. Depths are to the full diameter: a drill's point goes 0.3 diameters further."
    )


def _places(plan: Plan, one: SetUp, figures: Figures) -> list[tuple[str, ...]]:
    rows: dict[str, tuple[str, ...]] = {}
    holes = {hole.hole.name: hole.hole for hole in plan.bored}
    for step in one.steps:
        for spot in step.spots:
            if spot.label in rows:
                continue
            x, y, _ = (float(v) + 0.0 for v in np.round(one.at(spot.place), 4))
            named = [n for n in step.makes.split(", ") if n in holes]
            what = named[step.spots.index(spot)] if len(named) == len(step.spots) else step.makes
            z = figures.length(float(np.round(one.z(step.top), 4)) + 0.0, fine=True)
            rows[spot.label] = (
                spot.label,
                figures.length(x, fine=True),
                figures.length(y, fine=True),
                z,
                figures.shop(what),
            )
    return [PLACES, *rows.values()]


def _cells(
    setup: SetUp, k: int, step: Step, figures: Figures, rows: Mapping[int, Item]
) -> tuple[str, ...]:
    top, bottom = (
        figures.length(float(np.round(setup.z(v), 3)) + 0.0) for v in (step.top, step.bottom)
    )
    to = f"{bottom} {step.to}".strip() if step.kind not in ("spot", "countersink") else ""
    if setup.machine in UNMEASURED:
        to = ""  # A sheet is cut through, and bent by its drawing: heights of the finished part would mislead.
    feed = step.feed / step.rpm if setup.machine == "lathe" and step.rpm else step.feed
    if figures.units == "in":
        paced = f"{feed / MM_PER_INCH:.{4 if setup.machine == 'lathe' else 1}f}"
    else:
        paced = f"{feed:.2f}" if setup.machine == "lathe" else f"{feed:.0f}"
    checks, blanks = [], []
    for number in step.numbers:
        row = rows.get(number)
        if row is None:
            continue
        words = (
            row.words
            if np.isnan(row.low)
            else f"{figures.length(row.low, fine=True)} to {figures.length(row.high, fine=True)}"
        )
        checks.append(f"{number}: {words}")
        blanks.append(". . . . . . . .")
    makes = figures.shop(f"{step.makes}; {step.note}" if step.note else step.makes)
    # Drills and end mills are picked by the name that they are sold by.
    named, comma, rest = step.tool.partition(",")
    tool = named if named.startswith(("drill", "end mill")) else figures.shop(named)
    tool += comma + figures.shop(rest)
    return (
        str(k), step.kind, tool, makes, " ".join(_runs([spot.label for spot in step.spots])),
        top if to else "", to,
        f"{step.rpm:.0f}" if step.rpm else "", paced if step.feed else "", "\n".join(checks), "\n".join(blanks),
    )  # fmt: skip


def _in_turns(cells: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """A row as several where it has more to measure than a page has room for beside it."""
    *rest, checks, blanks = (*cells[:-2], cells[-2].split("\n"), cells[-1].split("\n"))
    for start in range(0, len(checks), CHECKS):
        own = rest if start == 0 else [f"{rest[0]}+", *("" for _ in rest[1:])]
        yield (
            *own,
            "\n".join(checks[start : start + CHECKS]),
            "\n".join(blanks[start : start + CHECKS]),
        )


def _runs(labels: Sequence[str]) -> Iterator[str]:
    """Labels in a row shortened: H1 to H6."""
    k = 0
    while k < len(labels):
        end = k
        while end + 1 < len(labels) and labels[end + 1] == _next(labels[end]):
            end += 1
        yield (
            labels[k]
            if end == k
            else f"{labels[k]}, {labels[end]}"
            if end == k + 1
            else f"{labels[k]} to {labels[end]}"
        )
        k = end + 1


def _next(label: str) -> str:
    return f"{label[0]}{int(label[1:]) + 1}" if label[1:].isdigit() else ""


def _table(
    ink: list[Ink],
    rows: Sequence[tuple[str, ...]],
    widths: Sequence[float],
    corner: tuple[float, float],
    floor: float,
) -> tuple[int, float]:
    """Write rows downward from a corner until the floor; how many found room, and how far down they reach."""
    x0, y = corner
    whole = sum(widths)
    for done, row in enumerate(rows):
        cells = [
            [text for line_ in words.split("\n") for text in wrapped(line_, room - 1.5, TEXT)]
            for words, room in zip(row, widths, strict=True)
        ]
        tall = ROW * max(1, *(len(cell) for cell in cells)) + 0.8
        if y - tall < floor:
            return done, y
        x = x0
        for cell, room in zip(cells, widths, strict=True):
            for k, text in enumerate(cell):
                ink.append(
                    Letters(
                        text,
                        np.array([x, y - ROW * (k + 1) + 0.9]),
                        TEXT,
                        bold=row[0] == rows[0][0] and done == 0,
                    )
                )
            x += room
        y -= tall
        ink.append(line("table", (x0, y), (x0 + whole, y)))
    return len(rows), y
