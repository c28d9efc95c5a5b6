"""What cannot be put together: a bolt that cannot be put in, a wrench that cannot turn.

Both are looked at with plain envelopes: the way of a bolt is a cylinder of its head, as long as the bolt, on
either side of its grip; the room of a wrench is a disc about its head or nut. Where either cuts into a part the
report says so; that nothing is said is no proof that it can be done.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any

import numpy as np

from parts.making.kept import Kept
from parts.vehicle.file.places import Frame
from parts.vehicle.space.assembly import Standing, box_of, location, solid_of, twin
from parts.vehicle.space.cylinders import HEAD_ACROSS, Cylinder

BOLTS = ("pin", "screw")
"""Kinds of cylinder that are put in and turned: a pin from either end, a screw from its head's."""
WRENCH = 2.5
"""Radius of a wrench's room over the diameter of its bolt [-]; common practice, no source."""
SHORTER = 0.5
"""How far an envelope keeps from what its bolt clamps [mm]."""
LEAST_VOLUME = 5.0
"""Common volume below which an envelope only touches [mm^3]."""


def cannot_be_put_together(
    standing: tuple[Standing, ...], frames: Mapping[str, Frame], kept: Kept | None = None
) -> tuple[str, ...]:
    """Sentences on each bolt that cannot be put in or turned, all at the places given.

    Args:
        standing: every solid.
        frames: axes of each part.
        kept: what was measured before.

    Returns:
        The sentences.
    """
    kept = kept or Kept()
    solid = [
        _Solid(one, one.placed(frames[one.part]), frames[one.part], kept)
        for one in standing
        if one.material
    ]
    return tuple(
        sentence
        for one in standing
        if one.cylinder is not None and one.cylinder.kind in BOLTS
        for sentence in _of_bolt(one, solid, frames, kept)
    )


@dataclass(frozen=True)
class _Solid:
    """A made solid at its place."""

    standing: Standing
    shape: Any
    place: Frame
    kept: Kept

    @cached_property
    def box(self) -> tuple[tuple[float, float], ...]:
        """The kernel's box about it, least and largest x, y and z [mm]."""
        told = self.standing.told(self.place)
        return self.kept.value(lambda: box_of(self.shape), "box", *told)


def _of_bolt(
    bolt: Standing, solids: Sequence[_Solid], frames: Mapping[str, Frame], kept: Kept
) -> Iterator[str]:
    assert bolt.cylinder is not None
    others = [one for one in solids if one.standing.instance != bolt.instance]
    own = [one for one in solids if one.standing.instance == bolt.instance]
    here = twin(frames[bolt.part]) if bolt.side else frames[bolt.part]
    ways = [_blocked(way, here, [*others, *own], kept) for way in _ways(bolt)]
    if all(ways):
        said = " and ".join(dict.fromkeys(ways))
        yield f"{bolt.called} cannot be put in: {said} {'is' if said == ways[0] else 'are'} in the way"
    for said, disc in zip(("head", "nut"), _discs(bolt), strict=False):
        by = _blocked(disc, here, others, kept)
        if by:
            yield f"a wrench on the {said} of {bolt.called} cannot turn: {by} is in the way"


def _ends(bolt: Standing) -> list[tuple[np.ndarray, np.ndarray]]:
    """The ends that a bolt goes in by and the ways out there, in the axes of the solid as it stands."""
    cylinder = bolt.cylinder
    assert cylinder is not None
    flip = np.array([1.0, 1.0, -1.0]) if bolt.side else np.ones(3)
    low, high = cylinder.start * flip, cylinder.end * flip
    way = (high - low) / np.linalg.norm(high - low)
    return [(high, way)] if cylinder.kind == "screw" else [(high, way), (low, -way)]


def _ways(bolt: Standing) -> list[Cylinder]:
    assert bolt.cylinder is not None
    d = bolt.cylinder.diameter
    long = float(np.linalg.norm(bolt.cylinder.end - bolt.cylinder.start)) + d
    return [
        Cylinder("way", "way", at + SHORTER * way, at + long * way, HEAD_ACROSS * d)
        for at, way in _ends(bolt)
    ]


def _discs(bolt: Standing) -> list[Cylinder]:
    assert bolt.cylinder is not None
    d = bolt.cylinder.diameter
    return [
        Cylinder("wrench", "wrench", at + SHORTER * way, at + 0.7 * d * way, 2.0 * WRENCH * d)
        for at, way in _ends(bolt)
    ]


def _blocked(envelope: Cylinder, here: Frame, others: Sequence[_Solid], kept: Kept) -> str:
    """What an envelope cuts into; empty where it is free."""
    shape: Any = solid_of(envelope).moved(location(here))
    own = [envelope.start.tolist(), envelope.end.tolist(), float(envelope.diameter)]
    own += [here.origin.tolist(), here.axes.tolist()]

    def common(one: _Solid) -> float:
        return float(shape.intersect(one.shape).Volume())

    box = kept.value(lambda: box_of(shape), "box", "envelope", own)
    for one in others:
        near = all(a[0] < b[1] and b[0] < a[1] for a, b in zip(box, one.box, strict=True))
        told = one.standing.told(one.place)
        if near and kept.value(partial(common, one), "room", own, *told) > LEAST_VOLUME:
            return one.standing.called
    return ""
