"""The sheet of an arm on a torsion bar: hub, blade and end, in the arm's own axes."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from parts.core.drawing import Datum, Dimension, Drawn, Linear, Marks, View
from parts.families.torsion_arm.hub import Hub
from parts.families.torsion_arm.tapped_end import TappedEnd
from parts.features.arm.blade import Blade
from parts.features.arm.blade_marks import blade_marks
from parts.features.arm.clevis_end import ClevisEnd
from parts.features.arm.square_bores import square_bores
from parts.features.arm.tip import AtTip
from parts.features.bar_bore.in_hub import InHub
from parts.features.eye.eye import Eye

X, Y, Z = np.eye(3)


def arm_drawn(
    hub: Hub, in_hub: InHub, blade: Blade, end: Eye | ClevisEnd | TappedEnd, at_tip: AtTip
) -> Drawn:
    """The sheet of an arm.

    Args:
        hub: its hub.
        in_hub: where the bore of the hub stands.
        blade: its blade.
        end: its end.
        at_tip: where the end stands.

    Returns:
        The sheet: the arm seen along the bar, and cut along its middle.
    """
    place = np.asarray(at_tip.at, float)
    block = isinstance(end, ClevisEnd)
    half = float(hub.width) / 2.0
    marks = hub.marks(in_hub) + blade_marks(blade, float(end.ahead), half, block=block)
    marks += end.marks(at_tip).moved(place)
    marks += Marks(tuple(_between(hub, float(end.height), place)))
    marks = square_bores(marks, half, float(hub.diameter))
    views = [View("front"), View("top", cut=(0.0, 0.0, 0.0))]
    views += [View("right")] if end.seen_from_its_end else []
    views += [View("bottom")] if hub.bore.seen_from_below else []
    return Drawn(
        right=X,
        up=Y,
        views=tuple(views),
        marks=marks,
        datum=Datum((0.0, 0.0, 0.0), "axis of the hub"),
    )


def _between(hub: Hub, height: float, place: np.ndarray) -> Iterator[Dimension]:
    """How the end lies to the hub along the bar: from face to face."""
    low, high = float(hub.width) / 2.0, place[2] + height / 2.0
    if abs(high - low) > 1e-6:
        way = Z * np.sign(high - low)
        start, stop = (0.0, 0.0, low), (place[0], 0.0, high)
        yield Linear(
            "face of the hub to face of the end", start, stop, way, abs(high - low), view="top"
        )
