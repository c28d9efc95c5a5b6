"""What bears on the ends of a spacer, and the brim of a top-hat bush."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.core.rules import Rule, at_most
from parts.inputs.designations import BearingName, MaterialName
from parts.inputs.quantities import PositiveLength
from parts.standards.materials.materials import Material


class End(NamedTuple):
    """An end: its name, what bears on it where that is stated, and outside and inside diameter of the ring [mm]."""

    name: str
    material: Material | None
    outer: Any
    inner: Any

    @property
    def kern(self) -> Any:
        """How far off the middle of the ring a force may press before its far rim lifts [mm]."""
        return (np.square(self.outer) + np.square(self.inner)) / (8.0 * self.outer)


class Neighbour(Group):
    """What bears on an end of the spacer: a head, a washer, a lug, or the inner ring of a bearing."""

    outside: PositiveLength = Field(
        description="Outside diameter of what bears; of an inner ring, by its drawing."
    )
    material: MaterialName | None = Field(
        None, description="What it is made of; left out, no softer than the spacer."
    )
    bearing: BearingName | None = Field(
        None, description="The bearing whose inner ring it is; none where left out."
    )

    def rules(self, field: str, wide: Any) -> Iterator[Rule]:
        """Rules of an inner ring against a spacer of a width there [mm]."""
        if self.bearing is not None:
            for where, value in (("outside", self.outside), ("bearing", wide)):
                yield at_most("spacer.ring", f"{field}.{where}", value, self.bearing.pitch_diameter,
                    "past the middle of the balls the spacer rubs on the seal, and no inner ring reaches there",
                    "take the ring from its drawing, or lessen the spacer's diameter")  # fmt: skip

    def end(self, name: str, wide: Any, bore: Any, chamfer: Any) -> End:
        """The ring that bears between it and a sleeve of a width, bore and chamfer there, both sides of it [mm]."""
        least = bore if self.bearing is None else np.maximum(bore, self.bearing.bore)
        return End(name, self.material, np.minimum(wide - chamfer, self.outside), least + chamfer)


class Flange(Group):
    """The brim of a top-hat bush, at its head."""

    diameter: PositiveLength = Field(description="Outside diameter of the brim.")
    thickness: PositiveLength = Field(description="Thickness of the brim.")
    fillet: PositiveLength = Field(0.4, description="Fillet between brim and sleeve.")
