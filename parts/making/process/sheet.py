"""Process sheets: a page a set-up, with the part as it lies, its zero, its places and its steps in order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from parts.making.bench.field import Field, letters_box
from parts.making.bench.figures import Figures
from parts.making.bench.frames import Frame
from parts.making.bench.ink import Ink, Letters, Line, box, circle, line, plain
from parts.making.bench.inspection import Item
from parts.making.bench.paper import wrapped
from parts.making.bench.plate_template import dense
from parts.making.bench.projection import look
from parts.making.bench.views import scaled
from parts.making.process.plan import Plan
from parts.making.process.step import SetUp, Step

TEXT, ROW, LEFT, TOP, BOTTOM = 2.5, 4.2, 10.0, 14.0, 10.0
LOW, USUAL, HIGH = 60.0, 78.0, 112.0
"""Room of the pictures from top to bottom [mm]: where a shop has its own ways, usually, and of many places."""
MANY, CHECKS = 6, 8
"""Many places, and so many rows of the inspection sheet that one row of steps holds."""
CAPTION = 22.0
"""Room for the words below a picture [mm]: a slim part is no wider."""
MARGIN = 14.0
JETS = ("waterjet", "laser")
UNMEASURED = (*JETS, "press", "bench")
"""Shops that work by a file or a template, not by a readout."""
LARGEST = 4.0
"""How many times its size a part is shown at most [-]."""
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
    ink += _picture(plan, one, (LEFT, y - tall), (left, tall), figures)
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
    # Stock keeps the size that it is bought by.
    stock, between, rest = one.holding.rpartition(f"{plan.cut.length:.0f} mm long: ")
    said = [f"Hold: {stock}{between}{figures.said(rest)}.{tilt}"]
    if one.machine not in UNMEASURED:
        said += [*map(figures.said, one.words), _speed_words(plan, one)]
    for words in said:
        for text in wrapped(words, wide - 2 * LEFT, TEXT):
            y -= ROW
            ink.append(Letters(text, np.array([LEFT, y]), TEXT))
    return y - 3.0


def _speed_words(plan: Plan, one: SetUp) -> str:
    speed = plan.drawer.speed
    unit = "mm a turn" if one.machine == "lathe" else "mm/min"
    return (
        f"High-speed steel at {speed.metres:.0f} m/min ({speed.source}); feed in {unit}, common practice; carbide runs "
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
                what,
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
    makes = f"{step.makes}; {step.note}" if step.note else step.makes
    return (
        str(k), step.kind, step.tool, makes, " ".join(_runs([spot.label for spot in step.spots])),
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


def _picture(
    plan: Plan, one: SetUp, corner: tuple[float, float], room: tuple[float, float], figures: Figures
) -> list[Ink]:
    """The part as the spindle sees it, and beside it from the side that shows the jaws, in its stock, with zero and
    what holds it; of a piece that is cut flat its blank."""
    if one.machine in JETS:
        return _blank(plan, corner, room)
    views = _views(one)
    space = np.array(room) - np.array([MARGIN * (len(views) + 1), 2.0 * MARGIN])
    flat = [(one.high - one.low)[axes] for _, axes, _ in views]
    need = np.array([sum(each[0] for each in flat), max(each[1] for each in flat)])
    scale = min(float(np.min(space / np.maximum(need, 1e-6))), LARGEST)
    ink: list[Ink] = []
    x = corner[0] + MARGIN
    for k, (view, axes, caption) in enumerate(views):
        low, high = one.low[axes], one.high[axes]
        middle = corner[1] + room[1] / 2.0 + 2.0
        shift = np.array([x, middle]) - np.array([low[0], (low[1] + high[1]) / 2.0]) * scale
        there = Field()
        for curve in look(plan.solid.shape, view).visible:
            there.draw(scaled(curve, scale).moved(shift))
        a, b = low * scale + shift, high * scale + shift
        if one.machine not in UNMEASURED:
            there.draw(Line(np.array([a, (b[0], a[1]), b, (a[0], b[1])]), "hidden", closed=True))
            for each in _origin(
                view.flat(one.zero) * scale + shift, "XYZ"[axes[0]], "XYZ"[axes[1]]
            ):
                there.draw(each)
        if one.machine not in ("lathe", *UNMEASURED) and k == 0:
            _labels(one, view, scale, shift, there)
        ink += there.ink
        if one.machine == "lathe" or (k == 1 and one.jaws >= 0):
            ink += _jaws(a, b, one.grip * scale, lathe=one.machine == "lathe")
        elif k == 1 and "plate" in one.holding:
            ink.append(box("dimension", a[0] - 6.0, a[1] - 4.0, b[0] - a[0] + 12.0, 4.0))
        ink.append(Letters(caption, np.array([a[0], a[1] - 11.0]), TEXT))
        x = max(b[0], a[0] + CAPTION) + MARGIN * 1.5
    words = "not to scale" + (
        "" if one.machine in UNMEASURED else "; broken line: the stock as the set-up begins"
    )
    return [*ink, Letters(words, np.array([corner[0], corner[1]]), TEXT)]


def _views(one: SetUp) -> list[tuple[Frame, list[int], str]]:
    """The frames of the pictures, which axes of the set-up they show to the right and up, and from where."""
    frame = one.frame
    if one.machine == "lathe":
        return [(Frame(frame.toward, frame.right), [2, 0], "seen from the side")]
    if one.jaws == 1:
        side = (Frame(frame.up, frame.toward), [1, 2], "seen from its right, along the jaws")
    else:
        side = (Frame(frame.right, frame.toward), [0, 2], "seen from the side")
    return [
        (
            frame,
            [0, 1],
            "seen from above" if one.machine in UNMEASURED else "seen from the spindle",
        ),
        side,
    ]


def _blank(plan: Plan, corner: tuple[float, float], room: tuple[float, float]) -> list[Ink]:
    """The flat blank that a jet or a laser cuts, its holes, and the middles of its bends."""
    of = next((one for one in plan.part.blanks() if plan.piece.name in one.pieces), None)
    if of is None:
        return []
    low, high = (np.asarray(v, float) for v in of.outline.box())
    scale = min(float(np.min((np.array(room) - 2.0 * MARGIN) / (high - low))), LARGEST)
    shift = np.array([corner[0] + MARGIN, corner[1] + room[1] / 2.0 + 2.0])
    shift = shift - np.array([low[0], (low[1] + high[1]) / 2.0]) * scale
    ink: list[Ink] = [
        Line(dense(loop) * scale + shift, "outline", closed=True) for loop in of.outline.loops
    ]
    for hole in of.holes:
        middle = np.asarray(hole.centre, float) * scale + shift
        ink.append(circle("outline", middle, float(hole.diameter) / 2.0 * scale))
    for fold in of.folds:
        ink.append(
            line(
                "hidden",
                *(np.asarray(end, float) * scale + shift for end in (fold.start, fold.end)),
            )
        )
    bends = "; broken lines: the middles of its bends" if of.folds else ""
    words = (
        f"the flat blank, {high[0] - low[0]:.1f} x {high[1] - low[1]:.1f} mm, not to scale{bends}"
    )
    return [*ink, Letters(words, np.array([corner[0], corner[1]]), TEXT)]


def _origin(zero: np.ndarray, *names: str) -> list[Ink]:
    ink: list[Ink] = [circle("dimension", zero, 1.6)]
    for way, name, beside in zip(np.eye(2), names, ((10.0, -1.0), (1.2, 7.5)), strict=True):
        ink.append(line("dimension", zero - way * 2.5, zero + way * 9.0))
        ink.append(Letters(f"{name}+", zero + np.array(beside), TEXT, bold=True))
    return ink


def _jaws(a: np.ndarray, b: np.ndarray, deep: float, *, lathe: bool) -> list[Ink]:
    """Jaws of a chuck at the left, or of a vice below, as two plain boxes that hold so much on the paper [mm]."""
    if lathe:
        return [
            box("dimension", a[0] - 3.0, b[1], deep + 3.0, 5.0),
            box("dimension", a[0] - 3.0, a[1] - 5.0, deep + 3.0, 5.0),
        ]
    return [
        box("dimension", a[0] - 6.0, a[1] - 2.0, 6.0, deep + 2.0),
        box("dimension", b[0], a[1] - 2.0, 6.0, deep + 2.0),
    ]


REACHES = (3.5, 5.0, 7.0, 9.0, 12.0, 15.0, 19.0, 24.0, 30.0)
"""How far a label may stand from its place [mm]; where it is not the nearest, a line leads to it."""
AROUND = np.radians([45, 135, -45, -135, 0, 90, 180, -90, 22, 68, 112, 158, -22, -68, -112, -158])


def _labels(one: SetUp, view: Frame, scale: float, shift: np.ndarray, there: Field) -> None:
    """The names of the places, clear of each other, of every place and, where there is room, of lines."""
    places = {
        spot.label: view.flat(spot.place) * scale + shift
        for step in one.steps
        for spot in step.spots
    }
    for middle in places.values():
        there.draw(circle("dimension", middle, 0.5))
    low = np.array([0.0, TEXT / 2.0])
    for label, middle in places.items():
        spots = [
            Letters(label, middle + reach * np.array([np.cos(t), np.sin(t)]) - low, TEXT, anchor="middle", bold=True)
            for reach in REACHES for t in AROUND
        ]  # fmt: skip
        boxes = [letters_box(each, margin=0.4) for each in spots]
        apart = [k for k, each in enumerate(boxes) if not there.taken.overlap(each)]
        free = (k for k in apart if not there.blocked(boxes[k]))
        k = next(free, apart[0] if apart else 0)
        run = spots[k].at + low - middle
        away = float(np.hypot(*run))
        if away > REACHES[0] + 0.1:
            short = max(away - 0.4 - spots[k].width / 2.0, 0.5) / away
            there.ink.append(line("dimension", middle, middle + run * short))
        there.draw(spots[k])
