"""The views of a sheet: what is seen of the piece, and in which view each dimension is seen true."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.drawing import (
    Angle,
    Callout,
    Diameter,
    Dimension,
    Drawn,
    Hole,
    Linear,
    Radius,
)
from parts.making.bench.balloons import Numbered, ballooned, numbers
from parts.making.bench.coordinates import walks
from parts.making.bench.cutting_planes import planes, planes_across
from parts.making.bench.details import centred, circles, clipped, larger, lettered
from parts.making.bench.dimensioning import Measure, angle_ink, place_measures
from parts.making.bench.field import Field, letters_box
from parts.making.bench.figures import Figures
from parts.making.bench.frames import Frame
from parts.making.bench.ink import Arc, Letters, Line, extent, line
from parts.making.bench.leaders import Pointer, place_pointers
from parts.making.bench.looks import Looked
from parts.making.bench.projection import hatch
from parts.making.bench.toleranced import Sign, flat_datum, frames, place_datum, signs
from parts.making.bench.words import callout_words, dimension_words, hole_words

HATCH = 2.2
"""Distance of hatching lines on the paper [mm]."""
PAST = 3.0
"""How far a centre line goes past what it belongs to [mm]."""
LEAVES = np.radians(
    [45, 135, -45, -135, 60, 120, -60, -120, 30, 150, -30, -150, 15, 165, -15, -165]
)


TRIES = 10
"""How often a view is filled anew, each time beginning with what found no room."""


class NoRoom(ValueError):
    """Dimensions that could not be placed, or that no view shows true; `names` are those without room."""

    names: tuple[str, ...] = ()


@dataclass(frozen=True)
class Given:
    """What each view shows besides its edges, by the view's index."""

    dimensions: tuple[tuple[Dimension, ...], ...]
    holes: tuple[tuple[Hole, ...], ...]


def shared_out(drawn: Drawn, views: Sequence[Looked]) -> Given:
    """Give each dimension to the view that shows it true: the one it names, or the first.

    Raises:
        NoRoom: no view shows one of them true.
    """
    dimensions: list[list[Dimension]] = [[] for _ in views]
    holes: list[list[Hole]] = [[] for _ in views]
    for one in drawn.marks.dimensions:
        dimensions[_true(one.name, one.view, views, lambda f, d=one: _shows(f, d))].append(one)
    for hole in drawn.marks.holes:
        if hole.noted:
            continue
        index = _true(hole.name, hole.view, views, lambda f, h=hole: f.faces(h.axis))
        holes[index].append(hole)
    return Given(tuple(map(tuple, dimensions)), tuple(map(tuple, holes)))


def _true(name: str, wanted: str, views: Sequence[Looked], shows: Any) -> int:
    for i, view in enumerate(views):
        if wanted in ("", view.view.side) and shows(view.frame):
            return i
    sides = ", ".join(view.view.side for view in views)
    raise NoRoom(f"no view shows {name!r} true (views: {sides}); add a view, or name another")


def _shows(seen: Frame, one: Dimension) -> bool:
    if isinstance(one, Linear):
        return seen.holds(one.along)
    if isinstance(one, Diameter):
        return seen.holds(one.axis) or seen.faces(one.axis)
    if isinstance(one, Radius):
        return seen.faces(one.axis)
    if isinstance(one, Angle):
        return seen.holds(one.first) and seen.holds(one.second)
    return True


