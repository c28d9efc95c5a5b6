"""The bars that the body of a turnbuckle is made of: hexagonal, flatted or round."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal

from pydantic import Field

from parts.core.rules import Rule, at_least, at_most
from parts.families.links.sites import BetweenEnds
from parts.families.links.turn_body import TurnBody
from parts.features.bung.stretches import Outside
from parts.features.bung.wrench import cut_rule, grip_rule, wrench_rule
from parts.inputs.designations import AcrossFlats
from parts.inputs.quantities import PositiveLength


class HexBody(TurnBody):
    """Hexagonal bar, turned by its flats."""

    type: Literal["hex"] = Field("hex", description="Hexagonal bar, turned by its flats.")
    across_flats: AcrossFlats = Field(
        description="Width across the flats of the bar, or the bar itself, as `hex 19 mm`."
    )

    def outside(self) -> Outside:
        return Outside("hex", 0.0, self.across_flats)


class FlattedBody(TurnBody):
    """Round bar with two flats along its whole length."""

    type: Literal["flatted"] = Field(
        "flatted", description="Round bar with two flats along its whole length."
    )
    diameter: PositiveLength = Field(description="Diameter of the bar.")
    across_flats: PositiveLength = Field(description="Distance across the two flats.")

    def outside(self) -> Outside:
        return Outside("flatted", self.diameter, self.across_flats)

    def rules(self, site: BetweenEnds) -> Iterator[Rule]:
        yield cut_rule("body.flats", f"{site.field}.across_flats", self.across_flats, self.diameter)
        yield from super().rules(site)


class RoundBody(TurnBody):
    """Round bar with wrench flats in the middle, or a hole for a tommy bar."""

    type: Literal["round"] = Field(
        "round", description="Round bar with wrench flats in the middle, or a tommy-bar hole."
    )
    diameter: PositiveLength = Field(description="Diameter of the bar.")
    across_flats: PositiveLength | None = Field(
        None, description="Distance across wrench flats in the middle; none where left out."
    )
    flats_length: PositiveLength = Field(10.0, description="Length of the wrench flats.")

    @property
    def _size(self) -> str:  # type: ignore[override]
        return "diameter"

    def outside(self) -> Outside:
        return Outside("round", self.diameter)

    def middle(self) -> tuple[Outside, Any] | None:
        if self.across_flats is None:
            return None
        return Outside("flatted", self.diameter, self.across_flats), self.flats_length

    def _narrowest(self) -> Any:
        return self.diameter if self.across_flats is None else self.across_flats

    def rules(self, site: BetweenEnds) -> Iterator[Rule]:
        field = site.field
        grips = (self.across_flats is not None) + (self.tommy_bar is not None)
        yield at_least(
            "body.grip", f"{field}.tommy_bar", float(grips), 1.0, "nothing turns a plain round body",
            "give it wrench flats (across_flats) or a hole for a tommy bar", "",
        )  # fmt: skip
        yield at_most(
            "body.grips", f"{field}.tommy_bar", float(grips), 1.0,
            "wrench flats and bar hole want the same place",
            "leave one of them out", "",
        )  # fmt: skip
        if self.across_flats is not None:
            path = f"{field}.across_flats"
            yield cut_rule("body.flats", path, self.across_flats, self.diameter)
            yield wrench_rule("body.wrench_size", path, self.across_flats)
            yield grip_rule("body.wrench", f"{field}.flats_length", self.flats_length)
            yield at_most(
                "body.flats_length", f"{field}.flats_length", self.flats_length, self._relief_length(site.link),
                "the wrench flats would thin the wall beside the threads",
                "shorten the flats, or lengthen the body",
            )  # fmt: skip
        yield from super().rules(site)
