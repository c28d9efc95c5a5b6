"""Where something stands on a plate, and what its plate says of it there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.feature import Site
from parts.core.loads import LoadCase
from parts.families.foot_bracket.plate import Plate


def _nothing(_: LoadCase) -> tuple[Any, Any]:
    return np.zeros(3), np.zeros(3)


@dataclass(frozen=True)
class OnPlate(Site):
    """A peg, a pivot, a post or a mount on a plate.

    `sign` is +1 on the right-hand bracket, -1 on the left-hand one. `felt` gives force [N] and moment [N*mm] at its
    root under a load case, as on the right-hand bracket.
    """

    plate: Plate | Any = None
    sign: float = 1.0
    felt: Callable[[LoadCase], tuple[Any, Any]] = _nothing
