"""What a file of readings says: points that are known, what is level or in line, and what was read off."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from parts.core.group import Group
from parts.inputs.names import PartName
from parts.inputs.quantities import (
    Angle,
    Length,
    NonNegativeLength,
    Point3,
    PositiveLength,
)

TAPE, CALIPER, GAUGE, PLUMB = 1.0, 0.1, 0.2, 1.5
"""Two-sigma errors of what a shop measures with [mm]; common practice, no source."""
LEVEL = 0.2
"""Two-sigma error of a digital level, its seat on the tube included [deg]; common practice, no source."""
DRAWN, TRACED = 0.2, 0.6
"""Two-sigma errors of a hole of a bought thing, by its drawing and by a traced outline [mm]; common practice, no
source."""
SET_UP = 0.2
"""How well what is said to be level, square or in line was set up [mm], two sigma; common practice, no source."""

Pair = Annotated[tuple[str, str], Field(description="The two points.")]


class Distance(Group):
    """Length from one point to another, by tape or caliper."""

    type: Literal["tape", "caliper"] = Field(description="What it was read with.")
    between: Pair
    reads: PositiveLength = Field(description="What was read.")
    over: Literal["centres", "outside", "inside"] = Field(
        "centres",
        description="Where the jaws or the hook were: the holes' or pins' far or near sides.",
    )
    holes: tuple[NonNegativeLength, NonNegativeLength] = Field(
        (0.0, 0.0),
        description="Diameters of hole or pin at the two points, for `outside` and `inside`.",
    )
    within: PositiveLength | None = Field(
        None,
        description="How far it may be trusted, two sigma; that of the instrument where left out.",
    )

    @model_validator(mode="after")
    def _has_holes(self) -> Distance:
        if self.over != "centres" and not any(self.holes):
            raise ValueError(
                f"`{self.over}` needs the diameters there; write `holes: [10 mm, 8 mm]`"
            )
        return self

    def centres(self, reads: float, over: str) -> float:
        """Distance of the centres [mm] for a reading over one of the sides."""
        sign = {"centres": 0.0, "outside": -1.0, "inside": 1.0}[over]
        return reads + sign * sum(self.holes) / 2.0


class Height(Group):
    """Height of a point over the table, by height gauge."""

    type: Literal["height gauge"] = Field("height gauge", description="What it was read with.")
    of: str = Field(description="The point.")
    reads: Length = Field(description="What was read.")
    within: PositiveLength | None = Field(
        None,
        description="How far it may be trusted, two sigma; that of the instrument where left out.",
    )


class Drop(Group):
    """How far a point lies from another along the table, by plumb line and rule."""

    type: Literal["plumb line"] = Field("plumb line", description="What it was read with.")
    between: Pair
    along: Literal["x", "y"] = Field(description="Direction of the rule.")
    reads: Length = Field(
        description="From the first to the second; negative where it lies behind."
    )
    within: PositiveLength | None = Field(
        None,
        description="How far it may be trusted, two sigma; that of the instrument where left out.",
    )


class Slope(Group):
    """Slope of the line from one point up to another, by digital level."""

    type: Literal["digital level"] = Field("digital level", description="What it was read with.")
    between: Pair
    reads: Angle = Field(description="From the level; positive where the second point is higher.")
    within: Annotated[Angle, Field(gt=0.0)] | None = Field(
        None,
        description="How far it may be trusted, two sigma; that of the instrument where left out.",
    )


class Given(Group):
    """What is said of the set-up itself."""

    type: Literal["symmetric", "on the middle", "level", "in line", "square"] = Field(
        description="Symmetric: two points, about the middle plane y = 0. On the middle: points on that plane. "
        "Level: points at one height. In line: three points. Square: three points, the corner second."
    )
    points: list[str] = Field(min_length=1, max_length=20, description="The points.")
    within: PositiveLength = Field(SET_UP, description="How well it was set up, two sigma.")

    @model_validator(mode="after")
    def _counts(self) -> Given:
        wanted = {"symmetric": 2, "in line": 3, "square": 3}.get(self.type)
        if wanted and len(self.points) != wanted:
            raise ValueError(f"`{self.type}` takes {wanted} points")
        if self.type == "level" and len(self.points) < 2:
            raise ValueError("`level` takes two points or more")
        return self


class Wheel(Group):
    """How far a wheel rolls in one turn, its axle over the ground by that."""

    type: Literal["turn of a wheel"] = Field(description="What it was read with.")
    of: str = Field(description="The axle.")
    reads: PositiveLength = Field(description="Rolled in one turn, the machine's weight on it.")
    turns: int = Field(1, ge=1, le=20, description="Turns that it was rolled.")
    within: PositiveLength | None = Field(
        None,
        description="How far it may be trusted, two sigma; that of the instrument where left out.",
    )


class Bought(Group):
    """A bought thing whose holes are known from a drawing: what lies between them is as good as a reading."""

    file: str = Field(description="Its STEP or DXF, or a traced outline as SVG or DXF.")
    holes: dict[str, int] = Field(
        min_length=2,
        max_length=50,
        description="Number of the hole at each point, as `oneoff readings FILE` lists them.",
    )
    scale: PositiveLength | None = Field(
        None, description="How long a unit of the drawing is, where the file does not say."
    )
    within: PositiveLength | None = Field(
        None, description="How far it may be trusted, two sigma; less of a traced outline."
    )


Reading = Annotated[Distance | Height | Drop | Slope | Wheel, Field(discriminator="type")]


class SurveyFile(Group):
    """Readings of one mock-up."""

    survey: PartName = Field(description="Name of the survey.")
    table: Length = Field(0.0, description="Height z of the table that the height gauge stands on.")
    known: dict[str, Point3] = Field(
        min_length=1,
        description="Points that everything is measured from: x forward, y left, z up.",
    )
    about: dict[str, Point3] = Field(
        default_factory=dict,
        description="Roughly where points are, where the readings allow two places.",
    )
    set_up: list[Given] = Field(
        default_factory=list,
        max_length=200,
        description="What is symmetric, level, in line or square.",
    )
    bought: dict[str, Bought] = Field(
        default_factory=dict, description="Bought things by name, with their holes at points."
    )
    taken: list[Reading] = Field(
        min_length=1, max_length=500, description="The readings, as they were written down."
    )
