"""The root of a shank behind the floor of a throat: its fillet, and how the ears bend the floor before it."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.core.loadpath import Notch
from parts.features.section.notches import turned_fillet
from parts.strength.method import range_of
from parts.strength.plates.floor import floor_multiplier

WIDE_BACK = 2.0
"""The back of the body beside a fillet, in diameters of what stands on it, for its notch."""
BENT_BY = ("pull", "side", "across")
NO_FILLET = 1e-6


def behind_floor(fillet: Any, diameter: Any, floor: Any, apart: Any, width: Any) -> Notch:
    """The notch of a shank's root that also feels the ears bend the floor before it.

    Args:
        fillet: radius of the root [mm]; 0 where it is sharp, which no study covers: the factor is then not a number.
        diameter: of the shank at the root [mm].
        floor: metal from the throat to the root [mm].
        apart: between the middles of the ears [mm].
        width: of floor and ears [mm].

    Returns:
        The notch: the worse of pull and bending, and the worst of a floor that is bent each way.
    """
    d, r = np.asarray(diameter, float), np.maximum(fillet, NO_FILLET)
    plain = turned_fillet(WIDE_BACK * d, d, r)
    each = (floor_multiplier(d, floor, apart, width, r, load) for load in BENT_BY)
    m = np.max(np.stack(np.broadcast_arrays(*each)), axis=0)
    return Notch(plain.K_t * m, r, limits=f"{plain.limits}; {range_of(floor_multiplier)}")