def filled(
    drawn: Drawn,
    views: Sequence[Looked],
    given: Given,
    scale: float,
    figures: Figures,
    *,
    balloons: bool = True,
) -> list[Field]:
    """Draw every view at a scale with all that belongs to it, its origin that of the part; the numbers of the
    inspection sheet where `balloons`.

    Raises:
        NoRoom: dimensions found no room.
    """
    done = []
    rows = numbers(drawn)
    of_sheet = scale
    for i, view in enumerate(views):
        first: list[str] = []
        scale = larger(of_sheet) if view.around is not None else of_sheet
        for attempt in range(TRIES):
            aside = attempt % 4 >= 2
            there = Field()
            _edges(there, view, scale)
            if view.around is None:
                _axes(there, drawn, view, scale)
                _threads(there, drawn, view, scale)
                circles(there, views, i, scale)
            cuts = planes_across(views, i)
            crowded = planes(there, [c for c in cuts if c[0] in first], view, scale, aside)
            datums_first = any(name.startswith("datum ") for name in first)
            if datums_first:
                crowded += _datums(there, drawn, view, scale)
            crowded += _dimensions(
                there, view, given.dimensions[i], given.holes[i], scale, figures, first, rows
            )
            if not datums_first:
                crowded += _datums(there, drawn, view, scale)
            crowded += planes(there, [c for c in cuts if c[0] not in first], view, scale, aside)
            if not crowded:
                break
            # What found no room goes first the next time.
            first = [*crowded, *(name for name in first if name not in crowded)]
        else:
            error = NoRoom(f"no room at this scale for {', '.join(crowded)}")
            error.names = tuple(crowded)
            raise error
        if balloons:
            ballooned(there)
        if view.around is None:
            lettered(there, views, i, scale)
            _title(there, view)
            _numbers(there, drawn, view, scale)
        done.append(there if view.around is None else centred(there, view, scale))
    return done


def _edges(there: Field, view: Looked, scale: float) -> None:
    for curve in (*view.seen.visible, *view.seen.hidden):
        there.draw(scaled(curve, scale))
    for loops in view.seen.cut:
        for ends in hatch(tuple(loop * scale for loop in loops), HATCH):
            run = ends if view.around is None else clipped(*ends / scale, view.around)
            if run is not None:
                there.draw(Line(run if view.around is None else run * scale, "hatch"))


def scaled(curve: Line | Arc, scale: float) -> Line | Arc:
    """A curve of the part on the paper."""
    if isinstance(curve, Arc):
        return Arc(curve.centre * scale, curve.radius * scale, curve.start, curve.stop, curve.layer)
    return Line(curve.points * scale, curve.layer, curve.closed)


def _axes(there: Field, drawn: Drawn, view: Looked, scale: float) -> None:
    """Centre lines along what lies in the paper, crosses where an axis points out of it; each once."""
    ends = [(np.asarray(c.start, float), np.asarray(c.end, float)) for c in drawn.marks.centres]
    sizes = [0.0 for _ in ends]
    for hole in drawn.marks.holes:
        place, axis = np.asarray(hole.place, float), np.asarray(hole.axis, float)
        ends.append((place, place + axis * (hole.depth or hole.through)))
        sizes.append(hole.diameter)
    done: set[tuple[float, ...]] = set()
    for (start, end), size in zip(ends, sizes, strict=True):
        a, b = (view.frame.flat(p) * scale for p in (start, end))
        run = float(np.linalg.norm(b - a))
        if run > 1e-6:
            along = (b - a) / run
            _once(there, done, a - along * PAST, b + along * PAST)
        elif size > 0.0:
            for way in (np.array([1.0, 0.0]), np.array([0.0, 1.0])):
                reach = size * scale / 2.0 + PAST
                _once(there, done, a - way * reach, a + way * reach)


def _once(there: Field, done: set[tuple[float, ...]], a: np.ndarray, b: np.ndarray) -> None:
    key = tuple(np.round(sorted([tuple(a), tuple(b)]), 3).ravel() + 0.0)
    if key not in done:
        done.add(key)
        there.draw(line("centre", a, b))


