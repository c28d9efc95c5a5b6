"""Set-ups laid out: zero, stock, steps in order with their tools, speeds and depths."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from parts.making.bench.frames import Frame
from parts.making.process.holding import NEAR, held, on_plate, through_bores
from parts.making.process.measures import numbers_of
from parts.making.process.millsteps import (
    ORDER,
    feature_step,
    hole_steps,
    labelled,
    special,
    specials_before,
)
from parts.making.process.plan import SAME, SIDES, Clamped, Plan, frame_of
from parts.making.process.step import SetUp, Step
from parts.making.process.turnedsteps import turned_steps
from parts.making.process.waste import into_waste
from parts.making.process.zeros import bored_through, found_by, zero_of

JET_EDGE = 5.0


def laid_out(plan: Plan) -> list[SetUp]:
    """Every set-up of a piece in order."""
    found: list[SetUp] = []
    corners = stock_corners(plan)
    clamped = plan.clamped
    for k, one in enumerate(clamped):
        name, view = frame_of(plan.drawn, one.way)
        axes = np.array([view.right, view.up, view.toward])
        low, high = (corners @ axes.T).min(axis=0), (corners @ axes.T).max(axis=0)
        zero, words = zero_of(plan, one, view, low, high, first=k == 0, tilted=name not in SIDES)
        words += found_by(plan, found, one, view, zero, np.array([low, high]))
        down = one.machine == "mill" and on_plate(high - low)
        steps = tuple(_steps(plan, one, view, last_of_bar=_parts_off(plan, k), down=down))
        steps = tuple(_on_what_is_open(found, one, steps))
        steps = tuple(into_waste(plan, one, clamped[:k], steps, float(low[2])))
        hold = held(plan, one, name, view, np.array([low, high]), k, steps)
        found.append(
            SetUp(
                one.machine, hold.words, view, zero, words, steps, low, high, tilt="" if name in SIDES else name,
                jaws=hold.jaws, grip=hold.grip,
            )
        )  # fmt: skip
        corners = _after(plan, one, corners, parted=_parts_off(plan, k))
    return _numbered(plan, found)


def stock_corners(plan: Plan) -> np.ndarray:
    """Corners of the stock about the piece, in the part's axes, shape (8, 3) [mm]."""
    low, high = plan.solid.points.min(axis=0), plan.solid.points.max(axis=0)
    cut, spare = plan.cut, float(plan.part.milling.allowance)
    size = high - low
    if cut.stock.shape == "plate":
        thin = int(np.argmin(size))
        room = np.full(3, JET_EDGE)
        room[thin] = max((cut.stock.width_mm - size[thin]) / 2.0, 0.0)
    else:
        along = int(np.argmin(np.abs(size + 2.0 * spare - (cut.length - cut.chuck))))
        across = [cut.stock.width_mm, cut.stock.height_mm or cut.stock.width_mm]
        rest = [k for k in range(3) if k != along]
        if (size[rest[0]] > size[rest[1]]) != (across[0] > across[1]):
            across = across[::-1]
        room = np.zeros(3)
        room[along] = spare
        for k, wide in zip(rest, across, strict=True):
            room[k] = max((wide - size[k]) / 2.0, 0.0)
    a, b = low - room, high + room
    first = plan.clamped[0]
    if cut.chuck and first.machine == "lathe":
        k = int(np.argmax(np.abs(first.way)))
        (a if first.way[k] > 0 else b)[k] -= np.sign(first.way[k]) * cut.chuck
    return np.array(
        [[(a, b)[i][0], (a, b)[j][1], (a, b)[k][2]] for i in (0, 1) for j in (0, 1) for k in (0, 1)]
    )


def _after(plan: Plan, one: Clamped, corners: np.ndarray, *, parted: bool) -> np.ndarray:
    """The corners of what is left of the stock after a set-up: where it came from along an axis, to size."""
    k = int(np.argmax(np.abs(one.way)))
    low, high = corners.min(axis=0), corners.max(axis=0)
    part_low, part_high = plan.solid.points.min(axis=0), plan.solid.points.max(axis=0)
    if one.machine in ("waterjet", "laser"):
        low, high = part_low, part_high
    elif abs(one.way[k]) > SAME:
        (high if one.way[k] > 0 else low)[k] = (part_high if one.way[k] > 0 else part_low)[k]
        if parted:
            (low if one.way[k] > 0 else high)[k] = (part_low if one.way[k] > 0 else part_high)[
                k
            ] - np.sign(one.way[k])
        foot = float((plan.solid.points @ one.way).min()) + NEAR
        if any(each.kind in ("outline", "boss") and each.bottom < foot for each in one.features):
            for j in range(3):
                if j != k:
                    low[j], high[j] = part_low[j], part_high[j]
    return np.array([[(low, high)[i][0], (low, high)[j][1], (low, high)[m][2]] for i in (0, 1) for j in (0, 1)
                     for m in (0, 1)])  # fmt: skip


