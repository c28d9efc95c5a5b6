"""The root of what stands on a plate, for fatigue, and what can fail of the plate there."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.core.fatigue_places import Spot, Stress
from parts.core.feature import Modes
from parts.core.loads import LoadCase
from parts.core.ways import Kind
from parts.standards.materials.materials import Material
from parts.strength.fatigue.notch import round_fillet
from parts.strength.method import work

SHARP = 0.25
"""Radius of a root that is stated sharp: the nose of a cutter [mm]; common practice, no source."""
SHARPEST_STEP = 20.0
"""Height of a step over its fillet up to which `round_fillet` has a factor [-]."""


def root_spot(
    name: str, metal: Material, modes: Modes, of: str, diameter: Any, fillet: Any
) -> Spot:
    """The root fillet of a post, a journal or a boss, for its own fatigue.

    Args:
        name: of the place.
        metal: what it is of.
        modes: the checks of the part under a load case.
        of: name of the check that gives its nominal stress [MPa].
        diameter: of the post [mm].
        fillet: radius at its root [mm].

    Returns:
        The place.
    """
    radius = np.clip(fillet, np.maximum(SHARP, diameter / (2.0 * SHARPEST_STEP)), diameter)
    K = work(round_fillet, D=2.0 * diameter, d=diameter, r=radius, load="bending")
    return Spot(
        name, metal, stress_of(modes, of), diameter, K, note="shaft fillet in bending, felt in full"
    )


def stress_of(modes: Modes, name: str, scale: Any = 1.0) -> Stress:
    """The demand of the check of this name under a load case [MPa]; nil where it loads nothing there."""

    def stress(case: LoadCase) -> Any:
        found = [scale * one.demand for one in modes(case) if one.name == name]
        return found[0] if found else 0.0

    return stress


def plate_kind(name: str, boss: bool) -> Kind:
    """What can fail of the plate beside what stands on it, and of the boss that stands there, if one does."""
    none = (
        {} if boss else {"boss bent at its root": "no boss stands there that its load would bend"}
    )
    return Kind("boss on a plate", name, left_out=none)
