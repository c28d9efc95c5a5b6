"""A round hub on a torsion bar: its boss, and one of the bores that drive the bar.

Axes of the feature: the bar lies on z, the hub from -width/2 to width/2, the arm leaves toward +x.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated, Any

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.clearances import Clearance
from parts.core.fatigue_places import Detail
from parts.core.feature import Answers, Modes
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule, at_most
from parts.core.ways import Kind
from parts.families.torsion_arm.flats_bore import FlatsBore
from parts.features.arm.round_end import disc
from parts.features.bar_bore.clamp_bore import ClampBore
from parts.features.bar_bore.in_hub import InHub
from parts.features.bar_bore.spline_bore import SplineBore
from parts.inputs.quantities import PositiveLength

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Marks
    from parts.core.feature import Feature

    _: tuple[type[Feature[InHub]], ...] = (SplineBore, FlatsBore, ClampBore)

Z = np.eye(3)[2]
HubBore = Annotated[SplineBore | FlatsBore | ClampBore, Field(discriminator="type")]


class Hub(Group, Answers[InHub]):
    """The hub of an arm."""

    diameter: PositiveLength = Field(description="Outside diameter of the hub.")
    width: PositiveLength = Field(description="Width of the hub along the bar.")
    bore: HubBore = Field(description="How the hub takes the bar: spline, square, hex or clamp.")

    def rules(self, site: InHub) -> Iterator[Rule]:
        """Rules of the hub and its bore."""
        field, edge_break = site.field, site.edge_break
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
        yield from self.bore.rules(replace(site, field=f"{field}.bore"))
        room = np.minimum(self.width, (self.diameter - self.bore.largest) / 2.0) / 6.0
        yield at_most(
            "hub.break", "edge_break", edge_break, room, "the chamfers would eat the faces of the hub",
            "lessen the edge break, or make the hub's wall thicker",
        )  # fmt: skip

    def kinds(self, site: InHub) -> Sequence[Kind]:
        return [Kind("hub walls"), *self.bore.kinds(site)]

    def details(self, site: InHub, modes: Modes) -> Sequence[Detail]:
        return self.bore.details(site, modes)

    def facts(self, site: InHub) -> Mapping[str, tuple[Any, str]]:
        return self.bore.facts(site)

    def bought(self, site: InHub) -> Sequence[Bought]:
        return self.bore.bought(site)

    def clearances(self, site: InHub) -> Sequence[Clearance]:
        return self.bore.clearances(replace(site, field=f"{site.field}.bore"))

    def touching(self, site: InHub) -> Mapping[str, str]:
        return self.bore.touching(site)

    def cautions(self, site: InHub) -> Sequence[str]:
        return self.bore.cautions(site)

    def modes(self, site: InHub, case: LoadCase) -> Iterator[Check]:
        """The bore's own checks, and bending of the two walls beside the bore."""
        yield from self.bore.modes(site, case)
        stress, metal = site.wall_stress(case, self.bore.largest), site.metal
        for kind, strength, factor in site.required(case).both(
            metal.yield_strength, metal.ultimate_strength
        ):
            yield check(
                f"hub walls beside the bore, {kind}", "bending", load_case=case.name, demand=stress,
                capacity=strength,
                unit="MPa", required=factor,
                note="W = b (D³ - d³)/(6 D) of the two walls, under the whole torque",
            )  # fmt: skip

    def marks(self, site: InHub) -> Marks:
        """Its boss and its bore."""
        from parts.core.drawing import CentreLine, Diameter, Linear, Marks

        wide, half = float(self.diameter), float(self.width) / 2.0
        sizes = (
            Diameter("hub", (0, 0, half), Z, wide, view="front"),
            Linear(
                "width of the hub", (-wide / 2, 0, -half), (-wide / 2, 0, half), Z, 2 * half, view="top"
            ),
        )  # fmt: skip
        axis = CentreLine((0, 0, -half), (0, 0, half))
        return Marks(sizes, centres=(axis,)) + self.bore.marks(site)

    def solid(self, edge_break: float) -> cq.Workplane:
        """The boss with its outside edges broken, and the ears of a clamp; not yet bored."""
        body = disc(float(self.diameter), float(self.width), edge_break)
        if isinstance(self.bore, ClampBore):
            body = body.union(self.bore.ears(float(self.width), float(self.diameter), edge_break))
        return body
