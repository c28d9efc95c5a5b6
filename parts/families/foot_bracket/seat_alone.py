"""A bearing seat by itself, for a script of one's own: its solid, its tool and its checks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.alone import Alone, acting_at
from parts.core.family_class import read_keywords
from parts.core.loads import LoadCase, resultant
from parts.families.foot_bracket.pivot import SeatPivot
from parts.features.plate.on_plate import OnPlate
from parts.features.plate.plate import Plate
from parts.standards.materials.materials import material

if TYPE_CHECKING:
    import cadquery as cq


@dataclass(frozen=True)
class LoneSeat(Alone[OnPlate]):
    """A seat in a round boss: z along the shaft out of its mouth, origin in the face behind its lip; lengths in mm."""

    feature: SeatPivot
    diameter: float

    def solid(self) -> cq.Workplane:
        """The boss as a Workplane, its seat cut."""
        from parts.shapes.profile import cylinder

        edge_break = float(self.site.edge_break)
        body = cylinder(self.diameter, 0.0, float(self.site.thickness))
        if edge_break > 0.0:
            body = body.faces("|Z").edges().chamfer(edge_break)
        return body.cut(self.tool())

    def tool(self) -> cq.Workplane:
        """What is cut away: lip, seat and the groove of a circlip, to be cut out of a body of one's own."""
        [found] = self.feature.fixture(self.site).tools(
            0.0, float(self.site.thickness), float(self.site.edge_break)
        )
        return found


def bearing_seat(
    *,
    material_name: str,
    diameter: float,
    thickness: float,
    edge_break: float = 0.4,
    **dimensions: Any,
) -> LoneSeat:
    """A bearing seat by the dimensions that a `seat` of a foot-control bracket takes.

    Args:
        material_name: material with its condition; its strength is that of stock as thick as the larger of both sizes.
        diameter: outside of the metal about the seat [mm].
        thickness: of that metal along the shaft [mm].
        edge_break: chamfer of outside edges [mm].
        dimensions: `bearing`, `count`, `lip`, `retention`, `fit`, and `height`, from the mouth to where the load acts
            [mm].

    Returns:
        The seat.

    Raises:
        InputError: a dimension is missing or cannot be read.
        BrokenRules: the seat cannot be built, or should not be.
    """
    of = read_keywords(SeatPivot, {"at": (0.0, 0.0), **dimensions}, "bearing seat")
    metal = material(material_name, thickness_mm=max(float(diameter), float(thickness)))
    wall = (float(diameter) - float(of.widest)) / 2.0
    acting = acting_at((0.0, 0.0, float(of.load_height(thickness))))
    site = OnPlate(
        field="seat", metal=metal, name="shaft", edge_break=edge_break, thickness=float(thickness),
        plate=Plate.model_construct(thickness=float(thickness), wall=wall), actions=acting,
        felt=_at_the_mouth(acting, thickness),
    )  # fmt: skip
    return LoneSeat(of, site, float(diameter))


def _at_the_mouth(acting: Any, thickness: float) -> Callable[[LoadCase], tuple[Any, Any]]:
    mouth = np.array([0.0, 0.0, float(thickness)])
    return lambda case: resultant(acting(case), mouth)
