"""Set-ups laid out: zero, stock, steps in order with their tools, speeds and depths."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from parts.making.bench.frames import Frame
from parts.making.bench.inspection import zoned
from parts.making.process.holding import NEAR, held
from parts.making.process.holes import BREAK_THROUGH
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
        zero, words = _zero(plan, one, view, low, high, first=k == 0, tilted=name not in SIDES)
        words += _found_again(plan, found, one, zero) or _from_edges(
            plan, one, view, zero, low, first=k == 0
        )
        steps = tuple(_steps(plan, one, view, last_of_bar=_parts_off(plan, k)))
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


def _zero(
    plan: Plan,
    one: Clamped,
    view: Frame,
    low: np.ndarray,
    high: np.ndarray,
    *,
    first: bool,
    tilted: bool,
) -> tuple[np.ndarray, tuple[str, ...]]:
    """Zero of a set-up, and where it is, in words."""
    top = float((plan.solid.points @ view.toward).max())
    datum = plan.drawn.datum
    if one.machine == "lathe" and plan.turning is not None:
        place = plan.turning.place
        zero = place + view.toward * (top - float(place @ view.toward))
        return zero, (
            "X is the diameter, zero on the axis. Z is zero at the finished end face toward the tailstock; minus runs "
            "toward the chuck.",
        )  # fmt: skip
    place = np.asarray(datum.place, float) if datum is not None else plan.solid.points.min(axis=0)
    said = datum.words.split(", Z ")[0] if datum is not None else "lower left corner"
    zero = place + view.toward * (top - float(place @ view.toward))
    x, y = view.flat(zero)
    words = [
        f"X and Y are zero at the {said}. Z is zero at the highest {'edge' if tilted else 'face'} of the "
        "finished part, seen from here; minus runs into the metal."
    ]
    if first:
        left, below, down = x - low[0], y - low[1], high[2] - top
        words.append(
            f"On the raw stock that zero lies {left:.2f} mm from its left edge, {below:.2f} mm from its lower edge, "
            f"and {down:.2f} mm below its top."
        )
    return zero, tuple(words)


def _found_again(
    plan: Plan, before: Sequence[SetUp], one: Clamped, zero: np.ndarray
) -> tuple[str, ...]:
    """By which bore of an earlier set-up a mill finds the axis of zero again."""
    if one.machine != "mill":
        return ()
    bores = [
        (_open_to(before, setup, one, zero), face.radius, k)
        for k, setup in enumerate(before, 1)
        for step in setup.steps
        for face in (plan.solid.faces[i] for i in step.faces)
        if face.kind == "CYLINDER" and face.hollow and face.about(zero, one.way)
    ]
    if not bores:
        return ()
    seen, radius, k = max(bores)
    within = "".join(
        f", within {mark_zone.value / 2.0:.3g} mm"
        for mark, mark_zone in zoned(plan.drawn)
        if mark_zone.characteristic == "coaxiality" and any(abs(2.0 * radius - float(size.value)) < NEAR
                                                            for size in getattr(mark, "sizes", ()))
    )  # fmt: skip
    bore = f"the bore Ø{2.0 * radius:.6g} of set-up {k}"
    if not seen:
        return (
            f"Metal covers {bore} still: cut down until it is open, with metal left at the sides, then find that axis "
            f"with a dial indicator on it{within}.",
        )
    return (f"Find that axis with a dial indicator on {bore}{within}.",)


def _from_edges(
    plan: Plan, one: Clamped, view: Frame, zero: np.ndarray, low: np.ndarray, *, first: bool
) -> tuple[str, ...]:
    """How far zero lies from finished edges, of a piece that no bore finds again and that stands upright."""
    edges = np.array([plan.solid.points @ view.right, plan.solid.points @ view.up]).min(axis=1)
    upright = max(abs(view.toward)) > SAME
    if first or one.machine != "mill" or not upright or np.abs(edges - low[:2]).max() > NEAR:
        return ()
    left, below = view.flat(zero) - edges
    return (
        f"It lies {left:.2f} mm from the left edge of the piece and {below:.2f} mm from its lower edge: touch them "
        "with an edge finder.",
    )


def _on_what_is_open(
    before: Sequence[SetUp], one: Clamped, steps: Sequence[Step]
) -> Iterator[Step]:
    """The same without spots where an earlier set-up has opened a bore, and on a lathe with its tools."""
    for step in steps:
        if step.kind == "spot":
            left = tuple(
                spot
                for spot in step.spots
                if not _bored_through(before, one, np.asarray(spot.place))
            )
            if left:
                yield replace(step, spots=left)
        elif one.machine == "lathe" and "wind out to" in step.note:
            yield replace(
                step, tool="boring bar, flat at its end", note=step.note.replace("wind out", "bore")
            )
        else:
            yield step


def _bored_through(before: Sequence[SetUp], one: Clamped, place: np.ndarray) -> bool:
    """Whether an earlier set-up from the other side bored along a line down to the foot of its stock, or past the piece
    that was parted off."""
    return any(
        step.bottom <= each.low[2] + BREAK_THROUGH + SAME
        or (each.machine == "lathe" and step.to in ("through", "into waste"))
        for each in before
        for step in each.steps
        if step.kind in ("drill", "bore", "ream", "window")
        and float(each.frame.toward @ one.way) < -SAME
        for spot in step.spots
        if np.linalg.norm(each.frame.flat(np.asarray(spot.place, float) - place)) < NEAR
    )


def _open_to(before: Sequence[SetUp], setup: SetUp, one: Clamped, zero: np.ndarray) -> bool:
    """Whether an indicator reaches the bore on the axis of zero that an earlier set-up made: worked from the same side,
    or something on that axis went down to the foot of the stock."""
    return float(setup.frame.toward @ one.way) > SAME or _bored_through(before, one, zero)


def _parts_off(plan: Plan, k: int) -> bool:
    """Whether a piece leaves its bar after a set-up: where some of the bar is there for the chuck alone."""
    return k == 0 and plan.cut.chuck > 0.0 and plan.clamped[0].machine == "lathe"


def _in_turn(one: Step) -> tuple[float, ...]:
    """Where a step at a hole stands: by its tool, drills from the smallest up and from the mouth in."""
    drilled = one.kind == "drill"
    return ORDER.index(one.kind), one.diameter if drilled else 0.0, -one.top if drilled else 0.0


def _steps(plan: Plan, one: Clamped, view: Frame, *, last_of_bar: bool) -> Iterator[Step]:
    bored: list[Step] = []
    if one.machine == "lathe":
        outside, bored = turned_steps(plan, one, view)
        yield from outside
    for feature, label in labelled(one.features):
        if feature.kind != "edges":
            yield feature_step(plan, feature, label, view)
    yield from specials_before(plan, one)
    made = [*bored, *hole_steps(plan, one.holes, view)]
    yield from sorted(made, key=_in_turn)
    for kind, name, faces in one.special:
        yield special(plan, one, kind, name, faces)
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
