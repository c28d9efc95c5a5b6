"""A torsion spring that sits about a pivot and is wound up as its lever turns."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.feature import Answers
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.features.spring.wire import NOTE, ONE, OfWire, Sprung
from parts.inputs.quantities import Angle, PositiveLength
from parts.strength.method import Worked, work
from parts.strength.springs import wound
from parts.strength.springs.life import WOUND_ENDLESS

COILS = 0.7
"""Share of the tensile strength that coils bear in bending [-]: EN 13906-3, from memory."""
FREE = 0.9
"""What a spring sits on, over the inside of its coils as they are wound up, at the most [-]; common practice, no
source."""


class WoundSpring(OfWire, Answers[Sprung]):
    """A torsion spring about the pivot, a leg at each end."""

    type: Literal["torsion"] = Field(
        "torsion", description="A spring about the pivot that is wound up, a leg at each end."
    )
    about: PositiveLength = Field(description="Diameter of what it sits on.")
    leg: PositiveLength = Field(
        description="From the pivot's axis along the leg to where it moves with the part."
    )
    other_leg: PositiveLength = Field(
        description="From the pivot's axis along the leg to where it is held."
    )
    preload: Angle = Field(description="How far it is wound at rest.")

    @property
    def room(self) -> Any:
        """Length that it takes along the pivot, its legs too [mm]."""
        return (self.coils + 1.0) * self.thickness

    @property
    def give(self) -> Worked:
        """Coils that would give as much as coils and legs [-]."""
        return work(
            wound.coils_that_give, n=self.coils, l_1=self.leg, l_2=self.other_leg, D=self.mean
        )

    @property
    def rate(self) -> Worked:
        """[N*mm/rad]."""
        return work(wound.wound_rate, d=self.thickness, D=self.mean, n=self.give, E=self.of.E)

    def moment(self, turned: Any) -> Any:
        """Its moment when the part has turned so far from rest [rad], in N*mm."""
        return self.rate.value * (self.preload + np.asarray(turned, float))

    def rules(self, site: Sprung) -> Iterator[Rule]:
        field, d, D = site.field, self.thickness, self.mean
        yield from self.wire_rules(field)
        yield at_least(
            "spring.preload", f"{field}.preload", self.preload, 0.0, "the spring would be wound the wrong way",
            "make it positive", unit="deg",
        )  # fmt: skip
        inside = work(
            wound.inside_when_wound, D=D, d=d, n=self.coils, alpha=self.preload + site.full
        )
        yield at_most(
            "spring.binds", f"{field}.about", self.about, FREE * inside.value,
            "the coils close on what they sit on as they wind up (nine tenths: common practice, no source)",
            "wind them wider, or more of them",
        )  # fmt: skip
        for name in ("leg", "other_leg"):
            yield at_least(
                f"spring.{name}", f"{field}.{name}", getattr(self, name), D / 2.0 + d,
                "the leg does not reach out of the coils", "lengthen it",
            )  # fmt: skip

    def kinds(self, site: Sprung) -> Sequence[Kind]:
        return [Kind("torsion spring", site.name)]

    def standing(self, site: Sprung) -> Iterator[Check]:
        """Its coils at full travel, and as it swings."""
        of, R = {"d": self.thickness, "D": self.mean}, self.of.strength
        low, high = (
            work(wound.wound_stress, M=self.moment(turned), **of)
            for turned in (site.rest, site.full)
        )
        yield check(
            f"{site.name}, coils", "bending", load_case="", demand=high, capacity=COILS * R, unit="MPa", required=ONE,
            note=NOTE + "; bend its legs no tighter than its coils",
        )  # fmt: skip
        test = WOUND_ENDLESS * R, WOUND_ENDLESS * R
        yield self.endless(f"{site.name}, coils, in fatigue", low, high, test, R)

    def facts(self, site: Sprung) -> Mapping[str, tuple[Any, str]]:
        return {
            f"{site.name}: rate": (self.rate.value * np.radians(1.0) / 1000.0, "N*m/deg"),
            f"{site.name}: moment at rest": (self.moment(site.rest) / 1000.0, "N*m"),
            f"{site.name}: moment at full travel": (self.moment(site.full) / 1000.0, "N*m"),
        }

    def bought(self, site: Sprung) -> Sequence[Bought]:
        legs = " and ".join(f"{float(np.max(one)):g}" for one in (self.leg, self.other_leg))
        wind = f"legs {legs} mm, wound {float(np.degrees(np.max(self.preload))):.0f}° at rest"
        return [self.made("torsion spring", wind, site.name)]

    def touching(self, site: Sprung) -> Mapping[str, str]:
        return self.touches()

    def cautions(self, site: Sprung) -> Sequence[str]:
        return [
            "Wind the torsion spring up the way that closes its coils; the other way it bends open and loses its set."
        ]
