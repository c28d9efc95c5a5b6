"""Hardware of brackets and mount plates as plain cylinders: bolts, the bearings of a pedal, peg and posts, spacers.

Heights count from the plate's inner face toward the foot or the engine. Frame, engine and cylinder are not modelled: a
bolt goes one diameter into what it is screwed into, and through what is stated of a tab or a lug.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import numpy as np

from parts.families.foot_bracket.cylinder import MasterCylinder
from parts.families.foot_bracket.family import FootControlBracket
from parts.families.foot_bracket.peg import ForkedPeg
from parts.families.foot_bracket.pivot import SeatPivot
from parts.families.foot_bracket.retention import BoltedOn
from parts.families.foot_bracket.screw_post import ScrewPost
from parts.families.foot_bracket.stub import StubPivot
from parts.families.mount_plate.family import MountPlate
from parts.features.bar_bore.split_clamp import SplitClamp
from parts.features.mounts.holes import SunkHole, TappedHole
from parts.features.mounts.mount import Mount
from parts.vehicle.space.clamp_envelopes import pinch_bolts
from parts.vehicle.space.cylinders import (
    HEAD_ACROSS,
    HEAD_HEIGHT,
    SOCKET_ACROSS,
    Cylinder,
    pin,
    screw,
)

BITE = 1.0
"""How far a bolt goes into what is not modelled, in diameters; common practice, no source."""
FOOT = 1.0
"""Thickness of a foot that is bolted on, in diameters of its bolt; common practice, no source."""
CLAMPED_ACROSS = 1.8
"""Washer on the end of a stub over the bore of its bearing [-]; common practice, no source."""
Place = Callable[[Any, Any], np.ndarray]


def bracket_envelopes(part: FootControlBracket) -> Iterator[Cylinder]:
    """The bought-in hardware of a bracket.

    Args:
        part: the bracket.

    Yields:
        Cylinders in the part's axes.
    """
    t = float(part.plate.thickness)

    def place(at: Any, height: Any) -> np.ndarray:
        return np.array([float(at[0]), float(at[1]), part.sign * float(height)])

    for k, mount in enumerate(part.mounts, 1):
        yield from _mount(f"mount {k} bolt", mount, t, place)
    if part.master_cylinder is not None:
        yield from _cylinder(part.master_cylinder, t, place)
    for name in ("pedal", "shift"):
        yield from _pivot(name, getattr(part, name), t, place)
    for name in ("peg", "shift", "spring", "stop", "pedal"):
        one = getattr(part, name)
        if isinstance(one, ForkedPeg):
            yield from _fork(one, t, part.sign, place)
        elif isinstance(one, ScrewPost):
            yield _post(name, one, t, place)


def mount_plate_envelopes(part: MountPlate) -> Iterator[Cylinder]:
    """The bought-in hardware of a mount plate, and the spacers of a pair.

    Args:
        part: the plate; of a pair each bolt goes through both.

    Yields:
        Cylinders in the part's axes.
    """
    t = float(part.plate.thickness)

    def place(at: Any, height: Any) -> np.ndarray:
        return np.array([float(at[0]), float(at[1]), float(height)])

    for k, mount in enumerate(part.mounts, 1):
        name, at = f"mount {k} bolt", mount.at
        if part.pair is None:
            yield from _mount(name, mount, t, place)
            continue
        tab, d = float(mount.onto or 0.0), float(mount.thread.major)
        yield from _through(name, at, d, (-tab, 2.0 * t + float(part.pair.apart) + tab), place)
        yield Cylinder(
            f"mount {k} spacer", "spacer", place(at, t), place(at, t + float(part.pair.apart)),
            float(part.pair.spacer),
        )  # fmt: skip
    anchor = part.anchor
    if anchor is not None and isinstance(anchor.bore, SplitClamp):
        yield from pinch_bolts(anchor.bore, place(anchor.at, t / 2.0), t)
    for k, one in enumerate(part.engine, 1):
        name, at, d = f"engine {k} bolt", one.at, float(one.thread.major)
        face = t + float(one.base())
        if part.pair is not None:
            yield from _through(name, at, d, (0.0, 2.0 * t + float(part.pair.apart)), place)
        elif isinstance(one.hole, TappedHole):
            yield from screw(name, place(at, one.low()), place(at, face + float(one.lug)), d)
        elif one.tapped_lug:
            yield from screw(name, place(at, face + float(one.lug)), place(at, one.low()), d)
        else:
            yield from _through(name, at, d, (float(one.low()), face + float(one.lug)), place)


def _through(
    name: str, at: Any, d: float, between: tuple[float, float], place: Place
) -> Iterator[Cylinder]:
    """A bolt with its nut through what lies between two heights [mm]."""
    low, high = (place(at, height) for height in between)
    way = (high - low) / np.linalg.norm(high - low)
    yield from pin(name, (low + high) / 2.0, way, d, abs(between[1] - between[0]))


def _mount(name: str, mount: Mount, t: float, place: Place) -> Iterator[Cylinder]:
    d, low = float(mount.thread.major), float(mount.low())
    high, hole = float(mount.high(t)), mount.hole
    if isinstance(
        hole, TappedHole
    ):  # the bolt comes from the frame's side, where nothing is modelled
        yield Cylinder(name, "shank", place(mount.at, low - BITE * d), place(mount.at, high), d)
    elif isinstance(hole, SunkHole) and hole.side == "inner":
        yield Cylinder(
            name, "shank", place(mount.at, low + float(hole.depth)), place(mount.at, high), d
        )
    else:
        sunk = float(hole.depth) if isinstance(hole, SunkHole) else 0.0
        socket = isinstance(hole, SunkHole) and hole.type == "counterbored"
        across = SOCKET_ACROSS if socket else HEAD_ACROSS
        under = BITE * d if mount.onto is None else float(mount.onto)
        tip, seat = place(mount.at, low - under), place(mount.at, high - sunk)
        yield from screw(name, tip, seat, d, across)
        if mount.onto is not None:
            end = place(mount.at, low - under - HEAD_HEIGHT * d)
            yield Cylinder(f"{name} nut", "head", end, tip, HEAD_ACROSS * d)


def _cylinder(one: MasterCylinder, t: float, place: Place) -> Iterator[Cylinder]:
    """The two bolts of the cylinder's foot, from outside through the foot and into or through the plate."""
    d = float(one.thread.major)
    for k, hole in enumerate(one.holes(), 1):
        seat = place(hole.at, float(t + one.base()) + FOOT * d)
        yield from screw(f"master cylinder bolt {k}", place(hole.at, hole.low()), seat, d)


