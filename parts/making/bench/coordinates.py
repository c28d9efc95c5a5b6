"""The table of a profile: where each line and arc ends, and its centre, from the datum of the sheet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from parts.core.drawing import Drawn, Profile
from parts.core.part import Part
from parts.making.bench.figures import Figures
from parts.making.bench.frames import Frame, frame
from parts.making.bench.ink import Ink, Letters, line, plain
from parts.making.bench.paper import SIZES

ROW, TEXT = 4.2, 2.5
COLUMNS = (0.0, 9.0, 24.5, 40.0, 54.0, 69.5, 84.5)
WIDE = 93.0
"""Width of the table on the paper [mm]."""
HEAD = ("no.", "to X", "to Y", "R", "centre X", "centre Y", "turn")


@dataclass(frozen=True)
class Step:
    """A piece of a profile as it is walked: its number, its end and, of an arc, centre, radius and turn [mm].

    `middle` is the place of its number on the drawing, in the axes of the part.
    """

    number: int
    end: np.ndarray
    centre: np.ndarray | None
    radius: float
    left: bool
    middle: np.ndarray


@dataclass(frozen=True)
class Walk:
    """A profile walked from its start: its name, where it starts [mm], and its pieces in order."""

    name: str
    start: np.ndarray
    steps: tuple[Step, ...]


def walks(drawn: Drawn) -> list[Walk]:
    """The profiles of a sheet as its front view shows them, from its datum, their pieces numbered throughout.

    Args:
        drawn: the sheet.

    Returns:
        The walks; none of what words or a template state, nor of what the front view does not show true.
    """
    front = frame(drawn.right, drawn.up)
    zero = np.zeros(3) if drawn.datum is None else np.asarray(drawn.datum.place, float)
    found: list[Walk] = []
    first = 1
    for one in drawn.marks.profiles:
        if one.tabled and front.faces(one.axis):
            steps = tuple(_steps(one, front, zero, first))
            found.append(Walk(one.name, front.flat(one.places[0, 0] - zero), steps))
            first += len(steps)
    return found


def _steps(one: Profile, front: Frame, zero: np.ndarray, first: int) -> Iterator[Step]:
    for number, piece in enumerate(one.places, first):
        a, b, c = (front.flat(p - zero) for p in piece)
        centre = _centre(a, b, c)
        radius = 0.0 if centre is None else float(np.linalg.norm(c - centre))
        left = bool((b[0] - a[0]) * (c[1] - b[1]) > (b[1] - a[1]) * (c[0] - b[0]))
        yield Step(number, c, centre, radius, left, piece[1])


def _centre(a: np.ndarray, b: np.ndarray, c: np.ndarray) -> np.ndarray | None:
    """The centre of the circle through three places; None where they lie on a line."""
    rows = 2.0 * np.array([b - a, c - a])
    twice = float(np.linalg.det(rows))
    if abs(twice) < 1e-9 * float(np.abs(rows).max()) ** 2:
        return None
    return np.asarray(np.linalg.solve(rows, [b @ b - a @ a, c @ c - a @ a]))


def _rows(each: Sequence[Walk], figures: Figures) -> Iterator[tuple[tuple[str, ...], bool]]:
    for walk in each:
        start = ", ".join(_written(walk.start, figures))
        yield (f"{walk.name}, from X, Y {start}",), True
        for one in walk.steps:
            words = [str(one.number), *_written(one.end, figures)]
            if one.centre is not None:
                words += [figures.length(one.radius), *_written(one.centre, figures)]
                words.append("left" if one.left else "right")
            yield tuple(words), False


def _written(place: np.ndarray, figures: Figures) -> list[str]:
    return [figures.length(float(v) + 0.0) for v in np.round(place, 4)]


def table_height(each: Sequence[Walk]) -> float:
    """Height of the table on the paper [mm]."""
    return ROW * (3 + sum(1 + len(walk.steps) for walk in each)) if each else 0.0


def table_ink(each: Sequence[Walk], units: str, x: float, top: float) -> list[Ink]:
    """The table, downward from `top`, its left edge at x [mm]."""
    figures = _figures(units)
    head = f"PROFILES from the datum, {figures.unit}"
    title = Letters(head, np.array([x, top - ROW + 1.2]), TEXT, bold=True)
    return [title, *_column(list(_rows(each, figures)), x, top - ROW)]


def _figures(units: str) -> Figures:
    return Figures("in" if units == "in" else "mm")


def _column(rows: Sequence[tuple[tuple[str, ...], bool]], x: float, top: float) -> Iterator[Ink]:
    y = top
    for words, bold in ((HEAD, True), *rows):
        y -= ROW
        for left, word in zip(COLUMNS, words, strict=False):
            yield Letters(word, np.array([x + left, y + 1.2]), TEXT, bold=bold)
        yield line("table", (x, y), (x + WIDE, y))


def table_pages(
    part: Part, drawn: Drawn, each: Sequence[Walk]
) -> Iterator[tuple[tuple[float, float], list[Ink]]]:
    """The table on pages of its own, standing, two columns a page: the size of each page [mm] and its ink."""
    wide, high = sorted(SIZES["letter" if part.drawing.sheet in ("letter", "tabloid") else "A4"])
    figures = _figures(part.drawing.units)
    rows = list(_rows(each, figures))
    fit = int((high - 45.0) / ROW) - 1
    columns = [rows[i : i + fit] for i in range(0, len(rows), fit)]
    datum = drawn.datum.words if drawn.datum else "the axes of the part"
    words = f"revision {part.revision}; X and Y from the datum ({datum}) as the front view shows them, {figures.unit}"
    for i in range(0, len(columns), 2):
        ink: list[Ink] = [
            Letters(plain(f"{part.name}: profiles"), np.array([10.0, high - 17.0]), 4.0, bold=True),
            Letters(plain(words), np.array([10.0, high - 24.0]), TEXT),
        ]
        for k, column in enumerate(columns[i : i + 2]):
            ink += _column(column, 10.0 + k * (WIDE + 2.0), high - 28.0)
        yield (wide, high), ink


def page_number(size: tuple[float, float], number: int, count: int) -> Letters:
    """Which page of how many, in the upper right corner of a page [mm]."""
    at = np.array([size[0] - 10.0, size[1] - 17.0])
    return Letters(f"sheet {number}/{count}", at, 3.5, anchor="right")


def coordinates_csv(each: Sequence[Walk]) -> bytes:
    """The table for a readout or a spreadsheet [mm]: `turn` is left (counter-clockwise) or right as the front view
    shows it; an empty radius is a line."""
    target = io.StringIO()
    rows = csv.writer(target, lineterminator="\n")
    rows.writerow(
        ["profile", "no", "to_x_mm", "to_y_mm", "radius_mm", "centre_x_mm", "centre_y_mm", "turn"]
    )
    for walk in each:
        rows.writerow([walk.name, "start", *_mm(walk.start), "", "", "", ""])
        for one in walk.steps:
            arc = ["", "", "", ""]
            if one.centre is not None:
                arc = [f"{one.radius:.3f}", *_mm(one.centre), "left" if one.left else "right"]
            rows.writerow([walk.name, one.number, *_mm(one.end), *arc])
    return target.getvalue().encode("utf-8")


def _mm(place: np.ndarray) -> list[str]:
    return [f"{float(v) + 0.0:.3f}" for v in np.round(place, 3)]
