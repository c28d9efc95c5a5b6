"""How a bracket is held by its bolts and loaded at its points: what its proof needs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from parts.core.loads import Action
from parts.core.supports import Applied, Flat, Held, OnBolt, Patch, Round, Support
from parts.families.foot_bracket.mounts import SEAT, Mount, SlottedHole, SunkHole

LEAST_RING = 1.5
"""Width of a clamped ring at the least [mm]."""
OWN_BOLTS = "bolts as springs all over the ring that each clamps on the frame, pull and push alike: no lift-off"


def mount_support(name: str, mount: Mount, pad: float, sign: float, free: bool) -> Support:
    """The ring on the inner face that a bolt clamps to the frame.

    Args:
        name: of the mount.
        mount: the mount.
        pad: radius of its pad [mm].
        sign: +1 on the right-hand part, -1 on the left-hand one.
        free: whether its slot lets it run.

    Returns:
        The support.
    """
    inner = float(mount.diameter) / 2.0
    if isinstance(mount.hole, SunkHole) and mount.hole.side == "inner":
        inner = float(mount.sunk) / 2.0
    boss = mount.boss
    stands = boss is not None and float(boss.inner) > 0.0
    room = float(boss.diameter) / 2.0 if stands and boss is not None else pad
    d = float(mount.thread.major)
    outer = min(max(SEAT * d, inner + LEAST_RING), room)
    if isinstance(mount.hole, SlottedHole):
        inner, outer = 0.0, outer + float(mount.travel) / 2.0
    at = np.array([float(mount.at[0]), float(mount.at[1]), sign * float(mount.low())])
    square = (0.0, 0.0, 1.0)
    ring = (Flat(at, square, outer, inner),)
    if free:
        along = np.array([*map(float, mount.along), 0.0])
        return Support(name, ring, d, "across", along, slides_on=square)
    return Support(name, ring, d, slides_on=square)


def lever_patch(lever: Any, fixture: Any, thickness: float, sign: float) -> Patch:
    """What a lever, peg or post loads on the bracket.

    Args:
        lever: its group.
        fixture: what it adds to the plate.
        thickness: of the plate [mm].
        sign: +1 on the right-hand part, -1 on the left-hand one.

    Returns:
        The ring of a shoulder, the wall of a seat or hole, or the outside of a journal.
    """
    axis, centre = (0.0, 0.0, sign), np.array([*fixture.place, 0.0])
    if lever.type == "seat":
        steps = fixture.bores[0].steps
        return Round(
            centre, axis, float(steps[1].diameter), float(steps[1].low), float(steps[1].high)
        )
    if lever.type == "pressed pin":
        step = fixture.bores[0].steps[-1]
        return Round(centre, axis, float(step.diameter), float(step.low), float(step.high))
    if lever.type in ("stub", "turned"):
        step = next(s for s in reversed(fixture.outer) if float(s.high - s.low) > 5.0)
        low = float(step.low) + float(step.fillet)
        return Round(centre, axis, float(step.diameter), low, float(step.high))
    top = float(fixture.outer[-1].high) if fixture.outer else thickness
    hole = float(fixture.bores[0].steps[-1].diameter) / 2.0
    wide = float(fixture.outer[-1].diameter) / 2.0 if fixture.outer else 2.0 * hole
    outer = min(wide, max(1.8 * hole, hole + LEAST_RING))
    return Flat(np.array([*fixture.place, sign * top]), (0.0, 0.0, 1.0), outer, hole)


def bracket_held(
    supports: Sequence[Support],
    patches: Mapping[str, tuple[Patch, ...]],
    actions: Mapping[str, Sequence[Action]],
    bolts: Mapping[str, OnBolt],
    forked: Sequence[Applied] = (),
) -> Held:
    """A bracket under one load case; `forked` is what the pin of a folding peg and its heel do."""
    loads = tuple(
        Applied(name, some, tuple(actions[name])) for name, some in patches.items() if actions[name]
    )
    loads = (*loads, *forked)
    return Held("part", tuple(supports), loads, bolts=bolts, notes=(OWN_BOLTS,))