def _threads(there: Field, drawn: Drawn, view: Looked, scale: float) -> None:
    for one in drawn.marks.threads:
        start, end = (np.asarray(p, float) for p in (one.start, one.end))
        axis = (end - start) / np.linalg.norm(end - start)
        radius = (one.major if one.internal else one.minor) / 2.0 * scale
        if view.frame.faces(axis):
            if float(axis @ view.frame.toward) > 0.0:
                # Three quarters of a circle, as ISO 6410-1 shows a thread from its end.
                centre = view.frame.flat(end) * scale
                there.draw(Arc(centre, radius, np.pi / 2.0 + 0.1, 2.0 * np.pi - 0.1, "thread"))
        elif view.frame.holds(axis) and (
            not one.internal or _cut_open(view, start, radius / scale)
        ):
            a, b = (view.frame.flat(p) * scale for p in (start, end))
            along = (b - a) / np.linalg.norm(b - a)
            off = np.array([-along[1], along[0]]) * radius
            for side in (off, -off):
                there.draw(line("thread", a + side, b + side))


def _cut_open(view: Looked, place: np.ndarray, radius: float) -> bool:
    """True where the plane of a cut view goes through a tapped hole."""
    if view.view.cut is None:
        return False
    return abs(float((place - np.asarray(view.view.cut, float)) @ view.frame.toward)) < 0.9 * radius


def _datums(there: Field, drawn: Drawn, view: Looked, scale: float) -> list[str]:
    """The triangles of the faces that are datums in this view.

    Returns:
        The names of those that found no room.
    """
    own = (one for one in drawn.marks.datums if one.view == view.view.side and view.around is None)
    return [
        f"datum {one.letter}"
        for one in own
        if not place_datum(there, one.letter, *flat_datum(one, view.frame.flat, scale))
    ]


def _title(there: Field, view: Looked) -> None:
    if not view.letter:
        return
    _, high = extent(there.ink)
    words = f"{view.letter}-{view.letter}"
    outline = there.of("outline").reshape(-1, 2)
    middle = (outline[:, 0].min() + outline[:, 0].max()) / 2.0
    there.draw(Letters(words, np.array([middle, high[1] + 3.0]), 3.5, 0.0, "middle", bold=True))


def _numbers(there: Field, drawn: Drawn, view: Looked, scale: float) -> None:
    """The numbers of the table's rows, beside their lines and arcs; those that find no room are left out."""
    if view.view.side != "front":
        return
    for walk in walks(drawn):
        for one in walk.steps:
            middle = view.frame.flat(one.middle) * scale
            for reach in (2.6, 3.6):
                ways = (np.array([np.cos(t), np.sin(t)]) for t in LEAVES)
                spots = (middle + way * reach - np.array([0.0, 1.2]) for way in ways)
                signs = (Letters(str(one.number), at, 2.5, 0.0, "middle") for at in spots)
                free = next((sign for sign in signs if there.free(letters_box(sign, 0.3))), None)
                if free is not None:
                    there.draw(free)
                    break


def _dimensions(
    there: Field,
    view: Looked,
    dimensions: Iterable[Dimension],
    holes: Sequence[Hole],
    scale: float,
    figures: Figures,
    first: Sequence[str],
    rows: Mapping[int, tuple[int, ...]],
) -> list[str]:
    measures, pointers, angles = [], [], []
    flat = view.frame.flat
    for one in dimensions:
        if isinstance(one, Callout):
            touch = flat(one.at) * scale
            said = list(callout_words(one, figures)) if one.text else []
            said[:1] = [Numbered(said[0], rows[id(one)])] if said else []
            words_ = (*said, *frames(one.zones, one.datum, figures), *signs(one.signs, figures))
            pointers.append(Pointer(one.name, _any_way(touch), words_))
            continue
        words = Numbered(dimension_words(one, figures), rows.get(id(one), ()))
        if isinstance(one, Linear):
            along = flat(one.along)
            ends = (flat(one.start) * scale, flat(one.end) * scale)
            measures.append(Measure(one.name, *ends, along, words))
        elif isinstance(one, Diameter) and view.frame.holds(one.axis):
            axis = flat(one.axis)
            across = np.array([-axis[1], axis[0]])
            middle, half = flat(one.centre) * scale, one.value / 2.0 * scale
            if one.text:
                pointers.append(_on_side(one.name, middle, across, half, words))
                continue
            measures.append(
                Measure(one.name, middle - across * half, middle + across * half, across, words)
            )
        elif isinstance(one, Diameter):
            pointers.append(
                _round(one.name, [flat(one.centre) * scale], one.value * scale, (words,))
            )
        elif isinstance(one, Radius):
            pointers.append(_on_arc(one, view, scale, words))
        else:
            angles.append((one, words))
    crowded = []
    for one, words in angles:
        ink = angle_ink(there, flat(one.vertex) * scale, flat(one.first), flat(one.second), words)
        if ink is None:
            crowded.append(one.name)
        for each in ink or ():
            there.draw(each)
    pointers += _hole_pointers(view, holes, scale, figures, rows)
    crowded += place_pointers(there, [p for p in pointers if p.name in first])
    crowded += place_measures(there, measures, first)
    return crowded + place_pointers(there, [p for p in pointers if p.name not in first])


