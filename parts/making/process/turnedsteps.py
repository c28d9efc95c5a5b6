"""The steps of a lathe: face, turn each diameter, groove, bore, thread."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from parts.core.drawing import Diameter
from parts.making.bench.frames import Frame
from parts.making.process.bored import NEAR
from parts.making.process.faces import Face
from parts.making.process.holes import COLD, EXACT, tap_drill
from parts.making.process.plan import Clamped, Plan
from parts.making.process.step import Step
from parts.making.process.turned import is_groove_inside
from parts.standards.threads.drills import Drill

GROOVE = 0.15
"""How much wider than its bore a groove is at most, over its diameter: else it is another bore's [-]."""


def turned_steps(plan: Plan, one: Clamped, view: Frame) -> tuple[list[Step], list[Step]]:
    """What is turned from one end; every face in one step.

    Args:
        plan: of the piece.
        one: the clamping.
        view: its axes, `toward` out of the chuck.

    Returns:
        The steps outside, from the largest diameter down, and those inside.
    """
    return list(_outside(plan, one, view)), list(_bored(plan, one, view))


def _outside(plan: Plan, one: Clamped, view: Frame) -> Iterator[Step]:
    assert plan.turning is not None
    way, drawer = view.toward, plan.drawer
    faces = [plan.solid.faces[i] for i in one.turned]
    top = float((plan.solid.points @ way).max())
    ends = [each for each in faces if each.flat and each.span(way)[1] > top - 1e-4]
    if ends:
        rpm, feed = drawer.pace("face the end", 2.0 * max(_wide(plan, each) for each in ends))
        yield Step("face the end", "finished end face", "facing tool", 0.0, top, top, "end face",
                   (), tuple(each.index for each in ends), rpm, feed)  # fmt: skip
    left = [each for each in faces if each not in ends]
    outside = [each for each in left if not _inside(plan, each)]
    threads = list(_threads(plan, way))
    groups = _groups(plan, outside)
    for group in groups:
        wide = 2.0 * max(_wide(plan, each) for each in group)
        round_ = [each for each in group if each.kind == "CYLINDER"]
        size = 2.0 * max(each.radius for each in round_) if round_ else wide
        low, high = min(e.span(way)[0] for e in group), max(e.span(way)[1] for e in group)
        groove = bool(round_) and _is_groove(plan, group)
        kind = "groove" if groove else "turn"
        rpm, feed = drawer.pace("turn", size)
        cutting = (
            [
                t
                for t in threads
                if abs(t[0] - size) < 0.6 and t[1] < high + NEAR and t[2] > low - NEAR
            ]
            if round_
            else []
        )
        words = f"Ø{size:.6g}{fit_words(plan, size)}" if round_ else "taper, radius or shoulder"
        mine = tuple(each.index for each in group)
        threaded = tuple(
            each.index for each in round_ if cutting and _within(each, way, cutting[0])
        )
        tool = "grooving tool" if groove else "turning tool"
        radius = min((each.radius for each in group if each.kind == "TORUS"), default=0.0)
        tool += f", nose radius up to {radius:.3g} mm" if radius else ""
        left_over = tuple(i for i in mine if i not in threaded)
        yield Step(kind, words, tool, size, high, low, "shoulder", (), left_over, rpm, feed)
        if cutting:
            rpm, _ = drawer.pace("thread", size)
            yield Step("thread", cutting[0][3], "thread tool or die", size, cutting[0][2], cutting[0][1], "thread", (),
                       threaded, rpm, rpm * cutting[0][4])  # fmt: skip


def _bored(plan: Plan, one: Clamped, view: Frame) -> Iterator[Step]:
    """What is wider than a hole behind its mouth, or goes on behind it: drilled where a drill makes it, else bored."""
    way, drawer = view.toward, plan.drawer
    assert plan.turning is not None
    solid, line = plan.solid, (plan.turning.place, plan.turning.axis)
    inside = [solid.faces[i] for i in one.turned if _inside(plan, solid.faces[i])]
    for floor in [each for each in inside if is_groove_inside(solid, each, *line)]:
        sides = [each for each in inside if each.flat and each.index in solid.beside[floor.index]]
        inside = [each for each in inside if each is not floor and each not in sides]
        size, (low, high) = 2.0 * floor.radius, floor.span(way)
        through = _tap_drill(plan, size)
        if through is not None:
            rpm, feed = drawer.pace("drill", size)
            yield Step(
                "drill", f"bore Ø{size:.6g} behind the thread", f"drill {through.name}", through.diameter, high, low,
                "full diameter", (), (floor.index, *(each.index for each in sides)), rpm, feed,
                "the drill of the thread, run on",
            )  # fmt: skip
            continue
        rpm, feed = drawer.pace("bore", size)
        words = f"groove Ø{size:.6g} × {high - low:.3g}{fit_words(plan, size)}"
        mine = (floor.index, *(each.index for each in sides))
        waits = any(
            each.hole.left > 0.0 and 0.0 < size - each.hole.diameter < GROOVE * size
            for each in plan.bored
        )
        yield Step(
            "recess", words, "grooving tool, inside", size, high, low, "shoulder", (), mine, rpm, feed,
            note=COLD if waits else "",
        )  # fmt: skip
    if not inside:
        return
    low, high = min(e.span(way)[0] for e in inside), max(e.span(way)[1] for e in inside)
    size = 2.0 * max((each.radius for each in inside if each.kind == "CYLINDER"), default=0.0)
    mine = tuple(e.index for e in inside)
    exact = drawer.drill_of(size, EXACT) if size else None
    if exact is not None:
        rpm, feed = drawer.pace("drill", size)
        yield Step(
            "drill",
            f"bore Ø{size:.6g}",
            f"drill {exact.name}",
            exact.diameter,
            high,
            low,
            "full diameter",
            (),
            mine,
            rpm,
            feed,
        )
        return
    rpm, feed = drawer.pace("bore", size or 10.0)
    words = f"bore Ø{size:.6g}" if size else "shoulder inside"
    yield Step("bore", words, "boring bar", size, high, low, "floor", (), mine, rpm, feed)


