"""Levels along a direction, joined by dimensions, and what a sheet may leave open."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np

NEAR = 1e-3
"""Levels [mm] and directions [-] that differ by less are one."""


@dataclass(frozen=True)
class Open:
    """Something that a sheet leaves open or says twice: what it is, where it is seen [mm], and what is missing."""

    what: str
    place: tuple[float, float, float]
    missing: str

    def words(self) -> str:
        """One sentence for a message."""
        where = ", ".join(f"{v + 0.0:.2f}" for v in np.round(self.place, 2))
        return f"{self.what} at {where}: {self.missing}"


def place_of(at: Any) -> tuple[float, float, float]:
    x, y, z = (float(v) for v in at)
    return x, y, z


@dataclass
class Levels:
    """The levels along one direction: those that are known, and the joints between them."""

    way: np.ndarray
    joints: list[tuple[float, float]] = field(default_factory=list)
    centres: set[float] = field(default_factory=set)
    known: set[float] = field(default_factory=set)

    def level(self, place: Any) -> float:
        return rounded(float(np.asarray(place, float) @ self.way))

    def spread(self) -> None:
        """Follow the joints from what is known, also the halves of what lies alike about a centre."""
        grown = True
        while grown:
            before = len(self.known)
            for a, b in self.joints:
                if a in self.known or b in self.known:
                    self.known |= {a, b}
                middle = rounded((a + b) / 2.0)
                if middle in self.known and middle in self.centres:
                    self.known |= {a, b}
            grown = len(self.known) > before


def rounded(level: float) -> float:
    """A level by which it is told from others. Noise goes first: a half of a thousandth would fall to either side."""
    return float(np.round(np.round(level, 6), 3)) + 0.0
