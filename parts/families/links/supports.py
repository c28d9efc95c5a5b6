"""How the pieces of a link are held and loaded between their threads and welds: what their proof needs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.core.loads import Action
from parts.core.supports import Applied, Flat, Held, Patch, Round, Support
from parts.families.links.statics import Borne

X = np.array([1.0, 0.0, 0.0])
HELD_AT_A = (
    "held at end a, loaded at end b with what the hand calculation finds there; no column buckling"
)


def threaded_body(
    piece: str,
    threads: tuple[Any, Any],
    depths: tuple[float, float],
    low: float,
    high: float,
    load: Borne,
    outside: Any,
) -> Held:
    """A bar or body tapped at both ends.

    Args:
        piece: its name.
        threads: the two threads.
        depths: length of full thread at both ends [mm].
        low: place of its face for end a on x [mm].
        high: that of its face for end b [mm].
        load: what the pins do.
        outside: its outside, where a load at the middle comes in.

    Returns:
        How it is held and loaded.
    """
    a = Round(X * low, X, float(threads[0].minor_internal), 0.0, depths[0])
    b = Round(X * high, -X, float(threads[1].minor_internal), 0.0, depths[1])
    loads = [Applied("end b", (b,), (load.b,)), *_middle(load, outside, high - low)]
    return Held(
        piece, (Support("end a", (a,), float(threads[0].major)),), tuple(loads), notes=(HELD_AT_A,)
    )


def _middle(load: Borne, outside: Any, long: float) -> list[Applied]:
    """What acts on the middle, on two small flats or round the outside beside it."""
    force = np.asarray(load.middle.force, float)
    if not (np.any(force) or np.any(load.middle.moment)):
        return []
    patches: tuple[Patch, ...]
    if outside.kind in ("round", "flatted"):
        wide = 0.04 * long
        patches = (Round(np.zeros(3), X, float(outside.diameter), -wide, wide),)
    else:
        normal = np.array([0.0, 1.0, 0.0])
        r, off = 0.2 * float(outside.across), 0.12 * long
        top = normal * float(outside.across) / 2.0
        patches = tuple(Flat(top + X * s, normal, r) for s in (-off, off))
    return [Applied("middle", patches, (load.middle,))]


def tube_held(size: tuple[float, float], low: float, high: float, load: Borne) -> Held:
    """The tube of a welded link, between its two ends on x [mm]."""
    outside, wall = size
    inner = outside / 2.0 - wall
    a = Flat(X * low, X, outside / 2.0, inner)
    b = Flat(X * high, X, outside / 2.0, inner)
    loads = [Applied("end b", (b,), (load.b,))]
    if np.any(load.middle.force) or np.any(load.middle.moment):
        wide = outside / 2.0
        wall_ = Round(np.zeros(3), X, outside, -wide, wide)
        loads.append(Applied("middle", (wall_,), (load.middle,)))
    return Held("tube", (Support("end a", (a,), 2.0 * wall),), tuple(loads), notes=(HELD_AT_A,))


def bung_held(
    piece: str, thread: Any, depth: float, plug: float, shoulder: float, end: float, at: float, way: float,
    beyond: Sequence[Action],
) -> Held:  # fmt: skip
    """A bung: held where its spigot plugs the tube, loaded in its thread.

    Args:
        piece: its name.
        thread: the thread.
        depth: length of full thread [mm].
        plug: diameter of the spigot [mm].
        shoulder: length of the shoulder [mm].
        end: length over all, less its lead-in [mm].
        at: place of its outer face on x [mm].
        way: +1 where the spigot points along x, -1 against.
        beyond: what the pin of its end does to the link.

    Returns:
        How it is held and loaded.
    """
    wall = Round(X * at, way * X, float(thread.minor_internal), 0.0, depth)
    spigot = Round(X * at, way * X, plug, shoulder, end)
    support = Support("tube", (spigot,), 0.2 * plug)
    note = "held all along its spigot, as the weld and the fit hold it"
    return Held(piece, (support,), (Applied("thread", (wall,), tuple(beyond)),), notes=(note,))
