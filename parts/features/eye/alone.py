"""An eye by itself, for a script of one's own: its solid and its checks, without an arm behind it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.alone import Alone, acting_at
from parts.core.family_class import read_keywords
from parts.features.arm.tip import AtTip
from parts.features.eye.eye import Eye
from parts.standards.materials.materials import material

if TYPE_CHECKING:
    import cadquery as cq


@dataclass(frozen=True)
class LoneEye(Alone[AtTip]):
    """A round eye: z along the pin, x away from the body that it ends, origin in its middle; lengths in mm."""

    feature: Eye

    def solid(self) -> cq.Workplane:
        """The eye as a Workplane, its bore cut."""
        edge_break = float(self.site.edge_break)
        return self.bored(self.feature.solid(edge_break))

    def bored(self, body: cq.Workplane) -> cq.Workplane:
        """A body with the bore of the eye cut through it."""
        return self.feature.cut_from(body, float(self.site.edge_break), np.zeros(3))


def eye(*, material_name: str, edge_break: float = 0.4, **dimensions: Any) -> LoneEye:
    """An eye by the dimensions that `end` of a torsion-bar arm takes.

    Args:
        material_name: material with its condition.
        edge_break: chamfer of outside edges [mm].
        dimensions: numbers in mm, or text with its unit, as `diameter="34 mm"`; `bore` and `pin` as groups.

    Returns:
        The eye.

    Raises:
        InputError: a dimension is missing or cannot be read.
        BrokenRules: the eye cannot be built, or should not be.
    """
    of = read_keywords(Eye, dimensions, "eye")
    metal = material(material_name, thickness_mm=float(np.maximum(of.width, of.diameter)))
    return LoneEye(of, AtTip("eye", metal, edge_break=edge_break, actions=acting_at(np.zeros(3))))
