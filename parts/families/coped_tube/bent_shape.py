"""A bent tube by its dimensions: its bends, its centre line, and where its ends come to lie."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import cached_property
from typing import Any

import numpy as np
from pydantic import Field, field_validator

from parts.core.rules import Rule, at_least
from parts.core.tube_ends import Tube
from parts.families.coped_tube.axis import Line, along
from parts.families.coped_tube.bends import Bend, Row, bend_rules, bend_table, turns
from parts.families.coped_tube.family import CopedTube
from parts.inputs.designations import HollowName
from parts.standards.stock.stock import Stock
from parts.strength.method import Number, Worked, work
from parts.strength.section import bent_tube


class BentShape(CopedTube):
    """The dimensions of a bent tube."""

    tube: HollowName = Field(description="The tube, round, by outside diameter and wall.")
    bends: list[Bend] = Field(
        min_length=1, max_length=12, description="Its bends in turn, from end a."
    )
    ovality: float = Field(
        0.08,
        ge=0.0,
        le=0.2,
        description="The shop's own: largest less smallest diameter in a bend, over the diameter.",
    )
    springback: float | None = Field(
        None,
        gt=0.8,
        le=1.0,
        description="The shop's own: angle that stays over angle on the machine; left out, nothing is said of it.",
    )

    @field_validator("tube")
    @classmethod
    def _round(cls, tube: Stock) -> Stock:
        """Refuses a square or rectangular tube.

        Raises:
            ValueError: it is not round.
        """
        if tube.shape != "round tube":
            raise ValueError(
                f"{tube.name} is no round tube: its flat sides sink and buckle in a bend, and no method with a source "
                "is known here for how far they do; right would be a round tube, or straight ones, whose ends stand on "
                "other tubes (family: coped tube)"
            )
        return tube

    @cached_property
    def line(self) -> Line:
        """Its centre line, as a bar."""
        segments = along(turns(self.bends), self.length)
        m, s = self.metal, self.section
        gives = [
            1.0 if one.radius is None else self.index(bent_tube.flexibility, one.radius).value
            for one in segments
        ]
        G = m.E / (2.0 * (1.0 + m.poisson))
        return Line(segments, m.E * s.I2, G * 2.0 * s.I2, m.E * s.area, gives)

    def index(self, method: Callable[..., Number], radius: Any) -> Worked:
        """A factor of a bend of that radius [-]."""
        return work(method, R=radius, D=self.hollow.wide, t=self.hollow.wall)

    @property
    def reference(self) -> str:
        return "the reference line, right-handed as seen from end a"

    def node(self, i: int) -> tuple[Any, Any]:
        last = self.line.segments[-1]
        return (self.line.place(self.length), last.frame) if i else (np.zeros(3), np.eye(3))

    def points(self) -> Mapping[str, Any]:
        return {"b": self.node(1)[0], "middle": self.line.place(self.length / 2.0)}

    @cached_property
    def straights(self) -> tuple[Any, Any]:
        """What is whole and straight at end a and at end b [mm]."""
        low, high = self.full
        return self.line.segments[0].high - low, high - self.line.segments[-1].low

    def rules(self) -> Iterator[Rule]:
        outside = self.hollow.wide
        yield from bend_rules(self.bends, self.metal, outside)
        for name, field, whole in zip(
            "ab", ("bends[0].after", "length"), self.straights, strict=True
        ):
            yield at_least(f"bend.end_{name}", field, whole, outside,
                f"no straight is left to hold between end {name} and its bend (a diameter: common practice, no source)",
                "lengthen it")  # fmt: skip
        yield at_least(
            "bend.clear",
            "bends",
            self._nearest,
            outside,
            "the tube runs into itself",
            "bend it less",
        )
        apart = np.linalg.norm(self.node(1)[0], axis=-1)
        yield at_least(
            "bend.open", "bends", apart, outside, "both ends stand at one place", "bend it less"
        )
        yield from super().rules()
        if self.vent is not None:
            yield at_least("bend.vent", "vent.at", self.line.segments[0].high - self.vent.at, outside / 2.0,
                "the vent lies beside a bend (half a diameter: common practice, no source)",
                "move it away")  # fmt: skip

    @property
    def _nearest(self) -> Any:
        """How near two places of it come that lie far apart along it [mm]."""
        shares = np.linspace(0.0, 1.0, 7)
        s = np.concatenate([one.lengths(shares) for one in self.line.pieces], axis=-1)
        places = np.concatenate(
            [one.segment.at(one.lengths(shares))[0] for one in self.line.pieces], axis=-2
        )
        off = np.linalg.norm(places[..., :, None, :] - places[..., None, :, :], axis=-1)
        far = (
            np.abs(s[..., :, None] - s[..., None, :])
            > 4.0 * np.asarray(self.hollow.wide)[..., None, None]
        )
        return np.where(far, off, np.inf).min(axis=(-2, -1))

    @cached_property
    def to_cut(self) -> Tube:
        return replace(super().to_cut, bent=True)

    def table(self) -> list[Row]:
        """The bends as a bender is set."""
        return bend_table(self.bends, float(self.beyond(0)), self.springback)
