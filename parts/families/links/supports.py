"""How the pieces of a link are held and loaded between their threads and welds: what their proof needs."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.core.loads import LoadCase
from parts.core.supports import Applied, Flat, Held, Patch, Round, Support
from parts.families.links.sites import BetweenEnds
from parts.features.bung.bung import Bung
from parts.features.bung.supports import plugged

X = np.array([1.0, 0.0, 0.0])
HELD_AT_A = (
    "held at end a, loaded at end b with what the hand calculation finds there; no column buckling"
)


def threaded_body(piece: str, site: BetweenEnds, case: LoadCase, outside: Any) -> Held:
    """A bar or body tapped at both ends, held at end a and loaded at end b; `outside` is where a load at the middle
    comes in."""
    low, high = float(site.start), float(site.start + site.link.body)
    a, b = (
        Round(X * at, way * X, float(end.thread.minor_internal), 0.0, float(mouth.depth))
        for at, way, end, mouth in zip(
            (low, high), (1.0, -1.0), site.link.ends, site.link.mouths, strict=True
        )
    )
    loads = [
        Applied("end b", (b,), tuple(site.beyond(case, 1.0))),
        *_middle(site, case, outside, high - low),
    ]
    support = Support("end a", (a,), float(site.link.ends[0].thread.major))
    return Held(piece, (support,), tuple(loads), notes=(HELD_AT_A,))


def _middle(site: BetweenEnds, case: LoadCase, outside: Any, long: float) -> list[Applied]:
    """What acts on the middle, on two small flats or round the outside beside it."""
    middle = site.middle(case)
    force = np.asarray(middle.force, float)
    if not (np.any(force) or np.any(middle.moment)):
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
    return [Applied("middle", patches, (middle,))]


def tube_held(
    size: tuple[float, float], low: float, high: float, site: BetweenEnds, case: LoadCase
) -> Held:
    """The tube of a welded link, between its two ends on x [mm]."""
    outside, wall = (float(v) for v in size)
    inner, middle = outside / 2.0 - wall, site.middle(case)
    a = Flat(X * low, X, outside / 2.0, inner)
    b = Flat(X * high, X, outside / 2.0, inner)
    loads = [Applied("end b", (b,), tuple(site.beyond(case, 1.0)))]
    if np.any(middle.force) or np.any(middle.moment):
        wide = outside / 2.0
        wall_ = Round(np.zeros(3), X, outside, -wide, wide)
        loads.append(Applied("middle", (wall_,), (middle,)))
    return Held("tube", (Support("end a", (a,), 2.0 * wall),), tuple(loads), notes=(HELD_AT_A,))


def bung_held(
    bung: Bung, tube: tuple[float, float], site: BetweenEnds, case: LoadCase, i: int
) -> Held:
    """The bung at an end: held where its spigot plugs the tube, loaded in its thread."""
    link = site.link
    face = X * float(site.start + (link.body if i else 0.0)), (-1.0 if i else 1.0) * X
    thread, depth = link.ends[i].thread, float(link.mouths[i].depth)
    return plugged(
        bung, tube, thread, depth, site.at_end(case, i), piece=f"bung-{'ab'[i]}", face=face
    )
