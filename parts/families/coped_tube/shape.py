"""A coped tube by its dimensions: where its ends are cut and what is left whole between them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cached_property
from typing import Annotated, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.assembled import Assembled
from parts.core.group import Group
from parts.core.rules import Rule, at_least, at_most
from parts.core.tube_ends import STEPS, Tube, TubeEnd, cope, meets
from parts.families.coped_tube.hollow import Hollow
from parts.families.coped_tube.on_box import OntoBox
from parts.families.coped_tube.saddle import Onto, Open
from parts.inputs.designations import HollowName
from parts.inputs.quantities import NonNegativeLength, PositiveLength
from parts.standards.stock.stock import Stock
from parts.strength.section.outline import Outline
from parts.strength.section.properties import Section

X = np.array([1.0, 0.0, 0.0])
BOW = 500.0
"""Length over the bow of a tube as it is bought [-]: EN 10305-1 allows 0.0015 of the length, from memory."""


ROUND_IT = np.linspace(0.0, 2.0 * np.pi, 7201)
"""Places round one tube, close enough that its longest point is met within a hundredth of a micron [rad]."""
EVERY_DEGREE = np.linspace(0.0, 2.0 * np.pi, STEPS)
BETWEEN = 1e-3
"""What a cut may reach farther between the places that `cope` looks at than there [mm]."""


def on_axis(x: Any) -> Any:
    """A place on the tube's axis [mm], shape (..., 3)."""
    return np.asarray(x, float)[..., None] * X


class Vent(Group):
    """A hole through the wall on the side of y: it lets the last weld's air out, or purge gas in."""

    at: PositiveLength = Field(description="From the point of end a to its middle.")
    diameter: PositiveLength = Field(3.0, description="Its diameter.")

    def rules(self, hollow: Hollow, low: Any, middle: Any) -> Iterator[Rule]:
        """Rules of the hole in a tube that is whole from `low` on and loaded at its middle [mm]."""
        r, outside = self.diameter / 2.0, hollow.largest
        least = np.minimum(hollow.wide, hollow.deep)
        rows = (
            (at_least, "small", "diameter", self.diameter, 2.0, "no purge gas goes through", "enlarge it"),
            (at_most, "large", "diameter", self.diameter, 0.25 * least, "a vent this large weakens the tube "
             "(a quarter of it: common practice, no source)", "lessen it"),
            (at_least, "near", "at", self.at - r, low + outside / 2.0, "the vent lies beside the weld of end a (half a "
             "diameter: common practice, no source)", "move it away"),
            (at_most, "far", "at", self.at + r, middle, "the vent lies beyond the middle",
             "drill it in the half of end a, or turn the tube about"),
        )  # fmt: skip
        for kind, code, field, value, limit, why, how in rows:
            yield kind(f"vent.{code}", f"vent.{field}", value, limit, why, how)


class TubeShape(Assembled):
    """The dimensions of a coped tube."""

    tube: HollowName = Field(
        description="The tube, by outside diameter and wall, or by two sides and wall: the first lies along y."
    )
    length: PositiveLength = Field(
        description="From the point of end a to that of end b, along the centre line."
    )
    a: Annotated[Onto | OntoBox, Field(discriminator="type")] = Field(description="End a.")
    b: Annotated[Onto | OntoBox | Open, Field(discriminator="type")] = Field(description="End b.")
    vent: Vent | None = Field(
        None, description="A vent or purge hole through one wall; none where left out."
    )
    held_by: Literal["both ends", "end a"] | None = Field(
        None,
        description="What holds it against a load at its middle, and as a column; both ends where both are coped, and "
        "end a else. A load at b goes to end a.",
    )
    bow: NonNegativeLength | None = Field(
        None, description="How far it is out of straight; a five-hundredth of its length where left out."
    )  # fmt: skip

    def stock_thickness(self) -> Any:
        return self.tube.wall_mm

    def cut_from(self, piece: str) -> Stock | None:
        return self.tube

    @property
    def softened(self) -> bool:
        return False

    @property
    def fast_at_both(self) -> bool:
        """Whether both ends hold it."""
        welded = isinstance(self.b, Onto)
        return welded if self.held_by is None else self.held_by == "both ends"

    @cached_property
    def hollow(self) -> Hollow:
        """Its section."""
        return Hollow.of(self.tube)

    @property
    def size(self) -> tuple[Any, Any]:
        """Outside diameter, or the side along y, and wall [mm]."""
        return self.tube.width_mm, self.tube.wall_mm

    @property
    def section(self) -> Section:
        return self.hollow.section

    @cached_property
    def cuts(self) -> tuple[TubeEnd, TubeEnd]:
        """The cuts at both ends, each in the axes of its own end."""
        return self.a.cut("end a", 1.0), self.b.cut("end b", -1.0)

    @cached_property
    def full(self) -> tuple[Any, Any]:
        """Between where the tube is whole all round [mm]."""
        cuts = [cope(*self.size, end, deep=self.hollow.second).square for end in self.cuts]
        # A square end is whole from its face on.
        low, high = (one.max(axis=-1) + BETWEEN * (np.ptp(one, axis=-1) > BETWEEN) for one in cuts)
        return low, self.length - high

    def points(self) -> Mapping[str, Any]:
        far = np.asarray(self.length, float)[..., None] * X
        return {"b": far, "middle": far / 2.0}

    def ring(self, t: Any) -> Outline:
        """The whole section at stations t of any shape."""
        return replace(self.hollow, wide=self.hollow.wide + 0.0 * np.asarray(t, float)).outline

    @property
    def out_of_straight(self) -> Any:
        """How far it is bowed [mm]."""
        return self.length / BOW if self.bow is None else self.bow

    @property
    def reference(self) -> str:
        """From where round the tube its ends are turned, in words."""
        return "+y toward +z"

    def node(self, i: int) -> tuple[Any, Any]:
        """The point of end a (0) or b (1) [mm], and the tube's axes there as rows: along it, then y and z."""
        return on_axis(self.length * i), np.eye(3)

    def edge(self, i: int, below: float = 0.0, turn: Any = None) -> Any:
        """The cut of end a (0) or b (1) all round, so far below the tube's outside [mm], shape (n, 3)."""
        phi = EVERY_DEGREE if turn is None else turn
        y, z = self.hollow.place(phi, below)
        met = meets((y, z), self.cuts[i])
        way = -1.0 if i else 1.0
        node, axes = self.node(i)
        return node + np.stack([way * met, y, way * z], axis=-1) @ axes

    def tip(self, i: int) -> Any:
        """The longest point of end a (0) or b (1) [mm]."""
        node, axes = self.node(i)
        edge = self.edge(i, turn=ROUND_IT)
        return edge[np.argmin((-1.0 if i else 1.0) * ((edge - node) @ axes[0]))]

    def beyond(self, i: int) -> Any:
        """How far the longest point of an end lies from its node, into the tube [mm]."""
        node, axes = self.node(i)
        return (-1.0 if i else 1.0) * (self.tip(i) - node) @ axes[0]

    @property
    def cut_long(self) -> Any:
        """Its length over both points, along its centre line [mm]."""
        return self.length - self.beyond(0) - self.beyond(1)

    @cached_property
    def to_cut(self) -> Tube:
        """The tube as it is cut from stock."""
        return Tube(self.tube.name, *self.size, self.length, self.cuts, self.hollow.second)
