"""Where the end of an arm stands."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.feature import Site


@dataclass(frozen=True)
class AtTip(Site):
    """The end of an arm; its origin is the load point, the arm comes from -x and the bar's direction is z.

    Attributes:
        room: how far toward the arm a round eye stands free of fillets, or half the thickness of the arm that backs
            the floor of a throat [mm].
    """

    room: Any = np.nan
