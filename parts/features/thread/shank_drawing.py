"""What a drawing says of a clevis's shank: in the part's axes, the shank toward -x."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.drawing import (
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
from parts.features.pins.pin import TappedHole

if TYPE_CHECKING:
    from parts.features.fork.fork import Ears, InFork
    from parts.features.thread.shank import Body, FemaleThread, MaleThread, OnBody, Shank

X, Y, Z = np.eye(3)


def turned_marks(marks: Marks, body: Body, what: str = "") -> Marks:
    """The marks of a shank that states itself on -x from the back of the body, put where it is clocked.

    Args:
        marks: of the shank.
        body: the back of the body.
        what: what shows how it is clocked, as wrench flats do; empty where it is round.

    Returns:
        The marks in the axes of the ears, with a note on the turn.
    """
    turn = float(np.degrees(body.clocking))
    notes: tuple[str, ...] = ()
    if what and abs(turn) > 1e-9:
        sense = "clockwise" if turn > 0.0 else "anticlockwise"
        notes = (
            f"{what} turned {abs(turn):g}° {sense} against the ears, seen from the shank's end.",
        )
    return marks.moved((-float(body.back), 0.0, 0.0), _clocked(body)) + Marks(notes=notes)


def _clocked(body: Body) -> Any:
    """The axes of a shank, as rows in those of the ears."""
    c, s = np.cos(float(body.clocking)), np.sin(float(body.clocking))
    return np.array([[1.0, 0.0, 0.0], [0.0, c, s], [0.0, -s, c]])


def fork_drawn(
    ears: Ears,
    in_fork: InFork,
    shank: Shank,
    site: OnBody,
    *,
    origin: Place = (0.0, 0.0, 0.0),
    axes: Any = None,
    piece: str = "part",
    title: str = "",
) -> Drawn:
    """The sheet of a clevis.

    Args:
        ears: its ears.
        in_fork: where they stand.
        shank: its shank.
        site: the back of its body, under the shank.
        origin: middle of its pin in the axes of the part [mm].
        axes: rows, its own axes in those of the part; the same where left out.
        piece: the piece of the part.
        title: what the piece is.

    Returns:
        The sheet.
    """
    body = site.body
    turn = np.eye(3) if axes is None else np.asarray(axes, float)
    middle = np.asarray(origin, float)
    bored = shank.bored or isinstance(ears.pin.hole, TappedHole)
    views = [View("front"), View("top", cut=middle if bored else None)]
    if shank.seen_from_its_end or bool(np.any(body.clocking)):
        views.append(View("left"))
    return Drawn(
        right=turn[0],
        up=turn[1],
        views=tuple(views),
        marks=(ears.marks(in_fork) + shank.marks(site)).moved(middle, turn),
        datum=Datum(middle, "middle of the pin"),
        piece=piece,
        title=title,
    )


def root_marks(body: Body, wide: float, *, on_pad: bool = False) -> list[Dimension]:
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


def male_marks(shank: MaleThread, body: Body) -> Marks:
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
            *root_marks(body, wide),
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
    flatted = shank.neck is not None and shank.neck.flats is not None
    marks = Marks((*sizes, tip), (), (lines,), (CentreLine((0, 0, 0), (-end, 0, 0)),))
    return turned_marks(marks, body, "Wrench flats" if flatted else "")


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


def female_marks(shank: FemaleThread, body: Body) -> Marks:
    thread, length, wide = shank.thread, float(shank.length), float(shank.diameter)
    minor, major, depth = float(thread.minor_internal), float(thread.major), float(shank.depth)
    drilled = depth + 2.0 * float(thread.pitch)
    sizes: list[Dimension] = [
        Diameter("boss", (-length, 0, 0), X, wide, view="front"),
        Linear(
            "length of the boss", (-length, wide / 2, 0), (0, wide / 2, 0), X, length, view="front"
        ),
        *root_marks(body, wide),
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
    marks = Marks(tuple(sizes), (hole,), (lines,), (CentreLine((0, 0, 0), (-length, 0, 0)),))
    return turned_marks(marks, body, "" if shank.flats is None else "Wrench flats")
