"""Bearing of a pin on the wall of its hole, in an ear, an eye or a tab."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import Required
from parts.standards.materials.materials import Material
from parts.strength.method import Worked

SHORT_EDGE, FULL_EDGE = 1.5, 2.0
"""Edge distances in diameters at which bearing strengths are published [-]."""


def bearing_strengths(material: Material, edge_distance: Any) -> tuple[Any, Any]:
    """Bearing strength of a plate at an edge distance, in diameters of what presses on it.

    Published at 1.5 and 2.0 diameters: straight between, level above, and in proportion below.

    Args:
        material: what the plate is made of.
        edge_distance: centre of the bore to the nearest edge, in diameters [-].

    Returns:
        Yield and ultimate bearing strength [MPa].
    """
    near = np.asarray(edge_distance, float)

    along = np.clip((near - SHORT_EDGE) / (FULL_EDGE - SHORT_EDGE), 0.0, 1.0)

    def at(short: Any, full: Any) -> Any:
        return (short + along * (full - short)) * np.minimum(near / SHORT_EDGE, 1.0)

    return (
        at(material.bearing_yield_ed15, material.bearing_yield),
        at(material.bearing_ultimate_ed15, material.bearing_ultimate),
    )


def wall_bearing_modes(
    name: str,
    what: str,
    material: Material,
    edge_distance: Any,
    pressure: Worked,
    case: str,
    required: Required,
) -> Iterator[Check]:
    """Bearing on the wall of a pin's hole, on yield and on ultimate.

    Args:
        name: begins the checks' names.
        what: what the hole is in, an ear or an eye.
        material: of the wall.
        edge_distance: as in `bearing_strengths` [-].
        pressure: of the pin on the wall [MPa].
        case: name of the load case.
        required: the factors asked for.

    Returns:
        The checks.
    """
    yields, ultimate = bearing_strengths(material, edge_distance)
    for kind, strength, factor in required.both(yields, ultimate):
        yield check(
            f"{name} bearing, {kind}", "bearing", load_case=case, demand=pressure, capacity=strength,
            unit="MPa", required=factor,
            note=f"strength at the {what}'s own edge distance, straight between the published ones",
        )  # fmt: skip
