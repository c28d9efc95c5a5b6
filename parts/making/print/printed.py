"""A piece of a part as it is printed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from parts.core.part import Piece
from parts.making.print.engrave import Engraved
from parts.making.print.holes import PrintedHole
from parts.making.print.orient import Stand
from parts.making.print.split import Split


@dataclass(frozen=True)
class Print:
    """One print: its name, the engraved solid before it is enlarged for shrinkage, its mesh as it is sent
    to the printer, and what was done at its foot."""

    name: str
    marked: Engraved
    points: np.ndarray
    facets: np.ndarray
    foot: str

    @property
    def volume(self) -> float:
        """Of the mesh [mm^3]."""
        a, b, c = np.moveaxis(self.points[self.facets], 1, 0)
        return float(np.sum(a * np.cross(b, c)) / 6.0)

    @property
    def size(self) -> np.ndarray:
        return np.asarray(self.points.max(axis=0) - self.points.min(axis=0))


@dataclass(frozen=True)
class Printed:
    """A piece of a part as it is printed: how it stands, its holes, how it was split, and the prints."""

    piece: Piece
    stand: Stand
    turn: float | None
    holes: tuple[PrintedHole, ...]
    split: Split
    prints: tuple[Print, ...]
