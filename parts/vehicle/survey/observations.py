"""Readings as equations: what each one measures of the points, and how that changes with them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from itertools import combinations, pairwise
from pathlib import Path
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from parts.vehicle.survey.entries import (
    CALIPER,
    DRAWN,
    GAUGE,
    LEVEL,
    PLUMB,
    TAPE,
    TRACED,
    Bought,
    Distance,
    Drop,
    Given,
    Height,
    Slope,
    SurveyFile,
    Wheel,
)
from parts.vehicle.survey.holes import STEP

Array = NDArray[np.float64]
Places = Mapping[str, Array]
Measured = tuple[float, dict[str, Array]]
"""What is measured, and its gradient by the place of each point."""
AXES = {"x": 0, "y": 1, "z": 2}
SIGMAS = 2.0
"""Errors are stated as two of these."""


@dataclass(frozen=True)
class Observation:
    """One equation: `measure(places)` should be `value`, to one standard error `sigma` [mm or rad]."""

    name: str
    unit: str
    points: tuple[str, ...]
    value: float
    sigma: float
    measure: Callable[[Places], Measured]
    entry: Distance | Height | Drop | Slope | Wheel | Given | Bought
    line: int = 0
    """The line of the file that it stands on."""


def distance(a: str, b: str, places: Places) -> Measured:
    """Length from a to b [mm]."""
    way = places[b] - places[a]
    long = float(np.linalg.norm(way))
    unit = way / max(long, 1e-9)
    return long, {a: -unit, b: unit}


def coordinate(a: str, axis: int, places: Places) -> Measured:
    """One coordinate of a point [mm]."""
    return float(places[a][axis]), {a: np.eye(3)[axis]}


def offset(a: str, b: str, axis: int, places: Places) -> Measured:
    """How far b lies from a along an axis [mm]."""
    unit = np.eye(3)[axis]
    return float((places[b] - places[a])[axis]), {a: -unit, b: unit}


def slope(a: str, b: str, places: Places) -> Measured:
    """Angle of the line from a up to b against the level [rad]."""
    way = places[b] - places[a]
    flat = max(float(np.hypot(way[0], way[1])), 1e-9)
    square = flat**2 + way[2] ** 2
    grad = np.array([-way[2] * way[0] / flat, -way[2] * way[1] / flat, flat]) / square
    return float(np.arctan2(way[2], flat)), {a: -grad, b: grad}


def sum_along(a: str, b: str, axis: int, places: Places) -> Measured:
    """Sum of one coordinate of two points [mm]: nothing where they lie opposite."""
    unit = np.eye(3)[axis]
    return float((places[a] + places[b])[axis]), {a: unit, b: unit}


def off_line(a: str, b: str, c: str, side: int, places: Places) -> Measured:
    """How far b lies off the line from a to c [mm], in the first or second direction square to that line."""
    whole, part = places[c] - places[a], places[b] - places[a]
    square = max(float(whole @ whole), 1e-9)
    share = float(part @ whole) / square
    first = np.cross(whole, np.eye(3)[int(np.argmin(np.abs(whole)))])
    unit = first if side == 0 else np.cross(whole, first)
    unit = unit / max(float(np.linalg.norm(unit)), 1e-9)
    return float(part @ unit), {a: -(1.0 - share) * unit, b: unit, c: -share * unit}


def off_square(a: str, b: str, c: str, places: Places) -> Measured:
    """How far the shorter leg of the corner at b leans from square to the other [mm]."""
    u, v = places[a] - places[b], places[c] - places[b]
    if u @ u > v @ v:
        off, grads = off_square(c, b, a, places)
        return off, grads
    long = max(float(np.linalg.norm(v)), 1e-9)
    unit = v / long
    off = float(u @ unit)
    by_v = (u - off * unit) / long
    return off, {a: unit, b: -(unit + by_v), c: by_v}


def observations(
    file: SurveyFile,
    lines: Callable[[tuple[str | int, ...]], int],
    drawn: Mapping[str, Mapping[str, Array]] = MappingProxyType({}),
) -> list[Observation]:
    """All equations of a file.

    Args:
        file: the readings.
        lines: the line of an entry, by its path.
        drawn: of each bought thing, where its drawing has its holes [mm], by the point that each is at.
    """
    found = [_taken(one, file.table, lines(("taken", i))) for i, one in enumerate(file.taken)]
    for i, said in enumerate(file.set_up):
        found += list(_given(said, lines(("set_up", i))))
    for name, places in drawn.items():
        found += list(_between(name, file.bought[name], places, lines(("bought", name))))
    return found


def _between(
    name: str, one: Bought, places: Mapping[str, Array], line: int
) -> Iterator[Observation]:
    """What lies between each two holes of a bought thing, wherever it sits."""
    traced = Path(one.file).suffix.casefold() not in STEP
    error = (one.within or (TRACED if traced else DRAWN)) / SIGMAS
    for a, b in combinations(places, 2):
        value = float(np.linalg.norm(places[b] - places[a]))
        said = f"{name} as drawn, {a} to {b}"
        yield Observation(said, "mm", (a, b), value, error, partial(distance, a, b), one, line)


def _taken(one: Distance | Height | Drop | Slope | Wheel, table: float, line: int) -> Observation:
    if isinstance(one, Wheel):
        round_ = 2.0 * np.pi * one.turns
        error = (one.within or TAPE * one.turns) / SIGMAS / round_
        over = partial(coordinate, one.of, 2)
        return Observation(
            f"turn of the wheel of {one.of}", "mm", (one.of,), one.reads / round_ + table, error, over, one, line
        )  # fmt: skip
    if isinstance(one, Height):
        error = (one.within or GAUGE) / SIGMAS
        measure: Callable[[Places], Measured] = partial(coordinate, one.of, 2)
        name = f"height of {one.of}"
        return Observation(name, "mm", (one.of,), one.reads + table, error, measure, one, line)
    a, b = one.between
    ends = f"{a} to {b}"
    if isinstance(one, Slope):
        error = (one.within or np.radians(LEVEL)) / SIGMAS
        return Observation(
            f"slope, {ends}",
            "rad",
            (a, b),
            one.reads,
            float(error),
            partial(slope, a, b),
            one,
            line,
        )
    if isinstance(one, Drop):
        error = (one.within or PLUMB) / SIGMAS
        measure = partial(offset, a, b, AXES[one.along])
        return Observation(
            f"plumb line along {one.along}, {ends}",
            "mm",
            (a, b),
            one.reads,
            error,
            measure,
            one,
            line,
        )
    error = (one.within or {"tape": TAPE, "caliper": CALIPER}[one.type]) / SIGMAS
    value = one.centres(one.reads, one.over)
    return Observation(
        f"{one.type}, {ends}", "mm", (a, b), value, error, partial(distance, a, b), one, line
    )


def _given(one: Given, line: int) -> Iterator[Observation]:
    error = one.within / SIGMAS
    points = tuple(one.points)

    def zero(said: str, of: tuple[str, ...], measure: Callable[[Places], Measured]) -> Observation:
        return Observation(said, "mm", of, 0.0, error, measure, one, line)

    if one.type == "symmetric":
        a, b = points
        for axis, name in ((0, "x"), (2, "z")):
            yield zero(f"symmetric in {name}, {a} and {b}", points, partial(offset, a, b, axis))
        yield zero(f"symmetric in y, {a} and {b}", points, partial(sum_along, a, b, 1))
    elif one.type == "on the middle":
        for a in points:
            yield zero(f"on the middle, {a}", (a,), partial(coordinate, a, 1))
    elif one.type == "level":
        for a, b in pairwise(points):
            yield zero(f"level, {a} and {b}", (a, b), partial(offset, a, b, 2))
    elif one.type == "in line":
        a, b, c = points
        for side, name in enumerate(("one way", "the other way")):
            yield zero(f"in line {name}, {b}", points, partial(off_line, a, b, c, side))
    else:
        a, b, c = points
        yield zero(f"square at {b}", points, partial(off_square, a, b, c))
