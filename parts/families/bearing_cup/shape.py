"""A bearing cup by its sizes: outside, seat, lip and spigot as turned steps, and its solid."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from pydantic import Field

from parts.core.part import Part
from parts.families.bearing_cup.stands import OnTube, Stands
from parts.features.bearing_seat.seat import Seat
from parts.features.section.notches import SHARP
from parts.features.thread import turned
from parts.features.thread.turned import Step
from parts.inputs.quantities import PositiveLength

if TYPE_CHECKING:
    import cadquery as cq


class CupShape(Part):
    """A bearing cup by its sizes."""

    diameter: PositiveLength = Field(description="Outside diameter of the cup.")
    length: PositiveLength = Field(
        description="From the mouth to the far face, or to the weld on a tube."
    )
    seat: Seat = Field(
        description="The bearings, their fit, the lip behind them and what keeps them in."
    )
    welded: Stands = Field(description="What the cup is welded to.")
    allowance: PositiveLength = Field(
        0.8, description="Left in the seat on diameter, to be bored when the weld is cold."
    )

    def stock_thickness(self) -> Any:
        return self.diameter

    @property
    def top(self) -> Any:
        """From the mouth to the first ring [mm]."""
        clip = self.seat.clip
        return 0.0 if clip is None else clip.groove_width + clip.edge_margin

    @property
    def middle(self) -> Any:
        """From the mouth to the middle of the bearings [mm]."""
        return self.top + self.seat.count * self.seat.bearing.width / 2.0

    @property
    def bores(self) -> list[Step]:
        """What is bored, from the mouth on; the lip's bore runs on through a spigot."""
        of, D, end = self.seat, self.seat.bearing.outside, self.length + self.welded.spigot
        lip = Step("lip", of.depth, end, of.lip_bore, notch=SHARP)
        if of.clip is None:
            return [Step("seat", 0.0 * of.depth, of.depth, D), lip]
        low = of.clip.edge_margin
        high = low + of.clip.groove_width
        return [
            Step("mouth", 0.0 * of.depth, low + 0.0 * of.depth, D),
            Step("circlip groove", low + 0.0 * of.depth, high + 0.0 * of.depth, of.clip.groove, notch=SHARP),
            Step("seat", high + 0.0 * of.depth, of.depth, D), lip,
        ]  # fmt: skip

    @property
    def path(self) -> list[Step]:
        """The rings that carry the load from the middle of the bearings to the weld."""
        far, near = self.welded.carries_to(self.length, self.middle), self.middle
        low, high = np.minimum(near, far), np.maximum(near, far)
        c = self.edge_break
        low, high = np.maximum(low, c), np.minimum(high, self.length - c)
        return [
            Step(f"{one.name} of the cup", np.clip(one.low, low, high), np.clip(one.high, low, high), self.diameter,
                bore=one.diameter, notch=one.notch)
            for one in self.bores
        ]  # fmt: skip

    def solid(self) -> cq.Workplane:
        """The cup, its seat bored to size."""
        from parts.shapes.profile import cylinder

        L, D, c = float(self.length), float(self.diameter), float(self.edge_break)
        on = self.welded
        tail = [Step("", L - c, L, D, D - 2.0 * c)]
        if isinstance(on, OnTube):
            p, plug, lead = float(on.prep), float(on.plug), min(1.0, float(on.spigot) / 4.0)
            end = L + float(on.spigot)
            tail = [
                Step("", L - p, L, D, D - 2.0 * p), Step("", L, end - lead, plug),
                Step("", end - lead, end, plug, plug - 2.0 * lead),
            ]  # fmt: skip
        steps = [Step("", 0.0, c, D - 2.0 * c, D), Step("", c, float(tail[0].low), D), *tail]
        body = turned.solid([one for one in steps if one.length > 0.0])
        for k, one in enumerate(self.bores):
            low, high = float(one.low) - (1.0 if k == 0 else 0.0), float(one.high)
            body = body.cut(
                cylinder(float(one.diameter), low, high + (1.0 if one.name == "lip" else 0.0), "x")
            )
        if c > 0.0:
            from parts.shapes.profile import cone

            d = float(self.bores[0].diameter)
            body = body.cut(cone(d + 2.0 * (c + 1.0), d, -1.0, c, "x"))
        return body
