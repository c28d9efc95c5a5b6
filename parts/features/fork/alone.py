"""A fork by itself, for a script of one's own: its solid and its checks, without a part around it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.alone import Alone, acting_at
from parts.core.family_class import read_keywords
from parts.features.fork.fork import Ears, InFork
from parts.standards.materials.materials import material

if TYPE_CHECKING:
    import cadquery as cq


@dataclass(frozen=True)
class LoneFork(Alone[InFork]):
    """Two ears on a floor: x toward the nose, z along the pin, origin in the middle of the pin; lengths in mm."""

    feature: Ears

    @property
    def ears(self) -> Ears:
        """Its dimensions."""
        return self.feature

    def solid(self) -> cq.Workplane:
        """The fork as a Workplane, pin hole and all, its flat back behind the floor."""
        return self.feature.solid(float(self.site.edge_break))


def fork(*, material_name: str, edge_break: float = 0.4, **dimensions: Any) -> LoneFork:
    """A fork by the dimensions that `ears` of a clevis takes.

    Args:
        material_name: material with its condition.
        edge_break: chamfer of outside edges [mm].
        dimensions: numbers in mm, or text with its unit, as `width="22 mm"`; `throat` and `pin` as groups.

    Returns:
        The fork.

    Raises:
        InputError: a dimension is missing or cannot be read.
        BrokenRules: the fork cannot be built, or should not be.
    """
    ears = read_keywords(Ears, dimensions, "fork")
    metal = material(material_name, thickness_mm=float(np.maximum(ears.width, ears.height)))
    acting = acting_at(np.zeros(3))
    return LoneFork(ears, InFork("ears", metal, edge_break=edge_break, actions=acting))
