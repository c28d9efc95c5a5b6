"""What a drawing says of a sheet bracket: the base from above, and each leg from its side."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any, Literal

import numpy as np

from parts.core.drawing import (
    Angle,
    Datum,
    Drawn,
    Hole,
    Linear,
    Marks,
    Profile,
    Radius,
    Side,
    View,
    Worded,
)
from parts.families.sheet_bracket.leg import OUT, Standing
from parts.families.sheet_bracket.shape import BracketShape, stretches
from parts.features.pins.pin import TappedHole
from parts.features.press.fit import CLEARS
from parts.standards.fits.iso286 import class_limits

X, Y, Z = np.eye(3)
SQUARE = 1e-6
"""A bend this near to a right angle has faces that a caliper measures from [rad]."""


def bracket_drawn(part: BracketShape) -> Drawn:
    """The sheet of a bracket, seen square to its base; its first hole is the datum."""
    (x0, x1), (y0, y1) = (tuple(map(float, pair)) for pair in part.base.bounds())
    t, c = float(part.thickness), float(part.base.corner)
    stands, zero = part.stands, _zero(part)
    sides = {name: _view(name) for name in stands}
    sizes: list[Any] = [
        Linear("thickness", zero - t * Z, zero, Z, t, view=next(iter(sides.values())))
    ]
    for name, (x, y) in OUT.items():
        if name not in stands or not stands[name].full:
            edge = np.array(
                [x1 if x > 0 else x0 if x else zero[0], y1 if y > 0 else y0 if y else zero[1], t]
            )
            way = np.array([x, y, 0.0])
            sizes.append(
                Linear(
                    f"first hole to the {name}",
                    zero,
                    edge,
                    way,
                    float((edge - zero) @ way),
                    view="front",
                )
            )
    free = [
        (x, y, u, v)
        for x, u, a in ((x1, 1.0, "front"), (x0, -1.0, "back"))
        for y, v, b in ((y1, 1.0, "left"), (y0, -1.0, "right"))
        if not any(name in stands and stands[name].full for name in (a, b))
    ]
    if c > 0.0 and free:
        x, y, u, v = free[0]
        toward = np.array([u, v, 0.0]) / np.sqrt(2.0)
        centre = (x - u * c, y - v * c, t)
        sizes.append(
            Radius("corner of the base", centre, Z, toward, c, count=len(free), view="front")
        )
    marks = Marks((*sizes, *_base_places(part, zero)), tuple(_base_holes(part)))
    for one in stands.values():
        marks += _leg(part, one, sides[one.name])
    marks = replace(marks, dimensions=tuple(_once(marks.dimensions)))
    shown: list[Side] = ["front", *sides.values()]
    for one in stands.values():
        if seen := _true(one.frame(one.leg.reach)[2]):
            shown.append(seen)
    views = [View(name) for name in dict.fromkeys(shown)]
    marks += Marks(notes=tuple(_bend_notes(part)))
    datum = Datum(zero - t * Z, "first hole of the base, at its foot")
    return Drawn(X, Y, tuple(views), marks, datum, sheet_metal=t)


def _once(sizes: Iterable[Any]) -> Iterator[Any]:
    """Of the places that opposite legs have in common, one."""
    seen: set[tuple[float, ...]] = set()
    for one in sizes:
        if isinstance(one, Linear) and one.name.endswith((" side", " to the hole")):
            way = np.abs(np.asarray(one.along, float))
            levels = sorted(
                round(float(np.asarray(p, float) @ way), 4) for p in (one.start, one.end)
            )
            key = (*np.round(way, 3).tolist(), *levels)
            if key in seen:
                continue
            seen.add(key)
        yield one


def _zero(part: BracketShape) -> np.ndarray:
    """The first hole of the base, in its upper face."""
    x, y = np.asarray(part.base.places(), float)[0]
    return np.array([x, y, float(part.thickness)])


def _view(name: str) -> Side:
    return "bottom" if OUT[name][0] else "right"


def _bend_notes(part: BracketShape) -> Iterator[str]:
    from parts.families.sheet_bracket.blank import bracket_blank

    folds = bracket_blank(part).bends
    if folds:
        by = "DIN 6935" if part.k_factor is None else f"the shop's K-factor {part.k_factor:g}"
        yield f"Blank by {by}: see its DXF."


def _base_holes(part: BracketShape) -> Iterator[Hole]:
    t, size = float(part.thickness), float(part.base.hole)
    limits = class_limits(CLEARS["normal"], size)
    for i, (x, y) in enumerate(part.base.places(), 1):
        yield Hole(
            f"base hole {i}", (float(x), float(y), t), -Z, size, through=t, fit=limits.tolerance_class,
            limits=limits.sizes, view="front",
        )  # fmt: skip


def _base_places(part: BracketShape, corner: np.ndarray) -> Iterator[Linear]:
    """Where the base's holes lie from the first, each level once."""
    places = np.asarray(part.base.places(), float)
    for way, n, name in ((X, 0, "x"), (Y, 1, "y")):
        for i, value in enumerate(sorted({round(float(p[n]), 6) for p in places}), 1):
            on = next(p for p in places if abs(p[n] - value) < 1e-5)
            off = value - float(corner[n])
            if abs(off) > 1e-5:
                yield Linear(
                    f"holes, row {i} along {name}", corner, (float(on[0]), float(on[1]), corner[2]),
                    np.sign(off) * way, abs(off), view="front",
                )  # fmt: skip


