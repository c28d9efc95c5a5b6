"""Where a set-up has its zero, and by what it is found on the piece as it then is."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from parts.making.bench.frames import Frame
from parts.making.bench.inspection import zoned
from parts.making.process.faces import Face
from parts.making.process.holding import NEAR
from parts.making.process.holes import BREAK_THROUGH
from parts.making.process.plan import SAME, Clamped, Plan
from parts.making.process.step import SetUp


def zero_of(
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


def found_by(
    plan: Plan,
    before: Sequence[SetUp],
    one: Clamped,
    view: Frame,
    zero: np.ndarray,
    box: np.ndarray,
) -> tuple[str, ...]:
    """By what a later set-up of a mill finds its zero, in words: a bore along its spindle, the sides of the piece, what
    was turned, or a pin in a bore aslant.

    Args:
        plan: of the piece.
        before: the set-ups before it.
        one: the clamping.
        view: its axes.
        zero: its zero [mm].
        box: corners of the stock as it begins along those axes, shape (2, 3) [mm].
    """
    if one.machine != "mill" or not before:
        return ()
    if again := _found_again(plan, before, one, zero):
        return again
    made = [
        plan.solid.faces[i]
        for i in sorted({i for setup in before for step in setup.steps for i in step.faces} | plan.bought)
    ]  # fmt: skip
    upright = float(np.abs(one.way).max()) > SAME
    if not upright and (pin := _by_a_pin(plan, made, view, zero)):
        return pin
    ties = [
        _tie(plan, made, way, sides, zero, box[:, k])
        for k, (way, sides) in enumerate(((view.right, ("left", "right")), (view.up, ("lower", "upper"))))
    ]  # fmt: skip
    return (f"It lies {ties[0]} and {ties[1]}: touch them with an edge finder.",)


def _tie(
    plan: Plan,
    made: Sequence[Face],
    way: np.ndarray,
    sides: tuple[str, str],
    zero: np.ndarray,
    ends: np.ndarray,
) -> str:
    """What zero is measured from along one axis: a finished edge, flat before round; what is turned about it; a
    finished flat; else a raw side."""
    level, points = float(zero @ way), plan.solid.points @ way
    threads = {float(one.major) / 2.0 for one in plan.drawn.marks.threads if not one.internal}
    across = [f for f in made if f.kind == "CYLINDER" and abs(float(f.axis @ way)) < 1e-6]
    turned: dict[float, list[tuple[float, float]]] = {}
    for face in across:
        plain = not any(abs(face.radius - one) < NEAR for one in threads)
        if not face.hollow and plain and abs(float((face.foot - zero) @ way)) < NEAR:
            turned.setdefault(round(face.radius, 4), []).append(face.span(way))
    both = [
        radius
        for radius, spans in turned.items()
        if max(high for _, high in spans) - min(low for low, _ in spans) > 2.0 * radius - NEAR
    ]
    finished = []
    for sign, end, own in ((-1.0, ends[0], points.min()), (1.0, ends[1], points.max())):
        flat = any(
            face.flat and float(face.normal @ way) * sign > SAME and abs(face.span(way)[0] - own) < NEAR
            for face in made
        )  # fmt: skip
        # A round edge is sampled: where its own axis is known, it reaches by its radius.
        exact = (float(face.foot @ way) + sign * face.radius for face in across)
        at = next((one for one in exact if abs(one - own) < 2.0 * NEAR), float(own))
        if abs(end - own) < NEAR:
            finished.append((not flat, sides[sign > 0], abs(level - at)))
    if finished and not (min(finished)[0] and both):
        _, side, away = min(finished)
        return f"{away:.2f} mm from the {side} edge of the piece"
    if both:
        return f"in the middle between the {' and '.join(sides)} sides of Ø{2.0 * max(both):.6g}"
    flats = [face for face in made if face.flat and abs(float(face.normal @ way)) > SAME]
    if flats:
        face = max(flats, key=lambda face: face.area)
        side = sides[float(face.normal @ way) > 0.0]
        away = abs(level - face.span(way)[0])
        return f"{away:.2f} mm from the finished flat that looks to its {side} side"
    return f"{level - float(ends[0]):.2f} mm from its raw {sides[0]} side"


def _by_a_pin(plan: Plan, made: Sequence[Face], view: Frame, zero: np.ndarray) -> tuple[str, ...]:
    """The centre of a pin in a bore through the datum: of a piece that is tilted, whose edges lie aslant."""
    if plan.drawn.datum is None:
        return ()
    place = np.asarray(plan.drawn.datum.place, float)
    found = []
    for bore in made:
        away = place - bore.foot
        if bore.kind != "CYLINDER" or not bore.hollow:
            continue
        if np.linalg.norm(away - (away @ bore.axis) * bore.axis) > NEAR:
            continue
        for face in made:
            square = face.flat and abs(float(face.normal @ bore.axis)) > SAME
            if square and bore.index in plan.solid.beside[face.index]:
                centre = place + ((face.on - place) @ face.normal) * face.normal
                found.append(
                    (float(face.normal @ view.toward), bore.radius, tuple(view.flat(centre - zero)))
                )
    if not found or max(found)[0] <= 0.0:
        return ()
    _, radius, (x, y) = max(found)
    return (
        f"Put a pin with a centre in its end into the bore Ø{2.0 * radius:.6g}, that end flush with the face round it: "
        f"its centre is at X {x + 0.0:.2f} mm, Y {y + 0.0:.2f} mm.",
    )


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


def bored_through(before: Sequence[SetUp], one: Clamped, place: np.ndarray) -> bool:
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
    return float(setup.frame.toward @ one.way) > SAME or bored_through(before, one, zero)
