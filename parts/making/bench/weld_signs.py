"""Symbols of welds (ISO 2553, system A; or AWS A2.4) and balloons, at the end of a leader."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from parts.making.bench.ink import Ink, Letters, circle, line, width

LETTERS = 2.5
LEVEL = 3.25
"""Height of the leader's shelf over the foot of a sign [mm]."""
SIDE = 2.6
"""Height of a triangle or a bevel on the reference line [mm]."""
BALLOON = 3.2
"""Radius of a balloon [mm]."""


@dataclass(frozen=True)
class Numbered:
    """A balloon with the number of a piece."""

    number: int

    @property
    def width(self) -> float:
        return 2.0 * BALLOON

    def ink(self, x: float, y: float, hand: float) -> list[Ink]:
        middle = np.array([x + BALLOON, y + LEVEL])
        start = x if hand > 0.0 else x + self.width
        words = Letters(
            str(self.number), middle - np.array([0.0, LETTERS / 2.0]), LETTERS, 0.0, "middle"
        )
        return [
            line("dimension", (start - hand, y + LEVEL), (start, y + LEVEL)),
            circle("dimension", middle, BALLOON),
            words,
        ]


@dataclass(frozen=True)
class WeldSign:
    """A reference line with its symbol: `kind` as in `parts.core.weldment.Weld`, `size` and `tail` in words.

    By ISO 2553 system A the arrow side is the full line, with a dashed line for the other side where one side is
    welded; by AWS A2.4 the arrow side is below the one line.
    """

    kind: str
    size: str
    tail: str = ""
    both: bool = False
    all_round: bool = False
    american: bool = False

    @property
    def width(self) -> float:
        tail = width(self.tail, LETTERS) + 4.0 if self.tail else 0.0
        return 4.0 + width(self.size, LETTERS) + 8.0 + tail

    def ink(self, x: float, y: float, hand: float) -> list[Ink]:
        level, wide = y + LEVEL, self.width
        tail = width(self.tail, LETTERS) + 4.0 if self.tail else 0.0
        # The symbol stands between size and tail, read from left to right on either hand.
        low = x + (tail if hand < 0.0 else 0.0)
        high = low + wide - tail
        start = x if hand > 0.0 else x + wide
        found: list[Ink] = [
            line("dimension", (min(low, start - hand), level), (max(high, start - hand), level))
        ]
        if not self.american and not self.both:
            found.append(line("hidden", (low + 1.0, level - 1.0), (high - 1.0, level - 1.0)))
        if self.all_round:
            found.append(circle("dimension", np.array([start - hand, level]), 1.2))
        up = -1.0 if self.american else 1.0
        foot = low + 4.0 + width(self.size, LETTERS)
        for side in (up, -up) if self.both else (up,):
            found += self._symbol(foot + 1.0, level, side)
            beside = level + 1.0 if side > 0.0 else level - 1.6 - LETTERS
            found.append(Letters(self.size, np.array([low + 3.0, beside]), LETTERS))
        if self.tail:
            end, way = (high, 1.0) if hand > 0.0 else (low, -1.0)
            found += [
                line("dimension", (end, level), (end + way * 2.0, level + k * 2.0))
                for k in (1.0, -1.0)
            ]
            at = np.array([end + way * 3.0, level - LETTERS / 2.0])
            found.append(Letters(self.tail, at, LETTERS, 0.0, "left" if way > 0.0 else "right"))
        return found

    def _symbol(self, x: float, level: float, side: float) -> list[Ink]:
        top = level + side * SIDE
        upright = line("dimension", (x, level), (x, top))
        if self.kind == "fillet":
            return [upright, line("dimension", (x, top), (x + SIDE, level))]
        if self.kind == "bevel":
            return [upright, line("dimension", (x, level), (x + SIDE, top))]
        return [upright, line("dimension", (x + 1.4, level), (x + 1.4, top))]
