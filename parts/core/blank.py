"""What a part says of its flat blank: outline, holes, bends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from parts.strength.section.figures import circle
from parts.strength.section.outline import Outline


@dataclass(frozen=True)
class BlankHole:
    """A round hole of a blank.

    `diameter` is what it ends at before it is threaded (a tapped hole's minor diameter) or pressed;
    `after` says what follows the cutting (`reamed H7`, `tapped M8`), empty where it is cut to size; `wide`
    is its diameter at the middle of the finished part's thickness where pressing changes it, `profile` what it is
    broached to.
    """

    name: str
    centre: tuple[float, float]
    diameter: float
    after: str = ""
    wide: float | None = None
    profile: Outline | None = None

    def circle(self, diameter: float | None = None) -> Outline:
        """The hole as a figure, of its own diameter where none is given [mm]."""
        return circle(self.diameter if diameter is None else diameter, self.centre)


@dataclass(frozen=True)
class Fold:
    """The middle of a bend on a blank: its ends [mm], and whether the sheet is bent up, toward who reads it."""

    start: tuple[float, float]
    end: tuple[float, float]
    up: bool


@dataclass(frozen=True)
class Blank:
    """A flat blank in its own x and y [mm].

    `outline` is the outer contour, then windows and slots that are cut to size; round holes stand in `holes`.
    The finished part's middle plane through it lies at `origin`, `x` and `y` in the part's axes. `thickness`
    is that of the sheet it is cut from. `pieces` are those of the part that it serves, one blank for each.
    `bends` are notes for the press; `notes` for all else. `folds` are the lines of its bends; of a blank that is bent,
    `bent` is the outline as long as the middle of the bent sheet, whose area is that of the part. `later` is what is
    cut of it once it is a plate, as its middle plane has it: a clamp's slit and its bolts.
    """

    outline: Outline
    thickness: float
    origin: Sequence[float]
    x: Sequence[float]
    y: Sequence[float]
    holes: tuple[BlankHole, ...] = ()
    pieces: tuple[str, ...] = ("part",)
    bends: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    folds: tuple[Fold, ...] = ()
    bent: Outline | None = None
    later: tuple[Outline, ...] = ()

    @property
    def axes(self) -> np.ndarray:
        """Rows: the normal of the blank, its x and its y, in the part's axes."""
        return np.array([np.cross(self.x, self.y), self.x, self.y])

    def finished(self) -> Outline:
        """The figure of the finished part in the middle of its thickness, every hole at its final size: as long as a
        bent part is there."""
        figure = self.outline if self.bent is None else self.bent
        for hole in self.holes:
            figure = figure.minus(hole.profile or hole.circle(hole.wide))
        for one in self.later:
            figure = figure.minus(one)
        return figure
