"""A piece of a part as it is milled."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from parts.core.part import Piece
from parts.making.mill.geometry import (
    MachinedDiameter,
    MachinedHole,
    faces_of,
)


@dataclass(frozen=True)
class Milled:
    """A piece as it is milled: the solid that leaves, its holes and other diameters with a fit, with their callouts."""

    piece: Piece
    holes: tuple[MachinedHole, ...]
    callouts: tuple[str, ...]
    sizes: tuple[MachinedDiameter, ...]
    size_callouts: tuple[str, ...]

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
