"""What a set-up is made of: steps in order, each one tool, with where it goes and how deep."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from parts.making.bench.frames import Frame

To = Literal[
    "", "full diameter", "point", "thread", "floor", "through", "into waste", "end face", "shoulder"
]


@dataclass(frozen=True)
class Spot:
    """Where a tool goes: a label, and the place in the axes of the part [mm]."""

    label: str
    place: tuple[float, float, float]


@dataclass(frozen=True)
class Step:
    """One tool in one set-up.

    Attributes:
        kind: what is done, as `drill`.
        makes: what it makes, as `peg, M12x1.75-6H`.
        tool: the tool's name, with its size.
        diameter: that of the tool, or of the work on a lathe [mm]; 0 where it says nothing.
        top, bottom: heights of the work along the set-up's axis [mm], in the part's axes; the drill's full diameter.
        to: what `bottom` is measured to; `into waste`: past the far side, into what a later set-up cuts away.
        spots: where it goes, in order; empty where the picture shows it.
        faces: indices of the solid's faces that it leaves finished.
        rpm, feed: turns a minute, and feed [mm/min]; 0 where a hand sets them.
        note: what else to know.
        numbers: rows of the inspection sheet that it is measured by.
    """

    kind: str
    makes: str
    tool: str
    diameter: float
    top: float
    bottom: float
    to: To = ""
    spots: tuple[Spot, ...] = ()
    faces: tuple[int, ...] = ()
    rpm: float = 0.0
    feed: float = 0.0
    note: str = ""
    numbers: tuple[int, ...] = ()


@dataclass(frozen=True)
class SetUp:
    """One clamping.

    Attributes:
        machine: `mill`, `lathe`, `saw`, `waterjet` or `laser`, `press`, `bench`.
        holding: in words, what holds the part and by what.
        frame: axes as the spindle sees the part: X to the right, Y up, Z out of the paper; of a lathe Z to the
            right, X up.
        zero: place of the zero of all three axes, in the part's axes [mm].
        words: where each axis is zero.
        steps: in order.
        low, high: corners of the stock as it is when the set-up begins, along `right`, `up` and `toward` [mm].
        tilt: how it is tilted, in words; empty where an axis of the part is upright.
        jaws: the axis along which the jaws of a vice close: 0 of X, 1 of Y, -1 where no vice holds it.
        grip: how much of the stock jaws hold from its foot [mm].
    """

    machine: str
    holding: str
    frame: Frame
    zero: np.ndarray
    words: tuple[str, ...]
    steps: tuple[Step, ...]
    low: np.ndarray
    high: np.ndarray
    tilt: str = ""
    jaws: int = -1
    grip: float = 0.0

    def at(self, place: object) -> np.ndarray:
        """X, Y and Z of a place of the part [mm]."""
        away = np.asarray(place, float) - self.zero
        axes = np.array([self.frame.right, self.frame.up, self.frame.toward])
        return np.asarray(away @ axes.T)

    def z(self, height: float) -> float:
        """Z of a height along the spindle [mm]."""
        return float(height - self.zero @ self.frame.toward)
