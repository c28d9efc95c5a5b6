"""A round hub on a torsion bar: its boss, and one of the bores that drive the bar.

Axes of the feature: the bar lies on z, the hub from -width/2 to width/2, the arm leaves toward +x.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Annotated, Any

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.group import Group
from parts.core.loads import Required
from parts.core.rules import Rule, at_most
from parts.families.torsion_arm.clamp_bore import ClampBore
from parts.families.torsion_arm.flats_bore import FlatsBore
from parts.families.torsion_arm.spline_bore import SplineBore
from parts.inputs.quantities import PositiveLength
from parts.standards.materials.materials import Material
from parts.strength.method import work
from parts.strength.section import bar as bars

if TYPE_CHECKING:
    import cadquery as cq

HubBore = Annotated[SplineBore | FlatsBore | ClampBore, Field(discriminator="type")]


class Hub(Group):
    """The hub of an arm."""

    diameter: PositiveLength = Field(description="Outside diameter of the hub.")
    width: PositiveLength = Field(description="Width of the hub along the bar.")
    bore: HubBore = Field(description="How the hub takes the bar: spline, square, hex or clamp.")

    def rules(self, field: str, edge_break: Any) -> Iterator[Rule]:
        """Rules of the hub; `field` is the dotted path of this group."""
        yield at_most(
            "hub.large", f"{field}.diameter", self.diameter, 300.0,
            "no hub of a one-off vehicle is this large; it looks like the wrong unit",
            "check the unit of this value",
        )  # fmt: skip
        yield at_most(
            "hub.wide", f"{field}.width", self.width, 200.0,
            "no hub of a one-off vehicle is this wide; it looks like the wrong unit",
            "check the unit of this value",
        )  # fmt: skip
        yield from self.bore.rules(f"{field}.bore", self.width, self.diameter)
        room = np.minimum(self.width, (self.diameter - self.bore.largest) / 2.0) / 6.0
        yield at_most(
            "hub.break", "edge_break", edge_break, room, "the chamfers would eat the faces of the hub",
            "lessen the edge break, or make the hub's wall thicker",
        )  # fmt: skip

    def modes(
        self, material: Material, case: str, torque: Any, required: Required
    ) -> Iterator[Check]:
        """The bore's own checks, and bending of the two walls beside the bore, under a torque [N*mm]."""
        torque = np.abs(torque)
        yield from self.bore.modes(material, self.width, self.diameter, case, torque, required)
        D, d = self.diameter, self.bore.largest
        modulus = self.width * (np.power(D, 3.0) - np.power(d, 3.0)) / (6.0 * D)
        stress = work(bars.bending_stress, M=torque, W=modulus)
        for kind, strength, factor in required.both(
            material.yield_strength, material.ultimate_strength
        ):
            yield check(
                f"hub walls beside the bore, {kind}", "bending", load_case=case, demand=stress,
                capacity=strength,
                unit="MPa", required=factor,
                note="W = b (D³ - d³)/(6 D) of the two walls, under the whole torque",
            )  # fmt: skip

    def solid(self, edge_break: float) -> cq.Workplane:
        """The boss with its outside edges broken, and the ears of a clamp; not yet bored."""
        from parts.shapes.profile import cylinder

        half = float(self.width) / 2.0
        body = cylinder(float(self.diameter), -half, half)
        if edge_break > 0.0:
            body = body.faces("|Z").edges().chamfer(edge_break)
        if isinstance(self.bore, ClampBore):
            body = body.union(self.bore.ears(float(self.width), float(self.diameter), edge_break))
        return body
