"""What a drawing says of a foot-control bracket: its profile, and what stands on each point and is bored there.

Everything is stated for the right-hand bracket, z toward the foot, and then turned to its hand.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import numpy as np

from parts.core.drawing import (
    Angle,
    Callout,
    Datum,
    Diameter,
    Dimension,
    Drawn,
    Hole,
    Linear,
    Marks,
    Radius,
    ThreadLines,
    View,
    run_of,
)
from parts.families.foot_bracket.fixture import Bore, Fixture, Turn
from parts.families.foot_bracket.mounts import Mount, SlottedHole
from parts.families.foot_bracket.outline import Figure
from parts.families.foot_bracket.peg import ForkedPeg
from parts.families.foot_bracket.pivot import SeatPivot
from parts.families.foot_bracket.posts import PIN_CLASS, PressedPin
from parts.families.foot_bracket.stub import BoltedOn, StubPivot
from parts.features.fork.fork import InFork
from parts.features.press.fit import AXIAL, FINE
from parts.standards.fits.iso286 import Limits
from parts.standards.threads.threads import Thread
from parts.strength.section.outline import Loop

X, Y, Z = np.eye(3)
SAME = 1e-6
SEAT = "Ra 0.8"
"""Surface that the ring of a ball bearing sits on; common practice, no source."""


def bracket_drawn(
    figure: Figure,
    fixtures: Sequence[Fixture],
    owners: Mapping[str, Any],
    thickness: float,
    web: float,
    edge_break: float,
    sign: float,
) -> Drawn:
    """The sheet of a bracket.

    Args:
        figure: its outline and windows.
        fixtures: its points, the first of them the datum.
        owners: the group of dimensions behind each point, by its name.
        thickness: of the plate [mm].
        web: width of the webs between the windows [mm].
        edge_break: of its edges [mm].
        sign: +1 for the right-hand bracket, -1 for the left-hand one.

    Returns:
        The sheet: the outer face, and a cut through the peg.
    """
    sizes: list[Dimension] = [*_outline(figure.outer, thickness), *_places(fixtures, thickness)]
    edge = figure.outer.points[int(np.argmax(figure.outer.points[:, 0]))]
    low, high = (np.array([*edge, z]) for z in (0.0, thickness))
    sizes.append(Linear("thickness of the plate", low, high, Z, thickness, view="top"))
    holes: list[Hole] = []
    threads: list[ThreadLines] = []
    middle = np.mean([one.place for one in fixtures], axis=0)
    for one in fixtures:
        owner = owners.get(one.name)
        sizes += _standing(one, owner, thickness, middle)
        if one.slot is not None:
            sizes.append(_slot(one, owner, thickness))
        if isinstance(owner, ForkedPeg):
            sizes.append(_fork(one, owner, thickness, edge_break))
        for bore in one.bores:
            found, lines = _bored(one, bore, owner)
            holes += found
            threads += lines
            sizes += _grooves(one, bore, owner)
    notes = []
    if figure.windows:
        sizes += _windows(figure.windows, thickness)
        notes.append(
            f"Each side of a window runs {web / 2:.2f} mm off the line between two points."
        )
    peg = next(one for one in fixtures if one.name == "peg")
    turn = np.array([X, Y, sign * Z])
    profiles = [run_of("outline", figure.outer, thickness)]
    profiles += [run_of(f"window {i}", w, thickness) for i, w in enumerate(figure.windows, 1)]
    forks = (owner for owner in owners.values() if isinstance(owner, ForkedPeg))
    ways = tuple(way for owner in forks for way in np.asarray(owner._frame(1.0), float))
    marks = Marks(
        tuple(sizes), tuple(holes), tuple(threads), notes=tuple(notes), profiles=tuple(profiles),
        ways=ways,
    ).moved(np.zeros(3), turn)  # fmt: skip
    first = fixtures[0]
    return Drawn(
        right=sign * X,
        up=Y,
        views=(View("front"), View("top", cut=(0.0, peg.place[1], 0.0))),
        marks=marks,
        datum=Datum(
            (*first.place, sign * thickness), f"{first.name}, Z at the outer face of the plate"
        ),
    )


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
    found: dict[float, list[tuple[np.ndarray, np.ndarray]]] = {}
    for window in windows:
        for centre, radius, way, bulge in _arcs(window):
            if bulge > 0.0:
                found.setdefault(round(radius, 4), []).append((centre, way))
    for i, (radius, places) in enumerate(sorted(found.items()), 1):
        centre, way = places[0]
        yield Radius(
            f"window corner {i}", (*centre, thickness), Z, (*way, 0.0), radius, callout="corners of windows",
            count=len(places), view="front",
        )  # fmt: skip


def _standing(
    one: Fixture, owner: Any, thickness: float, middle: np.ndarray
) -> Iterator[Dimension]:
    """Words for the turned steps on each face, each with its diameter, its height and its fillet."""
    x, y = one.place
    away = np.array(one.place) - middle
    way = away / np.hypot(*away) if np.hypot(*away) > 1e-6 else np.array([1.0, 0.0])
    for steps, face, up, view in (
        (one.outer, thickness, 1.0, "front"),
        (one.inner, 0.0, -1.0, "top"),
    ):
        if not steps:
            continue
        where = "over the face" if up > 0.0 else "under the inner face"
        lines, sizes = (
            [f"{one.name}{_for(owner) if up > 0.0 else ''}"],
            list[Linear | Diameter | Radius](),
        )
        for step in steps:
            if (
                isinstance(owner, StubPivot)
                and up > 0.0
                and step.low >= _collar(owner, face) - SAME
            ):
                words, found = _on_journal(one.name, step, owner, (x, y), face, len(sizes))
            else:
                of = _limits(owner, float(step.diameter)) if up > 0.0 else None
                words, found = _step(one.name, step, of, (x, y), face, up, len(sizes))
                words = words.format(where=where)
            lines += words.split("\n")
            sizes += found
        radius = float(steps[0].diameter) / 2.0
        at = np.array([*(np.array([x, y]) + radius * way), face + up * 0.5])
        if view == "top":
            at = np.array([x + radius, y, face + up * 0.5 * abs(_far(steps[0], up) - face)])
        yield Callout(f"{one.name}, {where}", at, "\n".join(lines), tuple(sizes), view=view)


def _limits(owner: Any, size: float) -> Limits | None:
    """What a diameter is made to, by the owner of its point; None without a fit."""
    fitted = owner.fitted() if hasattr(owner, "fitted") else {}
    found = (of for name, of in fitted.items() if name != "groove width")
    return next((of for of in found if abs(of.nominal - size) < SAME), None)


def _class_of(of: Limits | None) -> tuple[str, tuple[float, float] | None]:
    return ("", None) if of is None else (of.tolerance_class, of.sizes)


def _far(step: Turn, up: float) -> float:
    return float(step.high if up > 0.0 else step.low)


def _step(
    name: str,
    step: Turn,
    of: Limits | None,
    place: tuple[float, float],
    face: float,
    up: float,
    first: int,
) -> tuple[str, list[Any]]:
    """Words of a step, with room for where it is measured from, and its sizes."""
    x, y = place
    end = _far(step, up)
    sizes: list[Any] = [
        _turned(name, step, of, place, up),
        Linear(f"height of a step of {name}", (x, y, face), (x, y, end), Z * up, abs(end - face)),
    ]
    words = f"{{{{{first}}}}} to {{{{{first + 1}}}}} {{where}}"
    foot = _foot(name, step, place, up)
    if foot:
        words += f", {{{{{first + 2}}}}} at the foot"
    return words, sizes + foot


def _turned(
    name: str, step: Turn, of: Limits | None, place: tuple[float, float], up: float
) -> Diameter:
    fit, limits = _class_of(of)
    size = float(step.diameter)
    return Diameter(f"step of {name}", (*place, _far(step, up)), Z, size, fit=fit, limits=limits)


def _foot(name: str, step: Turn, place: tuple[float, float], up: float) -> list[Any]:
    """The fillet of a step at its foot; none where it is sharp."""
    r = float(step.fillet)
    if r <= 0.0:
        return []
    near = float(step.low if up > 0.0 else step.high)
    centre = (place[0] + float(step.diameter) / 2 + r, place[1], near + up * r)
    return [Radius(f"fillet of a step of {name}", centre, Y, (-X - up * Z) / np.sqrt(2.0), r)]


def _collar(owner: StubPivot, face: float) -> float:
    """Height of the collar's face, on which the inner ring seats [mm]."""
    return face + float(owner.base()) + float(owner.rise)


