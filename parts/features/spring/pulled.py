"""An extension spring with a loop at each end, that a lever pulls longer."""

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
from parts.inputs.quantities import NonNegativeForce, NonNegativeLength, PositiveLength
from parts.strength.method import Worked, work
from parts.strength.springs import pulled
from parts.strength.springs.life import PER_SHEAR, ZIMMERLI

COILS, LOOP_BENT, LOOP_TWISTED = 0.45, 0.75, 0.40
"""Share of the tensile strength that coils bear in shear (EN 13906-2), loops in bending and in twist (Shigley, 9th ed.,
table 10-7) [-]; from memory."""
SHEAR = 0.67
"""Strength in shear over that in tension [-]: Shigley, 9th ed., eq. 10-30."""
BEND = 0.5
"""Radius where a loop leaves its last coil, over that of the coils [-]; common practice, no source."""


class PulledSpring(OfWire, Answers[Sprung]):
    """An extension spring, a full loop at each end."""

    type: Literal["extension"] = Field(
        "extension", description="A spring that is pulled longer, a full loop at each end."
    )
    wound_in: NonNegativeForce = Field(
        0.0, description="Force that its coils are wound together with; it opens beyond that."
    )
    bend: PositiveLength | None = Field(
        None,
        description="Radius, to the middle of the wire, where a loop leaves its last coil; half that of the coils "
        "where left out.",
    )
    extra: NonNegativeLength = Field(
        0.0, description="How much longer its loops are than full ones, both together."
    )

    @property
    def free(self) -> Any:
        """Between the insides of its loops, with nothing on it [mm]."""
        return (self.coils + 1.0) * self.thickness + 2.0 * (self.mean - self.thickness) + self.extra

    @property
    def rate(self) -> Worked:
        """[N/mm]."""
        return work(pulled.pulled_rate, d=self.thickness, D=self.mean, n=self.coils, G=self.of.G)

    def force(self, length: Any) -> Any:
        """Its pull at a length between its hooks [N]; none where it is slack."""
        more = np.asarray(length, float) - self.free
        return np.where(more >= 0.0, self.wound_in + self.rate.value * np.maximum(more, 0.0), 0.0)[
            ()
        ]

    def rules(self, site: Sprung) -> Iterator[Rule]:
        field = site.field
        yield from self.wire_rules(field)
        yield at_least(
            "spring.slack", f"{field}.coils", np.minimum(site.rest, site.full), self.free + 0.5,
            "the spring is slack at rest and rattles off its hooks (0.5 mm: common practice, no source)",
            "wind fewer coils, or move a hook away",
        )  # fmt: skip
        yield at_most(
            "spring.wound_in", f"{field}.wound_in", self.wound_in,
            work(pulled.most_wound_in, d=self.thickness, D=self.mean).value,
            "no shop winds so much tension in (Shigley, eq. 10-41)", "lessen it", unit="N",
        )  # fmt: skip
        if self.bend is not None:
            yield at_least(
                "spring.bend", f"{field}.bend", self.bend, self.thickness, "the wire cracks in so tight a bend",
                "bend it wider",
            )  # fmt: skip

    def _loops(self) -> tuple[Any, Any]:
        bend = BEND * self.mean / 2.0 if self.bend is None else self.bend
        return self.mean / 2.0, bend

    def kinds(self, site: Sprung) -> Sequence[Kind]:
        return [Kind("extension spring", site.name)]

    def standing(self, site: Sprung) -> Iterator[Check]:
        """Its coils and its loops at full travel, and as it swings."""
        name, R, d, D = site.name, self.of.strength, self.thickness, self.mean
        forces = self.force(site.rest), self.force(site.full)
        low, high = np.minimum(*forces), np.maximum(*forces)
        loop, bend = self._loops()
        of = {"d": d, "D": D}
        rows: tuple[tuple[str, Any, dict[str, Any], float, tuple[float, float], float], ...] = (
            ("coils", pulled.coil_shear, {}, COILS, ZIMMERLI, SHEAR * R),
            ("loops bent", pulled.loop_bending, {"r": loop}, LOOP_BENT,
             (PER_SHEAR * ZIMMERLI[0], PER_SHEAR * ZIMMERLI[1]), R),
            ("loops twisted", pulled.loop_shear, {"r": bend}, LOOP_TWISTED, ZIMMERLI, SHEAR * R),
        )  # fmt: skip
        for place, method, more, share, test, strength in rows:
            at_rest, at_full = (work(method, F=force, **of, **more) for force in (low, high))
            yield check(
                f"{name}, {place}", "bending" if "bent" in place else "shear", load_case="", demand=at_full,
                capacity=share * R, unit="MPa", required=ONE, note=NOTE,
            )  # fmt: skip
            yield self.endless(f"{name}, {place}, in fatigue", at_rest, at_full, test, strength)

    def facts(self, site: Sprung) -> Mapping[str, tuple[Any, str]]:
        return {
            f"{site.name}: rate": (self.rate.value, "N/mm"),
            f"{site.name}: free, between its loops": (self.free, "mm"),
            f"{site.name}: at rest, between its loops": (site.rest, "mm"),
            f"{site.name}: pulls at rest": (self.force(site.rest), "N"),
            f"{site.name}: pulls at full travel": (self.force(site.full), "N"),
        }

    def bought(self, site: Sprung) -> Sequence[Bought]:
        more = f"{float(np.max(self.free)):.1f} mm between full loops"
        if np.any(np.greater(self.wound_in, 0.0)):
            more += f", {float(np.max(self.wound_in)):g} N wound in"
        return [self.made("extension spring", more, site.name)]

    def touching(self, site: Sprung) -> Mapping[str, str]:
        return self.touches()

    def cautions(self, site: Sprung) -> Sequence[str]:
        return ["Hook the return spring so that its open loop points away from the foot, and look at its loops at each "
                "service: they break first."]  # fmt: skip
