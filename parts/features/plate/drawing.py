"""The sheet of a foot-control bracket: its profile and its windows, and what its points say of themselves.

Everything is stated for the right-hand bracket, z toward the foot, and then turned to its hand.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from parts.core.drawing import Datum, Dimension, Drawn, Linear, Marks, Radius, View, run_of
from parts.features.plate.figure import Figure
from parts.features.plate.fixture import Fixture
from parts.features.plate.shape import Shape
from parts.strength.section.outline import Loop

X, Y, Z = np.eye(3)


def plate_drawn(shape: Shape, points: Sequence[Marks], sign: float, *, handed: bool) -> Drawn:
    """The sheet of a plate: the outer face, and a cut through what loads it most.

    Args:
        shape: of the plate; its first fixture is the datum.
        points: what each of its features says.
        sign: +1 for the right-hand plate, -1 for the left-hand one.
        handed: whether there are two hands of it.
    """
    thickness, fixtures = float(shape.plate.thickness), shape.fixtures
    marks = _plate(shape.figure, fixtures, thickness)
    for one in points:
        marks += one
    marks += _cut_out(shape.figure, thickness, float(shape.plate.web))
    chief = next(one for one in fixtures if one.name == shape.chief)
    first = fixtures[0]
    return Drawn(
        right=sign * X,
        up=Y,
        views=(View("front"), View("top", cut=(0.0, chief.place[1], 0.0))),
        marks=marks.moved(np.zeros(3), np.array([X, Y, sign * Z])),
        datum=Datum(
            (*first.place, sign * thickness), f"{first.name}, Z at the outer face of the plate"
        ),
        hand=("right" if sign > 0.0 else "left") if handed else "",
    )


def _plate(figure: Figure, fixtures: Sequence[Fixture], thickness: float) -> Marks:
    """Radii of the outline, places of the points, and thickness."""
    edge = figure.outer.points[int(np.argmax(figure.outer.points[:, 0]))]
    low, high = (np.array([*edge, z]) for z in (0.0, thickness))
    thick = Linear("thickness of the plate", low, high, Z, thickness, view="top")
    sizes = (*_outline(figure.outer, thickness), *_places(fixtures, thickness), thick)
    return Marks(sizes, profiles=(run_of("outline", figure.outer, thickness),))


def _cut_out(figure: Figure, thickness: float, web: float) -> Marks:
    """The windows; none where no window is cut."""
    if not figure.windows:
        return Marks()
    note = f"Each side of a window runs {web / 2:.2f} mm off the line between two points."
    runs = (run_of(f"window {i}", w, thickness) for i, w in enumerate(figure.windows, 1))
    return Marks(tuple(_windows(figure.windows, thickness)), notes=(note,), profiles=tuple(runs))


def _places(fixtures: Sequence[Fixture], thickness: float) -> Iterator[Dimension]:
    """Each point from the first; points in line have one dimension, whose line runs through them all."""
    start = np.array([*fixtures[0].place, thickness])
    done: set[tuple[str, float]] = set()
    for one in fixtures[1:]:
        end = np.array([*one.place, thickness])
        for way, name in ((X, "x"), (Y, "y")):
            value = float((end - start) @ way)
            level = (name, round(value, 6))
            if abs(value) > 1e-6 and level not in done:
                done.add(level)
                side = way * np.sign(value)
                yield Linear(f"{one.name}, {name}", start, end, side, abs(value), view="front")


def _arcs(loop: Loop) -> Iterator[tuple[np.ndarray, float, np.ndarray, float]]:
    """Centre, radius, direction of the middle, and bulge of every arc of a loop."""
    for segment in loop.curves():
        if abs(float(segment.bulge)) < 1e-9:
            continue
        start, end = np.asarray(segment.start, float), np.asarray(segment.end, float)
        middle = np.asarray(segment.at(np.asarray(0.5))[0], float)
        chord, bulge = end - start, float(segment.bulge)
        radius = float(np.hypot(*chord)) * (1.0 + bulge**2) / (4.0 * abs(bulge))
        across = (start + end) / 2.0 - middle
        way = across / np.hypot(*across)
        if abs(bulge) > 1.0:
            way = -way if float(way @ ((start + end) / 2.0 - middle)) < 0.0 else way
        centre = middle + way * radius
        yield centre, radius, (middle - centre) / radius, bulge


def _outline(outer: Loop, thickness: float) -> Iterator[Dimension]:
    """Radii of pads and waists, each once."""
    done: set[tuple[float, ...]] = set()
    for centre, radius, way, bulge in _arcs(outer):
        key = tuple(np.round([*centre, radius], 4))
        if key in done:
            continue
        done.add(key)
        name = "pad" if bulge > 0.0 else "waist"
        label = f"{name} {len(done)}"
        yield Radius(label, (*centre, thickness), Z, (*way, 0.0), radius, view="front")


def _windows(windows: Sequence[Loop], thickness: float) -> Iterator[Dimension]:
    """The corner radius of the windows; where a corner goes round a pad, that pad's too."""
    found: dict[tuple[str, float], list[tuple[np.ndarray, np.ndarray]]] = {}
    for window in windows:
        for centre, radius, way, bulge in _arcs(window):
            what = "corners of windows" if bulge > 0.0 else "windows round a pad"
            found.setdefault((what, round(radius, 4)), []).append((centre, way))
    for i, ((what, radius), places) in enumerate(sorted(found.items()), 1):
        centre, way = places[0]
        yield Radius(
            f"window corner {i}", (*centre, thickness), Z, (*way, 0.0), radius, callout=what,
            count=len(places), view="front",
            alike=tuple(((*c, thickness), (*w, 0.0)) for c, w in places[1:]),
        )  # fmt: skip
