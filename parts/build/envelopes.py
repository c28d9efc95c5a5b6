"""Bought-in hardware as plain cylinders, in the axes of the part that it belongs to.

Rod ends are an eye and a shank, pins a cylinder with room for a head and a nut, a torsion bar a rod. They show
where hardware stands and what it would strike; nobody makes anything from them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.features.ears import Ears
from parts.features.eye import Eye
from parts.features.linkends import RodEndEnd
from parts.features.torsionbar import TorsionBar

if TYPE_CHECKING:
    from parts.part import Part

HEAD_ACROSS, HEAD_HEIGHT = 1.8, 0.7
"""Head or nut of a bolt over its diameter: across the corners, and height [-]; common practice, no source."""
X, Z = np.array([1.0, 0.0, 0.0]), np.array([0.0, 0.0, 1.0])


@dataclass(frozen=True)
class Cylinder:
    """A cylinder between two places [mm] with its diameter [mm]; `kind` is eye, shank, pin, head or bar."""

    name: str
    kind: str
    start: np.ndarray
    end: np.ndarray
    diameter: float


def envelopes(part: Part) -> tuple[Cylinder, ...]:
    """The bought-in hardware of a part.

    Args:
        part: any part.

    Returns:
        Cylinders in the part's axes; none for a family whose hardware has no envelope here.
    """
    found: list[Cylinder] = []
    points = part.points()
    for name, at in (("end_a", "end a"), ("end_b", "end b")):
        end = getattr(part, name, None)
        if isinstance(end, RodEndEnd):
            place = np.asarray(points[at], float)
            found += _rod_end(at, end, place, -np.sign(place[0]) * X)
    ears = getattr(part, "ears", None)
    if isinstance(ears, Ears):
        found += _pin("pin", np.zeros(3), float(ears.pin.diameter), float(ears.height))
    eye = getattr(part, "end", None)
    if isinstance(eye, Eye):
        grip = float(eye.width) + 2.0 * float(eye.pin.gap + eye.pin.ear)
        found += _pin("end pin", np.asarray(points["end"], float), float(eye.pin.diameter), grip)
    bar = getattr(part, "bar", None)
    if isinstance(bar, TorsionBar):
        found.append(_bar(bar, float(getattr(part, "hub").width)))  # noqa: B009
    return tuple(found)


def _rod_end(name: str, end: RodEndEnd, place: np.ndarray, inwards: Any) -> Iterator[Cylinder]:
    body = end.rod_end
    half = body.head_width / 2.0 * Z
    yield Cylinder(f"{name} eye", "eye", place - half, place + half, body.head_diameter)
    tip = place + float(end.reach) * inwards
    start = place + body.head_diameter / 2.0 * inwards
    yield Cylinder(f"{name} shank", "shank", start, tip, float(body.thread.major))


def _pin(name: str, at: np.ndarray, diameter: float, grip: float) -> Iterator[Cylinder]:
    low, high = at - grip / 2.0 * Z, at + grip / 2.0 * Z
    tall = HEAD_HEIGHT * diameter * Z
    yield Cylinder(name, "pin", low, high, diameter)
    yield Cylinder(f"{name} head", "head", high, high + tall, HEAD_ACROSS * diameter)
    yield Cylinder(f"{name} nut", "head", low - tall, low, HEAD_ACROSS * diameter)


def _bar(bar: TorsionBar, hub: float) -> Cylinder:
    start = hub / 2.0 * Z
    return Cylinder(
        "torsion bar", "bar", start, start + float(bar.active_length) * Z, float(bar.diameter)
    )