def _pivot(name: str, one: Any, t: float, place: Place) -> Iterator[Cylinder]:
    if isinstance(one, StubPivot):
        yield from _stub(name, one, t, place)
    elif isinstance(one, SeatPivot):
        face = t + float(one.base())
        floor = face - float(one.depth)
        high = floor + one.count * float(one.bearing.width)
        yield Cylinder(
            f"{name} bearing", "bearing", place(one.at, floor), place(one.at, high),
            float(one.bearing.outside),
        )  # fmt: skip


def _stub(name: str, one: StubPivot, t: float, place: Place) -> Iterator[Cylinder]:
    """Both bearings on the stub, the needle thrust bearing below them, and what keeps them on."""
    wide, outside = float(one.bearing.width), float(one.bearing.outside)
    face = t + float(one.base())
    foot = face + float(one.rise)
    top = foot + float(one.stack)
    if one.thrust is not None:
        yield Cylinder(
            f"{name} thrust bearing", "bearing", place(one.at, face),
            place(one.at, face + float(one.thrust.stack())), float(one.thrust.outside),
        )  # fmt: skip
    for k, low in enumerate((foot, top - wide), 1):
        yield Cylinder(
            f"{name} bearing {k}", "bearing", place(one.at, low), place(one.at, low + wide), outside
        )
    if isinstance(one.retention, BoltedOn):
        d = float(one.retention.thread.major)
        yield from screw(
            f"{name} bolt", place(one.at, top - float(one.retention.depth)), place(one.at, top), d,
            CLAMPED_ACROSS * float(one.bearing.bore) / d,
        )  # fmt: skip


def _post(name: str, one: ScrewPost, t: float, place: Place) -> Cylinder:
    """What is clamped on a boss, as thick as its shoulder, up to where the load acts."""
    low, high = place(one.at, t + float(one.base())), place(one.at, t + float(one.height))
    return Cylinder(name, "post", low, high, float(one.shoulder))


def _fork(one: ForkedPeg, t: float, sign: float, place: Place) -> Iterator[Cylinder]:
    """The pin that the peg folds about."""
    along = np.array([np.cos(one.angle), np.sin(one.angle), 0.0])
    middle = place(one.at, t + float(one.ears.back))
    yield from pin("peg pin", middle, along, float(one.ears.pin.diameter), float(one.ears.height))
