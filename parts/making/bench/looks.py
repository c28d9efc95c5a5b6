"""The views that a sheet asks for, as the kernel gives them at full size."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.drawing import (
    Drawn,
    View,
)
from parts.making.bench.frames import Frame, beside, frame
from parts.making.bench.projection import Seen, look, look_into


@dataclass(frozen=True)
class Around:
    """The circle of a view that a detail shows: its middle and its radius at full size [mm], and the view's index."""

    middle: np.ndarray
    radius: float
    of: int


@dataclass(frozen=True)
class Looked:
    """A view as the kernel gave it, at full size; a detail of another where `around` is given."""

    view: View
    frame: Frame
    seen: Seen
    letter: str
    around: Around | None = None


def looks(drawn: Drawn, solid: Any) -> list[Looked]:
    """Look at a piece from all the sides that its sheet asks for."""
    front = frame(drawn.right, drawn.up)
    found = []
    letters = iter("ABCDEFGH")
    for view in drawn.views:
        axes = beside(front, view.side)
        if view.cut is None:
            found.append(Looked(view, axes, look(solid, axes, hidden=view.hidden), ""))
        else:
            found.append(Looked(view, axes, look_into(solid, axes, view.cut), next(letters)))
    return found