def _tap_drill(plan: Plan, size: float) -> Drill | None:
    """The drill of a thread on the axis that leaves a bore of this size [mm]; None where none does."""
    threaded = (one.hole for one in plan.bored if one.hole.thread is not None)
    drills = (tap_drill(hole, plan.drawer) for hole in threaded)
    return next((one for one in drills if abs(one.diameter - size) < EXACT), None)


def _wide(plan: Plan, face: Face) -> float:
    assert plan.turning is not None
    return float(face.off(plan.turning.place, plan.turning.axis).max())


def _inside(plan: Plan, face: Face) -> bool:
    """Whether a face lies within the metal: it looks at the axis, or is a floor bounded by what does."""
    assert plan.turning is not None
    place, axis = plan.turning.place, plan.turning.axis
    if not face.flat:
        radial = (face.on - place) - ((face.on - place) @ axis) * axis
        return bool(face.normal @ radial < -1e-9)
    wide = _wide(plan, face)
    return any(
        other.round and abs(_wide(plan, other) - wide) < 0.01 and _inside(plan, other)
        for other in (plan.solid.faces[j] for j in plan.solid.beside[face.index])
    )


def _groups(plan: Plan, faces: Sequence[Face]) -> list[list[Face]]:
    """Faces by the diameter that they are turned with, the largest first: shoulders, fillets and tapers go with the
    lesser diameter that they touch."""
    assert plan.turning is not None
    axis = plan.turning.axis
    rounds = sorted(
        (one for one in faces if one.kind == "CYLINDER"),
        key=lambda one: (-one.radius, one.span(axis)[0]),
    )
    groups: list[list[Face]] = []
    for one in rounds:
        same = next((g for g in groups if abs(g[0].radius - one.radius) < 1e-6
                     and abs(g[0].span(axis)[0] - one.span(axis)[0]) < NEAR), None)  # fmt: skip
        if same is None:
            groups.append([one])
        else:
            same.append(one)
    waiting = [one for one in faces if one.kind != "CYLINDER"]
    while waiting:
        later = []
        for one in waiting:
            near = [g for g in groups if any(e.index in plan.solid.beside[one.index] for e in g)]
            if near:
                min(near, key=lambda g: g[0].radius if g[0].kind == "CYLINDER" else np.inf).append(
                    one
                )
            else:
                later.append(one)
        if len(later) == len(waiting):
            groups.append(later)
            break
        waiting = later
    return groups


def _is_groove(plan: Plan, group: Sequence[Face]) -> bool:
    """True of a diameter with larger ones on both sides."""
    assert plan.turning is not None
    axis = plan.turning.axis
    points = plan.solid.points
    off = np.linalg.norm(
        (points - plan.turning.place) - ((points - plan.turning.place) @ axis)[:, None] * axis,
        axis=1,
    )
    along = points @ axis
    small = max(one.radius for one in group if one.kind == "CYLINDER")
    low = min(one.span(axis)[0] for one in group if one.kind == "CYLINDER")
    high = max(one.span(axis)[1] for one in group if one.kind == "CYLINDER")
    wider = off > small + 0.05
    return bool(np.any(wider & (along < low + NEAR)) and np.any(wider & (along > high - NEAR)))


def _threads(plan: Plan, way: np.ndarray) -> Iterator[tuple[float, float, float, str, float]]:
    """External threads on the axis: major diameter, heights of both ends, designation, pitch."""
    assert plan.turning is not None
    texts = [one for one in plan.drawn.marks.dimensions if isinstance(one, Diameter) and one.text]
    for one in plan.drawn.marks.threads:
        if one.internal:
            continue
        ends = sorted((float(np.asarray(one.start) @ way), float(np.asarray(one.end) @ way)))
        said = next((t.text for t in texts if abs(float(t.value) - one.major) < 0.5), "thread")
        yield float(one.major), ends[0], ends[1], said, (float(one.major) - float(one.minor)) / 1.08


def _within(face: Face, way: np.ndarray, thread: tuple[float, float, float, str, float]) -> bool:
    low, high = face.span(way)
    return (
        abs(2.0 * face.radius - thread[0]) < 0.6
        and low > thread[1] - 2.0 * thread[4]
        and high < thread[2] + 2.0 * thread[4]
    )


def fit_words(plan: Plan, size: float, place: Sequence[float] | None = None) -> str:
    """The class and limits of a diameter of the drawing that has a fit, for a step; empty for others, and for those
    whose axis does not go through a place that is given."""
    marks = plan.drawn.marks.dimensions
    for one in (size for mark in marks for size in getattr(mark, "sizes", (mark,))):
        if (
            isinstance(one, Diameter)
            and one.fit
            and one.limits
            and abs(float(one.value) - size) < 1e-6
            and (
                place is None
                or np.linalg.norm(np.cross(np.subtract(one.centre, place), one.axis)) < NEAR
            )
        ):
            return f" {one.fit} ({one.limits[0]:.3f} to {one.limits[1]:.3f} mm)"
    return ""
