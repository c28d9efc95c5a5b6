"""A rear end as a build file states it, put together from its hardpoints."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np

from parts.standards.materials.materials import material
from parts.vehicle.file.places import direction_of
from parts.vehicle.file.rear_entries import RearEndEntry
from parts.vehicle.loads.vehicle import Vehicle
from parts.vehicle.rear_end.damper import Damper
from parts.vehicle.rear_end.linkage import LATERAL, Linkage
from parts.vehicle.rear_end.rear import LinkRange, Rear, no_range
from parts.vehicle.rear_end.suspension import Bar, RearEnd


def rear_end(
    entry: RearEndEntry,
    points: Mapping[str, np.ndarray],
    vehicle: Vehicle | None,
    link_range: LinkRange = no_range,
    within: Callable[[str], float] = lambda _: 0.0,
) -> Rear:
    """Put a rear end together.

    Args:
        entry: as the file states it.
        points: places of the hardpoints [mm].
        vehicle: masses, for the positions at rest.
        link_range: gives the range of the link; see `Rear`.
        within: gives the tolerance of a hardpoint [mm].

    Returns:
        The rear end, not solved yet.

    Raises:
        LinkageError: it cannot be put together.
    """
    place = points.__getitem__

    def way(direction: Any, otherwise: Any) -> Any:
        return otherwise if direction is None else direction_of(direction, points)

    along = way(entry.bar_along, LATERAL)
    linkage = Linkage(
        pivot=place(entry.pivot),
        axle=place(entry.axle),
        pick_up=place(entry.pick_up),
        arm_end=place(entry.arm_end),
        bar=place(entry.bar_line),
        travel=entry.travel,
        drawn_at=entry.drawn_at,
        bar_axis=along,
        pick_up_pin=way(entry.pick_up_pin, LATERAL),
        arm_pin=way(entry.arm_pin, along),
    )
    G = material(entry.bar.material.name, thickness_mm=entry.bar.diameter).G
    bar = Bar(entry.bar.diameter, entry.bar.length, G, entry.bar.bore)
    one = entry.damper
    damper = None if one is None else Damper(place(one.on_frame), place(one.on_swing_arm))
    known = {
        "pivot": within(entry.pivot),
        "axle": within(entry.axle),
        "pick_up": within(entry.pick_up),
        "arm_end": within(entry.arm_end),
        "bar": within(entry.bar_line),
    }
    return Rear(entry, RearEnd(linkage, bar, entry.preload), vehicle, damper, link_range, known)
