"""Where the hub of a lever stands on its pivot."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.feature import Site
from parts.core.loads import LoadCase, resultant

if TYPE_CHECKING:
    pass


@dataclass(frozen=True)
class OnPivot(Site):
    """The hub of a lever; what acts on it is all that acts on the lever.

    Attributes:
        diameter: outside of the hub [mm].
        torque: the greatest moment about the pivot that one of its arms brings in, under a load case [N*mm].
    """

    diameter: Any = np.nan
    torque: Any = None

    def felt(self, case: LoadCase) -> tuple[Any, Any]:
        """Force [N] and moment [N*mm] on the pivot, about the middle of the hub."""
        return resultant(self.actions(case), np.zeros(3))