def _on_what_is_open(
    before: Sequence[SetUp], one: Clamped, steps: Sequence[Step]
) -> Iterator[Step]:
    """The same without spots where an earlier set-up has opened a bore, and on a lathe with its tools."""
    for step in steps:
        if step.kind == "spot":
            left = tuple(
                spot
                for spot in step.spots
                if not bored_through(before, one, np.asarray(spot.place))
            )
            if left:
                yield replace(step, spots=left)
        elif one.machine == "lathe" and "wind out to" in step.note:
            yield replace(
                step, tool="boring bar, flat at its end", note=step.note.replace("wind out", "bore")
            )
        else:
            yield step


def _parts_off(plan: Plan, k: int) -> bool:
    """Whether a piece leaves its bar after a set-up: where some of the bar is there for the chuck alone."""
    return k == 0 and plan.cut.chuck > 0.0 and plan.clamped[0].machine == "lathe"


def _in_turn(one: Step) -> tuple[float, ...]:
    """Where a step at a hole stands: by its tool, drills from the smallest up and from the mouth in."""
    drilled = one.kind == "drill"
    return ORDER.index(one.kind), one.diameter if drilled else 0.0, -one.top if drilled else 0.0


def _steps(
    plan: Plan, one: Clamped, view: Frame, *, last_of_bar: bool, down: bool
) -> Iterator[Step]:
    bored: list[Step] = []
    if one.machine == "lathe":
        outside, bored = turned_steps(plan, one, view)
        yield from outside
    named = list(labelled(one.features))
    foot = float((plan.solid.points @ one.way).min()) + NEAR
    last = [
        each
        for each, _ in named
        if down and each.kind in ("outline", "boss") and each.bottom < foot
    ]
    for feature, label in named:
        if (
            not feature.after
            and feature.kind != "edges"
            and not any(feature is each for each in last)
        ):
            yield feature_step(plan, feature, label, view)
    yield from specials_before(plan, one)
    made = [*bored, *hole_steps(plan, one.holes, view)]
    yield from sorted(made, key=_in_turn)
    for kind, name, faces in one.special:
        yield special(plan, one, kind, name, faces)
    yield from (feature_step(plan, one, label, view) for one, label in named if one.after)
    for feature, label in named:
        if any(feature is each for each in last):
            step = feature_step(plan, feature, label, view)
            words = (step.note, f"the last cut, {_kept(plan, one.way)}")
            yield replace(step, note=", ".join(filter(None, words)))
    for feature in one.features:
        if feature.kind == "edges":
            yield feature_step(plan, feature, "", view)
    if last_of_bar:
        end = float((plan.solid.points @ view.toward).min()) - 1.0
        rpm, feed = plan.drawer.pace("part off", 2.0 * _wide(plan))
        yield Step(
            "part off",
            "1 mm longer than the part",
            "parting tool 3 mm",
            0.0,
            end,
            end,
            "end face",
            rpm=rpm,
            feed=feed,
        )


def _kept(plan: Plan, way: np.ndarray) -> str:
    """What holds a piece while it is cut free of the plate, in words."""
    many = len(through_bores(plan, way))
    if many > 1:
        return "bolted down through its bores, the clamps off"
    with_one = "bolted down through its bore, " if many else ""
    return f"{with_one}with three tabs 0.5 mm thick left at its foot, which are filed off"


def _wide(plan: Plan) -> float:
    assert plan.turning is not None
    away = plan.solid.points - plan.turning.place
    return float(
        np.linalg.norm(away - (away @ plan.turning.axis)[:, None] * plan.turning.axis, axis=1).max()
    )


def _numbered(plan: Plan, found: list[SetUp]) -> list[SetUp]:
    """The same with the rows of the inspection sheet: each at the last step that finishes what it measures."""
    rows: Mapping[int, frozenset[int]] = numbers_of(plan)
    of_step: dict[tuple[int, int], list[int]] = {}
    for number, faces in rows.items():
        best = None
        for k, setup in enumerate(found):
            for m, step in enumerate(setup.steps):
                if faces & set(step.faces):
                    best = (k, m)
        if best is not None:
            of_step.setdefault(best, []).append(number)
    return [
        replace(setup, steps=tuple(replace(step, numbers=tuple(sorted(of_step.get((k, m), ()))))
                                   for m, step in enumerate(setup.steps)))
        for k, setup in enumerate(found)
    ]  # fmt: skip
