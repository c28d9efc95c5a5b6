"""What the families of adjustable links have in common: lengths pin to pin, points, and the loads on two ends."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property, partial
from typing import Any

import numpy as np
from pydantic import Field

from parts.core.freebody import Acting
from parts.core.loads import ByCase, LoadCase
from parts.core.part import Bought, Part
from parts.families.links.adjustment import USUAL_ENGAGEMENT, Adjustment, Mouth, PinToPin
from parts.families.links.clevis_end import ClevisEnd
from parts.families.links.rod_end import RodEndEnd
from parts.families.links.statics import Borne, borne
from parts.inputs.quantities import NonNegativeLength, NonNegativeRatio, PositiveLength


class LinkPart(Part):
    """A body on two ends that screw in; a family adds `end_a`, `end_b` and `body`."""

    pin_to_pin: PinToPin = Field(description="The lengths that it must have, pin to pin.")
    length: PositiveLength | None = Field(
        None, description="Length at which it is drawn and loaded; the nominal one where left out."
    )
    engagement: PositiveLength | None = Field(
        None, description="Least full thread engaged at the longest; 1.5 diameters where left out."
    )
    eccentricity: NonNegativeLength = Field(
        0.5, description="How far the load may stand off the axis at both ends."
    )
    shaken: NonNegativeRatio = Field(
        0.0, description="Acceleration across the link in g, for its own weight at speed."
    )

    @property
    def ends(self) -> tuple[RodEndEnd | ClevisEnd, RodEndEnd | ClevisEnd]:
        """The ends at a and b."""
        return self.end_a, self.end_b  # type: ignore[attr-defined]

    def mouth(self, i: int, least: Any) -> Mouth:
        """The tapped mouth of the body at end i, for the least engagement [mm] there."""
        raise NotImplementedError(f"{type(self).__name__} does not say what its ends screw into")

    @property
    def wanted(self) -> tuple[Any, Any]:
        """Least full thread engaged at each end [mm]."""
        a, b = (
            USUAL_ENGAGEMENT * end.thread.major if self.engagement is None else self.engagement
            for end in self.ends
        )
        return a, b

    @cached_property
    def link(self) -> Adjustment:
        """Lengths and engagement."""
        wanted = self.wanted
        return self.adjusted((self.mouth(0, wanted[0]), self.mouth(1, wanted[1])))

    def adjusted(self, mouths: tuple[Mouth, Mouth]) -> Adjustment:
        """Lengths and engagement with these mouths of the body."""
        length = self.body.length  # type: ignore[attr-defined]
        return Adjustment(self.pin_to_pin, self.ends, mouths, self.wanted, length)

    @property
    def assembled(self) -> Any:
        """Length at which it is drawn and loaded [mm]."""
        return self.pin_to_pin.nominal if self.length is None else self.length

    def points(self) -> Mapping[str, Any]:
        half = np.asarray(self.assembled, float) / 2.0
        along = np.array([1.0, 0.0, 0.0])
        return {
            "end a": -half[..., None] * along,
            "end b": half[..., None] * along,
            "middle": np.zeros(3),
        }

    def borne(self, case: LoadCase) -> Borne:
        """What both ends and the middle bear under a load case."""
        return self._borne(case)

    @cached_property
    def _borne(self) -> ByCase[Borne]:
        return ByCase(partial(borne, points=self.points()))

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        return self.borne(case).holding(case, self.points())

    def left_out_of_the_path(self, case: LoadCase) -> str:
        if not np.any(np.asarray(self.borne(case).push) > 0.0):
            return ""
        return (
            "first order: what the push adds to the bending, and a push off the axis, are in the checks of the "
            "column, the shanks and the welded tube"
        )

    def bought(self) -> Sequence[Bought]:
        a, b = self.ends
        return [*a.bought("a"), *b.bought("b")]
