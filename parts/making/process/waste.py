"""How far tools go on into metal that a later set-up cuts away: a tap or a reamer that ends in it strikes bottom."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from parts.making.process.holes import BREAK_THROUGH, POINT
from parts.making.process.plan import SAME, Clamped, Plan
from parts.making.process.step import Step

LEAD = 0.25
"""How far a reamer goes past the far side, of its diameter [-]: its lead cuts no size (common practice)."""
TAPERED = 5.5
"""Length of a tap's lead for a hole through, in pitches [-]: the longest of form B, DIN 2197; from memory."""
STEP = 0.25
"""How far apart metal is looked for below a hole [mm]."""
RIM = np.linspace(0.0, 2.0 * np.pi, 8, endpoint=False)
AFTER = ("bore", "ream", "tap")


def into_waste(
    plan: Plan, one: Clamped, earlier: Sequence[Clamped], steps: Sequence[Step], foot: float
) -> Iterator[Step]:
    """Steps of a set-up, those through what stays deepened by what their tools need below it.

    Args:
        plan: of the piece.
        one: the clamping.
        earlier: those before it.
        steps: what is done in it.
        foot: lower end of the stock along its spindle [mm].
    """
    opened = any(float(each.way @ one.way) < -SAME for each in earlier)
    solid = plan.flat is None and "tube" not in plan.cut.stock.shape
    if opened or not solid:
        yield from steps
        return
    for step in steps:
        yield _deepened(plan, one.way, steps, step, foot)


def _deepened(plan: Plan, way: np.ndarray, steps: Sequence[Step], step: Step, foot: float) -> Step:
    waste = step.bottom - foot
    if step.to != "through" or waste <= BREAK_THROUGH + SAME or not step.spots:
        return step
    more = waste if step.kind == "window" else _needed(plan, steps, step)
    point = POINT * step.diameter if step.kind == "drill" else 0.0
    radius = step.diameter / 2.0 if step.kind != "window" else _round(plan, step)
    if more <= 0.0 or radius <= 0.0:
        return step
    runs = [_free(plan, way, spot.place, step.bottom, radius, more + point) for spot in step.spots]
    more = min(more, min(runs) - point, waste)
    if step.kind == "window" and not _reaches(plan, step, more):
        return step
    if more < STEP:
        return step
    return replace(step, bottom=step.bottom - more, to="into waste")


def _needed(plan: Plan, steps: Sequence[Step], step: Step) -> float:
    """What a tool of a hole runs past the far side [mm]; a drill makes room for the longest of those after it."""
    if step.kind == "drill":
        labels = {spot.label for spot in step.spots}
        after = [each for each in steps if each.kind in AFTER and each.to == "through"
                 and labels & {spot.label for spot in each.spots}]  # fmt: skip
        return max((_needed(plan, steps, each) + BREAK_THROUGH for each in after), default=0.0)
    if step.kind == "tap":
        return TAPERED * step.feed / step.rpm
    return {"ream": max(LEAD * step.diameter, BREAK_THROUGH), "bore": BREAK_THROUGH}.get(
        step.kind, 0.0
    )


def _round(plan: Plan, step: Step) -> float:
    """Radius of a round window [mm]; 0 of others."""
    faces = [plan.solid.faces[i] for i in step.faces]
    return max((one.radius for one in faces if one.kind == "CYLINDER" and one.hollow), default=0.0)


def _reaches(plan: Plan, step: Step, more: float) -> bool:
    return step.top - step.bottom + more <= plan.part.milling.reach * step.diameter + SAME


def _free(
    plan: Plan, way: np.ndarray, place: object, bottom: float, radius: float, most: float
) -> float:
    """How far nothing of the finished part is below a hole [mm]."""
    centre = np.asarray(place, float)
    centre = centre - (centre @ way) * way
    aside = np.cross(way, np.eye(3)[int(np.argmin(np.abs(way)))])
    aside = aside / np.linalg.norm(aside)
    across = np.cross(way, aside)
    points = [
        centre,
        *(centre + 0.98 * radius * (np.cos(a) * aside + np.sin(a) * across) for a in RIM),
    ]
    for down in np.arange(STEP, most + STEP, STEP):
        height = (bottom - down) * way
        if any(plan.solid.holds(p + height) for p in points):
            return float(down) - STEP
    return most