def _hole_pointers(
    view: Looked,
    holes: Sequence[Hole],
    scale: float,
    figures: Figures,
    rows: Mapping[int, tuple[int, ...]],
) -> list[Pointer]:
    """One leader for all holes alike."""
    alike: dict[tuple[object, ...], list[Hole]] = {}
    for hole in holes:
        key = (hole_words(hole, 1, figures), hole.zones, hole.datum)
        alike.setdefault(key, []).append(hole)
    found = []
    for group in alike.values():
        one = group[0]
        said, *more = hole_words(one, len(group), figures)
        own = tuple(row for hole in group for row in rows[id(hole)])
        words = (Numbered(said, own), *more, *frames(one.zones, one.datum, figures))
        centres = [view.frame.flat(hole.place) * scale for hole in group]
        found.append(_round(group[0].name, centres, group[0].diameter * scale, words))
    return found


def _round(
    name: str, centres: Sequence[np.ndarray], diameter: float, words: tuple[str | Sign, ...]
) -> Pointer:
    ways = [np.array([np.cos(t), np.sin(t)]) for t in LEAVES]
    touches = [(centre + way * diameter / 2.0, way) for centre in centres for way in ways]
    return Pointer(name, tuple(touches), words)


def _on_side(name: str, middle: np.ndarray, across: np.ndarray, half: float, words: str) -> Pointer:
    """Words that stand for a diameter, such as a thread's, with a leader to either side of it."""
    touches = []
    for side in (across, -across):
        for turn in np.radians([30.0, -30.0, 45.0, -45.0, 60.0, -60.0]):
            c, s = np.cos(turn), np.sin(turn)
            way = np.array([c * side[0] - s * side[1], s * side[0] + c * side[1]])
            touches.append((middle + side * half, way))
    return Pointer(name, tuple(touches), (words,))


def _any_way(touch: np.ndarray) -> tuple[tuple[np.ndarray, np.ndarray], ...]:
    return tuple((touch, np.array([np.cos(t), np.sin(t)])) for t in LEAVES)


def _on_arc(one: Radius, view: Looked, scale: float, words: str) -> Pointer:
    """A radius points along itself: from inside the arc, or from outside at its middle."""
    touches = []
    for centre, way in ((one.centre, one.toward), *one.alike):
        middle, toward = view.frame.flat(centre) * scale, view.frame.flat(way)
        touches += _touching(middle, toward, one.value * scale)
    return Pointer(one.name, tuple(touches), (words,))


def _touching(
    middle: np.ndarray, toward: np.ndarray, radius: float
) -> list[tuple[np.ndarray, np.ndarray]]:
    touches = []
    # Never so far aside that the leader leaves a short arc.
    near, far = np.minimum(np.radians([12.0, 25.0]), np.array([3.0, 6.0]) / radius)
    for turn in (0.0, near, -near, far, -far):
        c, s = np.cos(turn), np.sin(turn)
        way = np.array([c * toward[0] - s * toward[1], s * toward[0] + c * toward[1]])
        touch = middle + way * radius
        touches += [(touch, way), (touch, -way)]
    return touches
