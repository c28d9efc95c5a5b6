"""How often a part is clamped: the fewest directions that reach every face, and what none reaches."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.drawing import Hole
from parts.making.mill.surfaces import OFF, Sight, is_turned, looks_out, patches

SAME = 1.0 - 1e-6


@dataclass(frozen=True)
class SetUp:
    """One clamping: where the tool comes from, how many faces and which holes it makes."""

    way: np.ndarray
    faces: int
    holes: tuple[str, ...]


@dataclass(frozen=True)
class SetUps:
    """Every clamping, in the order in which most is left to do; what none of them reaches (kind and place); and
    whether there are faces that a lathe would make at once."""

    each: tuple[SetUp, ...]
    unreached: tuple[tuple[str, np.ndarray], ...]
    turned: bool


def setups(solid: Any, holes: Sequence[Hole]) -> SetUps:
    """Count the set-ups of a mill with three axes.

    Args:
        solid: the part, a CadQuery shape.
        holes: its holes.

    Returns:
        The set-ups.
    """
    sight = Sight.of(solid)
    faces = patches(solid)
    ways = _ways([p.way for p in faces if p.kind == "flat"], holes)
    reach = [looks_out(sight, one, ways) for one in faces]
    names = [(one.kind, one.place) for one in faces]
    for hole in holes:
        reach.append([_drills(sight, hole, way) for way in ways])
        names.append((f"hole {hole.name}", np.asarray(hole.place, float)))
    table = np.array(reach, bool).reshape(len(names), len(ways))
    left = table.any(axis=1)
    unreached = tuple(name for name, ok in zip(names, left, strict=True) if not ok)
    found = []
    while left.any():
        gain = table[left].sum(axis=0)
        best = int(np.argmax(gain))
        done = left & table[:, best]
        made = tuple(hole.name for hole, ok in zip(holes, done[len(faces) :], strict=True) if ok)
        found.append(SetUp(ways[best], int(done[: len(faces)].sum()), made))
        left &= ~done
    return SetUps(tuple(found), unreached, is_turned(solid))


def _ways(flats: Sequence[np.ndarray], holes: Sequence[Hole]) -> list[np.ndarray]:
    """Directions to come from, each once: the part's own axes first, then those of flats and holes."""
    found: list[np.ndarray] = []
    own = [sign * row for row in np.eye(3) for sign in (1.0, -1.0)]
    for way in [*own, *flats, *(-np.asarray(h.axis, float) for h in holes)]:
        if all(float(way @ one) < SAME for one in found):
            found.append(way)
    return found


def _drills(sight: Sight, hole: Hole, way: np.ndarray) -> bool:
    """True where a drill that comes from a direction reaches a hole past all that stands in its way."""
    axis, place = np.asarray(hole.axis, float), np.asarray(hole.place, float)
    lean = float(axis @ way)
    if abs(lean) < SAME:
        return False
    if lean > 0.0:
        if hole.depth is not None or hole.thread is not None or hole.counterbore is not None:
            return False
        place = place + axis * float(hole.through)
    radius = 0.45 * float(hole.diameter)
    aside = np.cross(way, np.eye(3)[int(np.argmin(np.abs(way)))])
    aside /= np.linalg.norm(aside)
    other = np.cross(way, aside)
    rim = [np.zeros(3), aside, -aside, other, -other]
    return all(sight.free(place + OFF * way + radius * edge, way) for edge in rim)
