"""What a sheet states: its sizes, and whole faces by a designation, a table of places, flats or a note."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Any

import numpy as np

from parts.core.drawing import (
    Angle,
    Callout,
    Diameter,
    Drawn,
    Hole,
    Linear,
    Marks,
    Profile,
    Radius,
    Worded,
)
from parts.making.bench.levels import NEAR
from parts.making.bench.surface import Surface


def stated_as_a_whole(one: Surface, marks: Marks, sizes: Sequence[Any]) -> bool:
    """True of a face that needs no dimension of its own.

    Args:
        one: the face.
        marks: of its sheet.
        sizes: every size that the sheet shows.
    """
    return (
        any(_in_words(one, worded) for worded in marks.worded)
        or any(_on_profile(one, profile) for profile in marks.profiles)
        or any(_across(one, size) for size in sizes if isinstance(size, Linear) and size.sides > 2)
    )


def _in_words(one: Surface, worded: Worded) -> bool:
    axis, centre = np.asarray(worded.axis, float), np.asarray(worded.centre, float)
    points = np.vstack([one.corners, one.middle]) - centre
    out = np.linalg.norm(points - (points @ axis)[:, None] * axis, axis=1)
    low, high = worded.inner / 2 - 0.01, worded.outer / 2 + 0.01
    upright = one.kind != "plane" or abs(float(one.axis @ axis)) < NEAR
    return bool(np.all(out > low) and np.all(out < high) and upright)


def edge_broken(one: Surface, marks: Marks, wide: float) -> bool:
    """True of a chamfer that the general note on edges makes."""
    if wide <= 0.0:
        return False
    if one.kind == "cone":
        # The break of a hole's mouth in something round is wider here and there.
        mouth = any(one.off(hole.place) < NEAR for hole in marks.holes)
        even = np.ptp(one.corners @ one.axis) < 1.01 * wide
        return bool(abs(abs(one.lean) - np.pi / 4.0) < NEAR and (mouth or even))
    if one.kind != "plane" or len(one.corners) < 3:
        return False
    long = max(float(np.linalg.norm(a - b)) for a, b in combinations(one.corners, 2))
    return bool(one.area / long < 1.05 * wide * np.sqrt(2.0))


def _across(one: Surface, size: Linear) -> bool:
    """True of a flat of a polygon whose size across flats is stated: all its flats are alike."""
    if one.kind != "plane":
        return False
    way, centre = np.asarray(size.along, float), np.add(size.start, size.end) / 2.0
    lean = np.arccos(np.clip(abs(float(one.axis @ way)), 0.0, 1.0))
    turn = lean * size.sides / (2.0 * np.pi)
    off = abs(float((one.place - centre) @ one.axis)) - float(size.value) / 2.0
    return bool(abs(off) < NEAR and abs(turn - round(turn)) < NEAR)


def _on_profile(one: Surface, profile: Profile) -> bool:
    """True of a face that is one of a profile's lines or arcs."""
    axis = np.asarray(profile.axis, float)
    along = abs(float(one.axis @ axis))
    if one.kind == "plane":
        if along > NEAR:
            return False
        off = (profile.places - one.place) @ one.axis
        return bool(np.any(np.all(np.abs(off) < NEAR, axis=1)))
    if one.kind != "cylinder" or along < 1.0 - NEAR:
        return False
    return any(all(abs(one.off(p) - one.radius) < NEAR for p in piece) for piece in profile.places)


def sizes_on(drawn: Drawn) -> Iterator[Linear | Diameter | Radius | Angle]:
    """Every size that the sheet shows, those in words too, and what the holes say of themselves."""
    for one in drawn.marks.dimensions:
        yield from one.sizes if isinstance(one, Callout) else (one,)
    for hole in drawn.marks.holes:
        yield from _of_hole(hole)


def _of_hole(hole: Hole) -> Iterator[Linear | Diameter]:
    place, axis = np.asarray(hole.place, float), np.asarray(hole.axis, float)
    yield Diameter(hole.name, place, axis, hole.diameter)
    if hole.depth is not None:
        yield Linear(f"depth of {hole.name}", place, place + axis * hole.depth, axis, hole.depth)
    if hole.counterbore is not None:
        wide, down = hole.counterbore
        yield Diameter(f"counterbore of {hole.name}", place, axis, wide)
        yield Linear(
            f"depth of the counterbore of {hole.name}", place, place + axis * down, axis, down
        )
