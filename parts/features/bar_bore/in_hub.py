"""Where a bore that drives a bar stands: in the hub of an arm, or in the boss of a plate."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.feature import Site
from parts.core.loads import LoadCase, resultant
from parts.strength.method import Worked, work
from parts.strength.section import bar as bars


@dataclass(frozen=True)
class InHub(Site):
    """A bore in a hub; its origin is the middle of the hub, the bar lies on z.

    Attributes:
        width: of the hub along the bar [mm].
        diameter: outside of the hub [mm].
        arm: width of the arm where it leaves the hub [mm].
        hollow: bore of the bar itself [mm]; 0 for a solid one.
        wide, long: dotted paths of its diameter and its width.
        beside: what stands on the hub, for words.
        free: from a clamp's slit round to where a plate holds its hub [rad], and nothing else bears what the bar
            brings; None where an arm leaves the hub and a bearing stands beside it.
    """

    width: Any = np.nan
    diameter: Any = np.nan
    arm: Any = np.nan
    hollow: Any = 0.0
    wide: str = "hub.diameter"
    long: str = "hub.width"
    beside: str = "arm"
    free: Any = None

    def torque(self, case: LoadCase) -> Any:
        """Torque about the bar [N*mm], its sign left out."""
        return np.abs(resultant(self.actions(case), np.zeros(3))[1][..., 2])

    def wall_stress(self, case: LoadCase, largest: Any) -> Worked:
        """Bending stress of the two walls beside a bore of largest diameter `largest`, by the whole torque [MPa]."""
        D, d = self.diameter, np.asarray(largest, float)
        modulus = self.width * (np.power(D, 3.0) - np.power(d, 3.0)) / (6.0 * D)
        return work(bars.bending_stress, M=self.torque(case), W=modulus)

    def borne(self, case: LoadCase) -> tuple[Any, Any, Any]:
        """What a bar brings besides its torque, its sign left out: across it [N], along it [N] and as a couple that
        rocks it [N*mm]."""
        force, moment = resultant(self.actions(case), np.zeros(3))
        across, rock = (np.hypot(one[..., 0], one[..., 1]) for one in (force, moment))
        return across, np.abs(force[..., 2]), rock
