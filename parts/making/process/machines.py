"""Which machines a solid needs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.core.drawing import Hole
from parts.making.process.bored import NEAR, bored_faces
from parts.making.process.faces import Solid
from parts.making.process.turned import turning


def machines(solid: Any, holes: Sequence[Hole]) -> frozenset[str]:
    """What makes a solid: `lathe` where it is turned about its middle, `mill` for all that is left.

    Args:
        solid: the piece, a CadQuery shape.
        holes: its holes.

    Returns:
        One of them, or both.
    """
    whole = Solid.of(solid)
    taken: set[int] = set()
    for hole in holes:
        taken |= set(bored_faces(whole, hole, taken, holes).faces)
    lathe = turning(whole, taken, bar=False)
    if lathe is None:
        return frozenset({"mill"})
    left = len(whole.faces) - len(taken) - len(lathe.faces)
    off = [np.asarray(hole.place, float) - lathe.place for hole in holes]
    aside = any(float(np.linalg.norm(np.cross(away, lathe.axis))) > NEAR for away in off)
    return frozenset({"lathe", "mill"} if left or aside else {"lathe"})
