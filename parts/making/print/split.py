"""A print longer than the bed, split on planes away from its holes, its halves located by keys."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np

from parts.core.drawing import Hole
from parts.making.labelling import inside
from parts.making.print.orient import extent
from parts.making.print.settings import Settings
from parts.shapes.cut import Region, cut

AWAY = 4.0
"""How far a plane keeps from every hole [mm]."""
REACH = 12.0
"""Room left on the bed for a key that stands out of its half [mm]."""
LARGEST_DOWEL, LEAST_DOWEL = 8.0, 1.5
DEPTHS = (1.5, 1.0, 0.6)
"""Depths of a dowel that are tried, in its diameters."""
FLARE = np.tan(np.radians(15.0))
"""How a dovetail widens toward its head, each side."""
LARGEST_TAIL = 10.0
GRID = 40
CANDIDATES = 400
SHARE = 0.8
"""Diameter of a dowel in distances from its axis to the nearest edge: six tenths of that stay about it."""
BETWEEN = 2.0
"""Distance of two dowels in those distances."""


@dataclass(frozen=True)
class Key:
    """What locates one half in the next: its kind, its width and depth [mm]."""

    kind: str
    width: float
    depth: float


@dataclass(frozen=True)
class Split:
    """A solid in halves, from the low end up.

    `axis` is 0, 1 or 2 for x, y or z, and `planes` are the places of the cuts on it [mm]. Each plane has its keys,
    whose clearance takes away some volume [mm^3].
    """

    halves: tuple[Any, ...]
    axis: int
    planes: tuple[float, ...]
    keys: tuple[tuple[Key, ...], ...]
    clearance: float


def split(solid: Any, holes: Sequence[Hole], printed: Settings, turned: bool) -> Split:
    """Split a print until its halves fit on the bed.

    Args:
        solid: the print, its box in the corner of the bed.
        holes: its holes as they lie there.
        printed: the settings.
        turned: it fits as it is once turned on the bed.

    Returns:
        The halves; the print itself where it fits.
    """
    size = extent(solid)[1]
    bed = _bed(size, printed.bed)
    over = size - bed
    if turned or np.all(over <= 0.0):
        return Split((solid,), 0, (), (), 0.0)
    axis = int(np.argmax(over))
    planes = where(float(size[axis]), float(bed[axis]) - REACH, _taken(holes, axis))
    halves, keys, lost = [solid], [], 0.0
    for level in planes:
        low, high, key, gone = _parted(halves.pop(), axis, level, printed)
        halves += [low, high]
        keys.append(key)
        lost += gone
    return Split(tuple(halves), axis, planes, tuple(keys), lost)


def _bed(size: np.ndarray, bed: Sequence[float]) -> np.ndarray:
    """The bed as it lies best under a box: its longer side along the longer side of the box."""
    long = sorted(bed[:2])
    plan = long if size[0] <= size[1] else long[::-1]
    return np.array([*plan, bed[2]])


def _taken(holes: Sequence[Hole], axis: int) -> list[tuple[float, float]]:
    """What the holes take up along an axis, from and to [mm]."""
    found = []
    for hole in holes:
        start, way = np.asarray(hole.place, float), np.asarray(hole.axis, float)
        end = start + way * float(hole.through if hole.depth is None else hole.depth)
        wide = max(float(hole.diameter), hole.countersink, (hole.counterbore or (0.0,))[0]) / 2.0
        aside = wide * float(np.sqrt(max(0.0, 1.0 - way[axis] ** 2)))
        found.append((min(start[axis], end[axis]) - aside, max(start[axis], end[axis]) + aside))
    return found


def where(length: float, room: float, taken: Sequence[tuple[float, float]]) -> tuple[float, ...]:
    """Choose the planes: even shares, moved off the holes.

    Args:
        length: of the print along the axis [mm].
        room: longest half [mm].
        taken: from and to of every hole along the axis [mm].

    Returns:
        Levels of the planes, rising [mm]; one that finds no free place stays where it was.
    """
    count = max(2, int(np.ceil(length / room)))
    found: list[float] = []
    for i in range(1, count):
        start = found[-1] if found else 0.0
        least = max(start + 1.0, length - (count - i) * room)
        most = min(start + room, length - 1.0)
        wish = min(max(length * i / count, least), most)
        levels = np.arange(least, most + 0.25, 0.5)
        free = np.ones(len(levels), bool)
        for low, high in taken:
            free &= (levels < low - AWAY) | (levels > high + AWAY)
        choice = levels[free] if free.any() else np.array([wish])
        found.append(float(choice[int(np.argmin(np.abs(choice - wish)))]))
    return tuple(found)


def _parted(
    solid: Any, axis: int, level: float, printed: Settings
) -> tuple[Any, Any, tuple[Key, ...], float]:
    """Both sides of a plane with their keys: the low side carries them, the high side has the sockets."""
    low, high = _side(solid, axis, level, -1.0), _side(solid, axis, level, 1.0)
    axes = np.roll(np.eye(3), -axis, axis=0)
    origin = level * axes[0]
    regions = cut(solid, origin, axes)
    region = max(regions, key=lambda one: float(np.prod(one.high - one.low)))
    maker = _dovetail if printed.keys == "dovetail" else _dowels
    pairs = maker(region, origin, axes, high, printed.key_clearance)
    lost = 0.0
    keys = []
    for key, male, female in pairs:
        male, socket = high.intersect(male), high.intersect(female)
        lost += float(socket.Volume() - male.Volume())
        low, high = low.fuse(male).clean(), high.cut(female)
        keys.append(key)
    return low, high, tuple(keys), lost


def _side(solid: Any, axis: int, level: float, sign: float) -> Any:
    import cadquery as cq

    box = solid.BoundingBox()
    low = np.array([box.xmin, box.ymin, box.zmin]) - 1.0
    high = np.array([box.xmax, box.ymax, box.zmax]) + 1.0
    (low if sign > 0.0 else high)[axis] = level
    tool = cq.Solid.makeBox(*map(float, high - low), cq.Vector(*map(float, low)))
    return solid.intersect(tool)


def _dowels(
    region: Region, origin: np.ndarray, axes: np.ndarray, high: Any, gap: float
) -> list[tuple[Key, Any, Any]]:
    """Two round dowels where the section is thickest, as deep as the other half allows."""
    import cadquery as cq

    way = cq.Vector(*map(float, axes[0]))
    found: list[tuple[Key, Any, Any]] = []
    for place, room in _deepest(region):
        wide = float(min(np.floor(2.0 * SHARE * room) / 2.0, LARGEST_DOWEL))
        at = cq.Vector(*map(float, origin + place @ axes[1:]))
        for share in DEPTHS:
            deep = share * wide
            male = cq.Solid.makeCylinder(wide / 2.0, deep, at, way)
            female = cq.Solid.makeCylinder(wide / 2.0 + gap, deep + gap, at, way)
            inside_of = high.intersect(female).Volume()
            if wide >= LEAST_DOWEL and abs(inside_of / female.Volume() - 1.0) < 1e-6:
                found.append((Key("dowel", wide, deep), male, female))
                break
    return found


def _deepest(region: Region) -> list[tuple[np.ndarray, float]]:
    """Up to two places of a section that are farthest from its edges and well apart, and how far [mm]."""
    t = np.linspace(0.0, 1.0, 80, endpoint=False)
    loops = [
        np.concatenate([curve.at(t)[0] for curve in curves]) for curves in region.boundary.loops
    ]
    edges = np.concatenate(loops)
    rows = [np.linspace(a, b, GRID) for a, b in zip(region.low, region.high, strict=True)]
    places = np.stack(np.meshgrid(*rows), axis=-1).reshape(-1, 2)
    places = places[inside(loops, places)]
    if not len(places):
        return []
    room = np.min(np.linalg.norm(places[:, None] - edges[None], axis=-1), axis=1)
    best = np.argsort(-room)[:CANDIDATES]
    places, room = places[best], room[best]
    # Two dowels keep the halves from turning: as large as walls about them and metal between them allow.
    apart = np.linalg.norm(places[:, None] - places[None], axis=-1) / BETWEEN
    worth = np.minimum(np.minimum(room[:, None], room[None]), apart)
    i, j = np.unravel_index(int(np.argmax(worth)), worth.shape)
    if SHARE * worth[i, j] >= LEAST_DOWEL:
        return [(places[i], float(worth[i, j])), (places[j], float(worth[i, j]))]
    return [(places[0], float(room[0]))]


def _dovetail(
    region: Region, origin: np.ndarray, axes: np.ndarray, high: Any, gap: float
) -> list[tuple[Key, Any, Any]]:
    """One dovetail through the section, across its longer side."""
    import cadquery as cq

    size = region.high - region.low
    u = int(np.argmax(size))
    across, through, way = axes[1 + u], axes[2 - u], axes[0]
    neck, deep = float(size[u]) / 3.0, min(float(size[u]) / 4.0, LARGEST_TAIL)
    middle = origin + region.middle @ axes[1:]
    reach = float(size[1 - u])

    def prism(grow: float) -> Any:
        # Offset square to every side: the flanks move by the gap along their own normals.
        side = grow * float(np.hypot(1.0, FLARE))
        half, head = neck / 2.0 + side, neck / 2.0 + side + (deep + grow) * FLARE
        rows = [(-half, 0.0), (half, 0.0), (head, deep + grow), (-head, deep + grow)]
        start = middle - through * reach
        corners = [cq.Vector(*map(float, start + a * across + b * way)) for a, b in rows]
        wire = cq.Wire.makePolygon(corners, close=True)
        return cq.Solid.extrudeLinear(wire, [], cq.Vector(*map(float, 2.0 * reach * through)))

    return [(Key("dovetail", neck, deep), prism(0.0), prism(gap))]


def spans(planes: Sequence[float], length: float) -> list[float]:
    """Lengths of the halves, without their keys [mm]."""
    return [b - a for a, b in pairwise((0.0, *planes, length))]
