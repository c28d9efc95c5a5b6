"""A fork by itself, for a script of one's own: its solid and its checks, without a part around it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.check import Check
from parts.core.family_class import read_keywords
from parts.core.loads import Action, LoadCase, PointLoad, point_actions
from parts.core.part import BrokenRules
from parts.core.rules import broken
from parts.features.fork.fork import Ears, InFork
from parts.standards.materials.materials import Material, material

if TYPE_CHECKING:
    import cadquery as cq


@dataclass(frozen=True)
class LoneFork:
    """Two ears on a floor: x toward the nose, z along the pin, origin in the middle of the pin; lengths in mm."""

    ears: Ears
    metal: Material
    edge_break: float

    def solid(self) -> cq.Workplane:
        """The fork as a Workplane, pin hole and all, its flat back behind the floor."""
        return self.ears.solid(self.edge_break)

    def checks(
        self, force: Sequence[float], moment: Sequence[float] = (0.0, 0.0, 0.0)
    ) -> tuple[Check, ...]:
        """What can fail of pin, ears and throat.

        Args:
            force: on the pin along x, y, z [N].
            moment: on the pin about x, y, z [N*mm].

        Returns:
            The checks that a part with this fork would show; those of the body behind it are the caller's.
        """
        (fx, fy, fz), (mx, my, mz) = map(float, force), map(float, moment)
        load = PointLoad(at="pin", force=(fx, fy, fz), moment=(mx, my, mz))
        return tuple(self.ears.modes(self._site, LoadCase(name="load", forces=[load])))

    @property
    def _site(self) -> InFork:
        return InFork("ears", self.metal, edge_break=self.edge_break, actions=_at_pin)


def _at_pin(case: LoadCase) -> Sequence[Action]:
    return point_actions(case, {"pin": np.zeros(3)})


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
    thick = float(np.max(np.maximum(ears.width, ears.height)))
    made = LoneFork(ears, material(material_name, thickness_mm=thick), edge_break)
    if wrong := broken(ears.rules(made._site)):
        raise BrokenRules(wrong)
    return made
