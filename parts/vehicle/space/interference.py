"""What strikes what: common volume and clearance between parts, through the travel and the links' adjustment.

Pairs whose boxes stand apart by more than the wanted clearance are passed over; the rest go to the kernel. A
pair that does not move against each other is looked at once. Parts that meet at a hardpoint are joined there:
between them only common volume is reported.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations, product
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.making.kept import Kept
from parts.vehicle.file.places import Frame
from parts.vehicle.space.assembly import Standing, box_of, location, twin

if TYPE_CHECKING:
    from parts.vehicle.build import Build

TOUCH = 1e-3
"""Distance below which two solids touch [mm]: rounding of the kernel."""
LEAST_VOLUME = 1.0
"""Common volume below which solids touch rather than cut into each other [mm^3]."""
STATIONS = 5
"""Positions of the wheel that are looked at [-]."""


@dataclass(frozen=True)
class Position:
    """A position of the vehicle: its name, and the axes of each part in it."""

    name: str
    frames: Mapping[str, Frame]


@dataclass(frozen=True)
class Clash:
    """Two solids that come too near, or cut into each other: distance [mm], common volume [mm^3], and where."""

    one: str
    other: str
    position: str
    distance: float
    volume: float

    def __str__(self) -> str:
        if self.volume > 0.0:
            return f"{self.one} and {self.other} cut into each other by {self.volume:.0f} mm^3, {self.position}"
        return f"{self.one} and {self.other} clear each other by {self.distance:.1f} mm only, {self.position}"


def positions(build: Build) -> Iterator[Position]:
    """The positions to look at: as drawn; the travel with the link as drawn and at both ends of its range."""
    names = [name for name in build.names if build.entries[name].place is not None]

    def frames(points: Mapping[str, np.ndarray] | None = None) -> dict[str, Frame]:
        found = ((name, build.frame(name, points)) for name in names)
        return {name: here for name, here in found if here is not None}

    yield Position("as drawn", frames())
    rear = build.rear
    if rear is None:
        return
    for said, length in rear.lengths.items():
        for travel in np.linspace(0.0, rear.entry.travel, STATIONS):
            now = rear.at(float(travel), length)
            yield Position(
                f"at {travel:.0f} mm of travel, {said}",
                frames({**build.points, **rear.moved(now.motion)}),
            )


def clashes(
    build: Build,
    standing: tuple[Standing, ...],
    where: Iterable[Position],
    kept: Kept | None = None,
) -> tuple[Clash, ...]:
    """Find what strikes what.

    Args:
        build: the build.
        standing: every solid.
        where: positions to look at.
        kept: what was measured before: only what moved goes to the kernel.

    Returns:
        For each pair of solids its worst position: the largest common volume, else the least clearance.
    """
    pairs = [(a, b) for a, b in combinations(standing, 2) if _counts(build, a, b)]
    joined = {frozenset((a.part, b.part)) for a, b in pairs if _meet(build, a.part, b.part)}
    seen: set[Any] = set()
    worst: dict[tuple[str, str], Clash] = {}
    kept = kept or Kept()
    corners = {id(one): _corners(one, kept) for one in standing}
    for position in where:
        boxes = {
            id(one): _box(one, corners[id(one)], position.frames[one.part]) for one in standing
        }
        for a, b in pairs:
            if not _near(boxes[id(a)], boxes[id(b)], build.entry.clearance):
                continue
            key = (id(a), id(b), _relative(a, b, position.frames))
            if key in seen:
                continue
            seen.add(key)
            wanted = 0.0 if frozenset((a.part, b.part)) in joined else build.entry.clearance
            found = _clash(a, b, position, wanted, kept)
            if found is not None:
                pair = (a.called, b.called)
                worst[pair] = max(
                    worst.get(pair, found), found, key=lambda c: (c.volume, -c.distance)
                )
    return tuple(worst.values())


def _counts(build: Build, a: Standing, b: Standing) -> bool:
    """Whether a pair is looked at: not within one instance, and not where sharing space is meant."""
    if a.instance == b.instance or (a.material is None and b.material is None):
        return False
    meant = {*build.entries[a.part].shares_space_with, *build.entries[b.part].shares_space_with}
    if a.side == b.side and ({a.part, b.part} & meant):
        return False
    # A pin goes through what is joined by it.
    hardware = (a if a.material is None else b).cylinder
    through = hardware is not None and hardware.kind in ("pin", "screw", "head")
    return not (through and a.side == b.side and a.part != b.part and _meet(build, a.part, b.part))


def _meet(build: Build, one: str, other: str) -> bool:
    mine, theirs = (
        {*entry.points.values(), *entry.carries.values()}
        for entry in (build.entries[one], build.entries[other])
    )
    return bool(mine & theirs)


def _corners(one: Standing, kept: Kept) -> np.ndarray:
    """Corners of the box about a solid in its own axes [mm], (8, 3)."""
    ends = kept.value(lambda: box_of(one.shape), "box", *one.told())
    return np.array([*product(*ends)])


def _box(one: Standing, corners: np.ndarray, here: Frame) -> np.ndarray:
    """Least and largest places of a solid at its place [mm], from the corners of its own box, (2, 3)."""
    placed = (twin(here) if one.side else here).out(corners)
    return np.array([placed.min(axis=0), placed.max(axis=0)])


def _near(one: np.ndarray, other: np.ndarray, clearance: float) -> bool:
    return bool(np.all(one[0] - clearance <= other[1]) and np.all(other[0] - clearance <= one[1]))


def _relative(a: Standing, b: Standing, frames: Mapping[str, Frame]) -> tuple[float, ...]:
    """Where b stands as a sees it: alike in two positions, and nothing has moved between them."""
    one, other = (twin(frames[s.part]) if s.side else frames[s.part] for s in (a, b))
    seen = np.concatenate([one.into(other.origin), (other.axes @ one.axes.T).ravel()])
    return tuple(np.round(seen, 6) + 0.0)


def _clash(a: Standing, b: Standing, position: Position, wanted: float, kept: Kept) -> Clash | None:
    places = position.frames[a.part], position.frames[b.part]
    told = [*a.told(places[0]), *b.told(places[1])]
    apart, common = kept.value(lambda: _measured(a, b, *places), "pair", *told)
    if apart > TOUCH:
        return Clash(a.called, b.called, position.name, apart, 0.0) if apart < wanted else None
    if common > LEAST_VOLUME:
        return Clash(a.called, b.called, position.name, 0.0, common)
    return Clash(a.called, b.called, position.name, 0.0, 0.0) if wanted > 0.0 else None


def _measured(a: Standing, b: Standing, here: Frame, there: Frame) -> tuple[float, float]:
    """Distance of two solids [mm], and their common volume where they touch [mm^3]."""
    from OCP.BRepExtrema import BRepExtrema_DistShapeShape

    one, other = a.placed(here), b.placed(there)
    apart = float(BRepExtrema_DistShapeShape(one.wrapped, other.wrapped).Value())
    return apart, 0.0 if apart > TOUCH else float(one.intersect(other).Volume())


__all__ = ["Clash", "Position", "clashes", "location", "positions"]