def _on_journal(
    name: str, step: Turn, owner: StubPivot, place: tuple[float, float], face: float, first: int
) -> tuple[str, list[Any]]:
    """Words and sizes of the journal and its groove, from the face that the ring seats on: by lengths from
    elsewhere, circlip or washer would hold the rings only by luck."""
    collar, clip, size = _collar(owner, face), owner.clip, float(step.diameter)
    low, high = (np.array([*place, float(z)]) for z in (step.low, step.high))
    base, long = np.array([*place, collar]), float(step.high) - collar
    if clip is not None and abs(size - clip.groove) < SAME:
        of, wide = clip.groove_limits()
        across = Linear(
            f"width of the groove of {name}", low, high, Z, float(step.high - step.low),
            fit=wide.tolerance_class, limits=wide.sizes,
        )  # fmt: skip
        far = Linear(f"groove of {name}", base, high, Z, long, limits=(long, long + AXIAL))
        words = f"circlip groove {{{first}}} × {{{first + 1}}} wide,\n"
        words += f"outer side {{{first + 2}}} over the collar, DIN 471"
        return words, [_turned(name, step, of, place, 1.0), across, far]
    sizes: list[Any] = [_turned(name, step, _limits(owner, size), place, 1.0)]
    words = f"{{{first}}} to the groove"
    if clip is None or step.low > collar + SAME:
        limits = (long - AXIAL, long) if clip is None else None
        sizes.append(Linear(f"length of the journal of {name}", base, high, Z, long, limits=limits))
        words = f"{{{first}}} to {{{first + 1}}} over the collar"
    foot = _foot(name, step, place, 1.0)
    if foot:
        words += f", {{{first + len(sizes)}}} at the foot"
    return words, sizes + foot


