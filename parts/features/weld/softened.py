"""Metal beside a weld: what is left of its strength, and how far from the weld."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from parts.standards.materials.materials import Material, WeldZone

REACH = 25.0
"""How far from a weld its heat is counted on to take strength [mm]; Aluminum Design Manual 2010 (1 in), from
memory. Steel and titanium lose theirs over less."""
SHEAR_SHARE = 1.0 / np.sqrt(3.0)
"""Shear strength over tensile strength where none is published [-]: von Mises."""


def welded(metal: Material, filler: str, thickness: float | None) -> Material:
    """A metal as it is beside a weld: every strength is lowered in the proportion of the weld zone.

    Args:
        metal: the metal before welding.
        filler: classification of the filler metal; empty for the lowest of all.
        thickness: thickness of the thinnest part welded [mm]; None where it is not known.

    Returns:
        The same metal with the strengths beside the weld, never above its own.

    Raises:
        UnknownDesignation: nothing may be counted on beside a weld of this metal.
    """
    zone = metal.beside_weld(filler, thickness)
    on_yield = np.minimum(1.0, zone.yield_strength / metal.yield_strength)
    on_ultimate = np.minimum(1.0, zone.ultimate_strength / metal.ultimate_strength)
    return replace(
        metal,
        yield_strength=metal.yield_strength * on_yield,
        shear_yield=metal.shear_yield * on_yield,
        bearing_yield=metal.bearing_yield * on_yield,
        bearing_yield_ed15=metal.bearing_yield_ed15 * on_yield,
        ultimate_strength=metal.ultimate_strength * on_ultimate,
        shear_ultimate=metal.shear_ultimate * on_ultimate,
        bearing_ultimate=metal.bearing_ultimate * on_ultimate,
        bearing_ultimate_ed15=metal.bearing_ultimate_ed15 * on_ultimate,
        notes=(*metal.notes, f"beside a weld: {zone.source}"),
    )


def within_reach(metal: Material, soft: Material, distance: Any) -> Material:
    """The metal at a distance from a weld; of many variants, the weaker as soon as one is near."""
    return soft if np.any(np.less(distance, REACH)) else metal


def weaker(*zones: WeldZone) -> WeldZone:
    """The weaker of the zones on both sides of a weld."""
    return min(zones, key=lambda zone: zone.ultimate_strength)
