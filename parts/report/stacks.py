"""Bought-in hardware that a page shows in its part, and that a build does not look for what it strikes: it lies within
the part, or ends in a part that is fitted there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.assembled import Assembled
from parts.features.eye.eye import Eye
from parts.features.fork.fork import Ears
from parts.features.pins.pin import TappedHole
from parts.features.pins.tab_hole import InTab, TabHole
from parts.vehicle.space.cylinders import Cylinder, pin, screw

if TYPE_CHECKING:
    from parts.core.part import Part

X, Y, Z = np.eye(3)


def within(part: Part) -> Iterator[Cylinder]:
    """The hardware of a part that `envelopes` leaves out, in the part's axes."""
    if isinstance(part, Assembled):
        for feature, site in part.features():
            if isinstance(feature, TabHole):
                yield from _in_tab(feature, site)
    end = getattr(part, "end", None)
    ears = getattr(end, "ears", None)
    if isinstance(ears, Ears) and not isinstance(end, Eye):
        yield from pin(
            "end pin", part.points()["end"], Z, float(ears.pin.diameter), float(ears.height)
        )
    # What a family brings is loaded where the part may be of it: a make of one part loads no other.
    own = {
        "bearing cup": _in_cup, "footpeg": _in_peg, "foot lever": _in_hub, "sheet bracket": _in_base,
        "spacer": _through_spacer,
    }.get(part.family)  # fmt: skip
    if own is not None:
        yield from own(part)


def _in_tab(feature: TabHole, site: InTab) -> Iterator[Cylinder]:
    """The pin of a tab, with what it holds beside the tab as far as that is stated."""
    at, across = np.asarray(site.at, float), np.asarray(site.axes, float)[2]
    thick, beside = float(site.thickness), float(site.beside or 0.0)
    name, d = f"pin, {site.name}", float(feature.pin.diameter)
    if isinstance(feature.pin.hole, TappedHole):
        yield from screw(name, at - thick / 2.0 * across, at + (thick / 2.0 + beside) * across, d)
    else:
        yield from pin(name, at + beside / 2.0 * across, across, d, thick + beside)


def _in_cup(part: Any) -> Iterator[Cylinder]:
    """The bearings of a cup, which come out at its mouth."""
    seat, mouth = part.seat, float(part.top) * X
    deep = mouth + seat.count * float(seat.bearing.width) * X
    name = "bearing" if seat.count == 1 else "bearings"
    yield Cylinder(name, "screw", deep, mouth, float(seat.bearing.outside))


def _in_peg(part: Any) -> Iterator[Cylinder]:
    from parts.families.footpeg.bolted import BoltedShank
    from parts.families.footpeg.tongue import Tongue

    shank = part.shank
    if isinstance(shank, BoltedShank):
        [(_, site)] = part.features()
        d, floor = float(shank.thread.major), float(site.body.floor)
        yield from screw("peg bolt", -float(shank.engagement) * X, floor * X, d, shank.head / d)
    elif isinstance(shank, Tongue):
        own = shank.eye.pin
        grip = float(shank.eye.width) + 2.0 * float(own.gap + own.ear)
        yield from pin("peg pin", -float(shank.reach) * X, Y, float(own.diameter), grip)


def _through_spacer(part: Any) -> Iterator[Cylinder]:
    long = float(part.length)
    yield from pin("bolt", long / 2.0 * X, X, float(part.bolt.thread.major), long)


def _in_hub(part: Any) -> Iterator[Cylinder]:
    from parts.families.foot_lever.bearings import OnBearings
    from parts.families.foot_lever.bush import OnBush

    on = part.hub.pivot
    if isinstance(on, OnBearings):
        half, wide = float(on.spacer) / 2.0, float(on.bearing.width)
        for name, side in (("upper bearing", 1.0), ("lower bearing", -1.0)):
            low, high = side * half * Z, side * (half + wide) * Z
            yield Cylinder(name, "bearing", low, high, float(on.bearing.outside))
    elif isinstance(on, OnBush):
        half = float(on.length) / 2.0
        yield Cylinder("bush", "bearing", -half * Z, half * Z, float(on.outside))


def _in_base(part: Any) -> Iterator[Cylinder]:
    base, t = part.base, float(part.thickness)
    d, under = float(base.bolts.diameter), float(base.onto or 0.0)
    for k, (x, y) in enumerate(base.places(), 1):
        at = np.array([float(x), float(y), 0.0])
        if base.into is None:
            yield from pin(f"base bolt {k}", at + (t - under) / 2.0 * Z, Z, d, t + under)
        else:
            yield from screw(f"base bolt {k}", at - (float(base.into.sheet) + d) * Z, at + t * Z, d)