def _for(owner: Any) -> str:
    if isinstance(owner, StubPivot):
        return f", journal for two {owner.bearing.designation}, {SEAT}"
    return ""


def _slot(one: Fixture, owner: Any, thickness: float) -> Callout:
    assert isinstance(owner, Mount) and isinstance(owner.hole, SlottedHole)
    angle, travel, wide = float(owner.hole.angle), float(owner.hole.travel), float(owner.diameter)
    way = np.array([np.cos(angle), np.sin(angle), 0.0])
    centre = np.array([*one.place, thickness])
    ends = centre - way * travel / 2.0, centre + way * travel / 2.0
    sizes = (
        Radius(f"end of the slot of {one.name}", ends[1], Z, way, wide / 2.0),
        Linear(f"travel of the slot of {one.name}", *ends, way, travel),
        Angle(f"turn of the slot of {one.name}", centre, X, way, angle, from_axis=True),
    )
    words = "slot: {0} at both ends, centres {1} apart\n"
    words += f"at {{2}}, {one.name} in its middle"
    return Callout(f"slot of {one.name}", ends[1] + way * wide / 2.0, words, sizes, view="front")


def _fork(one: Fixture, owner: ForkedPeg, thickness: float, edge_break: float) -> Callout:
    """The fork in words: its pin lies at any angle in the plate, so that no view need show it true."""
    rise, r = float(owner.ears.back), float(owner.fillet)
    back = thickness + rise
    marks = owner.ears.marks(InFork("peg.ears", owner.ears.pin.material, edge_break=edge_break))
    if r > 0.0:
        centre = (r - rise, float(owner.ears.width) / 2.0 + r, 0.0)
        root = Radius("root fillet all round", centre, Z, -(X + Y) / np.sqrt(2.0), r)
        marks += Marks((root,))
    marks = marks.moved((*one.place, back), np.asarray(owner._frame(1.0), float))
    sizes: list[Any] = [size for size in marks.dimensions if isinstance(size, Linear | Radius)]
    foot, over = (*one.place, thickness), (*one.place, back)
    sizes.append(Linear("pin over the face", foot, over, Z, rise))
    lines = [f"{one.name}: fork, pin at {np.degrees(float(owner.angle)):.1f}°"]
    lines += [f"{size.name} {{{i}}}" for i, size in enumerate(sizes)]
    for hole in marks.holes:
        lines.append(f"pin hole {{{len(sizes)}}} {hole.callout.splitlines()[0]}")
        sizes.append(
            Diameter(
                hole.name, hole.place, hole.axis, hole.diameter, fit=hole.fit, limits=hole.limits
            )
        )
    at = (*one.place, back)
    return Callout("fork of the peg", at, "\n".join(lines), tuple(sizes), view="front")


def _thread_of(owner: Any) -> Thread | None:
    found = getattr(owner, "thread", None)
    if found is None and getattr(owner, "retention", None) is not None:
        found = getattr(owner.retention, "thread", None)
    return found


