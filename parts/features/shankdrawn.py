"""What a drawing says of a clevis's shank: in the part's axes, the shank toward -x."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.drawn import (
    Angle,
    Callout,
    CentreLine,
    Datum,
    Diameter,
    Dimension,
    Drawn,
    Hole,
    Linear,
    Marks,
    Place,
    Radius,
    ThreadLines,
    View,
)
from parts.features.ears import Ears
from parts.features.foot import Foot
from parts.features.forkdrawn import ear_marks
from parts.features.pad import Pad
from parts.features.padbolts import CounterboredHoles, TappedHoles
from parts.features.pinhole import TappedHole
from parts.features.shank import Body, FemaleThread, MaleThread
from parts.features.spigot import Spigot

X, Y, Z = np.eye(3)


def shank_marks(shank: MaleThread | FemaleThread | Spigot | Pad | Foot, body: Body) -> Marks:
    """Dimensions, holes, threads and centre lines of a shank of any kind."""
    if isinstance(shank, Foot):
        return _foot(shank, body)
    kinds = {MaleThread: _male, FemaleThread: _female, Spigot: _spigot, Pad: _pad}
    marks: Marks = kinds[type(shank)](shank, body)  # type: ignore[operator]
    # Shanks state themselves with the axis on -x from the back, then are clocked about it.
    turned = Marks(notes=_turn_words(shank, body))
    return marks.moved((-float(body.back), 0.0, 0.0), _clocked(body)) + turned


def _turn_words(shank: MaleThread | FemaleThread | Spigot | Pad, body: Body) -> tuple[str, ...]:
    """How a pad or wrench flats stand against the ears; what is round has no clocking to be seen."""
    turn = float(np.degrees(body.clocking))
    grip = shank.neck if isinstance(shank, MaleThread) else shank
    flats = getattr(grip, "flats", None) is not None
    if abs(turn) < 1e-9 or not (flats or isinstance(shank, Pad)):
        return ()
    what = "Wrench flats" if flats else "Pad"
    sense = "clockwise" if turn > 0.0 else "anticlockwise"
    return (f"{what} turned {abs(turn):g}° {sense} against the ears, seen from the shank's end.",)


def _clocked(body: Body) -> Any:
    """The axes of a shank, as rows in those of the ears."""
    c, s = np.cos(float(body.clocking)), np.sin(float(body.clocking))
    return np.array([[1.0, 0.0, 0.0], [0.0, c, s], [0.0, -s, c]])


def fork_drawn(
    ears: Ears,
    shank: MaleThread | FemaleThread | Spigot | Pad | Foot,
    body: Body,
    *,
    origin: Place = (0.0, 0.0, 0.0),
    axes: Any = None,
    piece: str = "part",
    title: str = "",
) -> Drawn:
    """The sheet of a clevis.

    Args:
        ears: its ears.
        shank: its shank.
        body: the back of its body.
        origin: middle of its pin in the axes of the part [mm].
        axes: rows, its own axes in those of the part; the same where left out.
        piece: the piece of the part.
        title: what the piece is.

    Returns:
        The sheet.
    """
    turn = np.eye(3) if axes is None else np.asarray(axes, float)
    middle = np.asarray(origin, float)
    bored = isinstance(shank, FemaleThread) or isinstance(ears.pin.hole, TappedHole)
    views = [View("front"), View("top", cut=middle if bored else None)]
    if isinstance(shank, Pad | FemaleThread) or bool(np.any(body.clocking)):
        views.append(View("left"))
    marks = ear_marks(ears, float(body.edge_break), open_back=isinstance(shank, Foot))
    return Drawn(
        right=turn[0],
        up=turn[1],
        views=tuple(views),
        marks=(marks + shank_marks(shank, body)).moved(middle, turn),
        datum=Datum(middle, "middle of the pin"),
        piece=piece,
        title=title,
    )


def _root(body: Body, wide: float, *, on_pad: bool = False) -> list[Dimension]:
    """The fillet where something round leaves the body, or where the body leaves a pad.

    It runs all round and is shown where the ears lie flat, however the shank is clocked.
    """
    r = float(body.root_fillet)
    if r <= 0.0:
        return []
    side = -1.0 if on_pad else 1.0
    ears = _clocked(body).T
    centre = np.array([-side * r, wide / 2 + r, 0.0]) @ ears
    way = (side * X - Y) / np.sqrt(2.0) @ ears
    return [Radius("root fillet", centre, Z @ ears, way, r, callout="all round", view="front")]


def _flats(across: float | None, low: float, high: float) -> list[Dimension]:
    if across is None:
        return []
    half, x = float(across) / 2.0, -(0.35 * low + 0.65 * high)
    return [
        Linear("across flats", (x, -half, 0), (x, half, 0), Y, 2 * half, callout="flats"),
        Linear("length of the flats", (-high, half, 0), (-low, half, 0), X, high - low),
    ]


def _male(shank: MaleThread, body: Body) -> Marks:
    thread, start = shank.thread, float(shank.shoulder)
    end, major = start + float(shank.length), float(thread.major)
    sizes: list[Dimension] = [
        Diameter(
            "thread",
            (-end + float(thread.pitch) * 2, 0, 0),
            X,
            major,
            text=thread.called("external"),
            view="front",
        ),
        Linear(
            "length of the thread",
            (-end, 0, 0),
            (-start, major / 2, 0),
            X,
            end - start,
            view="front",
        ),
    ]
    if shank.neck is not None:
        wide = float(shank.neck.diameter)
        place = (-start, 0.0, 0.0)
        sizes += [
            Diameter("neck", place, X, wide, view="top"),
            Linear(
                "length of the neck",
                (-start, wide / 2, 0),
                (0, wide / 2, 0),
                X,
                start,
                view="front",
            ),
            *_root(body, wide),
            *_flats(shank.neck.flats, float(body.root_fillet), start),
        ]
    full = start
    if shank.undercut:
        relief = thread.relief("external")
        full = start + float(relief.total_width)
        sizes.append(_undercut(start, full, float(relief.diameter), float(relief.radius)))
    point = float(thread.pitch)
    thin = major - 1.6 * point
    tip = Callout(
        "thread point",
        (-end, -thin / 2, 0),
        "point {0} long to {1}",
        (
            Linear("length of the point", (-end, 0, 0), (-end + point, 0, 0), X, point),
            Diameter("tip of the thread", (-end, 0, 0), X, thin),
        ),
        view="front",
    )
    lines = ThreadLines((-full, 0, 0), (-end, 0, 0), major, float(thread.minor_external))
    return Marks((*sizes, tip), (), (lines,), (CentreLine((0, 0, 0), (-end, 0, 0)),))


def _undercut(start: float, full: float, narrow: float, radius: float) -> Callout:
    """The groove behind a shoulder at `start` that runs out to the full thread at `full` [mm]."""
    corner = (-start - radius, -(narrow / 2 + radius), 0.0)
    return Callout(
        "undercut",
        (-start - radius - 0.2, -narrow / 2, 0.0),
        "undercut {0} × {1} wide\n{2} at the shoulder, 45° run-out",
        (
            Diameter("undercut", (-start - radius, 0, 0), X, narrow),
            Linear("width of the undercut", (-full, 0, 0), (-start, 0, 0), X, full - start),
            Radius("fillet of the undercut", corner, Z, (X + Y) / np.sqrt(2.0), radius),
        ),
        view="front",
    )


def _female(shank: FemaleThread, body: Body) -> Marks:
    thread, length, wide = shank.thread, float(shank.length), float(shank.diameter)
    minor, major, depth = float(thread.minor_internal), float(thread.major), float(shank.depth)
    drilled = depth + 2.0 * float(thread.pitch)
    sizes: list[Dimension] = [
        Diameter("boss", (-length, 0, 0), X, wide, view="front"),
        Linear(
            "length of the boss", (-length, wide / 2, 0), (0, wide / 2, 0), X, length, view="front"
        ),
        *_root(body, wide),
        *_flats(shank.flats, float(body.root_fillet), length),
    ]
    if shank.relief:
        groove = thread.relief("internal")
        drilled = depth + float(groove.total_width)
        at = -length + (depth + drilled) / 2.0
        full = Linear(
            "depth of full thread", (-length, 0, 0), (-length + depth, 0, 0), X, depth, view="top"
        )
        words = Callout(
            "relief behind the thread",
            (at, 0.0, groove.diameter / 2.0),
            "relief {0} × {1} wide",
            (
                Diameter("relief", (at, 0, 0), X, float(groove.diameter)),
                Linear(
                    "width of the relief",
                    (-length + depth, 0, 0),
                    (-length + drilled, 0, 0),
                    X,
                    drilled - depth,
                ),
            ),
            view="top",
        )
        sizes += [full, words]
    hole = Hole(
        "tapped boss", (-length, 0, 0), X, minor, depth=drilled, thread=thread, tapped=depth,
        countersink=major + 0.6,
    )  # fmt: skip
    lines = ThreadLines((-length + depth, 0, 0), (-length, 0, 0), major, minor, internal=True)
    return Marks(tuple(sizes), (hole,), (lines,), (CentreLine((0, 0, 0), (-length, 0, 0)),))


def _spigot(shank: Spigot, body: Body) -> Marks:
    start, wide, plug = float(shank.shoulder), float(shank.tube.width_mm), float(shank.diameter)
    end, prep, lead = start + float(shank.length), float(shank.weld_prep), float(shank.lead_in)
    sizes: list[Dimension] = [
        Diameter("shoulder", (-(start - prep), 0, 0), X, wide, view="front"),
        Diameter(
            "spigot",
            (-(end - lead), 0, 0),
            X,
            plug,
            callout=f"plug for {shank.tube.name}",
            view="top",
        ),
        Linear(
            "length of the shoulder",
            (-start, plug / 2, 0),
            (0, wide / 2, 0),
            X,
            start,
            view="front",
        ),
        Linear(
            "length of the spigot",
            (-end, 0, 0),
            (-start, plug / 2, 0),
            X,
            end - start,
            view="front",
        ),
        Callout(
            "weld prep",
            (-(start - prep / 2), -(wide - prep) / 2, 0),
            f"weld prep {prep:.2f} × 45°",
            view="front",
        ),
        *_root(body, wide),
    ]
    if lead > 0.0:
        at = (-(end - lead / 2), -(plug - lead) / 2, 0)
        long = Linear("lead-in", (-end, 0, 0), (-end + lead, 0, 0), X, lead)
        sizes.append(Callout("lead-in", at, "{0} × 45°", (long,), view="front"))
    notes = [f"Weld to {shank.tube.name} tube all round; dress nothing off the weld."]
    if shank.rosettes is not None:
        r = shank.rosettes
        notes.append(
            f"{r.count} rosette welds Ø{float(r.diameter):.2f} in the tube, "
            f"{float(r.from_end):.2f} from its end, evenly round."
        )
    return Marks(tuple(sizes), (), (), (CentreLine((0, 0, 0), (-end, 0, 0)),), tuple(notes))


def _pad(shank: Pad, body: Body) -> Marks:
    wide, high, thick = float(shank.width), float(shank.height), float(shank.thickness)
    corner, size = float(shank.corner), float(shank.hole)
    tapped = shank.bolts.of_thread if isinstance(shank.holes, TappedHoles) else None
    bored = shank.holes if isinstance(shank.holes, CounterboredHoles) else None
    holes = []
    sizes: list[Dimension] = [
        Linear(
            "width of the pad", (-thick, -wide / 2, 0), (-thick, wide / 2, 0), Y, wide, view="left"
        ),
        Linear(
            "height of the pad", (-thick, 0, -high / 2), (-thick, 0, high / 2), Z, high, view="left"
        ),
        Linear(
            "thickness of the pad", (-thick, wide / 2, 0), (0, wide / 2, 0), X, thick, view="front"
        ),
    ]
    if corner > 0.0:
        way = (Y + Z) / np.sqrt(2.0)
        centre = (-thick, wide / 2 - corner, high / 2 - corner)
        sizes.append(Radius("corner of the pad", centre, X, way, corner, count=4, view="left"))
    sizes += _root(body, float(body.width), on_pad=True)
    for i, (y, z) in enumerate(shank.places(), 1):
        place = (0.0 if bored else -thick, float(y), float(z))
        holes.append(
            Hole(
                f"pad hole {i}",
                place,
                -X if bored else X,
                size,
                through=thick,
                thread=tapped,
                countersink=float(tapped.major + 2.0 * body.edge_break) if tapped else 0.0,
                view="left",
                counterbore=(float(bored.diameter), float(bored.depth)) if bored else None,
                callout="counterbore on the far side" if bored else "",
            )
        )
    for way, n, name in ((Y, 0, "y"), (Z, 1, "z")):
        for value in sorted({round(float(p[n]), 6) for p in shank.places()}):
            if abs(value) > 1e-6:
                on = next(p for p in shank.places() if abs(p[n] - value) < 1e-5)
                start = (-thick, 0.0, 0.0)
                end = (-thick, float(on[0]), float(on[1]))
                sizes.append(
                    Linear(
                        f"holes at {name} {value:g}",
                        start,
                        end,
                        way * np.sign(value),
                        abs(value),
                        view="left",
                    )
                )
    middle = (
        CentreLine((-thick, -wide / 2, 0), (-thick, wide / 2, 0)),
        CentreLine((-thick, 0, -high / 2), (-thick, 0, high / 2)),
    )
    return Marks(tuple(sizes), tuple(holes), (), middle)


def _foot(shank: Foot, body: Body) -> Marks:
    out, across, along = np.asarray(shank.axes(body), float)
    distance, outside = float(shank.distance), float(shank.tube.width_mm)
    axis = np.array([-distance, 0.0, 0.0])
    words = f"cope to {shank.tube.name} tube"
    sizes: list[Dimension] = [
        Linear("pin to the tube's axis", axis, (0, 0, 0), X, distance, view="front"),
    ]
    straight = abs(float(along @ X)) < 1e-9 and max(abs(along)) > 1.0 - 1e-9
    side = "front" if abs(along[2]) > 0.5 else "top"
    if straight:
        sizes.append(Radius("cope", axis, along, out, outside / 2, callout=words, view=side))
    else:
        lean = f", leaning {np.degrees(float(shank.tilt)):.1f}°" if shank.tilt else ""
        side = "front" if abs(across[2]) > 0.5 else "top"
        turn = f", turned {np.degrees(float(body.clocking)):.1f}°" if body.clocking else ""
        sizes.append(Callout("cope", axis + out * outside / 2, f"{words}{lean}{turn}", view=side))
    if shank.tilt and max(abs(across)) > 1.0 - 1e-9:
        square = (along - (along @ X) * X) / np.linalg.norm(along - (along @ X) * X)
        lean = Angle("lean of the tube", axis, square, along, abs(float(shank.tilt)), view=side)
        sizes.append(lean)
    centre = CentreLine(axis - along * outside * 0.6, axis + along * outside * 0.6)
    note = f"Fillet weld all round, leg {float(shank.leg):.2f}; tack and square to the tube first."
    return Marks(tuple(sizes), (), (), (centre, CentreLine((0, 0, 0), axis)), (note,))
