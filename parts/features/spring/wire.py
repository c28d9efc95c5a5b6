"""What springs of wire share: the wire, and how far they move."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.feature import Site
from parts.core.group import Group
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.inputs.quantities import PositiveLength, PositiveRatio
from parts.standards.materials.spring_wire import SpringWire, spring_wire
from parts.strength.method import Worked, work
from parts.strength.springs.life import endless_amplitude

THIN, THICK = 4.0, 16.0
"""Mean diameter of the coils over the wire that shops wind without trouble [-]; common practice, no source."""
LEAST_COILS = 2.0
"""Fewest coils that carry what the formulas say [-]; EN 13906, from memory."""
ONE = 1.0
"""Factor asked of a spring: what EN 13906 permits has its own already."""
NOTE = "what EN 13906 permits has its factor already"


@dataclass(frozen=True)
class Sprung(Site):
    """Where a spring works.

    Attributes:
        rest, full: between its hooks [mm], or wound by its lever beyond its preload [rad], at rest and at full travel.
    """

    rest: Any = np.nan
    full: Any = np.nan


class OfWire(Group):
    """Round wire wound to coils."""

    wire: str = Field(
        "EN 10270-1 SH", max_length=40, description="The wire by its standard, as EN 10270-1 SH."
    )
    thickness: PositiveLength = Field(description="Diameter of the wire.")
    outside: PositiveLength = Field(description="Outside diameter of the coils.")
    coils: PositiveRatio = Field(description="Coils of the body.")

    @model_validator(mode="after")
    def _is_of_a_wire_that_is_drawn(self) -> OfWire:
        _ = self.of
        return self

    @cached_property
    def of(self) -> SpringWire:
        """The wire, by its table; of many the thickest, which is weakest."""
        return spring_wire(self.wire, float(np.max(self.thickness)))

    @property
    def mean(self) -> Any:
        """Mean diameter of the coils [mm]."""
        return self.outside - self.thickness

    def wire_rules(self, field: str) -> Iterator[Rule]:
        """Coils that can be wound."""
        w = self.mean / self.thickness
        yield at_least(
            "spring.tight", f"{field}.outside", w, THIN,
            "coils so tight crack as they are wound (4 wires, mean: common practice, no source)",
            "wind them wider, or take thinner wire", unit="",
        )  # fmt: skip
        yield at_most(
            "spring.wide", f"{field}.outside", w, THICK,
            "coils so wide keep no shape (16 wires, mean: common practice, no source)",
            "wind them tighter, or take thicker wire", unit="",
        )  # fmt: skip
        yield at_least(
            "spring.coils", f"{field}.coils", self.coils, LEAST_COILS, "so few coils give less than their formula says",
            "wind more", unit="",
        )  # fmt: skip

    def endless(self, name: str, low: Worked, high: Worked, test: tuple[Any, Any], R: Any) -> Check:
        """The swing of a stress between rest and full travel, against what the wire bears for ever.

        Args:
            name: of the check.
            low, high: the stress at rest and at full travel [MPa].
            test: amplitude and mean that the wire bore [MPa].
            R: its strength [MPa].
        """
        mean = (low.value + high.value) / 2.0
        return check(
            name, "fatigue", load_case="", unit="MPa", required=ONE,
            demand=np.abs(high.value - low.value) / 2.0,
            capacity=work(endless_amplitude, s_m=mean, S_a=test[0], S_m=test[1], R=R),
            note="every press from rest to full travel, without end; wire that rusts bears less",
        )  # fmt: skip

    def touches(self) -> dict[str, str]:
        """The surface of its wire."""
        steel = "stainless 18Cr" if self.of.family.startswith("stainless") else "steel"
        return {f"spring, {self.of.name}": steel}

    def made(self, kind: str, more: str, fits: str) -> Bought:
        """The spring as it is ordered."""
        wire, wide, n = (float(np.max(one)) for one in (self.thickness, self.outside, self.coils))
        size = f"{wire:g} x {wide:g} mm outside, {n:g} coils"
        return Bought(f"{kind} {size}, {more}, wire {self.of.name}", 1, fits, self.of.source)
