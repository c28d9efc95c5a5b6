"""A piece of a part as it is milled."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from parts.core.part import Piece
from parts.core.rules import Rule
from parts.making.mill.coating import Bore, Coating
from parts.making.mill.geometry import (
    MachinedDiameter,
    MachinedHole,
    faces_of,
)
from parts.making.mill.setups import SetUps
from parts.making.stock import Cut


@dataclass(frozen=True)
class Milled:
    """A piece as it is milled: the solid that leaves, its holes and other diameters with a fit with their
    callouts, the shop's rules, set-ups, stock that holds it, and what its finish does to its bores."""

    piece: Piece
    holes: tuple[MachinedHole, ...]
    callouts: tuple[str, ...]
    sizes: tuple[MachinedDiameter, ...]
    size_callouts: tuple[str, ...]
    rules: tuple[Rule, ...]
    setups: SetUps
    size: tuple[float, float, float]
    volume: float
    cuts: tuple[Cut, ...]
    coating: Coating | None
    bores: tuple[Bore, ...]

    @property
    def broken(self) -> list[Rule]:
        return [rule for rule in self.rules if not rule.ok]

    def named(self) -> list[tuple[Any, str]]:
        """Faces of the solid and the callouts that they carry."""
        solid = self.piece.solid.val()
        return [
            (face, words)
            for one, words in zip(
                (*self.holes, *self.sizes), (*self.callouts, *self.size_callouts), strict=True
            )
            for face in faces_of(solid, one)
        ]