def _leg(part: BracketShape, one: Standing, side: Side) -> Marks:
    leg, name = one.leg, one.name
    half, r = float(one.wide) / 2.0, float(leg.corner)
    out, along, _ = one.axes
    reach, tip = float(leg.reach), float(leg.reach + leg.end)
    way, _, up = one.frame(reach)
    top = float(part.thickness) / 2.0 * up
    centre, end = one.way(reach) + top, one.way(tip) + top
    sizes: list[Any] = [] if one.full else [*_narrow(part, one)]
    runs: tuple[Profile, ...] = ()
    notes: list[str] = []
    if not leg.bends:
        foot, more = _foot(part, one)
        sizes.append(
            Linear(f"{name}, base to the holes", foot, centre, out, reach + more, view="front")
        )
    elif _is_square(one):
        sizes += _bend(part, one, side, end)
    else:
        runs, notes = (_run(one),), [_course(one, _zero(part))]
    sizes.append(
        Linear(
            f"{name}, holes to the end",
            centre,
            end,
            way,
            tip - reach,
            view=side if leg.bends else "front",
        )
    )
    words: list[Worded] = []
    if r > 0.0 and (seen := _true(up)):
        middle, toward = one.way(tip - r, half - r) + top, (way + along) / np.sqrt(2.0)
        sizes.append(Radius(f"{name}, corner", middle, up, toward, r, count=2, view=seen))
    elif r > 0.0:
        words = [
            Worded(f"corner of {name}", one.way(tip - r, off), up, 2.0 * r, 2.0 * r)
            for off in (r - half, half - r)
        ]
    places = [one.way(reach, off) + top for off in leg.offsets]
    sizes += _from_zero(part, f"{name}, first hole to the hole", places, along)
    if leg.pitch is not None:
        sizes.append(
            Linear(f"{name}, pitch", places[1], places[0], along, float(leg.pitch), view="front")
        )
    if words:
        notes.append(f"Outer corners of the leg to the {name}: R {r:g} mm.")
    holes = tuple(_holes(part, one, up))
    if holes[0].noted:
        notes.append(f"Holes of the leg to the {name}: square to it.")
    return Marks(tuple(sizes), holes, notes=tuple(notes), profiles=runs, worded=tuple(words))


def _true(up: Any) -> Side | Literal[""]:
    """The view that shows a flat true by the normal of its face; none where it is aslant to all."""
    views: dict[Side, Any] = {"front": Z, "right": X, "bottom": Y}
    return next((name for name, way in views.items() if abs(float(up @ way)) > 1.0 - 1e-9), "")


def _course(one: Standing, zero: np.ndarray) -> str:
    """How a leg runs, in the words of who bends it."""
    words = []
    for turn in one.strip.turns:
        way = "up" if turn.angle > 0.0 else "down"
        words.append(
            f"flat {float(turn.flat):g} mm, bend {abs(np.degrees(float(turn.angle))):g}° {way}, inside radius "
            f"{float(turn.radius):g} mm"
        )
    last = float(one.leg.reach + one.leg.end - one.strip.last)
    more = float(one.edge - zero @ one.axes[0])
    foot = f"{more:g} mm out of the first hole of the base" if one.full else "its side of the base"
    return f"Leg to the {one.name}, from {foot}: {', '.join(words)}, flat {last:.2f} mm."


def _is_square(one: Standing) -> bool:
    """Whether a leg stands square on its base: the middle of its bend, and its tangents, nobody finds."""
    bends = one.leg.bends
    return len(bends) == 1 and abs(abs(float(bends[0].angle)) - np.pi / 2.0) < SQUARE