def _bored(one: Fixture, bore: Bore, owner: Any) -> tuple[list[Hole], list[ThreadLines]]:
    """A bore as holes: the narrowest step from the side it is open to, each wider one from its own mouth."""
    low, high = float(bore.steps[0].low), float(bore.steps[-1].high)
    through = bore.open_low and bore.open_high
    narrow = min(range(len(bore.steps)), key=lambda k: float(bore.steps[k].diameter))
    size = float(bore.steps[narrow].diameter)
    thread = _thread_of(owner)
    if thread is not None and abs(float(thread.minor_internal) - size) > 1e-6:
        thread = None
    top, bottom = np.array([*one.place, high]), np.array([*one.place, low])
    mouth, way = (top, -Z) if bore.open_high else (bottom, Z)
    found: list[Hole] = []
    for k, step in enumerate(bore.steps):
        from_top = k > narrow
        if k == narrow or _is_groove(owner, step) or _goes_on(bore, k, narrow):
            continue
        deep = high - float(step.low) if from_top else float(step.high) - low
        fit, limits = _class_of(_limits(owner, float(step.diameter)))
        found.append(
            Hole(
                f"{one.name}, wider bore {k + 1}", top if from_top else bottom, -Z if from_top else Z,
                float(step.diameter), depth=deep, through=deep, callout=_seat(owner, step, from_top=from_top),
                view="front", fit=fit, limits=limits,
            )
        )  # fmt: skip
    length = high - low
    blind = isinstance(owner, StubPivot) and isinstance(owner.retention, BoltedOn) and not through
    tapped = float(owner.retention.depth) if blind else length
    lines = []
    if thread is not None:
        far = bottom if through else mouth + way * tapped
        lines.append(ThreadLines(far, top, float(thread.major), size, internal=True))
    fit, limits = _class_of(_limits(owner, size))
    pressed = isinstance(owner, PressedPin)
    callout = f"{FINE}\nfor a pressed pin {PIN_CLASS}" if pressed else ""
    found.insert(
        0,
        Hole(
            one.name, mouth, way, size, depth=None if through else length, through=length, thread=thread,
            tapped=None if through else tapped, callout=callout, view="front", fit=fit, limits=limits,
        ),
    )  # fmt: skip
    return found, lines


def _is_groove(owner: Any, step: Turn) -> bool:
    """True of the circlip's groove in a bearing's seat: it is no hole to be bored from its mouth."""
    return isinstance(owner, SeatPivot) and float(step.diameter) > float(owner.bearing.outside)


def _goes_on(bore: Bore, k: int, narrow: int) -> bool:
    """True where a step has the diameter of one further in, whose depth then covers both."""
    deeper = bore.steps[narrow + 1 : k] if k > narrow else bore.steps[k + 1 : narrow]
    size = float(bore.steps[k].diameter)
    return any(abs(float(step.diameter) - size) < 1e-6 for step in deeper)


def _grooves(one: Fixture, bore: Bore, owner: Any) -> Iterator[Callout]:
    """Circlip grooves, each with its diameter, its width and how far it stands from the floor that the ring
    seats on: from the mouth, the room for ring and circlip would hang on two lengths."""
    floor = float(bore.steps[0].high)
    for step in bore.steps:
        if not _is_groove(owner, step):
            continue
        top, low, size = float(step.high), float(step.low), float(step.diameter)
        (fit, limits), (wide, widths) = map(_class_of, owner.clip.groove_limits())
        sizes = (
            Diameter(f"groove of {one.name}", (*one.place, low), Z, size, fit=fit, limits=limits),
            Linear(
                f"width of the groove of {one.name}", (*one.place, low), (*one.place, top), Z, top - low,
                fit=wide, limits=widths,
            ),
            Linear(
                f"groove of {one.name}", (*one.place, floor), (*one.place, top), Z, top - floor,
                limits=(top - floor, top - floor + AXIAL),
            ),
        )  # fmt: skip
        words = "circlip groove {0} × {1} wide,\nouter side {2} from the floor of the seat, DIN 472"
        at = (*(np.asarray(one.place) + np.array([size / 2.0, 0.0])), top)
        yield Callout(f"groove of {one.name}", at, words, sizes, view="front")


def _seat(owner: Any, step: Turn, *, from_top: bool) -> str:
    if isinstance(owner, SeatPivot):
        return f"seat for {owner.bearing.designation}, {SEAT}"
    return "" if from_top else "from the inner face"
