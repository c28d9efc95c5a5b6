"""The hub of a foot lever: its boss, and what it turns on.

Axes of the feature: the pivot lies on z, the middle of the hub is the origin; the bracket stands on the side of -z.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated, Any

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.clearances import Clearance
from parts.core.fatigue_places import Detail, Spot, demand_of
from parts.core.feature import Answers, Modes
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule, at_most
from parts.core.ways import Kind
from parts.families.foot_lever.bearings import OnBearings
from parts.families.foot_lever.bush import OnBush
from parts.families.foot_lever.on_pivot import OnPivot
from parts.features.arm.round_end import disc
from parts.features.section.notches import SHARP
from parts.inputs.quantities import PositiveLength
from parts.strength.method import plain, work
from parts.strength.pinned import lug
from parts.strength.pinned import pin as pins
from parts.strength.section import bar as bars
from parts.strength.shafts.thin_hub import ring_stress

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Marks
    from parts.core.feature import Feature


Z = np.eye(3)[2]
Pivot = Annotated[OnBearings | OnBush, Field(discriminator="type")]
if TYPE_CHECKING:
    _: tuple[type[Feature[OnPivot]], ...] = (OnBearings, OnBush)


class LeverHub(Group, Answers[OnPivot]):
    """The hub of a lever: its boss, and what it turns on."""

    diameter: PositiveLength = Field(description="Outside diameter of the hub.")
    pivot: Pivot = Field(
        description="What it turns on: two bearings on a stub, or a bush on a shoulder."
    )

    @property
    def width(self) -> Any:
        """Width of the hub along the pivot [mm]."""
        return self.pivot.width

    @property
    def wall(self) -> Any:
        """Its wall beside the bore [mm]."""
        return self.pivot.wall(self.diameter)

    def rules(self, site: OnPivot) -> Iterator[Rule]:
        field = site.field
        yield at_most(
            "hub.large", f"{field}.diameter", self.diameter, 120.0,
            "no hub of a foot lever is this large; it looks like the wrong unit", "check the unit of this value",
        )  # fmt: skip
        yield from self.pivot.rules(self._within(site))
        room = np.minimum(self.width, (self.diameter - self.pivot.largest) / 2.0) / 6.0
        yield at_most(
            "hub.break", "edge_break", site.edge_break, room, "the chamfers would eat the faces of the hub",
            "lessen the edge break, or make the hub's wall thicker",
        )  # fmt: skip

    def _within(self, site: OnPivot) -> OnPivot:
        return replace(site, field=f"{site.field}.pivot")

    def kinds(self, site: OnPivot) -> Sequence[Kind]:
        return [Kind("hub walls", "hub"), Kind("lever hub", "hub"), *self.pivot.kinds(site)]

    def modes(self, site: OnPivot, case: LoadCase) -> Iterator[Check]:
        """What its pivot asks, and the two walls beside the bore: bent in the plane of travel and across it, torn."""
        yield from self.pivot.modes(site, case)
        metal, D, d, b = site.metal, self.diameter, self.pivot.largest, self.width
        force, moment = site.felt(case)
        modulus = b * (np.power(D, 3.0) - np.power(d, 3.0)) / (6.0 * D)
        stress = work(bars.bending_stress, M=site.torque(case), W=modulus)
        ring = work(
            ring_stress, stress=plain(stress), h=self.wall, w=site.narrowest, D=D,
        )  # fmt: skip
        side = np.hypot(moment[..., 0], moment[..., 1])
        aside = work(pins.bending_stress, M=side, D=D, d=d)
        pull = work(
            lug.net_section_stress, P=np.hypot(force[..., 0], force[..., 1]), w=D, D_h=d, t=b
        )
        for kind, strength, factor in site.required(case).both(
            metal.yield_strength, metal.ultimate_strength
        ):
            on = {"load_case": case.name, "capacity": strength, "unit": "MPa", "required": factor}
            yield check(
                f"hub walls beside the bore, {kind}", "bending", demand=stress,
                note="W = b (D³ - d³)/(6 D) of the two walls, under the moment of the arm that brings most", **on,
            )  # fmt: skip
            yield check(
                f"hub ring bent between its arms, {kind}", "bending", demand=ring,
                note="the peak on its bore, a bound over a study; of the bearings no ring is counted", **on,
            )  # fmt: skip
            yield check(
                f"hub bent across its plane, {kind}", "bending", demand=aside,
                note="the hub as a tube, under the whole moment of what acts beside it", **on,
            )  # fmt: skip
            yield check(f"hub torn beside its bore, {kind}", "net tension", demand=pull, **on)

    def details(self, site: OnPivot, modes: Modes) -> Sequence[Detail]:
        ring = demand_of(modes, "hub ring bent between its arms, yield")
        stress = demand_of(modes, "hub walls beside the bore, yield")
        return [Spot("hub walls", site.metal, stress, self.diameter, SHARP.K_t,
                     note="edge of the bore: three, common practice, no source"),
                Spot("hub ring", site.metal, ring, self.diameter, 1.0, note="the peak on the bore itself"),
                *self.pivot.details(site, modes)]  # fmt: skip

    def standing(self, site: OnPivot) -> Iterator[Check]:
        return self.pivot.standing(site)

    def clearances(self, site: OnPivot) -> Sequence[Clearance]:
        return self.pivot.clearances(self._within(site))

    def facts(self, site: OnPivot) -> Mapping[str, tuple[Any, str]]:
        return self.pivot.facts(site)

    def touching(self, site: OnPivot) -> Mapping[str, str]:
        return self.pivot.touching(site)

    def bought(self, site: OnPivot) -> Sequence[Bought]:
        return self.pivot.bought(site)

    def cautions(self, site: OnPivot) -> Sequence[str]:
        return self.pivot.cautions(site)

    def marks(self, site: OnPivot) -> Marks:
        """Its boss and its bore."""
        from parts.core.drawing import CentreLine, Diameter, Linear, Marks

        wide, half = float(self.diameter), float(self.width) / 2.0
        sizes = (
            Diameter("hub", (0, 0, half), Z, wide, view="front"),
            Linear("width of the hub", (-wide / 2, 0, -half), (-wide / 2, 0, half), Z, 2 * half, view="top"),
        )  # fmt: skip
        return Marks(sizes, centres=(CentreLine((0, 0, -half), (0, 0, half)),)) + self.pivot.marks(
            site
        )

    def solid(self, edge_break: float) -> cq.Workplane:
        """The boss, not yet bored."""
        return disc(float(self.diameter), float(self.width), edge_break)
