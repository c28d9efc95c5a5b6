"""What holds a piece in a set-up, and by what: the jaws of a vice and of a chuck against what is cut beside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from parts.making.bench.frames import Frame
from parts.making.process.step import Step
from parts.making.stock import LEAST_GRIP, PARTED

if TYPE_CHECKING:
    from parts.making.process.bored import Bored
    from parts.making.process.plan import Clamped, Plan

HOLD = 5.0
"""How much of the stock the jaws hold at least [mm]; common practice, no source."""
GRIP = 20.0
"""How much of it they hold at most: the height of the jaws of a usual vice less its parallels [mm]; common practice, no
source."""
PLATE = 0.35
"""A piece lower than this share of its lesser width lies on the plate, not in the vice [-]; common practice."""
VICE = 100.0
"""Opening of a usual vice [mm]; common practice, no source."""
TOUCH = 25.0
"""Least area of a finished face that a jaw holds by [mm^2]; common practice, no source."""
COLLET = 28.0
"""Largest round in the collet of a usual block, 5C [mm]; common practice, no source."""
SLENDER, TALL = 3.0, 60.0
"""A piece that stands farther out of the jaws than so many times its least width, and so much [mm], is clamped to an
angle plate; common practice, no source."""
NEAR = 0.05
BESIDE = ("face", "step", "boss", "outline", "slot", "undercut")
"""Steps of a mill that cut at the sides of a piece, where jaws stand."""
SIDES = (("left", "right"), ("front", "back"))


@dataclass(frozen=True)
class Held:
    """How a piece is held: in words, along which axis of the set-up jaws close (-1 for none), and how much of the
    stock they hold from its foot [mm]."""

    words: str
    jaws: int = -1
    grip: float = 0.0


def held(
    plan: Plan, one: Clamped, side: str, view: Frame, box: np.ndarray, k: int, steps: Sequence[Step]
) -> Held:
    """What holds a piece.

    Args:
        plan: of the piece.
        one: the clamping.
        side: from which it is seen, in words.
        view: axes of the set-up.
        box: corners of the stock as the set-up begins along those axes, shape (2, 3) [mm].
        k: its number, from 0.
        steps: what is done in it.
    """
    stock = f"{plan.cut.name}, {plan.cut.length:.0f} mm long: " if k == 0 else ""
    if one.machine == "lathe":
        return _chuck(plan, one, side, view, box, k, stock)
    if one.machine in ("waterjet", "laser"):
        return Held(
            f"{plan.cut.name}: on the table of the {one.machine}, by the DXF of `--for flat`"
        )
    if one.machine in ("press", "bench"):
        return Held("on the bench")
    size = box[1] - box[0]
    if on_plate(size):
        freed = any("the last cut" in step.note for step in steps)
        how = "the outline is cut last" if freed else "move clamps one at a time"
        packed = _packed(plan, view, box) if k > 0 else ""  # raw stock lies flat
        return Held(
            f"{stock}clamped down on a spoil board on the plate{packed}; seen from the {side}; "
            + how
        )
    cuts = [step.bottom for step in steps if step.kind in BESIDE]
    room = min(cuts, default=np.inf) - float(box[0, 2])
    grip = min(room - 1.0 if room > HOLD + 1.0 else room, GRIP, 0.5 * float(size[2]))
    lies = plan.turning is not None and abs(float(plan.turning.axis @ view.toward)) < NEAR
    if k > 0 and (room < HOLD or (lies and _best(plan, view, box, grip)[1] < TOUCH)):
        # What the lathe made first stands out of the block no more; jaws below the middle of a round push it out.
        long, wide = _plain(plan, -plan.clamped[0].way) if plan.turning is not None else (0.0, 0.0)
        if long >= HOLD:
            block = (
                "a collet block, the block in the vice and"
                if wide <= COLLET
                else "the chuck of a dividing head,"
            )
            return Held(
                f"by Ø{wide:.4g}, {long:.0f} mm long, in {block} turned with the part for the next side; "
                f"seen from the {side}"
            )
    if room < HOLD:
        foot = f"{room:.1f} mm above its foot" if room > NEAR else "its foot"
        by = "bolt it down on a spoil board through its bores"
        if not through_bores(plan, view.toward):
            by = "leave 0.5 mm at its foot in the last cut round it, saw it off there and file it flush"
        return Held(
            f"{stock}seen from the {side}; no vice: it is cut at its sides to {foot}. "
            f"{by[0].upper()}{by[1:]}, or cut one side at a time and move the clamps"
        )
    return _vice(plan, side, view, box, stock, grip)


def on_plate(size: np.ndarray) -> bool:
    """Whether stock of a size along the axes of a set-up [mm] is clamped down on the plate, and not in the vice."""
    return bool(min(size[0], size[1]) > VICE or size[2] < PLATE * min(size[0], size[1]))


def through_bores(plan: Plan, way: np.ndarray) -> list[Bored]:
    """The holes along a direction that a bolt goes through."""
    return [
        each for each in plan.bored
        if each.hole.depth is None and abs(float(np.dot(each.hole.axis, way))) > 1.0 - NEAR
    ]  # fmt: skip


def _packed(plan: Plan, view: Frame, box: np.ndarray) -> str:
    """What goes under a piece that stands on a boss, in words: clamped down hollow, it would bend and tip."""
    down = [
        (face.span(view.toward)[0], face.area)
        for face in plan.solid.faces
        if face.flat and float(face.normal @ view.toward) < -1.0 + 1e-6
    ]
    foot = float(box[0, 2])
    if not down or min(level for level, _ in down) > foot + NEAR:
        return ""  # it lies on raw stock
    level, _ = max(down, key=lambda one: one[1])
    stands = level - foot
    return f", packed up {stands:.4g} mm under its large face" if stands > NEAR else ""


def _vice(plan: Plan, side: str, view: Frame, box: np.ndarray, stock: str, grip: float) -> Held:
    """Jaws on the sides where most of them touches, raw stock before finished faces."""
    axis, touch = _best(plan, view, box, grip)
    level = float(box[0, 2]) + grip - float((plan.solid.points @ view.toward).max())
    slim = float(min(box[1, :2] - box[0, :2]))
    if -level > max(SLENDER * slim, TALL):
        return Held(
            f"{stock}it would stand {-level:.0f} mm out of a vice: clamped by its {SIDES[axis][0]} to an angle "
            f"plate as high as it, its foot on the table; seen from the {side}"
        )
    words = (
        f"{stock}in the vice on parallels, jaws on its {' and '.join(SIDES[axis])}, their tops at Z {level:.1f} mm, "
        f"which holds {grip:.0f} mm"
    )
    if touch < TOUCH:
        words += "; no flat is left there: soft jaws cut to its shape, or V-blocks"
    elif _hollow(plan, view, box, grip, axis):
        words += "; it is open between them: pack it, and tighten lightly"
    return Held(f"{words}; seen from the {side}", axis, grip)


def _best(plan: Plan, view: Frame, box: np.ndarray, grip: float) -> tuple[int, float]:
    """The axis along which jaws close, if the vice opens so far, and the area that the jaw with less contact
    touches."""
    size = box[1] - box[0]
    touch = [_touched(plan, view, box, grip, axis) for axis in (0, 1)]
    fits = [axis for axis in (0, 1) if size[axis] <= VICE]
    axis = max(fits, key=lambda a: (min(touch[a], TOUCH), -float(size[a])))
    return axis, touch[axis]


def _touched(plan: Plan, view: Frame, box: np.ndarray, grip: float, axis: int) -> float:
    """The lesser area that two jaws touch [mm^2]; inf where both sides are flat stock still."""
    raw = 0.0 if "round" in plan.cut.stock.shape else np.inf
    way = (view.right, view.up)[axis]
    points = plan.solid.points @ way
    found = []
    for end, sign, part in ((0, -1.0, points.min()), (1, 1.0, points.max())):
        if abs(float(part) - box[end, axis]) > NEAR:
            found.append(raw)
            continue
        area = 0.0
        for face in plan.solid.faces:
            at = face.span(way)[end]
            low, high = face.span(view.toward)
            if face.flat and float(face.normal @ way) * sign > 1.0 - 1e-6 and abs(at - part) < NEAR:
                share = (min(high, box[0, 2] + grip) - low) / max(high - low, 1e-9)
                area += face.area * float(np.clip(share, 0.0, 1.0))
        found.append(area)
    return min(found)


def _hollow(plan: Plan, view: Frame, box: np.ndarray, grip: float, axis: int) -> bool:
    """Whether half of what lies between two jaws on the finished piece is air, at the middle of their height."""
    way, other = ((view.right, view.up), (view.up, view.right))[axis]
    across = plan.solid.points @ way
    if (
        abs(float(across.min()) - box[0, axis]) > NEAR
        or abs(float(across.max()) - box[1, axis]) > NEAR
    ):
        return False
    middle = plan.solid.points @ other
    start = other * (middle.min() + middle.max()) / 2.0 + view.toward * (box[0, 2] + grip / 2.0)
    run = np.linspace(float(across.min()), float(across.max()), 23)[1:-1]
    inside = [plan.solid.holds(start + way * at) for at in run]
    return 0 < sum(inside) < 0.5 * len(inside)


def _chuck(
    plan: Plan, one: Clamped, side: str, view: Frame, box: np.ndarray, k: int, stock: str
) -> Held:
    bar = plan.cut.stock.shape in ("round bar", "hex bar", "round tube")
    jaws = "three-jaw chuck" if bar else "four-jaw chuck, clocked in"
    ends = f"worked from the {side}"
    if k == 0:
        turned = [plan.solid.faces[i] for i in one.turned]
        outside = [each.span(view.toward)[0] for each in turned if each.round and not each.hollow]
        foot = float(box[0, 2])
        grip = min(min(outside, default=foot + 2.0 * GRIP) - foot, 2.0 * GRIP) - (
            PARTED + 1.0 if plan.cut.chuck else 0.0
        )
        words = f"{stock}{jaws} on the last {max(grip, 0.0):.0f} mm"
        if grip < HOLD:
            words += ", too little: leave more of the bar, or turn it between centres"
        return Held(f"{words}; {ends}", -1, max(grip, 0.0))
    if plan.cut.stock.shape == "hex bar":
        return Held(f"{jaws}, turned round, on its flats; {ends}", -1, GRIP)
    long, wide = _plain(plan, view.toward)
    if long < HOLD:
        where = "in a collet or a split ring: no plain diameter is long enough for jaws"
        return Held(f"{jaws}, turned round, {where}; {ends}")
    where = f"soft jaws on Ø{wide:.4g}, {long:.0f} mm long"
    return Held(f"{jaws}, turned round, {where}; {ends}", -1, min(long, GRIP))


def _plain(plan: Plan, way: np.ndarray) -> tuple[float, float]:
    """Length and diameter of what a piece is held by that a lathe has turned, out of the jaws along a direction:
    without a thread, the deepest in them that is long enough, else the longest [mm]."""
    threads = [
        sorted(float(np.asarray(end, float) @ way) for end in (t.start, t.end))
        for t in plan.drawn.marks.threads if not t.internal
    ]  # fmt: skip
    assert plan.turning is not None
    found = []
    for i in (*plan.turning.faces, *plan.bought):
        face = plan.solid.faces[i]
        low, high = face.span(way)
        free = not any(a < high - NEAR and b > low + NEAR for a, b in threads)
        if face.kind == "CYLINDER" and not face.hollow and free:
            found.append((high - low > LEAST_GRIP, -low, high - low, 2.0 * face.radius))
    # Of those too short the longest.
    *_, long, wide = max(
        found, key=lambda one: one if one[0] else (False, one[2]), default=(0.0, 0.0)
    )
    return long, wide
