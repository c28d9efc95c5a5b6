"""The root of what stands on a plate, for fatigue, and what can fail of the plate there."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

import numpy as np

from parts.core.check import Check
from parts.core.fatigue_places import Spot, Stress
from parts.core.feature import Modes
from parts.core.loads import LoadCase
from parts.core.ways import Kind
from parts.standards.materials.materials import Material
from parts.strength.fatigue.notch import loaded_hole_stress, round_fillet
from parts.strength.method import plain, work

Checked = Callable[[LoadCase], Iterable[Check]]
"""The checks of a part or of a feature under a load case."""
SHARP = 0.25
"""Radius of a root that is stated sharp: the nose of a cutter [mm]; common practice, no source."""
NEAT = 1.0
"""Of `loaded_hole_stress`: what is pressed in has no play."""
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


def stress_of(modes: Checked, name: str, scale: Any = 1.0) -> Stress:
    """The demand of the check of this name under a load case [MPa]; nil where it loads nothing there."""

    def stress(case: LoadCase) -> Any:
        found = [scale * one.demand for one in modes(case) if one.name == name]
        return found[0] if found else 0.0

    return stress


def rim_stress(modes: Checked, of: str, diameter: Any, room: Any, clearance: float) -> Stress:
    """What the load of a hole adds at its rim under a load case [MPa].

    Args:
        modes: the checks of what stands in it.
        of: name of the check that gives its bearing stress [MPa].
        diameter: of the hole [mm].
        room: twice the least distance from its middle to an edge [mm].
        clearance: as `loaded_hole_stress` has it.
    """
    bearing = stress_of(modes, of)

    def stress(case: LoadCase) -> Any:
        return plain(
            work(loaded_hole_stress, p=bearing(case), d=diameter, W=room, clearance=clearance)
        )

    return stress


def plate_kind(name: str, boss: bool) -> Kind:
    """What can fail of the plate beside what stands on it, and of the boss that stands there, if one does."""
    none = (
        {} if boss else {"boss bent at its root": "no boss stands there that its load would bend"}
    )
    return Kind("boss on a plate", name, left_out=none)