def _run(one: Standing) -> Profile:
    """Both faces of a leg from its first bend on, and its end, which the words of `_course` state."""
    half, t = one.thickness / 2.0, stretches(one)
    next(t)
    pieces = []
    for low, high, _ in t:
        s = np.array([low, (low + high) / 2.0, high], float)
        faces = one.way(s), one.frame(s)[:, 2]
        pieces += [faces[0] + sign * half * faces[1] for sign in (-1.0, 1.0)]
    tip = one.way(high) + half * np.array([[-1.0], [0.0], [1.0]]) * one.frame(high)[2]
    return Profile(f"side of {one.name}", one.axes[1], np.array([*pieces, tip]), tabled=False)


def _foot(part: BracketShape, one: Standing) -> tuple[np.ndarray, float]:
    """Where the lengths of a leg start, and how far that lies within the base: its edge, or where the leg is as wide as
    its side and there is none, the first hole."""
    if not one.full:
        return one.way(0.0, -float(one.wide) / 2.0) + float(part.thickness) / 2.0 * Z, 0.0
    zero = _zero(part)
    return zero, float(one.edge - zero @ one.axes[0])


def _bend(part: BracketShape, one: Standing, side: Side, end: Any) -> Iterator[Any]:
    """The bend of a leg: how far its outer face lies out, its radius and its angle, and how far it reaches."""
    turn, (low, high) = one.strip.turns[0], one.strip.bends()[0]
    u, w = (float(v) for v in one.strip.centre(0))
    middle = one.space(one.edge + u, one.across, float(part.thickness) / 2.0 + w)
    first, second = one.frame(low)[0], one.frame(high)[0]
    (foot, more), name = _foot(part, one), one.name
    outer = float(turn.radius) + float(part.thickness)
    out = float(turn.flat) + more + outer
    yield Linear(
        f"{name}, base to the outer face", foot, middle + outer * first, first, out, view=side
    )
    inside = -np.sign(turn.angle) * one.frame((low + high) / 2.0)[2]
    yield Radius(
        f"{name}, inside of the bend", middle, one.axes[1], inside, float(turn.radius), view=side
    )
    yield Angle(f"{name}, bend", middle, first, second, abs(float(turn.angle)), view=side)
    beyond = float(one.leg.reach + one.leg.end - high) + outer
    yield Linear(
        f"{name}, height over the base", middle - outer * second, end, second, beyond, view=side
    )


def _from_zero(
    part: BracketShape, name: str, places: Sequence[Any], along: Any
) -> Iterator[Linear]:
    """How far the farther of a leg's places lies from the first hole, along its side; seen alike from opposite legs."""
    way, zero = np.abs(along), _zero(part)
    place = max(places, key=lambda one: float(one @ way))
    off = float((place - zero) @ way)
    if abs(off) > 1e-5:
        yield Linear(name, zero, place, np.sign(off) * way, abs(off), view="front")


def _narrow(part: BracketShape, one: Standing) -> Iterator[Any]:
    """Width and place of a leg narrower than its side, and the radius beside it."""
    out, along, _ = one.axes
    t, half, r, name = float(part.thickness), float(one.wide) / 2.0, float(part.relieved), one.name
    low, high = one.way(r, -half) + t / 2.0 * Z, one.way(r, half) + t / 2.0 * Z
    yield Linear(f"{name}, width", low, high, along, 2.0 * half, view="front")
    yield from _from_zero(part, f"{name}, side", (low, high), along)
    centre = one.way(r, half + r) + t / 2.0 * Z
    yield Radius(
        f"{name}, beside the leg",
        centre,
        Z,
        (-along - out) / np.sqrt(2.0),
        r,
        count=2,
        view="front",
    )


def _holes(part: BracketShape, one: Standing, up: Any) -> Iterator[Hole]:
    leg, t = one.leg, float(part.thickness)
    tapped = leg.pin.hole.thread if isinstance(leg.pin.hole, TappedHole) else None
    limits, nut = leg.pin.bore_limits(), leg.pin.set_nut(part.thickness, part.metal, one.name)
    words = "" if nut is None else f"rivet nut {nut.thread.basic}"
    for i, off in enumerate(leg.offsets, 1):
        label = f"{one.name} hole" + (f" {i}" if leg.pitch is not None else "")
        yield Hole(
            label, one.way(leg.reach, off) + t / 2.0 * up, -up, float(leg.drilled), through=t, thread=tapped,
            fit="" if tapped else limits.tolerance_class, limits=None if tapped else limits.sizes,
            noted=not _true(up), view=_true(up), callout=words,
        )  # fmt: skip
