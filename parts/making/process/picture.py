"""The pictures of a set-up: the piece in its stock as the spindle sees it and from the side, with zero and jaws."""

from __future__ import annotations

import numpy as np

from parts.making.bench.field import Field, letters_box
from parts.making.bench.figures import Figures
from parts.making.bench.frames import Frame
from parts.making.bench.ink import Ink, Letters, Line, box, circle, line
from parts.making.bench.plate_template import dense
from parts.making.bench.projection import look
from parts.making.bench.views import scaled
from parts.making.process.plan import Plan
from parts.making.process.step import SetUp

JETS = ("waterjet", "laser")
UNMEASURED = (*JETS, "press", "bench")
"""Shops that work by a file or a template, not by a readout."""
TEXT = 2.5
CAPTION = 22.0
"""Room for the words below a picture [mm]: a slim part is no wider."""


MARGIN = 14.0


LARGEST = 4.0
"""How many times its size a part is shown at most [-]."""


def picture(
    plan: Plan, one: SetUp, corner: tuple[float, float], room: tuple[float, float], figures: Figures
) -> list[Ink]:
    """The part as the spindle sees it, and beside it from the side that shows the jaws, in its stock, with zero and
    what holds it; of a piece that is cut flat its blank."""
    if one.machine in JETS:
        return _blank(plan, corner, room, figures)
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


def _blank(
    plan: Plan, corner: tuple[float, float], room: tuple[float, float], figures: Figures
) -> list[Ink]:
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
    words = f"the flat blank, {high[0] - low[0]:.1f} mm x {high[1] - low[1]:.1f} mm, not to scale{bends}"
    return [*ink, Letters(figures.shop(words), np.array([corner[0], corner[1]]), TEXT)]


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
