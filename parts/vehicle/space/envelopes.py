"""Bought-in hardware as plain cylinders, in the axes of the part that it belongs to.

Rod ends are an eye and a shank, pins a cylinder with room for a head and a nut, bearings a ring without its hole,
a torsion bar a rod. They show where hardware stands and what it would strike; nobody makes anything from them.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.features.bar_bore.split_clamp import SplitClamp
from parts.features.eye.eye import Eye
from parts.features.fork.fork import Ears
from parts.vehicle.space.clamp_envelopes import pinch_bolts
from parts.vehicle.space.cylinders import Cylinder, pin

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.families.links.rod_end import RodEndEnd
    from parts.families.torsion_arm.torsion_bar import TorsionBar

X, Z = np.array([1.0, 0.0, 0.0]), np.array([0.0, 0.0, 1.0])


def envelopes(part: Part) -> tuple[Cylinder, ...]:
    """The bought-in hardware of a part.

    Args:
        part: any part.

    Returns:
        Cylinders in the part's axes; none for a family whose hardware has no envelope here.
    """
    found = [*_link_ends(part)]
    points = part.points()
    ears = getattr(part, "ears", None)
    if isinstance(ears, Ears):
        found += pin("pin", np.zeros(3), Z, float(ears.pin.diameter), float(ears.height))
    eye = getattr(part, "end", None)
    if isinstance(eye, Eye):
        grip = float(eye.width) + 2.0 * float(eye.pin.gap + eye.pin.ear)
        found += pin("end pin", points["end"], Z, float(eye.pin.diameter), grip)
    hub = getattr(part, "hub", None)
    clamp = getattr(hub, "bore", None)
    if hub is not None and isinstance(clamp, SplitClamp):
        found += pinch_bolts(clamp, np.zeros(3), float(hub.width))
    # What a family brings is loaded where the part may be of it: a make of one part loads no other.
    bar = getattr(part, "bar", None)
    if bar is not None:
        from parts.families.torsion_arm.torsion_bar import TorsionBar

        if isinstance(bar, TorsionBar):
            found.append(_bar(bar, float(getattr(part, "hub").width)))  # noqa: B009
    if hasattr(part, "mounts"):
        from parts.families.foot_bracket.family import FootControlBracket
        from parts.families.mount_plate.family import MountPlate
        from parts.vehicle.space.bracket_envelopes import bracket_envelopes, mount_plate_envelopes

        if isinstance(part, FootControlBracket):
            found += bracket_envelopes(part)
        elif isinstance(part, MountPlate):
            found += mount_plate_envelopes(part)
    if hasattr(part, "rod") and hasattr(part, "toe"):
        from parts.families.foot_lever.family import FootLever
        from parts.vehicle.space.lever_envelopes import lever_envelopes

        if isinstance(part, FootLever):
            found += lever_envelopes(part)
    return tuple(found)


def _link_ends(part: Part) -> Iterator[Cylinder]:
    """Rod ends and pins at the ends of a link."""
    points = part.points()
    for name, at in (("end_a", "end a"), ("end_b", "end b")):
        end = getattr(part, name, None)
        if end is None:
            continue
        from parts.families.links.clevis_end import ClevisEnd
        from parts.families.links.rod_end import RodEndEnd

        if isinstance(end, RodEndEnd):
            place = np.asarray(points[at], float)
            yield from _rod_end(at, end, place, -np.sign(place[0]) * X)
        elif isinstance(end, ClevisEnd):
            yield from pin(
                f"{at} pin", points[at], Z, float(end.ears.pin.diameter), float(end.ears.height)
            )


def _rod_end(name: str, end: RodEndEnd, place: np.ndarray, inwards: Any) -> Iterator[Cylinder]:
    body = end.rod_end
    half = body.head_width / 2.0 * Z
    yield Cylinder(f"{name} eye", "eye", place - half, place + half, body.head_diameter)
    tip = place + float(end.reach) * inwards
    start = place + body.head_diameter / 2.0 * inwards
    yield Cylinder(f"{name} shank", "shank", start, tip, float(body.thread.major))


def _bar(bar: TorsionBar, hub: float) -> Cylinder:
    start = hub / 2.0 * Z
    return Cylinder(
        "torsion bar", "bar", start, start + float(bar.active_length) * Z, float(bar.diameter)
    )
