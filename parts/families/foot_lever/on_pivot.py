"""Where the hub of a lever stands on its pivot."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.feature import Site
from parts.core.loads import LoadCase, resultant


def _nothing(_: LoadCase) -> float:
    return 0.0


@dataclass(frozen=True)
class OnPivot(Site):
    """The hub of a lever; what acts on it is all that acts on the lever.

    Attributes:
        diameter: outside of the hub [mm].
        torque: the greatest moment about the pivot that one of its arms brings in, under a load case [N*mm].
        narrowest: width of the narrowest arm at its rim [mm].
        beside: the most that return spring and stop add to the pull on the hub under a load case, whatever its way [N].
    """

    diameter: Any = np.nan
    torque: Any = None
    narrowest: Any = np.nan
    beside: Callable[[LoadCase], Any] = _nothing

    def felt(self, case: LoadCase) -> tuple[Any, Any]:
        """Force [N] and moment [N*mm] on the pivot, about the middle of the hub."""
        force, moment = resultant(self.actions(case), np.zeros(3))
        size = np.hypot(force[..., 0], force[..., 1])
        share = 1.0 + np.asarray(self.beside(case), float) / np.where(size > 0.0, size, 1.0)
        return force * np.stack([share, share, np.ones_like(share)], axis=-1), moment
