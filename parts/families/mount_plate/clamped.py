"""A clamp's ears at the edge of a plate: where the plate leaves room for them, and what is cut of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

import numpy as np

from parts.features.bar_bore.clamp_bore import ClampBore
from parts.features.bar_bore.split_clamp import SPOT_DEPTH
from parts.features.plate.outline import Ears
from parts.features.plate.section.layers import Prism
from parts.strength.section.figures import circle
from parts.strength.section.outline import Loop

OVER = 1.0
"""How far a cut runs past an open end [mm]."""
SLICES = 8
"""Prisms that stand for a round hole along the plate: their area is that of the hole within 1 %."""


def turn_of(bore: ClampBore) -> Any:
    """The way of its ears in the plate [rad]: along -x, turned by its clocking."""
    return np.pi + bore.clocking


def free_of(bore: ClampBore, at: Any, pad: Any, others: Iterable[tuple[Any, Any]]) -> Any:
    """How far the outline follows the pad on either side of the slit, at the least [rad].

    Args:
        bore: the clamp.
        at: where it is [mm].
        pad: radius of its pad [mm].
        others: place and radius of the pad of every other point of the plate [mm].
    """
    least: Any = np.pi
    for place, radius in others:
        x, y = np.subtract(place[0], at[0]), np.subtract(place[1], at[1])
        away = np.abs((np.arctan2(y, x) - turn_of(bore) + np.pi) % (2.0 * np.pi) - np.pi)
        # The straight side that touches both pads leaves this one square to itself.
        touch = np.arccos(np.clip((pad - radius) / np.hypot(x, y), -1.0, 1.0))
        least = np.minimum(least, away - touch)
    return least


def ears_of(bore: ClampBore) -> Ears:
    """They as the outline of a plate has them."""
    return Ears(float(turn_of(bore)), float(bore.face_at), float(bore.reach))


class _Cuts:
    """The cuts of a clamp at its place: figures in the plane of the plate, u the way of its ears, v across it."""

    def __init__(self, bore: ClampBore, at: tuple[Any, Any]) -> None:
        turn = float(turn_of(bore))
        c, s = np.cos(turn), np.sin(turn)
        self.bore, self.place = bore, np.array([float(at[0]), float(at[1])])
        self.axes = np.array([[c, s], [-s, c]])

    def figure(self, *corners: tuple[float, float]) -> Loop:
        return Loop(np.array(corners) @ self.axes + self.place, np.zeros(len(corners)))

    def box(self, low: float, high: float, bottom: float, top: float) -> Loop:
        return self.figure((low, bottom), (high, bottom), (high, top), (low, top))

    def through(self) -> Iterator[Loop]:
        """Slit and relief."""
        bore, half = self.bore, float(self.bore.slit) / 2.0
        yield self.box(0.0, float(bore.reach) + OVER, -half, half)
        if bore.relief > 0.0:
            x, y = self.place - float(bore.relief_at) * self.axes[0]
            yield circle(float(bore.relief), (float(x), float(y))).loops[0]


def parted(bore: ClampBore, at: tuple[Any, Any]) -> tuple[Loop, ...]:
    """Slit, relief and the pinch bolt in the middle, as the middle of the plate has them: none meets another, nor the
    bore."""
    cuts, half, r = _Cuts(bore, at), float(bore.slit) / 2.0, float(bore.bore) / 2.0
    turn, end = np.arcsin(half / r), float(bore.reach)
    mouth = r * np.cos(turn)
    slit = cuts.figure((end, -half), (end, half), (mouth, half), (mouth, -half))
    found = [Loop(slit.points, np.array([0.0, 0.0, -np.tan(turn / 2.0), 0.0]))]
    if bore.relief > 0.0:
        q, far = float(bore.relief) / 2.0, float(bore.relief_at)
        u = (far**2 + r**2 - q**2) / (2.0 * far)
        v = np.sqrt(r**2 - u**2)
        beyond, within = np.pi - np.arctan2(v, u - far), np.arctan2(v, u)
        moon = cuts.figure((-u, v), (-u, -v))
        round_ = np.array([np.tan((np.pi - beyond) / 2.0), -np.tan(within / 2.0)])
        found.append(Loop(moon.points, round_))
    if bore.count % 2:
        off, face, of = float(bore.offset), float(bore.face_at), bore.bolt.thread
        clear, head, seat = bore.hole / 2.0, bore.head / 2.0, face - SPOT_DEPTH
        tapped, sunk = float(of.minor_internal) / 2.0, float(of.major) / 2.0
        deep = sunk - tapped - face
        found += [
            cuts.box(off - clear, off + clear, half, seat),
            cuts.box(off - head, off + head, seat, face),
            cuts.figure((off - sunk, -face), (off + sunk, -face), (off + tapped, deep), (off + tapped, -half),
                (off - tapped, -half), (off - tapped, deep)),
        ]  # fmt: skip
    return tuple(found)


def opened(bore: ClampBore, at: tuple[Any, Any], width: Any) -> tuple[Prism, ...]:
    """Slit, relief and pinch bolts of a clamp as prisms; its plate lies from 0 to `width` [mm]."""
    cuts, wide = _Cuts(bore, at), float(width)
    found = [Prism(one, -OVER, wide + OVER, False) for one in cuts.through()]
    ear = float(bore.face_at) + OVER
    off, apart = float(bore.offset), float(bore.pitch(wide))
    for i in range(bore.count):
        z = wide / 2.0 + (i - (bore.count - 1) / 2.0) * apart
        tapped = float(bore.bolt.thread.minor_internal)
        for d, low, high in ((bore.hole, 0.0, ear), (tapped, -ear, 0.0)):
            found += [
                Prism(cuts.box(off - b, off + b, low, high), z + bottom, z + top, False)
                for b, bottom, top in _slices(float(d))
            ]
    return tuple(found)


def _slices(d: float) -> Iterator[tuple[float, float, float]]:
    """A circle as rectangles: half breadth, bottom and top of each, of the area that the circle has there [mm]."""
    turn = np.linspace(-np.pi / 2.0, np.pi / 2.0, SLICES + 1)
    z, area = d / 2.0 * np.sin(turn), d**2 / 4.0 * (turn + np.sin(turn) * np.cos(turn))
    for k in range(SLICES):
        yield (area[k + 1] - area[k]) / (2.0 * (z[k + 1] - z[k])), z[k], z[k + 1]
